#!/bin/sh
# Titles and names as people type them: quotes, markup, what a shell, printf or gnuplot would take for a command, letters of
# other scripts, 16 kB. Shown as typed in text, JSON, CSV, cards and figures, never executed, never cut inside a letter; what
# would move a cursor, end a line or turn the order of letters is refused with its place.
#     sh tests/cli/titles.sh
cd "$(dirname -- "$0")/../.." || exit 1
. tests/support/cli.sh

body='light: {wavelength: 532 nm, pulse: 7 ns, spot: 4 mm, fluence: 0.6 J/cm2}
skin: light'
scenario() { # scenario NAME TITLE: the title in single quotes, which YAML takes as they are
    printf "title: '%s'\n%s\n" "$(printf '%s\n' "$2" | sed "s/'/''/g")" "$body" >"$box/$1.yaml"
}
holds() { grep -qF -e "$2" "$1"; } # holds FILE TEXT
escaped() { printf '%s\n' "$1" | sed 's/\\/\\\\/g; s/"/\\"/g'; }           # as JSON has it
in_markup() { printf '%s\n' "$1" | sed 's/&/\&amp;/g; s/</\&lt;/g'; }     # as SVG has it; `>` may stand there
in_page() { in_markup "$1" | sed 's/>/\&gt;/g; s/"/\&quot;/g'";s/'/\&#39;/g"; }
plain() { ! LC_ALL=C grep -q "$(printf '[\001-\010\013\014\016-\037\177]')" "$@"; }
# Whole letters only: `sed -n l` would show other bytes; here every byte that begins a letter is followed by what belongs to it.
utf8() {
    LC_ALL=C awk 'BEGIN { for (i = 128; i < 256; i++) code[sprintf("%c", i)] = i }
        { n = length($0); want = 0
          for (i = 1; i <= n; i++) {
              c = code[substr($0, i, 1)] + 0
              if (c >= 128 && c < 192) { if (want == 0) exit bad = 1; want-- }
              else { if (want > 0) exit bad = 1; want = c >= 240 ? 3 : c >= 224 ? 2 : c >= 192 ? 1 : 0 }
          }
          if (want > 0) exit bad = 1 }
        END { exit bad }' "$1"
}
# Well-formed as far as it goes: tags are closed in order, `<` and `&` stand only where they may, one root.
xml() {
    LC_ALL=C awk '
        { text = text $0 "\n" }
        END {
            while (match(text, /</)) {
                before = substr(text, 1, RSTART - 1)
                gsub(/&(amp|lt|gt|quot|apos|#[0-9]+|#x[0-9A-Fa-f]+);/, "", before)
                if (before ~ /&/ || (depth == 0 && before !~ /^[ \t\r\n]*$/)) exit 1
                text = substr(text, RSTART)
                if (substr(text, 1, 4) == "<!--") { end = index(text, "-->") + 2 }
                else if (substr(text, 1, 9) == "<![CDATA[") { end = index(text, "]]>") + 2 }
                else end = index(text, ">")
                if (end < 3) exit 1
                tag = substr(text, 1, end)
                text = substr(text, end + 1)
                if (tag ~ /^<[?!]/) continue
                if (tag ~ /^<\//) {
                    name = substr(tag, 3); sub(/[ \t\r\n>].*/, "", name)
                    if (depth == 0 || open[depth--] != name) exit 1
                } else if (tag !~ /\/>$/) {
                    name = substr(tag, 2); sub(/[ \t\r\n>].*/, "", name)
                    if (depth == 0 && roots++) exit 1
                    open[++depth] = name
                }
            }
            exit depth != 0 || roots != 1
        }' "$1"
}

# ---- shown as typed, never executed ----

quotes="\"quoted\" it's 'a' <b>bold</b> & &amp; \\n \\ | #1: [x] {y}"
commands="\`touch $box/ran\` \$(touch $box/ran) \$HOME %s %n 100% @x"
markup='{/*5 big} a_b^c ~a{.8-} system("true") <!-- --> ]]> ="=1+1"'
letters='Übergröße, пигмент, 日本語の題名, नमस्ते, 🌞 é'
backwards='نص عربي 532 nm שלום עולם'

n=0
for title in "$quotes" "$commands" "$markup" "$letters" "$backwards"; do
    n=$((n + 1))
    scenario "t$n" "$title"
    [ $n = 1 ] || quick=--no-figures
    check "title $n: exit 0" exits 0 "$brevis" run $quick --out "$box/run$n" "$box/t$n.yaml"
    check "  $title: at the terminal" holds "$box/stdout" "   $title   ["
    check '  in summary.txt' holds "$box/run$n/summary.txt" "   $title   ["
    check '  in one line' test "$(grep -c '^brevis ' "$box/run$n/summary.txt")" = 1
    check '  in summary.json' holds "$box/run$n/summary.json" "\"title\": \"$(escaped "$title")\""
    check '  whole letters' utf8 "$box/run$n/summary.json"
    check "  of check" exits 0 "$brevis" check "$box/t$n.yaml"
    check '  a card to print' exits 0 "$brevis" room --quiet --out "$box/room$n" "$box/t$n.yaml"
    check '  on a card to print' holds "$box/room$n/card.html" "$(in_page "$title")"
    check '  by --set as well' exits 0 "$brevis" run --no-figures --force --set "title=$title" --out "$box/set" "$hand"
    check '  the same' holds "$box/set/summary.json" "\"title\": \"$(escaped "$title")\""
done
check 'nothing was executed' absent "$box/ran"

if command -v gnuplot >/dev/null 2>&1; then
    n=0
    for title in "$quotes" "$commands" "$markup" "$letters" "$backwards"; do
        n=$((n + 1))
        # The run's own figures once, then a quick one.
        if [ $n = 1 ]; then folder=run1 figure=temperature; else
            folder=colour$n figure=reflectance
            check "title $n in a figure" exits 0 "$brevis" colour --quiet --out "$box/colour$n" "$box/t$n.yaml"
        fi
        check "  $title: in the SVG" holds "$box/$folder/$figure.svg" "<text>$(in_markup "$title")</text>"
        check '  which is well formed' xml "$box/$folder/$figure.svg"
        check '  and the PNG is drawn' test -s "$box/$folder/$figure.png"
    done
    check 'nothing was executed by gnuplot' absent "$box/ran"
    printf '<svg><text>a & b</text></svg>' >"$box/bad1.svg"
    printf '<svg><text>a <b> c</text></svg>' >"$box/bad2.svg"
    check 'the check of SVG sees a bare ampersand' test "$(xml "$box/bad1.svg" || echo bad)" = bad
    check '  and a tag that is not closed' test "$(xml "$box/bad2.svg" || echo bad)" = bad
fi

# ---- long ----

long=$(awk 'BEGIN { for (i = 0; i < 700; i++) printf "pigment für %d 日 ", i; printf "end" }')
scenario long "$long"
check 'a title of many kB' test "$(wc -c <"$box/long.yaml")" -gt 12000
check '  runs' exits 0 "$brevis" run --quiet --no-figures --out "$box/long" "$box/long.yaml"
check '  whole in summary.txt' holds "$box/long/summary.txt" "$long   ["
check '  whole in summary.json' holds "$box/long/summary.json" "\"title\": \"$long\""
check '  a card cuts it' exits 0 "$brevis" room --out "$box/room" "$box/long.yaml"
check '  with an ellipsis' grep -q 'title">pigment für 0 .*…</p>' "$box/room/card.html"
check '  between letters' utf8 "$box/room/card.html"
check '  and its text has it whole' tells 'für 699 日 end'
if command -v gnuplot >/dev/null 2>&1; then
    for command in colour spread sweep; do
        more=
        [ $command != spread ] || more='--draws 32'
        [ $command != sweep ] || more='--vary light.spot=2mm..4mm:2'
        # shellcheck disable=SC2086 # several words
        check "  $command draws it" exits 0 "$brevis" $command --quiet $more --out "$box/long-$command" "$box/long.yaml"
        for svg in "$box/long-$command"/*.svg; do
            check '  cut with an ellipsis' grep -q '<text>pigment für 0 .*…</text>' "$svg"
            check '  to a line' test "$(grep '<text>pigment für 0 ' "$svg" | wc -m)" -lt 320
            check '  between letters' utf8 "$svg"
            check '  well formed' xml "$svg"
        done
    done
fi
exits 0 "$brevis" sweep --quiet --no-figures --vary light.spot=2mm..4mm:2 --out "$box/sweep" "$box/long.yaml"
check '  sweep keeps it whole' holds "$box/sweep/summary.json" "$long"

# ---- choices ----

cat >"$box/choices.yaml" <<'END'
title: names
light: {wavelength: 532 nm, pulse: 7 ns, spot: 4 mm, fluence: 0.6 J/cm2}
skin: light
choices:
  as it is: {}
  "it's <b>5 %</b> & `x` $y_z^2": {light.spot: 7 mm}
  größerer Fleck, 日本語の題名日本語の題: {light.spot: 8 mm}
  שלום עולם: {light.spot: 9 mm}
END
check 'names of choices' exits 0 "$brevis" compare --out "$box/choices" "$box/choices.yaml"
check '  in the table' tells "it's <b>5 %</b> & \`x\` \$y_z^2 *\[[0-9a-f]*\] light.spot 7 mm"
check '  whole letters in its heads' utf8 "$box/choices/summary.txt"
check '  cut at a blank in its heads' grep -q '^ *1 as it is  *2 it.s <b>5 %</b> & *3 größerer Fleck, *4 שלום עולם$' "$box/choices/summary.txt"
check '  in the CSV' holds "$box/choices/compare.csv" ",\"größerer Fleck, 日本語の題名日本語の題\","
check '  in summary.json' holds "$box/choices/summary.json" '"name": "שלום עולם"'
if command -v gnuplot >/dev/null 2>&1; then
    check '  in the figure, well formed' xml "$box/choices/compare.svg"
    check '  a comma does not cut it' holds "$box/choices/compare.svg" 'größerer Fleck,</text>'
fi
cp "$hand" "$box/a\"b,ü.yaml"
check 'names of files become names of choices' exits 0 "$brevis" compare --no-figures --out "$box/files" "$box/a\"b,ü.yaml" "$box/t4.yaml"
check '  in the CSV, as RFC 4180 has it' holds "$box/files/compare.csv" '1,"a""b,ü",'

# ---- refused ----

escape=$(printf 'a\033[31mred')
check 'an escape sequence typed after --set' exits 3 "$brevis" run --out "$box/no" --set "title=$escape" "$hand"
check '  refused with its place' says '^--set title:1:8: a control character stands here'
check '  and not sent to the terminal' plain "$box/stderr"
check '  nothing written' absent "$box/no"
printf 'title: "a\\e[31mred"\n%s\n' "$body" >"$box/escape.yaml"
check 'written as an escape of YAML' exits 3 "$brevis" run --out "$box/no" "$box/escape.yaml"
check '  refused with its place' says 'escape.yaml:1:8: title = a: a control character follows; one line of text is wanted'
check '  nothing written' absent "$box/no"
printf 'title: %s\n%s\n' "$escape" "$body" >"$box/raw.yaml"
check 'as it is in the file' exits 3 "$brevis" run --out "$box/no" "$box/raw.yaml"
check '  refused with its place' says 'raw.yaml:1:9: a control character'
check '  and not sent to the terminal' plain "$box/stderr"
for set in "$(printf 'light.pulse=9\n ns')" "$(printf 'light.pulse=9\tns')" "$(printf 'title=a\nb')"; do
    check 'the end of a line, or a tab, in --set' exits 3 "$brevis" run --out "$box/no" --set "$set" "$hand"
    check '  said' says 'a tab or the end of a line stands in it; one line of text is wanted'
done
check 'letters turned backwards' exits 3 "$brevis" check --set "title=$(printf 'a\342\200\256b')" "$hand"
check '  refused' says 'title = a: a control character follows'
head -c 16385 /dev/zero | tr '\000' x >"$box/x"
printf 'title: %s\n%s\n' "$(cat "$box/x")" "$body" >"$box/longer.yaml"
check 'longer than 16 kB' exits 3 "$brevis" check "$box/longer.yaml"
check '  says what is allowed' says 'longer.yaml:1:8: title: 16385 bytes are too long, at most 16384 fit'

# ---- other words of the command line ----

cp "$hand" "$box/$escape.yaml"
check 'an escape sequence in the name of a file' exits 0 "$brevis" compare --no-figures --out "$box/e" "$box/$escape.yaml" "$hand"
check '  is not sent to the terminal' plain "$box/stdout"
check '  nor when it is missing' exits 4 "$brevis" check "$box/missing $escape.yaml"
check '  plain' plain "$box/stderr"
check '  nor in the name of a directory' exits 0 "$brevis" run --no-figures --out "$box/$escape" "$hand"
check '  plain' plain "$box/stdout"
check '  nor as a command' exits 2 "$brevis" "$escape"
check '  plain' plain "$box/stderr"
check '  nor as a value' exits 2 "$brevis" run --threads "$escape" "$hand"
check '  plain' plain "$box/stderr"

counted_out
