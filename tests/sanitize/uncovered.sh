#!/bin/sh
# Shares of the lines of model/ and cli/ that a run of the tests reached, with the least that is allowed, and the page of
# the lines that were not, with a reason where tests/sanitize/reasons.txt has one.
# usage: sh tests/sanitize/uncovered.sh FOLDER   (of a build with --coverage whose tests have run)
set -u
cd "$(dirname "$0")/../.." || exit 1
folder=$1
command -v gcovr >/dev/null 2>&1 || { echo 'gcovr is not here'; exit 1; }
code=0
# Runs that end within a call leave gcov calls that returned less often than never; their lines are counted all the same.
for part in model:95 cli:90; do
    gcovr --gcov-ignore-parse-errors --root . --filter "${part%:*}/" --fail-under-line "${part#*:}" --csv "$folder/${part%:*}.csv" \
        --txt "$folder/${part%:*}.txt" "$folder" || { code=1; echo "${part%:*}/ is below ${part#*:} %"; }
    echo "${part%:*}/: $(sed -n 's/^TOTAL *//p' "$folder/${part%:*}.txt") (lines, reached, share)"
done
page=$folder/uncovered.md
{
    echo '# Lines that the tests do not reach'
    echo
    echo 'Written by `make coverage`; reasons stand in tests/sanitize/reasons.txt.'
    echo
    cat "$folder/model.txt" "$folder/cli.txt" | sed -n 's/^\([a-z_/]*\.[ch]\) .*% *\([0-9,-]*\)$/\1 \2/p' |
        while read -r file lines; do
            [ -n "$lines" ] || continue
            echo "## $file"
            echo
            echo "$lines" | tr , '\n' | while IFS=- read -r from to; do
                sed -n "${from},${to:-$from}p" "$file" | awk -v from="$from" -v file="$file" '
                    FNR == NR { if (!/^#/) { split($0, part, "\t"); fits[++n] = part[1]; why[n] = part[2] } next }
                    { sub(/^ +/, ""); before = reason; reason = ""
                      if (FNR > 1 && /^return( [^()]*)?;/) reason = before # it hands on what came to pass in the line above
                      for (i = 1; i <= n && reason == ""; i++) if ((file ": " $0) ~ fits[i]) reason = why[i]
                      printf "- %d `%s`%s\n", from + FNR - 1, $0, reason == "" ? "" : " – " reason }' tests/sanitize/reasons.txt -
            done
            echo
        done
} >"$page"
bare=$(grep '^- ' "$page" | grep -vc ' – ')
echo "without a reason in tests/sanitize/reasons.txt: $bare of $(grep -c '^- ' "$page") lines"
echo "what is left: $page"
exit $code
