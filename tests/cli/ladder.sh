#!/bin/sh
# What a user of `brevis ladder` sees: a card of test spots to read and to print, nothing a machine could take for settings.
# usage: BREVIS=build/brevis sh tests/cli/ladder.sh
set -u
cd "$(dirname "$0")/../.." || exit 1
. tests/support/cli.sh

spots=scenarios/test_spots_694nm.yaml
check 'a card' exits 0 "$brevis" ladder --out "$box/card" "$spots"
check 'six spots, each with room to write' [ "$(grep -c '^[1-6]  .* ______' "$box/stdout")" = 6 ]
check 'the steps are those asked for' sh -c "awk '/^[1-6] +[01]/ { print \$2 }' '$box/stdout' | tr '\n' ' ' | grep -q '^0.25 0.35 0.49 0.686 0.96 1.34 $'"
check 'the wait as given' tells 'WAIT *6 weeks, as given'
check 'stop signs' tells 'STOP *at blisters, swelling, grey colour or bleeding'
check 'what is published, and where' tells 'facial lentigines, n = 18: 6 to 7 J/cm2 (kono-2006, abstract): OUTSIDE these steps'
check 'how far the sign is from what was seen in people' tells 'is a guess to be tested: whitening was published'
check 'whose skin' tells 'SKIN *pigment of basal: 13.7 % around the lesion, 34.2 % in it'
check 'caution above the table' sh -c "sed -n '1,/^spot/p' '$box/stdout' | grep -q 'not for choosing settings'"
check 'less is not harmless' tells 'DARKER at one week'
check 'caution' tells 'Not a medical device'
check 'nothing is called safe or advised' sh -c "! grep -qiE '\bsafe|recommend|optimal|start with' '$box/card/card.txt' '$box/card/card.html'"
check 'fits the page' sh -c "! tail -n +2 '$box/stdout' | grep -q '.\{109\}'"
check 'two files and no more: nothing for a machine' [ "$(ls -A "$box/card" | tr '\n' ' ')" = 'card.html card.txt ' ]
check 'one page of text' [ "$(wc -l <"$box/card/card.txt")" -lt 56 ]
check 'the page to print asks nobody' sh -c "! grep -qE 'https?:|src=|<script|<form|<input' '$box/card/card.html'"
check 'as many spots there' [ "$(grep -c 'class="seen"></td>' "$box/card/card.html")" = 6 ]
check 'caution there' grep -q 'Not a medical device' "$box/card/card.html"
check 'existing cards are kept' exits 4 "$brevis" ladder --out "$box/card" "$spots"
check 'or replaced when asked' exits 0 "$brevis" ladder --force --out "$box/card" "$spots"
for threads in 1 8; do "$brevis" ladder --quiet --threads $threads --out "$box/t$threads" "$spots"; done
check 'eight threads, same bytes' diff -r "$box/t1" "$box/t8"
check 'steps from the command line' exits 0 "$brevis" ladder --out "$box/set" --set 'ladder.first=0.1 J/cm2' \
    --set ladder.ratio=2 --set ladder.count=3 scenarios/hand_532nm.yaml
check 'no wait was given: a line to write on' tells 'WAIT *______'
check 'published range within the steps is not called outside' sh -c "grep -q 'solar lentigines' '$box/stdout' && ! grep -q OUTSIDE '$box/stdout'"
check 'all that --set changed' exits 0 "$brevis" ladder --force --out "$box/set" --set 'light.wavelength=1064 nm' --set skin=dark \
    --set light.profile=gaussian --set 'light.fluence=2 J/cm2' --set 'light.pulse=7 ns' "$spots"
check '  is told in full' tells '^ *skin=dark'
check '  other diseases are told apart' tells 'OTHER DISEASE: 1064 nm'
check '  twice the fluence on the axis' tells 'the fluence is twice'
check 'what would boil is not given as a temperature' exits 0 "$brevis" ladder --force --out "$box/set" --set 'ladder.first=10 J/cm2' \
    --set ladder.ratio=4 --set ladder.count=3 "$spots"
check '  but as above' sh -c "grep -q ' >112 ' '$box/stdout' && ! grep -q '[0-9][0-9][0-9][0-9] K' '$box/stdout'"
check '  blood that would boil likewise' tells '^ *K, neighbour by more than 79 K'
check 'energies and shares of many digits' exits 0 "$brevis" ladder --force --out "$box/set" --set 'light.spot=0.5 mm' \
    --set 'ladder.first=0.00064 J/cm2' --set ladder.ratio=4 --set ladder.count=4 "$spots"
apart() { awk '/^[1-4]  / { n++; if ($4 !~ /^<?[0-9.]+$/ || $0 ~ /[0-9)]<|\)[a-z]/) bad = 1 } END { exit bad || n != 4 }' "$box/stdout"; }
check '  stand apart' apart
check 'a wavelength nobody published here' exits 0 "$brevis" ladder --force --out "$box/set" --set 'light.wavelength=600 nm' "$spots"
check 'it says so' tells 'no published fluence at 600 nm'
sed '/^  fluence:/d' "$spots" >"$box/no_fluence.yaml"
check 'no fluence beside the steps' exits 0 "$brevis" ladder --out "$box/no_fluence" "$box/no_fluence.yaml"
check '  the same steps' [ "$(grep -c '^[1-6]  ' "$box/stdout")" = 6 ]
check '  that of the first spot stands for it' exits 0 "$brevis" check "$box/no_fluence.yaml"
check '  and is told' tells '0.25 J/cm2 (31.42 mJ)'
check 'marks of a title stay letters' exits 0 "$brevis" ladder --force --quiet --out "$box/set" --set 'title=a <b> & c' "$spots"
check 'in the page' grep -q 'a &lt;b&gt; &amp; c' "$box/set/card.html"

# What a run at a step says of it: hottest place of the summary's LAYERS, and damage, of the higher of both skins.
at() { "$brevis" run --quiet --force --out "$box/run" --set "light.fluence=$2 J/cm2" "$box/$1.yaml"; }
ladder() { exits 0 "$brevis" ladder --force --out "$box/set" "$box/$1.yaml"; }
narrow() { sh -c "! sed -n '/^spot /,/^\$/p' '$box/stdout' | grep -q '.\{109\}'"; }
step() { tells "^$1 .* $2.*$3"; } # number, hottest, damage
cat >"$box/long.yaml" <<'END'
light: {wavelength: 694 nm, pulse: 10 ms, spot: 7 mm}
skin: intermediate
ladder: {first: 2 J/cm2, ratio: 1.4, count: 4}
END
check 'ten milliseconds of light' ladder long
check '  hide no burn where the sign is unsure' step 3 '92.9 (.*>112)' ' 2.5 (.*6.3)'
check '  what the marks are' tells '-0.3, 0, 4 are published for burns'
check '  no illustration' sh -c "! grep -q 'illustration' '$box/stdout'"
check '  how long it stays warm' tells 'a layer is above 45 C for'
check '  the table fits' narrow
at long 3.92
check '  as the run at that step says' sh -c "grep -q 'damage.* 2.5 (-1.6 to 6.3)' '$box/run/summary.txt' && grep -q 'at 55 um *92.9 (62.4 to >112)' '$box/run/summary.txt'"
check '  in the page with both ends' grep -q '<td>2.5 (-1.6..6.3)</td>' "$box/set/card.html"
cat >"$box/other.yaml" <<'END'
light: {wavelength: 755 nm, pulse: 60 ns, spot: 3 mm, count: 3, rate: 1 Hz}
skin: {ready: intermediate, site: back_of_hand}
surface: {outside: gel, outside_temperature: 40 degC, from: -60 s, to: 30 s}
lesion: {basal.melanosomes: 5 %}
ladder: {first: 3 J/cm2, ratio: 2, count: 2}
END
check 'a pale lesion in darker skin' ladder other
check '  the skin around it is the one that burns' step 1 '>112 (.*' ' 5.7 ('
check '  what lies on the skin, when and how warm' tells 'gel on the skin from -60 s to 30 s, at 40 C'
at other 3
check '  as the run says of the neighbour' grep -q 'damage.* 5.7 (-1.3 to 14.9)' "$box/run/summary.txt"
cat >"$box/deep.yaml" <<'END'
light: {wavelength: 532 nm, pulse: 7 ns, spot: 4 mm}
skin:
  - layer: epidermis
  - layer: basal
    absorption: 500 /cm
  - layer: dermis
lesion: {basal.absorption: 1000 /cm}
ladder: {first: 0.4 J/cm2, ratio: 2, count: 2}
END
check 'a hot layer that is not the grain'\''s' ladder deep
check '  is told' step 2 '>112' '\*'
cat >"$box/film.yaml" <<'END'
light: {wavelength: 532 nm, pulse: 7 ns, spot: 4 mm}
skin: light
film: {thickness: 5 um, absorption: 2000 /cm}
surface: {outside: plate, outside_temperature: 60 degC, from: 1 s, to: 20 s}
grain: {absorption: 20000 /cm}
lesion: {grain.layer: dermis, dermis.melanosomes: 2 %, grain.absorption: 10000 /cm}
ladder: {first: 0.5 J/cm2, ratio: 2, count: 2}
END
check 'a film' ladder film
check '  how hot it and the skin below it get' tells '^FILM *at the last spot its mean rises by .*surface below it by'
check '  a caution of its own' tells 'NO protection'
check '  what comes later is no air' tells 'plate on the skin from 1 s to 20 s, at 60 C'
check '  each skin by its own layer' tells 'around the lesion 13.7 % of basal, in it 2 % of dermis'
check '  and its own grains' sh -c "tr -s ' \n' ' ' <'$box/stdout' | grep -q 'around the lesion: 0.3 um that absorb 20000 /cm, 36 times the usual; in it: 0.3 um that absorb 10000 /cm, 18 times the usual'"
cat >"$box/bare.yaml" <<'END'
light: {wavelength: 700 nm, pulse: 5 ns, spot: 10 mm}
skin:
  - layer: epidermis
    melanosomes: 0 %
  - layer: basal
    melanosomes: 0 %
  - layer: dermis
lesion: {}
ladder: {first: 0.5 J/cm2, ratio: 2, count: 2}
END
check 'skin without pigment' ladder bare
check '  has no grains to disrupt' tells '^1 .* no pigment no pigment none '
cat >"$box/most.yaml" <<'END'
light: {wavelength: 532 nm, pulse: 7 ns, spot: 4 mm, count: 30, rate: 5 Hz}
skin: intermediate
ladder: {first: 0.06 J/cm2, ratio: 1.25, count: 12}
END
check 'twelve steps from nothing to all' ladder most
check '  the table fits' narrow
check '  of ranges the end that harms stays' tells '^4 .* 55.2 (to 59) *<-3 (to -2.7)\*$'

check 'no steps, no card' exits 3 "$brevis" ladder --out "$box/none" scenarios/hand_532nm.yaml
check 'none are proposed' says 'brevis proposes no steps'
check 'a ladder that leaves the range' exits 3 "$brevis" ladder --out "$box/none" scenarios/wrong/ladder_too_high.yaml
check 'line, column and what fits' says 'ladder_too_high.yaml:12:10: ladder.count = 6: .*, here up to 4'
check 'a count of 1' exits 3 "$brevis" ladder --out "$box/none" --set ladder.count=1 "$spots"
check 'no CSV of it' exits 2 "$brevis" ladder --csv --out "$box/none" "$spots"
check 'no JSON of it' exits 2 "$brevis" ladder --json --out "$box/none" "$spots"
check 'nothing was written' [ ! -e "$box/none" ]

counted_out
