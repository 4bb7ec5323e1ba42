#!/bin/sh
# What a user finds on disk after `brevis run`: a whole result or the one that was there before, whatever stood in
# the way; and the figures, or a word on why there are none.
#     sh tests/cli/directory.sh

root=$(CDPATH='' cd -- "$(dirname -- "$0")/../.." && pwd) || exit 1
cd "$root" || exit 1
brevis=${BREVIS:-build/brevis}
case $brevis in /*) ;; *) brevis=$root/$brevis ;; esac
scenario=$root/scenarios/hand_532nm.yaml
work=$(mktemp -d) || exit 1
trap 'rm -rf "$work"' EXIT
mkdir "$work/here" && cd "$work/here" || exit 1
passed=0
failed=0

check() { # check NAME COMMAND...: the command has to succeed
    name=$1
    shift
    if "$@"; then
        passed=$((passed + 1))
    else
        failed=$((failed + 1))
        echo "FAILED: $name"
        cat "$work/err"
    fi
}

# run OPTIONS...: without figures, which take most of the time; the exit code in $code, what was said in $work
run() {
    "$brevis" run --no-figures "$@" "$scenario" >"$work/out" 2>"$work/err" </dev/null
    code=$?
}

code_is() { [ "$code" -eq "$1" ]; }
says() { grep -q -e "$1" "$work/err"; }
silent() { [ ! -s "$work/out" ]; }
whole() { [ -s "$1/summary.json" ] && [ -s "$1/summary.txt" ] && [ -s "$1/temperature.csv" ] && [ -s "$1/depth.csv" ]; }
names() { [ "$(ls -A "${2:-.}" | wc -l)" -eq "$1" ]; } # how many there are, hidden ones too
sums() { cat "$1"/summary.json "$1"/*.csv | cksum; }
same() { [ "$(sums "$1")" = "$2" ]; }

# ---- new, there already, replaced ----

run --out a/b/new
check 'new target' code_is 0
check 'new target is whole' whole a/b/new
check 'nothing beside it' names 1 a/b
before=$(sums a/b/new)

run --out a/b/new/
check 'a target that is there' code_is 4
check 'says how to replace it' says 'a/b/new is there already; --force replaces it'
check 'writes nothing to standard output' silent

run --out a/b/new --force --set 'light.pulse=9 ns'
check 'replaced' code_is 0
check 'replaced is whole' whole a/b/new
check 'nothing beside the replaced one' names 1 a/b
check 'it is another result' test "$before" != "$(sums a/b/new)"
run --out a/b/new --force
check 'same question, same bytes' same a/b/new "$before"

# A result that cannot be looked into is kept, and the reason told is the one there was: seven descriptors are enough for a
# run, with five the folder is opened but no file in it.
few() {
    sh -c 'ulimit -n "$0"; exec "$@"' "$1" "$brevis" run --no-figures --out a/b/new --force "$scenario" \
        >"$work/out" 2>"$work/err" </dev/null
    code=$?
}
few 5
check 'too few descriptors to look into a result' code_is 4
check 'says so' says 'a/b/new/[a-z.]* cannot be looked at, so a/b/new is kept: Too many open files'
check 'and keeps it' same a/b/new "$before"
# A run needs 96 kB of stack; it needed 160 before large arrays left it. A thread needs 64. Sanitizers make every frame larger.
if ! grep -aqE '__asan_init|__ubsan_handle|__tsan_init|__msan_init' "$brevis"; then
    sh -c 'ulimit -s 128; exec "$@"' sh env OMP_STACKSIZE=128k "$brevis" run --no-figures --out a/b/new --force "$scenario" \
        >"$work/out" 2>"$work/err" </dev/null
    code=$?
    check 'a stack of 128 kB is enough' code_is 0
    check 'same bytes from it' same a/b/new "$before"
fi
mkdir locked && echo '"program": "brevis"' >locked/summary.json && chmod 000 locked/summary.json
if [ ! -r locked/summary.json ]; then # nothing is closed to root
    run --out locked --force
    check 'a mark that may not be read' code_is 4
    check 'says so' says 'locked/summary.json cannot be looked at, so locked is kept: Permission denied'
fi
rm -rf locked

# ---- what is never replaced ----

mkdir pictures
echo x >pictures/one.jpg
echo x >file
run --out pictures --force
check 'a directory of other things' code_is 4
check 'is kept' test -f pictures/one.jpg
run --out file --force
check 'a file' code_is 4
check 'a file is kept' test -f file
run --out file/below
check 'below a file' code_is 4
for target in . .. / ''; do
    run --out "$target" --force
    check "target '$target'" code_is 4
done
run --out "deep/$(printf '%0300d' 0)"
check 'a name that is too long' code_is 4
check 'says so' says 'File name too long'
check 'leaves no parents behind' test ! -e deep
rm -rf pictures file

run --out ' <odd| name'
check 'an odd name' code_is 0
check 'an odd name is whole' whole ' <odd| name'
rm -rf ' <odd| name'

# ---- writing fails in the middle ----

(
    ulimit -f 8
    "$brevis" run --no-figures --force --out a/b/new "$scenario" >"$work/out" 2>"$work/err"
)
code=$?
check 'no room for a file' code_is 4
check 'no room: said' says 'temperature.csv: File too large'
check 'no room: the old result is whole' same a/b/new "$before"
check 'no room: nothing beside it' names 1 a/b

# ---- what may not be changed ----

as_nobody() { if [ "$(id -u)" = 0 ]; then setpriv --reuid=65534 --regid=65534 --clear-groups "$@"; else "$@"; fi; }
if as_nobody true 2>/dev/null && as_nobody test -r "$scenario"; then
    mkdir kept kept/old && chmod 777 kept && run --out kept/new && mv kept/new/* kept/old/ && rmdir kept/new
    [ "$(id -u)" != 0 ] || chown -R 65534:65534 kept/old
    chmod 755 . .. && chmod 555 kept/old
    kept=$(sums kept/old)
    as_nobody "$brevis" run --no-figures --force --out kept/old "$scenario" >"$work/out" 2>"$work/err"
    code=$?
    check 'a result that is protected against writing' code_is 4
    check '  is told' says 'kept/old may not be changed, so it is kept'
    check '  stands' same kept/old "$kept"
    check '  nothing beside it' names 1 kept
    chmod 755 kept/old && rm -r kept
else
    echo 'no other user may run this: a result that is protected against writing is left out'
fi

# ---- a run that is killed ----

"$brevis" run --force --out a/b/new "$scenario" >/dev/null 2>&1 &
child=$!
tries=0
while [ "$(ls -A a/b | wc -l)" -eq 1 ] && [ $tries -lt 2000 ] && kill -0 $child 2>/dev/null; do tries=$((tries + 1)); done
kill -9 $child 2>/dev/null
wait $child 2>/dev/null
check 'killed: a whole result stands' whole a/b/new
run --out a/b/new
check 'after it: refused as before' code_is 4
check 'after it: tidied' names 1 a/b

# ---- two at once ----

"$brevis" run --no-figures --out two "$scenario" >/dev/null 2>"$work/err" &
one=$!
"$brevis" run --no-figures --out two "$scenario" >/dev/null 2>"$work/err2" &
other=$!
wait $one
code_one=$?
wait $other
code_other=$?
check 'two at once: one wins, one is refused' test $((code_one + code_other)) -eq 4
check 'two at once: a whole result' same two "$before"
check 'two at once: nothing beside it' names 2 .
rm -rf two

# ---- figures ----

code=0
PATH=/nowhere "$brevis" run --out bare "$scenario" >"$work/out" 2>"$work/err" || code=$?
check 'without gnuplot: results all the same' code_is 0
check 'without gnuplot: said' says 'gnuplot was not found'
check 'without gnuplot: whole' whole bare

if command -v gnuplot >/dev/null; then
    for name in one other; do "$brevis" run --out "$name" "$scenario" >/dev/null 2>"$work/err"; done
    check 'figures: no complaint' test ! -s "$work/err"
    for figure in temperature.svg temperature.png grain.svg grain.png disrupted.svg disrupted.png depth.svg depth.png spots.svg spots.png map.svg map.png \
        beside.svg beside.png; do
        check "$figure is there" test -s "one/$figure"
        check "$figure has the same bytes again" cmp -s "one/$figure" "other/$figure"
    done
    check 'figures: the title is in it' grep -q "$(sed -n 's/^title: *//p' "$scenario")" one/temperature.svg
    check 'figures: nothing else is left' names 24 one

    # No data, or none that are numbers: no picture, and the script says so by its exit code.
    head -n 1 one/depth.csv >nothing.csv
    sed '2,$s/,[^,]*/,nan/g' one/depth.csv >nan.csv
    for data in nothing.csv nan.csv missing.csv; do
        gnuplot -d -c "$root/plots/depth.gp" $data x.svg svg '2.0e-3 5.0e-5' a b c 'd|e' >"$work/out" 2>"$work/err"
        check "depth.gp fails with $data" test $? -ne 0
        gnuplot -d -c "$root/plots/map.gp" $data x.svg svg '4.0e-3 3.0e-3' a b c >"$work/out" 2>"$work/err"
        check "map.gp fails with $data" test $? -ne 0
        gnuplot -d -c "$root/plots/beside.gp" $data x.svg svg '4.0e-3 3.0e-3' a b c "'now' 'later'" >"$work/out" 2>"$work/err"
        check "beside.gp fails with $data" test $? -ne 0
        gnuplot -d -c "$root/plots/grain.gp" $data x.svg svg '2.5e-7 0 2.5e-7 0' a b c at_pulse_end_rise_K "'end'" \
            >"$work/out" 2>"$work/err"
        check "grain.gp fails with $data" test $? -ne 0
        gnuplot -d -c "$root/plots/train.gp" $data x.svg svg '2.0 0.3 0.3 9.0 112.0 33.0 33.0 0.0 1.0e-3 33.0 33.0 0.0 0.0 0.0' \
            a b c d "'e'" >"$work/out" 2>"$work/err"
        check "train.gp fails with $data" test $? -ne 0
    done
fi

echo "$passed passed, $failed failed"
[ "$failed" -eq 0 ]
