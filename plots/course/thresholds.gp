# Course figure: threshold of a sign in lesion and skin around at several wavelengths, as ranges, with what was published.
#
#   gnuplot -d -c thresholds.gp DATA OUTPUT KIND HEADING ASKED CORNER
#
# DATA is a folder with compare/compare.csv, a choice for each wavelength and called by it, and reported/reported.csv.

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

COMPARE = DATA.'/compare/compare.csv'
REPORTED = DATA.'/reported/reported.csv'
per_cm2(name) = 1e-4 * column(name)

TOP = down_to(122)
BOTTOM = down_to(HEIGHT - 84)
set tmargin at screen TOP
set bmargin at screen BOTTOM
set lmargin at screen 0.095
set rmargin at screen 0.985
n = 0
names = ''
stats COMPARE using (names = names.' "'.strcol('name').'"', n = n + 1) nooutput
set xrange [0.4:n + 0.6]
set xtics () scale 0
do for [i = 1:n] { set xtics add (word(names, i) i) }
set logscale y
set yrange [0.03:12]
set ytics ('0.03' 0.03, '0.1' 0.1, '0.3' 0.3, '1' 1, '3' 3, '10' 10)
set label 904 'fluence, J/cm²' at screen 0.018, 0.5 * (TOP + BOTTOM) center rotate by 90

# Each bar has the colour, the hatching and the place of its skin; the thick line is the value itself.
pattern(i) = i == 1 ? 5 : 2
ink(i) = i == 1 ? VERMILLION : BLUE
skin(i) = word('lesion neighbour', i)
place(i) = column('choice') + (i == 1 ? -0.16 : 0.16)
HALF = 0.075
set object 11 rectangle from screen 0.095, down_to(100) to screen 0.135, down_to(80) fillcolor rgb ink(1) fillstyle pattern pattern(1) border linecolor rgb ink(1)
set label 11 'lesion' at screen 0.145, down_to(90) left textcolor rgb ink(1)
set object 12 rectangle from screen 0.24, down_to(100) to screen 0.28, down_to(80) fillcolor rgb ink(2) fillstyle pattern pattern(2) border linecolor rgb ink(2)
set label 12 'skin around' at screen 0.29, down_to(90) left textcolor rgb ink(2)
DOT = KIND eq 'svg' ? 1.1 : KIND eq 'pdf' ? 1.0 : 4.4
set label 13 'published, people' at screen 0.515, down_to(90) left
set label 14 'guinea pig' at screen 0.78, down_to(90) left
set label 15 '' at screen 0.495, down_to(90) point pointtype 13 pointsize DOT linecolor rgb BLACK
set label 16 '' at screen 0.76, down_to(90) point pointtype 8 pointsize DOT linewidth 2 linecolor rgb BLACK
group = 0
group_of(x) = (group = NaN, sum [i = 1:n] (abs(int(word(words_nm, i)) - 1e9 * x) < 0.5 ? (group = i, 1) : 0), group)
words_nm = ''
do for [i = 1:n] { words_nm = words_nm.' '.word(word(names, i), 1) }
people(what) = strcol('kind') eq 'threshold' && strstrt(strcol('condition'), what) > 0
published(site) = people(site == 1 ? 'lentigo' : 'sun-protected') ? group_of(column('wavelength_m')) + (site == 1 ? -0.16 : 0.16) : NaN
animal(x) = strcol('kind') eq 'animal' ? group_of(x) : NaN
plot for [i = 1:2] COMPARE using (place(i)):(per_cm2(skin(i).'_threshold_sign_J_m2')):(place(i) - HALF):(place(i) + HALF): \
         (per_cm2(skin(i).'_threshold_sign_J_m2_low')):(per_cm2(skin(i).'_threshold_sign_J_m2_high')) \
         with boxxyerror fillcolor rgb ink(i) fillstyle pattern pattern(i) border rgb ink(i) linewidth 1.4 dashtype solid, \
     for [i = 1:2] COMPARE using (place(i) - HALF):(per_cm2(skin(i).'_threshold_sign_J_m2')):(2 * HALF):(0) \
         with vectors nohead linewidth 5 linecolor rgb ink(i) dashtype solid, \
     for [i = 1:2] COMPARE using (place(i) + (i == 1 ? -HALF : HALF)):(per_cm2(skin(i).'_threshold_sign_J_m2')):(sprintf('%#.2g', per_cm2(skin(i).'_threshold_sign_J_m2'))) \
         with labels offset (i == 1 ? -2.2 : 2.2), 0 textcolor rgb ink(i), \
     for [i = 1:2] REPORTED using (published(i)):(per_cm2('fluence_low_J_m2')) with points pointtype 13 pointsize DOT linecolor rgb BLACK, \
     REPORTED using (animal(column('wavelength_m'))):(per_cm2('fluence_low_J_m2')) with points pointtype 8 pointsize DOT linewidth 2 linecolor rgb BLACK
