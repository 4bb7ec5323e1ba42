#!/bin/sh
# What happens when memory, disk, time or another program fails; ends with one line `N passed, N failed`. `make faults`
# builds what it needs. FULL=1: every call for memory of every command, which takes hours.
#     sh tests/faults/faults.sh BUILD
cd "$(dirname -- "$0")/../.." || exit 1
build=${1:-build}
log=$(mktemp) || exit 1
trap 'rm -f "$log"' EXIT
passed=0
failed=0
for part in writes kills allocations; do
    began=$(date +%s)
    echo "---- $part"
    BREVIS=$build/brevis sh "tests/faults/$part.sh" "$build" >"$log" 2>&1
    code=$?
    cat "$log"
    echo "---- $part: $(($(date +%s) - began)) s"
    counts=$(tail -n 1 "$log" | sed -n 's/^\([0-9]*\) passed, \([0-9]*\) failed$/\1 \2/p')
    good=${counts% *} bad=${counts#* }
    [ "$counts" ] || good=0 bad=1 # a script that dies has failed
    [ $code = 0 ] || [ "$bad" != 0 ] || bad=1
    passed=$((passed + good))
    failed=$((failed + bad))
done
echo "$passed passed, $failed failed"
[ "$failed" = 0 ]
