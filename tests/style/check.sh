#!/bin/sh
# The order of the house: format, who may know whom, purity of the library, sources, stale pages.
# Prints what is wrong; exits non-zero when anything is.
set -u
cd "$(dirname "$0")/../.." || exit 1
faults=0

fault() {
    echo "check: $*"
    faults=$((faults + 1))
}

# 1. Format: the formatter leaves an empty diff. Only where it is installed.
if command -v clang-format >/dev/null 2>&1; then
    bad=$(find model cli tests -name '*.[ch]' | sort | xargs clang-format --dry-run 2>&1 | sed -n 's/^\([a-z_/0-9]*\.[ch]\):.*/\1/p' | sort -u)
    [ -z "$bad" ] || fault "not formatted: $(echo "$bad" | tr '\n' ' ')"
else
    echo 'check: clang-format is not here, format not looked at'
fi

# 2. Stages: a folder of model/ may include itself and the folders before it.
order='base scenario tissue light heat effect run study'
side='base scenario tissue light' # all that the arithmetic beside the heat model may know
before=''
for stage in $order; do
    before="$before $stage"
    for file in model/"$stage"/*.[ch]; do
        for used in $(sed -n 's/^#include "\([a-z]*\)\/.*/\1/p' "$file"); do
            case " $before " in
            *" $used "*) ;;
            *) fault "$file includes $used/, which comes after $stage/" ;;
            esac
        done
    done
done
for file in model/side/*.[ch]; do
    [ -e "$file" ] || continue
    for used in $(sed -n 's/^#include "\([a-z]*\)\/.*/\1/p' "$file"); do
        case " $side side " in
        *" $used "*) ;;
        *) fault "$file includes $used/: what stands beside the heat model knows light and what comes before it" ;;
        esac
    done
done

# 3. Kernels of tissue, light, heat and effect know base and their own folder; only the front knows more.
for stage in tissue light heat effect; do
    for file in model/"$stage"/*.[ch]; do
        case $file in model/$stage/$stage.[ch] | model/$stage/"${stage}"_*.[ch]) continue ;; esac # the front and its parts
        sed -n 's/^#include "\([a-z]*\)\/.*/\1/p' "$file" | grep -qvE "^(base|$stage)$" &&
            fault "$file is a kernel of $stage/ and includes another stage"
    done
done

# 4. The library computes: no printing, files, exit, environment, clock or hidden random numbers.
if [ -f build/libbrevis.a ]; then
    impure=$(nm -u build/libbrevis.a 2>/dev/null | awk '{print $2}' | sort -u |
        grep -xE '(__)?(printf|fprintf|puts|putchar|vprintf|vfprintf)(_chk)?|f(open|read|write|puts)|exit|abort|getenv|setlocale|s?rand(om)?(_r)?|time|clock(_gettime)?|gettimeofday')
    [ -z "$impure" ] || fault "model/ calls $(echo "$impure" | tr '\n' ' ')"
    strange=$(nm -g --defined-only build/libbrevis.a 2>/dev/null | awk 'NF == 3 {print $3}' | grep -v '^brv_')
    [ -z "$strange" ] || fault "public names without brv_: $(echo "$strange" | tr '\n' ' ')"
else
    fault 'build/libbrevis.a is not there; run make first'
fi
# Calls that do not know how much room there is, that start a shell or that look for a program wherever PATH says.
loose=$(grep -nE '\b(gets|strcpy|stpcpy|strcat|sprintf|vsprintf|strtok|alloca|[fs]?scanf|system|popen|tmpnam|tempnam|mktemp|posix_spawnp|exec[lv]p)\(' \
    -r model cli --include='*.[ch]' | cut -d: -f1,2 | tr '\n' ' ')
[ -z "$loose" ] || fault "calls that are not taken here, see Security in DEVELOPERS.md: $loose"
# A script of a figure reckons and draws: it starts nothing, and no text of a user is ever read as a command.
started=$(grep -nE '`|[^_a-z]system *\(|^ *(system|shell|!)|@[A-Za-z]|[^_a-z](pipe|popen)[^_a-z]|["'"'"']<' plots/*.gp plots/course/*.gp | grep -vE '^[^:]*:[0-9]*: *#' | cut -d: -f1,2 | tr '\n' ' ')
[ -z "$started" ] || fault "figures that could start a program: $started"
judged=$(grep -nE '(^|[^_a-z])(eval|load|call)([^_a-z]|$)' plots/*.gp plots/course/*.gp | grep -vE "^[^:]*:[0-9]*: *#|load [a-z]+\.'[a-z_./]+\.gp'|eval 'set palette defined \('\.steps\.'\)'" |
    cut -d: -f1,2 | tr '\n' ' ')
[ -z "$judged" ] || fault "figures that read text as commands: $judged"
grep -lE '#pragma omp' -r model cli | grep -vE '^model/(base/team|light/sampled)\.c$' | while read -r file; do echo "check: $file uses OpenMP"; done | grep . && faults=$((faults + 1))

# 5. Every source key of the code has its entry in docs/sources.md.
keys=$({
    grep -rhoE 'Sources?: \[[a-z0-9.-]+\](, \[[a-z0-9.-]+\])*' model | grep -oE '\[[a-z0-9.-]+\]' | tr -d '[]'
    sed -n 's/^ .*"\([a-z0-9.-]*\)", "\(seen\|second-hand\|abstract\|memory\|choice\)"}.*/\1/p' model/scenario/keys.c
    sed -n 's/.*, "\([a-z0-9.-]*\)", "\(seen\|abstract\|memory\)"}.*/\1/p' model/effect/threshold.c
    sed -n 's/.*, "\([a-z0-9.-]*\)", *"\(seen\|abstract\|memory\|second-hand\)",* *.*},$/\1/p' cli/report/published.c
    awk -F, '/^[WMA][0-9]/ { print $12 }' tests/validation/thresholds.csv
    grep -rhoE '"[a-z0-9.-]+ \((seen|abstract|memory|exact|computed|closed)[^"]*"' tests/verification tests/validation tests/unit | sed 's/^"\([a-z0-9.-]*\) .*/\1/'
} | grep -v '^-$' | sort -u)
for key in $keys; do
    grep -qx "### $key" docs/sources.md 2>/dev/null || fault "docs/sources.md has no entry '### $key'"
done

# 6. Generated pages are fresh.
if [ -x build/brevis ]; then
    build/brevis explain --page | cmp -s - docs/reference/scenario.md ||
        fault 'docs/reference/scenario.md is stale: make validation'
    build/brevis explain --page terms | cmp -s - docs/theory/glossary.md ||
        fault 'docs/theory/glossary.md is stale: make validation'
fi
if [ -f build/tests/validation.md ]; then
    cmp -s build/tests/validation.md docs/validation.md || fault 'docs/validation.md is stale: make validation'
fi

# 7. Linters, where they are installed.
if command -v cppcheck >/dev/null 2>&1; then
    mkdir -p build/cppcheck # what it knows of a file is kept there until the file or a header changes
    cppcheck --quiet -j 2 --cppcheck-build-dir=build/cppcheck --std=c11 --enable=warning,performance,portability \
        --inline-suppr --error-exitcode=1 -Imodel -Icli model cli >build/cppcheck.txt 2>&1 ||
        { cat build/cppcheck.txt; fault 'cppcheck has findings'; }
else
    echo 'check: cppcheck is not here'
fi
if command -v clang-tidy >/dev/null 2>&1; then
    sh tests/style/tidy.sh build || { grep -E '(warning|error):' build/tidy.txt; fault 'clang-tidy has findings'; }
else
    echo 'check: clang-tidy is not here'
fi
if command -v codespell >/dev/null 2>&1; then
    codespell --quiet-level=2 --ignore-words-list=fo,lond,numer,vermillion,fro,thicknes,ligth,chekc,nd --skip='*.expected,*many_slips.yaml' model cli tests/*.md tests/*/*.[ch] tests/*/*.sh docs scenarios plots README.md DEVELOPERS.md Makefile ||
        fault 'codespell has findings'
else
    echo 'check: codespell is not here'
fi

if command -v shellcheck >/dev/null 2>&1; then # what it is told not to say, and why: .shellcheckrc
    find . -name '*.sh' ! -path './build*' | sort | xargs shellcheck --format=gcc >build/shellcheck.txt 2>&1 ||
        { cat build/shellcheck.txt; fault 'shellcheck has findings'; }
else
    echo 'check: shellcheck is not here'
fi
# make check has let gcc's analyzer look at what changed; tests/style/analyzed.txt lists what it takes for faults.
if [ -d build/analyzed ]; then
    sh tests/style/analyzed.sh build/analyzed || fault "gcc's analyzer has findings; a false one goes into tests/style/analyzed.txt"
else
    echo "check: gcc's analyzer has not looked: make analyze"
fi

[ "$faults" = 0 ] && echo 'check: the house is in order'
[ "$faults" = 0 ]
