# Published spots and fluences, with the scenario's own: ranges as bars, the name of each paper beside the panel.
#
#   gnuplot -d -c reported.gp DATA OUTPUT KIND NUMBERS HEADING ASKED CORNER UNSEEN
#
# DATA is reported.csv. NUMBERS are the scenario's own spot in mm, fluence in J/cm² and wavelength in nm; UNSEEN names the
# papers whose settings were not seen, in lines parted by |.

DATA = ARG1
OUTPUT = ARG2
KIND = ARG3
HEADING = ARG5
ASKED = ARG6
CORNER = ARG7
HEIGHT = 660.0

folder = ARG0
while (strlen(folder) > 0 && substr(folder, strlen(folder), strlen(folder)) ne '/') {
    folder = substr(folder, 1, strlen(folder) - 1)
}
load folder.'style.gp'

own_spot = word(ARG4, 1) + 0.0
own_fluence = word(ARG4, 2) + 0.0
line_nm = sprintf('%.4g', word(ARG4, 3) + 0.0)

# ---- what is drawn: arrays, so that names can be set apart ----

MOST = 60
array X[MOST]
array X1[MOST]
array Y[MOST]
array NAME[MOST]
array AT[MOST]
array SORT[MOST]
n = 0
widest = own_spot
narrowest = own_spot
low = own_fluence
high = own_fluence
stats DATA using (column('drawn') == 1.0 ? (n = n + 1, X[n] = 500.0 * (column('spot_low_m') + column('spot_high_m')), X1[n] = 1e3 * column('spot_high_m'), \
    Y[n] = 1e-4 * sqrt(column('fluence_low_J_m2') * column('fluence_high_J_m2')), NAME[n] = strcol('label'), \
    widest = most(widest, X1[n]), low = least(low, 1e-4 * column('fluence_low_J_m2')), high = most(high, 1e-4 * column('fluence_high_J_m2')), n) : NaN) nooutput

from = low / 1.6
to = high * 1.6
set logscale y
set yrange [from:to]
reach = most(10.0, 1.08 * widest)
set xrange [0:reach]
set ytics ()
do for [d = int(floor(log10(from))):int(ceil(log10(to)))] { do for [q = 1:3] {
    tic = (word('1 2 5', q) + 0.0) * 10.0**d
    if (tic >= from && tic <= to) { set ytics add (sprintf('%g', tic) tic) }
} }

LEFT = 0.08
RIGHT = 0.58
TOP = 150.0
BOTTOM = HEIGHT - 150.0
set lmargin at screen LEFT
set rmargin at screen RIGHT
set tmargin at screen down_to(TOP)
set bmargin at screen down_to(BOTTOM)
set xlabel 'spot, mm'
set ylabel 'fluence, J/cm²'
DOT = KIND eq 'png' ? 1.6 : 0.7

# ---- names, from the top down in the order of their fluence, none nearer to the next than a line ----

share(y) = log10(y / from) / log10(to / from)
GAP = 19.0 / (BOTTOM - TOP)
do for [i = 1:n] {
    SORT[i] = 1
    do for [k = 1:n] { if (Y[k] > Y[i] || (Y[k] == Y[i] && k < i)) { SORT[i] = SORT[i] + 1 } }
}
last = 1.0 + GAP
do for [r = 1:n] { do for [i = 1:n] { if (SORT[i] == r) {
    AT[i] = least(share(Y[i]), last - GAP)
    last = AT[i]
} } }
# Too low at the end: the lowest are pushed up again.
first = -GAP
do for [r = n:1:-1] { do for [i = 1:n] { if (SORT[i] == r) {
    if (AT[i] < first + GAP) { AT[i] = first + GAP }
    first = AT[i]
} } }
do for [i = 1:n] {
    set arrow i from first X1[i], first Y[i] to graph 1.02, graph AT[i] nohead linewidth 0.6 linecolor rgb '#a0a0a0' dashtype (2, 3) back
    set label 20 + i NAME[i] at graph 1.03, graph AT[i] left noenhanced font SMALL
}

# ---- what the marks mean ----

set label 1 'PUBLISHED RANGES, NOT ADVICE: of other people, skins and aims. No place among them is a reason to move a setting.' at screen 0.015, down_to(72)
set label 2 line_nm.' nm, pulses of this class' at screen LEFT + 0.015, down_to(102) left textcolor rgb VERMILLION point pointtype 7 pointsize DOT linecolor rgb VERMILLION offset 0.8, 0
set label 3 'other wavelength' at screen LEFT + 0.29, down_to(102) left textcolor rgb BLUE point pointtype 6 pointsize DOT linewidth 1.4 linecolor rgb BLUE offset 0.8, 0
set label 4 'other pulses: ps, or ms against ns' at screen LEFT + 0.46, down_to(102) left point pointtype 4 pointsize DOT linewidth 1.4 linecolor rgb QUIET offset 0.8, 0
set label 5 'bars: ranges as printed; melasma is another disease than sun spots' at screen LEFT + 0.015, down_to(124) left font SMALL textcolor rgb QUIET
set label 6 'this scenario' at screen LEFT + 0.46, down_to(124) left point pointtype 2 pointsize 1.5 * DOT linewidth 2.4 linecolor rgb BLACK offset 0.8, 0
set label 7 '' at first own_spot, first own_fluence point pointtype 2 pointsize 2.2 * DOT linewidth 2.6 linecolor rgb BLACK front
unseen = ARG8
do for [k = 1:4] {
    bar = strstrt(unseen.'|', '|')
    line = substr(unseen, 1, bar - 1)
    unseen = substr(unseen, bar + 1, strlen(unseen))
    set label 10 + k line at screen 0.015, down_to(BOTTOM + 46 + 16 * k) left noenhanced font SMALL textcolor rgb QUIET
}
set label 15 'No trial of nanosecond pulses in poikiloderma was found: nothing here implies evidence for it.' at screen 0.015, down_to(HEIGHT - 27) left font SMALL

here(k) = column('alike') == 0.0 ? k == 3 : column('same_wavelength') == 1.0 ? k == 1 : k == 2
mark(k) = int(word('7 6 4', k))
colour(k) = k == 1 ? VERMILLION : k == 2 ? BLUE : QUIET
x(end) = 1e3 * column('spot_'.end.'_m')
y(end) = 1e-4 * column('fluence_'.end.'_J_m2')
plot for [k = 1:3] DATA using (column('drawn') == 1.0 && here(k) ? 0.5 * (x('low') + x('high')) : NaN):(sqrt(y('low') * y('high'))):(x('low')):(x('high')):(y('low')):(y('high')) \
         with xyerrorbars dashtype solid pointtype mark(k) pointsize DOT linewidth (k == 1 ? 1.8 : 1.2) linecolor rgb colour(k)
