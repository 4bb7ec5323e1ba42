# Course figure: light against depth under spots of 2 to 10 mm, at the same fluence and at the same energy.
#
#   gnuplot -d -c spots.gp DATA OUTPUT KIND HEADING ASKED CORNER OWN
#
# DATA is a folder with run/spots.csv, as `brevis run` writes it. OWN is the spot, in mm, whose fluence is the measure.

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

SPOTS = DATA.'/run/spots.csv'
N_SPOT = 5
spot_mm(i) = word('2 3 5 7 10', i)
set linetype 11 linecolor rgb BLACK linewidth 2.4 dashtype (2, 3)
set linetype 12 linecolor rgb BLUE linewidth 2.4 dashtype (6, 4)
set linetype 13 linecolor rgb VERMILLION linewidth 2.6 dashtype (12, 4, 2, 4)
set linetype 14 linecolor rgb BLUE linewidth 2.6 dashtype (16, 5)
set linetype 15 linecolor rgb BLACK linewidth 3.0 dashtype solid

TOP = down_to(148)
BOTTOM = down_to(HEIGHT - 112)
WIDE = 0.385
left_of(panel) = panel == 1 ? 0.085 : 0.565
set tmargin at screen TOP
set bmargin at screen BOTTOM
deepest = 0.0
stats SPOTS using (deepest = most(deepest, 1e3 * column('depth_m'))) nooutput
set xrange [0:deepest]
set xtics 1
set logscale y
set format y '%g'
do for [i = 1:N_SPOT] {
    x = 0.1 + (i - 1) * 0.18
    set arrow 200 + i from screen x, down_to(92) rto screen 0.05, 0 nohead linetype 10 + i
    set label 200 + i spot_mm(i).' mm' at screen x + 0.058, down_to(92) left textcolor linetype 10 + i
}
light(panel, i) = abs(1e3 * column('spot_m') - spot_mm(i)) < 0.01 ? column(panel == 1 ? 'same_fluence' : 'same_energy') : NaN
set multiplot
do for [panel = 1:2] {
    set lmargin at screen left_of(panel)
    set rmargin at screen left_of(panel) + WIDE
    if (panel == 2) {
        unset for [i = 901:903] label i
        unset for [i = 201:205] label i
        unset for [i = 201:205] arrow i
    }
    least_light = 1e30
    most_light = 0.0
    do for [i = 1:N_SPOT] {
        stats SPOTS using (x = light(panel, i), x == x ? (least_light = least(least_light, x), most_light = most(most_light, x), 1) : NaN) nooutput
    }
    set yrange [0.7 * least_light:1.4 * most_light]
    set ytics ()
    do for [d = -3:2] { do for [k = 1:3] {
        mark = (word('1 2 5', k) + 0.0) * 10.0**d
        if (mark > 0.7 * least_light && mark < 1.4 * most_light) { set ytics add (sprintf('%g', mark) mark) }
    } }
    above = panel == 1 ? 'same fluence' : 'same energy'
    beside = panel == 1 ? 'light over incident fluence' : 'light over fluence of '.ARG7.' mm'
    set label 10 above at screen left_of(panel) + 0.5 * WIDE, down_to(128) center
    set label 12 'depth, mm' at screen left_of(panel) + 0.5 * WIDE, down_to(HEIGHT - 54) center
    set label 11 beside at screen left_of(panel) - 0.068, 0.5 * (TOP + BOTTOM) center rotate by 90
    plot for [i = 1:N_SPOT] SPOTS using (1e3 * column('depth_m')):(light(panel, i)) with lines linetype 10 + i
}
unset multiplot
