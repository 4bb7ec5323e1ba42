#!/bin/sh
# Races between threads, by clang's thread sanitizer with the part of libomp that tells it where threads meet; gcc's says
# nothing of use about OpenMP. First a race on purpose must be reported and a sum by atomics must not; then commands are
# run with 1, 2 and 8 threads: no report, and the same bytes.
# usage: [MAKE=make] sh tests/sanitize/thread.sh BUILD SET
set -u
cd "$(dirname "$0")/../.." || exit 1
build=${1:-build}/thread
set_of=${2:-full}
. tests/support/cli.sh
. tests/sanitize/commands.sh
make=${MAKE:-make}
archer=$(clang -print-resource-dir 2>/dev/null)/../../libarcher.so
[ -e "$archer" ] || { echo 'left out: clang or libomp is not here'; exit 0; }

"$make" --no-print-directory BUILD="$build" CC=clang EXTRA=-fsanitize=thread "$build/brevis" \
    "$build/tests/sanitize/planted" "$build/tests/unit/test_base" "$build/tests/unit/test_sampled" >"$box/built" 2>&1 ||
    { cat "$box/built"; exit 1; }

# Reports go to files of their own, whoever reads what a command says.
tsan="ignore_noninstrumented_modules=1 exitcode=66 log_path=$box/report suppressions=$PWD/tests/sanitize/known_races.txt"
watched() { # watched COMMAND...
    OMP_TOOL_LIBRARIES=$archer TSAN_OPTIONS=$tsan "$@"
}
silent() { # silent CODE COMMAND...: ends with it, and nothing was reported
    rm -f "$box"/report.*
    code=$1
    shift
    exits "$code" watched "$@" || return 1
    cat "$box"/report.* 2>/dev/null && return 1
    return 0
}
reported() { # reported COMMAND...: the sanitizer found a race
    rm -f "$box"/report.*
    watched "$@" >/dev/null 2>&1
    grep -qs 'data race' "$box"/report.*
}

check 'a race on purpose is reported' reported "$build/tests/sanitize/planted" race
check 'a sum by atomics is not' silent 0 "$build/tests/sanitize/planted" clean
for program in test_base test_sampled; do check "unit/$program" silent 0 "$build/tests/unit/$program"; done

run_threads() { # run_threads NAME ARGUMENTS...
    name=$1
    shift
    for threads in $counts; do
        check "$name, $threads threads" silent 0 "$build/brevis" "$@" --quiet --force --threads "$threads" --out "$box/$name$threads"
    done
    for threads in $counts; do
        [ "$threads" = 1 ] || check "$name, 1 and $threads threads, same bytes" diff -r "$box/${name}1" "$box/$name$threads"
    done
}

# A walk that is interrupted is told so by a handler, while eight threads read what it sets.
interrupted() {
    rm -f "$box"/report.*
    # A function behind & would be a shell of its own, and a shell lets what runs there ignore Ctrl-C.
    env --default-signal=INT OMP_TOOL_LIBRARIES="$archer" TSAN_OPTIONS="$tsan" timeout 120 "$build/brevis" run --no-figures \
        --quiet --threads 8 --out "$box/stopped" --set light.method=sampled --set light.photons=1e11 \
        --set light.error='0.01 %' "$hand" >/dev/null 2>&1 &
    pid=$!
    sleep 5
    kill -INT "$pid"
    wait "$pid"
    [ $? = 130 ] || return 1
    cat "$box"/report.* 2>/dev/null && return 1
    return 0
}

case $set_of in
short)
    counts='1 8'
    run_threads run run --no-figures scenarios/hand_532nm.yaml
    run_threads sampled run --no-figures --set light.method=sampled --set light.photons=3000 scenarios/hand_532nm.yaml
    ;;
*)
    counts='1 2 8'
    commands run_threads
    run_threads figures run scenarios/hand_532nm.yaml # which start a gnuplot each
    check 'an interrupted walk' interrupted
    ;;
esac
counted_out
