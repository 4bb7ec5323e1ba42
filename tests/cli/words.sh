#!/bin/sh
# What is written is either acted on or refused: nothing is taken in silence and left unread. And a refusal names the
# cause, the place, and what is allowed there.
cd "$(dirname "$0")/../.." || exit 1
. tests/support/cli.sh

mine=$box/mine.yaml
cat >"$mine" <<'EOF'
title: My first skin
light:
  wavelength: 532 nm
  pulse: 7 ns
  spot: 4 mm
  fluence: 0.6 J/cm2
skin: light
lesion:
  basal.melanosomes: 25 %
EOF

sound() { exits 0 "$brevis" check "$@" "$mine"; }
refused() { exits 3 "$brevis" check "$@" "$mine"; }
usage() { exits 2 "$brevis" "$@"; }
silent_at_all() { [ ! -s "$box/stdout" ] && [ ! -s "$box/stderr" ]; }
usage0() { exits 0 "$brevis" "$@"; }
alone() { [ "$(wc -l <"$box/stderr")" = 1 ]; }

# ---- a colour beside a skin that is not made from one ----
check 'a colour beside a ready skin is refused' refused --set skin.colour.L=30
check '  with place and reason' says '^--set skin.colour.L:1:1: skin.colour.L: the skin here is the ready one called light, which has its own pigment; '
check '  in one line' alone
check 'a key that no colour has' refused --set skin.colour.foo=1
check '  in the usual words' says 'skin.colour.foo is not a key; here may stand L, b'
check 'a word for a number' refused --set skin.colour.L=pale
check '  in the usual words' says 'skin.colour.L = pale: a number is wanted; allowed 0 to 100'
check 'a colour in one word' refused --set skin.colour=pale
check 'keys below a ready skin by name' refused --set skin.ready.foo=1
check '  with its place' says '^--set skin.ready.foo:1:1: skin.ready'
check 'a sweep over a colour that is not there' exits 3 "$brevis" sweep --vary skin.colour.L=40..70:3 "$mine" --out "$box/colour"
check '  is named' says '^--vary skin.colour.L:1:.*the skin here is the ready one called light'
{ cat "$mine"; echo 'choices: {pale: {skin.colour.L: 75}, dark: {skin.colour.L: 30}}'; } >"$box/choices.yaml"
check 'choices that differ in a colour that is not there' exits 3 "$brevis" compare "$box/choices.yaml" --out "$box/colour"
check '  are named where they stand' says 'choices.yaml:10:.*skin.colour.L: the skin here is the ready one called light'
check '  and nothing is written' absent "$box/colour"

# ---- and where the skin is made from a colour ----
sed 's/^skin: .*/skin: {colour: {L: 62, b: 17}}/' "$mine" >"$box/coloured.yaml"
pigment() { "$brevis" check "$@" "$box/coloured.yaml" | grep '^  colour'; }
acts() { [ -n "$(pigment)" ] && [ "$(pigment)" != "$(pigment --set skin.colour.L=50)" ]; }
check 'another colour is another pigment' acts

# ---- what a file may hold, in one --set ----
check 'a ready skin at a site' sound --set 'skin={ready: light, site: neck}'
check '  is placed there' tells '^  site  *neck'
check 'a skin of a measured colour' sound --set 'skin={colour: {L: 62, b: 17}}'
check '  is made from it' tells '^  colour'
check 'a ready skin that differs, with a dot' sound --set 'skin={ready: light, basal.melanosomes: 8 %}'
check '  differs' tells 'basal melanosomes 8 % -> 25 %'
check 'a fault in braces' refused --set 'skin={ready: light, site: necks}'
check '  has its column' says '^--set skin:1:27: skin.site = necks'
check 'braces that are not closed' refused --set 'skin={ready: light'
check 'a title may hold braces' sound --set 'title={not} a section: of it'
check '  as it is' tells 'title  *{not} a section: of it'
check 'an empty lesion' refused --set lesion=
check '  tells what to write' says 'or write {} for the same skin'
check '  which can be written' sound --set 'lesion={}'
check '  and is the same skin' tells '^  lesion  as the skin around it$'
{ cat "$mine"; echo 'choices: {pale: {skin: {colour: {L: 68, b: 17}}}, neck: {skin: {ready: light, site: neck}}}'; } >"$box/whole.yaml"
check 'a skin in words in a choice' exits 0 "$brevis" check "$box/whole.yaml"

# ---- the cause, not what follows from it ----
for count in 2.5 99999999999999999999; do
    check "a count of $count" refused --set light.count=$count
    check '  is told of first' says "^--set light.count:1:13: light.count = $count"
    check '  and alone' alone
done
check 'a number too large, without its unit' refused --set light.spot=1e999
check '  is too large, and the range is told' says 'light.spot = 1e999: the number is too large to be held; allowed 0.5 mm to 30 mm'
check 'a number too large, with its unit' refused --set 'light.spot=1e999 mm'
check '  likewise' says 'light.spot = 1e999 mm: the number is too large to be held; allowed 0.5 mm to 30 mm'
check 'a share too large' refused --set 'skin.basal.melanosomes=1e999 %'
check '  likewise' says 'the number is too large to be held; allowed 0 % to 60 %'

# ---- fluence and energy: what follows from the one lies where the other may ----
energy() { refused --set "light.energy=$1" --set "light.spot=$2"; }
fluence() { refused --set "light.fluence=$1" --set "light.spot=$2"; }
check 'so much energy through so narrow a spot' energy '1000 J' '0.5 mm'
check '  is more fluence than there may be' says '^--set light.energy:1:14: light.energy = 1000 J: over this spot that is more than light.fluence may be, here up to 1.96 J$'
check '  said once' alone
check 'so much fluence over so wide a spot' fluence '1000 J/cm2' '30 mm'
check '  is more energy than there may be' says 'light.fluence = 1000 J/cm2: over this spot that is more than light.energy may be, here up to 141 J/cm2$'
check 'so little energy over so wide a spot' energy '0.1 uJ' '30 mm'
check '  is less fluence than there may be' says 'over this spot that is less than light.fluence may be, here from 70.7 uJ on$'
check 'so little fluence through so narrow a spot' fluence '0.1 J/m2' '0.5 mm'
check '  is less energy than there may be' says 'over this spot that is less than light.energy may be, here from 0.051 mJ/cm2 on$'
check 'what is told fits: most' sound --set 'light.energy=1.96 J' --set 'light.spot=0.5 mm'
check 'what is told fits: least' sound --set 'light.energy=70.7 uJ' --set 'light.spot=30 mm'
check 'a spot out of its range is told alone' energy '1000 J' '0.1 mm'
check '  alone' alone

# ---- a share too small for its column has one form everywhere, and so have its ends ----
check 'hardly a grain is disrupted, but with the darkest ones' exits 0 "$brevis" run --no-figures --force --out "$box/tiny" \
    --set 'light.pulse=100 ms' --set 'light.fluence=10 J/cm2' "$mine"
check '  which is told' tells 'grains disrupted, .*  <0.01 (<0.01 to 100) *<0.01 (<0.01 to 100)$'
check '  the pressure likewise' tells 'pressure in a grain, .*  <0.01  *<0.01$'
check '  the document has the number' grep -q '"share_disrupted_by_number": {"value": 2.5[0-9]*e-32' "$box/tiny/summary.json"

# ---- wrong words on the command line ----
check '--set without =' usage check --set light.spot "$mine"
check '  says what is wanted' says 'brevis check: --set takes PATH=VALUE, such as light.spot="6 mm", not light.spot'
check '--set without a path' usage check --set = "$mine"
check '--set --set' usage check --set --set "$mine"
check 'a name that begins with a dash' usage run --quiet -dash.yaml
check '  is told of, and how to write it' says 'brevis run: there is no option -d; a file whose name begins with a dash is written ./-dash.yaml'
check '  likewise behind an option with =' usage run --out=x -dash.yaml
check '  is told of' says './-dash.yaml'
check 'letters that are no name' usage run --quiet -qx
check '  are told of as letters' says 'there is no option -q; .brevis run --help'
check 'options may stand behind words' exits 0 env POSIXLY_CORRECT=1 "$brevis" check "$mine" --quiet
check '  whatever the environment wants' silent_at_all
check '  and end at -- all the same' exits 4 env POSIXLY_CORRECT=1 "$brevis" check "$mine" -- --quiet
cp "$mine" "$box/-dash.yaml"
dashed() { (cd "$box" && exits 0 "$brevis" check "$@"); }
check 'it can be written so' dashed ./-dash.yaml
check 'options end at --' dashed --quiet -- -dash.yaml
check 'where exit codes are told is in the help' sh -c '"$1" help | grep -q "exit codes: brevis help --page"' sh "$brevis"
check '  and they are there' sh -c '"$1" help --page | grep -qi "exit status"' sh "$brevis"

# ---- keys as the README's scenario has them ----
check 'a key of a layer, as it stands in lesion' usage0 explain basal.melanosomes
check '  is explained' tells '^skin.melanosomes'
check '  and where it is written' tells '^written   lesion.basal.melanosomes in the spot, skin.basal.melanosomes around it'
check 'a layer of an own name' usage explain papillary.blood
check '  is not asked for by the same word again' says 'did you mean skin.papillary.blood?'
check '  which helps' usage0 explain skin.papillary.blood
check 'a slip in the section only' usage explain surfacce.index
check '  is the section that was meant' says 'did you mean surface.index?'
check 'the kind of a layer' usage0 explain dermis.kind
unwritten() { ! grep -q '^written' "$box/stdout"; }
check '  stands in no lesion' unwritten
check '--set of a layer without its section' refused --set 'basal.melanosomes=20 %'
check '  names both' says '^--set basal.melanosomes:1:1: basal is not a section; a layer stands in lesion, for the spot, or in skin, for what lies around it: lesion.basal.melanosomes, skin.basal.melanosomes$'
check '  alone' alone
{ cat "$mine"; echo 'dermis.blood: 1 %'; } >"$box/top.yaml"
check 'the same at the margin of a file' exits 3 "$brevis" check "$box/top.yaml"
check '  names both' says 'top.yaml:10:1: dermis.blood is not a section; a layer stands in lesion, .*: lesion.dermis.blood, skin.dermis.blood$'

# ---- options that do not go together ----
together() { # together WHAT IT SAYS, WORDS...
    wanted=$1
    shift
    check "$*: refused" usage "$@"
    check '  and what goes together' says "$wanted"
}
together '^brevis lesson: --seed goes with the name of a lesson, as in `brevis lesson numbers --seed ...`' lesson --seed 3
together '^brevis lesson: --answers goes with the name of a lesson' lesson --answers
together '^brevis lesson: --force goes with' lesson --force --quiet
together '^brevis explain: --page takes the word terms, or none' explain --page light
together '^brevis explain: --page takes the word terms' explain --page sites
together '^brevis help: give --page or --shell, not both' help --shell bash --page
together '^brevis help: --shell takes no command' help --shell bash run
together '^brevis tissue: --spectrum is comma-separated already; give --csv or --spectrum' tissue --csv --spectrum "$mine"
together '^brevis reported: --page takes no scenario and no other option, not --json' reported --page --json
check 'a spectrum alone' usage0 tissue --spectrum "$mine"
check 'terms as a page' usage0 explain --page terms

# ---- empty words, and standard input twice ----
check 'an empty command' usage ''
check '  is called so' says '^brevis: an empty word is no command; `brevis help` lists them$'
check 'an empty name of a scenario' exits 4 "$brevis" run ''
check '  is called so' says "^'': no file has an empty name$"
check 'an empty key' usage explain ''
check '  is called so' says '^brevis explain: no section or key has an empty name; `brevis explain` lists them all$'
check 'an empty lesson' usage lesson ''
check '  is called so' says '^brevis lesson: no lesson has an empty name; `brevis lesson` lists them$'
twice() { "$brevis" "$@" <"$mine" >"$box/stdout" 2>"$box/stderr"; [ $? = 4 ]; }
check 'standard input twice' twice check - -
check '  can be read once' says '^standard input: cannot be read: it was read to its end already$'
check 'standard input beside itself' twice compare - - --out "$box/both"
check '  can be read once' says '^standard input: cannot be read: it was read to its end already$'

# ---- behind the end of a document, and sections that are not there ----
{ cat "$mine"; printf -- '...\nwatch: {until: 10 s}\n'; } >"$box/ended.yaml"
check 'what stands behind ...' exits 3 "$brevis" check "$box/ended.yaml"
check '  is told of' says 'ended.yaml:11:1: the scenario ended at the line ... above; a file holds one scenario'
for command in visits cover ladder; do
    check "$command without its section" exits 3 "$brevis" $command "$mine"
    check '  has a place' says "mine.yaml:1:1: $command is missing: "
done

# ---- what is read by nobody is told of ----
sweeps() { exits 0 "$brevis" sweep "$@" --no-figures --force --out "$box/sweep" "$mine"; }
check 'a sweep over a key that nothing reads' sweeps --vary light.seed=1..9:3
check '  is told of' tells 'light.seed changes nothing: all its values give the same numbers to the last digit; it is read with'
check '  in the document too' grep -q 'light.seed changes nothing' "$box/sweep/summary.json"
check 'one of two such keys' sweeps --vary room.stay=1s..9s:2 --vary light.fluence=0.1J/cm2..1J/cm2:2
check '  is told of' tells 'room.stay changes nothing'
untold() { ! grep -q 'light.fluence changes nothing' "$box/stdout"; }
check '  the other is not' untold
check 'the other order' sweeps --vary light.fluence=0.1J/cm2..1J/cm2:2 --vary room.stay=1s..9s:2
check '  is told of likewise' tells 'room.stay changes nothing'
check '  alone' untold
{ cat "$mine"; echo 'choices: {near: {room.stay: 20 s}, warm: {surface.temperature: 34 degC}}'; } >"$box/same.yaml"
check 'a choice that changes nothing' exits 0 "$brevis" compare "$box/same.yaml" --no-figures --out "$box/same"
check '  is told of' tells '^NOTES *2: all numbers are those of choice 1 to the last digit: what differs changes nothing.$'
once() { [ "$(grep -c 'to the last digit' "$1")" = 1 ]; }
check '  and no other is' once "$box/same/summary.txt"
check '  in the document too' once "$box/same/summary.json"
check '  and on the page' once "$box/same/report.html"
runs() { exits 0 "$brevis" tissue "$@" "$mine"; }
check 'a --set that a command does not read' runs --set room.stay='20 s'
check '  is told of' says 'brevis tissue: --set room.stay changes nothing that is computed here; .brevis room. reads it'
check 'a seed without a walk' runs --set light.seed=7
check '  is told of' says '--set light.seed changes nothing here; it is read with light.method: sampled only'
check 'a seed with a walk' runs --set light.seed=7 --set light.method=sampled
silent() { [ ! -s "$box/stderr" ]; }
check '  is not' silent
check 'a seed in silence' exits 0 "$brevis" room --quiet --set light.seed=7 "$mine" --out "$box/room"
check '  is not either' silent

counted_out
