#!/bin/sh
# What a user of `brevis output` sees: readings of a meter, their fluence, drift and chart, and every way to hand them in
# wrongly.
# usage: BREVIS=build/brevis sh tests/cli/output.sh
set -u
cd "$(dirname "$0")/../.." || exit 1
. tests/support/cli.sh

flat() { tr '\n' ' ' <"$box/stdout" | tr -s ' ' | grep -q -e "$1"; } # where lines are wrapped
weekly=scenarios/readings/weekly_1064nm.csv
cheek=scenarios/cheek_1064nm.yaml
check 'readings' exits 0 "$brevis" output --out "$box/o" "$weekly" "$cheek"
check 'mean, interval, points' tells '^ *energy, mJ  *475  *464 to 485  *17.8  *4.75  *14$'
check 'the display' tells 'over display, 500 mJ  *0.949'
check 'fluence, and over the planned one' tells '^FLUENCE *1.61 J/cm2, 0.908 x planned; random and systematic errors together: 1.24 to 1.97'
check 'random and systematic apart, each with its source' tells 'random -+2.58 %.*systematic -+22.4 %'
check '  of the meter' tells 'allowed by 21 CFR 1040.11(a), second-hand'
check '  of the spot' tells "this project's choice"
check 'no drift that is not there' tells 'no drift can be told from 14 days'
check 'the day that is off, without a verdict' tells 'outside what these readings usually do, 444 to 505 mJ: day 63\.$'
check 'what the shift does' tells '^fluence, J/cm2  *1.77  *1.61  *1.24  *1.97$'
check 'the planned column is the run itself' sh -c "'$brevis' run --quiet --no-figures --out '$box/run' '$cheek' &&
    grep -q 'highest rise of a grain, no vaporisation, K *84.6 ' '$box/run/summary.txt' && grep -q '^highest rise of a grain, K *84.6 ' '$box/stdout'"
check 'the measured column is a run with that energy and spot' sh -c "'$brevis' run --quiet --no-figures --out '$box/run2' \
    --set 'light.energy=474.65476190476187 mJ' --set 'light.spot=6.1357142857142852 mm' '$cheek' && grep -o 'highest rise of a grain, no vaporisation, K *[0-9.]*' '$box/run2/summary.txt' | grep -q ' 77.2$'"
check 'caution' tells 'Not a medical device'
check 'fewer than 44 lines' [ "$(wc -l <"$box/stdout")" -lt 44 ] # notes that are grave are never cut
check 'fits the page' sh -c "! tail -n +2 '$box/stdout' | grep -q '.\{109\}'"
# The name of the box is made by chance and may begin with ok.
check 'no verdict, nothing safe or advised' sh -c "! sed 's|$box||g' '$box/stdout' '$box/o/summary.json' | grep -iE '\b(pass|fail|passed|failed|ok|safe|recommend)'"
check 'nothing that names the file of the readings' sh -c "! grep -rq weekly '$box/o'"
check 'figure' [ -s "$box/o/readings.png" ]
check '  as lines too' [ -s "$box/o/readings.svg" ]
check 'a row for each reading' [ "$(wc -l <"$box/o/readings.csv")" = "$(wc -l <"$weekly")" ]
check '  columns' sh -c "head -n 1 '$box/o/readings.csv' | tr -d '\r' | grep -qx 'reading,day,energy_J,spot_m,fluence_J_m2,point_J,outside'"
check '  CR LF' [ "$(tr -cd '\r' <"$box/o/readings.csv" | wc -c)" = "$(wc -l <"$box/o/readings.csv")" ]
check '  the day that is off is marked' sh -c "tr -d '\r' <'$box/o/readings.csv' | awk -F, 'NR > 1 && (\$7 == 1) != (\$2 == 63) { exit 1 }'"
check 'systematic error in the JSON, root of 5 % of 1' grep -q '"systematic": {"value": 0.2236067977' "$box/o/summary.json"
check '  no drift told' grep -q '"drift_told": false' "$box/o/summary.json"
check '  cautions' grep -q '"cautions"' "$box/o/summary.json"
check '--json: the same on standard output' sh -c "'$brevis' output --json --no-figures --out '$box/j' '$weekly' '$cheek' | cmp -s - '$box/o/summary.json'"
for threads in 1 2 8; do "$brevis" output --quiet --threads $threads --out "$box/t$threads" "$weekly" "$cheek"; done
check 'two threads, same bytes' diff -r "$box/t1" "$box/t2"
check 'eight threads, same bytes' diff -r "$box/t1" "$box/t8"
check 'existing results are kept' exits 4 "$brevis" output --out "$box/o" "$weekly" "$cheek"
check 'or replaced when asked' exits 0 "$brevis" output --force --out "$box/o" "$weekly" "$cheek"

# Other readings.
{ sed '/^63,/d' "$weekly"; } >"$box/without.csv"
check 'without the day that is off' exits 0 "$brevis" output --no-figures --out "$box/w" "$box/without.csv" "$cheek"
check '  the drift can be told' tells "^DRIFT *-0.047 % of the first day's mean a day (95 %: -0.062 to -0.033), from 13 days; no forecast"
check '  and carries days out of the limits' tells 'CHART *outside what these readings usually do, 471 to 487 mJ: day 42, 84, 91'
printf 'energy_J\n0.5\n' >"$box/one.csv"
check 'one reading' exits 0 "$brevis" output --out "$box/1" "$box/one.csv" "$cheek"
check '  has no interval' tells 'energy, mJ  *500  *not known  *-  *-  *1$'
check '  nor a random part' tells 'random not known from one, of the readings'
check '  and says so of its fluence' tells 'by systematic errors alone: 1.37 to 2.16'
check '  nor a drift' tells 'DRIFT *not told: the readings have no days'
check '  nor limits' tells 'CHART *no limits from 1 reading'
check '  the spot is the planned one' flat 'the spot was not measured: it is the planned one'
check '  and the figure is there' [ -s "$box/1/readings.png" ]
awk 'BEGIN { print "day,energy_mJ"; for (i = 1; i <= 9; i++) print "3," (i == 5 ? 600 : 500) }' >"$box/day.csv"
check 'one day' exits 0 "$brevis" output --out "$box/day" "$box/day.csv" "$cheek"
check '  of readings, not of days' tells 'energy, mJ .* 9$'
check '  has no drift' tells 'no drift can be told from 1 day; a line and its interval need 3'
check '  and a fifth reading that is off' tells 'CHART *outside what these readings usually do, .*: reading 5\.$'
printf 'energy_J\n0.5\n0.1\n' >"$box/two.csv"
check 'two that differ widely' exits 0 "$brevis" output --out "$box/2" "$box/two.csv" "$cheek"
check '  have no lower end' tells 'together: no lower end to'
check '  nor one below nothing' grep -q '"fluence": {"value": [0-9.e]*, "unit": "J/m2", "low": null' "$box/2/summary.json"
check '  and no columns that cannot be' tells '^fluence, J/cm2  *1.77  *1.06  *-  *[0-9]'
check 'errors of ones own meter' exits 0 "$brevis" output --no-figures --meter-error '3 %' --spot-error 2% --out "$box/e" "$weekly" "$cheek"
check '  are told as given' flat 'systematic -+5 %, which no number of readings mends: meter 3 % (as given), spot 2 % (as given)'
check 'readings from standard input' sh -c "'$brevis' output --quiet --no-figures --out '$box/in' - '$cheek' <'$weekly' && cmp -s '$box/in/readings.csv' '$box/o/readings.csv'"
check 'a scenario from standard input' sh -c "'$brevis' output --quiet --no-figures --out '$box/in2' '$weekly' - <'$cheek' && cmp -s '$box/in2/summary.json' '$box/o/summary.json'"
check 'the key is changed before' exits 0 "$brevis" output --no-figures --set 'light.spot=8 mm' --out "$box/set" "$box/one.csv" "$cheek"
check '  a spot that was not measured follows' tells '^FLUENCE *0.995 J/cm2, 1 x planned'

check 'readings of another setting' exits 0 "$brevis" output --out "$box/other" "$weekly" scenarios/hand_532nm.yaml
check '  are told' tells 'the display said 500 mJ, the scenario plans 75.4 mJ: readings of another setting'
printf 'day,energy_mJ,spot_mm,set_mJ\n0,424,6.1,\n0,420,6,\n7,430,,300\n14,428,,\n' >"$box/some.csv"
check 'a display that is told in one reading' exits 0 "$brevis" output --no-figures --force --out "$box/other" "$box/some.csv" "$cheek"
check '  is told of' tells 'what the display said stands in 1 of 4 readings'
check '  and compared all the same' tells 'the display said 300 mJ, the scenario plans 500 mJ: readings of another setting'
check '  a spot measured on one day is called that' flat '(the spot was measured on one day only)'
check '  in fewer than 45 lines' [ "$(wc -l <"$box/stdout")" -lt 45 ]

# What is refused.
refuse() { # refuse WHAT CODE TEXT: a file of that text
    printf '%b' "$3" >"$box/bad.csv"
    check "$1" exits "$2" "$brevis" output --out "$box/none" "$box/bad.csv" "$cheek"
}
refuse 'the device' 3 'energy_mJ,serial\n500,12\n'
check '  is not wanted' says 'bad.csv:1:11: column "serial": no device, no person: allowed only day, energy_mJ or energy_J, spot_mm, set_mJ'
refuse 'a date' 3 'day,energy_mJ\n2024-05-11,500\n'
check '  is not wanted either' says 'bad.csv:2:1: day = 2024-05-11: a date: not allowed'
refuse 'decimal commas' 3 'energy_mJ,day\n500,5,1\n'
check '  are named' says 'bad.csv:2:1: 3 fields where the header names 2; a decimal comma'
refuse 'semicolons' 3 'energy_mJ;day\n500;1\n'
check '  are named' says 'parted by semicolons'
refuse 'all faults at once' 3 'energy_mJ,spot_mm\nnan,6\n1e999,6\n500,60\n'
check '  first' says 'bad.csv:2:1: energy_mJ = nan: a number is allowed'
check '  second' says 'bad.csv:3:1: energy_mJ = 1e999, allowed 0.0001 mJ to 1000000 mJ'
check '  third' says 'bad.csv:4:5: spot_mm = 60, allowed 0.5 mm to 30 mm'
refuse 'an empty file' 3 ''
refuse 'a header alone' 3 'energy_mJ\n'
refuse 'readings of two settings' 3 'energy_mJ,set_mJ\n500,500\n400,400\n'
check '  one at a time' says 'bad.csv:3:5: set_mJ = 400, but 500 in line 2: one file holds the readings of one setting'
refuse 'energies far from any scenario' 3 'energy_mJ,spot_mm\n0.0002,30\n'
check '  are told' says 'bad.csv: the mean fluence of these readings is .*, allowed 1e-5 J/cm2 to 1000 J/cm2'
check 'faults of the scenario as well' exits 3 "$brevis" output --out "$box/none" "$box/bad.csv" scenarios/wrong/bare_number.yaml
check 'no such readings' exits 4 "$brevis" output --out "$box/none" "$box/no.csv" "$cheek"
check 'no such scenario' exits 4 "$brevis" output --out "$box/none" "$weekly" "$box/no.yaml"
check 'the scenario alone' exits 2 "$brevis" output --out "$box/none" "$cheek"
check 'standard input for both' exits 2 "$brevis" output --out "$box/none" - -
check 'a share without its sign' exits 2 "$brevis" output --meter-error 20 --out "$box/none" "$weekly" "$cheek"
check '  what is allowed' says 'meter-error 20: .*allowed 0.1 % to 50 %'
check 'a share too large' exits 2 "$brevis" output --spot-error '60 %' --out "$box/none" "$weekly" "$cheek"
check 'nothing was written' absent "$box/none"

counted_out
