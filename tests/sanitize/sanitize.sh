#!/bin/sh
# The suite under the address and undefined sanitizers of gcc and clang, commands with threads under clang's thread
# sanitizer, a short set under valgrind. Each part prints `N passed, N failed`; the last line adds them up.
# usage: SANITIZE='flags' [MAKE=make] sh tests/sanitize/sanitize.sh BUILD full|short
set -u
cd "$(dirname "$0")/../.." || exit 1
build=${1:-build}
set_of=${2:-full}
make=${MAKE:-make}
flags=${SANITIZE:--fsanitize=address,undefined -fno-sanitize-recover=undefined}
case $set_of in full | short) ;; *) echo "sanitize: SET is full or short, not $set_of" >&2 && exit 2 ;; esac
passed=0
failed=0
parts=''
mkdir -p "$build"
log=$(mktemp "$build/part.XXXXXX") || exit 1
trap 'rm -f "$log"' EXIT

part() { # part NAME COMMAND...: its own sum is its last line; a part that ends without one has failed once
    name=$1
    shift
    echo "== $name"
    begun=$(date +%s)
    "$@" >"$log" 2>&1
    code=$?
    cat "$log"
    sum=$(sed -n 's/^\([0-9]*\) passed, \([0-9]*\) failed$/\1 \2/p' "$log" | tail -n 1)
    if grep -q '^left out: ' "$log"; then
        parts="$parts, $name left out"
        return
    fi
    good=${sum% *}
    bad=${sum#* }
    [ "${bad:-0}" -gt 0 ] || { [ "$code" = 0 ] && [ "${good:-0}" -gt 0 ]; } || bad=1
    passed=$((passed + ${good:-0}))
    failed=$((failed + ${bad:-0}))
    parts="$parts, $name ${good:-0}/$((${good:-0} + ${bad:-0})) in $(($(date +%s) - begun)) s"
}

reason() { # reason COMPILER NAME: why this set leaves it out, or nothing
    while read -r sets compilers pattern why; do
        # shellcheck disable=SC2254 # patterns, both
        case $set_of in $sets) ;; *) continue ;; esac
        # shellcheck disable=SC2254
        case $1 in $compilers) ;; *) continue ;; esac
        # shellcheck disable=SC2254 # a pattern
        case $2 in $pattern) echo "$why" && return ;; esac
    done <tests/sanitize/left_out.txt
}

suite() { # suite COMPILER VARIABLES...: faults on purpose first, then whatever is not left out
    compiler=$1
    shift
    command -v "$compiler" >/dev/null 2>&1 || { echo "left out: $compiler is not here"; return 0; }
    there=$build/$compiler-sanitized
    programs=''
    scripts=''
    for file in tests/unit/test_*.c tests/verification/test_*.c tests/validation/test_*.c tests/property/test_*.c tests/cli/*.sh; do
        why=$(reason "$compiler" "$file")
        if [ -n "$why" ]; then
            echo "not run: $file: $why"
        else
            case $file in
            *.sh) scripts="$scripts $file" ;;
            *) programs="$programs $there/${file%.c}" ;;
            esac
        fi
    done
    "$make" --no-print-directory -j 2 BUILD="$there" CC="$compiler" EXTRA="$flags" "$@" "$there/brevis" \
        "$there/tests/sanitize/planted" $programs >"$there.txt" 2>&1 || { tail -n 20 "$there.txt"; return 1; }
    reports=$PWD/$there/reports
    rm -rf "$reports"
    mkdir -p "$reports"
    # gcc's undefined sanitizer writes to stderr whatever log_path says; it ends the program, which its caller notices.
    for fault in overflow leak whole; do
        env ASAN_OPTIONS="log_path=$reports/planted" "$there/tests/sanitize/planted" $fault >"$reports/planted.said" 2>&1 &&
            echo "$fault on purpose was not reported" && return 1
        grep -qE 'runtime error|ERROR: (Address|Leak)Sanitizer' "$reports"/planted.* ||
            { echo "$fault on purpose left no report" && return 1; }
        rm -f "$reports"/planted.*
    done
    echo 'overflow, leak and a whole number beyond its range, on purpose: reported'
    # Reports go to files, so that none is lost where a script throws away what a command says.
    env ASAN_OPTIONS="detect_stack_use_after_return=1:strict_string_checks=1:log_path=$reports/report" \
        UBSAN_OPTIONS="print_stacktrace=1:log_path=$reports/report" MAKEFLAGS='' \
        SCRIPTS="$scripts" sh tests/run.sh "$there" $programs >"$there.txt" 2>&1
    code=$?
    cat "$there.txt"
    found=$(find "$reports" -type f | wc -l)
    [ "$found" = 0 ] && return $code
    cat "$reports"/*
    sed -n 's/^\([0-9]*\) passed, \([0-9]*\) failed$/\1 \2/p' "$there.txt" | tail -n 1 |
        awk -v found="$found" '{ print $1 " passed, " $2 + found " failed" }'
    return 1
}

part 'gcc address+undefined' suite gcc
[ "$set_of" = short ] || part 'clang address+undefined' suite clang OPENMP=0 # libomp itself would be reported as lost
part 'thread' sh tests/sanitize/thread.sh "$build" "$set_of"
part 'valgrind' sh tests/sanitize/memory.sh "$build" "$set_of"
echo "sanitize $set_of${parts#,}" | sed 's/^sanitize \([a-z]*\) /sanitize \1: /'
echo "$passed passed, $failed failed"
[ "$failed" = 0 ]
