#!/bin/sh
# What a user sees when a scenario is wrong: each file of scenarios/wrong/ must be refused with exit code 3, nothing
# on standard output, and exactly the messages of its .expected beside it. Then files that are no scenario at all:
# exit 4 when the file itself is in the way, 3 when it can be read and what stands in it is wrong.
#     sh tests/cli/scenario_faults.sh            compares
#     sh tests/cli/scenario_faults.sh --update   writes the .expected files anew; review what changed

root=$(CDPATH='' cd -- "$(dirname -- "$0")/../.." && pwd) || exit 1
cd "$root" || exit 1
brevis=${BREVIS:-build/brevis}
work=$(mktemp -d) || exit 1
trap 'rm -rf "$work"' EXIT
passed=0
failed=0

pass() { passed=$((passed + 1)); }
fail() {
    failed=$((failed + 1))
    echo "FAILED: $1"
}

# run ARGUMENTS...: leaves the exit code in $code and the two streams in $work
run() {
    "$brevis" "$@" >"$work/out" 2>"$work/err" </dev/null
    code=$?
}

# wants NAME CODE TEXT: exit code, silence on stdout, TEXT as the one message
wants() {
    printf '%s\n' "$3" >"$work/wanted"
    if [ "$code" -ne "$2" ]; then
        fail "$1: exit code $code, wanted $2"
    elif [ -s "$work/out" ]; then
        fail "$1: standard output is not empty"
    elif ! diff -u "$work/wanted" "$work/err"; then
        fail "$1: other messages"
    else
        pass
    fi
}

for scenario in scenarios/wrong/*.yaml; do
    expected=${scenario%.yaml}.expected
    run check "$scenario"
    if [ "${1:-}" = --update ]; then cp "$work/err" "$expected"; fi
    if [ -r "$expected" ]; then
        wants "$scenario" 3 "$(cat "$expected")"
    else
        fail "$scenario: $expected is missing"
    fi
done

# ---- the file itself is in the way: 4 ----
run check "$work/none.yaml"
wants 'missing file' 4 "$work/none.yaml: cannot be read: No such file or directory"

run check "$work"
wants 'directory' 4 "$work: cannot be read: it is a directory"

# ---- the file can be read, and is no scenario: 3 ----
: >"$work/empty.yaml"
run check "$work/empty.yaml"
wants 'empty file' 3 "$work/empty.yaml: is empty: a scenario has at least light and skin"

printf '# only a remark\n' >"$work/remark.yaml"
run check "$work/remark.yaml"
wants 'only a comment' 3 "$work/remark.yaml: is empty: a scenario has at least light and skin"

printf 'title: a\000b\n' >"$work/binary.yaml"
run check "$work/binary.yaml"
wants 'binary file' 3 "$work/binary.yaml:1:9: a control character stands here; a scenario is a text file"

printf 'title: caf\351\n' >"$work/latin1.yaml"
run check "$work/latin1.yaml"
wants 'Latin-1 file' 3 "$work/latin1.yaml:1:11: these bytes are not UTF-8 text; save the file as UTF-8"

printf '\211PNG\r\n\032\n\000\000\000\rIHDR' >"$work/picture.yaml"
run check "$work/picture.yaml"
wants 'a picture' 3 "$work/picture.yaml:1:1: this is not a text file"

printf '\377\376l\000i\000' >"$work/utf16.yaml"
run check "$work/utf16.yaml"
wants 'UTF-16 file' 3 "$work/utf16.yaml:1:1: this text is UTF-16; save the file as UTF-8"

dd if=/dev/zero bs=1024 count=1025 2>/dev/null | tr '\000' '#' >"$work/large.yaml"
run check "$work/large.yaml"
wants 'large file' 3 "$work/large.yaml: is larger than 1 MiB: this is not a scenario"

printf 'just a sentence\n' >"$work/sentence.yaml"
run check "$work/sentence.yaml"
wants 'a sentence' 3 \
    "$work/sentence.yaml:1:1: this is not a scenario: it begins with a section, such as \`light:\`"

# ---- the command line ----
cat >"$work/sound.yaml" <<'END'
light: {wavelength: 532 nm, pulse: 7 ns, spot: 4 mm, fluence: 0.6 J/cm2}
skin: light
END
run check --set light.spot=6 "$work/sound.yaml"
wants 'fault in --set' 3 "--set light.spot:1:12: light.spot = 6: the unit is missing (nm, um, mm, cm, m); allowed 0.5 mm to 30 mm"

run check
wants 'no scenario' 2 "brevis check: missing: a scenario file, or - for standard input; \`brevis check --help\` tells more"

run chekc "$work/sound.yaml"
wants 'unknown command' 2 'brevis: there is no command chekc; did you mean check?'

run explain blod
wants 'unknown key' 2 'brevis explain: no section or key is called blod; did you mean blood?'

run explain lite
wants 'a section with a slip' 2 'brevis explain: no section or key is called lite; did you mean light?'

run explain light.watr # only keys of that section are near
wants 'a key of another section' 2 \
    "brevis explain: no section or key is called light.watr; \`brevis explain\` lists them all"

run explain melanin
wants 'a word of another book' 2 'brevis explain: no section or key is called melanin; did you mean melanosomes?'

# ---- every word that heads the list of explain can be asked for ----
run explain
sed -n 's/^\([a-z][a-z]*\)  *.*/\1/p' "$work/out" >"$work/heads"
for section in title light skin grain surface below watch lesion; do
    grep -qx "$section" "$work/heads" || fail "explain does not list $section"
    run explain "$section"
    if [ "$code" -eq 0 ] && grep -q "^$section " "$work/out" && [ ! -s "$work/err" ]; then
        pass
    else
        fail "explain $section"
    fi
done
run explain light
if grep -q '^  wavelength ' "$work/out" && ! grep -q '^  melanosomes ' "$work/out"; then pass; else fail 'light alone'; fi

# ---- -h is --help, and letters that are none ----
run --help
cp "$work/out" "$work/help"
for words in -h 'help -h' 'help --help'; do
    run $words
    if [ "$code" -eq 0 ] && cmp -s "$work/out" "$work/help"; then pass; else fail "$words"; fi
done
for command in run check explain tissue; do
    run $command --help
    cp "$work/out" "$work/help"
    run $command -h
    if [ "$code" -eq 0 ] && [ -s "$work/out" ] && cmp -s "$work/out" "$work/help"; then pass; else fail "$command -h"; fi
done

run check -qx "$work/sound.yaml"
wants 'unknown letter' 2 "brevis check: there is no option -q; \`brevis check --help\` tells more"

run check --quite "$work/sound.yaml"
wants 'unknown option' 2 'brevis check: there is no option --quite; did you mean --quiet?'

run check --quiet=yes "$work/sound.yaml"
wants 'a value too many' 2 \
    "brevis check: no value belongs after this option: --quiet=yes; \`brevis check --help\` tells more"

# ---- the digest: calm words at its end, and a note when the lesion is the paler one ----
caution='  A sound file is a readable one; it says nothing about a person.'
note='  note: the lesion has less pigment than the skin around it'
run check "$work/sound.yaml"
if [ "$(tail -n 1 "$work/out")" = "$caution" ] && ! grep -q 'note:' "$work/out"; then pass; else fail 'digest'; fi

run check --set lesion.basal.melanosomes='2 %' "$work/sound.yaml"
if grep -qx "$note" "$work/out" && [ "$(tail -n 1 "$work/out")" = "$caution" ]; then pass; else fail 'paler lesion'; fi

run check --set lesion.dermis.blood='2 %' "$work/sound.yaml" # as much pigment as around it
if [ "$code" -eq 0 ] && ! grep -q 'note:' "$work/out"; then pass; else fail 'lesion of the same pigment'; fi

run check --set lesion.basal.absorption='5 /cm' "$work/sound.yaml" # its pigment is not described
if [ "$code" -eq 0 ] && ! grep -q 'note:' "$work/out"; then pass; else fail 'lesion by absorption'; fi

run check --quiet "$work/sound.yaml"
if [ "$code" -eq 0 ] && [ ! -s "$work/out" ] && [ ! -s "$work/err" ]; then pass; else fail 'sound and quiet'; fi

run check - # standard input is empty here
wants 'standard input' 3 "standard input: is empty: a scenario has at least light and skin"

run check --set light.energy='75 mJ' --set skin.basal.melanosomes='8 %' "$work/sound.yaml"
if [ "$code" -eq 0 ] && grep -q '75 mJ' "$work/out" && grep -q '8 % -> 20 %' "$work/out"; then
    pass
else
    fail 'sound with --set'
fi

if [ -w /dev/full ]; then
    "$brevis" explain watch >/dev/full 2>"$work/err"
    code=$?
    : >"$work/out"
    wants 'full disk' 4 'brevis: standard output cannot be written: No space left on device'
fi

echo "$passed passed, $failed failed"
[ "$failed" -eq 0 ]
