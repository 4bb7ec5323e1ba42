# Which inputs make four headlines uncertain: ranked bars, a panel each.
#
#   gnuplot -d -c spread.gp DATA OUTPUT KIND HEADING ASKED CORNER HEADLINES MISSED
#
# DATA is spread.csv; the bars stand in ranking.csv beside it. HEADLINES are the four names as they stand there, and MISSED
# what the fit behind each misses, each in single quotes.

DATA = ARG1
OUTPUT = ARG2
KIND = ARG3
HEADING = ARG4
ASKED = ARG5
CORNER = ARG6
HEADLINES = ARG7
MISSED = ARG8

folder_of(path) = strstrt(path, '/') == 0 ? '' : path[1:last_slash(path)]
last_slash(path) = substr(path, strlen(path), strlen(path)) eq '/' ? strlen(path) : last_slash(path[1:strlen(path) - 1])

folder = folder_of(ARG0)
RANKING = folder_of(DATA).'ranking.csv'
HEIGHT = 680.0
load folder.'style.gp'

N_BAR = 8
TOP = 0.80
GAP = 0.12
TALL = 0.265
WIDE = 0.235
left_of(panel) = panel % 2 == 1 ? 0.245 : 0.745
top_of(panel) = panel <= 2 ? TOP : TOP - TALL - GAP
is(panel) = strcol('headline') eq word(HEADLINES, panel)
shown(name) = strlen(name) > 29 ? substr(name, 1, 28).'…' : name

# Told apart without colour: what an input does alone is filled, what it does with others is an empty frame.
set style fill solid 1.0 noborder
set object 801 rectangle from screen 0.245, 0.868 to screen 0.275, 0.888 fillcolor rgb BLUE fillstyle solid 1.0 noborder
set label 801 'alone (first order)' at screen 0.283, 0.878 left
set object 802 rectangle from screen 0.49, 0.868 to screen 0.52, 0.888 fillcolor rgb '#ffffff' fillstyle empty \
    border lc rgb BLACK
set label 802 'with others too (total)' at screen 0.528, 0.878 left

set border 3
set xrange [0:1]
set yrange [-N_BAR - 0.6:-0.4]
unset ytics
set xtics 0, 0.25, 1 format '%g'
set multiplot
do for [panel = 1:4] {
    set lmargin at screen left_of(panel)
    set rmargin at screen left_of(panel) + WIDE
    set tmargin at screen top_of(panel)
    set bmargin at screen top_of(panel) - TALL
    set label 700 word(HEADLINES, panel).(panel == 4 ? '' : ', lesion') at screen left_of(panel) - 0.225, top_of(panel) + 0.02 left
    set label 701 word(MISSED, panel) at screen left_of(panel) + WIDE, top_of(panel) + 0.02 right textcolor rgb QUIET font SMALL
    if (panel == 2) {
        unset for [i = 901:903] label i
        unset for [i = 801:802] label i
        unset for [i = 801:802] object i
    }
    if (panel == 3) { set xlabel 'share of the variance' offset 0, 0.3 }
    plot RANKING using (is(panel) ? 0.5 * column('total') : NaN):(-column('rank')):(0.5 * column('total')):(0.36) \
             with boxxyerror linecolor rgb BLACK linewidth 1.2 fillstyle empty border, \
         RANKING using (is(panel) ? 0.5 * column('first_order') : NaN):(-column('rank')):(0.5 * column('first_order')):(0.22) \
             with boxxyerror linecolor rgb BLUE fillstyle solid 1.0 noborder, \
         RANKING using (is(panel) ? 0.0 : NaN):(-column('rank')):(shown(strcol('input'))) with labels right offset -0.8, 0 noenhanced font SMALL
}
unset multiplot
