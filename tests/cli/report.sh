#!/bin/sh
# report.html of `brevis run` and `brevis compare`: well-formed, whole, from nowhere else, the same bytes, and its sentences
# hold the numbers of temperature.csv and of the summary.
# usage: BREVIS=build/brevis sh tests/cli/report.sh
set -u
cd "$(dirname "$0")/../.." || exit 1
. tests/support/cli.sh

plain() { "$brevis" run --no-figures --quiet --force "$@" 2>"$box/stderr"; }
style_of() { sed -n '/<style>/,/<\/style>/p' "$1"; }
whole() { awk -f tests/support/page.awk "$1" && style_of "$1" | awk -f tests/support/contrast.awk >"$box/contrast"; }
words() { sed 's/<[^>]*>//g' "$1"; }
holds() { grep -qF -e "$2" "$1"; } # holds FILE TEXT
step() { # step FILE WHEN: what is told of a moment
    awk -v when="$2" 'index($0, "<h3>" when) { on = 1; next } on { print; exit }' "$1"
}
tells_of() { step "$1" "$2" | grep -qF -e "$3" || { echo "not told of $2: $3"; step "$1" "$2"; return 1; }; } # FILE WHEN TEXT

# A column of temperature.csv so long after the last pulse began, straight between rows, to three digits.
at() { # at DIRECTORY SECONDS COLUMN
    awk -F, -v t="$2" -v c="$3" '{ sub(/\r$/, "") } NR == 1 { for (i = 1; i <= NF; i++) if ($i == c) k = i; next }
        { n++; pulse[n] = $2; since[n] = $3; value[n] = $k }
        END { for (i = 1; i < n; i++) if (pulse[i] == pulse[n] && since[i] <= t && t <= since[i + 1]) at = i
              way = (t - since[at]) / (since[at + 1] - since[at])
              printf "%.3g", value[at] + way * (value[at + 1] - value[at]) }' "$1/temperature.csv"
}

# ---- what is in it, of several scenarios ----
plain --out "$box/hand" "$hand"
plain --out "$box/long" scenarios/lesson/02_one_millisecond.yaml
plain --out "$box/plate" scenarios/lesson/08_cold_plate.yaml
plain --out "$box/film" scenarios/film_soot_1064nm.yaml
plain --out "$box/train" --set light.count=200 --set 'light.rate=10 Hz' --set 'watch.until=60 s' "$hand"
plain --out "$box/colour" scenarios/measured_colour_532nm.yaml
plain --out "$box/layered" --set light.method=layered --set 'watch.until=100 s' "$hand"
for name in hand long plate film train colour layered; do
    page=$box/$name/report.html
    check "$name: well-formed, letters dark enough" whole "$page"
    check "$name: no script, nothing from elsewhere" sh -c "! grep -qiE '<script|https?://|<link|@import|url\\(' '$page'"
    check "$name: version and hash" grep -q "brevis [0-9.]*, run, scenario $(sed -n 's/.*"scenario_hash": "\(.*\)".*/\1/p' "$box/$name/summary.json")" "$page"
    check "$name: the whole block of cautions" [ "$(words "$page" | grep -cE '^(Teaching and what-if|Not a medical device|Local law|Eyes: rated|A doubtful|Less is not|Tan narrows|Biology is not)')" = 8 ]
    check "$name: a caution before the first section" sh -c "sed '/<h2/q' '$page' | grep -q 'Not a medical device'"
    check "$name: seven sections in order" [ "$(sed -n 's/.*<h2 id="\([a-z]*\)".*/\1/p' "$page" | tr '\n' ' ')" = 'question happens curves numbers limits scenario sheet ' ]
    check "$name: nothing is called safe or advised" sh -c "! grep -qiE '\\bsafe|recommend|optimal' '$page'"
    check "$name: no field for a name" sh -c "! grep -qiE '<input|<form|patient name|name of' '$page' && grep -q 'no personal data belong' '$page'"
    check "$name: no number without its letters" sh -c "! sed 's/base64,[^\"]*//' '$page' | grep -qwE 'nan|-nan|inf|NULL'"
done
check 'why there are no curves, and how to get them' holds "$box/hand/report.html" 'was told --no-figures'

# ---- sentences against the curves ----
page=$box/hand/report.html
for moment in 1e-6:'1 µs' 1e-3:'1 ms' 1:'1 s'; do
    when="${moment#*:} after the pulse began"
    check "after ${moment#*:}: layer of the lesion" tells_of "$page" "$when" "is warmer by $(at "$box/hand" "${moment%%:*}" lesion_layer_rise_K) K ("
    check "after ${moment#*:}: layer of the neighbour" tells_of "$page" "$when" "in the lesion, $(at "$box/hand" "${moment%%:*}" neighbour_layer_rise_K) K ("
    check "after ${moment#*:}: 0.3 mm deep" tells_of "$page" "$when" "0.3 mm deep it is warmer by $(at "$box/hand" "${moment%%:*}" lesion_depth3_rise_K) K ("
done
end=$(awk -F'[:,]' '/"pulse_end"/ { print $3; exit }' "$box/hand/summary.json")
check 'end of the pulse: the grain' tells_of "$page" 'At the end of the pulse' "above its start by $(at "$box/hand" "$end" lesion_grain_mean_rise_K) K ("
check 'end of the pulse: no temperature above the criterion' tells_of "$page" 'At the end of the pulse' 'absorbed energy over heat capacity, no temperature'
check 'where the curves end' tells_of "$page" '10 s after the pulse began, where the curves end' "is warmer by $(at "$box/hand" 9.9999999999 lesion_layer_rise_K) K ("
for number in '79 (20 to 92)' '0.129 (0.0549 to 0.368)' '87 (24 to 98)'; do
    check "the summary has $number" holds "$box/hand/summary.txt" "$number"
    check "and so the sentence" tells_of "$page" 'What it comes to' "$number"
done
check 'share of its heat, as in the summary' sh -c "grep -q 'at pulse end, % *75.4 *79' '$box/hand/summary.txt'"
check '  and in the sentence' tells_of "$page" 'At the end of the pulse' 'there at that moment: 75.4 % in the lesion, 79 % in the neighbour'
page=$box/long/report.html
check 'a millisecond: one second later' tells_of "$page" '1 s after the pulse began' "is warmer by $(at "$box/long" 1 lesion_layer_rise_K) K ("
check 'a millisecond: together' tells_of "$page" 'When the grain gives' 'grain and layer warm together'
check 'a millisecond: nothing of a moment within the pulse' sh -c "! grep -qE '<h3>1 (µs|ms) after' '$page'"
page=$box/train/report.html
check 'blood of a train: one pulse alone, and the tissue besides' holds "$page" 'blood: the light of ONE pulse alone; the tissue'
check '200 pulses: what they left' tells_of "$page" 'Just before the last pulse' "in basal: $(awk -F, 'END { printf "%.3g", $4 }' "$box/train/train.csv") K ("
check '200 pulses: after the last' tells_of "$page" '1 ms after the last pulse began' "is warmer by $(at "$box/train" 1e-3 lesion_layer_rise_K) K ("
check '200 pulses: a layer that hot has no temperature' tells_of "$page" '1 ms after the last' 'no temperature'
page=$box/plate/report.html
cold=$(awk -v start=33 -v now="$(at "$box/plate" 1 lesion_layer_rise_K)" 'BEGIN { printf "%.1f", start + now }')
check 'a cold plate: cold counts, within the start of basal' sh -c "awk -v found='$(step "$page" '1 s after the last' | sed 's/Basal is at \([0-9.]*\) .*/\1/;s/<[^>]*>//g')' -v wanted='$cold' 'BEGIN { d = found - wanted; exit !(d > -0.1 && d < 0.1) }'"
page=$box/film/report.html
check 'a film is heated first' tells_of "$page" 'At the end of the pulse' '>The film on the skin is heated first'
check 'heat that leaves sideways is told' tells_of "$box/layered/report.html" '100 s after' 'upper bounds'
check 'a measured colour' holds "$box/colour/report.html" 'ITA'

# ---- what a lesion differs in, and its grain ----
entry() { sed -n "/<dt>$2</{n;s/<[^>]*>//gp;}" "$1"; } # entry FILE NAME
asks() { # asks NAME LINES...: light skin with those lines
    name=$1
    shift
    { echo 'light: {wavelength: 532 nm, pulse: 7 ns, spot: 4 mm, fluence: 0.6 J/cm2}'; echo 'skin: light'; printf '%s\n' "$@"; } >"$box/$name.yaml"
    plain --out "$box/$name" "$box/$name.yaml"
}
entry_is() { entry "$1" "$2" | grep -qxF -e "$3" || { echo "not: $3"; entry "$1" "$2"; return 1; }; } # entry_is FILE NAME TEXT
counted='counted as disrupted at 112 °C, mean'
asks thick 'lesion: {dermis.blood: 10 %, epidermis.thickness: 100 um, epidermis.scattering: 300 /cm}'
check 'a lesion: a thickness too, and what nobody gave is no 0' entry_is "$box/thick/report.html" Lesion \
    'thickness of epidermis 100 µm, 50 µm in the skin around it; scattering of epidermis 300 /cm, as usual in the skin around it; blood of dermis 10 %, 0.5 % in the skin around it'
asks dark 'lesion: {grain.darkness: 3, basal.melanosomes: 13.7 %}'
check 'a lesion: darker grains, and digits that tell two numbers apart' entry_is "$box/dark/report.html" Lesion \
    'melanosomes of basal 13.7 %, 13.68 % in the skin around it; darkness of grains 3, 1 in the skin around it'
check '  whose grain that is' entry_is "$box/dark/report.html" 'Pigment grain' \
    "in the lesion 0.3 µm across, in the layer with the densest pigment, 3 times as dark as published; in the skin around it 0.3 µm across, in the layer with the densest pigment; $counted"
asks index 'lesion: {grain.absorption: 20000 /cm, dermis.index: 1.5}'
check "a lesion: its grain's absorption" entry_is "$box/index/report.html" Lesion \
    'index of dermis 1.5, 1.4 in the skin around it; absorption of grains 20000 /cm, as usual in the skin around it'
asks grain 'grain: {absorption: 20000 /cm}' # 1.70e12 x 532^-3.48 is 556 /cm
check 'a grain whose absorption is given' entry_is "$box/grain/report.html" 'Pigment grain' \
    "0.3 µm across, in the layer with the densest pigment, absorption 20000 /cm as given, 36 times what is published at this wavelength; $counted"

# ---- sources ----
held_to() { # every citation is the beginning of its entry, and every key that a page names has one
    sed -n 's/^ *{"\([a-z0-9.-]*\)", "\(.*\)"},$/\1|\2/p' cli/report/cite.c | sed 's/\\"/"/g' >"$box/cited"
    [ "$(wc -l <"$box/cited")" -gt 30 ] || return 1
    awk -F'|' 'NR == FNR { text[$1] = $2; next }
        /^### / { key = substr($0, 5); getline; while ($0 == "") getline
                  if (key in text) { if (index($0, text[key]) != 1) { print "not the beginning of its entry: " key; bad = 1 } delete text[key] } }
        END { for (key in text) { print "no entry: " key; bad = 1 } exit bad }' "$box/cited" FS='\n' docs/sources.md
}
check 'citations are those of docs/sources.md' held_to
check 'no source without words' sh -c "! grep -q 'see docs/sources.md <' '$box'/*/report.html"

# ---- text of users ----
nasty='</title><script>alert("1")</script> & '"'"'x'"'"' `id` 50 % שלום'
"$brevis" run --no-figures --quiet --out "$box/nasty" --set "title=$nasty" "$hand" 2>"$box/stderr"
page=$box/nasty/report.html
check 'a nasty title is well-formed' whole "$page"
check '  no tag of it is one' sh -c "! grep -q '<script' '$page'"
check '  it appears as typed' holds "$page" '<h1 dir="auto">&lt;/title&gt;&lt;script&gt;alert(&quot;1&quot;)&lt;/script&gt; &amp; &#39;x&#39; `id` 50 % שלום</h1>'
check '  and the change is listed' holds "$page" '<code dir="auto">title=&lt;/title&gt;'
check '  and can be repeated in a shell' holds "$page" "--set &#39;title=&lt;/title&gt;"
{ cat "$hand"; printf '# </pre><b onclick=x>&amp; "q" %%s %%n\n'; } >"$box/odd.yaml"
"$brevis" run --no-figures --quiet --out "$box/odd" "$box/odd.yaml" 2>"$box/stderr"
check 'the text of a scenario stays text' whole "$box/odd/report.html"
check '  whole' holds "$box/odd/report.html" '# &lt;/pre&gt;&lt;b onclick=x&gt;&amp;amp; &quot;q&quot; %s %n'
text_of() { awk '/<pre dir="auto">$/ { on = 1; next } on && /^<\/pre>/ { exit } on' "$1" | sed 's/&lt;/</g;s/&gt;/>/g;s/&quot;/"/g;s/&#39;/'"'"'/g;s/&amp;/\&/g'; }
text_of "$box/odd/report.html" >"$box/text"
check '  letter by letter' cmp -s "$box/text" "$box/odd.yaml"
(cd "$box" && "$brevis" run --no-figures --quiet - <"$hand" 2>/dev/null)
text_of "$box/out/stdin/report.html" >"$box/text"
check 'of standard input too' cmp -s "$box/text" "$hand"

# ---- the same bytes; nothing on refusal ----
for threads in 1 2 8; do plain --threads $threads --out "$box/t$threads" "$hand"; done
check 'two threads, same bytes' cmp -s "$box/t1/report.html" "$box/t2/report.html"
check 'eight threads, same bytes' cmp -s "$box/t1/report.html" "$box/t8/report.html"
check 'a refused scenario leaves nothing' exits 3 "$brevis" run --out "$box/none" scenarios/wrong/no_light.yaml
check '  no directory' absent "$box/none"
check '  nor does a missing file' exits 4 "$brevis" run --out "$box/none" "$box/nowhere.yaml"
check '  no directory either' absent "$box/none"
check 'the summary names it first' exits 0 "$brevis" run --no-figures --force --out "$box/named" "$hand"
check '  before anything else' tells '^OPEN .*named: report.html, '

# ---- compare ----
pulses=scenarios/compare/pulse_widths.yaml
check 'compare writes one too' exits 0 "$brevis" compare --no-figures --out "$box/compare" "$pulses"
page=$box/compare/report.html
check '  well-formed' whole "$page"
check '  named' tells '^OPEN .*: report.html, '
check '  what differs in which choice' sh -c "grep -qF '<tr><th scope=\"row\">2: <bdi>300 ns</bdi></th><td><bdi>light.pulse 300 ns</bdi>' '$page'"
check '  hidden differences are marked' grep -q '<td>~ 20 <span class="range">(0.53 to 74)' "$page"
check '  and the mark explained' holds "$page" '~ differs from choice 1 by less than the spread of either'
check '  notes by choice' holds "$page" '<li>1, 2: without vaporisation'
check '  what all say' holds "$page" '<li>all: lesion and neighbour are two separate runs'
check '  the text' holds "$page" '300 ns: {light.pulse: 300 ns}'
check '  no choice is called better' sh -c "! grep -qiE 'better choice|best choice|prefer' '$page'"
"$brevis" compare --no-figures --quiet --out "$box/files" "$hand" scenarios/cheek_1064nm.yaml 2>/dev/null
check 'of several files every text' [ "$(grep -c '<h3 dir="auto">.*\.yaml</h3>' "$box/files/report.html")" = 2 ]
for threads in 1 2 8; do "$brevis" compare --no-figures --quiet --threads $threads --out "$box/c$threads" "$pulses" 2>/dev/null; done
check 'two threads, same bytes' cmp -s "$box/c1/report.html" "$box/c2/report.html"
check 'eight threads, same bytes' cmp -s "$box/c1/report.html" "$box/c8/report.html"
sed 's/300 ns: {/<i>\&: {/' "$pulses" >"$box/odd.yaml"
check 'a nasty choice' exits 0 "$brevis" compare --no-figures --out "$box/odd" --force "$box/odd.yaml"
check '  is well-formed' whole "$box/odd/report.html"
check '  and as typed' holds "$box/odd/report.html" '2: <bdi>&lt;i&gt;&amp;</bdi>'

# ---- figures ----
if command -v gnuplot >/dev/null 2>&1; then
    "$brevis" run --quiet --out "$box/drawn" --set light.count=2 --set 'light.rate=3 Hz' --set "title=$nasty" "$hand" 2>"$box/stderr"
    page=$box/drawn/report.html
    check 'with figures: well-formed, told in numbers' whole "$page"
    for name in temperature train grain disrupted depth spots map beside; do
        check "  $name is in it" grep -q "<figure id=\"figure-$name\">" "$page"
    done
    if command -v base64 >/dev/null 2>&1; then
        awk '/id="figure-depth"/ { on = 1 } on && match($0, /base64,[A-Za-z0-9+\/=]*/) { print substr($0, RSTART + 7, RLENGTH - 7); exit }' "$page" |
            base64 -d >"$box/depth.svg"
        check '  the drawing itself, byte by byte' cmp -s "$box/depth.svg" "$box/drawn/depth.svg"
    fi
    peak=$(awk -F, '{ sub(/\r$/, "") } NR > 1 && $1 == "lesion" && $5 + 0 > most { most = $5 + 0 } END { printf "%.3g", most }' "$box/drawn/depth.csv")
    check '  alt of the depths: the peak of depth.csv' grep -q "alt=\"Lesion: light over incident light .* the highest rise of any depth is $peak K" "$page"
    check '  alt of the curves: the peak of the summary' sh -c "grep -q 'alt=\"Lesion: the mean of a grain rises by at most [0-9.]* K (' '$page'"
    "$brevis" run --quiet --out "$box/drawn2" --threads 1 --set light.count=2 --set 'light.rate=3 Hz' --set "title=$nasty" "$hand" 2>"$box/stderr"
    check '  same bytes again' cmp -s "$page" "$box/drawn2/report.html"
    "$brevis" compare --quiet --out "$box/drawn3" "$pulses" 2>"$box/stderr"
    check 'compare: its figure' grep -q '<figure id="figure-compare">' "$box/drawn3/report.html"
    check '  well-formed' whole "$box/drawn3/report.html"
fi
mkdir "$box/empty"
check 'without gnuplot' exits 0 env PATH="$box/empty" "$brevis" run --quiet --out "$box/bare" "$hand"
check '  a report that says so' holds "$box/bare/report.html" 'gnuplot was not found, or it failed'
check '  well-formed' whole "$box/bare/report.html"

counted_out
