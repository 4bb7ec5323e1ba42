#!/bin/sh
# What a user of `brevis room` sees: limits by edition and distances on one card, to read and to print; nothing for a machine.
# usage: BREVIS=build/brevis sh tests/cli/room.sh
set -u
cd "$(dirname "$0")/../.." || exit 1
. tests/support/cli.sh

room=scenarios/room_1064nm.yaml
check 'a card' exits 0 "$brevis" room --out "$box/card" "$room"
check 'limits side by side, with the rule that binds' tells '^LIMIT, eye, each of 50 pulses, J/m2 *0.0188 (rule 3; alone 0.05) *0.00752 (rule 3; alone 0.02)$'
check 'those of skin' tells '^  skin, each of 50 pulses, J/m2 *376 (rule 3; alone 1000) *1000 (rule 1; alone 1000)$'
check 'densities, the larger and both' tells '^OPTICAL DENSITY, the larger of two *6.20 (pupil 6.07, spot 6.20) *6.60 (pupil 6.47, spot 6.60)$'
check 'along the beam' tells '^ALONG THE BEAM .* 268 *424$'
check 'scattered light with the spread of the pigment' tells '^SCATTERED, skin as a point, met at, m *2.55 (2.4 to 2.61) *4.04 (3.8 to 4.12)$'
check 'with the size of the spot' tells 'as wide as the spot *1.63 (1.44 to 1.7) *4.04 (3.6 to 4.12)$'
check 'somebody in the room' tells "^AT 2 m scattered / eye's limit, a point *1.63 x *4.07 x$"
check 'beside a ratio below 1, that it is no all-clear' tells 'skin as wide as the spot *0.814 x, as assumed here only *2.04 x$'
check '  and in a line of its own' tells '^BELOW 1  is below this limit under these assumptions only, and no leave'
check 'in the beam, where' tells "^  in the beam at 2 m / eye's limit *1.8e+04 x *4.5e+04 x$"
check 'hand and lid at the spot' sh -c "grep -q \"^A HAND at the spot / skin's limit *79.8 x *30 x\$\" '$box/stdout' && grep -q \"^CLOSED LID at the spot / eye's limit *1.1e+06 x *2.8e+06 x\$\" '$box/stdout'"
check 'no more digits than a limit has' sh -c "! grep -qE '[0-9]{5,} x' '$box/stdout'"
check 'a density is of light, before all else' tells '^DENSITY  a number of light, no choice of eyewear: log10'
check 'dermis and whole lid' tells '^LID      70 % (62 to 73) passes 0.68 mm, of it dermis (room.lid) 0.62 mm'
check 'all is reached here, and the line on that is not told' sh -c "! grep -q 'not reached' '$box/stdout'"
check 'a lid, and what it is a reason for' tells 'A reason for shields, never a way without'
check 'how each edition was seen' sh -c "grep -q 'as printed in a national law; seen' '$box/stdout' && grep -q 'second-hand' '$box/stdout'"
check 'treatment is above the limit by intent' tells 'treatment is far above it by intent'
check 'caution above the table' sh -c "sed -n '1,/^LIMIT/p' '$box/stdout' | grep -q 'laser'"
check 'caution' tells 'Not a medical device'
check 'version and scenario' tells '^brevis [0-9.]* *ROOM .*\[scenario [0-9a-f]\{16\}\]$'
check 'short for the terminal' [ "$(wc -l <"$box/stdout")" -lt 40 ]
check 'fits its width' sh -c "! tail -n +2 '$box/stdout' | grep -q '.\{109\}'"
check 'two files and no more: nothing for a machine' [ "$(ls -A "$box/card" | tr '\n' ' ')" = 'card.html card.txt ' ]
for file in card.txt card.html; do
    check "$file: the rows that answered" grep -q 'eye 1050-1400 c, 1 ns to 50 us: 0.05 C_C C_E J/m2' "$box/card/$file"
    check "$file: rows from memory are shown as such" grep -q 'IEC 60825-1:2014.*' "$box/card/$file"
    check "$file: why 2013 differs" grep -q 'bubbles around its melanosomes' "$box/card/$file"
    check "$file: injuries" grep -q '119 cases' "$box/card/$file"
    check "$file: plume" grep -q 'plume and splatter' "$box/card/$file"
    check "$file: caution" grep -q 'Not a medical device' "$box/card/$file"
    check "$file: nothing is called safe or advised" sh -c "! grep -qiE '\bsafe|recommend|optimal|sufficient' '$box/card/$file'"
done
check 'they are told to be from memory, not used' sh -c "tr '\n' ' ' <'$box/card/card.txt' | tr -s ' ' | grep -q 'Shown, not used: known from memory only'"
check 'one page of text' [ "$(wc -l <"$box/card/card.txt")" -lt 72 ]
check 'the page to print asks nobody' sh -c "! grep -qE 'https?:|src=|<script|<form|<input' '$box/card/card.html'"
check 'a drawing in it' grep -q '<svg viewBox' "$box/card/card.html"
check 'existing cards are kept' exits 4 "$brevis" room --out "$box/card" "$room"
check 'or replaced when asked' exits 0 "$brevis" room --force --out "$box/card" "$room"
for threads in 1 2 8; do "$brevis" room --quiet --threads $threads --out "$box/t$threads" "$room"; done
check 'two threads, same bytes' diff -r "$box/t1" "$box/t2"
check 'eight threads, same bytes' diff -r "$box/t1" "$box/t8"
check 'quiet is quiet' sh -c "[ -z \"\$('$brevis' room --quiet --force --out '$box/t1' '$room' 2>&1)\" ]"

check 'no section room: one pulse, both editions' exits 0 "$brevis" room --out "$box/none_given" "$hand"
check '  one pulse' tells '^ROOM     no rate given (room.rate): one single pulse; a train has stricter limits\.'
check '  no beam, no distance along it' sh -c "! grep -q 'ALONG THE BEAM' '$box/stdout'"
check '  a wide weak source may be at its limit nowhere' tells '(not reached to 1.72)'
check '  which is no distance of nought' tells '^DISTANCE not reached: counted that wide, below the limit at any distance; take the row above it, as a point\.$'
check '  and no ratio is below 1' sh -c "! grep -q '^BELOW 1' '$box/stdout'"
check '  the word none is read as no distance needed' sh -c "! grep -qw none '$box/stdout'"
check 'a weak pulse' exits 0 "$brevis" room --force --out "$box/weak" --set 'light.fluence=0.02 J/cm2' "$hand"
check '  reaches it nowhere, at no pigment' tells 'skin as wide as the spot *not reached *not reached$'
check '  nor in the drawing' grep -q '>not reached, counted that wide: take the bar above it</text>' "$box/weak/card.html"
check 'one edition' exits 0 "$brevis" room --force --out "$box/set" --set room.edition=eu_2006 "$room"
check '  alone' sh -c "! grep -q ICNIRP '$box/stdout'"
check '  what --set changed is told' tells '^CHANGED *room.edition=eu_2006'
check 'a pulse that one of both does not cover' exits 0 "$brevis" room --force --out "$box/set" --set 'light.pulse=0.5 ns' "$room"
check '  is said, and nothing made up for it' sh -c "grep -q 'does not cover this pulse\$' '$box/stdout' && grep -q '^OPTICAL DENSITY.* -\$' '$box/stdout'"
check 'visible light for a while' exits 0 "$brevis" room --force --out "$box/set" --set 'light.wavelength=532 nm' "$room"
check '  what was not seen is told' tells '^MISSING  nobody here saw the photochemical limits'
check '  short all the same' [ "$(grep -vc '^CHANGED' "$box/stdout")" -lt 40 ]
check 'every line there is' exits 0 "$brevis" room --force --out "$box/set" --set 'light.wavelength=532 nm' --set 'light.fluence=0.02 J/cm2' "$room"
check '  both of small numbers' sh -c "grep -q '^DISTANCE' '$box/stdout' && grep -q '^BELOW 1' '$box/stdout'"
check '  on one page all the same' [ "$(grep -vc '^CHANGED' "$box/stdout")" -lt 42 ]
check 'a long stay' exits 0 "$brevis" room --force --out "$box/set" --set 'room.stay=600 s' "$room"
check '  rows that were not seen are told' grep -q 'rows of the eye from 10 s on were not seen' "$box/set/card.txt"
check 'a reflectance as given has no range' exits 0 "$brevis" room --force --out "$box/set" --set 'room.reflectance=50 %' "$room"
check '  ' tells '^SCATTERED, skin as a point, met at, m *2.68 *4.24$'
check 'all the light comes back' exits 0 "$brevis" room --force --out "$box/set" --set 'room.reflectance=100 %' "$room"
check '  in plain digits' tells '^SCATTER  *100 % of light, as given'
check 'from the side' exits 0 "$brevis" room --force --out "$box/set" --set 'room.reflectance=50 %' --set 'room.view=60 deg' "$room"
check '  less by the root of the cosine' tells '^SCATTERED, skin as a point, met at, m *1.89 *3 *$'
check '  and says so above the table' sh -c "sed '/^LIMIT/,$ d' '$box/stdout' | grep -q 'seen 60 degrees from straight above (room.view)'"
check 'a lens is where distances along the beam begin' tells 'reach one person for 10 s; 6 mm beam (1/e2), from the focus of a 150 mm lens\.$'
check 'a train of the scenario' exits 0 "$brevis" room --force --out "$box/set" --set light.count=20 --set 'light.rate=10 /s' "$room"
check '  is left aside and told' tells "^ *The scenario's own 20 pulses on one place are left aside"
check 'a gaussian spot' exits 0 "$brevis" room --force --out "$box/set" --set light.profile=gaussian "$room"
check '  counts as wide as its 1/e edges' tells '  the same, skin as wide as the spot *1.15 x *2.88 x$' # by hand: 1.63 / 1.414, 4.07 / 1.414
check '  and the card says so' grep -q 'as wide as its 1/e edges' "$box/set/card.txt"
check 'a black film' exits 0 "$brevis" room --force --out "$box/set" --set 'film.thickness=2 um' --set 'film.absorption=2000 /cm' "$room"
check '  takes nothing off' tells '^SCATTERED, skin as a point, met at, m *2.55 (2.4 to 2.61) *4.04 (3.8 to 4.12)$'
check '  and is told' tells 'from the skin without its film'
check 'a lid of 1.25 mm' exits 0 "$brevis" room --force --out "$box/set" --set 'room.lid=1.25 mm' "$room"
check '  is written as given' tells 'of it dermis (room.lid) 1.25 mm'
check 'a beam below the limit everywhere' exits 0 "$brevis" room --force --out "$box/set" --set 'light.fluence=0.00002 J/cm2' \
    --set 'room.beam=100 mm' --set 'room.divergence=1 rad' "$hand"
check '  is not met at nought' tells "^ALONG THE BEAM eye's limit met at, m *nowhere, as assumed *nowhere, as assumed$"
check '  nor called wide in the drawing' grep -q '>nowhere, as assumed</text>' "$box/set/card.html"
check 'a hundred picoseconds by the edition of 2006' exits 0 "$brevis" room --force --out "$box/set" --set 'light.wavelength=532 nm' \
    --set 'light.pulse=100 ps' --set room.edition=eu_2006 "$room"
check '  the cell is whole' tells '(rule 3; alone 0.000854)$'
check '  no word on how the limit of nanoseconds fell' sh -c "! grep -q '^2013' '$box/set/card.txt'"
check 'marks of a title stay letters' exits 0 "$brevis" room --force --quiet --out "$box/set" --set 'title=a <b> & c' "$room"
check 'in the page' grep -q 'a &lt;b&gt; &amp; c' "$box/set/card.html"

check 'the edition of 2013 and half a nanosecond' exits 3 "$brevis" room --out "$box/no" scenarios/wrong/room_pulse_too_short.yaml
check '  edition, range and line' says 'room_pulse_too_short.yaml:5:10: light.pulse = 0.5 ns: room.edition = icnirp_2013 .* 1 ns to 30000 s'
check '  from the command line too' exits 3 "$brevis" room --out "$box/no" --set room.edition=icnirp_2013 --set 'light.pulse=999 ps' "$room"
check '  with its place' says '^--set light.pulse:1:[0-9]*: light.pulse = 999 ps: room.edition = icnirp_2013'
check 'rows from memory cannot be asked for' exits 3 "$brevis" room --out "$box/no" --set room.edition=iec_2014 "$room"
check '  and why' says 'from memory only: shown, never used; allowed both, eu_2006 or icnirp_2013'
check 'a negative stay' exits 3 "$brevis" room --out "$box/no" --set 'room.stay=-10 s' "$room"
check '  what is allowed' says 'room.stay = -10 s, allowed 1 s to 30000 s'
check 'a lid of nothing' exits 3 "$brevis" room --out "$box/no" --set 'room.lid=0 mm' "$room"
check '  what is allowed' says 'room.lid = 0 mm, allowed 0.1 mm to 5 mm'
check 'divergence without beam' exits 3 "$brevis" room --out "$box/no" --set 'room.divergence=2 mrad' "$hand"
check '  what is missing' says 'room.beam is missing'
check 'divergence beside a lens' exits 3 "$brevis" room --out "$box/no" scenarios/wrong/room_two_spreads.yaml
check 'no scenario' exits 4 "$brevis" room --out "$box/no" "$box/there_is_none.yaml"
check 'no CSV of it' exits 2 "$brevis" room --csv --out "$box/no" "$room"
check 'no JSON of it' exits 2 "$brevis" room --json --out "$box/no" "$room"
check 'nothing was written' absent "$box/no"

missing=$(awk -f tests/support/limits.awk model/side/exposure_rows.c | while IFS= read -r row; do
    grep -qxF "$row" docs/theory/room.md || echo "$row"; done)
check "the page of theory holds every row of the code $missing" [ -z "$missing" ]
check 'which are many' [ "$(awk -f tests/support/limits.awk model/side/exposure_rows.c | grep -c '^| [EI]')" -gt 30 ]

counted_out
