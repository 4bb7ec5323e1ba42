#!/bin/sh
# What strangers may put in the way: programs called gnuplot in the folder at hand, an environment that names other files, names
# that a shell, gnuplot, a browser, a spreadsheet or a terminal would act on, links and pipes where results go, a folder of
# something else at --out, and files that are no files. Nothing of it may be run, followed, emptied or waited for.
#     sh tests/cli/hostile.sh
cd "$(dirname -- "$0")/../.." || exit 1
. tests/support/cli.sh
top=$PWD
ran=$box/ran # whatever is run by mistake leaves this file
plain() { ! LC_ALL=C grep -q "$(printf '[\001-\010\013\014\016-\037\177\200-\237]\\[')" "$@"; }
holds() { grep -qF -e "$2" "$1"; }
quick() { exits "$1" timeout 20 "$brevis" reported --quiet --no-figures --out "$2" ${3:+"$3"} "$hand"; }
cd "$box" || exit 1

# ---- no program but gnuplot, and not one that lies about ----

printf '#!/bin/sh\ntouch "%s"\n' "$ran" >gnuplot
chmod +x gnuplot
for path in . '' :. "relative:$PWD/none" ..; do
    check "a gnuplot in the folder at hand, PATH=$path" exits 0 env PATH="$path" "$brevis" reported --quiet --force --out trap "$hand"
    check '  is not found' says 'gnuplot was not found'
    check '  nor run' absent "$ran"
done
rm gnuplot
mkdir gnuplot bin # a folder is no program
check 'a folder called gnuplot' exits 0 env PATH="$PWD" "$brevis" reported --quiet --force --out trap "$hand"
check '  is not started' says 'gnuplot was not found'
rmdir gnuplot
printf '#!/bin/sh\nenv >"%s"\nexit 1\n' "$box/its_env" >bin/gnuplot
chmod +x bin/gnuplot
exits 0 env PATH="$PWD/bin:$PATH" HOME="$box" LC_ALL=de_DE.UTF-8 LANG=de GNUPLOT_LIB="$box" GNUPLOT_DRIVER_DIR="$box" GNUTERM=x11 \
    BASH_ENV="$box/x" ENV="$box/x" PAGER=less SECRET_WORD=hidden "$brevis" reported --quiet --force --out trap "$hand"
check 'gnuplot gets PATH and HOME' grep -q "^HOME=$box\$" its_env
check '  and LC_ALL=C' grep -qx 'LC_ALL=C' its_env
check '  and nothing that it did not ask for' test "$(sed 's/=.*//' its_env | grep -cvxE 'PATH|HOME|TMPDIR|LC_ALL|(LD|FONTCONFIG|XDG)_[A-Z_]*|PWD|OLDPWD|SHLVL|_')" = 0

if real=$(command -v gnuplot); then
    # Start files of gnuplot, and folders whose names it could take for commands.
    printf 'system("touch %s")\n' "$ran" >.gnuplot
    cp .gnuplot gnuplotrc
    for name in '<touch ran' '|touch ran' '`touch ran`' '$(touch ran)' "a'.system('touch ran').'b" 'a"; !touch ran; "' '@x%s%n' '-e' \
        "$(printf 'a\n!touch ran\nb')"; do
        check "figures into '$name'" exits 0 env HOME="$box" GNUPLOT_LIB="$box" "$brevis" reported --quiet --out "./$name" "$hand"
        check '  are drawn' test -s "./$name/reported.svg"
        check '  and nothing is run' absent "$ran"
        rm -rf "./$name"
    done
    rm .gnuplot gnuplotrc
    title='`touch ran` $(touch ran) "; !touch ran; " '"'.system('touch ran').' @ran %s{/*9 x}"
    check 'a title that would be a command' exits 0 "$brevis" reported --quiet --force --out trap --set "title=$title" "$hand"
    check '  is drawn' test -s trap/reported.png
    cat >choices.yaml <<'END'
light: {wavelength: 532 nm, pulse: 7 ns, spot: 4 mm, fluence: 0.6 J/cm2}
skin: light
choices:
  '`touch ran`': {light.spot: 5 mm}
  "'.system('touch ran').'": {light.spot: 6 mm}
  '@ran $(touch ran) !touch ran': {light.spot: 7 mm}
END
    check 'choices that would be commands' exits 0 "$brevis" compare --quiet --out compared choices.yaml
    check '  are drawn' test -s compared/compare.svg
    check '  and nothing is run' absent "$ran"
    # What the box proves nothing about: that the trap would have been seen.
    "$real" -e "system('touch $ran')" 2>stderr
    check 'the trap works' test -e "$ran"
    rm -f "$ran"
fi

# ---- pages ----

policy="http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; img-src data:;"
markup='<script>alert(1)</script> "onload="x" --> <img src=x onerror=x> javascript:x </style></title> &#60;b'
written='&lt;script&gt;alert(1)&lt;/script&gt; &quot;onload=&quot;x&quot; --&gt; &lt;img src=x onerror=x&gt; javascript:x &lt;/style&gt;&lt;/title&gt; &amp;#60;b'
cat >markup.yaml <<END
title: '$markup'
light: {wavelength: 532 nm, pulse: 7 ns, spot: 4 mm, fluence: 0.6 J/cm2}
skin: light # <script>alert(2)</script> --> ]]>
ladder: {first: 0.3 J/cm2, ratio: 1.3, count: 3}
choices:
  '<svg onload=x> </table>': {light.spot: 5 mm}
  "javascript:alert(1)": {light.spot: 6 mm}
END
"$brevis" run --quiet --no-figures --out pages/run markup.yaml 2>stderr
"$brevis" room --quiet --out pages/room markup.yaml 2>stderr
"$brevis" ladder --quiet --out pages/ladder markup.yaml 2>stderr
"$brevis" compare --quiet --no-figures --out pages/compare markup.yaml 2>stderr
"$brevis" lesson why_nanoseconds --quiet --no-figures --answers --out pages/lesson 2>stderr
"$brevis" lesson numbers --seed 3 --answers --quiet --no-figures --out pages/numbers 2>stderr
for page in pages/run/report.html pages/compare/report.html pages/room/card.html pages/ladder/card.html pages/lesson/handout.html pages/lesson/answers.html \
    pages/numbers/handout.html pages/numbers/answers.html; do
    check "$page holds no script, frame, form or handler" test -z "$(grep -oiE '<(script|iframe|object|embed|form|base|link)|<[a-z]+[^>]* on[a-z]+ *=|(href|src) *= *"?(javascript|https?|//)' $page)"
    check '  says so to the browser' holds $page "$policy"
    check '  before anything that a user wrote' awk '/Content-Security-Policy/ { found = 1 } /<title/ { exit !found }' $page
done
for page in pages/run/report.html pages/compare/report.html; do
    check "$page shows markup as it was typed" holds $page "$written"
    check '  and the comment of the scenario' holds $page '# &lt;script&gt;alert(2)&lt;/script&gt; --&gt; ]]&gt;'
done
check 'so do names of choices' holds pages/compare/report.html '&lt;svg onload=x&gt; &lt;/table&gt;'
check 'a card shows what fits of it' holds pages/room/card.html '&lt;script&gt;alert(1)'

# ---- spreadsheets ----

cat >formulas.yaml <<'END'
light: {wavelength: 532 nm, pulse: 7 ns, spot: 4 mm, fluence: 0.6 J/cm2}
skin: light
choices:
  "=cmd|' /C calc'!A0": {light.spot: 5 mm}
  '@SUM(1)': {light.spot: 6 mm}
  ' +5 mm': {light.spot: 7 mm}
  '-5 %': {light.spot: 8 mm}
  '＝1+1': {light.spot: 8.5 mm}
  'plain=1': {light.spot: 9 mm}
END
sed -i "s/=cmd|' /=cmd' /" formulas.yaml # a bar is refused in names
check 'names that a spreadsheet would reckon with' exits 0 "$brevis" compare --quiet --no-figures --out formulas formulas.yaml
for cell in "'=cmd' /C calc'!A0" "'@SUM(1)" "'-5 %" "'＝1+1" 'plain=1'; do
    check "  $cell in the CSV" holds formulas/compare.csv ",\"$cell\","
done
check '  no cell of any row begins as a formula' test -z "$(sed 1d formulas/compare.csv | grep -E '(^|,)"? *([=@+]|-[^0-9i])')"
check '  the name itself in summary.json' holds formulas/summary.json '"name": "@SUM(1)"'
check 'a layer cannot be called so' exits 3 "$brevis" check --set 'skin=[{layer: -2, kind: dermis}]' "$hand"

# ---- terminals ----

escape=$(printf 'a\033[31mred\302\2331m\2331m')
cp "$hand" "$escape.yaml"
mkdir "$escape-there"
echo x >"$escape-there/x"
silent() { # silent CODE WORDS...: with this code, and nothing that moves a cursor
    exits "$@" && plain "$box/stdout" "$box/stderr" && ! LC_ALL=C grep -q "$(printf '[\033\233]')" "$box/stdout" "$box/stderr"
}
check 'a path that is there' silent 4 "$brevis" reported --no-figures --out "$escape-there" "$hand"
check '  that is of something else' silent 4 "$brevis" reported --no-figures --force --out "$escape-there" "$hand"
check '  that has no name' silent 4 "$brevis" reported --no-figures --out "$escape/.." "$hand"
check '  that cannot be made' silent 4 "$brevis" reported --no-figures --out "/proc/$escape" "$hand"
check 'BREVIS_DATA, figures' silent 0 env BREVIS_DATA="$escape" "$brevis" reported --force --out trap "$hand"
check '  a lesson' silent 4 env BREVIS_DATA="$escape" "$brevis" lesson why_nanoseconds
check 'check' silent 0 "$brevis" check "$escape.yaml"
check 'ladder' silent 3 "$brevis" ladder "$escape.yaml"
check 'visits' silent 3 "$brevis" visits "$escape.yaml"
check 'a part of a sweep' silent 0 "$brevis" sweep --no-figures --vary light.spot=2mm..3mm:2 --part 1/1 --out "p$escape" "$hand"
check '  gone on with' silent 0 "$brevis" sweep --no-figures --vary light.spot=2mm..3mm:2 --part 1/1 --out "p$escape" "$hand"
check 'explain' silent 2 "$brevis" explain "$escape"
check 'a lesson' silent 2 "$brevis" lesson "$escape"
check 'a lesson elsewhere' exits 2 "$brevis" lesson ../../etc/passwd
check '  writes nothing' absent out/passwd-lesson

# ---- links and pipes where results go ----

mkdir real real/keep
echo precious >real/keep/file
ln -s real/keep link
for force in '' --force; do
    check "--out is a link to a folder $force" quick 4 link $force
    check '  said' says 'link is a link: name the directory it leads to'
    check '  with a slash behind it' quick 4 link/ $force
done
check '  what it leads to is untouched' test "$(cat real/keep/file)$(ls -A real/keep | wc -l)" = precious1
ln -s real folder
check '--out inside a folder that is a link' quick 0 folder/new
check '  stands where the link leads' test -s real/new/summary.json
quick 0 old
ln -s ../real/keep/file old/map.csv
check 'a link inside an old result' quick 4 old --force
check '  is told' says 'old holds map.csv, which is no part of a result, so it is kept'
check '  and what it leads to is untouched' test "$(cat real/keep/file)" = precious
rm old/map.csv
mkfifo old/map.csv
check 'a pipe inside an old result' quick 4 old --force
rm old/map.csv
mkdir old/sub
check 'a folder inside an old result' quick 4 old --force
rmdir old/sub
check 'without them it is replaced' quick 0 old --force

mkdir home home/Documents
for mark in summary.json card.html handout.html; do # as others may call a file
    echo '{"by": "somebody else"}' >"home/$mark"
    check "a folder with a $mark is kept" quick 4 home --force
    rm "home/$mark"
done
rm -r home/Documents
echo '{"by": "somebody else"}' >home/summary.json
check 'one with nothing but a summary.json of somebody else' quick 4 home --force
check '  is told' says 'no summary.json, card.html or handout.html of brevis'
cp old/summary.json home
touch home/.profile
check 'a home folder with a result copied into it' quick 4 home --force
check '  is told' says 'home holds .profile, which is no part of a result'

# Names of folders aside, made by others before: .NAME.part-N and .NAME.old as a link, a pipe, a file.
ln -s real/keep .aside.part-99999999
mkfifo .aside.part-99999998
echo x >.aside.part-99999997
ln -s real/keep .aside.old
check 'names aside that are taken' quick 0 aside
check '  are left alone' test -L .aside.part-99999999 -a -p .aside.part-99999998 -a -f .aside.part-99999997 -a -L .aside.old
check '  as is what they lead to' test "$(cat real/keep/file)" = precious
check '  and the result is a folder of its own' test -d aside -a ! -L aside
if [ "$(id -u)" = 0 ] && chown 65534 real/keep 2>/dev/null; then
    mkdir .theirs.part-99999999 .theirs.old
    cp old/summary.json .theirs.old
    chown 65534 .theirs.part-99999999 .theirs.old
    check 'folders aside of somebody else' quick 0 theirs
    check '  are neither removed nor taken for a result' test -d .theirs.part-99999999 -a -d .theirs.old -a -s theirs/reported.csv
    chown 0 real/keep .theirs.part-99999999
    check '  but ones own are tidied' quick 0 theirs --force
    check '  away' absent .theirs.part-99999999
else
    echo 'not root: folders of somebody else are left out'
fi
# Folders of ones own that have such a name by chance.
mkdir -p .mine.part-99999999/deep .mine.part-99999998 .mine.part-1 .mine.old
for there in .mine.part-99999999/deep .mine.part-99999998 .mine.part-1 .mine.old; do echo precious >$there/notes.txt; done
check 'folders aside that hold something else' quick 0 mine
check '  are left as they are, and are not at work' test "$(cat .mine.*/notes.txt .mine.*/deep/notes.txt | grep -c precious)" = 4
check '  beside the result' test -s mine/summary.json
rm -r .mine.part-1
mkdir .mine.part-99999997
touch .mine.part-99999997/summary.json .mine.part-99999997/.map.svg.part
check 'what a run leaves goes' quick 0 mine --force
check '  with the next one' absent .mine.part-99999997
if flock -n . true 2>/dev/null; then # a lock that anybody may hold, for ever
    check 'a folder that somebody has locked' exits 0 flock . timeout 20 "$brevis" reported --quiet --no-figures --out locked "$hand"
    check '  holds nobody up' test -s locked/summary.json
fi
check 'a path longer than any' exits 2 "$brevis" reported --quiet --no-figures --force --out "mine$(printf '/%.0s' $(seq 4200))sub" "$hand"
check '  is told' says 'takes a path of less than 4096 bytes'
mkdir mounted
if mount -t tmpfs none mounted 2>/dev/null; then
    check 'a file system of its own' quick 4 mounted --force
    check '  is told before anything is computed' says 'mounted is a file system of its own, which cannot be replaced'
    check '  a folder in it will do' quick 0 mounted/result
    umount mounted
else
    echo 'nothing can be mounted here: left out'
fi
(umask 0 && quick 0 open)
check 'the program makes no folder more open than umask says' test -z "$(find aside -perm -o+w)"

# ---- parts of a sweep ----

sweep() { exits "$1" timeout 20 "$brevis" sweep --quiet --no-figures --vary light.spot=2mm..3mm:2 --out swept "$2" ${3:+"$3"} "$hand"; }
mkdir swept.parts
mkfifo swept.parts/1_of_1
check 'a pipe at the name of a part is not waited for' sweep 4 --join
check '  nor written into' sweep 4 --part 1/1
rm swept.parts/1_of_1
ln -s ../real/keep/file swept.parts/1_of_1
check 'a link there is not followed' sweep 4 --part 1/1
check '  nor to read' sweep 4 --join
check '  nor with --force' sweep 4 --part 1/1 --force
check '  what it leads to is untouched' test "$(cat real/keep/file)" = precious
rm swept.parts/1_of_1
ln real/keep/file swept.parts/1_of_1
check 'a file with another name elsewhere is not written to' sweep 4 --part 1/1 --force
check '  nor what it is' test "$(cat real/keep/file)" = precious
check '  as is told' says 'swept.parts/1_of_1: has another name elsewhere, so it is kept'
rm swept.parts/1_of_1
rmdir swept.parts
ln -s real/keep swept.parts
check 'a link at the name of the folder is not followed' sweep 4 --part 1/1
check '  nor to read' sweep 4 --join
check '  as is told' says 'swept.parts: is a link, which is not followed'
check '  and nothing is written where it leads' test "$(ls -A real/keep)" = file
rm swept.parts
if [ "$(id -u)" = 0 ] && sweep 0 --part 1/1 && chown 65534 swept.parts/1_of_1 2>/dev/null; then
    check 'points of somebody else are not gone on with' sweep 4 --part 1/1
    check '  nor counted' sweep 4 --force
    check '  as is told' says 'swept.parts/1_of_1: belongs to somebody else, so it is kept'
    check '  but joined when that is asked for' sweep 0 --join
fi
rm -rf swept swept.parts
mkdir swept.parts
truncate -s 3G swept.parts/1_of_1
check 'three gigabytes of nothing are not read' sweep 4 --join

# ---- files that are no files ----

given() { exits "$1" timeout 10 "$brevis" check "$2"; }
check '/dev/zero' given 3 /dev/zero
check '  is told' says 'larger than 1 MiB'
check '/dev/null' given 3 /dev/null
check '/dev/full' given 3 /dev/full
check 'a folder' given 4 real
check 'memory of a process' given 4 /proc/self/mem
truncate -s 2G sparse.yaml
check 'two gigabytes of nothing' given 3 sparse.yaml
ln -s loop loop
check 'a link to itself' given 4 loop
check 'readings from /dev/zero' exits 3 timeout 10 "$brevis" output --quiet --out zero /dev/zero "$hand"

# ---- nothing is taken from elsewhere, nothing left elsewhere ----

cd "$top" || exit 1
check 'nothing was run' absent "$ran"
counted_out
