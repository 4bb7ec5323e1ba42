#!/bin/sh
# What a user of `brevis colour`, and of a skin with a measured colour, sees: files, columns, words, exit codes, same bytes.
# usage: BREVIS=build/brevis sh tests/cli/colour.sh
set -u
cd "$(dirname "$0")/../.." || exit 1
. tests/support/cli.sh
measured=$PWD/scenarios/measured_colour_532nm.yaml

# ---- what is written ----
check 'a measured colour' exits 0 "$brevis" colour --no-figures --threads 2 --out "$box/two" "$measured"
check 'stdout is summary.txt and the files' sh -c "head -n -1 '$box/stdout' | cmp -s - '$box/two/summary.txt'"
check 'under 40 lines' [ "$(wc -l <"$box/stdout")" -lt 40 ]
for text in summary.txt summary.json; do
    check "$text: caution" grep -q 'Not a medical device' "$box/two/$text"
    check "$text: version and hash" sh -c "grep -q '0.1.0' '$box/two/$text' && grep -q '[0-9a-f]\{16\}' '$box/two/$text'"
    check "$text: not the type" grep -q 'use the measured colour' "$box/two/$text"
    check "$text: no setting follows" grep -q 'no setting follows from a class' "$box/two/$text"
    check "$text: by this model" grep -q 'by this model, not measured' "$box/two/$text"
    check "$text: nothing is called safe or recommended" sh -c "! grep -qiw 'safe\|recommended' '$box/two/$text'"
done
check 'the colour that was measured' tells 'L\* 62, b\* 17, ITA 35.2: .* % (.* to .*) melanosomes'
check 'six classes' [ "$(grep -cE '^ {9}(very light|light|intermediate|tanned|brown|dark) ' "$box/stdout")" = 6 ]
# the neighbour has the ITA that was measured: its own L* and b* may be others
check 'the ITA again' grep -q 'degrees *[-0-9.]* (.*) *35\.2 (' "$box/two/summary.txt"
check '141 wavelengths' rows "$box/two/reflectance.csv" 141
check '25 depths' rows "$box/two/visibility.csv" 25
check 'lines end as RFC 4180 has it' crlf "$box/two/reflectance.csv" "$box/two/visibility.csv"
check 'columns of the spectrum' sh -c "head -n 1 '$box/two/reflectance.csv' | tr -d '\r' | grep -qx 'wavelength_m,neighbour,lesion'"
check 'columns of the depths' sh -c "head -n 1 '$box/two/visibility.csv' | tr -d '\r' | grep -qx 'depth_m,contrast_400nm,contrast_450nm,contrast_550nm,contrast_650nm,change_L,change_a,change_b'"
check '400 to 1100 nm' awk -F, 'NR == 2 { first = $1 } END { exit !(first == 4e-7 && $1 == 1.1e-6) }' "$box/two/reflectance.csv"
check 'the lesion sends less back' awk -F, 'NR > 1 && !($3 + 0 < $2 + 0 && $3 > 0 && $2 < 1) { bad = 1 } END { exit bad }' "$box/two/reflectance.csv"
check 'deep pigment takes more of the red' awk -F, 'END { exit !($2 < $3 && $3 < $4 && $4 < $5) }' "$box/two/visibility.csv"

# ---- the same bytes ----
for threads in 1 8; do
    "$brevis" colour --no-figures --quiet --threads $threads --out "$box/t$threads" "$measured"
    check "$threads threads, same bytes" diff -r "$box/t$threads" "$box/two"
done

# ---- the other commands know where the pigment came from ----
check 'check' sh -c "'$brevis' check '$measured' | grep -q 'colour  L\* 62, b\* 17, .* by this model, not measured'"
check 'tissue' sh -c "'$brevis' tissue '$measured' | grep -q 'Measured colour: .* by this model, not measured'"
check 'run' exits 0 "$brevis" run --no-figures --out "$box/run" --set light.method=layered --set 'watch.until=1 ms' "$measured"
check '  in words' tells 'ITA 35.2: .* by this model, not measured'
check '  and in JSON' grep -q '"measured_colour"' "$box/run/summary.json"
check 'the darker skin holds more' sh -c "'$brevis' check --set skin.colour.L=56 --set skin.colour.b=19 '$measured' | grep -q 'ITA 17.5: 4.7'"
check 'a sweep over L*' exits 0 "$brevis" sweep --no-figures --vary skin.colour.L=60..64:2 --set light.method=layered --set 'watch.until=1 ms' --out "$box/sweep" "$measured"
check 'choices of colour' exits 0 "$brevis" compare --no-figures --set light.method=layered --set 'watch.until=1 ms' --out "$box/compare" "$measured"
check 'a ready skin, changed in words' exits 0 "$brevis" colour --no-figures --set skin.dermis.blood='1 %' --out "$box/ready" scenarios/forearm_light_532nm.yaml
check '  its ITA stands for pigment' tells "PIGMENT  the neighbour's ITA stands for"
check 'layers of their own' exits 0 "$brevis" colour --no-figures --out "$box/own" scenarios/hand_532nm.yaml
check '  are compared with a ready skin' tells 'in the epidermis of a ready skin'
check 'absorption given outright' exits 0 "$brevis" colour --no-figures --set 'skin.dermis.absorption=1 /cm' --out "$box/given" scenarios/forearm_light_532nm.yaml
check '  is said to say little' tells 'held at all: this colour says little'
check '  and no pigment is laid into it' tells 'pigment in the dermis is left out'
check '  the table is empty' rows "$box/given/visibility.csv" 0
check 'dots in a skin in words' sh -c "printf 'light: {wavelength: 532 nm, pulse: 7 ns, spot: 4 mm, fluence: 1 J/cm2}\nskin: {colour: {L: 62, b: 17}, dermis.blood: 1 %%}\n' | '$brevis' check - | grep -q 'ITA 35.2'"

# ---- refusals: the right code, place, what was found and what is allowed; nothing written ----
refuses() { # refuses PATTERN SET...
    wanted=$1
    shift
    exits 3 "$brevis" colour --out "$box/none" "$@" "$measured" && says "$wanted"
}
check 'lighter than any' refuses 'skin.colour.L:1:15: skin.colour.L = 93: .* can have L\* from 7\.[0-9] to 78\.[0-9]' --set skin.colour.L=93
check 'above the ITA without pigment' refuses 'is an ITA of 79.5 degrees: .* can have ITA from -73' --set skin.colour.L=77 --set skin.colour.b=5
check 'b* of 0' refuses 'skin.colour.b = 0, allowed above 0' --set skin.colour.b=0
check 'L* above 100' refuses 'skin.colour.L = 101, allowed 0 to 100' --set skin.colour.L=101
check 'pigment beside the colour' refuses 'skin.basal.melanosomes: skin.colour says how much' --set 'skin.basal.melanosomes=5 %'
check 'a ready skin beside the colour' refuses 'give ready or colour' --set skin.ready=light
check 'a* is no part of it' refuses 'ITA is made of L and b alone' --set skin.colour.a=9
check 'existing directory without --force' exits 4 "$brevis" colour --out "$box/two" "$measured"
check 'missing file' exits 4 "$brevis" colour --out "$box/none" "$box/missing.yaml"
check 'no file named' exits 2 "$brevis" colour
check 'unknown option' exits 2 "$brevis" colour --json "$measured"
check 'nothing was written' absent "$box/none"
check 'no leftovers beside results' sh -c "! ls -A '$box' | grep -q part"
check 'help' sh -c "'$brevis' colour --help | grep -q -- --no-figures"
check 'explain' sh -c "'$brevis' explain skin.colour.L | grep -q D65"

# ---- figures ----
if command -v gnuplot >/dev/null 2>&1; then
    (cd "$box" && "$brevis" colour "$measured" >"$box/stdout" 2>"$box/stderr")
    drawn=$box/out/measured_colour_532nm-colour
    for name in reflectance visibility; do
        check "$name: svg" [ -s "$drawn/$name.svg" ]
        check "$name: png" [ -s "$drawn/$name.png" ]
        check "$name: version and caution" grep -q 'brevis 0.1.0.*not a medical device' "$drawn/$name.svg"
    done
    check 'no complaint' [ ! -s "$box/stderr" ]
    check 'the figures are named' tells '^OPEN .*reflectance.png, visibility.png'
fi

counted_out
