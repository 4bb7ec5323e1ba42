#!/bin/sh
# What a user of `brevis visits` sees: what the same pulse finds at later visits, and what is published of many.
# usage: BREVIS=build/brevis sh tests/cli/visits.sh
set -u
cd "$(dirname "$0")/../.." || exit 1
. tests/support/cli.sh

twelve=scenarios/visits_1064nm.yaml
once=scenarios/visits_once_1064nm.yaml
fast() { "$brevis" visits --no-figures --quiet "$@"; }
row() { awk -v want="$2" -F, 'NR == 1 { for (i = 1; i <= NF; i++) column[$i] = i } $1 == want { sub(/\r$/, "", $NF); print $column["'"$3"'"] }' "$1"; }

# ---- what is told ----
check 'twelve visits' exits 0 "$brevis" visits --out "$box/twelve" "$twelve"
check '  in less than a page' [ "$(wc -l <"$box/stdout")" -lt 40 ]
check '  as wide as a page' sh -c "! tail -n +2 '$box/stdout' | grep -q '.\{109\}'"
check '  called a teaching model' tells '^MODEL *TEACHING MODEL of pigment, not of a course'
check '  what is not in it' tells 'White dots, darkening, healing and clearing by the body are not in it'
check '  what returns' tells 'missing 10 % is back at the next visit'
check '  the first and the last visit' sh -c "grep -q '^   1  1.4 ' '$box/stdout' && grep -q '^  12  16.8 ' '$box/stdout'"
check '  and where the others are' tells '^VISIT J/cm2 *LESION  (4 of 12 visits; all in visits.csv)  *NEIGHBOUR$'
check '  low and high beside every share' sh -c "[ \$(grep -cE '^ +[0-9]+  [0-9.]+ +[0-9.]+ \([0-9.]+\.\.[0-9.]+\) *[0-9.]+ \([0-9.]+\.\.[0-9.]+\)' '$box/stdout') -ge 4 ]"
check '  loss of pigment as published' tells '^PAPERS   mottled loss of pigment: 14 of 14, reported for it, 6 to 50'
check '  with its numbers' sh -c "tr -s ' \n' ' ' <'$box/stdout' | grep -q '3 of 22, 5 weekly, 3.0 to 3.8 J/cm2 (wattanakrai-2010); 2 of 40, median 10 weekly, 1.2 to 2.0 J/cm2 (low-fluence-2018) drop-like white spots: 3 of 3'"
check '  that it returns' sh -c "tr -s ' \n' ' ' <'$box/stdout' | grep -q 'melasma back: 22 of 22 (wattanakrai-2010); 58.8 % of 34'"
check '  each kind begins a line' sh -c "[ \$(grep -cE '^ {9}(drop-like|melasma back|melasma rebounds).*: ' '$box/stdout') = 3 ]"
check '  of this wavelength' tells 'All at 1064 nm, ns, by their abstracts\.$'
check '  what unsure means' sh -c "tr -s ' \n' ' ' <'$box/stdout' | grep -q 'unsure: within its threshold.s range at this criterion, a column of 0.1-0.6 um, no source'"
check '  first of all notes, that the neighbour loses more' tells '^NOTES    the NEIGHBOUR loses the larger share: of its grains at visit 1; of its pigment after visit 12\.$'
check '  in the file too' sh -c "grep -A1 '\"notes\"' '$box/twelve/summary.json' | grep -q 'the NEIGHBOUR loses the larger share'"
check '  the sum is only a sum' tells 'no threshold of harm is known'
check '  the interval is the clinician' tells "INTERVAL the clinician's: a pulse's heat is gone within minutes"
check '  cautions' tells 'Not a medical device'
check '  version and scenario' sh -c "head -1 '$box/stdout' | grep -qE '^brevis [0-9.]+ .*\[scenario [0-9a-f]{16}\]'"
check '  the same in summary.txt' sh -c "head -n \$(wc -l <'$box/twelve/summary.txt') '$box/stdout' | cmp -s - '$box/twelve/summary.txt'"
check 'nothing is called safe or advised' sh -c "! grep -qiE '\bsafe|recommend|optimal|should' '$box/twelve/summary.txt' '$box/twelve/summary.json'"

# ---- the files ----
check 'their names' [ "$(ls -A "$box/twelve" | tr '\n' ' ')" = 'summary.json summary.txt visits.csv visits.png visits.svg ' ]
check 'figures are whole' sh -c "tail -c 7 '$box/twelve/visits.svg' | grep -q svg && [ -s '$box/twelve/visits.png' ]"
check 'caution in the figure' grep -q 'not a medical device' "$box/twelve/visits.svg"
check 'the sum is only a sum there' grep -q 'no threshold of harm is known' "$box/twelve/visits.svg"
check 'a row for each visit' [ "$(wc -l <"$box/twelve/visits.csv")" = 13 ]
check 'every row as long, ended by CR LF' sh -c "awk -F, '{ n[NF]++ } !/\r\$/ { bad = 1 } END { for (i in n) k++; exit bad || k != 1 }' '$box/twelve/visits.csv'"
check 'json is json' sh -c "command -v python3 >/dev/null || exit 0; python3 -m json.tool '$box/twelve/summary.json' >/dev/null"
check 'json holds what was asked' grep -q '"returns": {"value": 0.1, "unit": "1"}' "$box/twelve/summary.json"
check 'json holds published shares with their source' grep -q '"share": {"value": 0.588, "unit": "1", "source": "multi-pass-2016", "seen": "abstract"}' "$box/twelve/summary.json"
check 'json holds the cautions' grep -q 'Not a medical device' "$box/twelve/summary.json"
check 'the sum' [ "$(row "$box/twelve/visits.csv" 12 fluence_J_m2)" = 168000 ]

# ---- what the model says ----
check 'one visit' exits 0 "$brevis" visits --no-figures --out "$box/once" "$once"
check '  is told as one' tells 'ASKED *1 visit with the same pulse'
"$brevis" run --no-figures --quiet --out "$box/run" "$once"
share_of_run=$(sed -n 's/.*"share_disrupted_by_number": {"value": \([0-9.e-]*\).*/\1/p' "$box/run/summary.json" | head -1)
check 'its share is that of the run' sh -c "awk -v a='$(row "$box/once/visits.csv" 1 lesion_share_disrupted)' -v b='$share_of_run' 'BEGIN { exit !(b > 0 && a / b - 1 < 1e-9 && b / a - 1 < 1e-9) }'"
fast --out "$box/never" --set 'visits.returns=0 %' "$twelve"
check 'what never returns cannot be disrupted again' sh -c "awk -v a='$(row "$box/never/visits.csv" 12 lesion_share_disrupted)' 'BEGIN { exit !(a < 1e-3) }'"
fast --out "$box/all" --set 'visits.returns=100 %' --set visits.count=2 "$twelve"
check 'when all returns, the next visit is the first' sh -c "awk -v a='$(row "$box/all/visits.csv" 1 lesion_share_disrupted)' -v b='$(row "$box/all/visits.csv" 2 lesion_share_disrupted)' 'BEGIN { exit !(a > 0 && a / b - 1 < 1e-9 && b / a - 1 < 1e-9) }'"
check 'green light, six visits' exits 0 "$brevis" visits --no-figures --out "$box/green" --set visits.count=6 --set 'visits.returns=20 %' "$hand"
check '  papers are of another wavelength, said first' tells '^PAPERS   of 1064 nm, not of your wavelength (ns, by their abstracts). Of mottled'
check '  all six are shown, and none is said to be missing' sh -c "[ \$(grep -cE '^   [1-6]  ' '$box/stdout') = 6 ] && ! grep -q 'of 6 visits' '$box/stdout'"
check '  a few lines over a page, for no grave note is cut' [ "$(wc -l <"$box/stdout")" -lt 44 ]
check 'a lesion that takes the larger share' exits 0 "$brevis" visits --no-figures --out "$box/lesion" --set visits.count=2 --set 'visits.returns=20 %' --set 'light.pulse=1 ms' --set 'light.fluence=6 J/cm2' "$hand"
check '  is not told to lose less' sh -c "! grep -q 'NEIGHBOUR loses' '$box/stdout'"
check 'sixty visits, a page too' exits 0 "$brevis" visits --no-figures --out "$box/sixty" --set visits.count=60 --set 'visits.returns=5 %' scenarios/cheek_1064nm.yaml
check '  in less than a page' [ "$(wc -l <"$box/stdout")" -lt 40 ]
check '  twice the fluence on the axis of a gaussian beam is told' tells 'twice that'
check '  all in the table' [ "$(wc -l <"$box/sixty/visits.csv")" = 61 ]

check 'a pulse of a millisecond' exits 0 "$brevis" visits --no-figures --out "$box/long" --set 'light.pulse=1 ms' --set 'light.fluence=6 J/cm2' --set visits.count=5 --set 'visits.returns=20 %' "$hand"
check '  whole layers, told' tells 'the pulse outlasts the cooling of a grain'
check '  likewise' [ "$(wc -l <"$box/stdout")" -lt 44 ]
check '  not told of nanoseconds' sh -c "! grep -q 'outlasts the cooling' '$box/twelve/summary.txt'"

# ---- the same bytes ----
for threads in 1 2 8; do "$brevis" visits --quiet --threads $threads --out "$box/t$threads" --set visits.count=4 "$twelve"; done
check 'two threads, same bytes' diff -r "$box/t1" "$box/t2"
check 'eight threads, same bytes' diff -r "$box/t1" "$box/t8"

# ---- what is refused ----
check 'existing results are kept' exits 4 "$brevis" visits --no-figures --out "$box/once" "$once"
check 'or replaced when asked' exits 0 "$brevis" visits --no-figures --force --out "$box/once" "$once"
check 'no visits in the scenario' exits 3 "$brevis" visits --out "$box/none" "$hand"
check '  says what is missing, and proposes nothing' says 'visits is missing: a section that holds count (1 to 60) and returns (0 % to 100 %, .*brevis proposes neither'
check 'half of it' exits 3 "$brevis" visits --out "$box/none" --set visits.count=3 "$hand"
check '  says what is missing' says 'visits.returns is missing'
for bad in 2.5 0 61; do
    check "count $bad" exits 3 "$brevis" visits --out "$box/none" --set "visits.count=$bad" "$twelve"
    check '  says where' says "^--set visits.count:1:14: visits.count = $bad"
    check '  and what is allowed' says 'a whole number is wanted\|allowed 1 to 60'
done
for bad in '-5 %' '120 %'; do
    check "returns $bad" exits 3 "$brevis" visits --out "$box/none" --set "visits.returns=$bad" "$twelve"
    check '  says what is allowed' says 'visits.returns = .*allowed 0 % to 100 %'
done
check 'a share without its unit' exits 3 "$brevis" visits --out "$box/none" --set visits.returns=0.1 "$twelve"
check 'no scenario' exits 2 "$brevis" visits
check 'a plate laid on after the pulse' exits 0 "$brevis" visits --no-figures --force --out "$box/later" \
    --set surface.outside=plate --set surface.outside_temperature='60 degC' --set surface.from='1 s' --set surface.to='60 s' "$twelve"
check '  is told with its temperature and time' sh -c "tr -s ' \n' ' ' <'$box/stdout' | grep -q 'plate on the skin from 1 s to 60 s, at 60 C'"
check 'skin without pigment' exits 0 "$brevis" visits --force --out "$box/bare" --set skin.basal.melanosomes='0 %' \
    --set skin.epidermis.melanosomes='0 %' --set 'lesion={}' --set grain={} "$twelve"
check '  has none to disrupt, and none that is left' tells '^   1 .* no pigment *no pigment *none '
check '  no number in CSV' [ "$(row "$box/bare/visits.csv" 1 lesion_share_disrupted)" = '' ]
check 'two scenarios' exits 2 "$brevis" visits "$twelve" "$once"
check 'an option of another command' exits 2 "$brevis" visits --draws 64 "$twelve"
check 'no file' exits 4 "$brevis" visits --out "$box/none" "$box/nothing.yaml"
check 'nothing was written' absent "$box/none"
check 'help' exits 0 "$brevis" visits --help
check '  names its options' tells '--no-figures'
check 'from standard input' sh -c "cd '$box' && '$brevis' visits --no-figures --quiet - <'$PWD/$once' && [ -s out/stdin-visits/visits.csv ]"
counted_out
