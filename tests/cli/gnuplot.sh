#!/bin/sh
# A gnuplot that is missing, fails, hangs, is killed, writes nothing or half a picture, or never stops talking: results all
# the same, no picture that is not whole, no temporary left, one line that says why; and what Ctrl-C leaves behind: nothing.
# Stand-ins for gnuplot come first in PATH. One of them hangs and costs the 20 seconds that a picture is given.
#     sh tests/cli/gnuplot.sh
cd "$(dirname -- "$0")/../.." || exit 1
. tests/support/cli.sh

mkdir "$box/bin" "$box/empty"
stand_in() { # stand_in LINES...: this is gnuplot now; $5 is the picture it is to draw
    printf '%s\n' '#!/bin/sh' "$@" >"$box/bin/gnuplot"
    chmod +x "$box/bin/gnuplot"
}
run() { exits "$1" env PATH="$box/bin:$PATH" "$brevis" run --quiet --force --threads 2 --out "$box/run" "$hand"; }
numbers_only() { # results without pictures, and nothing hidden
    [ -s "$1/summary.json" ] && [ -s "$1/temperature.csv" ] &&
        [ "$(find "$1" -name '.*' -o -name '*.svg' -o -name '*.png' | wc -l)" = 0 ]
}
one_line() { [ "$(wc -l <"$box/stderr")" = 1 ]; }
plain() { ! LC_ALL=C grep -q "$(printf '[\001-\010\013-\037\177]')" "$1"; } # no control characters
alone() { [ "$(ls -A "$1" | wc -l)" = "$2" ]; }

# ---- missing ----

check 'missing: exit 0' exits 0 env PATH="$box/empty" "$brevis" run --quiet --out "$box/missing" "$hand"
check '  says how to get it' says 'gnuplot was not found; `apt install gnuplot-nox`'
check '  in one line' one_line
check '  numbers, no pictures' numbers_only "$box/missing"
check 'missing, another command: exit 0' exits 0 env PATH="$box/empty" "$brevis" colour --quiet --out "$box/colour" "$hand"
check '  says so too' says '^brevis colour: figures are missing: gnuplot was not found'
check '  in one line' one_line

# ---- fails ----

stand_in 'echo warning: first >&2' 'printf "line 7: \033[31mno such\tthing\n\n" >&2' 'exit 1'
check 'fails: exit 0' run 0
check '  its last line is shown, without what moves a cursor' says 'gnuplot failed: line 7: ?\[31mno such?thing$'
check '  and nothing else' one_line
check '  numbers, no pictures' numbers_only "$box/run"

stand_in 'exit 3'
check 'fails in silence' run 0
check '  the code is shown' says 'it did not say why (exit code 3)'

stand_in 'kill -9 $$'
check 'killed by a signal: exit 0' run 0
check '  said' says 'gnuplot failed: it was ended by signal 9'
check '  numbers, no pictures' numbers_only "$box/run"

stand_in ': >"$5"'
check 'an empty picture: exit 0' run 0
check '  said' says 'gnuplot left no whole temperature.svg'
check '  numbers, no pictures' numbers_only "$box/run"

stand_in 'echo "<svg>" >"$5"' 'echo half >&2' 'exit 1'
check 'half a picture and a failure: exit 0' run 0
check '  said' says 'gnuplot failed: half'
check '  numbers, no pictures' numbers_only "$box/run"

stand_in 'echo "<svg> <g> and so on for a while" >"$5"'
check 'half a picture, as on a full disk, and no failure: exit 0' run 0
check '  said' says 'gnuplot left no whole temperature.svg'
check '  numbers, no pictures' numbers_only "$box/run"

stand_in 'head -c 1000000 /dev/zero | tr "\000" x >&2' 'echo >&2' 'echo the end of it >&2' 'exit 1'
check 'a megabyte of complaints: exit 0' run 0
check '  the last line of it is shown' says 'gnuplot failed: the end of it$'
check '  in one line' one_line
stand_in 'head -c 1000000 /dev/zero | tr "\000" x >&2' 'exit 1'
check 'a megabyte without a line: exit 0' run 0
check '  is cut' test "$(wc -c <"$box/stderr")" -lt 700

printf 'no program' >"$box/bin/gnuplot"
chmod 000 "$box/bin/gnuplot"
check 'not to be started: exit 0' exits 0 env PATH="$box/bin" "$brevis" run --quiet --force --out "$box/run" "$hand"
check '  said in one line' one_line
check '  numbers, no pictures' numbers_only "$box/run"
chmod 700 "$box/bin/gnuplot"

# ---- one picture fails, the others are drawn ----

if real=$(command -v gnuplot); then
    stand_in "case \$5 in *.depth.png.part) echo oh >&2; exit 1 ;; esac" "exec $real \"\$@\""
    check 'one picture fails: exit 0' run 0
    check '  said' says 'gnuplot failed: oh'
    check '  it is not there' absent "$box/run/depth.png"
    check '  others are' test -s "$box/run/grain.png" -a -s "$box/run/temperature.svg"
    check '  nothing hidden' test -z "$(find "$box/run" -name '.*')"
fi

# ---- hangs ----

stand_in 'echo x >"$5"' "sleep 300 & echo \$\$ \$! >>'$box/hung'" 'wait' 'echo never'
began=$(date +%s)
check 'hangs: exit 0' run 0
took=$(($(date +%s) - began))
check '  said' says 'gnuplot took longer than 20 s'
check '  numbers, no pictures' numbers_only "$box/run"
check "  it costs 20 s once (took $took s)" test "$took" -ge 20 -a "$took" -lt 40
check '  no more than two were tried, by two threads' test "$(wc -l <"$box/hung")" -le 2
runs() { [ -e "/proc/$1/status" ] && ! grep -q '^State:.[ZX]' "/proc/$1/status"; }
none_left() { # none of those that hung, nor what they had started
    while read -r process started; do
        if runs "$process" || runs "$started"; then return 1; fi
    done <"$box/hung"
}
sleep 0.2
check '  none is left' none_left

# ---- told to go ----

wait_until() { # wait_until COMMAND...: up to ten seconds
    tries=0
    until "$@" 2>/dev/null; do
        tries=$((tries + 1))
        [ "$tries" -lt 200 ] || return 1
        sleep 0.05
    done
}
told_to_go() { # told_to_go SIGNAL CODE: while gnuplot hangs
    rm -rf "$box/hung" "$box/gone"
    mkdir "$box/gone"
    # A shell lets what runs behind it ignore Ctrl-C and Ctrl-\, and nohup a line that hangs up; `env` puts that back.
    PATH="$box/bin:$PATH" env --default-signal=INT,HUP,QUIT "$brevis" reported --quiet --out "$box/gone/result" "$hand" >"$box/stdout" 2>"$box/stderr" </dev/null &
    process=$!
    wait_until test -s "$box/hung" || return 1
    kill -s "$1" "$process"
    wait "$process" 2>/dev/null
    code=$?
    sleep 0.2
    [ "$code" = "$2" ]
}
# shellcheck disable=SC3045 # every sh here has ulimit -c
ulimit -c 0 # SIGQUIT would leave its memory behind
for signal in 'INT 130' 'TERM 143' 'HUP 129' 'QUIT 131' 'XCPU 152' 'ALRM 142' 'USR1 138' 'USR2 140'; do
    # shellcheck disable=SC2086 # two words
    check "told to go by $signal: exit code" told_to_go $signal
    check '  gnuplot is ended' none_left
    check '  the directory aside is removed' alone "$box/gone" 0
done
check 'after it the same target can be written' exits 0 "$brevis" run --quiet --no-figures --out "$box/gone/result" "$hand"
before=$(cksum <"$box/gone/result/summary.json")
rm -f "$box/hung"
PATH="$box/bin:$PATH" "$brevis" run --quiet --force --out "$box/gone/result" "$hand" >/dev/null 2>&1 </dev/null &
process=$!
wait_until test -s "$box/hung"
kill -s TERM "$process"
wait "$process" 2>/dev/null
check 'told to go over an older result: it stands whole' test "$before" = "$(cksum <"$box/gone/result/summary.json")"
check '  and nothing beside it' alone "$box/gone" 1

# While it computes, before anything is drawn.
"$brevis" spread --quiet --draws 4096 --no-figures --out "$box/gone/spread" "$hand" >/dev/null 2>&1 </dev/null &
process=$!
is_aside() { find "$box/gone" -name '.spread.part-*' | grep -q .; }
check 'while computing a directory stands aside' wait_until is_aside
sleep 0.3
kill -s TERM "$process"
wait "$process" 2>/dev/null
check 'told to go while computing: nothing is left' alone "$box/gone" 1

# ---- nobody reads what is said ----

mkfifo "$box/words"
unread() { # unread COMMAND...: its stderr is a pipe whose reader has gone by the time there is something to say
    (exec <"$box/words") &
    env --default-signal=PIPE "$@" >"$box/stdout" 2>"$box/words" </dev/null
    code=$?
    wait
    : >"$box/stderr"
    [ "$code" = 0 ] || { echo "exit $code"; return 1; }
}
check 'no gnuplot, and nobody to be told' unread env PATH=/none "$brevis" run --quiet --out "$box/gone/unread" "$hand"
check '  the result stands' test -s "$box/gone/unread/summary.json"
check '  and nothing beside it' alone "$box/gone" 2

counted_out
