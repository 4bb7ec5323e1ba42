#!/bin/sh
# What a user of `brevis cover` sees: hits and dose of spots on an area, the hand, heat; files, words, exit codes, bytes.
# usage: BREVIS=build/brevis sh tests/cli/cover.sh
set -u
cd "$(dirname "$0")/../.." || exit 1
. tests/support/cli.sh

cheek=scenarios/cover_cheek_1064nm.yaml
cover() { "$brevis" cover --no-figures --force --out "$box/told" "$@"; }

# ---- what is written ----
check 'a cheek, with figures' exits 0 "$brevis" cover --threads 2 --out "$box/two" "$cheek"
check 'the files' [ "$(ls -A "$box/two" | tr '\n' ' ')" = 'dose.csv dose.png dose.svg histogram.csv histogram.png histogram.svg summary.json summary.txt ' ]
check 'the figures are named' tells 'OPEN .*: dose.png, histogram.png'
check 'figures are drawn' [ -s "$box/two/dose.png" ]
check 'both of them' [ -s "$box/two/histogram.svg" ]
check 'caution in the corner of a figure' grep -q 'not a medical device' "$box/two/dose.svg"
check 'stdout is summary.txt and the files' sh -c "head -n -2 '$box/stdout' | cmp -s - '$box/two/summary.txt'"
check 'under 40 lines' [ "$(wc -l <"$box/stdout")" -lt 40 ]
check 'fits the page' sh -c "! tail -n +2 '$box/stdout' | grep -q '.\{109\}'"
for text in summary.txt summary.json; do
    check "$text: caution" grep -q 'Not a medical device' "$box/two/$text"
    check "$text: version and hash" sh -c "grep -q '0.1.0' '$box/two/$text' && grep -qE '[0-9a-f]{16}' '$box/two/$text'"
    check "$text: which overlap is right is not said" grep -q 'which overlap is right' "$box/two/$text"
    check "$text: nothing is called safe or advised" sh -c "! grep -qiwE 'safe|recommended|optimal|should' '$box/two/$text'"
done

# ---- numbers: 6 mm, 10 %, 100 cm2, 5 a second, two passes ----
check 'spacing and hand' tells '5.4 mm from pulse to pulse, rows 4.68 mm apart; 27 mm/s at 5 pulses'
check 'pulses and time, with the rim' tells '^PULSES   396 a pass inside (3.96/cm2), about 445 with the rim of a square: 890 in all, 178 s, 377 J$'
check '  in the file too' sh -c "grep -q '\"pulses_with_the_rim\": {\"value\": 890,' '$box/two/summary.json' && grep -q '\"time_with_the_rim\": {\"value\": 178,' '$box/two/summary.json'"
check 'the sum of fluence' tells 'summed mean 3.36 J/cm2'
check 'levels told apart' tells '5, 50, 95 % of skin get at most *1, 1, 2  *2, 2, 3 '
check 'how many passes each column has' tells '^ *2 passes,  *2 passes,  *2 passes,$'
check 'no columns touch' sh -c "! sed -n '/^HITS/,/^NOTES/p' '$box/stdout' | grep -q '[0-9)][0-9.]* ([^)]*)[0-9]'"
check 'mean hits: a pass, both, both on the same places, twice the rate' tells 'HITS *of one place, mean *1.12 *2.24 *2.24 *4.48'
check 'missed' tells 'skin missed, % *0.595 *<0.01 *0.595 *0$'
check 'hit once' tells 'skin hit once, % *86.8 *1.03 *0 *0$'
check 'what a faster rate does' tells 'no time saved; 2.7 mm apart, 55 % overlap in the row, dose doubled'
check 'heat of one pulse and of two and three hits' tells 'HEAT .*1 pulse *2 hits at 5 /s *3 hits at 10 /s'
check 'with brackets' tells '0.3 mm deep, highest *lesion *[0-9.]* ([0-9.]*\.\.[0-9.]*)  *[0-9.]* ('
check 'of one row, and no bound for the area' tells 'heat: the hits of ONE row, .* add to that'
check 'the next row' tells '1.5 mm deep, next row 3.7 s later *lesion'
check 'what is left of one spot when the next comes' tells '1.5 mm deep, before the next pulse *lesion'

# ---- CSV ----
check 'a map of 108 by 108 places' rows "$box/two/dose.csv" 11664
check 'lines end as RFC 4180 has it' crlf "$box/two/dose.csv" "$box/two/histogram.csv"
check 'columns of the map' sh -c "head -n 1 '$box/two/dose.csv' | tr -d '\r' | grep -qx 'x_m,y_m,dose_1,hits'"
check 'columns of the histogram' sh -c "head -n 1 '$box/two/histogram.csv' | tr -d '\r' | grep -qx 'dose_from_1,dose_to_1,share_one_pass,share_all_passes,share_same_places,share_twice_the_rate'"
whole() { # whole FILE: the shares of every column sum to the skin
    tr -d '\r' <"$1" | awk -F, 'NR > 1 { for (i = 3; i <= 6; i++) s[i] += $i }
        END { for (i = 3; i <= 6; i++) if (s[i] < 0.9985 || s[i] > 1.0001) exit 1 }'
}
check 'shares sum to the skin' whole "$box/two/histogram.csv"
check 'flat spots: dose is hits' awk -F, 'NR > 1 && $3 + 0 != $4 + 0 { bad = 1 } END { exit bad }' "$box/two/dose.csv"
check 'the drawn square is a part of it: mean 2.24 within 5 %' awk -F, 'NR > 1 { s += $3 } END { m = s / (NR - 1); exit !(m > 2.13 && m < 2.35) }' "$box/two/dose.csv"

# ---- the same bytes ----
for threads in 1 8; do "$brevis" cover --quiet --threads $threads --out "$box/t$threads" "$cheek"; done
check 'eight threads, same bytes, figures too' diff -r "$box/t1" "$box/t8"
check 'two threads likewise' diff -r "$box/t1" "$box/two"
"$brevis" cover --no-figures --json --out "$box/json" "$cheek" >"$box/printed.json"
check '--json prints summary.json' cmp -s "$box/printed.json" "$box/two/summary.json"
hash_of() { sed -n 's/.*"scenario_hash": "\(.*\)".*/\1/p' "$1/summary.json"; }
cover --quiet --set 'cover.area=0.01 m2' --set 'light.spot=0.006 m' "$cheek"
check 'other units, same hash' [ "$(hash_of "$box/told")" = "$(hash_of "$box/two")" ]
check 'other units, same bytes' cmp -s "$box/told/dose.csv" "$box/two/dose.csv"
cover --quiet --set 'cover.overlap=20 %' "$cheek"
check 'another overlap, another hash' [ "$(hash_of "$box/told")" != "$(hash_of "$box/two")" ]

# ---- other ways to lie ----
check 'gaussian spots' exits 0 cover --set light.profile=gaussian "$cheek"
check '  dose on the axis is twice energy / area' tells 'one pulse on its axis, 3 J/cm2'
check '  have no edge' tells 'no edge: missed is outside 1/e2'
check '  mean dose is half the mean hits' tells 'DOSE *of one place, in pulses, mean *0.56 *1.12 *1.12 *2.24'
check '  shares sum to the skin' whole "$box/told/histogram.csv"
check 'at random' exits 0 cover --set cover.lattice=random "$cheek"
check '  missed by the Poisson distribution: exp(-1.1196), exp(-2.239)' tells 'skin missed, % *32.6 *10.7 *32.6 *1.14'
check '  CV is 1/sqrt(mean)' tells 'coefficient of variation *0.945 *0.668 *0.945 *0.473'
check '  no highest, no hand, no heat' sh -c "grep -q 'highest *- *-' '$box/stdout' && grep -q 'no speed of the hand' '$box/stdout' && grep -q 'HEAT *not computed: at random' '$box/stdout'"
check 'gaussian spots at random' exits 0 cover --set light.profile=gaussian --set cover.lattice=random "$cheek"
check '  vary as flat ones do' tells 'coefficient of variation *0.945 *0.668 *0.945 *0.473'
check '  shares sum to the skin' whole "$box/told/histogram.csv"
check 'touching squares' exits 0 cover --set cover.lattice=square --set 'cover.overlap=0 %' --set cover.passes=1 "$cheek"
check '  miss 21.5 %' tells 'skin missed, % *21.5 '
check '  in two columns' tells '^ *one pass *twice the rate$'
check 'all but whole overlap, twenty passes' exits 0 cover --set 'cover.overlap=95 %' --set cover.passes=20 --set light.method=layered "$cheek"
check '  mean 7255 = 20 x 0.9069/0.05^2' tells 'of one place, mean *363 *7255 *7255 *14510'
check '  and 20 or 40 hits along a row' tells '20 hits at 5 /s *40 hits at 10 /s'
check 'ten a second' exits 0 cover --set 'cover.rate=10 /s' "$cheek"
check '  twice that is more than a scenario may have' tells 'not computed at 20 pulses a second: beyond the 10 /s that light.rate may have$'
check 'a train of its own' exits 0 cover --set light.count=3 --set 'light.rate=2 /s' scenarios/cover_cheek_1064nm.yaml
check '  is left aside, and that is said' tells "scenario's own 3 pulses on one place are left aside"
check '  in under 40 lines' [ "$(wc -l <"$box/stdout")" -lt 40 ]
check 'gel to the end' exits 0 cover --set surface.outside=gel "$cheek"
check '  has its heat' tells '0.3 mm deep, highest *lesion'

# ---- many passes, long numbers, all notes ----
check 'three gaussian passes at six a second, and a train of its own' exits 0 cover --set light.profile=gaussian --set cover.passes=3 --set 'cover.rate=6 /s' --set light.count=3 --set 'light.rate=2 /s' "$cheek"
check '  in under 41 lines' [ "$(wc -l <"$box/stdout")" -lt 41 ]
check '  fits the page' sh -c "! tail -n +2 '$box/stdout' | grep -q '.\{109\}'"
check '  rows that tell something' tells 'skin hit 3 times, % *0 *65.9 *86.8 *<0.01$'
summed() { # of missed and hit, every column is the skin, to the three digits of four or five numbers
    awk '/skin (missed|hit)/ { sub(/.*% */, ""); gsub("<0.01", "0"); for (i = 1; i <= NF; i++) s[i] += $i; n++ }
        END { for (i = 1; i <= 4; i++) if (s[i] < 99.8 || s[i] > 100.2) exit 1; exit n > 5 || n < 4 }' "$1"
}
check '  which sum to the skin' summed "$box/stdout"
for many in 4 7 20; do
    check "$many passes" exits 0 cover --set cover.passes=$many --set light.method=layered "$cheek"
    check '  rows sum to the skin, and are five at most' summed "$box/stdout"
    check '  no column is all of one row only' sh -c "[ \$(grep -c 'skin hit.* 100\$' '$box/stdout') -lt 2 ]"
done
check 'many at random' exits 0 cover --set cover.passes=6 --set cover.lattice=random "$cheek"
check '  rows sum to the skin' summed "$box/stdout"

# ---- what the figures show ----
drawn() { "$brevis" cover --force --quiet --out "$box/drawn" "$@" "$cheek"; }
drawn --set light.profile=gaussian --set cover.passes=3
check 'gaussian map: which passes, and what black would be' grep -q 'this map: 3 passes anywhere, one drawing of many; black would be no dose' "$box/drawn/dose.svg"
check '  its scale begins at no dose' sh -c "grep -c '<text><tspan font-family=\"DejaVu Sans\" > 0</tspan></text>' '$box/drawn/dose.svg' | grep -qx 3"
check 'map of flat spots: which passes' grep -q 'this map: 2 passes anywhere, one drawing of many' "$box/two/dose.svg"
drawn --set cover.passes=1
check 'one pass: no other drawing' grep -q 'this map: one pass, a square from inside the area' "$box/drawn/dose.svg"

# ---- refusals ----
check 'existing results are kept' exits 4 "$brevis" cover --out "$box/two" "$cheek"
check 'it says so' says force
check 'no section cover' exits 3 "$brevis" cover --out "$box/none" "$hand"
check 'what is needed, and that nothing is proposed' says 'cover is missing: a section that holds overlap .* brevis proposes none'
check 'whole overlap' exits 3 "$brevis" cover --out "$box/none" --set 'cover.overlap=100 %' "$cheek"
check 'what is allowed, and which option' says '--set cover.overlap.*allowed 0 % to 95 %'
check 'negative overlap' exits 3 "$brevis" cover --out "$box/none" --set 'cover.overlap=-5 %' "$cheek"
check 'no area' exits 3 "$brevis" cover --out "$box/none" --set 'cover.area=0 cm2' "$cheek"
check 'half a pass' exits 3 "$brevis" cover --out "$box/none" --set cover.passes=2.5 "$cheek"
check 'a file with faults' exits 3 "$brevis" cover --out "$box/none" scenarios/wrong/cover_out_of_range.yaml
check 'file, line and column' says 'cover_out_of_range.yaml:10:12: cover.overlap = 100 %'
check 'missing file' exits 4 "$brevis" cover --out "$box/none" "$box/missing.yaml"
check 'no file named' exits 2 "$brevis" cover
check 'two files named' exits 2 "$brevis" cover "$cheek" "$cheek"
check 'unknown option' exits 2 "$brevis" cover --draws 64 --out "$box/none" "$cheek"
check 'nothing was written' absent "$box/none"
check 'help' exits 0 "$brevis" cover --help
check '  names the options' tells '--no-figures'

counted_out
