# Course figure: what filters of one optical density after the other let pass, and where limits of two editions come to lie.
#
#   gnuplot -d -c density.gp DATA OUTPUT KIND HEADING ASKED CORNER
#
# DATA is a folder with density.csv: edition, limit_J_m2, density_1, exposure_J_m2, alone_J_m2, alone_density_1 of one example, from
# the card of `brevis room`.

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

CARD = DATA.'/density.csv'
exposure = NaN
stats CARD using (exposure = column('exposure_J_m2')) nooutput
TOP = down_to(88)
BOTTOM = down_to(HEIGHT - 112)
set tmargin at screen TOP
set bmargin at screen BOTTOM
set lmargin at screen 0.125
set rmargin at screen 0.975
set xrange [-0.3:8.3]
set xtics 1
set label 910 'optical density' at screen 0.55, down_to(HEIGHT - 54) center
set logscale y
set yrange [1e-5:1.6e5]
set format y ''
set ytics ('10 000' 1e4, '1000' 1e3, '100' 100, '10' 10, '1' 1, '0.1' 0.1, '0.01' 0.01, '0.001' 1e-3, '0.0001' 1e-4, '0.00001' 1e-5)
set label 904 'light behind it, J/m²' at screen 0.018, 0.5 * (TOP + BOTTOM) center rotate by 90
passes(x) = 10.0**(-x)

# Rungs: one for each whole density, and in words what comes through.
words_of = 'all "1 in 10" "1 in 100" "1 in 1000" "1 in 10 000" "1 in 100 000" "1 in a million" "1 in 10 million" "1 in 100 million"'
do for [i = 0:8] {
    set arrow 10 + i from first i - 0.16, exposure * passes(i) to first i + 0.16, exposure * passes(i) nohead linewidth 6 linecolor rgb BLUE
    if (i < 6) { set label 10 + i word(words_of, i + 1) at first i + 0.26, exposure * passes(i) * 1.25 left }
}
set linetype 41 linewidth 2.4 linecolor rgb VERMILLION dashtype solid
set linetype 42 linewidth 2.4 linecolor rgb VERMILLION dashtype (10, 5)
do for [i = 1:2] {
    edition = ''
    limit = density = NaN
    stats CARD using (int(column(0)) + 1 == i ? (edition = strcol('edition'), limit = column('limit_J_m2'), density = column('density_1'), 1) : NaN) nooutput
    set arrow 40 + i from graph 0, first limit to first density, first limit nohead linetype 40 + i
    set arrow 42 + i from first density, first limit to first density, graph 0 head filled linewidth 2.4 linecolor rgb VERMILLION
    height = (i == 1 ? 2.3 : 0.42) * limit
    # The later edition takes N^-1/4 off for some trains only. Which, could not be read; the card takes it for all.
    set label 40 + i sprintf(i == 1 ? 'limit of %s: %.3g J/m², density %.2f' : '%s, stricter reading: %.3g J/m², density %.2f', edition, limit, density) at graph 0.01, first height left textcolor rgb VERMILLION
}
alone = density = NaN
stats CARD using (int(column(0)) + 1 == 2 ? (alone = column('alone_J_m2'), density = column('alone_density_1'), 1) : NaN) nooutput
set label 48 sprintf('read as the standard of 2014 is recalled (memory): %.3g J/m², density %.2f', alone, density) at graph 0.01, graph 0.17 left font SMALL textcolor rgb QUIET
set label 49 sprintf('energy 20 %% more: density %.2f more; 20 %% less: %.2f less', log10(1.2), -log10(0.8)) at graph 0.01, graph 0.11 left font SMALL textcolor rgb QUIET
set label 50 'which eyewear is the laser protection adviser''s decision' at graph 0.01, graph 0.05 left font SMALL textcolor rgb QUIET
set samples 101
plot sample [x = 0:8] exposure * passes(x) with lines linewidth 1.8 linecolor rgb BLUE dashtype solid
