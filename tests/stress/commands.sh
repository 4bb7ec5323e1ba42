#!/bin/sh
# The other commands on scenarios of the stress run: each ends by itself, with 0, or with 3 or 5 and a reason, within its
# time, with one thread, and shows nobody a number that is none. `window` and `spread` solve each scenario some fifty times:
# they get rows of the design only, whose skins have few layers.
#     make stress-commands [EVERY=20] [SEED=7]     every 20th scenario; the usual is every 50th
# usage: sh tests/stress/commands.sh PROGRAM TEXTS EVERY SEED
set -u
cd "$(dirname "$0")/../.." || exit 1
BREVIS=$1
. tests/support/cli.sh
texts=$2
most=60 # seconds

quiet_numbers() { # what is for people holds no nan and no inf
    ! cat "$box/stdout" "$box/stderr" "$box"/out/*.txt 2>/dev/null | grep -wiE -e '-?(nan|inf)'
}
ends() { # ends COMMAND...
    rm -rf "$box/out"
    timeout "$most" "$@" >"$box/stdout" 2>"$box/stderr" </dev/null
    found=$?
    case $found in
    0) quiet_numbers ;;
    3 | 5) [ -s "$box/stderr" ] && absent "$box/out" && quiet_numbers ;;
    *) echo "exit $found: $*" && return 1 ;;
    esac
}
on() { # on COMMAND FILE [OPTIONS]
    command=$1
    file=$2
    shift 2
    check "$command of $(basename "$file" .yaml)" ends "$brevis" "$command" "$@" "$file" --out "$box/out" --threads 1
}

mkdir -p "$box/texts"
"$texts" "$box/texts" "$3" "$4" || exit 1
for file in "$box"/texts/*.yaml; do
    check "tissue of $(basename "$file" .yaml)" ends "$brevis" tissue "$file"
    on room "$file"
    on reported "$file" --no-figures
    on colour "$file" --no-figures
    on cover "$file" --no-figures --set 'cover={overlap: 20 %, area: 100 cm2, rate: 2 /s}'
    on ladder "$file" --set 'ladder={first: 0.5 J/cm2, ratio: 1.3, count: 4}'
    on visits "$file" --no-figures --set 'visits={count: 3, returns: 10 %}'
    case $file in */row_*) ;; *) continue ;; esac
    on window "$file" --no-figures
    on spread "$file" --no-figures --draws 32
done
counted_out
