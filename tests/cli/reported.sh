#!/bin/sh
# What a user of `brevis reported` sees: published ranges around a scenario, told apart, and that they are no advice.
# usage: BREVIS=build/brevis sh tests/cli/reported.sh
set -u
cd "$(dirname "$0")/../.." || exit 1
. tests/support/cli.sh

cheek=scenarios/cheek_1064nm.yaml
check 'ranges' exits 0 "$brevis" reported --out "$box/o" "$cheek"
check 'published, not advice' tells '^PAPERS *PUBLISHED RANGES, NOT ADVICE'
check 'where the spot lies' tells '^SPOT  *6 mm: of 5 rows of treated people that tell a spot here it lies within 3, below 2 and above 0'
check 'where the fluence lies' tells '^FLUENCE .*1.77 J/cm2: of 5 rows of treated people that tell a fluence here it lies within 2'
check 'none of them of what the sun made' tells 'Rows of sun-induced pigment: 0'
check 'a paper, its people, its ranges, how it was seen' tells '^Kauvar 2012 *27 ns *\* mixed melasma *5-6 *1.6-2 *abstract$'
check 'settings that were not seen' tells '^Chan 2010 .* not seen not seen abstract$'
check 'what went wrong' tells 'mottled'
check 'what is missing' tells '^MISSING *No trial of nanosecond pulses in poikiloderma was found'
check 'caution' tells 'Not a medical device'
check 'fewer than 40 lines' [ "$(wc -l <"$box/stdout")" -lt 40 ]
check 'fits the page' sh -c "! tail -n +2 '$box/stdout' | grep -q '.\{109\}'"
check 'nothing safe or advised' sh -c "! grep -qiE 'safe|recommend|optimal' '$box/stdout' '$box/o/summary.txt' '$box/o/reported.csv'"
check 'other wavelengths in the file only' sh -c "grep -q 'OTHER WAVELENGTHS' '$box/o/summary.txt' && ! grep -q 'OTHER WAVELENGTHS' '$box/stdout'"
check '  other diseases told apart' grep -q 'OTHER DISEASE' "$box/o/summary.txt"
check '  animals told apart' grep -q 'ANIMAL' "$box/o/summary.txt"
check '  complications with their source' grep -q '3 of 22 \[wattanakrai-2010, abstract\]' "$box/o/summary.txt"
check 'figure' [ -s "$box/o/reported.png" ]
check '  as lines too' [ -s "$box/o/reported.svg" ]
check '  that says what it is' grep -q 'PUBLISHED RANGES, NOT ADVICE' "$box/o/reported.svg"
check '  names each paper it draws' [ "$(grep -cE '(Kono 2006|Wattanakrai 2010|J Cosmet Dermatol 2016|Kauvar 2012|Korea|J Cosmet Dermatol 2018|Negishi 2018): [0-9]+ nm; .*n = [0-9]' "$box/o/reported.svg")" = 8 ]
check '  and the papers it cannot draw' grep -q 'settings not seen:.*Negishi 2013;' "$box/o/reported.svg"
cat >"$box/columns.awk" <<'AWK'
# Fields of a line in which commas may stand in quotes.
function parts(line, field, i, c, quoted, n) {
    n = 1
    field[1] = ""
    for (i = 1; i <= length(line); i++) {
        c = substr(line, i, 1)
        if (c == "\"") quoted = !quoted
        else if (c == "," && !quoted) field[++n] = ""
        else if (c != "\r") field[n] = field[n] c
    }
    return n
}
NR == 1 { width = parts($0, name); for (i = 1; i <= width; i++) at[name[i]] = i; next }
parts($0, value) != width { exit failed = 1 }
{ kind[value[at["kind"]]] = 1 }
value[at["drawn"]] == 1 { drawn++; if (value[at["spot_low_m"]] == "" || value[at["fluence_low_J_m2"]] == "") exit failed = 1 }
END { exit failed || drawn != 8 || !kind["treated"] || !kind["threshold"] || !kind["animal"] }
AWK
check 'columns that count' awk -f "$box/columns.awk" "$box/o/reported.csv"
check 'two rows around the fluence in the JSON' awk '/"fluence": \{/ { here = 1 } here && /"within": \{"value": 2,/ { found = 1 } END { exit !found }' "$box/o/summary.json"
for threads in 1 2 8; do "$brevis" reported --quiet --threads $threads --out "$box/t$threads" "$cheek"; done
check 'two threads, same bytes' diff -r "$box/t1" "$box/t2"
check 'eight threads, same bytes' diff -r "$box/t1" "$box/t8"
check 'existing results are kept' exits 4 "$brevis" reported --out "$box/o" "$cheek"
check 'milliseconds beside nanoseconds' exits 0 "$brevis" reported --no-figures --out "$box/ms" --set 'light.pulse=1 ms' scenarios/hand_532nm.yaml
check '  are told apart' tells '^532 nm, SHORTER OR LONGER PULSES$'
check '  and do not count' tells 'no row of treated people at this wavelength and class of pulse tells a fluence'
check 'a wavelength nobody published here' exits 0 "$brevis" reported --out "$box/600" --set 'light.wavelength=600 nm' scenarios/hand_532nm.yaml
check '  is told' tells '600 nm, pulses of 1 ns to 1 us: none in this program'
check '  what is missing stands there too' tells '^MISSING *No trial of nanosecond'
check 'the page' exits 0 "$brevis" reported --page
check '  is the one in docs' cmp -s "$box/stdout" docs/published_ranges.md
check 'a page of a scenario' exits 2 "$brevis" reported --page "$cheek"
check 'nothing at all' exits 2 "$brevis" reported
check 'a scenario that is wrong' exits 3 "$brevis" reported --out "$box/none" scenarios/wrong/bare_number.yaml
check 'no such scenario' exits 4 "$brevis" reported --out "$box/none" "$box/no.yaml"
check 'nothing was written' absent "$box/none"

counted_out
