#!/bin/sh
# Runs one test program or script and keeps what it recorded for docs/validation.md, when it passed: a later look at the page
# need not run it again. Its exit code is handed on.
# usage: tests/support/record.sh BUILD PROGRAM
case $2 in *.sh) exec sh "$2" ;; esac
record=$1/tests/records/$(echo "$2" | tr / _)
rm -f "$record" "$record.part" "$record.csv"
: >"$record.part"
BREVIS_RECORD=$record.part BREVIS_THRESHOLDS=$record.csv "$2"
code=$?
[ $code != 0 ] || mv "$record.part" "$record"
exit $code
