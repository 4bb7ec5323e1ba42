#!/bin/sh
# Whatever stands in the way of writing: a full disk, a folder that may not be written, streams that are closed, a reader that
# has gone, no folder for temporary files, a target that is something else. After each the old result is there byte for byte,
# a message names the file and the reason, the exit code is right, and nothing of the new result stays beside it.
#     sh tests/faults/writes.sh
cd "$(dirname -- "$0")/../.." || exit 1
. tests/support/cli.sh
scenarios=$PWD/tests/faults/scenarios
small=$scenarios/small.yaml
export OMP_NUM_THREADS=2

run() { # run OUT OPTIONS...
    out=$1
    shift
    "$brevis" run --no-figures --quiet --force --out "$out" "$@" "$small"
}
whole=$box/whole
run "$whole" || exit 1
changed='--set light.pulse=9ns' # another result of about the same size
alone() { [ "$(ls -A "$1" | wc -l)" = "$2" ]; }
coded() { [ "$code" = "$1" ] || { echo "exit $code instead of $1"; return 1; }; }

# ---- no room ----

# In a small file system of its own where that may be mounted; else a limit on the size of a file.
mkdir "$box/disk"
if mount -t tmpfs -o size=4k tmpfs "$box/disk" 2>/dev/null; then
    umount "$box/disk"
    echo 'no room: a small tmpfs'
    size=$(du -sk "$whole" | cut -f1)
    full_at='' free=4
    while [ $free -lt $((2 * size + 40)) ]; do
        # As much as the old result takes, and some room for the new one.
        mount -t tmpfs -o size=$((size + free))k tmpfs "$box/disk" || break
        if cp -r "$whole" "$box/disk/result" 2>/dev/null; then
            # shellcheck disable=SC2086 # two words
            run "$box/disk/result" $changed >"$box/stdout" 2>"$box/stderr" </dev/null
            code=$?
            if [ $code = 0 ]; then
                check "with $free kB it has room: a whole result" test -s "$box/disk/result/report.html" -a -s "$box/disk/result/summary.txt"
                umount "$box/disk"
                break
            fi
            check "no room beyond $free kB: exit 4" coded 4
            check '  the reason is said' says 'No space left on device'
            check '  the file is named' says 'result'
            check '  the old result is whole' diff -r "$whole" "$box/disk/result"
            check '  nothing beside it' alone "$box/disk" 1
            full_at="$full_at $(sed -n 's/.*cannot write [^ ]*\/\([a-z_.]*\): .*/\1/p' "$box/stderr")"
        fi
        umount "$box/disk"
        free=$((free + 4))
    done
    check 'the room ended in one file, and in others' test "$(printf '%s\n' $full_at | sort -u | wc -l)" -ge 3
    echo "no room: the files that failed were$(printf ' %s' $(printf '%s\n' $full_at | sort -u))"
else
    echo 'no room: mount is refused here; a limit on the size of files stands in for it'
fi
limited() { # limited BLOCKS: a file may have so many times 512 bytes
    (
        trap '' XFSZ
        ulimit -f "$1"
        # shellcheck disable=SC2086 # two words
        run "$box/limit/result" $changed >"$box/stdout" 2>"$box/stderr" </dev/null
    )
    code=$?
}
mkdir "$box/limit"
cp -r "$whole" "$box/limit/result"
felt=0
for blocks in 1 2 4 8 16 24 32 48 96 192 4096; do
    limited $blocks
    [ $code != 0 ] || break
    felt=$((felt + 1))
    check "files of $blocks blocks at most: exit 4" coded 4
    check '  file and reason are said' says 'cannot write .*/limit/result/[a-z_.]*: File too large'
    check '  the old result is whole' diff -r "$whole" "$box/limit/result"
    check '  nothing beside it' alone "$box/limit" 1
done
check 'at last the limit is wide enough' coded 0
check 'before that it was felt' test $felt -ge 3

# ---- not allowed ----

if [ "$(id -u)" = 0 ] && command -v setpriv >/dev/null 2>&1; then
    ordinary() { setpriv --reuid=65534 --regid=65534 --clear-groups "$@"; }
    chmod 755 "$box"
elif [ "$(id -u)" != 0 ]; then
    ordinary() { "$@"; }
fi
if type ordinary >/dev/null 2>&1 && ordinary test -x "$brevis" -a -r "$small"; then
    mkdir "$box/locked"
    cp -r "$whole" "$box/locked/result"
    chmod -R a+w "$box/locked/result"
    chmod a-w "$box/locked"
    check 'a folder that may not be written: exit 4' exits 4 ordinary "$brevis" run --no-figures --quiet --force --out "$box/locked/result" "$small"
    check '  folder and reason are said' says 'result cannot be made in .*/locked: Permission denied'
    check '  the old result is whole' diff -r "$whole" "$box/locked/result"
    check '  nothing beside it' alone "$box/locked" 1
    chmod a-w "$box/locked/result"
    check 'a result that may not be changed: exit 4' exits 4 ordinary "$brevis" run --no-figures --quiet --force --out "$box/locked/result" "$small"
    check '  result and reason are said' says 'locked/result may not be changed, so it is kept: Permission denied'
    check '  the old result is whole' diff -r "$whole" "$box/locked/result"
    check 'a new folder below it: exit 4' exits 4 ordinary "$brevis" run --no-figures --quiet --out "$box/locked/a/b" "$small"
    check '  folder and reason are said' says 'b cannot be made: .*/locked/a: Permission denied'
    check 'points of a sweep there: exit 4' exits 4 ordinary "$brevis" sweep --no-figures --quiet --part 1/2 --vary light.spot=2mm..4mm:2 --out "$box/locked/s" "$small"
    check '  folder and reason are said' says 'locked/s.parts: cannot be made: Permission denied'
    cp "$small" "$box/unread.yaml"
    chmod 000 "$box/unread.yaml"
    check 'a scenario that may not be read: exit 4' exits 4 ordinary "$brevis" check "$box/unread.yaml"
    check '  file and reason are said' says 'unread.yaml: .*Permission denied'
    chmod -R u+w "$box/locked"
else
    echo 'not allowed: root writes everywhere and no other user can be taken here: left out'
fi

# ---- something else stands there ----

echo x >"$box/file"
ln -s "$whole" "$box/link"
ln -s "$box/nowhere" "$box/dangling"
check 'the target is a file: exit 4' exits 4 run "$box/file"
check '  said' says 'file is there already and is not a directory'
check '  it is kept' test "$(cat "$box/file")" = x
for link in link dangling; do
    check "the target is a link ($link): exit 4" exits 4 run "$box/$link"
    check '  said' says "$link is a link: name the directory it leads to"
    check '  it is kept' test -h "$box/$link"
done
check '  where it leads to nothing was made' absent "$box/nowhere"
mkfifo "$box/pipe"
check 'the target is a pipe: exit 4' exits 4 run "$box/pipe"
check 'the scenario is a folder: exit 4' exits 4 "$brevis" check "$box"
check '  file and reason are said' says "$box: .*[Dd]irectory"
gone() { (mkdir "$box/gone" && cd "$box/gone" && rmdir "$box/gone" && "$@"); }
check 'the current folder is gone: exit 4' exits 4 gone "$brevis" run --no-figures --quiet --out result "$small"
check '  file and reason are said' says 'result cannot be made in \.: No such file or directory'
check 'the current folder is gone, the target is not: exit 0' exits 0 gone "$brevis" run --no-figures --quiet --out "$box/elsewhere" "$small"
check '  the same bytes' diff -r "$whole" "$box/elsewhere"
for no in /nowhere "$box/file" ''; do
    rm -rf "$box/elsewhere"
    check "no folder for temporary files (TMPDIR='$no'): exit 0" exits 0 env TMPDIR="$no" "$brevis" run --quiet --no-figures --out "$box/elsewhere" "$small"
    check '  the same bytes' diff -r "$whole" "$box/elsewhere"
done

# ---- streams ----

# Every command that prints, with what it prints.
printing() { # printing COMMAND...: calls COMMAND... for each
    "$@" check "$small"
    "$@" explain
    "$@" explain --page
    "$@" tissue "$small"
    "$@" tissue --spectrum "$small"
    "$@" reported --page
    "$@" lesson
    "$@" help
    "$@" help --page
    "$@" help --shell bash
    "$@" --version
    "$@" --help
}
writing() { # writing COMMAND...: those that leave a result as well
    "$@" run --no-figures --force --out "$box/streams/result" "$small"
    "$@" run --no-figures --json --force --out "$box/streams/result" "$small"
    "$@" compare --no-figures --force --out "$box/streams/result" "$scenarios/choices.yaml"
    "$@" sweep --no-figures --force --vary light.spot=2mm..4mm:2 --out "$box/streams/result" "$small"
    "$@" room --force --out "$box/streams/result" "$scenarios/full.yaml"
    "$@" cover --no-figures --force --out "$box/streams/result" "$scenarios/full.yaml"
    "$@" output --no-figures --force --out "$box/streams/result" "$scenarios/readings.csv" "$small"
    "$@" ladder --force --out "$box/streams/result" "$scenarios/full.yaml"
    "$@" reported --force --out "$box/streams/result" "$small"
    "$@" lesson numbers --force --out "$box/streams/result"
}
mkdir "$box/streams"
left_whole() { [ -s "$(find "$box/streams/result" -name 'summary.json' -o -name card.html -o -name handout.html | head -n 1)" ] && alone "$box/streams" "$1"; }

full() { # /dev/full in place of standard output
    "$brevis" "$@" >/dev/full 2>"$box/stderr" </dev/null
    code=$?
    check "/dev/full: $*: exit 4" coded 4
    check '  said' says '^brevis: standard output cannot be written: No space left on device$'
}
full_writing() {
    rm -rf "$box/streams/result"
    full "$@"
    check '  the result stands all the same' left_whole 1
}
if [ -w /dev/full ]; then
    printing full
    writing full_writing
fi
closed() {
    "$brevis" "$@" >&- 2>"$box/stderr" </dev/null
    code=$?
    check "closed standard output: $*: exit 4" coded 4
    check '  said' says '^brevis: standard output cannot be written: Bad file descriptor$'
}
closed_writing() {
    rm -rf "$box/streams/result"
    closed "$@"
    check '  the result stands all the same' left_whole 1
    check '  and holds nothing that was meant for the terminal' sh -c "! grep -l '^OPEN\|^FILES' '$box'/streams/result/*"
}
printing closed
writing closed_writing
no_streams() { # no_streams NAME COMMAND...: files of the result may not be taken for a stream that is closed
    name=$1
    rm -rf "$box/streams/result"
    shift
    "$@"
    code=$?
    check "$name: exit 0" coded 0
    check '  the same bytes' diff -r "$whole" "$box/streams/result"
}
no_streams 'closed standard input' sh -c "\"\$@\" <&-" sh "$brevis" run --no-figures --quiet --out "$box/streams/result" "$small"
no_streams 'closed standard error' sh -c "\"\$@\" 2>&-" sh "$brevis" run --no-figures --quiet --out "$box/streams/result" "$small"
no_streams 'all three closed' sh -c "\"\$@\" <&- >&- 2>&-" sh "$brevis" run --no-figures --quiet --out "$box/streams/result" "$small"
check 'closed standard error, a fault: exit 3' sh -c "'$brevis' check '$scenarios/faulty.yaml' 2>&- >/dev/null; [ \$? = 3 ]"
check 'closed standard input that is wanted: exit 4' sh -c "'$brevis' check - <&- >/dev/null 2>'$box/stderr'; [ \$? = 4 ]"
check '  said' says '^standard input: '

# A reader that goes away: the result is in place before anything is said, so it stands, and a shell sees SIGPIPE.
left() {
    rm -rf "$box/streams/result"
    { "$brevis" "$@" 2>"$box/stderr" </dev/null; echo $? >"$box/code"; } | :
    sleep 0.1
    code=$(cat "$box/code")
    check "a reader that has gone: $*: the result stands" left_whole 1
    check "  it ends by SIGPIPE, or with 4 and a word ($code)" sh -c "[ $code = 141 ] || [ $code = 0 ] || { [ $code = 4 ] && grep -q 'Broken pipe' '$box/stderr'; }"
}
writing left
ignored() {
    (trap '' PIPE; { "$brevis" explain --page 2>"$box/stderr"; echo $? >"$box/code"; } | :)
    code=$(cat "$box/code")
}
ignored
check 'a reader that has gone, SIGPIPE ignored: exit 4' coded 4
check '  said' says 'standard output cannot be written: Broken pipe'

counted_out
