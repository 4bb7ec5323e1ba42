# How much of the skin gets how much: columns by number of hits for flat spots, by dose for gaussian ones.
#
#   gnuplot -d -c histogram.gp DATA OUTPUT KIND NUMBERS HEADING ASKED CORNER
#
# DATA is histogram.csv. NUMBERS: passes; 1 when spots are gaussian; 1 when they lie at random; the highest dose
# there is, or 0 where chance knows no end.

DATA = ARG1
OUTPUT = ARG2
KIND = ARG3
NUMBERS = ARG4
HEADING = ARG5
ASKED = ARG6
CORNER = ARG7

folder = ARG0
while (strlen(folder) > 0 && substr(folder, strlen(folder), strlen(folder)) ne '/') {
    folder = substr(folder, 1, strlen(folder) - 1)
}
load folder.'style.gp'

passes = int(word(NUMBERS, 1))
gaussian = int(word(NUMBERS, 2))
random = int(word(NUMBERS, 3))
highest = 0.0 + word(NUMBERS, 4)

several = passes > 1
n = several ? 4 : 2
way(i) = word(several ? 'one_pass all_passes same_places twice_the_rate' : 'one_pass twice_the_rate', i)
share(i) = 100.0 * column('share_'.way(i))
array name[4]
if (several) {
    name[1] = 'one pass'
    name[2] = sprintf('%d passes, anywhere', passes)
    name[3] = sprintf('%d passes, same places', passes)
    name[4] = sprintf('%d passes, twice the rate, same hand', passes)
} else {
    name[1] = 'one pass'
    name[2] = 'twice the rate, same hand'
}
if (random) { name[n] = several ? sprintf('%d passes, twice the rate', passes) : 'twice the rate' }
ink(i) = word(several ? '#a8a8a8 #000000 #0072b2 #d55e00' : '#a8a8a8 #d55e00', i)
pattern(i) = int(word(several ? '3 3 7 4' : '3 4', i)) # full, full, and two ways of hatching
line(i) = 30 + int(word(several ? '1 2 3 4' : '1 4', i)) # told apart by their dashes too
set linetype 31 linecolor rgb '#808080' linewidth 2.2 dashtype solid
set linetype 32 linecolor rgb BLACK linewidth 2.2 dashtype solid
set linetype 33 linecolor rgb BLUE linewidth 2.2 dashtype (14, 6)
set linetype 34 linecolor rgb VERMILLION linewidth 2.2 dashtype (3, 4)

# What is drawn: up to where no way has a ten-thousandth of the skin.
first = 1e30
end = 0.0
top = 0.0
stats DATA using (m = 0.0, sum [i = 1:n] (m = most(m, share(i))), top = most(top, m), \
                  first = m > 0.01 ? least(first, column('dose_from_1')) : first, \
                  end = m > 0.01 ? most(end, column('dose_to_1')) : end, 0.0) nooutput
if (top <= 0.0) { exit error 'no shares' }

end = most(end, highest) # as the summary tells it, be its share ever so small

TOP = 150.0
set tmargin at screen down_to(TOP)
set bmargin at screen 0.15
set lmargin at screen 0.09
set rmargin at screen 0.97
set yrange [0:1.06 * top]
set ylabel 'share of the skin, %' offset 0.5, 0

# The key, above the panel, so that no name lies on a column.
do for [i = 1:n] {
    x = 0.09 + (i % 2 ? 0.0 : 0.45)
    y = 84 + 24 * ((i - 1) / 2)
    set label 10 + i name[i] at screen x + 0.045, down_to(y) left noenhanced
    if (gaussian) {
        set arrow i from screen x, down_to(y) rto screen 0.035, 0 nohead linetype line(i)
    } else {
        set object i rectangle from screen x, down_to(y + 7) to screen x + 0.035, down_to(y - 7) \
            fillcolor rgb ink(i) fillstyle pattern pattern(i) border linecolor rgb ink(i)
    }
}

if (gaussian) {
    set xlabel 'dose, in doses of one pulse on its axis' offset 0, 0.3
    set xrange [most(0.0, first - 0.03 * (end - first)):end + 0.03 * (end - first)]
    plot for [i = 1:n] DATA using (0.5 * (column('dose_from_1') + column('dose_to_1'))):(share(i)) with histeps linetype line(i)
} else {
    set xlabel 'hits of one place' offset 0, 0.3
    room = most(0.6, 0.02 * (end - first))
    set xrange [first - room:end + room]
    if (end - first < 25) { set xtics 1 }
    slot = 0.84 / n
    left(i) = column('dose_from_1') - 0.42 + slot * (i - 1)
    plot for [i = 1:n] DATA using (left(i) + 0.5 * slot):(0.0):(left(i)):(left(i) + 0.92 * slot):(0.0):(share(i)) \
         with boxxyerror fillcolor rgb ink(i) fillstyle pattern pattern(i) border rgb ink(i) linewidth 1.2 dashtype solid
}
