#!/bin/sh
# The eight figures of a course: drawn whole in three kinds, the same bytes twice, legible; page and pictures that are
# committed agree with the program.
# usage: BREVIS=build/brevis sh tests/cli/figures.sh            with --update: puts what is drawn now into docs/course
set -u
cd "$(dirname "$0")/../.." || exit 1
. tests/support/cli.sh

names='absorption temperature pulse_width spots grain thresholds cover density'
page=docs/course_figures.md
drawn=$box/drawn
figures() { sh plots/course/figures.sh "$@"; }

if [ "${1:-}" = --update ]; then
    figures "$drawn" && cp "$drawn"/*.svg docs/course/ && sh plots/course/numbers.sh "$drawn/data" | while read -r line; do
        grep -Fxq -e "$line" "$page" || echo "to be put into $page: $line"
    done
    exit
fi

# ---- what absorbs over wavelength ----
check 'spectrum' exits 0 "$brevis" tissue --spectrum "$hand"
cp "$box/stdout" "$box/spectrum.csv"
check '  every nanometre' rows "$box/spectrum.csv" 701
check '  lines end as RFC 4180 has it' crlf "$box/spectrum.csv"
check '  the help tells of it' sh -c "'$brevis' tissue --help | grep -q -- '--spectrum'"
basal() { # basal SITE: absorption of the basal row at 532 nm, in /cm, as the table of tissue has it
    "$brevis" tissue --csv "$hand" | tr -d '\r' | awk -F, -v site="$1" '$1 == site && $2 == "basal" && /"absorption, all"/ { print $5 }'
}
for site in lesion neighbour; do
    check "  basal row of the $site as in the table of tissue" sh -c "tr -d '\r' <'$box/spectrum.csv' | awk -F, -v site=$site -v found=$(basal $site) '
        NR == 1 { for (i = 1; i <= NF; i++) if (\$i == site \"_layer_1_m\") c = i }
        \$1 == \"5.32e-07\" { far = \$c / (100 * found) - 1; if (far < 1e-12 && far > -1e-12) good = 1 } END { exit !good }'"
done
check '  other options are refused' exits 2 "$brevis" tissue --spectrum --out "$box/none" "$hand"
check '  a faulty scenario likewise' exits 3 "$brevis" tissue --spectrum --set light.wavelength="5 nm" "$hand"

# ---- scenarios ----
for name in $names; do check "$name.yaml is sound" exits 0 "$brevis" check "scenarios/course/$name.yaml"; done

if ! command -v gnuplot >/dev/null; then
    echo 'figures: gnuplot is not here, nothing was drawn'
    counted_out
    exit
fi

# ---- drawn ----
check 'all eight' exits 0 figures "$drawn"
for name in $names; do
    check "  $name is named" tells "/$name.svg  .pdf  .png"
    check "  $name.svg is whole" sh -c "tail -c 8 '$drawn/$name.svg' | grep -q '</svg>'"
    check "  $name.svg is small" [ "$(wc -c <"$drawn/$name.svg")" -lt 150000 ]
    check "  $name.pdf is whole" sh -c "tail -c 8 '$drawn/$name.pdf' | grep -q '%%EOF'"
    check "  $name.pdf has no date of today" sh -c "! grep -a -q 'Date (D:$(date +%Y)' '$drawn/$name.pdf'"
    check "  $name.pdf is 16 x 9 cm" sh -c "grep -a -o 'MediaBox \[[^]]*\]' '$drawn/$name.pdf' | head -n 1 | tr -d '[]' | awk '{ w = \$4 / 72 * 2.54; h = \$5 / 72 * 2.54; exit !(w > 15.95 && w < 16.05 && h > 8.95 && h < 9.05) }'"
    # width and height stand after the 16th byte; 1890 is 0762, 1063 is 0427; 11811 dots a metre are 2e23
    check "  $name.png is 1890 x 1063, 300 dots an inch" sh -c "head -c 62 '$drawn/$name.png' | od -An -v -tx1 | tr -d ' \n' | grep -q '^89504e470d0a1a0a0000000d494844520000076200000427.*70485973000*2e2300002e2301'"
    check "  $name: version, hash and caution" sh -c "grep -q 'brevis 0.1.0, scenario [0-9a-f]\{16\}' '$drawn/$name.svg' && grep -q 'not a medical device; not for choosing settings' '$drawn/$name.svg'"
    check "  $name: titled as its scenario" grep -qF "$(sed -n 's/^title: //p' "scenarios/course/$name.yaml" | tr -d '"')" "$drawn/$name.svg"
    # the last row of a lecture hall: no letter below 2.2 % of the height of 540, most of them 3.3 %
    check "  $name: letters of 2.2 % of the height at least" sh -c "grep -o 'font-size=\"[0-9.]*\"' '$drawn/$name.svg' | tr -dc '0-9.\n' | awk '{ n++; if (\$1 < 0.022 * 540) bad = 1 } END { exit bad || n < 8 }'"
done
check 'nothing is left aside' [ -z "$(ls -A "$drawn" | grep '^\.')" ]
check 'nothing is called safe or advised' sh -c "! grep -qiwE 'safe|recommended|optimal' '$drawn'/*.svg '$page'"
check 'who chooses eyewear is told' grep -q 'laser protection adviser' "$drawn/density.svg"
check '355 nm is told to lie outside' grep -q '355: outside' "$drawn/absorption.svg"
check 'which relaxation time is told' grep -q 'lead over its cell, to 1/e' "$drawn/pulse_width.svg"

# ---- what they show ----
cell() { # cell FILE ROW COLUMN
    tr -d '\r' <"$drawn/data/$1" | awk -F, -v row="$2" -v name="$3" 'NR == 1 { for (i = 1; i <= NF; i++) if ($i == name) c = i } NR == row + 1 { print $c }'
}
holds() { awk "BEGIN { exit !($1) }"; } # holds EXPRESSION
# Circles that touch: pi/(2 sqrt 3) and pi/4 of the plane; areas by lines, to 1e-6.  Source: circle-packing, from memory
check 'touching, hexagonal: 0.9069' holds "($(cell cover/hexagonal0/histogram.csv 2 share_one_pass) - 0.9068997)^2 < 1e-12"
check 'touching, square: 0.7854' holds "($(cell cover/square0/histogram.csv 2 share_one_pass) - 0.7853982)^2 < 1e-12"
# OD = -log10 T: the limit is the exposure through a filter of that density; the card prints density to 0.005, limits to three digits
for row in 1 2; do
    check "density of edition $row" holds "(log($(cell density/density.csv $row exposure_J_m2) / $(cell density/density.csv $row limit_J_m2)) / log(10) - $(cell density/density.csv $row density_1))^2 < 0.007^2"
done
check 'the later edition is told with its reading' grep -q 'ICNIRP 2013, stricter reading' "$drawn/density.svg"
check '  and without the reduction for trains' holds "$(cell density/density.csv 2 alone_J_m2) == 0.02 && (log($(cell density/density.csv 2 exposure_J_m2) / 0.02) / log(10) - $(cell density/density.csv 2 alone_density_1))^2 < 0.006^2"
# The bracket of the grain's peak in the run itself, from two solves of the light, and two runs with such grains: one number.
# The peak and 1 ns after the pulse differ by less than 1e-4 of it.
bracket() { sed -n 's/.*"rise": {"value": [^,]*, "unit": "K", "low": \([0-9.]*\), "high": \([0-9.]*\).*/\1 \2/p' "$drawn/data/grain/run/summary.json" | head -n 1 | cut -d ' ' -f "$1"; }
check 'paler grains rise as the bracket has it' holds "($(cell grain/paler/grain.csv 1 after_1e-09_s_rise_K) / $(bracket 1) - 1)^2 < 1e-8"
check '  and darker ones' holds "($(cell grain/darker/grain.csv 1 after_1e-09_s_rise_K) / $(bracket 2) - 1)^2 < 1e-8"
# Far below the relaxation time the rise is that of a grain that keeps its heat, but for what crosses its surface at once:
# two half-spaces in contact give 12 (1 - 0.38) sqrt(a t/pi)/d of it, 0.38 the share of the contact's rise by the effusivities
# of grain (980) and cell (1580 J/m2/K/s^0.5). At 0.1 ns that is 2.4 %; a gaussian pulse has lost about as much at its peak.
adiabatic=$(sed -n 's/.*"adiabatic_rise": {"value": \([0-9.]*\).*/\1/p' "$drawn/data/pulse_width/run/summary.json" | head -n 1)
lost="1 - $(cell pulse_width/sweep/sweep.csv 1 lesion_grain_peak_K) / $adiabatic"
check 'at the left end the grain keeps all but 2.4 % of its heat' holds "$lost > 0.016 && $lost < 0.034"
check 'the right end is the layer' holds "($(cell pulse_width/sweep/sweep.csv 37 lesion_grain_peak_K) / $(cell pulse_width/sweep/sweep.csv 37 lesion_layer_peak_K) - 1)^2 < 1e-6"
check 'one energy through 2 and 5 mm: light over fluence by the square of the widths' holds "($(cell spots/run/spots.csv 1 same_energy) / $(cell spots/run/spots.csv 1 same_fluence) / 6.25 - 1)^2 < 1e-20"

# ---- the same bytes ----
check 'once more, two of them' exits 0 figures "$box/again" temperature density
check '  no others' absent "$box/again/cover.svg"
for name in temperature density; do
    for kind in svg pdf png; do check "  $name.$kind: same bytes" cmp -s "$drawn/$name.$kind" "$box/again/$name.$kind"; done
    check "  what $name is drawn from: same bytes" diff -r "$drawn/data/$name" "$box/again/data/$name"
done

# ---- page and pictures ----
sh plots/course/numbers.sh "$drawn/data" >"$box/numbers" || echo 'a number is missing' >"$box/numbers"
check 'numbers are told' [ "$(grep -c '^- ' "$box/numbers")" -gt 20 ]
while read -r line; do check "the page has: $line" grep -Fxq -e "$line" "$page"; done <"$box/numbers"
check 'the page has no other such line' [ "$(grep -c '^- ' "$page")" = "$(grep -c '^- ' "$box/numbers")" ]
for name in $names; do check "the page shows $name" grep -q "](course/$name.svg)" "$page"; done
if [ "$(gnuplot --version)" = 'gnuplot 5.4 patchlevel 4' ]; then
    for name in $names; do check "docs/course/$name.svg is fresh (--update draws it)" cmp -s "$drawn/$name.svg" "docs/course/$name.svg"; done
else
    echo "figures: docs/course was drawn by gnuplot 5.4.4, here is $(gnuplot --version): its pictures were not compared, the numbers were"
fi

# ---- refusals ----
check 'no such figure' exits 2 figures "$box/none" kover
check '  what there is is told' says 'there are absorption'
check '  nothing is made' absent "$box/none"
check 'a place that cannot be written' exits 4 figures /proc/none
check 'no program' exits 4 env BREVIS="$box/absent" sh plots/course/figures.sh "$box/none"
check '  nothing is made either' absent "$box/none"

counted_out
