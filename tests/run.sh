#!/bin/sh
# Runs every test program and script, two at a time; ends with one line `N passed, N failed`.
# usage: [SCRIPTS='tests/cli/a.sh ...'] tests/run.sh BUILD PROGRAM...   (all of tests/cli without SCRIPTS)
# How long each took stands in BUILD/tests/seconds.txt; the first lines of it are what tests/longest.txt is made of.
set -u
build=$1
shift
scripts=${SCRIPTS-$(echo tests/cli/*.sh)} # names without blanks, taken apart below
logs=$build/tests/logs
rm -rf "$logs" "$build/tests/records"
mkdir -p "$logs" "$build/tests/records"
: >"$logs.seconds"

# The longest first: one that begins last would leave the other core idle for as long as it lasts.
longest_first() {
    awk -v build="$build/" '
        NR == FNR { place[$1] = FNR; next }
        { name = index($0, build) == 1 ? substr($0, length(build) + 1) : $0; print (name in place ? place[name] : FNR + 1000), $0 }
    ' tests/longest.txt - | sort -n | cut -d ' ' -f 2-
}

# One program or script: its output and exit code go to its own log.
printf '%s\n' "$@" $scripts | grep . | longest_first | BREVIS=$build/brevis BUILD=$build LOGS=$logs xargs -P 2 -n 1 sh -c '
    log=$LOGS/$(echo "$1" | tr / _)
    began=$(date +%s)
    sh tests/support/record.sh "$BUILD" "$1" >"$log" 2>&1 </dev/null
    echo "exit $?" >>"$log"
    echo "$(($(date +%s) - began)) ${1#"$BUILD/"}" >>"$LOGS.seconds"' sh
sort -rn "$logs.seconds" >"$build/tests/seconds.txt" && rm "$logs.seconds"

passed=0
failed=0

total() { # what cmocka counted under a word
    sed -n "s/^\[  $1  \] \([0-9]*\) test.*/\1/p" "$log" | awk '{ n += $1 } END { print n + 0 }'
}

count() { # count WHAT PASSED FAILED: a program that dies or tests nothing has failed once
    good=$2
    bad=$3
    [ "$bad" -gt 0 ] || { [ "$good" -gt 0 ] && grep -qx 'exit 0' "$log"; } || bad=1
    passed=$((passed + good))
    failed=$((failed + bad))
    [ "$bad" = 0 ] && printf '  ok    %4d  %s\n' "$good" "$1" && return
    printf '  FAIL  %4d  %s\n' "$bad" "$1"
    cat "$log"
}

for program in "$@" $scripts; do
    log=$logs/$(echo "$program" | tr / _)
    case $program in
    *.sh) count "$program" $(sed -n 's/^\([0-9]*\) passed, \([0-9]*\) failed$/\1 \2/p' "$log" | tail -n 1 | grep . || echo 0 0) ;;
    *) count "$program" "$(total PASSED)" "$(total FAILED)" ;;
    esac
done

echo "$passed passed, $failed failed"
[ "$failed" = 0 ]
