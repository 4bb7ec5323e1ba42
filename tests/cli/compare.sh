#!/bin/sh
# What a user of `brevis compare` sees: choices and files side by side, the same bytes, what is refused.
# usage: BREVIS=build/brevis sh tests/cli/compare.sh
set -u
cd "$(dirname "$0")/../.." || exit 1
. tests/support/cli.sh

compare() { "$brevis" compare --no-figures --force "$@"; }
hashes() { sed -n 's/.*"scenario_hash": "\(.*\)".*/\1/p' "$1/summary.json"; }

ready=scenarios/compare

# Does every value of a table lie within what stands behind it? Low and high have fewer digits than the value.
held() {
    awk '{ while (match($0, /-?[0-9.e+-]+ \(-?[0-9.e+-]+\.\.-?[0-9.e+-]+\)/)) {
               n++
               split(substr($0, RSTART, RLENGTH - 1), part, / \(|\.\./)
               $0 = substr($0, RSTART + RLENGTH)
               if (part[2] + 0 > part[1] + 0 || part[3] + 0 < part[1] + 0) { bad = 1; print part[1], part[2], part[3] }
           } }
         END { exit bad || n < 10 }' "$1"
}

# ---- every bundled one ----
for file in "$ready"/*.yaml; do
    name=$(basename "$file" .yaml)
    check "$file: sound" exits 0 "$brevis" check "$file"
    check "$file: its choices are told" tells 'choices'
    check "$file: compared" exits 0 compare --out "$box/$name" "$file"
    check "$file: fits the terminal" sh -c "! grep -q '.\{116\}' '$box/stdout'"
    check "$file: values lie between low and high" held "$box/$name/summary.txt"
    check "$file: caution" grep -q 'Not a medical device' "$box/$name/summary.txt"
    check "$file: caution in summary.json" grep -q 'Not a medical device' "$box/$name/summary.json"
    check "$file: nothing is called safe" sh -c "! grep -qiE 'safe|recommend' '$box/$name/summary.txt'"
    check "$file: as many rows as columns in every line" \
        awk -F, -v lines="$(grep -c ': {' "$file")" 'NR == 1 { n = NF } NF != n { exit 1 } END { exit NR != lines + 1 }' "$box/$name/compare.csv"
done

# ---- standard input among files ----
piped() { compare --quiet --out "$box/piped" - "$ready/pulse_widths.yaml" <"$hand"; }
check 'standard input beside a file' piped
check '  has its name in full' grep -q '^ 1 standard input ' "$box/piped/summary.txt"

# ---- the same bytes, and a choice is a run with --set ----
for threads in 1 2 8; do compare --quiet --threads $threads --out "$box/t$threads" "$ready/pulse_widths.yaml"; done
check 'two threads, same bytes' diff -r "$box/t1" "$box/t2"
check 'eight threads, same bytes' diff -r "$box/t1" "$box/t8"
"$brevis" run --no-figures --quiet --out "$box/run" --set 'light.pulse=30 us' "$ready/pulse_widths.yaml"
check 'a choice has the hash of the run with --set' [ "$(hashes "$box/run")" = "$(hashes "$box/t1" | sed -n 4p)" ]
column() { # column FILE NAME ROW
    awk -F, -v name="$2" -v row="$3" 'NR == 1 { for (i = 1; i <= NF; i++) { sub("\r", "", $i); if ($i == name) k = i } } NR == row + 1 { sub("\r", "", $k); print $k }' "$1"
}
check 'and its numbers' grep -q "\"value\": $(column "$box/t1/compare.csv" lesion_threshold_sign_J_m2 3)," "$box/run/summary.json"
check 'the first differs from itself by nothing' [ "$(column "$box/t1/compare.csv" lesion_equal_light_grain 1)" = 1 ]
check 'one fluence, one light' [ "$(column "$box/t1/compare.csv" neighbour_equal_light_1mm 4)" = 1 ]

# ---- energy and fluence give way to each other, --set comes first ----
cat >"$box/mine.yaml" <<'END'
title: Mine
light: {wavelength: 532 nm, pulse: 7 ns, spot: 4 mm, fluence: 0.6 J/cm2}
skin: light
choices:
  wider spot, same energy: {light.spot: 7 mm, light.energy: 75 mJ}
  nested: {light: {pulse: 300 ns}, grain.diameter: 1 um}
END
check 'one with choices of its own' exits 0 compare --out "$box/mine" "$box/mine.yaml"
check 'the scenario itself comes first' tells '1 as written'
check 'energy takes the place of fluence' tells '^energy of a pulse, mJ *75.4 *75 '
check 'what differs is told' tells 'light.spot 7 mm, light.energy 75 mJ'
check 'nested keys too' tells 'light.pulse 300 ns, grain.diameter 1 um'
check 'a small difference is marked' tells '~'
check '--set comes before the choices' exits 0 compare --set 'light.energy=40 mJ' --out "$box/mine" "$box/mine.yaml"
check '  and the choice has the last word' tells '^energy of a pulse, mJ *40 *75 *40'
check 'as JSON' sh -c "'$brevis' compare --no-figures --force --json --out '$box/mine' '$box/mine.yaml' >'$box/said' && cmp -s '$box/said' '$box/mine/summary.json'"
check 'from standard input' sh -c "cd '$box' && '$brevis' compare --no-figures --quiet - <mine.yaml && [ -s out/stdin-compare/compare.csv ]"
check 'run takes no notice of choices' exits 0 "$brevis" run --no-figures --out "$box/ignored" "$box/mine.yaml"

# ---- several files ----
check 'several files' exits 0 compare --out "$box/files" "$hand" scenarios/cheek_1064nm.yaml
check 'each under its name' tells '1 hand_532nm *2 cheek_1064nm'
check 'a row for each' [ "$(wc -l <"$box/files/compare.csv")" = 3 ]
check 'many choices, in blocks of four' exits 0 compare --out "$box/many" "$hand" "$hand" "$hand" "$hand" "$hand"
check 'the fifth stands below' tells '^ *5 hand_532nm'

# ---- what makes files differ is told of each ----
cat >"$box/train.yaml" <<'END'
light: {wavelength: 532 nm, pulse: 7 ns, spot: 4 mm, fluence: 0.2 J/cm2, count: 5, rate: 10 Hz}
skin: light
surface: {outside: plate, outside_temperature: 60 degC, from: 1 s, to: 5 s}
film: {thickness: 5 um, absorption: 200 /cm}
END
check 'a train, a plate and a film in the second file' exits 0 compare --out "$box/apart" "$hand" "$box/train.yaml"
for part in '532 nm, 7 ns, 4 mm spot, 0.2 J/cm2; ' '5 pulses, 10 a second' 'plate on the skin from 1 s to 5 s, at 60 C' 'a film of 5 um, 200 /cm'; do
    check "  $part" sh -c "tr -s ' \n' ' ' <'$box/stdout' | grep -q '$part'"
    check "  in the page too" sh -c "tr -s ' \n' ' ' <'$box/apart/report.html' | grep -q '$part'"
done
cat >"$box/layer.yaml" <<'END'
light: {wavelength: 532 nm, pulse: 7 ns, spot: 4 mm, fluence: 0.6 J/cm2}
skin: {ready: dark, site: cheek, dermis.blood: 5 %}
choices: {pale: {lesion.basal.melanosomes: 0 %}, other: {skin: {ready: light}}, measured: {skin: {colour: {L: 50, b: 17}}}}
END
check 'a choice without pigment in the row' exits 0 compare --out "$box/layer" "$box/layer.yaml"
check '  its grain sits in another layer, and that is told' tells '^NOTES *neighbour: not the same layer in all choices\|^NOTES *lesion: not the same layer in all choices'
check '  which where' sh -c "tr -s ' \n' ' ' <'$box/stdout' | grep -q 'neighbour: not the same layer in all choices, so figures of grains and of their layer do not compare: 1 basal 2 epidermis 3 basal 4 basal'"
check '  and no ratio is made of two layers' sh -c "! sed -n '/Choice 2: pale/,/Choice 3/p' '$box/layer/report.html' | grep -q 'times choice 1'"
"$brevis" run --no-figures --quiet --out "$box/set" --set 'skin={ready: light}' "$box/layer.yaml"
check 'a choice of a skin replaces the whole, as --set does' [ "$(grep -o '"scenario_hash": "[0-9a-f]*"' "$box/set/summary.json" | grep -o '[0-9a-f]\{16\}')" = "$(sed -n 's/^ 3 other.*\[\([0-9a-f]*\)\].*/\1/p' "$box/stdout")" ]

# ---- refused ----
check 'nothing to compare with' exits 3 compare --out "$box/none" "$hand"
check 'it says what is wanted' says 'choices:'
check 'a choice with an unknown key' exits 3 compare --out "$box/none" scenarios/wrong/choices_with_slips.yaml
check 'line and column' says 'choices_with_slips.yaml:10:11: light.sopt is not a key; did you mean light.spot'
check 'a fault of the scenario itself is told once, whatever the choices' sh -c "[ \$('$brevis' check --set 'light.spot=99 mm' scenarios/compare/air_gel_plate.yaml 2>&1 | grep -c 'light.spot = 99 mm') = 1 ]"
check 'a fault in the second file' exits 3 compare --out "$box/none" "$hand" scenarios/wrong/long_pulse.yaml
check 'no file' exits 2 compare
check 'a file that is not there' exits 4 compare --out "$box/none" "$box/missing.yaml"
check 'nothing was written' [ ! -e "$box/none" ]
check 'existing results are kept' exits 4 "$brevis" compare --out "$box/mine" "$box/mine.yaml"
check 'it says so' says 'force'
check 'a directory that cannot be made' exits 4 compare --out "$hand/below" "$box/mine.yaml"

# ---- the figure ----
if command -v gnuplot >/dev/null 2>&1; then
    for again in one two; do "$brevis" compare --quiet --out "$box/drawn_$again" "$ready/air_gel_plate.yaml" 2>/dev/null; done
    for kind in svg png; do
        check "compare.$kind is drawn" [ -s "$box/drawn_one/compare.$kind" ]
        check "compare.$kind, same bytes again" cmp -s "$box/drawn_one/compare.$kind" "$box/drawn_two/compare.$kind"
    done
    check 'caution in the figure' grep -q 'not a medical device' "$box/drawn_one/compare.svg"
fi

counted_out
