# Choices side by side: light, thresholds, grains disrupted and warmth, a row for each choice.
#
#   gnuplot -d -c compare.gp DATA OUTPUT KIND HEADING ASKED CORNER NAMES
#
# DATA is compare.csv. NAMES are those of the choices, each with | behind it: gnuplot would cut a quoted name in DATA at
# a comma.

DATA = ARG1
OUTPUT = ARG2
KIND = ARG3
HEADING = ARG4
ASKED = ARG5
CORNER = ARG6
NAMES = ARG7

folder = ARG0
while (strlen(folder) > 0 && substr(folder, strlen(folder), strlen(folder)) ne '/') {
    folder = substr(folder, 1, strlen(folder) - 1)
}
set datafile separator comma
set datafile columnheaders
stats DATA using (column('choice')) nooutput
n = int(STATS_records)
most_of(a, b) = a > b ? a : b
HEIGHT = 222.0 + most_of(46.0 * n, 130.0)
load folder.'style.gp'

LEFT = 0.19
WIDE = 0.178
GAP = 0.022
TOP = 122.0
BOTTOM = HEIGHT - 100.0
left_of(panel) = LEFT + (panel - 1) * (WIDE + GAP)

# ---- what the marks mean, and the names of the choices ----

DOT = KIND eq 'png' ? 1.3 : 0.55
colour(i) = i == 1 ? VERMILLION : BLUE
site(i) = word('lesion neighbour', i)
KEY = 72.0

# A long name goes on in a second line, from the last blank that fits.
FITS_LEFT = 22
NUMBER_FIRST = "\342\200\216" # the mark U+200E: names written from right to left keep their number on the left
cut_at = 999
in_two(text) = (cut_at = 999, strlen(text) <= FITS_LEFT ? text : \
    (cut_at = blank_before(text, FITS_LEFT + 1), cut_at > 4 ? substr(text, 1, cut_at - 1)."\n     ".substr(text, cut_at + 1, strlen(text)) : text))
blank_before(text, from) = from < 1 || substr(text, from, from) eq ' ' ? from : blank_before(text, from - 1)

set label 1 'lesion' at screen LEFT + 0.012, down_to(KEY) left textcolor rgb VERMILLION point pointtype 7 pointsize DOT linecolor rgb VERMILLION offset 0.6, 0
set label 2 'neighbour' at screen LEFT + 0.10, down_to(KEY) left textcolor rgb BLUE point pointtype 6 pointsize DOT linewidth 1.4 linecolor rgb BLUE offset 0.6, 0
set label 3 'bars: low to high' at screen LEFT + 0.22, down_to(KEY) left font SMALL
set label 4 'black line: fluence of the choice itself' at screen LEFT + 0.36, down_to(KEY) left font SMALL
do for [row = 1:n] {
    bar = strstrt(NAMES, '|')
    name = substr(NAMES, 1, bar - 1)
    NAMES = substr(NAMES, bar + 1, strlen(NAMES))
    set label 20 + row in_two(sprintf('%d  ', row).NUMBER_FIRST.name) at screen 0.015, down_to(TOP + (BOTTOM - TOP) * (row - 0.5) / n - (cut_at < 999 ? 8 : 0)) left noenhanced \
        font (strlen(name) > 16 ? SMALL : '')
}

# ---- the panels: what is drawn in each, the second quantity with a square ----

films = 0 # is there a film in any choice?
stats DATA using (x = column('lesion_film_peak_K'), x == x ? (films = 1, x) : NaN) nooutput
array above[4] = ["light, J/cm²", "thresholds, J/cm²", "grains disrupted, %", "highest rise, K"]
array below[4] = ["dot: at the grain\nsquare: at 1 mm", "dot: of a grain\nsquare: of a sign", "criteria 150 to 112 °C", "dot: grain, square: its layer\ntriangle: 0.3 mm".(films ? ', diamond: film' : '')]
quantity(panel, k) = panel == 1 ? word('light_grain_J_m2 light_1mm_J_m2', k) : \
                     panel == 2 ? word('threshold_grain_J_m2 threshold_sign_J_m2', k) : \
                     panel == 3 ? 'share_disrupted' : word('grain_peak_K layer_peak_K rise_0.3mm_K film_peak_K', k)
n_quantity(panel) = int(word('2 2 1 3', panel)) + (panel == 4 ? films : 0)
scale(panel) = panel < 3 ? 1e-4 : panel == 3 ? 100.0 : 1.0
taken(panel, k, i, end) = scale(panel) * column(site(i).'_'.quantity(panel, k).end)
place(i, k) = column('choice') + (i == 1 ? -0.18 : 0.18) + (k - 2) * 0.06
mark(i, k) = int(word(i == 1 ? '7 5 9 13' : '6 4 8 12', k))

set label 5 'without vaporisation; grains disrupted is not clearance; bars: grains 0.316 to 3.16 × as dark, of a sign also its column, no source' at screen 0.015, down_to(HEIGHT - 29) left font SMALL textcolor rgb QUIET

set yrange [n + 0.5:0.5]
unset ytics
set border 1
set tmargin at screen down_to(TOP)
set bmargin at screen down_to(BOTTOM)
set multiplot
do for [panel = 1:4] {
    least_seen = 1e300
    most_seen = 0.0
    do for [i = 1:2] {
        do for [k = 1:n_quantity(panel)] {
            do for [e = 1:2] {
                stats DATA using (x = taken(panel, k, i, e == 1 ? '_low' : '_high'), x = x > 0.0 ? x : taken(panel, k, i, ''), \
                                  x > 0.0 ? (least_seen = least(least_seen, x), most_seen = most(most_seen, x)) : 0, 1) nooutput
            }
        }
    }
    if (panel == 2) {
        stats DATA using (x = 1e-4 * column('fluence_J_m2'), least_seen = least(least_seen, x), most_seen = most(most_seen, x), 1) nooutput
    }
    set lmargin at screen left_of(panel)
    set rmargin at screen left_of(panel) + WIDE
    unset logscale x
    if (panel == 3 || !(most_seen > 0.0)) {
        set xrange [0:103]
        set xtics 25
        set format x '%g'
    } else {
        set logscale x
        from = least_seen / 1.4
        to = most_seen * 1.4
        if (to / from < 10.0) { middle = sqrt(from * to); from = middle / 3.2; to = middle * 3.2 }
        set xrange [from:to]
        set format x '%g'
        steps = to / from > 3000.0 ? '1' : to / from > 60.0 ? '1' : to / from > 20.0 ? '1 3' : '1 2 5'
        every = to / from > 3000.0 ? 2 : 1
        set xtics ()
        do for [d = int(floor(log10(from))):int(ceil(log10(to)))] { do for [q = 1:words(steps)] {
            tic = (word(steps, q) + 0.0) * 10.0**d
            if (tic >= from && tic <= to) { set xtics add ((d % every == 0 ? sprintf('%g', tic) : '') tic) }
        } }
    }
    set label 10 above[panel] at screen left_of(panel), down_to(TOP - 16) left
    set label 11 below[panel] at screen left_of(panel), down_to(BOTTOM + 40) left font SMALL textcolor rgb QUIET
    do for [row = 1:n + 1] {
        set arrow 40 + row from graph 0, first row - 0.5 to graph 1, first row - 0.5 nohead linewidth 0.5 linecolor rgb SHADE back
    }
    plot for [i = 1:2] for [k = 1:n_quantity(panel)] DATA using (taken(panel, k, i, '')):(place(i, k)):(taken(panel, k, i, '_low')): \
             (x = taken(panel, k, i, '_high'), x == x ? x : taken(panel, k, i, '') * 1e3) with xerrorbars dashtype solid pointtype mark(i, k) pointsize DOT \
             linewidth 1.3 linecolor rgb colour(i), \
         DATA using (panel == 2 ? 1e-4 * column('fluence_J_m2') : NaN):(column('choice')):(0.0):(0.42) with vectors nohead linewidth 2.0 linecolor rgb BLACK, \
         DATA using (panel == 2 ? 1e-4 * column('fluence_J_m2') : NaN):(column('choice')):(0.0):(-0.42) with vectors nohead linewidth 2.0 linecolor rgb BLACK
    unset for [i = 901:903] label i
    unset for [i = 1:5] label i
    unset for [row = 1:n] label 20 + row
}
unset multiplot
