#!/bin/sh
# The lessons about covering skin, slips, eyes, measured colour and later visits: hand-outs that keep the answer back, and
# answers whose numbers are those of closed forms, of tables laid down before, and of the commands on the same file.
# usage: BREVIS=build/brevis sh tests/cli/lessons_beside.sh
set -u
cd "$(dirname "$0")/../.." || exit 1
. tests/support/cli.sh

lessons='overlap passes_by_chance twice_the_rate tilt_or_spot_error display_and_delivery which_goggles
skin_type_or_colour later_visit thin_neck film_on_skin'
answer() { echo "$box/$1/lesson_answer.csv"; }
# y of the answer's figure: curve, and which row of it
y_of() { awk -F, -v curve="$2" -v row="$3" 'NR > 1 && $1 == curve && ++n == row { sub(/\r/, "", $3); print $3 }' "$(answer "$1")"; }
near() { awk -v a="$1" -v b="$2" -v by="$3" 'BEGIN { d = a - b; if (d < 0) d = -d; exit !(a != "" && b != "" && d <= by) }'; } # near A B APART
# number of summary.json: the first NAME behind a line that holds AFTER
json() { sed -n "/\"$2\"/,\$p" "$1/summary.json" | sed -n "s/.*\"$3\": {\"value\": \([-0-9.e]*\),.*/\1/p" | head -n 1; }

for lesson in $lessons; do
    check "$lesson" exits 0 "$brevis" lesson "$lesson" --answers --no-figures --out "$box/$lesson"
    check '  its answer on one screen' [ "$(wc -l <"$box/$lesson/answers.txt")" -lt 40 ]
    check '  first a sentence, then steps' sh -c "grep -q '^ANSWER' '$box/$lesson/answers.txt' && grep -q '^4 ' '$box/$lesson/answers.txt'"
    check '  what is left out, and a way to go on' sh -c "grep -q '^LEFT OUT' '$box/$lesson/answers.txt' && grep -q '^GO ON' '$box/$lesson/answers.txt'"
    check '  something to tick, three things to ask' sh -c "[ \"\$(grep -c '\[ \] ' '$box/$lesson/handout.txt')\" -ge 3 ] && [ \"\$(grep -c '  - \|^ASK' '$box/$lesson/handout.txt')\" -ge 3 ]"
    check '  no answer on the hand-out' sh -c "! grep -q '^ANSWER\|READING' '$box/$lesson/handout.txt'"
    check '  nothing in its figure' [ "$(wc -l <"$box/$lesson/lesson_guess.csv")" = 1 ]
    check '  cautions' sh -c "grep -q 'Not a medical device' '$box/$lesson/handout.txt' && grep -q 'Not a medical device' '$box/$lesson/answers.html'"
    check '  nothing is called safe or advised' sh -c "! grep -qiE 'safe|recommend|optimal' '$box/$lesson/handout.txt' '$box/$lesson/answers.txt'"
    check '  no number that is none' sh -c "! grep -qwE -e '-?nan|inf' '$box/$lesson/answers.txt'"
    check '  the page asks nobody' sh -c "! grep -qE 'https?://|<script|<form|<input' '$box/$lesson/handout.html' '$box/$lesson/answers.html'"
    "$brevis" lesson "$lesson" --answers --no-figures --quiet --threads 1 --out "$box/one"
    "$brevis" lesson "$lesson" --answers --no-figures --quiet --threads 2 --out "$box/two"
    check '  one and two threads, the same bytes' sh -c "diff -r '$box/one' '$box/two'"
    rm -rf "$box/one" "$box/two"
done
check 'the hand-out does not tell what is missed or doubled' sh -c "! grep -qE '9\.3|12\.6|0\.9069' '$box/overlap/handout.txt'"
check '  nor how much a spot makes' sh -c "! grep -qE '23|1\.5 %' '$box/tilt_or_spot_error/handout.txt'"
check '  nor a density' sh -c "! grep -qE '6\.18|5\.78|0\.4' '$box/which_goggles/handout.txt'"

# Shares of one pass, to the 1e-6 that rows.h claims: closed forms, and a table of 4 digits worked out before by a grid.
check 'touching spots miss 1 - pi/(2 sqrt 3)' near "$(y_of overlap 1 1)" 0.0931000 1e-6
check '10 %: missed' near "$(y_of overlap 1 2)" 0.0059 5e-5
check '10 %: hit twice' near "$(y_of overlap 3 2)" 0.1255 1e-4
check '30 %: hit three times and more' near "$(y_of overlap 4 4)" 0.1937 1e-4
check '20 %: nothing is missed' near "$(y_of overlap 1 3)" 0 1e-12
check 'square rows at 10 %: as brevis cover has it' sh -c "'$brevis' cover scenarios/lesson/overlap.yaml --set cover.overlap='10 %' --set cover.lattice=square --no-figures --quiet --out '$box/cover'"
check '  to the last bit' [ "$(json "$box/cover" one_pass missed)" = "$(y_of overlap 1 5)" ]

# Poisson: missed exp(-mean), spread 1/sqrt(mean); the mean of a pass is 0.9069/(1 - 0.05)^2.
mean=$(awk 'BEGIN { printf "%.12g", 3.14159265358979 / (2 * sqrt(3)) / (0.95 * 0.95) }')
check 'three passes by chance: missed' near "$(y_of passes_by_chance 1 2)" "$(awk -v m="$mean" 'BEGIN { printf "%.12g", exp(-3 * m) }')" 1e-9
check '  spread over mean' near "$(y_of passes_by_chance 2 2)" "$(awk -v m="$mean" 'BEGIN { printf "%.12g", 1 / sqrt(3 * m) }')" 1e-9
check 'four times the passes, half the spread' near "$(y_of passes_by_chance 2 4)" "$(y_of passes_by_chance 2 2 | awk '{ printf "%.12g", $1 / 2 }')" 1e-9

check 'brevis cover on the file of twice_the_rate' "$brevis" cover scenarios/lesson/twice_the_rate.yaml --no-figures --quiet --out "$box/rate"
check '  twice the rate, hit twice' [ "$(json "$box/rate" twice_the_rate hit_twice)" = "$(y_of twice_the_rate 2 3)" ]
check '  as it was, hit once' [ "$(json "$box/rate" one_pass hit_once)" = "$(y_of twice_the_rate 1 2)" ]
check '  the hand' grep -q 'the hand goes 27 mm/s' "$box/twice_the_rate/answers.txt"

# Slips: 1/(1 + s)^2 for a width, and the budget of errors worked out before, in per cent with one digit.
check 'a spot 10 % too small' near "$(y_of tilt_or_spot_error 1 4)" 1.2345679 1e-6
check 'a spot 10 % too large' near "$(y_of tilt_or_spot_error 1 5)" 0.8264463 1e-6
check 'tilt of 10 degrees: cos, and a little less enters' near "$(y_of tilt_or_spot_error 1 1)" 0.9848 1e-4
check 'tilt of 30 degrees' near "$(y_of tilt_or_spot_error 1 2)" 0.8649 1e-4
check '10 mm too near' near "$(y_of tilt_or_spot_error 1 6)" 1.44 5e-3
check '10 mm too far' near "$(y_of tilt_or_spot_error 1 7)" 0.735 5e-4
check 'together' grep -q 'make 22.4 %, with 10 % of width *28.3\|make 22.4 %, with 10 % of width$' "$box/tilt_or_spot_error/answers.txt"

# What arrives: the run at 1 + 22.36 % of the fluence disrupts what the lesson says.
high=$(awk 'BEGIN { printf "%.15g J/cm2", 0.5 * (1 + sqrt(0.2 * 0.2 + 4 * 0.05 * 0.05)) }')
check 'a run at the high end' "$brevis" run scenarios/lesson/display_and_delivery.yaml --set "light.fluence=$high" --no-figures --quiet --out "$box/high"
check '  the share it disrupts' near "$(json "$box/high" lesion share_disrupted_by_number)" "$(y_of display_and_delivery 1 3)" 1e-9
check 'low and high of the fluence' grep -q '0.388 to 0.612' "$box/display_and_delivery/answers.txt"

# Density: log10 of exposure over limit, 5e-2 and 2e-2 J/m2; the editions are log10 2.5 apart wherever both are above 0.
check 'density in the spot, 2006' grep -q "density of $(awk 'BEGIN { printf "%.2f", log(3e4 / 5e-2) / log(10) }') to bring" "$box/which_goggles/answers.txt"
check 'editions apart' near "$(y_of which_goggles 2 5)" "$(y_of which_goggles 1 5 | awk '{ printf "%.12g", $1 + log(2.5) / log(10) }')" 1e-9
# 45 % of 3 J/cm2 x pi (3 mm)^2 comes back, told with two digits: a hundredth of a density
check 'from half a metre' near "$(y_of which_goggles 1 5)" "$(awk 'BEGIN { printf "%.12g", log(0.45 * 3e4 * 9e-6 / 0.25 / 5e-2) / log(10) }')" 0.006
check 'twice as far, a quarter of the light' near "$(y_of which_goggles 1 5)" "$(y_of which_goggles 1 10 | awk '{ printf "%.12g", $1 + 2 * log(2) / log(10) }')" 1e-9
check 'the skin limit is no aim' grep -q 'no aim for' "$box/which_goggles/answers.txt"
check 'eyewear is not ours to choose' sh -c "tr -d '\n' <'$box/which_goggles/answers.txt' | tr -s ' ' | grep -q \"laser protection adviser's decision\""

# ITA = arctan((L - 50)/b): 48.6 and 14.7 degrees
check 'ITA first and last' sh -c "tr '\n' ' ' <'$box/skin_type_or_colour/answers.txt' | tr -s ' ' | grep -q 'ITA went from 49 to 15 degrees'"
check 'pigment is a range' awk -F, 'NR > 1 { sub(/\r/, "", $5); if (!($4 < $3 && $3 < $5)) bad = 1 } END { exit bad || NR != 4 }' "$(answer skin_type_or_colour)"
check 'the same as brevis check says' sh -c "'$brevis' check --set skin.colour.L=55 --set skin.colour.b=19 scenarios/lesson/skin_type_or_colour.yaml | grep -q \"\$(awk -F, 'NR == 4 { printf \"%.3g %%\", 100 * \$3 }' '$(answer skin_type_or_colour)')\""

check 'brevis visits on the file of later_visit' "$brevis" visits scenarios/lesson/later_visit.yaml --no-figures --quiet --out "$box/visits"
check '  the first visit' [ "$(awk -F, 'NR == 2 { print $4 }' "$box/visits/visits.csv")" = "$(y_of later_visit 1 1)" ]
check '  the last' [ "$(awk -F, 'NR == 6 { print $4 }' "$box/visits/visits.csv")" = "$(y_of later_visit 1 5)" ]
check '  pigment left at the end' [ "$(awk -F, 'NR == 6 { print $10 }' "$box/visits/visits.csv")" = "$(y_of later_visit 2 5)" ]
check '  it did less' near "$(y_of later_visit 1 5)" 0 "$(y_of later_visit 1 1)"
check '  no interval is given' sh -c "tr '\n' ' ' <'$box/later_visit/answers.txt' | tr -s ' ' | grep -q 'heat gives no interval'"

# Dermis of 49 men and 69 women by ultrasound, both groups joined: 0.98 to 0.99 mm at the neck.
check 'the dermis of the neck as it was measured' sh -c "tr '\n' ' ' <'$box/thin_neck/answers.txt' | tr -s ' ' | grep -q 'as thick as that of the cheek, 986 um against 982 um'"
"$brevis" compare scenarios/lesson/film_on_skin.yaml --no-figures --quiet --out "$box/films"
check 'light under the films as brevis compare has it' [ "$(y_of film_on_skin 1 3)" = "$(awk -F, 'NR == 1 { for (i = 1; i <= NF; i++) if ($i == "lesion_light_grain_J_m2") column = i }
    $2 ~ /black/ { print $column }' "$box/films/compare.csv")" ]

counted_out
