#!/bin/sh
# Runs fuzz targets, two at a time, and prints one line for each; a finding keeps its input and is named with the command
# that replays it.
# usage: tests/fuzz/fuzz.sh BUILD "TARGET..." SECONDS [RUNS]; JOBS=n for another number at a time
set -u
BUILD=$1
targets=$2
FOR=-max_total_time=$3
[ -z "${4:-}" ] || FOR=-runs=$4
ASAN_OPTIONS=${ASAN_OPTIONS:-malloc_context_size=4:quarantine_size_mb=16} # short traces, and little kept of what is freed
export BUILD FOR ASAN_OPTIONS

# One target: its log and its inputs in folders of its own.
one() {
    target=$1
    program=$BUILD/tests/fuzz/run_$target
    log=$BUILD/log_$target.txt
    new=$BUILD/new/$target
    found=$BUILD/found/$target
    slow=1
    case $target in
    quantity) longest=64 ;;
    set | vary) longest=200 ;;
    json) longest=512 ;;
    whole) longest=1024 slow=5 ;;
    *) longest=4096 ;;
    esac
    mkdir -p "$new" "$found"
    touch "$found/.begun"
    "$program" "$FOR" -max_len=$longest -timeout=10 -report_slow_units=$slow -rss_limit_mb=2048 -malloc_limit_mb=512 \
        -dict="$BUILD/tests/fuzz/words.dict" -artifact_prefix="$found/" -print_final_stats=1 \
        "$new" "tests/fuzz/corpus/$target" >"$log" 2>&1
    code=$?
    runs=$(sed -n 's/^stat::number_of_executed_units: *//p' "$log")
    rate=$(sed -n 's/^stat::average_exec_per_sec: *//p' "$log")
    # Slow by the clock may be a busy machine: a finding is what takes so many seconds of work once more.
    # shellcheck disable=SC3045
    for input in "$found"/slow-unit-*; do
        [ ! -e "$input" ] || { (ulimit -t $slow; "$program" "$input") >/dev/null 2>&1 && rm -f "$input"; }
    done
    findings=$(find "$found" -type f -newer "$found/.begun" ! -name .begun)
    n=$(printf '%s' "$findings" | grep -c .)
    [ "$code" = 0 ] || [ "$n" -gt 0 ] || n=1
    printf '%-9s %10s executions  %7s a second  %s findings  %s\n' "$target" "${runs:-0}" "${rate:-0}" "$n" \
        "$(sed -n 's/^model: //p' "$log")"
    [ "$n" = 0 ] && return 0
    for input in $findings; do
        echo "    $program $input"
    done
    [ -n "$findings" ] || tail -n 5 "$log"
    return 1
}

if [ "$targets" = --one ]; then # from xargs below
    FOR=$3
    one "$4"
    exit
fi
printf '%s\n' $targets | xargs -P "${JOBS:-2}" -I{} sh "$0" "$BUILD" --one "$FOR" {}
