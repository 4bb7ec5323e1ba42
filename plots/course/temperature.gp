# Course figure: one fluence in four pulse widths; a grain, its layer, a grain of the skin around, and the dermis in time.
#
#   gnuplot -d -c temperature.gp DATA OUTPUT KIND HEADING ASKED CORNER DEPTH
#
# DATA is a folder with 5ns, 50ns, 750ns and 1ms, as `brevis run` writes them, and compare, as `brevis compare` does.
# DEPTH is that of the watched place in the dermis, in m.

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

depth = ARG7 + 0.0
runs = '5ns 50ns 750ns 1ms'
words_of = '"5 ns" "50 ns" "750 ns" "1 ms"'
width(i) = word('5.0e-9 5.0e-8 7.5e-7 1.0e-3', i) + 0.0
COMPARE = DATA.'/compare/compare.csv'

set linetype 11 linecolor rgb VERMILLION linewidth 3.4 dashtype solid
set linetype 12 linecolor rgb BLUE linewidth 2.4 dashtype (10, 5)
set linetype 13 linecolor rgb BLACK linewidth 2.6 dashtype (12, 4, 2, 4)
set linetype 14 linecolor rgb BLACK linewidth 2.6 dashtype (2, 3)

# What the curves are, above the panels, so that no name lies on a curve.
array name[4] = ['grain', 'grain of the skin around', 'layer of the grain', sprintf('dermis, %.2g mm', 1e3 * depth)]
starts = '0.075 0.21 0.525 0.785'
do for [i = 1:4] {
    x = word(starts, i) + 0.0
    set arrow 200 + i from screen x, down_to(90) rto screen 0.045, 0 nohead linetype 10 + i
    set label 200 + i name[i] at screen x + 0.053, down_to(90) left textcolor linetype 10 + i
}

TOP = down_to(174)
BOTTOM = down_to(HEIGHT - 112)
LEFT = 0.075
WIDE = 0.22
GAP = 0.0125
set tmargin at screen TOP
set bmargin at screen BOTTOM
highest = 0.0
do for [i = 1:4] {
    stats DATA.'/'.word(runs, i).'/temperature.csv' using (highest = most(highest, most(column('lesion_grain_mean_rise_K'), column('neighbour_grain_mean_rise_K')))) nooutput
}
set yrange [0:10 * ceil(0.105 * highest)]
set ytics 20
set logscale x
set xrange [1e-9:10]
set format x ''
set xtics ('' 1e-9, '1 µs' 1e-6, '1 ms' 1e-3, '1 s' 1)
set label 904 'temperature rise, K' at screen 0.018, 0.5 * (TOP + BOTTOM) center rotate by 90
set label 905 'time since the pulse began' at screen 0.53, down_to(HEIGHT - 54) center
set multiplot
do for [panel = 1:4] {
    set lmargin at screen LEFT + (panel - 1) * (WIDE + GAP)
    set rmargin at screen LEFT + (panel - 1) * (WIDE + GAP) + WIDE
    peak = low = high = NaN
    stats COMPARE using (column('choice') == panel ? (peak = column('lesion_grain_peak_K'), low = column('lesion_grain_peak_K_low'), high = column('lesion_grain_peak_K_high'), 1) : NaN) nooutput
    set label 10 'pulse of '.word(words_of, panel) at screen LEFT + (panel - 1) * (WIDE + GAP) + 0.5 * WIDE, down_to(124) center
    set label 11 sprintf('grain %.3g K (%.2g to %.2g)', peak, low, high) at screen LEFT + (panel - 1) * (WIDE + GAP) + 0.5 * WIDE, down_to(152) center font SMALL
    # Of a gaussian pulse whose centre comes 2.5 widths after its start: full width at half maximum.
    set object 1 rectangle from first 2 * width(panel), graph 0 to first 3 * width(panel), graph 1 behind fillcolor rgb SHADE fillstyle solid noborder
    RUN = DATA.'/'.word(runs, panel).'/temperature.csv'
    plot RUN using 'since_s':'lesion_depth1_rise_K' with lines linetype 14, \
         RUN using 'since_s':'lesion_layer_rise_K' with lines linetype 13, \
         RUN using 'since_s':'neighbour_grain_mean_rise_K' with lines linetype 12, \
         RUN using 'since_s':'lesion_grain_mean_rise_K' with lines linetype 11
    unset for [i = 901:905] label i
    unset for [i = 201:204] label i
    unset for [i = 201:204] arrow i
    set format y ''
}
unset multiplot
