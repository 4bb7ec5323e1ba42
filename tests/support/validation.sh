#!/bin/sh
# Writes the table of what the checks compare, from what they recorded. Only those run that have no record of theirs which
# is newer than the program and than all the data it may read.
# usage: tests/support/validation.sh BUILD TARGET
set -eu
build=$1
target=$2
record=$build/tests/record.txt
thresholds=$build/tests/thresholds.csv
mkdir -p "$build/tests/records"
export BREVIS="$build/brevis"

programs() {
    printf '%s\n' "$build"/tests/verification/test_* "$build"/tests/validation/test_* | grep -v '\.[od]$'
    for name in heat_parts radial vessel pressure remains body; do echo "$build/tests/unit/test_$name"; done
}
name_of() { echo "$build/tests/records/$(echo "$1" | tr / _)"; }
stale() { # stale PROGRAM: nothing is kept of it, or something changed since
    [ ! -f "$(name_of "$1")" ] || find "$1" tests/verification tests/validation scenarios docs/sources.md -newer "$(name_of "$1")" | grep -q .
}

programs | while IFS= read -r program; do ! stale "$program" || echo "$program"; done >"$build/tests/stale.txt"
xargs -r -P 2 -n 1 sh -c 'sh tests/support/record.sh "$0" "$1" >/dev/null 2>&1 ||
    echo "validation: $1 has failing checks" >&2' "$build" <"$build/tests/stale.txt"

echo 'row,paper,group,published_J_cm2,low_J_cm2,middle_J_cm2,high_J_cm2,ratio,what,source,seen,judged,note' >"$thresholds"
: >"$record"
programs | while IFS= read -r program; do
    kept=$(name_of "$program")
    if [ -f "$kept" ]; then cat "$kept" >>"$record"; else cat "$kept.part" >>"$record"; fi
    [ ! -f "$kept.csv" ] || cat "$kept.csv" >>"$thresholds"
done

{
    cat <<'TXT'
# What was checked against the world outside

This page is written by `make validation` from the checks themselves; `make check` fails when it is stale.
Every row is a comparison that `make test` repeats: what was computed, where the expected value comes from and how that source was seen, what was expected and found, the tolerance and its reason.
*exact* is a closed form, *computed* an independent calculation made for the reference tables, *seen* a value read in the source, *memory* a remembered one.
The sources are listed in [sources.md](sources.md).

TXT
    awk -F'|' '{ n[$7]++; d = $4 - $3; if (d < 0) d = -d; if (d > $5 * 1.001) missed[$7]++ }
        END { printf "Mathematics, numerics, tables: %d comparisons, %d outside their tolerance.\n", n["held"], missed["held"]
              printf "People, animals, grains: %d comparisons, %d outside.\n\n", n["shown"], missed["shown"] }' "$record"
    echo 'Rows that compare the model with people or animals may miss; they fail no test and are marked **outside**.'
    echo
    cat tests/validation/thresholds.md
    echo
    echo '| row | case | predicted low | middle | high | published | middle / published | judged | source | remark |'
    echo '| --- | --- | ---: | ---: | ---: | ---: | ---: | --- | --- | --- |'
    # fields of the file hold no commas but in the last, and quotes only around the second and third
    awk -F, 'NR > 1 { gsub(/"/, "", $2); note = $13; for (i = 14; i <= NF; i++) note = note "," $i; gsub(/"/, "", note)
        kind = $9 == "sign" ? "sign: " : $9 == "grain" ? "grain: " : $9 == "first" ? "first grains: " : ""
        none = $5 == "" ? "not predicted" : $5
        printf "| %s | %s%s | %s | %s | %s | %s | %s | %s | %s (%s) | %s |\n", $1, kind, $2, none, $6, $7, $4, $8, $12, $10, $11, note }' "$thresholds"
    echo
    echo '## Every comparison'
    echo
    echo '| check | source | expected | found | tolerance | reason of the tolerance |'
    echo '| --- | --- | ---: | ---: | ---: | --- |'
    awk -F'|' '{ d = $4 - $3; if (d < 0) d = -d; mark = d > $5 * 1.001 ? " **outside**" : ""
        printf "| %s | %s | %s | %s | %s%s | %s |\n", $1, $2, $3, $4, $5, mark, $6 }' "$record"
} >"$target"
