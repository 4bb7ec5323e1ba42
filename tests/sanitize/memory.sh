#!/bin/sh
# Values that nobody wrote, and what is lost, by valgrind on the plain build: it sees inside GSL, libyaml and the C library,
# where compilers' sanitizers see nothing. It is forty times slower, so the set is short and one thread works.
# usage: [MAKE=make] sh tests/sanitize/memory.sh BUILD SET
set -u
cd "$(dirname "$0")/../.." || exit 1
build=${1:-build}
set_of=${2:-full}
. tests/support/cli.sh
make=${MAKE:-make}
command -v valgrind >/dev/null 2>&1 || { echo 'left out: valgrind is not here'; exit 0; }

units='test_document test_set test_unit test_page test_letters test_readings test_directory test_vary'
[ "$set_of" = short ] && units='test_document'
targets=$(for unit in $units; do echo "$build/tests/unit/$unit"; done)
"$make" --no-print-directory BUILD="$build" CC=gcc "$build/brevis" "$build/tests/sanitize/planted" $targets >"$box/built" 2>&1 ||
    { cat "$box/built"; exit 1; }

watched() { # possibly lost is what libgomp keeps for its threads
    OMP_NUM_THREADS=1 valgrind --quiet --error-exitcode=99 --leak-check=full --errors-for-leak-kinds=definite --show-leak-kinds=definite \
        --log-file="$box/report.%p" "$@"
}
silent() { # silent CODE COMMAND...
    rm -f "$box"/report.*
    code=$1
    shift
    exits "$code" watched "$@" && [ -z "$(cat "$box"/report.*)" ] && return
    cat "$box"/report.*
    return 1
}
reported() {
    rm -f "$box"/report.*
    watched "$@" >/dev/null 2>&1
    [ $? = 99 ]
}

for fault in overflow unset leak; do check "$fault on purpose is reported" reported "$build/tests/sanitize/planted" $fault; done
check 'what is clean is not' silent 0 "$build/tests/sanitize/planted" clean
for unit in $units; do check "unit/$unit" silent 0 "$build/tests/unit/$unit"; done
check 'tissue' silent 0 "$build/brevis" tissue "$hand"
check 'room' silent 0 "$build/brevis" room --quiet --out "$box/room" scenarios/room_1064nm.yaml
[ "$set_of" = short ] || {
    for file in many_slips alias choices_with_slips open_bracket title_with_escape; do
        check "refused: $file" silent 3 "$build/brevis" check "scenarios/wrong/$file.yaml"
    done
    check 'explain' silent 0 "$build/brevis" explain
    check 'reported' silent 0 "$build/brevis" reported --quiet --no-figures --out "$box/reported" scenarios/cheek_1064nm.yaml
    check 'output' silent 0 "$build/brevis" output --quiet --no-figures --out "$box/output" \
        scenarios/readings/weekly_1064nm.csv scenarios/cheek_1064nm.yaml
    check 'numbers' silent 0 "$build/brevis" lesson --quiet --no-figures --seed 7 --answers --out "$box/numbers" numbers
    check 'run' silent 0 "$build/brevis" run --quiet --no-figures --out "$box/run" "$hand"
    check 'run, layered' silent 0 "$build/brevis" run --quiet --no-figures --set light.method=layered --out "$box/layered" "$hand"
    check 'run, sampled' silent 0 "$build/brevis" run --quiet --no-figures --set light.method=sampled \
        --set light.photons=1000 --out "$box/sampled" "$hand"
}
counted_out
