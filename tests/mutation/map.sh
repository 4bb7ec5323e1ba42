#!/bin/sh
# Which lines of model/ does each test reach, and how long does it take? Once per program; kept in FOLDER/map.
# Everything runs with the model in FOLDER/reached, which counts its lines.
# usage: tests/mutation/map.sh FOLDER PROGRAM...   (programs as unit/test_base; scripts of tests/cli are added)
# shellcheck disable=SC2046 # a command of several words
set -u
folder=$(cd "$1" && pwd) || exit 1 # whole: scripts go elsewhere, and take LD_LIBRARY_PATH along
shift
map=$folder/map
mkdir -p "$map"
# Scripts that compare results, and pages with tables of the program; the others look at figures, installing, or take minutes.
scripts='pages words run ladder room reported scenario_faults numbers cover compare window visits spread sweep film colour'
LD_LIBRARY_PATH=$folder/reached
export LD_LIBRARY_PATH

command_of() {
    case $1 in cli/*) echo "sh tests/$1.sh" ;; *) echo "$folder/bin/$1" ;; esac
}

seconds() { # seconds COMMAND...: of the processor; the exit code is the command's
    sh -c '"$@" >"$0" 2>&1 </dev/null; code=$?; times >"$0.times"; exit $code' "$map/log" "$@"
    code=$?
    awk -F '[ms ]+' 'NR == 2 { printf "%.2f\n", $1 * 60 + $2 + $3 * 60 + $4 }' "$map/log.times" >"$map/log.seconds"
    return $code
}

lines() { # lines BOX: what was counted in it, as file:line and whether it was reached
    gcov -t -o "$1" "$1"/*.gcda 2>/dev/null | awk -F : '
        $3 == "Source" { file = $4 }
        file ~ /^model\/.*\.c$/ && $2 > 0 {
            gsub(/ /, "", $1); gsub(/ /, "", $2)
            if ($1 ~ /^[0-9]/) print file ":" $2 " 1"
            else if ($1 ~ /^[#=]/) print file ":" $2 " 0"
        }'
}

look() { # look NAME
    name=$(echo "$1" | tr / -)
    set -- $(command_of "$1")
    case $1 in sh) with=$folder/brevis from=$2 ;; *) with=$1 from=$1 ;; esac
    if [ -s "$map/$name.lines" ]; then
        newer=$(find "$with" "$from" "$folder/reached/libmodel.so" -newer "$map/$name.lines")
        [ -n "$newer" ] || return 0
    fi
    box=$map/box
    rm -rf "$box"
    mkdir "$box"
    find "$folder/reached" -name '*.gcno' -exec ln -s {} "$box" \;
    if BREVIS=$folder/brevis GCOV_PREFIX=$box GCOV_PREFIX_STRIP=99 seconds "$@"; then
        lines "$box" >"$map/log.lines"
        awk '{ print $1 }' "$map/log.lines" | sort -u >"$map/executable.new"
        mv "$map/executable.new" "$map/executable"
        mv "$map/log.seconds" "$map/$name.seconds"
        awk '$2 { print $1 }' "$map/log.lines" | sort -u >"$map/$name.new"
        mv "$map/$name.new" "$map/$name.lines"
    else
        rm -f "$map/$name.lines"
        echo "left out, red without a mutant: $name"
        tail -n 5 "$map/log"
    fi
    rm -rf "$box"
}

for program in "$@"; do look "$program"; done
for script in $scripts; do look "cli/$script"; done
