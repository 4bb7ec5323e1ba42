#!/bin/sh
# Makes tests/fuzz/corpus/TARGET anew from what is there, from scenarios, pages and tests of this project, and from what
# runs have found since (BUILD/new): of all these, as few as reach all that they reach, and of
# those MOST, small ones and large ones.
# usage: tests/fuzz/corpus.sh BUILD "TARGET..."
set -u
build=$1
targets=$2
seeds=$build/seeds
rm -rf "$seeds"

lines() { # lines TARGET: every line of the input a file of its own
    awk -v folder="$seeds/$1" '!seen[$0]++ { file = sprintf("%s/line%04d", folder, ++n); printf "%s", $0 >file; close(file) }'
}
options() { # options NAME: what stands behind --NAME in pages and tests, without quotes
    grep -rhoE -e "--$1[ =](\"[^\"]*\"|'[^']*'|[A-Za-z._]*=\"[^\"]*\"|[^ \`'\")]+)" README.md docs tests/cli tests/unit |
        sed -e "s/^--$1[ =]//" -e "s/[\"']//g" | grep '='
}
texts() { # strings that a unit test holds, one a line
    grep -hoE '"([^"\\]|\\.)*"' "$@" | sed -e 's/^"//' -e 's/"$//' -e 's/\\"/"/g' -e 's/\\n$//'
}

for target in $targets; do
    kept=tests/fuzz/corpus/$target
    mkdir -p "$seeds/$target" "$kept" "$build/new/$target" "$build/merged"
    case $target in
    scenario | whole)
        find scenarios -name '*.yaml' | while read -r file; do
            cp "$file" "$seeds/$target/$(echo "$file" | tr / _)"
        done
        cp tests/fuzz/seeds/scenario_* "$seeds/$target"
        ;;
    quantity)
        { sed -n 's/^[^#]*: *\([-+0-9.][^#,}]*[^#,} ]\).*/\1/p' scenarios/*.yaml scenarios/*/*.yaml
          texts tests/unit/test_quantity.c tests/unit/test_unit.c; } | lines quantity
        ;;
    set) { options set; texts tests/unit/test_set.c | grep '='; } | lines set ;;
    vary) { options vary; texts tests/unit/test_vary.c | grep '='; } | lines vary ;;
    csv)
        cp scenarios/readings/*.csv "$seeds/csv"
        printf 'day,energy_mJ\r\n7,75.1\r\n0,74\r\n' >"$seeds/csv/out_of_order"
        texts tests/unit/test_readings.c | sed 's/\\r//g; s/\\n/\n/g' | lines csv
        ;;
    part) cp tests/fuzz/seeds/part_* "$seeds/part" ;;
    json)
        { sed -n 's/^title: *//p' scenarios/*.yaml scenarios/*/*.yaml
          texts tests/unit/test_page.c tests/unit/test_letters.c | head -n 200; } | lines json
        printf '\377\376\300\200\355\240\200\001\r\n\t"\\<&>' >"$seeds/json/bytes"
        printf '\342\200\256\360\237\231\202\317\200\357\277\276\302\205' >"$seeds/json/letters"
        ;;
    esac
    merged=$build/merged/$target
    rm -rf "$merged"
    mkdir -p "$merged"
    longest=4096
    [ "$target" = whole ] && longest=1024
    "$build/tests/fuzz/run_$target" -merge=1 -artifact_prefix="$build/merged/" -max_len=$longest "$merged" "$seeds/$target" "$kept" "$build/new/$target" \
        >"$build/merge_$target.txt" 2>&1 || { tail -n 5 "$build/merge_$target.txt"; exit 1; }
    # What was kept by hand, because it was a finding once or is solved by the model, has a name of words and stays.
    find "$kept" -type f ! -name '*_*' -exec rm -f {} +
    ls -S -r "$merged" | awk -v most="${MOST:-48}" '{ name[NR] = $0 }
        END { step = NR > most ? NR / most : 1; for (i = 1; i <= NR; i += step) print name[int(i)] }' |
        while read -r file; do cp "$merged/$file" "$kept/"; done
    printf '%-9s %5s inputs, %s of them kept\n' "$target" "$(ls "$merged" | wc -l)" "$(ls "$kept" | wc -l)"
done
