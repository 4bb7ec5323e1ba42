#!/bin/sh
# What is said only seldom, each time it is due, and nothing else in its place. Demands of this program's own; none of
# them checks a number.
cd "$(dirname "$0")/../.." || exit 1
. tests/support/cli.sh

mine=$box/mine.yaml
cat >"$mine" <<'EOF'
light: {wavelength: 532 nm, pulse: 7 ns, spot: 4 mm, fluence: 0.6 J/cm2}
skin: light
lesion: {basal.melanosomes: 25 %}
EOF

said=$box/said
quick() { # quick COMMAND...: done, without figures; what it prints and writes, in one line
    exits 0 "$brevis" "$@" --no-figures --force --out "$box/out" || return 1
    cat "$box/stdout" "$box/out/summary.txt" | tr -s '\n ' '  ' >"$said"
}
drawn() { exits 0 "$brevis" "$@" --force --out "$box/out"; }
reads() { grep -qF -e "$1" "$said"; }
reads_not() { ! grep -qF -e "$1" "$said"; }
no_number() { ! grep -qwiE 'nan|inf' "$said"; }
refused() { exits 3 "$brevis" "$@"; }
usage() { exits 2 "$brevis" "$@"; }
alone() { [ "$(wc -l <"$box/stderr")" = 1 ]; }
top() { # top LINE: the scenario with this line at the margin is refused
    { cat "$mine"; echo "$1"; } >"$box/top.yaml"
    refused check "$box/top.yaml"
}

# ---- a key under another name, written at the margin ----
check 'a width of the pulse at the margin' top 'pulse_width: 3 ns'
check '  is told where to stand' says 'top.yaml:4:1: pulse_width is not a section; write pulse in light, indented below it$'
check 'a power at the margin' top 'power: 5'
check '  is told why there is none' says 'power is not a section; write energy in light, indented below it: a pulse is described by its fluence or its energy, not by a power$'
check 'pigment at the margin' top 'pigment: 5 %'
check '  belongs to a layer' says 'write melanosomes in a layer of the skin, indented below it: pigment is given as melanosomes'
check 'one that holds keys is a section nobody knows' top 'dose: {high: 3}'
check '  and the sections are named' says 'dose is not a section; a scenario has title, light, skin'
check 'a colour at the margin' top 'colour: {L: 62, b: 17}'
check '  stands in the skin' says 'colour is not a section: a measured colour stands in the skin'
{ sed 's/, fluence: [^}]*//' "$mine"; echo 'dose: 0.6 J/cm2'; } >"$box/without.yaml"
check 'a fluence at the margin under another name' refused check "$box/without.yaml"
check '  is not called missing besides' alone

homes() { # where the table of other names sends a key, there is such a key
    sed -n 's/^    {"\(light\|skin\|grain\|surface\|watch\)", "\([^"]*\)", .*/\2/p' cli/scenario/slip.c >"$box/names"
    [ "$(wc -l <"$box/names")" -gt 50 ] || return 1
    while read -r name; do
        top "$name: 5" || return 1
        sent=$(sed -n 's/.*write \([a-z_]*\) in \([a-z ]*\), indented.*/\2.\1/p' "$box/stderr" | sed 's/^a layer of the //')
        [ -z "$sent" ] || "$brevis" explain "$sent" >/dev/null || { echo "$name: $sent"; return 1; }
    done <"$box/names"
}
check 'every other name of a key has a home' homes

# ---- other words that are refused ----
check 'a command where a key is wanted' usage explain check
check '  is one' says 'it is a command: `brevis help check`$'
touch "$box/--mine.yaml"
dashes() { (cd "$box" && usage check --mine.yaml); }
check 'a file that begins with dashes' dashes
check '  is written otherwise' says 'a file whose name begins with a dash is written ./--mine.yaml'
check 'a key below a value' refused check --set light.spot.rim=3 "$mine"
check '  has no place there' says 'spot is a value in the file and has no keys below it'
check 'a layer without its dash' refused check --set 'skin=[{layer: epidermis}, basal]' "$mine"
check '  is told how one begins' says 'skin: basal: write `- layer: basal`'
check 'a list for a ready skin' refused check --set 'skin={ready: [light]}' "$mine"
check '  where one word is wanted' says 'skin.ready: one word is wanted: light, intermediate or dark'
check 'half the name of a body site' refused check --set 'skin={ready: light, site: forearm}' "$mine"
check '  finds the whole' says 'did you mean dorsal_forearm?'
check 'seventeen depths' refused check --set "watch.depths=[$(seq -s ' mm, ' 1 17) mm]" "$mine"
check '  are too many' says 'watch.depths has 17 values: a list of 1 to 16 values is wanted'
long=$(head -c 300 /dev/zero | tr '\0' 1)
check 'three hundred digits to sweep from' refused sweep --vary "light.spot=$long..2mm:3" "$mine" --out "$box/none"
check '  are not read' says 'a value of more than 63 letters cannot be read'
check 'thirty choices' top "choices: {$(seq 30 | sed 's/.*/n&: {light.spot: & mm}/' | paste -sd,)}"
check '  are too many' says 'choices: 30, allowed 1 to 23 beside the scenario itself'
check 'a choice of a key that is none' top "choices: {one: {$(printf '%0300d' 0 | tr 0 k): {b: 5}}}"
check '  is no key' says 'kkk... is not a key$'
check 'a spread of a key that is none' top 'spread: {light.zzzz: 1..2}'
check '  is told where those are that there are' says 'light.zzzz is not a key; `brevis explain light` lists those there are'
seq -s, 1 200 >"$box/wide.csv"
check 'two hundred columns of readings' refused output "$box/wide.csv" "$mine" --out "$box/none"
check '  are too many' says 'wide.csv:1:1: 200 columns, allowed only day, energy_mJ'
check '  and nothing is written' absent "$box/none"

check 'a choice of a path with a hole' top 'choices: {one: {"light..spot": 5 mm}}'
check '  is no key' says 'light..spot is not a key; a section and a key are wanted, such as light.spot$'
check 'a layer that is a list' refused check --set 'skin=[{layer: epidermis}, [basal]]' "$mine"
check '  is told how one begins' says 'skin: a layer begins with `- layer: NAME`, its keys stand below'
{ echo 'light: 5'; sed 1d "$mine"; } >"$box/value.yaml"
check 'a key below a section that is a value' refused check --set light.spot='3 mm' "$box/value.yaml"
check '  has no place there' says 'light is a value in the file and has no keys below it'
{ # 33 of them, each around its own value
    cat "$mine"
    echo 'spread:'
    for layer in epidermis basal dermis; do
        for key in 'index: 1.3 to 1.5' 'anisotropy: 0.8 to 0.9' 'baseline: 0.5 to 2' 'blood: 0 % to 5 %' 'water: 10 % to 90 %' \
            'saturation: 20 % to 98 %' 'conductivity: 0.1 W/m/K to 1 W/m/K' 'density: 900 kg/m3 to 1300 kg/m3' \
            'heat_capacity: 2000 J/kg/K to 5000 J/kg/K' 'melanosomes: 0 % to 50 %'; do
            echo "  skin.$layer.$key"
        done
    done
    echo '  light.fluence: 0.5 J/cm2 to 0.7 J/cm2'
    echo '  light.spot: 3 mm to 5 mm'
    echo '  grain.diameter: 0.2 um to 0.5 um'
} >"$box/many.yaml"
{ sed '$d' "$mine"; echo 'lesion: {basal: {melanosomes: 25 %}, grain: 5}'; } >"$box/value.yaml"
check 'a key below a part of the lesion that is a value' refused check --set lesion.grain.diameter='0.3 um' "$box/value.yaml"
check '  has no place there either' says 'grain is a value in the file and has no keys below it'
check 'thirty-three values to open' refused check "$box/many.yaml"
check '  are one too many' says 'is one too many: up to 32 values can be opened$'
check '  and no other fault' alone

# ---- what has no answer ----
endless() { # endless COMMAND...: skin in which no photon is lost
    exits 5 "$brevis" "$@" --set light.method=sampled --set light.photons=2000 --set 'skin.dermis.blood=0 %' \
        --set 'skin.dermis.water=0 %' "$mine" --no-figures --out "$box/none"
}
check 'a walk that would not end' endless run --set skin.dermis.baseline=0
check '  is refused with its number' says 'in an endless layer that scatters and hardly absorbs (share scattered)'
check '  and nothing is written' absent "$box/none"
check 'a sweep that comes to such a walk' endless sweep --vary skin.dermis.baseline=0..1:2
check '  names the point' says 'brevis sweep: at skin.dermis.baseline = 0 (points before it are kept in '
check '  and has no result' absent "$box/none"

# ---- colours that have no angle ----
check 'pigment too dark for an angle' quick colour --set 'grain.absorption=200 /mm' "$mine"
check '  is told without a number that is none' no_number
check '  up to where there is one' reads ', brackets aside, and none at 60 % melanosomes, where b* is not above 0;'
check '  and that one wavelength says little' reads 'the absorption of a grain was given for one wavelength'
check 'a skin without any angle' quick colour --set 'skin.dermis.absorption=100 /mm' "$mine"
check '  says so' reads 'has no ITA even without pigment: its b* is not above 0.'
check '  and that no pigment makes one' reads 'no share of melanosomes in the epidermis of its layers has'
check '  and shows no number for it' no_number
check 'a skin all of blood' quick colour --set 'skin.dermis.blood=100 %' "$mine"
rising() { sed -n 's/.* can have ITA from \(-*[0-9]*\) to \(-*[0-9]*\), .*/\1 \2/p' "$said" | awk '{ ok = $1 <= $2 } END { exit !ok }'; }
check '  has angles from the lower to the upper' rising

# ---- notes and rows ----
check 'pulses in passes' quick run --set light.count=2 --set 'light.rate=5 Hz' --set light.passes=2 --set 'light.pause=10 s' "$mine"
check '  are described as such' reads '4 pulses, 5 a second, in 2 passes with 10 s between them; the last begins at 10.4 s'
check 'a ratio of thresholds a little below 1' quick run --set 'lesion.basal.melanosomes=13.6 %' "$mine"
check '  is printed as 1' grep -qE "threshold ratio, neighbour's / lesion's: 1[; ]" "$said"
check '  and is not called below it' reads_not 'threshold ratio below 1'
check 'a ratio that is below 1' quick run --set 'lesion.basal.melanosomes=13 %' "$mine"
check '  is called so' reads 'threshold ratio below 1: neighbour shows first.'
check 'a narrow spot on skin that hardly scatters' quick run --set 'light.spot=1 mm' --set 'skin.dermis.scattering=0.1 /mm' "$mine"
check '  is told a closer way' grep -q 'the spot is narrow for so little scattering' "$box/out/summary.json"
check 'an absorption of a layer' quick run --set 'skin.basal.absorption=5 /mm' --set 'lesion.basal.absorption=8 /mm' "$mine"
check '  stands in the report as given' grep -q ', absorption 50 /cm as given' "$box/out/report.html"
check 'skin without any pigment' drawn run --set 'skin.basal.melanosomes=0 %' --set 'skin.epidermis.melanosomes=0 %' \
    --set 'lesion.basal.melanosomes=0 %' "$mine"
check '  has a figure that says so' grep -q 'there is no pigment to disrupt: the curves are of single grains' "$box/out/disrupted.svg"
check 'light enough for every grain' drawn run --set 'light.fluence=100 J/cm2' "$mine"
check '  disrupts more than a share, not all' grep -q 'over 99.9 % of the grains in the lesion' "$box/out/disrupted.svg"
check 'a sweep up to a wide spot' quick sweep --vary light.spot=4mm..24mm:3 "$mine"
check '  names what no check covers' reads 'spots above 20 mm are covered by no check of this program.'
check 'a sweep over a density' drawn sweep --vary 'skin.dermis.density=900kg/m3..1100kg/m3:3' "$mine"
check '  has its unit as one writes it' grep -q 'kg/m³' "$box/out/sweep.svg"
check 'a window of an endless beam' quick window --set light.method=layered "$mine"
check '  is told to overstate' reads 'beam: endless, not the spot: light at depth is overstated.'
check 'a window of a gaussian beam' quick window --set light.profile=gaussian "$mine"
check '  is told where it is judged' reads 'on the axis of a gaussian beam, where this is judged, it is twice that'
check 'a pulse that ends before sound has crossed a grain' quick run --set 'light.pulse=20 ps' "$mine"
check '  may disrupt by pressure' grep -q 'SHORTER than sound needs across the grain' "$box/out/summary.json"
check 'a spread of the smallest spot' quick spread --set 'light.spot=0.5 mm' --draws 32 "$mine"
check '  leaves out slips that no spot can make' reads 'spot 5 % too small not computed: outside 0.5 to 30 mm'
{ cat "$mine"; echo 'choices: {cooler: {watch.criterion: 100 degC}, middle: {watch.place: centre}}'; } >"$box/criteria.yaml"
check 'choices that judge otherwise' quick compare "$box/criteria.yaml"
check '  are each told how' reads 'disrupted at 112 C, mean; in 2 at 100 C, mean; in 3 at 112 C, centre'
check 'a file of choices beside another file' quick compare "$mine" "$box/criteria.yaml"
check '  stands for itself alone' says 'choices inside .*criteria.yaml are left out'
check 'published rows for a program to read' drawn reported --json "$mine"
check '  are JSON' tells '^{$'
check 'a row of spots while cold air blows' quick cover --set surface.outside=forced_air --set 'surface.outside_temperature=-20 degC' \
    --set 'surface.transfer=500 W/m2/K' --set 'surface.from=0 s' --set 'surface.to=50 s' scenarios/cover_cheek_1064nm.yaml
check '  is told with the air' reads '8 ns gaussian pulses, forced air outside; forced air on the skin from 0 s to 50 s, at -20 C'
check 'a row of spots below gel, for as long as it takes' quick cover --set surface.outside=gel scenarios/cover_cheek_1064nm.yaml
check '  is told that gel stays to the end' reads 'gel on the skin from -1 s to the end, as warm as the skin'
sed 's/, fluence: [^}]*//' "$mine" >"$box/first.yaml"
check 'a first test spot in place of a fluence' exits 0 "$brevis" check --set 'ladder={first: 0.4 J/cm2, ratio: 1.3, count: 4}' "$box/first.yaml"
check '  is the fluence' tells '0.4 J/cm2 '
check '  and is not told to be unread' test ! -s "$box/stderr"
check 'a first test spot that a run needs' quick run --set 'ladder={first: 0.4 J/cm2, ratio: 1.3, count: 4}' "$box/first.yaml"
check '  is read' test ! -s "$box/stderr"
check 'a first test spot that a run does not need' quick run --set 'ladder={first: 0.4 J/cm2, ratio: 1.3, count: 4}' "$mine"
check '  is told to be unread' says 'ladder'
name=$(printf '%0240d' 0 | tr 0 n)
mkdir "$box/long"
cp "$mine" "$box/long/$name.yaml"
long_name() { (cd "$box/long" && exits 0 "$brevis" run --no-figures "$name.yaml"); }
check 'a file with a name of 240 letters' long_name
check '  has results below its first 200' test -s "$box/long/out/$(printf '%0200d' 0 | tr 0 n)/summary.txt"
check 'pulses whose sum binds' exits 0 "$brevis" room --set 'room.rate=10 /s' --set 'room.stay=100 s' \
    scenarios/room_1064nm.yaml --force --out "$box/out"
check '  are told by which row' grep -q 'rule 2 by skin c, 100 ns to 10 s: 11000 t^0.25 C_A J/m2' "$box/out/card.txt"
check 'changes behind a title that is changed too' quick run --set 'title=Mine' --set 'light.spot=3 mm' --set 'light.pulse=8 ns' "$mine"
check '  are told from it' reads 'Mine | changed: light.spot=3 mm, light.pulse=8 ns'
title=$(printf '%016350d' 0 | tr 0 t)
check 'changes that no longer fit behind a title' quick run --set "title=$title" --set 'light.spot=3 mm' --set 'light.pulse=8 ns' "$mine"
check '  are shown to be left out' reads 't | changed: light.spot=3 mm, ... [scenario'

# ---- readings ----
seq 0 89 | awk 'BEGIN { print "day,energy_mJ" } { print $1 "," ($1 % 10 == 5 ? 560 : 500 + $1 % 3 - 1) }' >"$box/off.csv"
check 'more days outside than are named' quick output "$box/off.csv" "$hand"
check '  end in dots' reads 'day 5, 15, 25, 35, 45, 55, ...'
seq 0 89 | awk 'BEGIN { print "day,energy_mJ" } { print $1 "," 500 + $1 % 3 - 1 }' >"$box/calm.csv"
check 'days that are all as usual' quick output "$box/calm.csv" "$hand"
check '  are told to be' reads 'no day lies outside what these readings usually do'
check 'readings of another unit' quick output "$box/off.csv" "$mine" --set light.spot='0.5 mm'
check '  are asked about' reads 'is the column of energies in its unit'
counted_out
