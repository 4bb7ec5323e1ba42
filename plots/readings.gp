# Readings of a meter in their order: every reading, the mean of every day, what these readings usually do, what was planned.
#
#   gnuplot -d -c readings.gp DATA OUTPUT KIND NUMBERS HEADING ASKED CORNER WORDS
#
# DATA is readings.csv. NUMBERS, separated by blanks: the column that goes across (day or reading), mean, lower and upper
# limit (0 0: none), planned, each in J. WORDS is the line above the panel.

DATA = ARG1
OUTPUT = ARG2
KIND = ARG3
HEADING = ARG5
ASKED = ARG6
CORNER = ARG7
WORDS = ARG8
HEIGHT = 580.0

folder = ARG0
while (strlen(folder) > 0 && substr(folder, strlen(folder), strlen(folder)) ne '/') {
    folder = substr(folder, 1, strlen(folder) - 1)
}
load folder.'style.gp'

ACROSS = word(ARG4, 1)
number(i) = 1e3 * word(ARG4, i) # drawn in mJ
mean = number(2)
low = number(3)
high = number(4)
planned = number(5)
limits = high > 0.0

least_seen = least(mean, planned)
most_seen = most(mean, planned)
if (limits) { least_seen = least(least_seen, low); most_seen = most(most_seen, high) }
begin = 1e300
end = -1e300
stats DATA using (x = column(ACROSS), begin = least(begin, x), end = most(end, x), \
                  y = 1e3 * column('energy_J'), least_seen = least(least_seen, y), most_seen = most(most_seen, y), y) nooutput
room = most_seen > least_seen ? 0.12 * (most_seen - least_seen) : 0.1 * mean
set yrange [least_seen - room:most_seen + room]
side = end > begin ? 0.03 * (end - begin) : 0.5
set xrange [begin - side:end + side]
if (end - begin <= 10.0) { set xtics 1 } # days and readings are whole

set lmargin at screen 0.085
set rmargin at screen 0.80
set tmargin at screen down_to(122)
set bmargin at screen down_to(HEIGHT - 96)
set ylabel 'energy of a pulse, mJ'
set xlabel ACROSS eq 'day' ? 'day' : 'number of the reading'
set format '%g'
DOT = KIND eq 'png' ? 1.5 : 0.65

set label 1 WORDS at screen 0.015, down_to(72) noenhanced
set label 7 (ACROSS eq 'day' ? 'crosses: readings; dots: mean of a day; square: outside the limits' : 'dots: readings; square: outside the limits') \
    at screen 0.015, down_to(94) left font SMALL textcolor rgb QUIET
# Names at the right end of the lines, moved apart where they would touch.
GAP = 0.045
at_y(y) = 0.0 + (y - (least_seen - room)) / (most_seen - least_seen + 2.0 * room)
mean_at = at_y(mean)
planned_at = at_y(planned)
if (abs(mean_at - planned_at) < GAP) {
    middle = 0.5 * (mean_at + planned_at)
    planned_at = planned_at >= mean_at ? middle + 0.5 * GAP : middle - 0.5 * GAP
    mean_at = planned_at > middle ? middle - 0.5 * GAP : middle + 0.5 * GAP
}
apart(y, other) = abs(y - other) >= GAP ? y : y > other ? other + GAP : other - GAP
set label 2 sprintf('mean %.3g', mean) at graph 1.012, graph mean_at left textcolor rgb BLUE
set label 3 sprintf('planned %.3g', planned) at graph 1.012, graph planned_at left
if (limits) {
    set label 4 sprintf('limit %.3g', high) at graph 1.012, graph apart(apart(at_y(high), mean_at), planned_at) left textcolor rgb BLUE
    set label 5 sprintf('limit %.3g', low) at graph 1.012, graph apart(apart(at_y(low), mean_at), planned_at) left textcolor rgb BLUE
    set label 6 'limits: mean ∓ 2.66 × mean step from one to the next, what these readings usually do; a point outside of them is to be looked into, it is no verdict' \
        at screen 0.015, down_to(HEIGHT - 31) left font SMALL textcolor rgb QUIET
} else {
    set label 6 'too few for limits: they begin at eight' at screen 0.015, down_to(HEIGHT - 31) left font SMALL textcolor rgb QUIET
}

plot '+' using (begin - side + (end - begin + 2.0 * side) * $0 / 99.0):(planned) with lines dashtype (2, 4) linewidth 1.8 linecolor rgb BLACK, \
     '' using (begin - side + (end - begin + 2.0 * side) * $0 / 99.0):(mean) with lines dashtype solid linewidth 1.6 linecolor rgb BLUE, \
     '' using (begin - side + (end - begin + 2.0 * side) * $0 / 99.0):(limits ? low : NaN) with lines dashtype (10, 5) linewidth 1.6 linecolor rgb BLUE, \
     '' using (begin - side + (end - begin + 2.0 * side) * $0 / 99.0):(limits ? high : NaN) with lines dashtype (10, 5) linewidth 1.6 linecolor rgb BLUE, \
     DATA using ACROSS:(1e3 * column('point_J')) with lines dashtype solid linewidth 1.0 linecolor rgb '#8c8c8c', \
     DATA using ACROSS:(1e3 * column('energy_J')) with points pointtype 1 pointsize 0.8 * DOT linewidth 1.0 linecolor rgb QUIET, \
     DATA using ACROSS:(1e3 * column('point_J')) with points pointtype 7 pointsize DOT linecolor rgb BLACK, \
     DATA using ACROSS:(column('outside') == 1.0 ? 1e3 * column('point_J') : NaN) with points pointtype 4 pointsize 2.2 * DOT linewidth 2.0 linecolor rgb VERMILLION
