#!/bin/sh
# What gcc's analyzer found against tests/style/analyzed.txt, both ways.
# usage: sh tests/style/analyzed.sh FOLDER
set -u
cd "$(dirname "$0")/../.." || exit 1
folder=$1
faults=$(find "$folder" -name '*.txt' | LC_ALL=C sort | while read -r text; do
    file=${text#"$folder"/}
    # A place is told several times when several ways lead there; each is counted once.
    grep -E 'warning: .*\[-Wanalyzer-' "$text" | sort -u | sed "s|.*\[-Wanalyzer-\([a-z-]*\)\].*|${file%.txt}.c \1|"
done | sort | uniq -c | awk '
    FNR == NR { if (!/^#/) known[$1 " " $2] = $3; next }
    { key = $2 " " $3; seen[key] = 1
      if (known[key] != $1) print $2 ": " $1 " of -Wanalyzer-" $3 " where " known[key] + 0 " are known" }
    END { for (key in known) if (!seen[key]) print key ": known, but no longer found" }' tests/style/analyzed.txt -)
[ -z "$faults" ] || { echo "$faults"; exit 1; }
