# A thin layer of pigment in the dermis, by its depth. Left, what is missing of the light that comes back; right, how its
# colour differs from the skin around it.
#
#   gnuplot -d -c visibility.gp DATA OUTPUT KIND NOTHING HEADING ASKED CORNER
#
# DATA is visibility.csv.

DATA = ARG1
OUTPUT = ARG2
KIND = ARG3
HEADING = ARG5
ASKED = ARG6
CORNER = ARG7

folder = ARG0
while (strlen(folder) > 0 && substr(folder, strlen(folder), strlen(folder)) ne '/') {
    folder = substr(folder, 1, strlen(folder) - 1)
}
load folder.'style.gp'

set linetype 31 linecolor rgb BLUE linewidth 2.2 dashtype (4, 4)
set linetype 32 linecolor rgb BLUE linewidth 2.2 dashtype (14, 6)
set linetype 33 linecolor rgb BLACK linewidth 2.0 dashtype (12, 4, 2, 4)
set linetype 34 linecolor rgb VERMILLION linewidth 2.2 dashtype solid
set linetype 35 linecolor rgb BLACK linewidth 2.0 dashtype solid
set linetype 36 linecolor rgb VERMILLION linewidth 2.2 dashtype (14, 6)
set linetype 37 linecolor rgb BLUE linewidth 2.2 dashtype (4, 4)

mm(dummy) = 1e3 * column('depth_m')
contrast(k) = 100.0 * column('contrast_'.word('400 450 550 650', k).'nm')
change(k) = column('change_'.word('L a b', k))

first_depth = 1e30
last_depth = 0.0
highest = 0.0
up = 0.0
down = 0.0
stats DATA using (first_depth = least(first_depth, mm(0)), last_depth = most(last_depth, mm(0)), 1) nooutput
do for [k = 1:4] { stats DATA using (highest = most(highest, contrast(k)), 1) nooutput }
do for [k = 1:3] { stats DATA using (up = most(up, change(k)), down = least(down, change(k)), 1) nooutput }

WIDE = 0.385
left_of(panel) = panel == 1 ? 0.075 : 0.575
set tmargin at screen 0.80
set bmargin at screen 0.15
set logscale x
set xrange [first_depth:last_depth]
set xtics ()
do for [d in '0.05 0.1 0.2 0.5 1.0 1.5'] { if (d >= first_depth * 0.999 && d <= last_depth * 1.001) { set xtics add (sprintf('%g', d + 0.0) d + 0.0) } }
set xlabel 'depth of the layer, mm'

set multiplot
do for [panel = 1:2] {
    set lmargin at screen left_of(panel)
    set rmargin at screen left_of(panel) + WIDE
    set label 904 (panel == 1 ? 'missing of the light that comes back, %' : 'change of colour beside the skin around it') \
        at screen left_of(panel) - 0.04, 0.875 left
    n = panel == 1 ? 4 : 3
    # names above the panel, so that they lie on no curve
    do for [k = 1:4] {
        x = left_of(panel) + (k - 1) * (panel == 1 ? 0.098 : 0.13)
        if (k <= n) {
            set arrow 20 + k from screen x, 0.835 rto screen 0.030, 0 nohead linetype panel == 1 ? 30 + k : 34 + k
            name = panel == 1 ? word('400 450 550 650', k).' nm' : word("'L*, light' 'a*, red' 'b*, yellow'", k)
            set label 20 + k name at screen x + 0.034, 0.835 left font SMALL
        } else {
            unset arrow 20 + k
            unset label 20 + k
        }
    }
    if (panel == 1) {
        set yrange [0:1.05 * highest]
        plot for [k = 1:4] DATA using (mm(0)):(contrast(k)) with lines linetype 30 + k
    } else {
        unset label 901
        unset label 902
        unset label 903
        set yrange [1.08 * down:most(1.15 * up, 0.25 * abs(down))]
        set arrow 30 from graph 0, first 0 to graph 1, first 0 nohead linewidth 1 linecolor rgb QUIET back
        set label 30 'b* below 0: bluer than around it' at graph 0.98, graph 0.05 right font SMALL textcolor rgb QUIET
        plot for [k = 1:3] DATA using (mm(0)):(change(k)) with lines linetype 34 + k
    }
}
unset multiplot
