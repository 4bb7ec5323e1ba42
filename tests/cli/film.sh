#!/bin/sh
# What a user sees of a film on the skin and of a body site: in summaries, tables, figures, and what is refused.
# usage: BREVIS=build/brevis sh tests/cli/film.sh
set -u
cd "$(dirname "$0")/../.." || exit 1
. tests/support/cli.sh

run() { "$brevis" run --no-figures --force "$@"; }
field() { sed -n "s/.*\"$2\": {\"value\": \([^,]*\),.*/\1/p" "$1/summary.json"; } # field DIRECTORY NAME: lesion, neighbour
soot=scenarios/film_soot_1064nm.yaml

# ---- a film ----
check 'a film is understood' exits 0 "$brevis" check "$soot"
check '  as the first layer' tells 'layers *film 2 um, epidermis 50 um'
check '  depths still mean the skin' tells 'watch *0 um, 55 um, 300 um'
check 'a run' exits 0 run --out "$box/film" "$soot"
check '  tells what it takes and leaves' tells '^FILM *2 um, 2000 /cm: takes; light left, %'
check '  that its rise is no temperature' tells 'rise of its mean, energy / heat capacity, K'
check '  what it hands on' tells 'rise of basal by its heat, at'
check '  and that it may boil' tells 'a film so hot may boil, burn or fly off'
check '  with the caution' tells 'Not a medical device'
check '  on one screen' [ "$(wc -l <"$box/stdout")" -lt 48 ]
check '  lines fit' sh -c "! tail -n +2 '$box/stdout' | grep -v '^ *threshold ratio' | grep -q '.\{116\}'"
check 'cells of the film lie above 0' sh -c "awk -F, 'NR == 2 { exit !(\$2 < 0) }' '$box/film/depth.csv'"
check 'as json' grep -q '"energy_over_heat_capacity_only": true' "$box/film/summary.json"
check 'no damage is told of it' [ "$(grep -c 'mean_of_film' "$box/film/summary.json")" = 2 ]
check 'clean skin' exits 0 run --out "$box/bare" --set film=none "$soot"
check '  says nothing of a film' sh -c "! grep -q FILM '$box/stdout'"
check '  and is what the film run compares with' sh -c "
    awk -v f=\"$(field "$box/film" fluence_ratio_at_grain | head -1)\" -v b=\"$(field "$box/bare" fluence_ratio_at_grain | head -1)\" \
        -v r=\"$(field "$box/film" light_at_grain_over_bare_skin | head -1)\" 'BEGIN { d = f / b / r - 1; exit !(d < 1e-12 && d > -1e-12) }'"
check 'a choice takes it away' exits 0 "$brevis" compare --no-figures --force --out "$box/both" scenarios/compare/bare_and_film.yaml
check '  the film moves the number of the layer, not the layer: its rises are held against each other' grep -q 'its layer by .* times choice 1' "$box/both/report.html"
check '  by one word' tells 'film none'
check '  and tells whose film boils' tells '3: a film so hot may boil'
hash() { sed -n 's/.*"scenario_hash": "\(.*\)".*/\1/p' "$1/summary.json" | head -1; }
check '  the same scenario as without the section' [ "$(hash "$box/bare")" = "$(grep -v '^film' "$soot" | sed '/^  thickness/d; /^  absorption/d' >"$box/without.yaml"; run --quiet --out "$box/without" "$box/without.yaml"; hash "$box/without")" ]
for threads in 1 2 8; do run --quiet --threads $threads --out "$box/t$threads" "$soot"; done
check 'two threads, same bytes' diff -r "$box/t1" "$box/t2"
check 'eight threads, same bytes' diff -r "$box/t1" "$box/t8"
check 'the table of tissue' exits 0 "$brevis" tissue "$soot"
check '  names the source of its defaults' tells 'default for an oily film (oily-film, memory)'
check '  as CSV too' sh -c "'$brevis' tissue --csv '$soot' | grep -q 'neighbour,film,\"conductivity\",0.16,W/m/K,\"oily-film\",memory'"
check 'explained' exits 0 "$brevis" explain film
check '  with what is left out, and why' tells 'even 26 years ago, nanosecond pulses turned skin blue at once'
check 'a window under a film' exits 0 "$brevis" window --no-figures --force --out "$box/window" "$soot"
check '  says so' tells '^FILM *2 um, 2000 /cm on the skin: heated first'
check 'test spots through a film' exits 0 "$brevis" ladder --force --out "$box/ladder" --set 'ladder.first=0.2 J/cm2' --set ladder.ratio=1.5 --set ladder.count=3 "$soot"
check '  says so' tells '^FILM *2 um, 2000 /cm on the skin: heated first'
check 'test spots at a site' exits 0 "$brevis" ladder --force --out "$box/ladder" --set skin.site=neck scenarios/test_spots_694nm.yaml
check '  say what has no value' tells '^SITE *neck: epidermis no site value'
check '  on the page to print too' grep -q 'neck: epidermis no site value' "$box/ladder/card.html"
check 'a curve over its absorption' exits 0 "$brevis" sweep --no-figures --force --out "$box/sweep" --vary film.absorption=10/cm..1000/cm:3:log "$soot"

# ---- a body site ----
check 'a site' exits 0 run --out "$box/neck" --set skin.site=neck scenarios/forearm_light_532nm.yaml
check '  says what has no value' tells '^SITE *neck: epidermis no site value (default 50 + 10 um); dermis 986 um (618 to 1342), ultrasound, on fat'
check '  and what is no physics' tells 'neck: no site value for the epidermis; healing, appendages and vessels there are not in the model'
check '  in summary.json' grep -q '"thickness": "no site value"' "$box/neck/summary.json"
check 'check says so' exits 0 "$brevis" check --set skin.site=face scenarios/forearm_light_532nm.yaml
check '  with the method' tells 'site *face: epidermis 94.3 um (65.9 to 122.8), microscope; dermis 1525 um'
check 'tissue says so' exits 0 "$brevis" tissue --set skin.site=shoulder scenarios/forearm_light_532nm.yaml
check '  too' tells 'Site *shoulder: epidermis 70.3 um'
check '  what the scenario gives was given, not seen in a paper' sh -c "'$brevis' tissue --csv '$soot' | grep 'this scenario' | tr -d '\r' >'$box/own' && grep -q 'film,\"absorption, all\",2000,/cm' '$box/own' && ! grep -v ',given\$' '$box/own'"
check '  what follows from it is computed' sh -c "'$brevis' tissue --csv '$soot' | grep -q 'neighbour,film,\"diffusivity\",.*,computed'"
check '  with its source' sh -c "'$brevis' tissue --csv --set skin.site=shoulder scenarios/forearm_light_532nm.yaml | grep -q 'neighbour,horny,\"thickness\",11,um,\"sandby-moller-2003\",abstract'"
check 'sites are listed' exits 0 "$brevis" explain sites
check '  all of them' [ "$(grep -c '^  [a-z_]* *epidermis' "$box/stdout")" = 15 ]
check '  no epidermis from ultrasound' sh -c "! grep 'epidermis.*ultrasound' '$box/stdout'"
check 'neck and cheek' exits 0 "$brevis" compare --no-figures --force --out "$box/sites" scenarios/compare/neck_and_cheek.yaml
check '  hardly differ' sh -c "awk -F, 'NR == 1 { for (i = 1; i <= NF; i++) if (\$i == \"lesion_threshold_sign_J_m2\") k = i } NR == 2 { n = \$k } NR == 3 { exit !(\$k / n > 0.999 && \$k / n < 1.001) }' '$box/sites/compare.csv'"
check '  and why that says little' tells 'healing, appendages and vessels there are not in the model'

# ---- deeper pigment, and what has no source ----
check 'pigment in the dermis' exits 0 run --out "$box/deep" scenarios/deeper_pigment_1064nm.yaml
check '  its own layer is followed' tells '^GRAIN *one pigment grain in deep'
check '  and how much is seen is not asked' grep -q 'pigment in the dermis counts for a sign' "$box/deep/summary.json"
check 'without a source' exits 0 run --out "$box/red" scenarios/poikiloderma_532nm.yaml
check '  is said first' tells '^brevis .*illustrative, no source; no trial of nanosecond pulses'
check '  in what a machine reads' grep -q '"title": "Poikiloderma, illustrative, no source' "$box/red/summary.json"
check 'nothing is called safe' sh -c "! cat '$box'/*/summary.txt | grep -qiE 'safe|recommend'"

# ---- refused ----
check 'an unknown site' exits 3 run --out "$box/none" scenarios/wrong/unknown_site.yaml
check '  the nearest is named' says 'unknown_site.yaml:4:9: .*did you mean neck'
check 'a thick film' exits 3 run --out "$box/none" --set 'film.thickness=50 um' "$soot"
check '  what is allowed' says 'allowed 0.1 um to 20 um'
check 'a film without absorption' exits 3 run --out "$box/none" scenarios/wrong/film_without_absorption.yaml
check 'nothing was written' absent "$box/none"

# ---- figures ----
if command -v gnuplot >/dev/null 2>&1; then
    for again in one two; do "$brevis" run --quiet --force --out "$box/$again" --set skin.site=neck "$soot" 2>/dev/null; done
    for name in depth temperature map beside; do
        check "$name.svg is drawn" [ -s "$box/one/$name.svg" ]
        check "$name.svg, same bytes again" cmp -s "$box/one/$name.svg" "$box/two/$name.svg"
    done
    check 'the film stands below the title' grep -q 'film of 2 µm' "$box/one/depth.svg"
    check 'and that the site has no value' grep -q 'neck, epidermis: no site value' "$box/one/depth.svg"
fi

counted_out
