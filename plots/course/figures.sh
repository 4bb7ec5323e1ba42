#!/bin/sh
# Draws the eight figures of a course: runs the scenarios beside it, then gnuplot, two figures at a time.
#
#   usage: sh plots/course/figures.sh [OUT] [NAME...]         OUT is out/course unless it is told
#
# Each figure becomes OUT/NAME.svg, .pdf (16 x 9 cm) and .png (the same at 300 dots an inch); what it is drawn from
# stands in OUT/data/NAME, as the commands of brevis write it. The program is $BREVIS, or that of the tree this script
# lies in, or the one on the path.
set -u
LC_ALL=C
export LC_ALL
unset GNUTERM GNUPLOT_LIB GNUPLOT_FONTPATH GNUPLOT_DEFAULT_GDFONT GDFONTPATH
here=$(cd "$(dirname "$0")" && pwd) || exit 4
course=$here/../../scenarios/course
names='absorption temperature pulse_width spots grain thresholds cover density'

complain() {
    echo "figures: $*" >&2
    exit 4
}

# ---- the program ----
if [ -z "${BREVIS:-}" ]; then
    BREVIS=$here/../../build/brevis
    [ -x "$BREVIS" ] || BREVIS=$(command -v brevis) || complain 'brevis is neither built nor on the path: make, or say BREVIS=...'
fi
case $BREVIS in /*) ;; *) BREVIS=$PWD/$BREVIS ;; esac
export BREVIS
version=$("$BREVIS" --version) || complain "$BREVIS does not run"

# ---- running: every result goes to data/NAME/WHAT ----
run() { # run WHAT COMMAND OPTION...: of this figure's scenario
    what=$1
    command=$2
    shift 2
    "$BREVIS" "$command" "$course/$name.yaml" --quiet --force --threads 1 --out "$data/$what" "$@" ||
        complain "brevis $command $name.yaml failed"
}

number() { # number FILE KEY: the first number of this key in a summary.json; gnuplot takes 1e-05 for 1, not 1.0e-05
    awk -v key="\"$2\":" 'index($0, key) && match($0, /"value": [-+.0-9e]+/) {
        printf "%.12e\n", substr($0, RSTART + 9, RLENGTH - 9); exit }' "$1"
}
text_of() { # text_of FILE KEY
    sed -n "s/.*\"$2\": \"\\(.*\\)\",\\{0,1\\}\$/\\1/p" "$1" | head -n 1
}
hash_of() { text_of "$data/$1/summary.json" scenario_hash; }
title_of() { text_of "$data/$1/summary.json" title; }
scaled() { awk -v x="$1" -v by="$2" 'BEGIN { printf "%.4g", x * by }'; }

# ---- drawing ----
dots() { # dots FILE: says in a png that it has 300 dots an inch (11811 a metre), which gnuplot leaves out
    { head -c 33 "$1" &&
        printf '\000\000\000\011pHYs\000\000\056\043\000\000\056\043\001\170\245\077\166' &&
        tail -c +34 "$1"; } >"$1.dots" && mv "$1.dots" "$1"
}

undated() { # undated FILE: a pdf without the hour it was drawn in, so that it is the same bytes every time
    sed 's/(D:[0-9]\{14\}/(D:20000101000000/' "$1" >"$1.undated" && mv "$1.undated" "$1"
}

draw() { # draw HEADING BELOW HASHES NUMBER...: the three pictures of this figure, each moved into place when it is whole
    heading=$1
    below=$2
    corner="$version, scenario $3
teaching model, not a medical device; not for choosing settings for a person"
    shift 3
    for kind in svg pdf png; do
        part=$out/.$name.part.$kind
        gnuplot -d -c "$here/$name.gp" "$data" "$part" $kind "$heading" "$below" "$corner" "$@" </dev/null 2>"$data/said" || {
            cat "$data/said" >&2
            complain "$name.$kind was not drawn"
        }
        rm -f "$data/said" # it warns of a locale that it then does without
        [ $kind != png ] || dots "$part" || complain "$name.png was not written"
        [ $kind != pdf ] || undated "$part" || complain "$name.pdf was not written"
        mv "$part" "$out/$name.$kind" || complain "$out/$name.$kind cannot be written"
    done
}

# ---- words from numbers ----
nm() { scaled "$(number "$asked" wavelength)" 1e9; }
per_cm2() { scaled "$(number "$asked" fluence)" 1e-4; }
mm() { scaled "$(number "$asked" spot)" 1e3; }
um() { scaled "$(number "$asked" diameter)" 1e6; }
asked_of() { asked=$data/$1/summary.json; }

# ---- the figures ----
absorption() {
    run run run --no-figures
    "$BREVIS" tissue --spectrum "$course/absorption.yaml" >"$data/spectrum.csv" || complain 'brevis tissue failed'
    draw "$(title_of run)" 'inside one pigment grain, in whole blood and in water; lines where lasers are common' "$(hash_of run)"
}

temperature() {
    for pulse in 5ns 50ns 750ns 1ms; do run $pulse run --no-figures --set "light.pulse=$pulse"; done
    run compare compare --no-figures
    asked_of 5ns
    draw "$(title_of compare)" "$(nm) nm, $(per_cm2) J/cm² through $(mm) mm each time; rise over the start" \
        "$(hash_of 5ns) $(hash_of 50ns) $(hash_of 750ns) $(hash_of 1ms)" "$(number "$asked" depth1)"
}

# The shortest and the longest relaxation time that a definition in print gives.
formulas() {
    awk '/"relaxation_by_formula"/ { on = 1 } !on { next } /\]/ { exit }
        /"time":/ { match($0, /"value": [-.0-9e]+/); t = substr($0, RSTART + 9, RLENGTH - 9) + 0
                    if (!n++ || t < low) low = t; if (t > high) high = t } END { printf "%.12e %.12e\n", low, high }' "$asked"
}

pulse_width() {
    run run run --no-figures
    run sweep sweep --no-figures --vary light.pulse=0.1ns..100ms:37:log
    asked_of run
    draw "$(title_of run)" "a grain of $(um) µm in the lesion; $(nm) nm, $(per_cm2) J/cm² each time" "$(hash_of run)" \
        "$(number "$asked" mean_to_1_over_e) $(number "$asked" adiabatic_rise) $(formulas)"
}

spots() {
    run run run # spots.csv comes with figures only
    asked_of run
    draw "$(title_of run)" "$(nm) nm, on the axis of flat spots, in the skin around a lesion" "$(hash_of run)" "$(mm)"
}

grain() {
    run run run --no-figures
    run paler run --no-figures --set grain.darkness=0.316
    run darker run --no-figures --set grain.darkness=3.16
    asked_of run
    draw "$(title_of run)" "$(um) µm, in epidermis; $(scaled "$(number "$asked" pulse)" 1e9) ns of $(nm) nm, $(per_cm2) J/cm²; times are counted from the end of the pulse" \
        "$(hash_of run) and two more darknesses" "$(number "$asked" diameter)"
}

thresholds() {
    run compare compare --no-figures
    run reported reported --no-figures
    draw "$(title_of compare)" 'bars: grains 3.16 to 0.316 times as dark, and a sign from 0.1 to 0.6 µm of disrupted pigment' \
        "$(hash_of compare) and three more wavelengths"
}

cover() {
    lattices=
    for lattice in hexagonal square; do
        for overlap in 0 10 30; do
            run $lattice$overlap cover --no-figures --set "cover.lattice=$lattice" --set "cover.overlap=$overlap %"
            asked_of $lattice$overlap
            lattices="$lattices $(number "$asked" spot) $(number "$asked" along_row) $(number "$asked" row_to_row)"
        done
    done
    heading=$(title_of hexagonal10)
    draw "${heading% | changed: *}" "one pass of $(mm) mm spots in ruled rows; a hand is less even, and that has no number here" \
        "$(hash_of hexagonal10) and other overlaps" "$lattices"
}

# What the room card says, a row for each edition, with the limit of a pulse alone: what a train has by a rule that takes
# nothing off for its number. The card itself is text and HTML only.
card_rows() {
    awk -v exposure="$1" '
        function numbers(line) { n = split(line, part, /  +/); first = part[n - 1] + 0; second = part[n] + 0 }
        /^EDITION/ { name = $0; sub(/^EDITION +/, "", name); sub(/:.*/, "", name); a = name }
        /^ +ICNIRP/ && !b { b = $0; sub(/^ +/, "", b); sub(/:.*/, "", b) }
        /^LIMIT, eye/ { numbers($0); limit_a = first; limit_b = second
                        n = split($0, part, "alone "); alone_a = part[2] + 0; alone_b = part[3] + 0 }
        /^OPTICAL DENSITY/ { numbers($0); density_a = first; density_b = second }
        END { if (!(alone_a > 0 && alone_b > 0)) exit 1
              printf "edition,limit_J_m2,density_1,exposure_J_m2,alone_J_m2,alone_density_1\r\n"
              printf "%s,%s,%s,%s,%s,%.2f\r\n", a, limit_a, density_a, exposure, alone_a, log(exposure / alone_a) / log(10)
              printf "%s,%s,%s,%s,%s,%.2f\r\n", b, limit_b, density_b, exposure, alone_b, log(exposure / alone_b) / log(10)
              exit !(density_a > 0 && density_b > 0 && limit_a > 0 && limit_b > 0) }' "$data/room/card.txt"
}

density() {
    run room room
    run run run --no-figures
    asked_of run
    card_rows "$(number "$asked" fluence)" >"$data/density.csv" || complain 'the room card has changed its lines'
    draw "$(title_of run)" "example: $(nm) nm, one spot of $(per_cm2) J/cm², 5 pulses a second for 10 s" \
        "$(sed -n 's/.*\[scenario \(.*\)\].*/\1/p' "$data/room/card.txt" | head -n 1)"
}

# ---- one of them, or all ----
one() {
    name=$1
    data=$out/data/$name
    mkdir -p "$data" || complain "$data cannot be made"
    $name
}

if [ "${1:-}" = --one ]; then
    out=$2
    one "$3"
    exit
fi
out=${1:-out/course}
[ $# -eq 0 ] || shift
for name in ${*:-$names}; do
    case " $names " in *" $name "*) ;; *) echo "figures: there is no figure $name; there are $names" >&2; exit 2 ;; esac
done
command -v gnuplot >/dev/null || complain 'gnuplot is not here: apt install gnuplot-nox'
mkdir -p "$out" || complain "$out cannot be made"
printf '%s\n' ${*:-$names} | xargs -P 2 -n 1 sh "$here/figures.sh" --one "$out" || complain 'not every figure was drawn'
for name in ${*:-$names}; do echo "$out/$name.svg  .pdf  .png"; done
