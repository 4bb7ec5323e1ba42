#!/bin/sh
# What a user of `brevis spread` sees: files, exit codes, refusals, the same bytes.
# usage: BREVIS=build/brevis sh tests/cli/spread.sh
set -u
cd "$(dirname "$0")/../.." || exit 1
. tests/support/cli.sh

# The fewest draws there may be, in the light that is solved fastest.
few() { "$brevis" spread --draws 32 --no-figures --set light.method=layered "$@"; }
plain() { sed 's/"[^"]*"/quoted/g' "$1"; } # no commas inside quotes

# ---- the files ----
check 'a spread' exits 0 few --out "$box/one" --threads 1 "$hand"
check 'the words under 50 lines' [ "$(wc -l <"$box/stdout")" -lt 50 ]
check 'they are summary.txt and the name of the files' sh -c "head -n -1 '$box/stdout' | cmp -s - '$box/one/summary.txt'"
check 'no line is wider than 120' awk 'NR > 1 && length > 120 { bad = 1 } END { exit bad }' "$box/stdout"
for word in 'DRAWN    32 times, 31 inputs' 'threshold of a sign, J/cm2' 'threshold ratio' 'grain darkness' 'fit misses' \
    'tilted by 30 degrees' 'output 20 % too high' 'from memory or choices' 'Not a medical device'; do
    check "told: $word" tells "$word"
done
for file in spread.csv inputs.csv draws.csv slips.csv ranking.csv summary.json summary.txt; do
    check "$file is there" [ -s "$box/one/$file" ]
done
for file in spread inputs draws slips ranking; do
    check "$file.csv: every row ends as RFC 4180 has it" awk -v RS='\r\n' 'index($0, "\n") { bad = 1 } END { exit bad }' \
        "$box/one/$file.csv"
    check "$file.csv: as many fields in every row" sh -c "sed 's/\"[^\"]*\"/quoted/g' '$box/one/$file.csv' |
        awk -F, 'NR == 1 { first = NF } NF != first { bad = 1 } END { exit bad }'"
done
check 'a draw a row' [ "$(wc -l <"$box/one/draws.csv")" = 33 ]
check 'an input a row' [ "$(wc -l <"$box/one/inputs.csv")" = 32 ]
check 'a slip a row' [ "$(wc -l <"$box/one/slips.csv")" = 17 ]
check 'summary.json has caution, hash and indices' sh -c "grep -q 'Not a medical device' '$box/one/summary.json' &&
    grep -q '\"scenario_hash\": \"[0-9a-f]\{16\}\"' '$box/one/summary.json' && grep -q '\"total\": {\"value\": 0' '$box/one/summary.json'"
column() { # column NAME FILE
    awk -F, -v name="$1" 'NR == 1 { for (i = 1; i <= NF; i++) if ($i == name) k = i } NR > 1 { print $k }' "$2"
}
check 'the first draw is the middle of every input' [ "$(column u1 "$box/one/draws.csv" | head -n 1)" = 0.5 ]
plain "$box/one/spread.csv" >"$box/plain.csv"
check '5, 50 and 95 % are in order' awk -F, 'NR > 1 && $4 != "-inf" && ($4 + 0 > $5 + 0 || $5 + 0 > $6 + 0) { bad = 1 }
    END { exit bad || NR < 20 }' "$box/plain.csv"
"$brevis" run --no-figures --quiet --set light.method=layered --out "$box/run" "$hand"
asked=$(awk -F, '/^threshold of a sign,J.m2,lesion/ { print substr($7, 1, 6) }' "$box/one/spread.csv")
check 'what was asked for is what run says' grep -q "\"value\": $asked" "$box/run/summary.json"

# ---- the same bytes ----
(cd "$box" && few --quiet --threads 2 - <"$hand")
few --quiet --out "$box/eight" --threads 8 "$hand"
check 'two threads, and standard input into out/stdin-spread: same bytes' diff -r "$box/one" "$box/out/stdin-spread"
check 'eight threads, same bytes' diff -r "$box/one" "$box/eight"

# ---- what is opened ----
few --out "$box/opened" --set spread.light.fluence='0.5 J/cm2 to 0.8 J/cm2' --set spread.grain.diameter='0.3 um to 0.7 um' \
    "$hand" >"$box/stdout"
check 'opened values are counted' tells '32 inputs at once, 2 of them opened'
check 'and lead the list' [ "$(sed -n '2s/,.*//p' "$box/opened/inputs.csv")" = fluence ]
check 'they say so' sh -c "sed -n 2p '$box/opened/inputs.csv' | grep -q ',5000,6000,8000,evenly,-,scenario,'"
check 'the scenario keeps its hash' sh -c "grep -h scenario_hash '$box/opened/summary.json' '$box/one/summary.json' | uniq | wc -l | grep -qx 1"
cat >"$box/opened.yaml" <<'END'
light: {wavelength: 532 nm, pulse: 7 ns, spot: 4 mm, fluence: 0.6 J/cm2}
skin: light
spread:
  skin.basal.melanosomes: 4 % to 19 %
  lesion.grain.darkness: 0.5 to 2
END
check 'check takes the section' exits 0 "$brevis" check "$box/opened.yaml"
check 'run lets it be' exits 0 "$brevis" run --no-figures --out "$box/let" "$box/opened.yaml"
check 'spread takes it' exits 0 "$brevis" spread --draws 32 --out "$box/taken" "$box/opened.yaml"
check 'a layer by name' grep -q '^melanosomes of basal (neighbour),' "$box/taken/inputs.csv"
check 'a lesion of its own' grep -q '^grain darkness (lesion),' "$box/taken/inputs.csv"

# ---- figures ----
if command -v gnuplot >/dev/null 2>&1; then
    check 'figures are named' tells 'OPEN     .*spread.png'
    check 'spread.svg says who made it' grep -q 'not for choosing settings for a person' "$box/taken/spread.svg"
    check 'spread.svg names inputs' grep -q 'grain darkness' "$box/taken/spread.svg"
    check 'spread.png is there' [ -s "$box/taken/spread.png" ]
fi

check 'a plate laid on after the pulse' exits 0 few --force --out "$box/later" --set surface.outside=plate \
    --set surface.outside_temperature='60 degC' --set surface.from='1 s' --set surface.to='5 s' "$hand"
check '  is told with its temperature and time' tells '^ *plate on the skin from 1 s to 5 s, at 60 C'
check 'skin without pigment' exits 0 "$brevis" spread --draws 32 --force --out "$box/bare" --set skin.basal.melanosomes='0 %' \
    --set skin.epidermis.melanosomes='0 %' --set 'lesion={}' "$hand"
check '  has no share of grains' sh -c "grep -q '^ *grains disrupted, % *- *-' '$box/stdout' && grep -q 'as asked .* no pigment' '$box/stdout'"

# ---- refusals: the right code, the place, nothing written ----
refuses() { # refuses LINE WORDS: a third line of the section
    { cat "$box/opened.yaml" && printf '  %s\n' "$1"; } >"$box/wrong.yaml"
    exits 3 few --out "$box/none" "$box/wrong.yaml" && says "wrong.yaml:6:[0-9]*: spread: .*$2" &&
        "$brevis" check "$box/wrong.yaml" 2>&1 | grep -q "$2" && absent "$box/none"
}
check 'no key' refuses 'grain.darknes: 0.5 to 2' 'did you mean darkness'
check 'no layer' refuses 'skin.basel.blood: 1 % to 2 %' 'it has epidermis, basal, dermis'
check 'no path' refuses 'darkness: 0.5 to 2' 'is not a path to a key'
check 'reversed' refuses 'light.fluence: 0.7 J/cm2 to 0.5 J/cm2' 'the first must be the lower one'
check 'no unit' refuses 'light.spot: 3 to 5 mm' 'the unit is missing'
check 'outside the range of its key' refuses 'light.spot: 0.1 mm to 5 mm' 'allowed 0.5 mm to 30 mm'
check 'beside the own value' refuses 'grain.diameter: 0.4 um to 0.5 um' "own value, 0.3 um"
check 'a word' refuses 'watch.damage: refit to henriques' 'is no uncertain number'
check 'one number' refuses 'light.spot: 4 mm' 'low and high are wanted'
check 'nothing' refuses 'light.spot:' 'low and high are wanted'
check 'what says nothing' refuses 'grain.absorption: 100 /cm to 200 /cm' 'no value in this scenario'
check 'twice' refuses 'spread.skin.basal.melanosomes: 4 % to 19 %' 'is not a path'
sed 's/^spread:.*/spread: 5 mm/; /^  /d' "$box/opened.yaml" >"$box/wrong.yaml"
check 'no section' exits 3 "$brevis" check "$box/wrong.yaml"
check 'it says what is wanted' says 'spread = 5 mm; what is uncertain is wanted below it'
check 'fluence and energy' exits 3 "$brevis" check --set spread.light.fluence='0.5 J/cm2 to 0.8 J/cm2' \
    --set spread.light.energy='50 mJ to 90 mJ' "$hand"
check 'a walk of photons' exits 3 few --out "$box/none" --set light.method=sampled "$hand"
check 'it says what is allowed' says 'allowed for brevis spread are spot and layered'
check 'no file named' exits 2 few
check 'too few draws' exits 2 "$brevis" spread --draws 31 "$hand"
check 'it says how many' says '32 to 4096'
check 'an option of another command' exits 2 few --json "$hand"
check 'existing directory without --force' exits 4 few --out "$box/one" "$hand"
check 'missing file' exits 4 few --out "$box/none" "$box/missing.yaml"
check 'nothing was written' absent "$box/none"
check 'no leftovers beside results' sh -c "! ls -A '$box' | grep -q part"

counted_out
