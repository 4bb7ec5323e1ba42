# Course figure: absorption of a pigment grain, of blood and of water over wavelength, with wavelengths that lasers have.
#
#   gnuplot -d -c absorption.gp DATA OUTPUT KIND HEADING ASKED CORNER
#
# DATA is a folder with spectrum.csv, as `brevis tissue --spectrum` writes it.

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

SPECTRUM = DATA.'/spectrum.csv'
per_cm(name) = 0.01 * column(name.'_1_m')

set tmargin at screen down_to(112)
set bmargin at screen down_to(HEIGHT - 112)
set lmargin at screen 0.105
set rmargin at screen 0.965
set xrange [400:1100]
set xtics 100
set label 910 'wavelength, nm' at screen 0.535, down_to(HEIGHT - 54) center
set logscale y
set yrange [2e-4:3e4]
set format y ''
set ytics ('0.001' 1e-3, '0.01' 1e-2, '0.1' 0.1, '1' 1, '10' 10, '100' 100, '1000' 1000, '10 000' 1e4)
set label 904 'absorption, /cm' at screen 0.018, 0.5 * (down_to(112) + down_to(HEIGHT - 112)) center rotate by 90

# Wavelengths that lasers have, without their makers: from memory, common practice. 355 nm lies outside of the model.
marks = '532 585 595 694 755 1064'
do for [i = 1:words(marks)] {
    at = word(marks, i) + 0.0
    set arrow i from first at, graph 0 to first at, graph 1 nohead linewidth 1 linecolor rgb '#909090' dashtype (2, 4) back
    called = at == 585 ? '585/595' : word(marks, i)
    if (at != 595) { set label i called at first (at == 585 ? 590 : at), graph 1.035 center }
}
set label 20 '355: outside' at graph 0, graph 1.035 left font SMALL textcolor rgb QUIET

set linetype 11 linecolor rgb VERMILLION linewidth 4 dashtype solid
set linetype 12 linecolor rgb BLUE linewidth 2.6 dashtype solid
set linetype 13 linecolor rgb BLACK linewidth 2.4 dashtype (9, 5)
set linetype 14 linecolor rgb BLACK linewidth 2.4 dashtype (2, 3)
set label 31 'pigment grain' at first 905, 235 center textcolor rgb VERMILLION front
set label 32 'grey: 0.316 to 3.16 × as dark' at first 905, 1300 center font SMALL
set label 33 'blood with oxygen' at first 592, 4 right textcolor rgb BLUE front
set label 34 'blood without oxygen' at first 625, 44 left front
set label 35 'water' at first 700, 0.0022 left
set label 36 'last value held' at first 1098, 3.0 right font SMALL textcolor rgb QUIET
set style fill solid 1.0 noborder
held(name) = column('blood_from_table') < 0.5 ? per_cm(name) : NaN
known(name) = column('blood_from_table') > 0.5 ? per_cm(name) : NaN
plot SPECTRUM using (1e9 * column('wavelength_m')):(per_cm('neighbour_grain_low')):(per_cm('neighbour_grain_high')) with filledcurves fillcolor rgb SHADE, \
     SPECTRUM using (1e9 * column('wavelength_m')):(per_cm('water')) with lines linetype 14, \
     SPECTRUM using (1e9 * column('wavelength_m')):(known('blood_deoxygenated')) with lines linetype 13, \
     SPECTRUM using (1e9 * column('wavelength_m')):(known('blood_oxygenated')) with lines linetype 12, \
     SPECTRUM using (1e9 * column('wavelength_m')):(held('blood_deoxygenated')) with lines linewidth 1.2 dashtype (3, 3) linecolor rgb QUIET, \
     SPECTRUM using (1e9 * column('wavelength_m')):(held('blood_oxygenated')) with lines linewidth 1.2 dashtype (3, 3) linecolor rgb QUIET, \
     SPECTRUM using (1e9 * column('wavelength_m')):(per_cm('neighbour_grain')) with lines linetype 11
