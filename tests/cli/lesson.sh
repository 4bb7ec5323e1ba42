#!/bin/sh
# What a user of `brevis lesson` sees: the list, a hand-out that does not tell the answer, the worked answer, pages to print.
# usage: BREVIS=build/brevis sh tests/cli/lesson.sh
set -u
cd "$(dirname "$0")/../.." || exit 1
. tests/support/cli.sh

# ---- the list ----

check 'the list' exits 0 "$brevis" lesson
lessons=$(sed -n 's/^  \([a-z_]*\) .*/\1/p' "$box/stdout")
check 'at least ten lessons' [ "$(echo "$lessons" | wc -l)" -ge 10 ]
check 'each with a question' [ "$(grep -c '^  [a-z_]* .*?$' "$box/stdout")" = "$(echo "$lessons" | wc -l)" ]
lessons=$(echo "$lessons" | grep -vx numbers) # a sheet of problems: tests/cli/numbers.sh
check 'on one screen' [ "$(wc -l <"$box/stdout")" -lt 60 ]
check 'no line is too long' sh -c "! grep -q '.\{109\}' '$box/stdout'"
check 'caution below the list' tells 'Not a medical device'
check 'every lesson has its scenario in the folder of lessons' sh -c "for n in $(echo $lessons); do ls scenarios/lesson/\$n.yaml >/dev/null || exit 1; done"

# ---- every lesson ----

# Numbers of results carry brackets, low to high; a hand-out has none, nor a file of them.
keeps_the_answer() { ! grep -qE '\([0-9<.-]+ to [0-9.]+\)' "$1/handout.txt" "$1/handout.html" && ! ls "$1" | grep -qvE '^(handout|lesson_guess)\.'; }
asks_nobody() { ! grep -qE 'https?:|<script|<form|<input|<link|url\(' "$@" && ! grep -E 'src=' "$@" | grep -qv 'src="data:image/svg+xml;base64,'; }
nobody_is_named() { ! grep -qiE 'name:|patient|date of birth' "$@"; }

for lesson in $lessons; do
    ask=$box/ask/$lesson
    told=$box/told/$lesson
    check "$lesson: the question" exits 0 "$brevis" lesson "$lesson" --no-figures --out "$ask"
    check "$lesson: under 40 lines" [ "$(wc -l <"$box/stdout")" -lt 40 ]
    check "$lesson: asks, and leaves room" sh -c "grep -q '^QUESTION' '$box/stdout' && grep -q '^GUESS *\[ \]' '$box/stdout' && grep -q '____' '$box/stdout'"
    check "$lesson: names the file to change" tells "scenarios/"
    check "$lesson: the hand-out is what was said" sh -c "grep -v '^FILES' '$box/stdout' | cmp -s - '$ask/handout.txt'"
    check "$lesson: no answer in it" keeps_the_answer "$ask"
    check "$lesson: version, scenario, caution" sh -c "grep -q 'scenario [0-9a-f]\{16\}' '$ask/handout.html' && grep -q 'Not a medical device' '$ask/handout.html'"
    check "$lesson: the answer" exits 0 "$brevis" lesson "$lesson" --answers --no-figures --threads 2 --out "$told"
    check "$lesson: under 40 lines" [ "$(wc -l <"$box/stdout")" -lt 40 ]
    check "$lesson: no line is too long" sh -c "! tail -n +2 '$box/stdout' | grep -v '^FILES' | grep -q '.\{109\}'"
    check "$lesson: answered, with what is left out and how to go on" sh -c "grep -q '^ANSWER' '$told/answers.txt' && grep -q '^3 ' '$told/answers.txt' && grep -q '^LEFT OUT' '$told/answers.txt' && grep -q '^GO ON' '$told/answers.txt'"
    check "$lesson: nothing empty or undefined in it" sh -c "! grep -qE '\bnan\b|\binf\b|\(null\)|%[a-z]' '$told/answers.txt'"
    check "$lesson: its hand-out is the same" sh -c "cmp -s '$ask/handout.txt' '$told/handout.txt' && cmp -s '$ask/handout.html' '$told/handout.html'"
    check "$lesson: pages ask nobody and name nobody" asks_nobody "$told/handout.html" "$told/answers.html"
    check "$lesson: no name is asked for" nobody_is_named "$told/handout.html" "$told/answers.html"
    check "$lesson: nothing is called safe or advised" sh -c "! grep -qiE '\bsafe|recommend|optimal' '$told'/*.txt '$told'/*.html"
    check "$lesson: sources have entries" sh -c "grep -ohE '\[[a-z]+-[a-z0-9-]+' '$told/answers.txt' | tr -d '[' | while read -r key; do grep -qx \"### \$key\" docs/sources.md || { echo \"\$key\"; exit 1; }; done"
    "$brevis" lesson "$lesson" --answers --no-figures --quiet --threads 1 --out "$box/one/$lesson"
    check "$lesson: one thread, same bytes" diff -r "$told" "$box/one/$lesson"
done

# ---- figures ----

if command -v gnuplot >/dev/null; then
    check 'figures of a question' exits 0 "$brevis" lesson why_nanoseconds --out "$box/drawn"
    check '  are empty axes' [ "$(ls "$box/drawn" | tr '\n' ' ')" = 'handout.html handout.txt lesson_guess.csv lesson_guess.png lesson_guess.svg ' ]
    check '  without a number' [ "$(wc -l <"$box/drawn/lesson_guess.csv")" = 1 ]
    check '  inside the page' grep -q 'src="data:image/svg+xml;base64,' "$box/drawn/handout.html"
    sed -n 's/.*base64,\([^"]*\)".*/\1/p' "$box/drawn/handout.html" | base64 -d >"$box/inside.svg"
    check '  to the last byte' cmp "$box/inside.svg" "$box/drawn/lesson_guess.svg"
    check 'figures of an answer' exits 0 "$brevis" lesson why_nanoseconds --answers --force --out "$box/drawn"
    check '  with the curves' rows "$box/drawn/lesson_answer.csv" "$(($(wc -l <"$box/drawn/lesson_answer.csv") - 1))"
    check '  lines as they should end' crlf "$box/drawn/lesson_answer.csv" "$box/drawn/lesson_guess.csv"
    check '  one in each page' [ "$(grep -c 'src="data:' "$box/drawn/handout.html")$(grep -c 'src="data:' "$box/drawn/answers.html")" = 11 ]
    check '  and pages that ask nobody' asks_nobody "$box/drawn/handout.html" "$box/drawn/answers.html"
fi

# ---- what is refused ----

check 'no such lesson' exits 2 "$brevis" lesson why_nanosecond --out "$box/none"
check '  with the nearest one' says 'there is no lesson why_nanosecond; did you mean why_nanoseconds?'
check 'nothing near' exits 2 "$brevis" lesson zzzzzzzzzzzz --out "$box/none"
check '  where the list is' says 'brevis lesson. lists them'
check 'one at a time' exits 2 "$brevis" lesson tan warm_dermis --out "$box/none"
check 'a lesson is not changed by --set' exits 2 "$brevis" lesson tan --set light.pulse=1ns --out "$box/none"
check 'existing sheets are kept' exits 4 "$brevis" lesson tan --no-figures --out "$box/ask/tan"
check 'or replaced when asked' exits 0 "$brevis" lesson tan --no-figures --force --out "$box/ask/tan"
mkdir -p "$box/data/plots" "$box/data/scenarios/lesson"
check 'a scenario that is not there' exits 4 env BREVIS_DATA="$box/data" "$brevis" lesson tan --out "$box/none"
check '  is named' says 'scenarios/lesson/tan.yaml'
sed 's/wavelength: 694 nm/wavelength: 69 nm/' scenarios/lesson/tan.yaml >"$box/data/scenarios/lesson/tan.yaml"
check 'a scenario that was spoilt' exits 3 env BREVIS_DATA="$box/data" "$brevis" lesson tan --out "$box/none"
check '  with its place' says 'tan.yaml:[0-9]*:[0-9]*: light.wavelength'
check 'nothing was written' absent "$box/none"

# ---- a scenario of one's own in its place: the words follow ----

sed 's/pulse: 7 ns/pulse: 7 us/' scenarios/lesson/why_nanoseconds.yaml >"$box/data/scenarios/lesson/why_nanoseconds.yaml"
check 'another pulse' exits 0 env BREVIS_DATA="$box/data" "$brevis" lesson why_nanoseconds --answers --no-figures --out "$box/own"
check '  another answer' tells 'Not for this grain: it cools faster than the pulse lasts'

counted_out
