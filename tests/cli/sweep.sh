#!/bin/sh
# What a user of `brevis sweep` sees: the same bytes from one run, from parts, from any number of threads and after a
# kill; numbers of `brevis run`; refusals; the examples of docs/how_to/many_machines.md.
# usage: BREVIS=build/brevis sh tests/cli/sweep.sh
set -u
cd "$(dirname "$0")/../.." || exit 1
. tests/support/cli.sh
top=$PWD

fast() { "$brevis" sweep --no-figures --quiet "$@"; }
spots() { fast --vary light.spot=2mm..10mm:7 "$@" "$hand"; }

# ---- one run ----
check 'help' exits 0 "$brevis" sweep --help
check '  names its options' tells '--vary KEY=FROM..TO:N'
check 'a sweep' exits 0 spots --out "$box/one"
check 'its files' [ "$(ls "$box/one" | tr '\n' ' ')" = 'summary.json summary.txt sweep.csv ' ]
check 'its parts are gone' absent "$box/one.parts"
check 'a row for each point' [ "$(wc -l <"$box/one/sweep.csv")" = 8 ]
check 'lines end with CR LF' [ "$(tr -cd '\r' <"$box/one/sweep.csv" | wc -c)" = 8 ]
check 'the key comes first, named by its path' grep -q '^light.spot_m,energy_J,energy_J_low,' "$box/one/sweep.csv"
# the key, 4 shared headlines and 12 for each of two sites, each of three columns
check 'every row has all columns' awk -F, 'NF != 97 { exit 1 }' "$box/one/sweep.csv"
for file in summary.txt summary.json; do
    check "caution in $file" grep -q 'Not a medical device' "$box/one/$file"
    check "version in $file" grep -q "$("$brevis" --version | sed 's/brevis //')" "$box/one/$file"
    check "hash of the scenario in $file" grep -q '5b982456992ddffb' "$box/one/$file"
done
check 'numbers of summary.json are {value, unit}' sh -c "! grep -E '\": *-?[0-9]' '$box/one/summary.json' | grep -v '\"value\": .*\"unit\"'"
check 'a key without rivals leaves energy or fluence' awk -F, 'NR > 1 && $5 != 6000 { exit 1 }' "$box/one/sweep.csv"

# ---- the same bytes ----
spots --threads 1 --out "$box/t1"
spots --threads 8 --out "$box/t8"
check 'one thread, same bytes' diff -r "$box/one" "$box/t1"
check 'eight threads, same bytes' diff -r "$box/one" "$box/t8"
for i in 1 2 3; do check "part $i of 3" exits 0 spots --out "$box/parts" --threads $i --part $i/3; done
check 'a part leaves no results' absent "$box/parts"
check 'three parts joined' exits 0 spots --out "$box/parts" --join
check 'are one run, byte for byte' diff -r "$box/one" "$box/parts"
check 'and are kept' [ "$(ls "$box/parts.parts" | tr '\n' ' ')" = '1_of_3 2_of_3 3_of_3 ' ]
cp -r "$box/parts.parts" "$box/again.parts"
rm "$box/again.parts/2_of_3"
check 'a part again' exits 0 spots --out "$box/again" --part 2/3
check 'same bytes' diff -r "$box/parts.parts" "$box/again.parts"
mkdir "$box/in" && (cd "$box/in" && "$brevis" sweep --no-figures --quiet --vary light.spot=2mm..10mm:7 - <"$hand")
check 'standard input, same numbers' cmp -s "$box/one/sweep.csv" "$box/in/out/stdin-sweep/sweep.csv"
check 'other units' exits 0 fast --vary light.spot=0.2cm..1cm:7 --out "$box/units" "$hand"
check 'other units, same numbers' awk -F, 'FNR == NR { a[FNR] = $1; next } FNR > 1 { d = $1 - a[FNR]; if (d < 0) d = -d; if (d > 2e-12 * $1) exit 1 }' \
    "$box/one/sweep.csv" "$box/units/sweep.csv" # each value is rounded to twelve digits

# ---- a point is the run that --set asks for ----
column() { # column FILE NAME ROW
    awk -F, -v name="$2" -v row="$3" 'NR == 1 { for (i = 1; i <= NF; i++) if ($i == name) at = i } NR == row { print $at }' "$1" | tr -d '\r'
}
of_run() { # of_run OBJECT NAME [N]: value of NAME in the N-th object of this name in the run's summary.json
    awk -v object="\"$1\": {" -v name="\"$2\": {\"value\": " -v n="${3:-1}" 'index($0, object) { seen++ }
        seen == n && (at = index($0, name)) { rest = substr($0, at + length(name)); sub(/,.*/, "", rest); print rest; exit }' \
        "$box/run/summary.json"
}
fast --vary 'light.pulse=1 ns..100 ns:3:log' --vary 'light.fluence=0.2..0.4 J/cm2:3' --out "$box/two" "$hand"
check 'nine points of two keys' [ "$(wc -l <"$box/two/sweep.csv")" = 10 ]
check 'the first key is the slowest' [ "$(cut -d, -f1,2 "$box/two/sweep.csv" | sed -n '3p;5p' | tr '\n' ' ')" = '1e-09,3000 1e-08,2000 ' ]
"$brevis" run --no-figures --quiet --out "$box/run" --set 'light.pulse=10 ns' --set 'light.fluence=0.3 J/cm2' "$hand"
csv=$box/two/sweep.csv
same() { [ -n "$1" ] && [ "$1" = "$2" ] || { echo "$1 is not $2"; return 1; }; }
point() { column "$csv" "$1" 6; }
check 'energy is that of the run' same "$(point energy_J)" "$(of_run asked energy)"
check 'threshold of a grain, lesion' same "$(point lesion_threshold_grain_J_m2)" "$(of_run threshold_grain fluence)"
check 'threshold of a grain, neighbour' same "$(point neighbour_threshold_grain_J_m2)" "$(of_run threshold_grain fluence 2)"
check 'threshold of a sign, lesion' same "$(point lesion_threshold_sign_J_m2)" "$(of_run threshold_sign fluence)"
check 'threshold of a sign, neighbour' same "$(point neighbour_threshold_sign_J_m2)" "$(of_run threshold_sign fluence 2)"
check 'highest rise of a grain, lesion' same "$(point lesion_grain_peak_K)" "$(of_run grain_mean rise)"
check 'highest rise of a grain, neighbour' same "$(point neighbour_grain_peak_K)" "$(of_run grain_mean rise 3)"
# The ends of a range and the counts of the notes, once more from the rows.
check 'ends of a range are those of the rows' awk -F, -v least="$(sed -n '/"lesion_*/,/neighbour/{/"share_disrupted"/,/points_without/p}' "$box/two/summary.json" |
    sed -n 's/.*"number": {"value": \([^,]*\),.*/\1/p' | tr '\n' ' ')" '
    NR == 1 { for (i = 1; i <= NF; i++) if ($i == "lesion_share_disrupted") at = i }
    NR == 2 { low = high = $at } NR > 1 { if ($at + 0 < low + 0) low = $at; if ($at + 0 > high + 0) high = $at }
    END { split(least, end, " "); exit !(low + 0 > 0 && end[1] == low && end[2] == high) }' "$csv"
# From 33 C: 79 K are room up to 112 C. The counts are those of the file's own rows.
counted() { # counted FOLDER: the note's beginning
    awk -F, -v room=79 '
        NR == 1 { for (i = 1; i <= NF; i++) if ($i ~ /_(grain_peak|layer_peak|rise_0.3mm|surface_peak)_K$/) value[i]; else if ($i ~ /_(grain_peak|layer_peak|rise_0.3mm|surface_peak)_K_high$/) high[i] }
        NR > 1 { a = b = 0; for (i in value) a = a || $i > room; for (i in high) b = b || $i > room; n += a; m += b }
        END { printf "at %d of %d points a grain, its layer or a depth passes 112 C, with the high end of its spread at %d:", n, NR - 1, m }' "$1/sweep.csv"
}
told() { tr -s '\n ' '  ' <"$1/summary.txt" | grep -qF "$2"; } # told FOLDER WORDS: across the ends of lines
check 'points that are no temperature are counted' told "$box/two" "$(counted "$box/two")"
check 'two keys: ends of the ranges' grep -q 'lesion     least .* at light.pulse 1 ns' "$box/two/summary.txt"
check 'one key: a table' grep -q '^2 mm ' "$box/one/summary.txt"
fast --vary light.count=1..5:5 --out "$box/count" scenarios/lesson/04_ten_pulses_at_three_a_second.yaml
check 'one pulse to five' [ "$(cut -d, -f1 "$box/count/sweep.csv" | tail -n 5 | tr '\n' ' ')" = '1 2 3 4 5 ' ]
fast --set watch.sign_column='9 um' --vary light.spot=2mm..3mm:2 --out "$box/none" "$hand"
check 'no sign is empty' [ -z "$(column "$box/none/sweep.csv" lesion_threshold_sign_J_m2 2)" ]
check 'and told' grep -q 'at 2 of 2 points no fluence makes a sign' "$box/none/summary.txt"

cat >"$box/pale.yaml" <<'END'
light: {wavelength: 532 nm, pulse: 7 ns, spot: 4 mm, fluence: 0.6 J/cm2}
skin: light
END
fast --set light.method=layered --vary 'lesion.basal.melanosomes=0%..60%:4' --out "$box/pale" "$box/pale.yaml"
check 'another layer has the densest pigment: told' grep -q 'at 3 of 4 points the grain that is followed sits in another layer than at the first one, epidermis' "$box/pale/summary.json"

# ---- stopped ----
# Light of an endless beam takes a third of the time, and what is kept and gone on with is the same.
long() { "$brevis" sweep --no-figures --set light.method=layered --vary light.spot=2mm..10mm:24 "$@" "$hand"; }
long --quiet --out "$box/whole"
start() { # start DIRECTORY N: a long sweep in the background, until its part has more than N lines or a minute is over
    "$brevis" sweep --no-figures --threads 2 --set light.method=layered --vary light.spot=2mm..10mm:24 --out "$1" "$hand" \
        >"$box/stdout" 2>"$box/stderr" &
    pid=$!
    tries=0
    # shellcheck disable=SC2002 # cat, because the file need not be there yet
    while [ "$(cat "$1.parts/1_of_1" 2>/dev/null | wc -l)" -le "$2" ] && [ $tries -lt 600 ] && kill -0 $pid 2>/dev/null; do
        tries=$((tries + 1))
        sleep 0.1
    done
}
for round in 1 5 9; do # killed early, and later
    start "$box/killed$round" "$round"
    kill -9 $pid
    wait $pid 2>/dev/null
    check "killed $round: no results" absent "$box/killed$round"
    check "killed $round: points are kept" [ "$(wc -l <"$box/killed$round.parts/1_of_1")" -gt "$round" ]
    check "killed $round: the same command goes on" exits 0 long --out "$box/killed$round"
    check "killed $round: it says from where" says '[1-9][0-9]* of 24 points were there already, in .*killed'
    check "killed $round: the same bytes" diff -r "$box/whole" "$box/killed$round"
    check "killed $round: nothing is left" absent "$box/killed$round.parts"
done
start "$box/interrupted" 3
kill -INT $pid
wait $pid
check 'an interrupt ends with 130' [ $? = 130 ]
check 'it says that the same command goes on' says 'and the same command goes on'
kept=$(($(wc -l <"$box/interrupted.parts/1_of_1") - 1))
check 'whole batches are kept' says "$kept of 24 points are kept in"
check 'the same command goes on' exits 0 long --out "$box/interrupted"
check 'it says how many were there' says "$kept of 24 points were there already"
check 'the same bytes' diff -r "$box/whole" "$box/interrupted"
start "$box/interrupted_again" 2
kill -9 $pid
wait $pid 2>/dev/null
head -c -30 "$box/interrupted_again.parts/1_of_1" >"$box/torn" && cp "$box/torn" "$box/interrupted_again.parts/1_of_1"
check 'a torn last line' exits 0 long --quiet --out "$box/interrupted_again"
check 'is computed again: the same bytes' diff -r "$box/whole" "$box/interrupted_again"
check '--quiet says nothing of it' [ ! -s "$box/stderr" ]

# A walk looks for an interrupt every 131072 photons; a point that was cut short must not be kept.
walk() { fast --set light.method=sampled --set light.photons=2e5 --set 'light.error=0.01 %' --vary light.spot=2mm..10mm:2 "$@" "$hand"; }
walk --threads 2 --out "$box/walk"
"$brevis" sweep --no-figures --quiet --threads 1 --set light.method=sampled --set light.photons=2e5 --set 'light.error=0.01 %' \
    --vary light.spot=2mm..10mm:2 --out "$box/walk_stopped" "$hand" 2>"$box/stderr" &
pid=$!
sleep 0.5
kill -INT $pid 2>/dev/null
wait $pid
check 'walks of photons, one thread or interrupted' exits 0 walk --threads 1 --out "$box/walk_stopped" --force
check 'the same bytes' diff -r "$box/walk" "$box/walk_stopped"

# ---- what does not belong ----
spots --out "$box/other" --part 1/2
before=$(cksum <"$box/other.parts/1_of_2")
check 'another scenario' exits 4 spots --out "$box/other" --set 'light.fluence=1 J/cm2' --part 1/2
check 'is named' says 'other.parts/1_of_2:1:1: belongs to scenario [0-9a-f]*, wanted [0-9a-f]*$'
check 'other values' exits 4 fast --vary light.spot=2mm..11mm:7 --out "$box/other" --part 1/2 "$hand"
check 'are named' says 'other.parts/1_of_2:1:1: belongs to other keys or values'
check 'nothing was overwritten' [ "$before" = "$(cksum <"$box/other.parts/1_of_2")" ]
printf 'light: {wavelength: 532 nm, pulse: 7 ns, spot: 4 mm, fluence: 0.6 J/cm2}\nskin: light\n' >"$box/fluence.yaml"
printf 'light: {wavelength: 532 nm, pulse: 7 ns, spot: 4 mm, energy: 75.39822368615504 mJ}\nskin: light\n' >"$box/energy.yaml"
check 'a fluence, the same at every spot' exits 0 fast --vary light.spot=2mm..6mm:3 --out "$box/given" --part 1/2 "$box/fluence.yaml"
check 'an energy, the same at the 4 mm of the scenario only, is not counted to it' exits 4 fast --vary light.spot=2mm..6mm:3 --out "$box/given" --part 1/2 "$box/energy.yaml"
check '  nor joined with it' eval 'fast --vary light.spot=2mm..6mm:3 --out "$box/given" --part 2/2 "$box/energy.yaml"; exits 4 fast --vary light.spot=2mm..6mm:3 --out "$box/given" --join "$box/energy.yaml"'
check '  as is told' says 'given.parts/1_of_2:1:1: belongs to other keys or values, or to a scenario that gives other keys'
check 'unless it is forced' exits 0 fast --force --vary light.spot=2mm..11mm:7 --out "$box/other" --part 1/2 "$hand"
check 'one part alone is not joined' exits 4 fast --vary light.spot=2mm..11mm:7 --out "$box/other" --join "$hand"
check 'the missing one is named' says 'other.parts/2_of_2: is missing; --part 2/2 writes it'
sed '1s/program [0-9.]*/program 0.0.1/' "$box/parts.parts/1_of_3" >"$box/line"
cp "$box/line" "$box/parts.parts/1_of_3"
sed '3s/,[0-9]/,7/' "$box/parts.parts/2_of_3" >"$box/line"
cp "$box/line" "$box/parts.parts/2_of_3"
head -n 2 "$box/parts.parts/3_of_3" >"$box/line"
cp "$box/line" "$box/parts.parts/3_of_3"
check 'damaged parts are not joined' exits 4 spots --force --out "$box/parts" --join
check 'another version' says '1_of_3:1:1: written by brevis 0.0.1, wanted'
check 'a damaged number, here in the last line' says '2_of_3:3:1: this line is cut off'
check 'a short part' says '3_of_3: has 1 of 2 points; --part 3/3 goes on with it'
check 'the old results stand' diff -r "$box/one" "$box/parts"
check 'no parts at all' exits 4 spots --out "$box/nothing" --join
check 'are asked for' says '--part I/N'
check 'results that are there' exits 4 spots --out "$box/one"
check 'are kept without --force' says 'one is there already; --force replaces it'
check 'and replaced with it' exits 0 spots --out "$box/one" --force

# ---- a full disk, as far as a limit on the size of files is one ----
full=$box/full
check 'a file that cannot grow' sh -c "trap '' XFSZ; ulimit -f 4; '$brevis' sweep --no-figures --threads 1 --vary light.spot=2mm..10mm:7 --out '$full' '$hand' 2>'$box/stderr' >/dev/null; [ \$? = 4 ]"
check 'is said' says '1_of_1: cannot be written: '
check 'what was written before is whole' sh -c "tail -c 1 '$full.parts/1_of_1' | od -c | grep -q '\\\\n'"
check 'with room again it goes on' exits 0 spots --out "$full" --threads 1
check 'the same bytes' diff -r "$box/one" "$full"

# ---- refusals: everything is named, nothing is written ----
no() { # no CODE WORDS OPTIONS...
    code=$1 words=$2
    shift 2
    check "refused: $*" exits "$code" "$brevis" sweep --out "$box/no" "$@"
    check "  says $words" says "$words"
    check '  writes nothing' sh -c "[ ! -e '$box/no' ] && [ ! -e '$box/no.parts' ]"
}
no 2 'missing: --vary' "$hand"
no 2 'one of them' --vary light.spot=2mm..3mm:2 --part 1/2 --join "$hand"
no 2 'one scenario file' --vary light.spot=2mm..3mm:2
no 4 'cannot be read' --vary light.spot=2mm..3mm:2 "$box/missing.yaml"
no 3 'many_slips.yaml:[0-9]*:[0-9]*: ' --vary light.spot=2mm..3mm:2 scenarios/wrong/many_slips.yaml
no 3 '^--vary light.spt:1:1: .*did you mean light.spot' --vary light.spt=2mm..3mm:2 "$hand"
no 3 '^--vary light.spot:1:21: N = 1000000000, allowed 2 to 10000$' --vary light.spot=2mm..3mm:1000000000 "$hand"
no 3 '1000 x 11 = 11000 points, allowed at most 10000' --vary light.spot=2mm..3mm:1000 --vary light.pulse=1ns..2ns:11 "$hand"
no 3 'the unit is missing' --vary light.spot=2..3:2 "$hand"
no 3 '^--vary skin.rete.blood:1:1: the skin has no layer called rete' --vary skin.rete.blood=1%..2%:2 "$hand"
no 3 'the logarithm of a temperature' --vary surface.temperature=20degC..30degC:3:log "$hand"
no 3 'a logarithm begins above 0' --vary skin.basal.melanosomes=0%..3%:3:log "$hand"
no 3 'runs backwards' --vary light.spot=2mm..3mm:2 --vary light.pulse=9ns..7ns:2 "$hand"
no 3 'varied twice' --vary light.spot=2mm..3mm:2 --vary light.spot=2mm..3mm:2 "$hand"
no 3 'a whole number is wanted, here up to 200 (at light.count = 1.5)' --vary light.count=1..2:3 "$hand"

# ---- figures ----
if command -v gnuplot >/dev/null 2>&1; then
    check 'a curve' exits 0 "$brevis" sweep --vary light.spot=2mm..3mm:2 --out "$box/curve" "$hand"
    check '  says where it is' tells '^OPEN .*sweep.png'
    "$brevis" sweep --quiet --vary light.spot=2mm..3mm:2 --vary light.pulse=1ns..1us:2:log --out "$box/map" "$hand" 2>"$box/stderr"
    for kind in curve map; do
        for picture in sweep.svg sweep.png; do check "$kind: $picture" [ -s "$box/$kind/$picture" ]; done
        check "$kind: version and caution" grep -q 'brevis [0-9.]*, scenario .* not a medical device' "$box/$kind/sweep.svg"
        check "$kind: lesion and neighbour" grep -q 'neighbour' "$box/$kind/sweep.svg"
    done
    check 'a rise without vaporisation is called one' grep -q 'highest rise of a grain, no vaporisation, K' "$box/curve/sweep.svg"
    "$brevis" sweep --quiet --set light.method=layered --set watch.sign_column='1.2 um' --vary lesion.basal.melanosomes=1%..20%:2 \
        --vary light.pulse=1ns..1us:2:log --out "$box/holes" "$hand" 2>"$box/stderr"
    check 'a cell of this map has no sign' [ -z "$(column "$box/holes/sweep.csv" lesion_threshold_sign_J_m2 2)" ]
    check '  and stay grey: nothing white is laid on them' sh -c "! grep -q \"polygon fill = '#FFFFFF'\" '$box/holes/sweep.svg'"
    cp -r "$box/curve" "$box/curve_before"
    check 'the same figure again' sh -c "'$brevis' sweep --quiet --force --vary light.spot=2mm..3mm:2 --out '$box/curve' '$hand' && diff -r '$box/curve_before' '$box/curve'"
fi

# ---- what is no temperature, what is imagined, what lies on the skin ----
check 'a high criterion keeps nothing liquid' exits 0 "$brevis" sweep --no-figures --set light.method=layered \
    --set watch.criterion='300 degC' --vary 'light.fluence=0.01J/cm2..1J/cm2:3' --out "$box/high" "$hand"
check '  and that is said, of as many points as the file has' told "$box/high" "$(counted "$box/high")"
check '  which are some' sh -c "echo '$(counted "$box/high")' | grep -q 'at [12] of 3'"
check 'pigment from none on' exits 0 "$brevis" sweep --no-figures --set light.method=layered --set lesion.epidermis.melanosomes='0 %' \
    --vary 'lesion.basal.melanosomes=0%..20%:3' --out "$box/paler" "$hand"
check '  where there is none a grain is imagined' tells 'at 1 of 3 points lesion or neighbour has no pigment'
check '  and the ratio of signs has no range either' sh -c "awk -F, 'NR == 1 { for (i = 1; i <= NF; i++) if (\$i ~ /^threshold_ratio/) k[i] } NR == 2 { for (i in k) if (\$i !~ /^\r*\$/) exit 1 }' '$box/paler/sweep.csv'"
check 'under a film' exits 0 "$brevis" sweep --no-figures --set light.method=layered --vary light.pulse=7ns..8ns:2 --out "$box/film" scenarios/film_soot_1064nm.yaml
check '  it is no protection' told "$box/film" 'at 2 of 2 points a film lies on the skin. Less light below it is NO protection'

# ---- the page on many machines ----
page=docs/how_to/many_machines.md
block() { # block HEADING: the first example below it
    awk -v heading="## $1" '$0 == heading { on = 1 } on && /^```sh$/ { inside = 1; next } inside && /^```$/ { exit } inside' "$page"
}
fast --vary light.spot=2mm..10mm:9 --out "$box/nine" "$hand"
here() { # here NAME: a folder in which the page's commands work
    mkdir -p "$box/$1/build" && ln -s "$brevis" "$box/$1/build/brevis" && ln -s "$top/scenarios" "$top/docs" "$box/$1"
}
gives_nine() { # gives_nine NAME COMMANDS: run in their own folder they give what one run gives
    here "$1"
    (cd "$box/$1" && sh -eu -c "$2") >"$box/stdout" 2>"$box/stderr" && [ -n "$2" ] &&
        for file in sweep.csv summary.txt summary.json; do cmp -s "$box/nine/$file" "$box/$1/out/${3:-spots}/$file" || return 1; done
}
check 'the page: xargs' gives_nine xargs "$(block xargs)" spots_x
if command -v parallel >/dev/null 2>&1 && parallel --version 2>/dev/null | grep -q '^GNU parallel'; then
    check 'the page: GNU parallel' gives_nine parallel "$(block 'GNU parallel')"
else
    echo 'GNU parallel is not here: its example is left out'
fi
check 'the page: the file for Slurm is sh' sh -n docs/how_to/sweep_array.sbatch
check 'the page: four tasks, and joined' gives_nine slurm "for task in 1 2 3 4; do
    SLURM_ARRAY_TASK_ID=\$task SLURM_ARRAY_TASK_COUNT=4 sh docs/how_to/sweep_array.sbatch
done
$(block Slurm)"

counted_out
