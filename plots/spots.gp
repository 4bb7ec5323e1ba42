# The same skin under spots of other widths: light on the axis against depth, at the same fluence and at the same energy.
#
#   gnuplot -d -c spots.gp DATA OUTPUT KIND OWN HEADING ASKED CORNER
#
# DATA is spots.csv. OWN is the scenario's own spot in words: at the same energy its fluence is the measure.

DATA = ARG1
OUTPUT = ARG2
KIND = ARG3
OWN = ARG4
HEADING = ARG5
ASKED = ARG6
CORNER = ARG7

folder = ARG0
while (strlen(folder) > 0 && substr(folder, strlen(folder), strlen(folder)) ne '/') {
    folder = substr(folder, 1, strlen(folder) - 1)
}
load folder.'style.gp'

N_SPOT = 5
ROWS = 61 # depths of each spot
spot_mm(i) = word('2 3 5 7 10', i)
set linetype 11 linecolor rgb '#000000' linewidth 2 dashtype (2, 5)
set linetype 12 linecolor rgb '#0072b2' linewidth 2 dashtype (6, 4)
set linetype 13 linecolor rgb '#d55e00' linewidth 2 dashtype (12, 4, 2, 4)
set linetype 14 linecolor rgb '#00805f' linewidth 2 dashtype (16, 5)
set linetype 15 linecolor rgb '#7a3e9d' linewidth 2 dashtype solid

TOP = 0.76
BOTTOM = 0.15
WIDE = 0.4
left_of(panel) = panel == 1 ? 0.09 : 0.57

set xrange [0:*]
set xlabel 'depth, mm' offset 0, 0.3
set yrange [0:*]
set tmargin at screen TOP
set bmargin at screen BOTTOM
do for [i = 1:N_SPOT] {
    key_left = 0.09 + (i - 1) * 0.18
    set arrow 200 + i from screen key_left, 0.88 rto screen 0.05, 0 nohead linetype 10 + i
    set label 200 + i spot_mm(i).' mm spot' at screen key_left + 0.06, 0.88 left textcolor linetype 10 + i
}
set multiplot
do for [panel = 1:2] {
    set lmargin at screen left_of(panel)
    set rmargin at screen left_of(panel) + WIDE
    if (panel == 1) {
        set label 300 'same fluence for every spot' at screen 0.09, 0.81
        set label 301 'light on the axis over incident fluence there' at screen 0.02, 0.5 * (TOP + BOTTOM) center rotate by 90
    } else {
        unset for [i = 901:903] label i
        unset for [i = 201:205] label i
        unset for [i = 201:205] arrow i
        set label 300 'same pulse energy: a narrower spot has more fluence' at screen 0.57, 0.81
        set label 301 'light over incident fluence of '.OWN at screen 0.513, 0.5 * (TOP + BOTTOM) center rotate by 90
    }
    plot for [i = 1:N_SPOT] DATA using (1e3 * column('depth_m')):(abs(column('spot_m') * 1e3 - spot_mm(i)) < 0.01 ? \
         column(panel == 1 ? 'same_fluence' : 'same_energy') : NaN) with lines linetype 10 + i
}
unset multiplot
