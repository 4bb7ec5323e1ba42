# What the scripts of tests/cli share, read with `.` from the project's top folder: the program, a box that is thrown away,
# and checks that are counted. A script ends with the line that counted_out prints.
brevis=${BREVIS:-build/brevis}
case $brevis in /*) ;; *) brevis=$PWD/$brevis ;; esac
BREVIS=$brevis # for scripts of the docs, which are run in other folders
export BREVIS
box=$(mktemp -d) || exit 1
trap 'rm -rf "$box"' EXIT
passed=0
failed=0

check() { # check WHAT COMMAND...
    what=$1
    shift
    if "$@"; then
        passed=$((passed + 1))
    else
        failed=$((failed + 1))
        echo "FAILED: $what"
        [ ! -s "$box/stderr" ] || cat "$box/stderr"
    fi
}

exits() { # exits CODE COMMAND...: with this code, and a line on stderr unless it is 0
    code=$1
    shift
    "$@" >"$box/stdout" 2>"$box/stderr" </dev/null
    found=$?
    [ "$found" = "$code" ] || { echo "exit $found instead of $code: $*"; return 1; }
    [ "$code" = 0 ] || [ -s "$box/stderr" ]
}

says() { grep -q -e "$1" "$box/stderr"; }
tells() { grep -q -e "$1" "$box/stdout"; }
absent() { [ ! -e "$1" ]; }
rows() { # rows FILE N: so many rows below the header, each as long as the header
    awk -F, -v n="$2" 'NR == 1 { wide = NF } NF != wide { bad = 1 } END { exit bad || NR != n + 1 }' "$1"
}
crlf() { ! grep -qv "$(printf '\r')\$" "$@"; } # crlf FILE...: lines end as RFC 4180 has it
hand=$PWD/scenarios/hand_532nm.yaml

counted_out() {
    echo "$passed passed, $failed failed"
    [ "$failed" = 0 ]
}
