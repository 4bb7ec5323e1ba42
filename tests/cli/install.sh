#!/bin/sh
# `make install` and `make uninstall` below a folder that is thrown away: what lies where, the program at work from another
# folder, headers that stand alone, the C example against the numbers of `brevis run`, and nothing left behind.
# usage: BREVIS=build/brevis sh tests/cli/install.sh   (make passes its own variables, such as CC, on to the make in here)
set -u
cd "$(dirname "$0")/../.." || exit 1
. tests/support/cli.sh
unset BREVIS_DATA
top=$PWD
build=${brevis%/brevis}
stage=$box/stage
prefix=/opt/a_place
root=$stage$prefix
make_here() { make --no-print-directory BUILD="$build" PREFIX="$prefix" DESTDIR="$stage" "$@"; }
below() { (cd "$1" && find . -type f | LC_ALL=C sort); }
no_path() { ! grep -aq -e "$top" -e "$box" "$@"; }

# ---- what is put where ----
mkdir -p "$stage$prefix/bin"
echo kept >"$stage$prefix/bin/a_neighbour"
check 'install' exits 0 make_here install
check 'a second time over the first' exits 0 make_here install
check 'the program' test -x "$root/bin/brevis"
check 'the library' test -f "$root/lib/libbrevis.a"
check 'every header of the model' [ "$(cd "$root/include/brevis" && ls ./*/*.h)" = "$(cd model && ls ./*/*.h)" ]
check 'every script of a figure' [ "$(below "$root/share/brevis/plots")" = "$(below plots)" ]
check 'every scenario that is sound' [ "$(below "$root/share/brevis/scenarios")" = "$(below scenarios | grep -v '^./wrong/')" ]
check 'README, licence, pages' cmp -s "$root/share/doc/brevis/README.md" README.md
check '  licence' cmp -s "$root/share/doc/brevis/LICENSE" LICENSE
check '  pages' [ "$(below "$root/share/doc/brevis/docs")" = "$(below docs)" ]
check 'everybody may read them' [ -z "$(find "$root" -type f ! -perm -444)" ]
check 'nothing but the neighbour lies elsewhere' [ "$(cd "$root" && find . -type f ! -path './share/*' ! -path './include/brevis/*' | LC_ALL=C sort | tr '\n' ' ')" = \
    './bin/a_neighbour ./bin/brevis ./lib/libbrevis.a ./lib/pkgconfig/brevis.pc ' ]
if grep -aq '\.gcda' "$root/bin/brevis"; then
    echo 'built to count lines, it must know where: paths in the program are left out'
else
    check 'no path of this machine in program and library' no_path "$root/bin/brevis" "$root/lib/libbrevis.a"
fi
check 'nor in the files beside them' no_path "$root/lib/pkgconfig/brevis.pc" "$root/share/brevis/installed.txt"
check 'the program knows where its files will lie' grep -aq "$prefix/share/brevis" "$root/bin/brevis"
check 'a prefix that is not a path from / is refused' exits 2 make_here install PREFIX=a_place
check '  in words' says 'PREFIX=a_place: a path from / on is wanted'

# ---- at work, from another folder ----
mkdir "$box/else" && cd "$box/else" || exit 1
check 'a run of a ready scenario' exits 0 "$root/bin/brevis" run scenarios/hand_532nm.yaml
check '  says where it was read' says "^brevis: no scenarios/hand_532nm.yaml in this folder; reading the one that came with it, .*$prefix/share/brevis/scenarios/hand_532nm.yaml\$"
check '  in one line' [ "$(wc -l <"$box/stderr")" = 1 ]
check '  figures are drawn' test -s out/hand_532nm/temperature.png -a -s out/hand_532nm/disrupted.svg
check '  nothing is copied' absent scenarios
(cd "$top" && "$brevis" run --quiet --no-figures --threads 1 --out "$box/here" scenarios/hand_532nm.yaml)
for threads in 1 2 8; do
    "$root/bin/brevis" run --quiet --no-figures --threads $threads --out "$box/there" --force scenarios/hand_532nm.yaml 2>"$box/stderr"
    check "same bytes as before installing, threads $threads" diff -r "$box/here" "$box/there"
done
check 'readings are found too' exits 0 "$root/bin/brevis" output --no-figures scenarios/readings/weekly_1064nm.csv scenarios/cheek_1064nm.yaml
check '  both are told' [ "$(grep -c 'that came with it' "$box/stderr")" = 2 ]
check 'a scenario that nobody has' exits 4 "$root/bin/brevis" run scenarios/hand.yaml
check '  is told as ever' says '^scenarios/hand.yaml: cannot be read: No such file'
check 'not outside scenarios/' exits 4 "$root/bin/brevis" run plots/style.gp
check 'not by a way round' exits 4 "$root/bin/brevis" run scenarios/../plots/style.gp
check 'a scenario meant to be refused is not there' exits 4 "$root/bin/brevis" check scenarios/wrong/tab.yaml
mkdir scenarios && sed 's/^title: .*/title: of my own/' "$hand" >scenarios/hand_532nm.yaml
check 'a file of this name in the folder comes first' exits 0 "$root/bin/brevis" check scenarios/hand_532nm.yaml
check '  and nothing is said' [ ! -s "$box/stderr" ]
rm scenarios/hand_532nm.yaml && ln -s nowhere scenarios/hand_532nm.yaml
check 'a link that leads nowhere is no missing file' exits 4 "$root/bin/brevis" check scenarios/hand_532nm.yaml
check 'BREVIS_DATA is the only place where it is given' exits 4 env BREVIS_DATA="$box" "$root/bin/brevis" check scenarios/cheek_1064nm.yaml
cd "$top" || exit 1

# ---- from C ----
cc=$(make_here -s -f - compiler <<'EOT'
include Makefile
compiler:
	@echo $(CC)
EOT
)
package() { PKG_CONFIG_PATH=$root/lib/pkgconfig pkg-config --define-variable=prefix="$root" "$@" brevis; }
alone() { # alone HEADER: nothing before it, nothing missing
    printf '#include <brevis/%s>\n#include "%s"\nint main(void) { return 0; }\n' "$1" "$1" >"$box/alone.c"
    $cc -std=c11 -Wall -Wextra -Werror -pedantic -fsyntax-only $(package --cflags) -I"$root/include" "$box/alone.c" >"$box/stderr" 2>&1
}
for header in $(cd "$root/include/brevis" && ls -- */*.h); do check "$header alone" alone "$header"; done
all_headers() { (cd "$root/include/brevis" && ls -- */*.h) | sed 's/.*/#include "&"/'; }
all_headers >"$box/all.c" # two headers must not give one name to two things
check 'all headers together' exits 0 $cc -std=c11 -Wall -Wextra -Werror -pedantic -fsyntax-only $(package --cflags) "$box/all.c"
if command -v g++ >/dev/null 2>&1; then # as docs/how_to/use_the_library.md tells it
    { echo 'extern "C" {' && all_headers && echo '}'; } >"$box/all.cc"
    check 'and from C++' exits 0 g++ -std=c++17 -fsyntax-only $(package --cflags) "$box/all.cc"
else
    echo 'g++ is not here: headers from C++ are left out'
fi
check 'the version' [ "brevis $(package --modversion)" = "$("$brevis" --version)" ]
check 'the example is built' exits 0 $cc -std=c11 -Wall -Wextra -Werror -pedantic -o "$box/call" docs/how_to/call_the_model.c \
    -I"$root/include" $(package --cflags --libs --static)
check 'and runs' exits 0 "$box/call"
check '  with its caution' tells 'not a medical device'
cp "$box/stdout" "$box/called"
number_in_c() { sed -n "s/^$1 \([^ ]*\) (\([^ ]*\) to \([^ ]*\)) .*/\1 \2 \3/p" "$box/called"; }
number_of_run() { # number_of_run SECTION NAME: of the lesion, which comes first
    awk -v section="\"$1\": {" -v name="\"$2\": {" 'index($0, section) { in_it = 1 }
        in_it && index($0, name) { match($0, /"value": [^,]*/); value = substr($0, RSTART + 9, RLENGTH - 9)
            match($0, /"low": [^,]*/); low = substr($0, RSTART + 7, RLENGTH - 7)
            match($0, /"high": [^,]*/); print value, low, substr($0, RSTART + 8, RLENGTH - 8); exit }' "$box/here/summary.json"
}
# 1e-8: the example prints nine digits of the same numbers
same() { [ -n "$1" ] && echo "$1 $2" | awk 'NF != 6 { exit 1 } { for (i = 1; i <= 3; i++) { d = $i - $(i + 3); if (d < 0) d = -d; if (!($i > 0) || d > 1e-8 * $i) exit 1 } }'; }
check 'rise of the grain as `brevis run` has it' same "$(number_in_c peak_rise_of_grain)" "$(number_of_run grain_mean rise)"
check 'threshold as `brevis run` has it' same "$(number_in_c threshold_of_grain)" "$(number_of_run threshold_grain fluence)"

# ---- pages and completions, once the build has some ----
mkdir -p "$box/manual" "$box/completion"
for file in manual/brevis.1 manual/brevis-scenario.5 completion/brevis.bash completion/_brevis; do echo "$file" >"$box/$file"; done
check 'with a manual' exits 0 make_here install MANUAL="$box/manual/brevis.1 $box/manual/brevis-scenario.5" \
    COMPLETION="$box/completion/brevis.bash $box/completion/_brevis"
for file in man/man1/brevis.1 man/man5/brevis-scenario.5 bash-completion/completions/brevis zsh/site-functions/_brevis; do
    check "share/$file" test -f "$root/share/$file"
done
check 'without it again' exits 0 make_here install MANUAL= COMPLETION=
check '  what was there is gone' absent "$root/share/man"

# ---- and away ----
check 'uninstall' exits 0 make_here uninstall
check 'only what was there before is left' [ "$(cd "$stage" && find . ! -type d)" = './opt/a_place/bin/a_neighbour' ]
check 'with its folder alone' [ "$(find "$root" -type d | sed "s|^$root||" | LC_ALL=C sort | tr '\n' ' ')" = ' /bin ' ]
check 'nothing to take away' exits 2 make_here uninstall
check '  is told' says 'no list of installed files at .*; nothing was removed'
counted_out
