# What falls on a square of skin inside the area: dose, in what one pulse gives on its axis. Skin that is missed is black.
#
#   gnuplot -d -c dose.gp DATA OUTPUT KIND NUMBERS HEADING ASKED CORNER WORDS
#
# DATA is dose.csv. NUMBERS: side of the square and the distance of its places, in m; 1 when spots are gaussian;
# 1 when they lie at random; the highest dose there is, also outside of the drawing, or 0 where chance knows no end.
# WORDS: what the drawing is.

DATA = ARG1
OUTPUT = ARG2
KIND = ARG3
NUMBERS = ARG4
HEADING = ARG5
ASKED = ARG6
CORNER = ARG7
HEIGHT = 760.0

folder = ARG0
while (strlen(folder) > 0 && substr(folder, strlen(folder), strlen(folder)) ne '/') {
    folder = substr(folder, 1, strlen(folder) - 1)
}
load folder.'style.gp'

side = 1e3 * word(NUMBERS, 1)
half = 0.53e3 * word(NUMBERS, 2) # a little more than half, so that no seams show
gaussian = int(word(NUMBERS, 3))
random = int(word(NUMBERS, 4))

highest = 0.0 + word(NUMBERS, 5)
missed = 0.0
stats DATA using (d = column('dose_1'), highest = most(highest, d), missed = missed + (column('hits') < 0.5), 0.0) nooutput
if (highest <= 0.0) { exit error 'no dose' }

# Black to light in even steps of lightness, so that it reads in grey as well. Every scale begins at 0, which is black:
# black is skin that gets nothing, in any map.
if (gaussian) {
    set palette defined (0 '#000000', 1 '#10194a', 2 '#23508a', 3 '#3d8a97', 4 '#7fbf85', 5 '#d3e07a', 6 '#fff8c6')
    set cbrange [0:highest]
    set cblabel 'dose, in doses of one pulse on its axis' offset 0.5, 0
} else {
    # one even colour for every number of hits where there are few of them
    top = int(highest + 0.5)
    colours = '#000000 #23508a #3d8a97 #7fbf85 #d3e07a #fff8c6'
    colour(k) = word(colours, 1 + int(5.0 * k / top + 0.5))
    steps = ''
    do for [k = 0:least(top, 5)] {
        steps = steps.sprintf("%s%.6f '%s', %.6f '%s'", k ? ', ' : '', k - 0.5, colour(k), k + 0.499, colour(k))
    }
    if (top <= 5) { eval 'set palette defined ('.steps.')' } else { \
        set palette defined (-0.5 '#000000', 0.499 '#000000', 0.5 '#23508a', 0.25 * top '#3d8a97', \
                             0.5 * top '#7fbf85', 0.75 * top '#d3e07a', top + 0.5 '#fff8c6') }
    set cbrange [-0.5:top + 0.5]
    set cbtics most(1, int(top / 8))
    set cblabel 'hits' offset 0.5, 0
}

# Words of the figure stand above and below it, outside of the map.
TOP = 100.0
BOTTOM = 690.0
set label 904 ARG8.(gaussian ? '; black would be no dose' : (missed > 0.5 ? '; black: skin that is missed' : '; nothing is missed in it')) \
    at screen 0.015, down_to(76) noenhanced
wide = (BOTTOM - TOP) / WIDTH # square
set lmargin at screen 0.12
set rmargin at screen 0.12 + wide
set tmargin at screen down_to(TOP)
set bmargin at screen down_to(BOTTOM)
set xrange [0:side]
set yrange [0:side]
set xlabel (random ? 'mm' : 'along the rows, mm') offset 0, 0.3
set ylabel (random ? 'mm' : 'across them, mm') offset 0.5, 0
set style fill solid noborder
plot DATA using (1e3 * column('x_m')):(1e3 * column('y_m')):(1e3 * column('x_m') - half):(1e3 * column('x_m') + half): \
     (1e3 * column('y_m') - half):(1e3 * column('y_m') + half):(column('dose_1')) with boxxyerror fillcolor palette
