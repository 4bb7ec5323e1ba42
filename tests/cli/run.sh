#!/bin/sh
# What a user of `brevis run` and `brevis tissue` sees: files, exit codes, the same bytes, golden numbers.
# usage: BREVIS=build/brevis sh tests/cli/run.sh [--update]
set -u
cd "$(dirname "$0")/../.." || exit 1
. tests/support/cli.sh

fast() { "$brevis" run --no-figures --quiet "$@"; }

# ---- every bundled scenario runs, and its summary stays under 46 lines ----
for file in scenarios/*.yaml scenarios/lesson/*.yaml scenarios/reference/*.yaml scenarios/compare/*.yaml; do
    check "$file runs" exits 0 "$brevis" run --no-figures --out "$box/any" --force "$file"
    check "$file: summary under 46 lines" [ "$(wc -l <"$box/stdout")" -lt 46 ]
    check "$file: caution in the summary" grep -q 'Not a medical device' "$box/any/summary.txt"
    check "$file: caution in summary.json" grep -q 'Not a medical device' "$box/any/summary.json"
    check "$file: beam and method named" grep -q '"light_method": "' "$box/any/summary.json"
    check "$file: tissue" exits 0 "$brevis" tissue "$file"
    check "$file: tissue as CSV" exits 0 "$brevis" tissue --csv "$file"
done

# ---- the same bytes ----
fast --out "$box/one" --threads 1 "$hand"
fast --out "$box/two" --threads 2 "$hand"
fast --out "$box/eight" --threads 8 "$hand"
check 'two threads, same bytes' diff -r "$box/one" "$box/two"
check 'eight threads, same bytes' diff -r "$box/one" "$box/eight"
fast --out "$box/units" --set light.pulse='0.007 us' --set light.fluence='600 mJ/cm2' --set light.wavelength='0.532 um' "$hand"
check 'other units, same bytes' cmp -s "$box/one/temperature.csv" "$box/units/temperature.csv"
hash_of() { sed -n 's/.*"scenario_hash": "\(.*\)".*/\1/p' "$1/summary.json"; }
check 'other units, same hash' [ "$(hash_of "$box/one")" = "$(hash_of "$box/units")" ]
check 'the title says what was changed' grep -q 'changed: light.pulse=0.007 us, light.fl' "$box/units/summary.txt"
fast --out "$box/other" --set light.pulse='8 ns' "$hand"
check 'another pulse, another hash' [ "$(hash_of "$box/one")" != "$(hash_of "$box/other")" ]
(cd "$box" && "$brevis" run --no-figures --quiet - <"$hand")
check 'standard input goes to out/stdin' cmp -s "$box/one/temperature.csv" "$box/out/stdin/temperature.csv"
"$brevis" run --no-figures --json --out "$box/json" "$hand" >"$box/printed.json"
check '--json prints summary.json' cmp -s "$box/printed.json" "$box/one/summary.json"

# ---- the three kernels for light ----
fast --out "$box/layered" --set light.method=layered "$hand"
check 'layered says that its beam is endless' grep -q 'beam: endless' "$box/layered/summary.txt"
check 'an endless beam has no map' absent "$box/layered/map.csv"
check 'a spot has a map' [ -s "$box/one/map.csv" ]
walk() { fast --set light.method=sampled --set light.photons=30000 "$@" "$hand"; }
walk --threads 1 --out "$box/walk1"
walk --threads 2 --out "$box/walk2"
walk --threads 8 --out "$box/walk8"
check 'a walk on two threads, same bytes' diff -r "$box/walk1" "$box/walk2"
check 'a walk on eight threads, same bytes' diff -r "$box/walk1" "$box/walk8"
check 'a walk says how many photons' grep -q 'light sampled: [1-9]' "$box/walk1/summary.txt"
check 'a walk writes its errors' awk -F, 'NR == 3 { exit !($6 > 0) }' "$box/walk1/depth.csv"
walk --set light.seed=2 --out "$box/walk_other"
check 'another seed, other numbers' sh -c "! cmp -s '$box/walk1/depth.csv' '$box/walk_other/depth.csv'"
"$brevis" run --no-figures --quiet --set light.method=sampled --set light.photons=1e11 --set light.error='0.01 %' \
    --out "$box/stopped" "$hand" 2>/dev/null &
pid=$!
sleep 2
kill -INT $pid
wait $pid
check 'an interrupted walk ends with 130' [ $? = 130 ]
check 'it says where it stopped' grep -q 'stopped at [1-9]' "$box/stopped/summary.json"
check 'both sites were walked' sh -c "! grep -q ' 0 beside it\| 0 photons' '$box/stopped/summary.txt'"
check 'its directory is whole' [ -s "$box/stopped/summary.txt" ]

# ---- two thresholds are a ratio, and no room to go anywhere ----
check 'a ratio of thresholds' grep -q "^  *threshold ratio, neighbour's / lesion's: " "$box/one/summary.txt"
check '  has that key' grep -q '"threshold_ratio": {' "$box/one/summary.json"
check '  and is called nothing else' sh -c "! grep -qi 'room to work\|room_to_work\|room below\|room: ' '$box/one/summary.txt' '$box/one/summary.json' '$box/one/report.html'"

# ---- a grain may be followed in another layer than the neighbour's: rows name both, and each number is of its own ----
"$brevis" run --no-figures --out "$box/layers" --set lesion.grain.layer=dermis --set 'lesion.dermis.melanosomes=2 %' \
    scenarios/forearm_light_532nm.yaml >"$box/stdout" 2>"$box/stderr"
check 'two layers: light' tells '^LIGHT    reflected, dermis / basal, elsewhere, through, %'
check '  grain' tells '^GRAIN    one pigment grain in dermis / basal, diameter '
check '  temperature' tells '^LAYERS   highest C, top of dermis / mean of basal '
check '  and that they do not compare' tells 'DIFFERENT layers; their figures do not compare'
check '  as it stands in the table of the page' grep -qF '<th scope="row">top of dermis / mean of basal</th>' "$box/layers/report.html"
light_at() { awk -v n="$1" '/"fluence_ratio_at_grain"/ && ++k == n { sub(/.*"value": /, ""); printf "%.3g", $1 }' "$box/layers/summary.json"; }
check "  light at the neighbour's grain is that of its layer" tells "light at the grain, at 1 mm, over incident  *$(light_at 1), [0-9.]*  *$(light_at 2), "

# ---- a tan that has no room ----
"$brevis" run --no-figures --out "$box/tanned" --set 'lesion.basal.melanosomes=60 %' scenarios/cheek_1064nm.yaml >"$box/stdout" 2>"$box/stderr"
check 'a tan is cut, and the row says so' tells 'tanned x 1\.[0-9]*, cut at 60 %: '
check '  and a note' tells 'the tan of x 1.5 is cut at 60 % melanosomes, to x 1\.'
check '  which calls it no answer' sh -c "! grep -q 'does NOT lower' '$box/stdout'"
check '  as in summary.json' grep -q '"tan_cut_at_60_percent": true' "$box/tanned/summary.json"
check '  a whole one is none' grep -q '"tan_cut_at_60_percent": false' "$box/one/summary.json"

# ---- summary.json says of the pressure which pulse it is of ----
check 'the pulse with the most' grep -q '"meaning": "estimate in the grain by the pulse with the most, ' "$box/one/summary.json"

# ---- names of layers stand whole ----
fast --out "$box/upper" --set grain.layer=epidermis scenarios/cheek_1064nm.yaml
check 'a row names the epidermis' grep -q '^LIGHT    reflected, in epidermis, elsewhere, through, % ' "$box/upper/summary.txt"

# ---- refusals: the right code, a line, nothing written ----
check 'existing directory without --force' exits 4 "$brevis" run --out "$box/one" "$hand"
check 'it says so' says 'force'
check 'a directory that cannot be made' exits 4 "$brevis" run --out "$hand/below" "$hand"
check 'missing file' exits 4 "$brevis" run --out "$box/none" "$box/missing.yaml"
check 'folder as file' exits 4 "$brevis" run --out "$box/none" "$box"
check 'scenario with faults' exits 3 "$brevis" run --out "$box/none" scenarios/wrong/many_slips.yaml
check 'nothing was written' absent "$box/none"
check 'no file named' exits 2 "$brevis" run
check 'two files named' exits 2 "$brevis" run "$hand" "$hand"
check 'unknown option' exits 2 "$brevis" run --fast "$hand"
check 'option without its value' exits 2 "$brevis" run --out
check 'threads of zero' exits 2 "$brevis" run --threads 0 "$hand"
check 'unknown command' exits 2 "$brevis" rum "$hand"
check 'tissue, unknown option' exits 2 "$brevis" tissue --json "$hand"
check 'stdout is full' sh -c "'$brevis' tissue '$hand' >/dev/full 2>/dev/null; [ \$? = 4 ]"
check 'no leftovers beside results' sh -c "! ls -A '$box' | grep -q part"

# ---- what else lies in the way ----
check 'help of every command' sh -c "for c in run check explain tissue compare ladder sweep window spread; do '$brevis' \$c --help >/dev/null || exit 1; done"
check 'explain, every section' exits 0 "$brevis" explain
for word in terms choices spread ladder title light skin grain surface below watch lesion spot light.method skin.basal.blood grain.darkness \
    lesion.grain.diameter lesion.basal.melanosomes skin.thickness watch.until below.index; do
    check "explain $word" exits 0 "$brevis" explain "$word"
    check "explain $word says something" [ -s "$box/stdout" ]
done
check 'a key shows its source' sh -c "'$brevis' explain skin.blood | grep -q '^source'"
check 'the page of parameters is the one in docs' sh -c "'$brevis' explain --page | cmp -s - docs/reference/scenario.md"
check 'explain, a word of another book' exits 2 "$brevis" explain light.dose
check 'it says what that is here' says 'did you mean light.fluence'
check 'explain, a slip of the pen' exits 2 "$brevis" explain light.sopt
check 'it offers the nearest' says 'did you mean light.spot'
check 'explain, nothing near' exits 2 "$brevis" explain zzzzzzzz
check 'it says where to look' says 'lists them all'
check 'version' sh -c "'$brevis' --version | grep -q '^brevis [0-9]'"

# ---- what is told of trains and of what lies on the skin ----
plate=$PWD/scenarios/lesson/08_cold_plate.yaml
seen() { "$brevis" run --no-figures --force --out "$box/told" "$@" >"$box/stdout" 2>"$box/stderr"; }
check 'a plate before the pulses only' seen "$plate" --set 'surface.to=-1 s'
check '  leaves their light as in air' tells 'air outside'
check '  and is told all the same' tells 'plate on the skin from -2 s to -1 s'
check 'deep cold' seen "$plate" --set 'surface.outside_temperature=-60 degC'
check '  freezes, which is not modelled' tells 'below 0 C skin freezes'
check '  and is no room for more light' tells 'no room for more light'
check 'a train of long pulses' seen "$hand" --set 'light.pulse=50 ms' --set light.shape=square --set light.count=20 \
    --set 'light.rate=10 Hz' --set 'watch.until=60 s'
check '  is told to be lasting warmth' tells 'a layer is above 45 C for'
check '  and all its light' tells '12 J/cm2 in all'
check 'another medium all the time' seen "$hand" --set surface.index=1.5
check '  is named by its index' tells 'index 1.5 outside'
check 'a train that --set takes back' seen "$plate" --set light.count=1 --set surface.outside=air
check '  is none' sh -c "! grep -q 'cm2 in all' '$box/stdout'"

# ---- figures ----
if command -v gnuplot >/dev/null 2>&1; then
    "$brevis" run --quiet --out "$box/drawn" "$hand" 2>/dev/null
    "$brevis" run --quiet --out "$box/again" "$hand" 2>/dev/null
    for name in temperature.svg temperature.png grain.svg grain.png depth.svg depth.png spots.svg spots.png map.svg map.png \
        beside.svg beside.png; do
        check "$name is drawn" [ -s "$box/drawn/$name" ]
        check "$name, same bytes again" cmp -s "$box/drawn/$name" "$box/again/$name"
    done
    check 'one pulse is no train' absent "$box/drawn/train.png"
    "$brevis" run --out "$box/train" --set light.count=2 --set light.rate='3 Hz' "$hand" >"$box/stdout" 2>/dev/null
    "$brevis" run --quiet --out "$box/train_again" --set light.count=2 --set light.rate='3 Hz' "$hand" 2>/dev/null
    for name in train.svg train.png; do
        check "$name is drawn" [ -s "$box/train/$name" ]
        check "$name, same bytes again" cmp -s "$box/train/$name" "$box/train_again/$name"
    done
    check 'the run says which figures there are' grep -q '^OPEN .*temperature.png, train.png, grain.png' "$box/stdout"
    check 'version and caution in the figure' grep -q 'not a medical device' "$box/drawn/temperature.svg"
fi
if command -v gnuplot >/dev/null 2>&1; then
    "$brevis" run --quiet --set light.method=layered --set lesion.basal.melanosomes='0 %' --set lesion.epidermis.melanosomes='0 %' --out "$box/pale" "$hand" 2>"$box/stderr"
    check 'the curve of a skin without pigment is of an imagined grain' grep -q 'lesion, one imagined grain' "$box/pale/disrupted.svg"
    check 'the other is not' grep -q '>neighbour<' "$box/pale/disrupted.svg"
fi
"$brevis" run --no-figures --set light.method=layered --set watch.sign_column='1 um' --out "$box/column" "$hand" >"$box/stdout"
check 'a column of a sign beyond the usual ones widens its range' grep -q 'sign 0.1-1 um' "$box/column/summary.json"
"$brevis" run --no-figures --set light.profile=gaussian --out "$box/axis" "$hand" >"$box/stdout"
check 'of a gaussian beam light is over that on its axis' tells 'light at the grain, at 1 mm, over incident on axis '
mkdir "$box/empty"
check 'without gnuplot: a warning, and the numbers' exits 0 env PATH="$box/empty" "$brevis" run --quiet --out "$box/bare" "$hand"
check 'the warning' says 'gnuplot'
check 'the numbers' [ -s "$box/bare/temperature.csv" ]

# ---- golden text, numbers within 0.1 % (other compilers agree far better) ----
for lesson in scenarios/lesson/[0-9]*.yaml; do # those of the tutorial; the others are held by verification/test_lessons.c
    golden=tests/cli/golden/$(basename "$lesson" .yaml).txt
    fast --out "$box/golden" --force "$lesson"
    [ "${1:-}" = --update ] && cp "$box/golden/summary.txt" "$golden"
    check "$golden" awk -v tolerance=1e-3 -f tests/support/same.awk "$golden" "$box/golden/summary.txt"
done

counted_out
