#!/bin/sh
# Draws N mutants of model/ and looks which test turns red for each. What is done already is kept in FOLDER/seed-SEED.
# usage: tests/mutation/mutation.sh FOLDER SEED N     through `make mutation`, which says how to compile and link
#   LONGEST=20     leave out tests that take more seconds      ONLY='3 17'   look at these again
#   AGAIN=1        look again at what has survived              PART='1 2'    only the first half of every two mutants
# What tests/mutation/seed-SEED.txt says of the very same mutant is taken over: hours of an earlier machine.
# shellcheck disable=SC2086,SC3045 # lists of words on purpose; every sh here has ulimit
set -u
folder=$(cd "$1" && pwd) || exit 1 # whole: scripts go elsewhere, and take LD_LIBRARY_PATH along
seed=$2
n=$3
longest=${LONGEST:-1000}
only=${ONLY:-}
again=${AGAIN:-}
map=$folder/map
store=$folder/seed-$seed
mkdir -p "$store"
files=$(ls model/*/*.c)
tab=$(printf '\t')

# ---- the draw: what does not compile, changes no byte of the object, or was drawn before, is drawn again ----
draw() { # draw NUMBER
    try=0
    while :; do
        "$folder/mutate" "$seed" "$1" "$try" "$store/new.c" $files >"$store/new" || exit 1
        try=$((try + 1))
        file=$(cut -f 1 "$store/new")
        mkdir -p "$store/source"
        mv "$store/new.c" "$store/source/${file##*/}" # an object holds the name of what it was made from
        $MUTANT_CC -c -o "$store/$1.o" "$store/source/${file##*/}" 2>/dev/null || continue
        cmp -s "$store/$1.o" "$folder/plain/${file%.c}.o" && continue
        sum=$(cksum <"$store/$1.o")
        grep -qxF "$file $sum" "$store/drawn" 2>/dev/null && continue
        echo "$file $sum" >>"$store/drawn"
        mv "$store/new" "$store/$1.tsv"
        return
    done
}

# A draw depends on those before it, so all of them begin again when one is missing or the model is another.
made_of=$(cat "$folder/plain/libmodel.so" "$folder/mutate" | cksum) # the same bytes built again are the same model
if [ "$made_of" != "$(cat "$store/stamp" 2>/dev/null)" ]; then
    rm -f "$store"/*.*
    : >"$store/drawn"
    echo "$made_of" >"$store/stamp"
fi
i=1
while [ "$i" -le "$n" ]; do
    [ -s "$store/$i.tsv" ] || draw "$i"
    i=$((i + 1))
done

# ---- what is known of the same mutants: file, line, function and change ----
take_over() { # take_over NUMBER
    IFS=$tab read -r file line function first last what <"$store/$1.tsv"
    grep -F "  $file:$line  $function  $what  " "$known" | head -n 1 | sed 's/^ *[0-9]*//' >"$store/$1.now"
    if [ -s "$store/$1.now" ]; then printf '%4d%s\n' "$1" "$(cat "$store/$1.now")" >"$store/$1.txt"; fi
    rm "$store/$1.now"
}

known=tests/mutation/seed-$seed.txt
i=1
while [ -s "$known" ] && [ "$i" -le "$n" ]; do
    [ -s "$store/$i.txt" ] || take_over "$i"
    i=$((i + 1))
done

# ---- the tests that reach a mutant, the quickest first ----
order() { # order FILE LINE FIRST LAST: seconds and names
    file=$1 line=$2 first=$3 last=$4
    if grep -qx "$file:$line" "$map/executable"; then
        who=$(grep -lx "$file:$line" "$map"/*.lines)
    elif [ "$first" -gt 0 ]; then # a table or the rest of a long expression: any test of the function
        who=$(awk -F : -v file="$file" -v first="$first" -v last="$last" '
            $1 == file && $2 >= first && $2 <= last { print FILENAME; nextfile }' "$map"/*.lines)
    elif grep -qE '^(const|struct)[^(]*= *\{' "$file"; then # read from everywhere
        who=$(ls "$map"/*.lines)
    else
        who=$(grep -l "^$file:" "$map"/*.lines)
    fi
    # Seconds a test may take, and its name; ten times what it takes, since a slip may make it slower without an end.
    # The test of unmoved numbers comes early: no other notices as many.
    awk -v who="$who" -v longest="$longest" '
        BEGIN {
            n = split(who, list, "\n")
            for (i = 1; i <= n; i++) { sub(/lines$/, "seconds", list[i]); wanted[list[i]] }
        }
        FILENAME in wanted && $1 <= longest {
            name = FILENAME; sub(/.*\//, "", name); sub(/\.seconds$/, "", name)
            print (name ~ /test_unmoved/ ? 1 : $1), int(10 * $1) + 3, name
        }' "$map"/*.seconds | sort -n
}

# ---- one test against one mutant ----
box=$(mktemp -d) || exit 1
trap 'rm -rf "$box"' EXIT
trap 'exit 130' INT TERM

run() { # run NAME LIMIT MODEL: 0 green, 1 red, 2 without end
    limit=$2 where=$3
    case $1 in
    cli-*) set -- sh "tests/cli/${1#cli-}.sh" ;;
    *) set -- "$folder/bin/${1%%-*}/${1#*-}" ;;
    esac
    (
        ulimit -t "$limit"
        ulimit -v 4000000 # a slip must not take the machine's memory
        ulimit -c 0
        export LD_LIBRARY_PATH="$where" BREVIS="$folder/brevis" TMPDIR="$box"
        timeout $((20 * limit)) "$@" >"$box/log" 2>&1 </dev/null
    )
    code=$?
    case $code in 0) return 0 ;; 124 | 137 | 152) return 2 ;; *) return 1 ;; esac
}

# Scripts wait for processes and send signals, so a busy machine may turn one red: the mutant has to do it twice, and
# the model as it is must not.
verdict() { # verdict NAME LIMIT: as run
    run "$1" "$2" "$box"
    found=$?
    case $found$1 in
    [12]cli-*)
        run "$1" "$2" "$box" && return 0
        run "$1" "$2" "$folder/plain" || return 0
        ;;
    esac
    return $found
}

look() { # look NUMBER: what became of it
    IFS=$tab read -r file line function first last what <"$store/$1.tsv"
    # Same order of objects as ever: the mutant in the place of its file.
    objects=''
    for one in $files; do
        [ "$one" = "$file" ] && objects="$objects $store/$1.o" || objects="$objects $folder/plain/${one%.c}.o"
    done
    $MUTANT_LINK -o "$box/libmodel.so" $objects $MUTANT_LIBS || exit 1
    outcome='survived'
    tests=0
    began=$(date +%s)
    order "$file" "$line" "$first" "$last" >"$box/order"
    while read -r _ limit name; do
        tests=$((tests + 1))
        verdict "$name" "$limit"
        case $? in
        1) outcome="killed by $name" && break ;;
        2) outcome="timed out in $name" && break ;;
        esac
    done <"$box/order"
    # The same tests once more, looked at for memory that nobody gave back: `make sanitize` does so too.
    if [ "$outcome" = survived ]; then
        while read -r _ limit name; do
            case $name in cli-*) continue ;; esac
            [ "$limit" -lt 200 ] || continue # not the longest: they are met again for every survivor
            LD_LIBRARY_PATH=$box LD_PRELOAD=$leak "$folder/bin/${name%%-*}/${name#*-}" >"$box/log" 2>&1 </dev/null
            [ $? = 23 ] || continue
            LD_LIBRARY_PATH=$folder/plain LD_PRELOAD=$leak "$folder/bin/${name%%-*}/${name#*-}" >"$box/log" 2>&1 \
                </dev/null && outcome="killed by $name, which leaks" && break
        done <"$box/order"
    fi
    [ "$tests" -gt 0 ] || outcome="survived: no test of up to $longest s reaches it"
    printf '%4d  %s:%s  %s  %s  %s  (%d s)\n' "$1" "$file" "$line" "$function" "$what" "$outcome" \
        $(($(date +%s) - began)) >"$store/$1.now"
    mv "$store/$1.now" "$store/$1.txt"
    cat "$store/$1.txt"
}

leak=$(gcc -print-file-name=liblsan.so)
share=${PART:-1 1}
i=1
while [ "$i" -le "$n" ]; do
    wanted=no
    [ -s "$store/$i.txt" ] || wanted=yes
    [ -z "$only" ] || case " $only " in *" $i "*) wanted=yes ;; *) wanted=no ;; esac
    [ -z "$again" ] || { [ -s "$store/$i.txt" ] && ! grep -q 'survived' "$store/$i.txt"; } || wanted=yes
    [ $((i % ${share#* })) = $((${share% *} % ${share#* })) ] || wanted=no
    [ "$wanted" = no ] || look "$i"
    i=$((i + 1))
done

# What is left, as the table of survivors.md wants it; the reasons are for people to write.
frame() {
    echo '| file | function | change | why it survives |'
    echo '| --- | --- | --- | --- |'
    i=1
    while [ "$i" -le "$n" ]; do
        grep -q survived "$store/$i.txt" 2>/dev/null &&
            awk -F "$tab" '{ gsub(/\|/, "\\|", $6); printf "| %s | %s | %s | |\n", $1, $3, $6 }' "$store/$i.tsv"
        i=$((i + 1))
    done
}
frame >"$store-survivors.md"

i=1
while [ "$i" -le "$n" ]; do cat "$store/$i.txt" 2>/dev/null; i=$((i + 1)); done >"$store.txt"
awk -v n="$n" '/survived/ { left++ } / timed out in / { slow++ } END {
    printf "%d of %d looked at: %d killed, %d of them by an endless loop, %d survived: %.1f %%\n",
        NR, n, NR - left, slow, left, NR ? 100 * (NR - left) / NR : 0 }' "$store.txt"
echo "all of them: $store.txt; a frame for tests/mutation/survivors.md: $store-survivors.md"
