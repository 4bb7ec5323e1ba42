#!/bin/sh
# What stands around the tests: .ci/need.sh on machines that lack something, and how .ci/run adds up, stops and fails. Other
# programs are played by small scripts, so that nothing is installed and nothing waits.
cd "$(dirname "$0")/../.." || exit 1
. tests/support/cli.sh

# ---- need.sh: a machine on which nothing but what is in $box/bin is found ----
mkdir "$box/bin"
for tool in sh grep find; do ln -s "$(command -v $tool)" "$box/bin/$tool"; done
played() { # played NAME TEXT: a program of this name
    printf '#!/bin/sh\n%s\n' "$2" >"$box/bin/$1" && chmod +x "$box/bin/$1"
}
calls=$box/calls
ask() { # ask CODE KIND: need.sh on that machine
    : >"$calls"
    CALLS=$calls PATH=$box/bin "$(command -v sh)" .ci/need.sh "$2" >"$box/stdout" 2>"$box/stderr" </dev/null
    [ $? = "$1" ] || { echo "exit is not $1"; cat "$box/stdout"; return 1; }
}
all='gcc libc6-dev pkg-config libgsl-dev libyaml-dev gnuplot-nox'

played id 'echo 1000'
check 'no apt: it fails' ask 1 demo
check '  and names all that is missing' tells "^brevis needs: $all"
check '  in words for any other system' tells 'no apt'

played apt-get 'echo "apt-get $*" >>"$CALLS"'
check 'a user without sudo: it fails' ask 1 demo
check '  and prints the command' tells "^    apt-get update && apt-get install -y --no-install-recommends $all"
check '  and has called no apt' [ ! -s "$calls" ]
check '  the tests need one thing more' ask 1 test
check '  which is named' tells 'libcmocka-dev$'

played sudo 'exit 1'
check 'sudo that wants a password, and no terminal: it fails' ask 1 demo
check '  and prints the command' tells '^    apt-get update && apt-get install'
check '  and has called no apt' [ ! -s "$calls" ]

played sudo '[ "$1" != -n ] || shift; echo sudo >>"$CALLS"; "$@"'
played true 'exit 0'
check 'sudo that lets the user: it installs' ask 0 demo
check '  and says how' tells '^Installing with: sudo apt-get install'
check '  with sudo, lists first' sh -c 'grep -A 1 -x sudo "$1" | grep -qx "apt-get update -qq"' sh "$calls"
check '  then all that is missing' grep -q "^apt-get install -y --no-install-recommends $all" "$calls"

played id 'echo 0'
check 'root: it installs' ask 0 demo
check '  without sudo' sh -c '! grep -q sudo "$1"' sh "$calls"
played apt-get 'echo "apt-get $*" >>"$CALLS"; [ "$1" = update ]'
check 'an installation that fails: it fails' ask 1 demo
check '  and prints what it tried' tells '^    apt-get update && apt-get install'

# ---- .ci/run: a project whose makefile only counts ----
mkdir -p "$box/project/.ci" && cp .ci/run "$box/project/.ci/run"
echo 'exit 0' >"$box/project/.ci/need.sh"
steps() { # steps TEXT: recipes of test and check, and further targets
    printf 'help:\n\t@:\n.PHONY: help test check\n%b\n' "$1" >"$box/project/Makefile"
}
ci() { # ci CODE [STEP...]
    want=$1
    shift
    sh "$box/project/.ci/run" "$@" >"$box/stdout" 2>"$box/stderr" </dev/null
    [ $? = "$want" ] || { echo "exit is not $want"; cat "$box/stdout"; return 1; }
}
last() { [ "$(tail -n 1 "$box/stdout")" = "$1" ]; }
good='test:\n\t@echo 40 passed, 0 failed\ncheck:\n\t@echo fine\n'

steps "$good"
check 'all well: 0' ci 0
check '  40 tests, check, and two looks at the machine' last '43 passed, 0 failed'
check '  a target that is not there is not called' sh -c '! grep -q stress "$1"' sh "$box/stdout"
steps "$good"'stress:\n\t@echo 7 passed, 0 failed\n'
check 'a deeper run is called where there is one' ci 0
check '  and counted' last '50 passed, 0 failed'
steps 'test:\n\t@echo 40 passed, 2 failed; exit 1\ncheck:\n\t@echo fine\n'
check 'tests that fail' ci 1
check '  are counted once' last '43 passed, 2 failed'
steps 'test:\n\t@echo 40 passed, 0 failed; exit 1\ncheck:\n\t@echo fine\n'
check 'an exit code is not overruled by a count' ci 1
check '  but counted' last '43 passed, 1 failed'
steps 'test:\n\t@echo 0 passed, 0 failed\ncheck:\n\t@echo fine\n'
check 'nothing looked at is no success' ci 1
steps 'test:\n\t@echo 40 passed, 0 failed\ncheck:\n\t@echo stale; exit 1\n'
check 'a step without a count fails by its code' ci 1
check '  once' last '42 passed, 1 failed'
check '  and shows its words' tells '^stale$'
steps 'test:\n\t@sleep 60\ncheck:\n\t@echo fine\n'
began=$(date +%s)
check 'a step that hangs' env LIMIT=1 sh -c 'sh "$1" test >"$2" 2>&1; [ $? = 1 ]' sh "$box/project/.ci/run" "$box/stdout"
check '  is stopped' tells '^test was stopped after 1 s$'
check '  at its limit, not after 60 s' [ $(($(date +%s) - began)) -lt 30 ] # 30: far from both on a busy machine
counted_out
