#!/bin/sh
# Makes every slip of slips.txt in a copy of the tree and wants the named test program to turn red.
# usage: tests/slips/slips.sh [WORD]  (only slips whose line holds WORD)
set -u
cd "$(dirname "$0")/../.." || exit 1
only=${1:-}
box=$(mktemp -d) || exit 1
trap 'rm -rf "$box"' EXIT
cp -a Makefile model cli tests plots scenarios "$box" && cd "$box" || exit 1
caught=0
missed=0

build_and_run() { # build_and_run PROGRAM: fails when the program is red
    make -s OPENMP=0 "build/tests/$1" >build.log 2>&1 || { cat build.log; return 2; }
    "build/tests/$1" >test.log 2>&1
}

IFS='@'
while read -r what file slip program; do
    case $what in '#'* | '') continue ;; esac
    what=${what% } file=$(echo "$file" | tr -d ' ') slip=${slip# } program=$(echo "$program" | tr -d ' ')
    case "$what $file $program" in *"$only"*) ;; *) continue ;; esac
    build_and_run "$program" || { echo "RED BEFORE  $program"; missed=$((missed + 1)); continue; }
    cp "$file" kept && sed -i "${slip% }" "$file"
    if cmp -s kept "$file"; then
        echo "NOT APPLIED $what ($file)"
        missed=$((missed + 1))
    elif build_and_run "$program"; then
        echo "MISSED      $what ($program)"
        missed=$((missed + 1))
    else
        echo "caught      $what: $(sed -n 's/^\[  FAILED  \] \([a-z_0-9]*\)$/\1/p' test.log | sort -u | head -3 | tr '\n' ' ')"
        caught=$((caught + 1))
    fi
    mv kept "$file"
    touch "$file"
done <tests/slips/slips.txt
echo "$caught caught, $missed missed"
[ "$missed" = 0 ]
