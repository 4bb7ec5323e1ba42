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

set lmargin at screen 0.085
set rmargin at screen 0.965
set tmargin at screen 0.83
set bmargin at screen 0.15
set xrange [400:1100]
set yrange [0:1.1 * highest]
set xlabel 'wavelength, nm'
set ylabel 'light that comes back, %' offset 0.5, 0

set object 1 rectangle from 400, graph 0 to 700, graph 1 fillcolor rgb SHADE fillstyle solid 0.45 noborder behind
set label 1 'colour is made of 400 to 700 nm' at 550, graph 0.04 center textcolor rgb QUIET
# The names stand above the panel, so that they lie on no curve.
do for [i = 1:2] {
    x = 0.085 + 0.44 * (i - 1)
    name = word('lesion neighbour', i).'   '.word(ARG4, i)
    set arrow 10 + i from screen x, 0.872 rto screen 0.045, 0 nohead linetype i
    set label 10 + i name at screen x + 0.053, 0.872 left textcolor linetype i
}

plot DATA using (nm(0)):(percent('lesion')) with lines linetype 1, \
     DATA using (nm(0)):(percent('neighbour')) with lines linetype 2
