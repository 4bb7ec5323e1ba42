#!/bin/sh
# What a user of `brevis window` sees: files, columns, words, exit codes, the same bytes.
# usage: BREVIS=build/brevis sh tests/cli/window.sh
set -u
cd "$(dirname "$0")/../.." || exit 1
. tests/support/cli.sh

# ---- what is written ----
check 'the window of a hand' exits 0 "$brevis" window --no-figures --threads 2 --out "$box/two" "$hand"
check 'stdout is summary.txt and the files' sh -c "head -n -1 '$box/stdout' | cmp -s - '$box/two/summary.txt'"
check 'under 46 lines' [ "$(wc -l <"$box/stdout")" -lt 46 ]
for text in summary.txt summary.json; do
    check "$text: caution" grep -q 'Not a medical device' "$box/two/$text"
    check "$text: version and hash" sh -c "grep -q '0.1.0' '$box/two/$text' && grep -q 5b982456992ddffb '$box/two/$text'"
    check "$text: what is not clearance" grep -q 'not clearance' "$box/two/$text"
    check "$text: damage of short pulses is an illustration" grep -q 'an illustration: most of it' "$box/two/$text"
    check "$text: nothing is called safe or recommended" sh -c "! grep -qiw 'safe\|recommended' '$box/two/$text'"
done
check 'one pulse' tells 'ONE gaussian pulse of 10 ps to 100 ms'
check 'eleven widths and the own' [ "$(grep -cE '^ {9}10{0,2} (ps|ns|us|ms) ' "$box/stdout")" = 11 ]
check 'the own width' tells '^  own    7 ns '
check '60 rows of one length' rows "$box/two/window.csv" 60
check '3600 rows of the map' rows "$box/two/map.csv" 3600
check 'lines end as RFC 4180 has it' crlf "$box/two/window.csv" "$box/two/map.csv"
check 'columns of the window' sh -c "head -n 1 '$box/two/window.csv' | tr -d '\r' | grep -qx 'width_s,damage_illustrative\(,\(lesion\|neighbour\)_[a-z0-9_]*_\(s\|J_m2\)\)\{24\}'"
check 'columns of the map' sh -c "head -n 1 '$box/two/map.csv' | tr -d '\r' | grep -qx 'width_s,fluence_J_m2,lesion_share_disrupted,neighbour_share_disrupted'"
check 'widths from 10 ps to 100 ms' awk -F, 'NR == 2 { first = $1 } END { exit !(first == 1e-11 && $1 == 0.1) }' "$box/two/window.csv"
check '5 % lie below 50 % below 95 %' awk -F, 'NR > 1 && !($5 < $6 && $6 < $7 && $17 < $18 && $18 < $19) { bad = 1 } END { exit bad }' "$box/two/window.csv"
check 'shares grow with the fluence' awk -F, 'NR > 1 && $1 == width && ($3 + 0 < one || $4 + 0 < two) { bad = 1 } { width = $1; one = $3 + 0; two = $4 + 0 } END { exit bad }' "$box/two/map.csv"
check 'illustrations end at a millisecond' awk -F, 'NR > 1 && ($1 < 1e-3) != $2 { bad = 1 } END { exit bad }' "$box/two/window.csv"

# ---- the window's own width against a run: read between two widths, straight in the logarithms ----
"$brevis" run --no-figures --out "$box/run" "$hand" >"$box/run.txt" 2>/dev/null
sign_of_run=$(sed -n 's/.*threshold of a sign, mean at 112 C, J\/cm2 *\([0-9.]*\) .*/\1/p' "$box/run.txt")
sign_of_window=$(awk '/^  own/ { print $5 }' "$box/two/summary.txt")
check "sign at 7 ns, run $sign_of_run, window $sign_of_window" awk -v a="$sign_of_run" -v b="$sign_of_window" 'BEGIN { exit !(a > 0 && a / b < 1.01 && b / a < 1.01) }'

# ---- the same bytes ----
"$brevis" window --no-figures --quiet --threads 8 --out "$box/eight" "$hand"
check 'eight threads, same bytes' diff -r "$box/eight" "$box/two"

# ---- what is said of other scenarios; an endless beam is quicker ----
seen() { "$brevis" window --no-figures --force --out "$box/told" --set light.method=layered "$@" >"$box/stdout" 2>"$box/stderr"; }
check 'a plate that is taken away in a long pulse' seen --set surface.outside=plate --set 'surface.outside_temperature=5 degC' --set 'surface.to=1 ms' "$hand"
check '  under an endless beam' tells 'beam: endless'
check '  leaves widths out, and says why' tells 'because of surface.to:'
check '  in the table' tells '100 ms   left out'
check '  and leaves their fields empty' awk -F, 'END { exit !($1 == 0.1 && $2 == "" && $5 == "" && $12 == "") }' "$box/told/window.csv"
check '  all of them under 46 lines' [ "$(wc -l <"$box/stdout")" -lt 46 ]
check 'skin that a plate has burnt before the pulse' seen --set surface.outside=plate --set 'surface.outside_temperature=60 degC' --set 'surface.from=-600 s' "$hand"
check '  needs no light in any row, and none says "none"' sh -c "[ \$(grep -cE '^ +(own +)?[0-9]+ (ps|ns|us|ms) ' '$box/stdout') = 12 ] && ! grep -E '^ +(own +)?[0-9]+ (ps|ns|us|ms) ' '$box/stdout' | grep -q none"
check '  and the own row has its 0 twice' awk '/^  own/ { for (i = 1; i <= NF; i++) n += $i ~ /^0[*]?$/ } END { exit n != 2 }' "$box/stdout"

# ---- skin without pigment has no share of grains; its grain is imagined, and that is said ----
cat >"$box/bare.yaml" <<'END'
light: {wavelength: 1064 nm, pulse: 7 ns, spot: 4 mm, fluence: 2 J/cm2}
skin: light
lesion: {basal.melanosomes: 0 %, epidermis.melanosomes: 0 %}
END
check 'a lesion without pigment' exits 0 "$brevis" window --no-figures --set light.method=layered --out "$box/bare" "$box/bare.yaml"
check '  none of it is disrupted' tells '^  own    7 ns    none   none '
check '  its grain is called imagined' tells '^ *lesion: no pigment in that layer. Its grain is imagined'
share_is() { awk -F, -v name="$1" -v there="$2" 'NR == 1 { for (i = 1; i <= NF; i++) if ($i == name) k = i } NR > 1 && (($k != "") != there) { bad = 1 } END { exit bad || !k }' "$box/bare/window.csv"; }
check '  nothing stands in the file' share_is lesion_share50_J_m2 0
check '  the skin around it has its share' share_is neighbour_share50_J_m2 1

# ---- a column of a sign beyond the usual ones widens its range, and the words follow ----
"$brevis" window --no-figures --set light.method=layered --set watch.sign_column='1 um' --out "$box/column" "$hand" >"$box/stdout" 2>"$box/stderr"
check 'a column of 1 um' sh -c "tr -s '\\n ' '  ' <'$box/stdout' | grep -q 'of a sign also its column, 0.1-1 um'"

# ---- refusals: the right code, a line, nothing written ----
check 'existing directory without --force' exits 4 "$brevis" window --out "$box/two" "$hand"
check 'missing file' exits 4 "$brevis" window --out "$box/none" "$box/missing.yaml"
check 'scenario with faults' exits 3 "$brevis" window --out "$box/none" scenarios/wrong/many_slips.yaml
check 'a bad --set' exits 3 "$brevis" window --out "$box/none" --set light.pulse=7 "$hand"
check '  says where' says 'set light.pulse'
check 'nothing was written' absent "$box/none"
check 'no file named' exits 2 "$brevis" window
check 'unknown option' exits 2 "$brevis" window --vary light.spot "$hand"
check 'no leftovers beside results' sh -c "! ls -A '$box' | grep -q part"
check 'help' sh -c "'$brevis' window --help | grep -q -- --no-figures"

# ---- a train, and the figure ----
(cd "$box" && "$brevis" window --set light.method=layered --set light.count=5 --set 'light.rate=3 Hz' "$hand" \
    >"$box/stdout" 2>"$box/stderr")
check 'a train is told to be one pulse' tells 'the scenario has 5 pulses, this is the window of ONE'
drawn=$box/out/hand_532nm-window
check 'the default directory' [ -s "$drawn/summary.json" ]
if command -v gnuplot >/dev/null 2>&1; then
    check 'svg' [ -s "$drawn/window.svg" ]
    check 'png' [ -s "$drawn/window.png" ]
    check 'no complaint' [ ! -s "$box/stderr" ]
    check 'the figure is named' tells '^OPEN .*window.png'
    check 'version and caution in the figure' grep -q 'brevis 0.1.0.*not a medical device' "$drawn/window.svg"
    check 'the illustration is called one' grep -q 'an illustration' "$drawn/window.svg"
fi

counted_out
