#!/bin/sh
# Runs that are ended at any moment, two runs into one place, a clock that jumps, and what gnuplot may still do: the old
# result or the new one stands whole, never a mixture, and the next run clears away what was left.
#     sh tests/faults/kills.sh BUILD
cd "$(dirname -- "$0")/../.." || exit 1
build=${1:-build}
: "${BREVIS:=$build/brevis}"
. tests/support/cli.sh
front=$PWD/$build/faults/ending.so
small=$PWD/tests/faults/scenarios/small.yaml
export OMP_NUM_THREADS=2
alone() { [ "$(find "$1" -mindepth 1 -maxdepth 1 | wc -l)" = "$2" ] || { ls -A "$1"; return 1; }; }
coded() { [ "$code" = "$1" ] || { echo "exit $code instead of $1"; return 1; }; }

# In place of gnuplot: a picture at once, whole as its format has it.
mkdir "$box/bin"
stand_in() {
    printf '%s\n' '#!/bin/sh' "$@" >"$box/bin/gnuplot"
    chmod +x "$box/bin/gnuplot"
}
picture='case $6 in svg) echo "<svg> a picture at once </svg>" ;; *) echo "a picture at once IEND" ;; esac >"$5"'
stand_in "$picture"
PATH=$box/bin:$PATH
export PATH

run() { # run OUT OPTIONS...
    out=$1
    shift
    "$brevis" run --quiet --out "$out" "$@" "$small"
}
new='--set light.pulse=9ns'
run "$box/old" || exit 1
# shellcheck disable=SC2086 # two words
run "$box/new" $new || exit 1
check 'old and new differ' sh -c "! diff -r '$box/old' '$box/new' >/dev/null"
same() { diff -r "$1" "$2" >/dev/null 2>&1; }
old_or_new() { same "$1" "$box/old" || same "$1" "$box/new"; }

# ---- ended at every deed on files or processes ----

deeds() { # deeds OPTIONS...: how many there are
    rm -rf "$box/place"
    mkdir "$box/place"
    [ "$1" != --force ] || cp -r "$box/old" "$box/place/result"
    LD_PRELOAD=$front BREVIS_END_COUNT=$box/count "$brevis" run --quiet --threads 1 --out "$box/place/result" "$@" $new "$small"
    cat "$box/count"
}
ended() { # ended SIGNAL AT OPTIONS...: one run
    signal=$1 at=$2
    shift 2
    rm -rf "$box/place"
    mkdir "$box/place"
    [ "${1:-}" != --force ] || cp -r "$box/old" "$box/place/result"
    LD_PRELOAD=$front BREVIS_END_AT=$at BREVIS_END_SIGNAL=$signal \
        "$brevis" run --quiet --threads 1 --out "$box/place/result" "$@" $new "$small" >"$box/stdout" 2>"$box/stderr" </dev/null
    code=$?
}
series() { # series SIGNAL STEP OPTIONS...
    signal=$1 step=$2
    shift 2
    n=$(deeds "$@")
    at=1 bad='' left=0 stood=0
    while [ "$at" -le "$n" ]; do
        ended "$signal" "$at" "$@" 2>/dev/null
        when="$signal $* at deed $at of $n"
        [ $code = $((128 + signal)) ] || bad="$bad; $when: exit $code"
        if [ -e "$box/place/result" ]; then
            old_or_new "$box/place/result" || bad="$bad; $when: a mixture"
            ! same "$box/place/result" "$box/new" || stood=$((stood + 1))
        else
            [ "${1:-}" != --force ] || bad="$bad; $when: the old result has gone"
        fi
        alone "$box/place" "$(find "$box/place" -mindepth 1 -maxdepth 1 ! -name '.*' | wc -l)" >/dev/null || left=$((left + 1))
        "$brevis" run --quiet --no-figures --force --out "$box/place/result" "$small" 2>"$box/stderr" || bad="$bad; $when: the next run fails"
        alone "$box/place" 1 >/dev/null || bad="$bad; $when: the next run leaves something"
        at=$((at + step))
    done
    [ -z "$bad" ] || echo "$bad"
    echo "signal $signal, ${*:-new}: ended at $n deeds by $step: the new result stood $stood times, something was left aside $left times"
    [ -z "$bad" ]
}
check 'kill -9 at every deed, over an old result' series 9 1 --force
check '  and the new result stood at some' test "$stood" -ge 1
check '  and something was left aside at most, which the next run removed' test "$left" -ge 20
check 'kill -9 at every deed, no result there' series 9 1
check '  and the new result stood at some' test "$stood" -ge 1
check 'SIGTERM at every third deed, over an old result' series 15 3 --force
# Between the exchange and the new result being safe on the disk the old one is kept.
check '  nothing is left aside but at that one deed between the exchange and the removal' test "$left" -le 1
check 'SIGTERM at every third deed, no result there' series 15 3
check '  nothing is left aside' test "$left" = 0
check 'SIGHUP at every fifth deed, over an old result' series 1 5 --force

# ---- ended at twenty moments, wherever it is ----

lasts() { # how long a run takes [ms]
    began=$(date +%s%N)
    run "$box/timed" --force $new
    echo $((($(date +%s%N) - began) / 1000000))
}
begun() { # begun I OPTIONS...: a run that is at the I-th of twenty moments
    moment=$1
    shift
    rm -rf "$box/place"
    mkdir "$box/place"
    [ "${1:-}" != --force ] || cp -r "$box/old" "$box/place/result"
    "$brevis" run --quiet --out "$box/place/result" "$@" $new "$small" >/dev/null 2>&1 </dev/null &
    process=$!
    sleep "$(awk -v t="$whole" -v i="$moment" 'BEGIN { print t * i / 20 / 1000 }')"
}
moments() { # moments OPTIONS...
    whole=$(lasts)
    bad='' i=1
    while [ $i -le 20 ]; do
        begun $i "$@"
        kill -9 $process 2>/dev/null
        wait $process 2>/dev/null
        if [ -e "$box/place/result" ]; then
            old_or_new "$box/place/result" || bad="$bad; $i of 20: a mixture"
        else
            [ "${1:-}" != --force ] || bad="$bad; $i of 20: the old result has gone"
        fi
        run "$box/place/result" --force 2>"$box/stderr" || bad="$bad; $i of 20: the next run fails"
        same "$box/place/result" "$box/old" || bad="$bad; $i of 20: the next run has another result"
        alone "$box/place" 1 >/dev/null || bad="$bad; $i of 20: the next run leaves something"
        i=$((i + 1))
    done
    [ -z "$bad" ] || echo "$bad"
    [ -z "$bad" ]
}
check 'kill -9 at twenty moments, over an old result' moments --force
check 'kill -9 at twenty moments, no result there' moments

# A signal to a process and its group comes twice, and another thread may get the second: it must not cut short what the
# first has begun.
again_and_again() {
    whole=$(lasts)
    bad='' i=1
    while [ $i -le 20 ]; do
        begun $i --force
        for _ in 1 2 3 4 5 6; do kill -TERM $process; done 2>/dev/null
        wait $process 2>/dev/null
        code=$?
        [ $code = 143 ] || [ $code = 0 ] || bad="$bad; $i of 20: exit $code"
        old_or_new "$box/place/result" || bad="$bad; $i of 20: a mixture"
        alone "$box/place" 1 >/dev/null || bad="$bad; $i of 20: something is left aside"
        i=$((i + 1))
    done
    [ -z "$bad" ] || echo "$bad"
    [ -z "$bad" ]
}
check 'SIGTERM six times at each of twenty moments: nothing is left aside' again_and_again

# ---- gnuplot goes on for nobody ----

stand_in ": >>'$box/drawing'" 'sleep 1' "$picture"
mkdir "$box/orphan"
cp -r "$box/old" "$box/orphan/result"
"$brevis" run --quiet --force --out "$box/orphan/result" $new "$small" >/dev/null 2>&1 </dev/null &
process=$!
tries=0
until [ -e "$box/drawing" ] || [ $tries -ge 200 ]; do
    tries=$((tries + 1))
    sleep 0.05
done
kill -9 $process
wait $process 2>/dev/null
stand_in "$picture"
check 'killed while gnuplot draws: the next run' run "$box/orphan/result" --force
sleep 2
check '  its result stays as it is when the old gnuplot ends' same "$box/orphan/result" "$box/old"
check '  nothing beside it' alone "$box/orphan" 1

stand_in "setsid sh -c 'sleep 30' & $picture"
began=$(date +%s)
check 'gnuplot leaves a program behind that holds its streams: exit 0' run "$box/kept" --force
check '  nobody waits for it' test $(($(date +%s) - began)) -lt 20
check '  the pictures are there' same "$box/kept" "$box/old"
stand_in 'trap "" TERM INT HUP' 'kill -STOP $$' 'sleep 300'
began=$(date +%s)
check 'gnuplot stops, and heeds no signal that asks: exit 0' exits 0 run "$box/stopped" --force
check '  it is ended' says 'gnuplot took longer than 20 s'
check '  in time' test $(($(date +%s) - began)) -lt 60
check '  numbers, no pictures' test -s "$box/stopped/summary.json" -a -z "$(find "$box/stopped" -name '*.svg' -o -name '*.png')"
stand_in 'exit 0'
check 'gnuplot draws nothing and says that all is well: exit 0' exits 0 run "$box/nothing" --force
check '  said' says 'gnuplot left no whole temperature.svg'
stand_in 'mkdir "$5"'
check 'gnuplot leaves a folder: exit 0' exits 0 run "$box/nothing" --force
check '  said' says 'gnuplot left no whole temperature.svg'
check '  no folder is left' test -z "$(find "$box/nothing" -mindepth 1 -type d)"
stand_in "$picture"

# ---- two at once ----

pair() { # pair OPTIONS...: twenty times
    bad='' i=1 both=0
    while [ $i -le 20 ]; do
        rm -rf "$box/two"
        mkdir "$box/two"
        [ "${1:-}" != --force ] || cp -r "$box/old" "$box/two/result"
        "$brevis" run --quiet --out "$box/two/result" "$@" "$small" >/dev/null 2>"$box/said_one" </dev/null &
        one=$!
        "$brevis" run --quiet --out "$box/two/result" "$@" $new "$small" >/dev/null 2>"$box/said_other" </dev/null &
        other=$!
        wait $one
        code_one=$?
        wait $other
        code_other=$?
        for side in one other; do
            eval "code=\$code_$side"
            [ "$code" = 0 ] || { [ "$code" = 4 ] && grep -q 'two/result is ' "$box/said_$side"; } || bad="$bad; $i: exit $code: $(cat "$box/said_$side")"
        done
        old_or_new "$box/two/result" || bad="$bad; $i: a mixture"
        case $code_one$code_other in
        00) both=$((both + 1)) ;;
        44) bad="$bad; $i: neither" ;;
        04) same "$box/two/result" "$box/old" || bad="$bad; $i: not the result of who ended well" ;;
        40) same "$box/two/result" "$box/new" || bad="$bad; $i: not the result of who ended well" ;;
        esac
        alone "$box/two" 1 >/dev/null || bad="$bad; $i: something is left"
        i=$((i + 1))
    done
    [ -z "$bad" ] || echo "$bad"
    [ -z "$bad" ]
}
check 'two runs into one place, twenty times' pair
check '  never did both think that it was theirs' test "$both" = 0
check 'two runs over an old result, twenty times' pair --force

vary='--vary light.spot=2mm..4mm:6'
"$brevis" sweep --no-figures --quiet --threads 1 $vary --out "$box/whole_sweep" "$small"
bad=''
for i in 1 2 3 4 5; do
    rm -rf "$box/sweep" "$box/sweep.parts"
    "$brevis" sweep --no-figures --quiet --threads 1 --part 1/1 $vary --out "$box/sweep" "$small" >/dev/null 2>&1
    { head -n 3 "$box/sweep.parts/1_of_1" >"$box/line" && mv "$box/line" "$box/sweep.parts/1_of_1"; } || bad="$bad; $i: no part"
    for side in one other; do
        "$brevis" sweep --no-figures --quiet --threads 1 $vary --out "$box/sweep" "$small" >/dev/null 2>"$box/said_$side" </dev/null &
        eval "$side=\$!"
    done
    wait "$one"
    code_one=$?
    wait "$other"
    code_other=$?
    [ $((code_one + code_other)) = 4 ] || bad="$bad; $i: exits $code_one and $code_other: $(cat "$box/said_one" "$box/said_other")"
    same "$box/sweep" "$box/whole_sweep" || bad="$bad; $i: another result"
    [ ! -e "$box/sweep.parts" ] || bad="$bad; $i: points are left"
done
[ -z "$bad" ] || echo "$bad"
check 'a sweep resumed by two at once, five times: one goes on, the other is refused' test -z "$bad"

# ---- the time of day jumps ----

for jump in 86400 -3600; do
    check "the time of day is off by $jump s: exit 0" exits 0 env LD_PRELOAD="$front" BREVIS_CLOCK=$jump "$brevis" run --quiet --force --out "$box/clock" "$small"
    check '  the same bytes' same "$box/clock" "$box/old"
done
# Progress is told on a terminal only: script (util-linux) gives it one. Off by an hour is what a jump by an hour looks like to
# who waits for a moment of the day.
if command -v script >/dev/null 2>&1; then
    for jump in 0 86400 -3600; do
        script -qec "env LD_PRELOAD='$front' BREVIS_CLOCK=$jump '$brevis' visits --quiet --no-figures --force --threads 1 --out '$box/clock-visits' '$PWD/scenarios/visits_1064nm.yaml'" "$box/typescript" >/dev/null 2>&1 </dev/null
        times=$(tr '\r' '\n' <"$box/typescript" | grep -c 'at work for\| left')
        lasted=$(tr '\r' '\n' <"$box/typescript" | sed -n 's/.*at work for \([0-9]*\) s.*/\1/p' | tail -n 1)
        # One a second, and one more at most when the last second is just over.
        check "on a terminal, off by $jump s: once a second ($times times in ${lasted:-0} s)" test "$times" -le $((${lasted:-0} + 2)) -a "$times" -ge 1
    done
else
    echo 'script is not here: progress on a terminal is left out'
fi

counted_out
