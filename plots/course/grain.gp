# Course figure: temperature rise in one grain and around it, from the end of a pulse on.
#
#   gnuplot -d -c grain.gp DATA OUTPUT KIND HEADING ASKED CORNER DIAMETER
#
# DATA is a folder with run/grain.csv, and paler/ and darker/ for grains 0.316 and 3.16 times as dark, as `brevis run` writes
# them. DIAMETER is that of the grain, in m.

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

GRAIN = DATA.'/run/grain.csv'
radius_um = 0.5e6 * (ARG7 + 0.0)
N_TIME = 5
moment(i) = word('after_1e-09_s after_1e-08_s after_1e-07_s after_1e-06_s after_0.001_s', i).'_rise_K'
words_of = '"1 ns" "10 ns" "100 ns" "1 µs" "1 ms"'
set linetype 11 linecolor rgb VERMILLION linewidth 3.4 dashtype solid
set linetype 12 linecolor rgb BLACK linewidth 2.2 dashtype (2, 3)
set linetype 13 linecolor rgb BLUE linewidth 2.8 dashtype (12, 5)
set linetype 14 linecolor rgb BLACK linewidth 2.4 dashtype (12, 4, 2, 4)
set linetype 15 linecolor rgb VERMILLION linewidth 2.4 dashtype (5, 4)

TOP = down_to(118)
BOTTOM = down_to(HEIGHT - 112)
set tmargin at screen TOP
set bmargin at screen BOTTOM
set lmargin at screen 0.085
set rmargin at screen 0.965
own = 0
widest = 0.0
highest = 0.0
stats GRAIN using (own = strcol('site') eq 'lesion', widest = own ? most(widest, 1e6 * column('radius_m')) : widest, \
                   highest = own ? most(highest, column(moment(1))) : highest) nooutput
set xrange [-widest:widest]
set yrange [0:10 * ceil(0.11 * highest)]
set ytics 20
set xtics 0.25
set label 910 'distance from the centre of the grain, µm' at screen 0.525, down_to(HEIGHT - 54) center
set label 904 'temperature rise, K' at screen 0.018, 0.5 * (TOP + BOTTOM) center rotate by 90
set object 1 rectangle from first -radius_um, graph 0 to first radius_um, graph 1 behind fillcolor rgb '#e8e8e8' fillstyle solid noborder
set label 905 'the grain' at first 0, graph 1.05 center
set label 906 'its cell: what is nearer to it than to the next grain' at graph 0.99, graph 1.05 right font SMALL textcolor rgb QUIET
rise(i) = strcol('site') eq 'lesion' ? column(moment(i)) : NaN

# The curves' names, at the right where nothing else is, each with a piece of its curve.
do for [i = 1:N_TIME] {
    set arrow 200 + i from graph 0.815, graph 0.93 - 0.085 * i rto graph 0.06, 0 nohead linetype 10 + i
    set label 200 + i word(words_of, i).(i == 1 ? ' after' : '') at graph 0.885, graph 0.93 - 0.085 * i left textcolor linetype 10 + i
}
# How the curves stretch with the darkness of grains, at the centre: the least and the most of all moments.
array middle[N_TIME]
least_share = 1.0
most_share = 1.0
do for [i = 1:N_TIME] {
    stats GRAIN every ::0::0 using (middle[i] = column(moment(i))) nooutput
    stats DATA.'/paler/grain.csv' every ::0::0 using (least_share = least(least_share, column(moment(i)) / middle[i])) nooutput
    stats DATA.'/darker/grain.csv' every ::0::0 using (most_share = most(most_share, column(moment(i)) / middle[i])) nooutput
}
set label 210 sprintf("rises %.2g to %.2g times\nthese for grains 0.316\nto 3.16 times as dark", least_share, most_share) at graph 0.79, graph 0.38 left font SMALL textcolor rgb QUIET

set multiplot
plot for [i = 1:N_TIME] for [side = -1:1:2] GRAIN using (side * 1e6 * column('radius_m')):(rise(i)) with lines linetype 10 + i

# The two late curves again, high enough to be told apart.
unset for [i = 1:300] label i
unset for [i = 1:300] arrow i
unset for [i = 900:910] label i
unset label 1001
set tmargin at screen down_to(150)
set bmargin at screen down_to(290)
set lmargin at screen 0.155
set rmargin at screen 0.375
set object 2 rectangle from graph 0, graph 0 to graph 1, graph 1 behind fillcolor rgb '#ffffff' fillstyle solid noborder
set border 15
set yrange [0:3]
set ytics 1 font SMALL
set xtics -0.75, 0.75, 0.75 font SMALL
set label 220 'the last two, K over µm' at graph 0.05, graph 0.89 left font SMALL
plot for [i = 4:5] for [side = -1:1:2] GRAIN using (side * 1e6 * column('radius_m')):(rise(i)) with lines linetype 10 + i
unset multiplot
