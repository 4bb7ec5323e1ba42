# What comes back of light from skin and lesion, by wavelength; where the eye sees is set off.
#
#   gnuplot -d -c reflectance.gp DATA OUTPUT KIND COLOURS HEADING ASKED CORNER
#
# DATA is reflectance.csv. COLOURS are L*, a* and b* in words, of the lesion and of the neighbour, each in single quotes.

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

nm(dummy) = 1e9 * column('wavelength_m')
percent(site) = 100.0 * column(site)

highest = 0.0
stats DATA using (highest = most(highest, most(percent('lesion'), percent('neighbour'))), 1) nooutput
array AT[2] # where each name stands: at 760 nm, above the higher curve and below the lower one
do for [i = 1:2] {
    value = 0.0
    stats DATA using (value = abs(nm(0) - 760.0) < 2.0 ? percent(word('lesion neighbour', i)) : value, 1) nooutput
    AT[i] = value
}

set lmargin at screen 0.085
set rmargin at screen 0.965
set tmargin at screen 0.87
set bmargin at screen 0.15
set xrange [400:1100]
set yrange [0:1.12 * highest]
set xlabel 'wavelength, nm'
set ylabel 'light that comes back, %' offset 0.5, 0

set object 1 rectangle from 400, graph 0 to 700, graph 1 fillcolor rgb SHADE fillstyle solid 0.45 noborder behind
set label 1 'seen: colour is made of 400 to 700 nm' at 550, graph 0.965 center textcolor rgb QUIET
do for [i = 1:2] {
    upper = i == (AT[1] > AT[2] ? 1 : 2)
    set label 10 + i word('lesion neighbour', i).'   '.word(ARG4, i) at 765, first AT[i] + (upper ? 0.055 : -0.06) * highest left textcolor linetype i
}

plot DATA using (nm(0)):(percent('lesion')) with lines linetype 1, \
     DATA using (nm(0)):(percent('neighbour')) with lines linetype 2
