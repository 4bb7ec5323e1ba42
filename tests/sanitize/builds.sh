#!/bin/sh
# The same bytes from other builds: without OpenMP, and by clang where it is installed, which must also build everything
# without a warning. Each command of commands.sh is asked of each build; directories are compared whole.
# usage: [MAKE=make] sh tests/sanitize/builds.sh BUILD
set -u
cd "$(dirname "$0")/../.." || exit 1
build=${1:-build}
. tests/support/cli.sh
. tests/sanitize/commands.sh
make=${MAKE:-make}

warns() { # warns BUILD VARIABLES...: builds program and tests anew, and says what the compiler warns of
    other=$1
    shift
    rm -rf "$other"
    "$make" --no-print-directory BUILD="$other" "$@" "$other/brevis" programs >"$box/built" 2>&1 || return 1
    grep -A 5 'warning:' "$box/built"
}
warned_of_nothing() { ! warns "$@" >"$box/stderr" && [ -x "$1/brevis" ]; }

ask() { # ask NAME ARGUMENTS...: of the build at hand, into its own directory
    name=$1
    shift
    "$program" "$@" --quiet --threads 2 --force --out "$box/$kind/$name" >"$box/stdout" 2>"$box/stderr" </dev/null ||
        { cat "$box/stderr"; echo "$kind: $name: exit $?"; }
}

held() { # held NAME ...: what this build wrote against what the plain build wrote
    check "$kind: $1" diff -r "$box/plain/$1" "$box/$kind/$1"
}

"$make" --no-print-directory BUILD="$build" CC=gcc "$build/brevis" >/dev/null || exit 1
kind=plain
program=$build/brevis
commands ask
check 'there is something to compare' [ "$(find "$box/plain" -type f | wc -l)" -gt 60 ]

check 'without OpenMP: no warning' warned_of_nothing "$build/single" CC=gcc OPENMP=0
kind=single
program=$build/single/brevis
commands ask
commands held

if command -v clang >/dev/null 2>&1; then
    check 'clang: no warning' warned_of_nothing "$build/clang" CC=clang
    kind=clang
    program=$build/clang/brevis
    commands ask
    commands held
else
    echo 'clang is not here: its build is left out'
fi
counted_out
