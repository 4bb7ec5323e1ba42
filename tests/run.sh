#!/bin/sh
# Runs every test program and script; ends with one line `N passed, N failed`.
# usage: tests/run.sh BUILD PROGRAM...
set -u
build=$1
shift
passed=0
failed=0
log=$build/tests/log.txt

total() { # what cmocka counted under a word
    sed -n "s/^\\[  $1  \\] \\([0-9]*\\) test.*/\\1/p" "$log" | awk '{ n += $1 } END { print n + 0 }'
}

count() { # count WHAT STATUS PASSED FAILED: a program that dies without counting has failed once
    [ "$2" = 0 ] || [ "$4" -gt 0 ] || set -- "$1" "$2" "$3" 1
    passed=$((passed + $3))
    failed=$((failed + $4))
    [ "$4" = 0 ] && [ "$3" -gt 0 ] && { printf '  ok    %4d  %s\n' "$3" "$1"; return; }
    [ "$3" -gt 0 ] || [ "$4" -gt 0 ] || failed=$((failed + 1)) # a test that tests nothing
    printf '  FAIL  %4d  %s\n' "$4" "$1"
    cat "$log"
}

for program; do
    "$program" >"$log" 2>&1
    status=$?
    count "$program" $status "$(total PASSED)" "$(total FAILED)"
done

for script in tests/cli/*.sh; do
    BREVIS=$build/brevis sh "$script" >"$log" 2>&1
    status=$?
    set -- $(sed -n 's/^\([0-9]*\) passed, \([0-9]*\) failed$/\1 \2/p' "$log" | tail -n 1)
    count "$script" $status "${1:-0}" "${2:-0}"
done

echo "$passed passed, $failed failed"
[ "$failed" = 0 ]
