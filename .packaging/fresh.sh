#!/bin/sh
# Makes a bare Debian 12 in a folder, unpacks what is committed into it, and runs the commands of README's first block there,
# as they stand: as root, as a user with sudo, and as a user without, who must be told what to ask for. Prints a table of
# times (seconds by the clock, those of apt, the rest, and the work of the processor) and sizes, and ends with
# `N passed, N failed`. Needs root, for chroot.
# usage: sh .packaging/fresh.sh   (make fresh)
#   FRESH=folder    where the roots go; otherwise a folder of its own below BUILD, removed in the end
#   FRESH_QUICK=1   only the first of the two commands
#   FRESH_BARE=tree a bare root with make and gcc that is there already; it is copied
#   ROOT_WAY=apt    a root without debootstrap
set -u
cd "$(dirname "$0")/.." || exit 1
. .packaging/root.sh
unset MAKEFLAGS MFLAGS MAKELEVEL || : # those of the make that called are not for the makes in there

leave() {
    echo "make fresh: $*" >&2
    exit 1
}
[ "$(id -u)" = 0 ] || leave 'root is needed, for chroot; nothing was tried'
commit=$(git rev-parse HEAD 2>/dev/null) || leave 'what is tried is what git has as committed; this folder is no clone'
sh .ci/need.sh fresh || echo 'make fresh: goes on without debootstrap'

logs=${BUILD:-build}/fresh
mkdir -p "$logs" || exit 1
if [ -n "${FRESH:-}" ]; then
    mkdir -p "$FRESH" && [ -z "$(ls -A "$FRESH")" ] || leave "$FRESH is not an empty folder"
    place=$(cd "$FRESH" && pwd -P)
else
    place=$(cd "$logs" && mktemp -d "$PWD/roots.XXXXXX") || exit 1
fi
[ "$(df -Pk "$place" | awk 'NR == 2 { print int($4 / 1e6) }')" -ge 4 ] || leave "less than 4 GB are free in $place"

finish() {
    root_stop
    rm -f "$logs/lines"
    for tree in "$place"/*/; do root_remove "${tree%/}"; done
    rm -f "$place"/*.log "$place"/*.way
    rmdir "$place" 2>/dev/null
}
trap finish EXIT
trap 'exit 130' INT
trap 'exit 143' TERM HUP

passed=0
failed=0
check() { # check WHAT COMMAND...
    title=$1
    shift
    if "$@"; then
        passed=$((passed + 1))
    else
        failed=$((failed + 1))
        echo "FAILED: $title"
    fi
}
now() { date +%s.%N; }
since() { awk -v from="$1" -v to="$(now)" 'BEGIN { printf "%.1f", to - from }'; }
below() { awk -v found="$1" -v most="$2" 'BEGIN { exit !(found != "" && found < most) }'; }
megabytes() { du -sxm "$1" | cut -f 1; }
packages() { root_enter "$1" dpkg-query -W; }

# ---- README's commands ----
awk '/^    / { found = 1; print; next } found { exit }' README.md | sed 's/^ *//; s/ *#.*//' >"$logs/commands.txt"
first=$(sed -n 1p "$logs/commands.txt")
second=$(sed -n 2p "$logs/commands.txt")
check "README.md begins with two commands: $first, $second" [ "$(wc -l <"$logs/commands.txt")" = 2 ]

# ---- a bare root with make and a compiler ----
bare=${FRESH_BARE:-$place/bare}
make_bare() {
    began=$(now)
    root_make "$bare" || { tail -n 20 "$bare.log"; leave 'no root could be made'; }
    echo "A bare Debian by $(cat "$bare.way"): $(since "$began") s, $(megabytes "$bare") MB"
    root_enter "$bare" sh -c 'export DEBIAN_FRONTEND=noninteractive
        apt-get update -qq && apt-get install -y -qq --no-install-recommends make gcc && apt-get clean &&
        rm -rf /var/lib/apt/lists/*' >"$logs/bare.log" 2>&1 ||
        { tail -n 20 "$logs/bare.log"; leave 'make and gcc could not be installed'; }
}
[ -n "${FRESH_BARE:-}" ] || make_bare
root_private || echo 'No namespaces are allowed here: /proc is missing in the roots'
echo "With make and gcc: $(megabytes "$bare") MB"
echo

# tree NAME FOLDER [USER]: a copy of the bare root with the project as committed in FOLDER, and USER to own it
tree() {
    cp -ax "$bare" "$place/$1" || leave 'a root could not be copied'
    [ -z "${3:-}" ] || root_enter "$place/$1" useradd -m -s /bin/sh "$3"
    mkdir -p "$place/$1$2/brevis" && git archive "$commit" | tar -x -C "$place/$1$2/brevis"
    [ -z "${3:-}" ] || root_enter "$place/$1" chown -R "$3": "$2"
}

# What the processor did for all that was waited for until `times >$logs/times.txt`, which counts in this shell only: seconds.
children() { awk 'NR == 2 { split($0, t, /[ms ]+/); printf "%.1f", t[1] * 60 + t[2] + t[3] * 60 + t[4] }' "$logs/times.txt"; }

# run CASE COMMAND as root|trainee: sets code, seconds, apt (seconds of them); each line with its time goes to the log.
run() {
    name=$1
    what=$2
    log=$logs/$name-$(echo "$what" | tr -c 'a-z0-9\n' _).log
    [ ! -e "$log" ] || log=${log%.log}-again.log
    case $3 in
    root) set -- sh -c "cd /root/brevis && $what" ;;
    *) set -- su - "$3" -c "cd brevis && $what" ;;
    esac
    began=$(now)
    times >"$logs/times.txt"
    before_work=$(children)
    rm -f "$logs/lines" && mkfifo "$logs/lines"
    while IFS= read -r line; do printf '%s %s\n' "$(now)" "$line"; done <"$logs/lines" >"$log" &
    reader=$!
    root_enter "$place/$name" "$@" >"$logs/lines" 2>&1
    code=$?
    times >"$logs/times.txt" # the reader, which takes its share for every line, is waited for after this
    work=$(children)
    wait $reader
    seconds=$(since "$began")
    apt=$(awk '$2 == "Installing" && !from { from = $1 } from && $2 == "CC" { printf "%.1f", $1 - from; exit }' "$log")
    [ -n "$apt" ] || apt=0
    own=$(awk -v all="$seconds" -v apt="$apt" 'BEGIN { printf "%.1f", all - apt }')
    work=$(awk -v all="$work" -v before="$before_work" 'BEGIN { printf "%.1f", all - before }')
    line=$(printf '%-8s %-10s %5s %8s %8s %8s %8s' "$name" "$what" "$code" "$seconds" "$apt" "$own" "$work")
    echo "$line" | tee -a "$logs/table.txt"
}
said() { sed 's/^[0-9.]* //' "$log"; }
tells() { said | grep -q -e "$1"; }
show() { [ "$1" = "$code" ] || said | tail -n 30; }

# opened TREE FOLDER: what the run names under OPEN is there and whole
opened() {
    out=$place/$1$2/brevis/$(said | sed -n 's/^OPEN  *\([^:]*\):.*/\1/p')
    check "$1: the figure it names is a PNG" [ "$(head -c 8 "$out/temperature.png" 2>/dev/null | od -An -tx1)" = ' 89 50 4e 47 0d 0a 1a 0a' ]
    check "$1: with its end, over 10 kB" sh -c 'tail -c 12 "$1" | grep -q IEND && [ "$(wc -c <"$1")" -gt 10000 ]' \
        sh "$out/temperature.png"
    check "$1: the page it names is whole" sh -c 'tail -n 1 "$1" | grep -q "</html>"' sh "$out/report.html"
}

# both CASE USER FOLDER: what README promises, command by command
both() {
    before=$(megabytes "$place/$1")
    run "$1" "$first" "$2"
    show 0
    check "$1: $first ends with 0" [ "$code" = 0 ]
    check "$1: it says what it installs and how" tells '^Installing with: .*apt-get install '
    check "$1: without apt it lasts $own s, less than $(limit 60)" below "$own" "$(limit 60)"
    opened "$1" "$3"
    figure=$(cksum <"$out/temperature.png")
    after=$(megabytes "$place/$1")
    fetched=$(du -cm "$place/$1"/var/cache/apt/archives/*.deb | awk 'END { print $1 }')
    built=$(megabytes "$place/$1$3/brevis")
    echo "         apt fetched $fetched MB; the root grew from $before to $after MB, of them $built MB the project"

    run "$1" "$first" "$2"
    show 0
    check "$1: $first again ends with 0" [ "$code" = 0 ]
    check "$1: and installs nothing" [ "$apt" = 0 ]
    check "$1: in $seconds s, less than $(limit 5)" below "$seconds" "$(limit 5)"
    check "$1: the same figure" [ "$(cksum <"$out/temperature.png")" = "$figure" ]

    [ -z "${FRESH_QUICK:-}" ] || return 0
    run "$1" "$second" "$2"
    last=$(said | tail -n 1)
    [ "$code" = 0 ] || said | grep -A 40 '^  FAIL' | head -n 200
    check "$1: $second ends with 0" [ "$code" = 0 ]
    check "$1: its last line counts, and nothing failed: $last" \
        sh -c 'echo "$1" | grep -qE "^[1-9][0-9]* passed, 0 failed$"' sh "$last"
    echo "         $last"
}

# told CASE WHY: neither command installs anything, both end with a command to run
told() {
    for goal in "$first" "$second"; do
        run "$1" "$goal" trainee
        check "$1, $2: $goal does not end with 0" [ "$code" != 0 ]
        check "$1, $2: $goal says what is missing" tells '^brevis needs: .*libgsl-dev'
        check "$1, $2: $goal prints the command" tells '^    apt-get update && apt-get install '
        check "$1, $2: $goal installs nothing" [ "$(packages "$place/$1")" = "$had" ]
    done
}

# limit SECONDS: those of an idle machine; where others want the cores too, the same work waits for its share.
limit() { awk -v idle="$1" -v cores="$(nproc)" '{ busy = $1 / cores; printf "%.0f", idle * (busy > 1 ? busy : 1) }' /proc/loadavg; }

rm -f "$logs"/root-* "$logs"/sudo-* "$logs"/plain-*
: >"$logs/table.txt"
echo "Load of the machine before: $(cut -d " " -f 1 /proc/loadavg) on $(nproc) cores"
printf '%-8s %-10s %5s %8s %8s %8s %8s\n' who command exit seconds apt rest work

# ---- 1. as root ----
tree root /root
both root root /root
root_remove "$place/root"

# ---- 2. a user who may use sudo, without a terminal to ask for a password ----
tree sudo /home/trainee trainee
root_enter "$place/sudo" sh -c 'export DEBIAN_FRONTEND=noninteractive
    apt-get update -qq && apt-get install -y -qq --no-install-recommends sudo && apt-get clean && rm -rf /var/lib/apt/lists/* &&
    echo "trainee ALL=(ALL) NOPASSWD: ALL" >/etc/sudoers.d/trainee' >"$logs/sudo-itself.txt" 2>&1 ||
    leave 'sudo could not be installed'
cp -ax "$place/sudo" "$place/plain" # before the project runs in it
both sudo trainee /home/trainee
check 'sudo: nothing in the project belongs to root' [ -z "$(find "$place/sudo/home/trainee/brevis" -user root)" ]
root_remove "$place/sudo"

# ---- 3. a user who may not: sudo is there and refuses, then is not there at all ----
had=$(packages "$place/plain")
rm "$place/plain/etc/sudoers.d/trainee"
told plain 'sudo refuses'
mv "$place/plain/usr/bin/sudo" "$place/plain/root/sudo"
told plain 'no sudo'
run plain "$first" trainee
command=$(said | sed -n 's/^    \(apt-get update && .*\)/\1/p')
if root_enter "$place/plain" sh -c "$command" >"$logs/plain-administrator.txt" 2>&1; then ran=0; else ran=1; fi
check 'plain: an administrator can run the printed command as it stands' [ "$ran" = 0 ]
run plain "$first" trainee
show 0
check 'plain: then the user has the figure' [ "$code" = 0 ]
opened plain /home/trainee

echo "$passed passed, $failed failed"
[ "$failed" = 0 ]
