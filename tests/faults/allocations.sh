#!/bin/sh
# Every command with one call for memory that fails, and another, and another: see tests/faults/every_allocation.c. Twice: by
# wrapper under the address sanitizer, and with the C library's own calls failing too.
#     sh tests/faults/allocations.sh BUILD [short]
# short: some commands, few calls, without the sanitizer, ten seconds. FULL=1: every call of every command. ONLY=NAME...: these.
cd "$(dirname -- "$0")/../.." || exit 1
build=${1:-build}
short=${2:-}
faults=$build/faults
case $build in /*) ;; *) faults=$PWD/$faults ;; esac
brevis=${BREVIS:-$build/brevis}
case $brevis in /*) ;; *) brevis=$PWD/$brevis ;; esac
BREVIS=$brevis # for the scripts that xargs starts
export BREVIS
box=$(mktemp -d) || exit 1
trap 'rm -rf "$box"' EXIT
here=$PWD
scenarios=$here/tests/faults/scenarios

# In place of gnuplot: a picture at once, whole as its format has it.
mkdir "$box/bin"
printf '%s\n' '#!/bin/sh' 'case $6 in svg) echo "<svg> a picture at once </svg>" ;; *) echo "a picture at once IEND" ;; esac >"$5"' >"$box/bin/gnuplot"
chmod +x "$box/bin/gnuplot"
PATH=$box/bin:$PATH
export PATH

one() { # one NAME WANTED FIRST SECONDS MODE WORDS...: MODE is wrapped or front, once or on
    name=$1 wanted=$2 first=$3 seconds=$4 mode=$5
    shift 5
    own=$box/$name-$mode
    mkdir "$own"
    # Points that were kept by a run that ended, for a command that goes on with them.
    case $name in
    sweep_resumed) "$brevis" sweep --no-figures --quiet --part 1/1 --vary light.spot=2mm..4mm:3 --out "$own/kept" "$scenarios/small.yaml" &&
        sed '$d' "$own/kept.parts/1_of_1" >"$own/line" && mv "$own/line" "$own/kept.parts/1_of_1" && mv "$own/kept.parts" "$own/parts" ;;
    sweep_join) for part in 1 2; do "$brevis" sweep --no-figures --quiet --part $part/2 --vary light.spot=2mm..4mm:3 --out "$own/kept" "$scenarios/small.yaml"; done
        mv "$own/kept.parts" "$own/parts" ;;
    esac
    case $mode in
    wrapped*) program=$faults/brevis ;;
    *) program=$brevis; set -- LD_PRELOAD_IN_FRONT="$faults/allocation.so" "$@" ;;
    esac
    case $mode in *_on) set -- BREVIS_FAIL_ON=1 "$@" ;; esac
    # What stands before the command's name is for the environment.
    settings=''
    while case $1 in *=*) true ;; *) false ;; esac do settings="$settings $1"; shift; done
    # shellcheck disable=SC2086 # settings are several words
    env $settings OMP_NUM_THREADS=1 ASAN_OPTIONS=exitcode=77:allocator_may_return_null=1 UBSAN_OPTIONS=halt_on_error=1:exitcode=77 BREVIS_KNOWN_LEAKS="$here/tests/faults/known_leaks.txt" \
        "$faults/every_allocation" "$own" "$first" "$seconds" "$name, $mode" "$wanted" "$program" "$@"
    code=$?
    rm -rf "$own"
    return $code
}

if [ "${WORK:-}" ]; then # one line of the table in one mode, for xargs below
    # shellcheck disable=SC2086 # several words
    set -- $WORK
    mode=$1 first=$2 seconds=$3 name=$4 wanted=$5
    shift 6
    # shellcheck disable=SC2046 # several words
    one "$name" "$wanted" "$first" "$seconds" "$mode" $(echo "$*" | sed "s#S/#$scenarios/#g")
    exit
fi

modes='wrapped wrapped_on front front_on'
first=300 seconds=${SECONDS_EACH:-12}
[ -z "${FULL:-}" ] || seconds=0
if [ "$short" ]; then modes='front front_on' first=12 seconds=0.4; fi
log=$box/log
for mode in $modes; do
    grep -v '^#' tests/faults/cases.txt | while read -r name wanted in_short words; do
        [ -z "$short" ] || [ "$in_short" = short ] || continue
        [ -z "${ONLY:-}" ] || case " $ONLY " in *" $name "*) ;; *) continue ;; esac
        echo "$mode $first $seconds $name $wanted $in_short $words"
    done
done >"$box/work"
xargs -P "${JOBS:-2}" -d '\n' -n 1 sh -c 'WORK=$2 sh tests/faults/allocations.sh "$1" || true' sh "$build" <"$box/work" >"$log"
cat "$log"
passed=$(grep -c '^ok ' "$log")
failed=$(($(wc -l <"$box/work") - passed))
echo "$passed passed, $failed failed"
[ "$failed" = 0 ]
