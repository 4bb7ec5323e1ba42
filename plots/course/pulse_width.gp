# Course figure: highest rise of a grain and of its layer against pulse width, with the relaxation time of the grain.
#
#   gnuplot -d -c pulse_width.gp DATA OUTPUT KIND HEADING ASKED CORNER NUMBERS
#
# DATA is a folder with sweep/sweep.csv of light.pulse. NUMBERS: time in which the lead of the mean of this grain over the
# mean of its cell falls to 1/e, in s; rise of a grain that keeps all its heat, in K; the shortest and the longest relaxation time by definitions
# in print, in s.

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

NUMBERS = ARG7
relaxation = word(NUMBERS, 1) + 0.0
adiabatic = word(NUMBERS, 2) + 0.0
shortest = word(NUMBERS, 3) + 0.0
longest = word(NUMBERS, 4) + 0.0
SWEEP = DATA.'/sweep/sweep.csv'

TOP = down_to(92)
BOTTOM = down_to(HEIGHT - 112)
set tmargin at screen TOP
set bmargin at screen BOTTOM
set lmargin at screen 0.085
set rmargin at screen 0.965
top = 0.0
stats SWEEP using (top = most(top, column('lesion_grain_peak_K_high'))) nooutput
set yrange [0:20 * ceil(0.053 * top)]
set ytics 20
set logscale x
set xrange [1e-10:0.1]
set format x ''
set xtics ('0.1 ns' 1e-10, '1 ns' 1e-9, '10 ns' 1e-8, '0.1 µs' 1e-7, '1 µs' 1e-6, '10 µs' 1e-5, '0.1 ms' 1e-4, '1 ms' 1e-3, '10 ms' 0.01, '0.1 s' 0.1)
set label 910 'pulse width' at screen 0.525, down_to(HEIGHT - 54) center
set label 904 'highest temperature rise, K' at screen 0.018, 0.5 * (TOP + BOTTOM) center rotate by 90

set object 1 rectangle from first shortest, graph 0 to first longest, graph 1 fillcolor rgb '#909090' fillstyle pattern 4 noborder back
set arrow 1 from first relaxation, graph 0 to first relaxation, graph 1 nohead linewidth 2.6 linecolor rgb BLACK dashtype solid front
set label 11 sprintf("relaxation time of this grain:\n%.2g ns, its mean's lead over its cell, to 1/e", 1e9 * relaxation) at first 1.25 * longest, graph 0.93 left
set label 12 sprintf("hatched: definitions in print,\n%.2g to %.3g ns", 1e9 * shortest, 1e9 * longest) at first 1.25 * longest, graph 0.76 left font SMALL
set arrow 2 from graph 0, first adiabatic to first 0.8 * relaxation, first adiabatic nohead linewidth 1.6 linecolor rgb BLACK dashtype (2, 3) front
set label 13 sprintf('if it kept all its heat: %.3g K', adiabatic) at first 1.2e-10, adiabatic + 5 left font SMALL front
set label 14 'grain' at first 6e-10, 57 left textcolor rgb VERMILLION front
set label 15 'grey: 0.316 to 3.16 × as dark' at first 1.2e-10, 36 left font SMALL front
set label 16 'its layer' at first 1.3e-10, 9 left front
set label 17 'grain and layer warm together' at first 2.2e-6, 27 left font SMALL

set style fill solid 1.0 noborder
plot SWEEP using (column('light.pulse_s')):(column('lesion_grain_peak_K_low')):(column('lesion_grain_peak_K_high')) with filledcurves fillcolor rgb '#e8e8e8', \
     SWEEP using (column('light.pulse_s')):(column('lesion_layer_peak_K')) with lines linewidth 2.6 linecolor rgb BLACK dashtype (12, 4, 2, 4), \
     SWEEP using (column('light.pulse_s')):(column('lesion_grain_peak_K')) with lines linewidth 3.6 linecolor rgb VERMILLION dashtype solid
