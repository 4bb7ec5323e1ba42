# The same pulse at several visits: pigment that is left, grains disrupted of those there, and the fluence so far.
#
#   gnuplot -d -c visits.gp DATA OUTPUT KIND HEADING ASKED CORNER BELOW
#
# DATA is visits.csv. BELOW stands under the line of what was asked.

DATA = ARG1
OUTPUT = ARG2
KIND = ARG3
HEADING = ARG4
ASKED = ARG5
CORNER = ARG6
BELOW = ARG7
HEIGHT = 830.0

folder = ARG0
while (strlen(folder) > 0 && substr(folder, strlen(folder), strlen(folder)) ne '/') {
    folder = substr(folder, 1, strlen(folder) - 1)
}
load folder.'style.gp'

site(i) = word('lesion neighbour', i)
colour(i) = i == 1 ? VERMILLION : BLUE
percent(i, what) = 100.0 * column(site(i).'_'.what)

# ---- what is there: how many visits, and where the curves end ----

n = 0
array left_at[2]
array taken_at[2]
total = 0.0
stats DATA using (n = n + 1, total = 1e-4 * column('fluence_J_m2'), 0.0) nooutput
if (n == 0) { exit error 'no visits' }
do for [i = 1:2] {
    stats DATA using (left_at[i] = percent(i, 'pigment_after'), taken_at[i] = percent(i, 'share_disrupted'), 0.0) nooutput
}

LEFT = 0.09
RIGHT = 0.865
set lmargin at screen LEFT
set rmargin at screen RIGHT
set xrange [0.5:n + 0.5]
every = int(ceil(n / 15.0))
set xtics 1, every
set format y '%g'
DENSE = n > 20 # so many visits stand close
DOT = (KIND eq 'png' ? 1.5 : 0.65) * (DENSE ? 0.6 : 1.0)
BAR = DENSE ? 0.6 : 1.1
set bars (DENSE ? 0.4 : 1.0)
ASIDE = least(0.007 * n, 0.16) # lesion and neighbour stand beside each other at a visit
NAME = n > 4 ? RIGHT + 0.012 : LEFT + (n - 0.5 + ASIDE) / n * (RIGHT - LEFT) + 0.018 # beside the last points
at(i) = column('visit') + (i == 1 ? -ASIDE : ASIDE)
mark(i) = i == 1 ? 7 : 6

TOP_A = 128.0
BOTTOM_A = 372.0
TOP_B = 436.0
BOTTOM_B = 590.0
TOP_C = 660.0
BOTTOM_C = 732.0

# Names beside the last points, lesion and neighbour a line apart at least, and above the axis.
MOST = 104.0
up(y, top, bottom) = bottom - (y + 2.0) / (MOST + 2.0) * (bottom - top)
apart(y, other, top, bottom, first) = (here = up(y, top, bottom), there = up(other, top, bottom), \
    abs(here - there) >= ROW ? least(here, bottom - 0.6 * ROW) : \
    least(0.5 * (here + there), bottom - 1.1 * ROW) + (y > other || (y == other && first) ? -0.5 : 0.5) * ROW)

set label 904 BELOW at screen 0.015, down_to(72) noenhanced font SMALL textcolor rgb QUIET

set multiplot

# ---- pigment: a drop at each visit, and what is back at the next ----

set tmargin at screen down_to(TOP_A)
set bmargin at screen down_to(BOTTOM_A)
set yrange [-2:MOST]
set ytics 25
set label 1 'pigment, % of that before visit 1: each drop is a visit, dots when it is over' at screen LEFT, down_to(TOP_A - 16) left
do for [i = 1:2] {
    set label 10 + i site(i) at screen NAME, down_to(apart(left_at[i], left_at[3 - i], TOP_A, BOTTOM_A, i == 1)) left textcolor rgb colour(i)
}
px = py = NaN
plot for [i = 1:2] DATA using (x = at(i), y = percent(i, 'pigment_before'), from = column('visit') == 1 ? NaN : px, px = x, x - from == x - from ? from : x): \
             (y = percent(i, 'pigment_before'), from = py, py = percent(i, 'pigment_after'), column('visit') == 1 ? y : from): \
             (column('visit') == 1 ? 0.0 : 1.0):(column('visit') == 1 ? 0.0 : y - from) with vectors nohead linetype i linewidth 1.4, \
     for [i = 1:2] DATA using (at(i)):(percent(i, 'pigment_before')):(0.0):(percent(i, 'pigment_after') - percent(i, 'pigment_before')) with vectors nohead dashtype solid linewidth 2.0 * BAR linecolor rgb colour(i), \
     for [i = 1:2] DATA using (at(i)):(percent(i, 'pigment_after')):(percent(i, 'pigment_after_low')):(percent(i, 'pigment_after_high')) with yerrorbars \
             dashtype solid pointtype mark(i) pointsize DOT linewidth BAR linecolor rgb colour(i)
unset for [i = 901:904] label i

# ---- grains disrupted ----

set tmargin at screen down_to(TOP_B)
set bmargin at screen down_to(BOTTOM_B)
set label 1 'grains disrupted, % of those there at the visit; not clearance' at screen LEFT, down_to(TOP_B - 16) left
do for [i = 1:2] {
    set label 10 + i site(i) at screen NAME, down_to(apart(taken_at[i], taken_at[3 - i], TOP_B, BOTTOM_B, i == 1)) left textcolor rgb colour(i)
}
plot for [i = 1:2] DATA using (at(i)):(percent(i, 'share_disrupted')) with lines linetype i linewidth 1.0, \
     for [i = 1:2] DATA using (at(i)):(percent(i, 'share_disrupted')):(percent(i, 'share_disrupted_low')):(percent(i, 'share_disrupted_high')) with yerrorbars \
             dashtype solid pointtype mark(i) pointsize DOT linewidth BAR linecolor rgb colour(i)
unset for [i = 11:12] label i

# ---- the sum ----

set tmargin at screen down_to(TOP_C)
set bmargin at screen down_to(BOTTOM_C)
set yrange [0:1.15 * total]
set ytics total > 0.0 ? 10.0**floor(log10(0.7 * total)) * (total / 10.0**floor(log10(0.7 * total)) > 4.0 ? 4.0 : 1.0) : 1
set label 1 'fluence on one place so far, J/cm²: a mere sum, no threshold of harm is known' at screen LEFT, down_to(TOP_C - 14) left
set label 2 sprintf('%.3g', total) at screen NAME, down_to(BOTTOM_C - (BOTTOM_C - TOP_C) / 1.15) left
set label 3 'visit' at screen 0.5 * (LEFT + RIGHT), down_to(BOTTOM_C + 38) center
set label 4 'bars: grains 0.316 to 3.16 × as dark, criteria 150 to 112 °C, each followed through all visits; white dots, darkening and healing are not modelled' \
    at screen 0.015, down_to(HEIGHT - 29) left font SMALL textcolor rgb QUIET
plot DATA using (column('visit')):(1e-4 * column('fluence_J_m2')) with impulses linewidth (n > 30 ? 3 : 6) linecolor rgb BLACK
unset multiplot
