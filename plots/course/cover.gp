# Course figure: circles on an area, in rows aside of each other and in squares, touching and overlapping.
#
#   gnuplot -d -c cover.gp DATA OUTPUT KIND HEADING ASKED CORNER NUMBERS
#
# DATA is a folder with hexagonal0, hexagonal10, hexagonal30, square0, square10 and square30, as `brevis cover` writes them.
# NUMBERS, three for each of them in this order: spot, distance along a row and from row to row, in m. Shares are those of
# histogram.csv; where circles lie upon each other, ink adds up.

DATA = ARG1
OUTPUT = ARG2
KIND = ARG3
HEADING = ARG4
ASKED = ARG5
CORNER = ARG6
SLIDE = 1

folder = ARG0
while (strlen(folder) > 0 && substr(folder, strlen(folder), strlen(folder)) ne '/') {
    folder = substr(folder, 1, strlen(folder) - 1)
}
load folder.'../style.gp'

lattice(row) = word('hexagonal square', row)
overlap(k) = word('0 10 30', k)
number(row, k, i) = word(ARG7, 9 * (row - 1) + 3 * (k - 1) + i) + 0.0

# Three panels a row; a window of skin in each, in mm, with the same scale everywhere.
LEFT = 0.155
STEP = 0.283
WIDE = 0.268
HIGH = 0.262
top_of(row) = down_to(row == 1 ? 112 : 312)
ASPECT = WIDE * WIDTH / (HIGH * HEIGHT)
set border 15 linewidth 1.2
unset tics
set angles degrees
set style fill solid noborder
INK = '#b8000000'    # alpha 0xb8: one circle takes a quarter of the light, the next one a quarter of the rest

do for [k = 1:3] {
    called = k == 1 ? 'touching' : overlap(k).' % overlap'
    set label 10 + k called at screen LEFT + (k - 1) * STEP + 0.5 * WIDE, down_to(92) center
}
do for [row = 1:2] {
    set label 20 + row lattice(row) at screen 0.015, top_of(row) - 0.5 * HIGH left
}
set multiplot
do for [row = 1:2] {
    do for [k = 1:3] {
        spot = 1e3 * number(row, k, 1)
        along = 1e3 * number(row, k, 2)
        rows = 1e3 * number(row, k, 3)
        high = 1.9 * spot
        wide = high * ASPECT
        set xrange [0:wide]
        set yrange [0:high]
        set lmargin at screen LEFT + (k - 1) * STEP
        set rmargin at screen LEFT + (k - 1) * STEP + WIDE
        set tmargin at screen top_of(row)
        set bmargin at screen top_of(row) - HIGH
        # Circles as points on them, an empty line between two; the first line is taken for names of columns.
        set print $circles
        print 'x,y'
        do for [j = -1:int(high / rows) + 2] {
            do for [i = -2:int(wide / along) + 2] {
                x = along * (i + (row == 1 && j % 2 != 0 ? 0.5 : 0.0)) + 0.5 * spot
                y = rows * j + 0.5 * spot
                seen = x > -0.5 * spot && x < wide + 0.5 * spot && y > -0.5 * spot && y < high + 0.5 * spot
                if (seen) {
                    do for [turn = 0:360:10] { print sprintf('%.9g,%.9g', x + 0.5 * spot * cos(turn), y + 0.5 * spot * sin(turn)) }
                    print ''
                }
            }
        }
        unset print
        missed = once = twice = more = 0.0
        stats DATA.'/'.lattice(row).overlap(k).'/histogram.csv' using (h = column('dose_from_1'), s = 100.0 * column('share_one_pass'), \
            missed = h == 0 ? s : missed, once = h == 1 ? s : once, twice = h == 2 ? s : twice, more = h > 2 ? more + s : more, 1) nooutput
        set label 30 sprintf('missed %.3g %%  once %.3g %%', missed, once) at screen LEFT + (k - 1) * STEP + 0.5 * WIDE, top_of(row) - HIGH - 0.028 center font SMALL
        set label 31 sprintf('twice %.3g %%  more %.3g %%', twice, more) at screen LEFT + (k - 1) * STEP + 0.5 * WIDE, top_of(row) - HIGH - 0.062 center font SMALL
        plot $circles using 'x':'y' with filledcurves closed fillcolor rgb INK, \
             $circles using 'x':'y' with lines linewidth 1 linecolor rgb '#404040' dashtype solid
        unset for [i = 901:903] label i
        unset for [i = 11:22] label i
    }
}
unset multiplot
