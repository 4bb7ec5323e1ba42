#!/bin/sh
# What is different at a terminal: as wide as it is, labels bold, what is grave marked, long work tells how far it is. And what
# is not: pipes and files get the same text as ever. `script` of util-linux makes the terminal; without it this is left out.
#     sh tests/cli/terminal.sh
cd "$(dirname -- "$0")/../.." || exit 1
. tests/support/cli.sh

escape=$(printf '\033')
unmarked() { ! grep -q "$escape" "$1"; }
narrow() { # narrow FILE COLUMNS: but for the title's line and what is one word
    LC_ALL=C awk -v most="$2" '
        /^brevis / { next }
        { line = $0; gsub(/[\200-\277]/, "", line); sub(/^ +/, "", line) }
        length($0) > most && line ~ / / { print FILENAME ": " $0; bad = 1 }
        END { exit bad }' "$1"
}

# ---- pipes and files ----

check 'into a pipe' exits 0 env TERM=xterm COLUMNS=60 "$brevis" run --no-figures --out "$box/pipe" "$hand"
check '  no marks' unmarked "$box/stdout"
cp "$box/stdout" "$box/piped"
check '  as wide as ever: COLUMNS is of terminals' exits 0 "$brevis" run --no-figures --force --out "$box/pipe" "$hand"
check '  the same bytes' cmp -s "$box/stdout" "$box/piped"
check '  nothing on stderr' test ! -s "$box/stderr"

if ! script -qec true /dev/null >/dev/null 2>&1 </dev/null; then
    echo 'left out: no `script` here to make a terminal'
    counted_out
    exit
fi

# at COLUMNS WORDS...: the answer at a terminal so wide, in $box/seen; stderr apart, in $box/stderr
at() {
    columns=$1
    shift
    printf 'stty cols %s rows 50\n"%s" %s 2>"%s"\n' "$columns" "$brevis" "$*" "$box/stderr" >"$box/typed"
    env -u COLUMNS -u NO_COLOR "TERM=${term-xterm}" script -qec "sh $box/typed" /dev/null </dev/null >"$box/raw"
    code=$?
    tr -d '\r' <"$box/raw" >"$box/seen"
    return $code
}
sees() { grep -qF -e "$1" "$box/seen"; }
words() { sed "s/$escape\[[0-9;]*m//g" "$1" | tr -s ' \n' '\n\n'; }
same_words() { words "$1" >"$box/one"; words "$2" >"$box/other"; cmp -s "$box/one" "$box/other"; }

# ---- width and marks ----

check 'at 80 columns' at 80 run --no-figures --force --out "$box/pipe" "$hand"
sed "s/$escape\[[0-9;]*m//g" "$box/seen" >"$box/plain"
check '  no line is wider' narrow "$box/plain" 80
check '  no word is lost' same_words "$box/seen" "$box/piped"
check '  labels are bold' sees "${escape}[1mASKED${escape}[0m  "
check '  the caution is marked' sees "${escape}[1;31mCAUTION${escape}[0m  Teaching"
check '  and what is grave' sees "neighbour ${escape}[1;31mABOVE${escape}[0m its sign"
check '  not green, whatever it says' test -z "$(grep -e "${escape}\[[0-9;]*[34]2m" "$box/seen")"
check '  summary.txt has no marks' unmarked "$box/pipe/summary.txt"
check '  and is as wide as ever' test -z "$(sed '/^OPEN/,$d' "$box/piped" | diff - "$box/pipe/summary.txt")"

check 'at 200 columns' at 200 run --no-figures --force --out "$box/pipe" "$hand"
sed "s/$escape\[[0-9;]*m//g" "$box/seen" >"$box/plain"
check '  as into a pipe, but for marks' cmp -s "$box/plain" "$box/piped"
check 'at 20 columns' at 20 run --no-figures --force --out "$box/pipe" "$hand"
sed "s/$escape\[[0-9;]*m//g" "$box/seen" >"$box/plain"
check '  60 are the least' narrow "$box/plain" 60
check '  no word is lost' same_words "$box/seen" "$box/piped"

check 'NO_COLOR' at 80 '--help >/dev/null; NO_COLOR=1' "$brevis" run --no-figures --force --out "$box/pipe" "$hand"
check '  no marks' unmarked "$box/seen"
check 'NO_COLOR that holds nothing' at 80 '--help >/dev/null; NO_COLOR=' "$brevis" run --no-figures --force --out "$box/pipe" "$hand"
check '  marks' sees "${escape}[1mASKED"
term=dumb
check 'TERM=dumb' at 80 run --no-figures --force --out "$box/pipe" "$hand"
check '  no marks' unmarked "$box/seen"
unset term
check 'COLUMNS goes before what the terminal says' at 80 '--help >/dev/null; COLUMNS=66' "$brevis" run --no-figures --force --out "$box/pipe" "$hand"
sed "s/$escape\[[0-9;]*m//g" "$box/seen" >"$box/plain"
check '  it does' narrow "$box/plain" 66
check 'JSON at a terminal' at 60 run --json --no-figures --force --out "$box/pipe" "$hand"
check '  is the file, without marks' cmp -s "$box/seen" "$box/pipe/summary.json"

each() { # each NAME WORDS...
    name=$1
    shift
    check "$name at 70 columns" at 70 "$@" --force --out "$box/each"
    sed "s/$escape\[[0-9;]*m//g" "$box/seen" >"$box/plain"
    check '  no line is wider' narrow "$box/plain" 70
    check '  marked' sees "${escape}[1;31mCAUTION"
}
each compare compare --no-figures scenarios/compare/same_energy_through_spots.yaml
each cover cover --no-figures scenarios/cover_cheek_1064nm.yaml
each ladder ladder scenarios/test_spots_694nm.yaml
each room room scenarios/room_1064nm.yaml
each output output --no-figures scenarios/readings/weekly_1064nm.csv scenarios/cheek_1064nm.yaml
each reported reported --no-figures scenarios/cheek_1064nm.yaml
each sweep sweep --no-figures --vary light.spot=2mm..4mm:3 scenarios/hand_532nm.yaml

# ---- long work ----

at_all() { # at_all WORDS...: stderr is the terminal too
    printf '%s\n' "$*" >"$box/typed"
    TERM=xterm script -qec "sh $box/typed" /dev/null </dev/null >"$box/seen"
}
at_all "'$brevis'" visits --threads 1 --quiet --no-figures --force --out "$box/each" scenarios/visits_1064nm.yaml # 3 s
check 'what is not counted tells how long it is at it' grep -q 'at work for 1 s' "$box/seen"
check '  and clears its line' grep -q "$escape\[K" "$box/seen"
at_all timeout -s TERM 12 "'$brevis'" window --quiet --no-figures --out "$box/long" "$hand"
check 'a window counts its runs' grep -q '[0-9] of 120 runs, [0-9]* s left' "$box/seen"

counted_out
