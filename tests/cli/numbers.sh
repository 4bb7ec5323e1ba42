#!/bin/sh
# What a user of `brevis lesson numbers` sees: a sheet without its key, the key beside it when asked for, the same sheet for
# the same seed; and a few keys once more by awk, from the numbers in the questions.
# usage: BREVIS=build/brevis sh tests/cli/numbers.sh
set -u
cd "$(dirname "$0")/../.." || exit 1
. tests/support/cli.sh

# of a CSV with words in quotes: the field of a row whose problem and quantity are given
field() { # field FILE PROBLEM QUANTITY COLUMN (3 more columns follow the quantity than stand before it)
    awk -v no="$2" -v what="$3" -v column="$4" 'BEGIN { FS = "\"" }
        { split($1, head, ","); if (head[1] == no && $4 == what) { split($5, rest, ","); print rest[column] } }' "$1"
}
near() { awk -v a="$1" -v b="$2" -v by="$3" 'BEGIN { d = a - b; if (d < 0) d = -d; exit !(a != "" && d <= by * b) }'; } # near A B SHARE

check 'a sheet' exits 0 "$brevis" lesson numbers --out "$box/sheet"
check 'what it is about' tells '21 to 25  eyes and room'
check 'one screen' [ "$(wc -l <"$box/stdout")" -lt 40 ]
check 'caution on the terminal' tells 'Not a medical device'
check 'two files, none with the key' [ "$(ls -A "$box/sheet" | tr '\n' ' ')" = 'handout.html handout.txt ' ]
check '27 questions' [ "$(grep -c '^[0-9][0-9]* ' "$box/sheet/handout.txt")" = 27 ]
check 'and as many on the page, with two lines each' [ "$(grep -c '<section>' "$box/sheet/handout.html")" = 27 ] 
check '  54 lines to write on' [ "$(grep -o 'class="write"' "$box/sheet/handout.html" | wc -l)" = 54 ]
check 'caution in both' sh -c "grep -q 'Not a medical device' '$box/sheet/handout.txt' && grep -q 'Not a medical device' '$box/sheet/handout.html'"
check 'the page asks nobody' sh -c "! grep -qE 'https?:|src=|<script|<form|<input' '$box/sheet/handout.html'"
for file in handout.txt handout.html; do
    check "no key in $file" sh -c "! grep -qE '1\.41[0-9]|6\.36|127\.3|284\.9|4\.80[0-9]|0\.866|9\.31|13\.4|29\.3|225|6\.398|35\.28|22\.36|2\.21|printed:|KEY' '$box/sheet/$file'"
done

check 'with answers' exits 0 "$brevis" lesson numbers --answers --out "$box/key"
check 'keys beside what is printed' tells '^  1  *fluence  *1\.415 J/cm2  *1\.42'
check 'a slip in print is called one' tells '^  3 .*3\.537/cm2  *3\.6 .*a slip'
check 'one screen of it' [ "$(wc -l <"$box/stdout")" -lt 40 ]
check 'sheets, key and table' [ "$(ls -A "$box/key" | tr '\n' ' ')" = 'answers.html answers.txt handout.html handout.txt numbers.csv ' ]
check 'the hand-out is the same' cmp "$box/sheet/handout.html" "$box/key/handout.html"
check 'all widths fit' sh -c "! cat '$box/key/answers.txt' '$box/key/handout.txt' | tail -n +2 | grep -q '.\{110\}'"
check 'caution beside the key' sh -c "grep -q 'Not a medical device' '$box/key/answers.txt' && grep -q 'Not a medical device' '$box/key/answers.html'"
check 'nothing is called safe or advised' sh -c "! grep -qiE '\bsafe|recommend|optimal' '$box/key/answers.txt' '$box/key/answers.html'"
check 'lines of the table end as they should' crlf "$box/key/numbers.csv"
check 'its columns' [ "$(head -n 1 "$box/key/numbers.csv" | tr -d '\r')" = problem,subject,quantity,unit,key,published,by_hand,source,seen,ratio,key_si,unit_si ]
check 'every row has them' awk -F'"' 'NR > 1 && (split($1, a, ",") != 2 || split($5, b, ",") != 10) { bad = 1 } END { exit bad }' "$box/key/numbers.csv"

# after the quantity: 1 nothing, 2 unit, 3 key, 4 published, 5 by hand, 6 source, 7 seen, 8 ratio, 9 key in SI
pi=3.14159265358979
key=$box/key/numbers.csv
check 'problem 1 by awk' near "$(field "$key" 1 fluence 3)" "$(awk "BEGIN { printf \"%.12g\", 0.4 / ($pi * 0.36 / 4) }")" 1e-9
check '  in SI' near "$(field "$key" 1 fluence 9)" "$(awk "BEGIN { printf \"%.12g\", 0.4 / ($pi * 36e-6 / 4) }")" 1e-9
check '  over what is printed' near "$(field "$key" 1 fluence 8)" "$(awk "BEGIN { printf \"%.12g\", 0.4 / ($pi * 0.36 / 4) / 1.42 }")" 1e-9
check 'problem 9 by awk' near "$(field "$key" 9 'relaxation time' 3)" "$(awk 'BEGIN { printf "%.12g", 0.1 * 0.1 / (16 * 1.3e-7 * 1e6) * 1e3 }')" 1e-9
check 'problem 17 by awk' near "$(field "$key" 17 'speed of the hand' 3)" 27 1e-9
check 'problem 16: beyond one hit, of a hit and of all' near "$(field "$key" 16 'beyond one hit, as a share of all spent, hexagonal' 3)" "$(awk "BEGIN { m = $pi / (1.5 * sqrt(3)); printf \"%.12g\", 100 * (1 - 1 / m) }")" 1e-7
# erf(1/sqrt(5.2)) by its series; n = 5.2 is 100 ms over (100 um)^2/(4 x 1.3e-7 m2/s)
check 'problem 27: what is left of the layer by awk' near "$(field "$key" 27 'left at the surface of the layer' 3)" "$(awk "BEGIN { x = 1 / sqrt(5.2); t = x; for (k = 0; k < 30; k++) { s += t / (2 * k + 1); t *= -x * x / (k + 1) } printf \"%.12g\", 200 * s / sqrt($pi) }")" 1e-9
check '  what the list says stands there, and what is wrong with it' sh -c "tr -s ' \n' ' ' <'$box/key/answers.txt' | grep -q 'little at 100 ms\". The time is right, the \"little\" is not'"
check '  and never that little is left' sh -c "! grep -q 'little is left' '$box/key/answers.txt'"
check 'problem 22: a reading is called one' sh -c "tr -s ' \n' ' ' <'$box/key/answers.txt' | grep -q 'stricter reading'"
check 'problem 21 by awk' near "$(field "$key" 21 'density, edition of 2006' 3)" "$(awk 'BEGIN { printf "%.12g", log(12.5 / 5e-6) / log(10) }')" 1e-9

for seed in 7 7 8 0; do
    n=$((${n:-0} + 1))
    check "seed $seed" exits 0 "$brevis" lesson numbers --answers --seed $seed --out "$box/seed$n"
done
check 'the same seed, the same bytes' diff -r "$box/seed1" "$box/seed2"
check 'another seed, another sheet' sh -c "! cmp -s '$box/seed1/handout.txt' '$box/seed3/handout.txt'"
check 'seed 0 is none of them' sh -c "! cmp -s '$box/seed4/handout.txt' '$box/sheet/handout.txt' && ! cmp -s '$box/seed4/handout.txt' '$box/seed1/handout.txt'"
check 'the sheet tells its seed' grep -q 'numbers of seed 7, sheet [0-9a-f]\{16\}' "$box/seed1/handout.txt"
check 'nothing is printed for drawn numbers' awk -F'"' 'NR > 1 { split($5, a, ","); if (a[4] a[5] a[6] a[8] != "") bad = 1 } END { exit bad }' "$box/seed1/numbers.csv"
# "A pulse of 0.35 J comes through a flat round spot 6 mm in diameter": the key follows the question
told=$(sed -n 's/^1  *A pulse of \([0-9.]*\) J comes through a flat round spot \([0-9.]*\) mm.*/\1 \2/p' "$box/seed1/handout.txt")
check 'a drawn key follows its question' near "$(field "$box/seed1/numbers.csv" 1 fluence 3)" "$(echo "$told" | awk -v pi=$pi '{ printf "%.12g", $1 / (pi * $2 * $2 / 400) }')" 1e-9
told=$(sed -n 's/^26  *The meter is good to \([0-9]*\) %, the width of the spot to \([0-9]*\) %.*/\1 \2/p' "$box/seed1/handout.txt")
check '  and another' near "$(field "$box/seed1/numbers.csv" 26 'error of the fluence' 3)" "$(echo "$told" | awk '{ printf "%.12g", sqrt($1 * $1 + 4 * $2 * $2) }')" 1e-9

for threads in 1 2 8; do "$brevis" lesson numbers --answers --quiet --seed 7 --threads $threads --out "$box/t$threads"; done
check 'two and eight threads, the same bytes' sh -c "diff -r '$box/t1' '$box/t2' && diff -r '$box/t1' '$box/t8' && diff -r '$box/t1' '$box/seed1'"
check 'quiet' [ -z "$("$brevis" lesson numbers --quiet --out "$box/quiet")" ]
check 'it stands in the list' sh -c "'$brevis' lesson | grep -q '^  numbers  *27 number problems'"
check 'existing sheets are kept' exits 4 "$brevis" lesson numbers --out "$box/sheet"
check 'or replaced when asked' exits 0 "$brevis" lesson numbers --force --out "$box/sheet"
(cd "$box" && "$brevis" lesson numbers --quiet --seed 12)
check 'each seed has its folder' [ -f "$box/out/numbers_12-lesson/handout.txt" ]

for seed in -1 1000000 seven '' 1.5; do
    check "a seed of '$seed'" exits 2 "$brevis" lesson numbers --seed "$seed" --out "$box/none"
    check '  and what is allowed' says 'seed takes 0 to 999999'
done
check 'a seed for another lesson' exits 2 "$brevis" lesson why_nanoseconds --seed 7 --out "$box/none"
check '  has no meaning there' says 'seed belongs to lesson numbers, not to why_nanoseconds'
check 'a misspelled name' exits 2 "$brevis" lesson numbrs --out "$box/none"
check '  is told' says 'did you mean numbers?'
check 'nothing was written' absent "$box/none"

counted_out
