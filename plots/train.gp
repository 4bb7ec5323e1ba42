# A train of pulses on three scales: one grain, its layer, and a quarter of the spot deep, against linear time.
#
#   gnuplot -d -c train.gp DATA OUTPUT KIND NUMBERS HEADING ASKED CORNER LAYER WORDS
#
# DATA is train.csv; temperature.csv stands beside it. NUMBERS are separated by blanks, in s, °C and m; WORDS hold the
# same in words at the same places, each in single quotes:
#   1 how many pulses (in words: the headline), 2 start of the last one, 3 shortest time between two, 4 end of the curves,
#   5 above it nothing is a temperature, 6 and 7 start temperature of the grain's layer in lesion and neighbour,
#   8 number of the watched depth that stands for a quarter of the spot (0: none does, the points of DATA are drawn),
#   9 how deep it is, 10 and 11 start temperature there in lesion and neighbour,
#   12 and 13 when something is laid on the skin and taken away (equal: never; in words at 12: what),
#   14 time from which heat leaves sideways (0: that is counted), 15 diameter of the lesion's grain,
#   16 how many pulses follow each other before a pause, 17 and 18 highest temperature of the layer in both sites,
#   19 is number 5 the criterion that was asked for.
# LAYER is the name of the grain's layer in the lesion, a bar, and that in the skin around it.

DATA = ARG1
OUTPUT = ARG2
KIND = ARG3
HEADING = ARG5
ASKED = ARG6
CORNER = ARG7
HEIGHT = 850.0

folder = ARG0
while (strlen(folder) > 0 && substr(folder, strlen(folder), strlen(folder)) ne '/') {
    folder = substr(folder, 1, strlen(folder) - 1)
}
load folder.'style.gp'

CURVES = DATA
while (strlen(CURVES) > 0 && substr(CURVES, strlen(CURVES), strlen(CURVES)) ne '/') {
    CURVES = substr(CURVES, 1, strlen(CURVES) - 1)
}
CURVES = CURVES.'temperature.csv'

number(i) = word(ARG4, i) + 0.0
in_words(i) = word(ARG9, i)
on_two_lines(cover) = cover[1:strstrt(cover, ' at ') - 1]."\n".cover[strstrt(cover, ' at ') + 1:*]

n_pulse = int(number(1))
last = number(2)
gap = number(3)
until = number(4)
criterion = number(5)
CRITERION_WORDS = number(19) > 0.0 ? "disruption\ncriterion\n" : "no boiling\ncounted above\n"
ABOVE_WORDS = 'above '.(number(19) > 0.0 ? 'the criterion' : in_words(5))
watched = int(number(8))
from = number(12)
to = number(13)
sideways = number(14)
start(site) = site eq 'lesion' ? number(6) : number(7)
deep_start(site) = site eq 'lesion' ? number(10) : number(11)

bar = strstrt(ARG8, '|')
layer_words(name) = (strlen(name) > 16 ? substr(name, 1, 15).'…' : name).' layer'
LAYER = layer_words(substr(ARG8, 1, bar - 1))
LAYER_AROUND = layer_words(substr(ARG8, bar + 1, strlen(ARG8)))

time = 'time_s'
grain(site) = start(site) + column(site.'_grain_mean_rise_K')
layer(site) = start(site) + column(site.'_layer_rise_K')
deep(site) = deep_start(site) + column(sprintf('%s_depth%d_rise_K', site, watched > 0 ? watched : 1))

# ---- the time axis: the train, some time before it when something lies on the skin then, and half its length after ----

end = least(until, most(last + most(0.5 * last, least(3.0, 3.0 * last + gap)), to > last && to > from ? 1.2 * to : 0.0))
begin = to > from ? most(least(from, 0.0), -0.5 * end) : 0.0
begin = begin - 0.015 * (end - begin)
LEFT = 0.105
RIGHT = 0.895 # beside it the criterion is named
across(t) = LEFT + (t - begin) / (end - begin) * (RIGHT - LEFT)
pitch = gap / (end - begin) * (RIGHT - LEFT) * WIDTH # from one pulse to the next, as drawn
dense = pitch < 5.0

# ---- what each pulse did: the highest temperature of the grain, its layer then, and both just before ----

array grain_peak[n_pulse]
array other_peak[n_pulse]
array layer_then[n_pulse]
array layer_peak[n_pulse]
array other_layer_peak[n_pulse]
array other_left[n_pulse]
array grain_left[n_pulse]
array layer_left[n_pulse]
array deep_left[n_pulse]
do for [i = 1:n_pulse] { grain_peak[i] = other_peak[i] = layer_peak[i] = other_layer_peak[i] = layer_then[i] = -1e9 }
grain_before = layer_before = start('lesion')
other_before = start('neighbour')
deep_before = deep_start('lesion')
lowest_layer = least(start('lesion'), start('neighbour'))
lowest_deep = least(deep_start('lesion'), deep_start('neighbour'))
highest_layer = most(start('lesion'), start('neighbour'))
other_layer = start('neighbour')
highest_deep = most(deep_start('lesion'), deep_start('neighbour'))
pulse_before = 0
n_row = 0
n_start = 0
begins(p) = p > pulse_before ? (pulse_before = p, grain_left[p] = grain_before, layer_left[p] = layer_before, \
                                deep_left[p] = deep_before, other_left[p] = other_before) : 0
hotter(p, g, l) = p > 0 && g > grain_peak[p] ? (grain_peak[p] = g, layer_then[p] = l) : 0
stats CURVES using (p = int(column('pulse')), t = column(time), g = grain('lesion'), l = layer('lesion'), \
                    d = watched > 0 ? deep('lesion') : 0.0, n = grain('neighbour'), m = layer('neighbour'), \
                    n_row = n_row + (g == g), begins(p), hotter(p, g, l), \
                    p > 0 ? (other_peak[p] = most(other_peak[p], n), layer_peak[p] = most(layer_peak[p], l), \
                             other_layer_peak[p] = most(other_layer_peak[p], m)) : 0, \
                    grain_before = g, layer_before = l, deep_before = d, other_before = m, \
                    shown = t >= begin && t <= end, \
                    lowest_layer = shown ? least(lowest_layer, least(l, m)) : lowest_layer, \
                    highest_layer = most(highest_layer, l), other_layer = most(other_layer, m), \
                    lowest_deep = shown && watched > 0 ? least(lowest_deep, least(d, deep('neighbour'))) : lowest_deep, \
                    highest_deep = shown && watched > 0 ? most(highest_deep, most(d, deep('neighbour'))) : highest_deep, g) nooutput
stats DATA using (t = column('start_s'), n_start = n_start + (t == t), t) nooutput
if (n_row == 0 || n_start < n_pulse) { exit error 'no data of a train' }
spot(site) = column(site.'_spot_rise_K')
if (watched == 0) {
    lowest_deep = highest_deep = 0.0
    stats DATA using (highest_deep = most(highest_deep, most(spot('lesion'), spot('neighbour'))), spot('lesion')) nooutput
}
highest_grain = -1e9
highest_other = -1e9
peak_layer = number(17)
peak_other = number(18)
do for [i = 1:n_pulse] {
    highest_grain = most(highest_grain, grain_peak[i])
    highest_other = most(highest_other, other_peak[i])
}
which(any) = int(column('pulse'))
# Where pulses follow closely, their swing is drawn as a band for every pass, and the curve itself only beside them.
per_pass = int(number(16))
n_pass = n_pulse / per_pass
followed(t) = dense && t > 0.0 && t < last && which(0) % per_pass > 0 ? NaN : t
of_pass(p) = (which(0) - 1) / per_pass == p ? column('start_s') : NaN
PALE = '#f6d5bd'

# ---- words ----

set label 904 in_words(1) at screen 0.015, down_to(76) noenhanced font sprintf(',%.2f', (KIND eq 'png' ? 9.75 : 13.0) * least(1.0, 118.0 / strlen(in_words(1))))

degrees(x) = sprintf('%.3g °C', x)
KEY_LINE = 0.035
key_x(i) = word('0.105 0.415 0.7', i) + 0.0
key_word(i) = key_x(i) + KEY_LINE + 0.008

above_words = most(highest_grain, highest_layer) > criterion ? ABOVE_WORDS.' vaporisation is left out' : ''
sideways_words = sideways > 0.0 && sideways < end ? 'from '.in_words(14).' on heat also leaves sideways, which is not counted' : ''
note = above_words.(strlen(above_words) > 0 && strlen(sideways_words) > 0 ? '; ' : '').sideways_words

set lmargin at screen LEFT
set rmargin at screen RIGHT
set xrange [begin:end]
set format x ''
set format y '%g'
set style arrow 1 nohead linewidth (dense ? 1.0 : 2.2) linecolor rgb VERMILLION
set style arrow 2 nohead linewidth (dense ? 0.6 : 1.8) dashtype (1.5, 2.5) linecolor rgb VERMILLION
set style arrow 3 nohead linewidth 0.8 linecolor rgb QUIET

set multiplot

# ---- above: the grain ----

TOP = 136.0
BOTTOM = 336.0
set tmargin at screen down_to(TOP)
set bmargin at screen down_to(BOTTOM)
reach = most(1.06 * (most(highest_grain, highest_other) - lowest_layer), 0.01)
if (lowest_layer + reach > 0.7 * criterion) { reach = most(reach, 1.06 * (criterion - lowest_layer)) }
bottom = lowest_layer - 0.07 * reach
top = lowest_layer + reach
set yrange [bottom:top]
set label 905 'grain, °C' at screen 0.024, down_to(0.5 * (TOP + BOTTOM)) center rotate by 90

KEY = 106.0
set arrow 1 from screen key_x(1) + 0.5 * KEY_LINE, down_to(KEY + 9) rto screen 0, 15 / HEIGHT nohead linewidth 2.2 linecolor rgb VERMILLION
set label 11 '' at screen key_x(1) + 0.5 * KEY_LINE, down_to(KEY - 7) point pointtype 7 pointsize 1.0 linecolor rgb VERMILLION
set label 1 'lesion ('.in_words(15).'): from its layer to '.degrees(highest_grain) at screen key_word(1), down_to(KEY) left noenhanced font SMALL textcolor rgb VERMILLION
set label 2 'neighbour: peaks, up to '.degrees(highest_other) at screen key_word(2), down_to(KEY) left noenhanced font SMALL textcolor rgb BLUE
if (dense) {
    set arrow 2 from screen key_x(2), down_to(KEY) rto screen KEY_LINE, 0 nohead linetype 2
} else {
    set label 12 '' at screen key_x(2) + 0.5 * KEY_LINE, down_to(KEY) point pointtype 4 pointsize 1.2 linewidth 1.6 linecolor rgb BLUE
}
set label 3 'lesion: just before each pulse' at screen key_word(3), down_to(KEY) left noenhanced font SMALL
if (dense) {
    set arrow 3 from screen key_x(3), down_to(KEY) rto screen KEY_LINE, 0 nohead linetype 3 dashtype solid
} else {
    set label 13 '' at screen key_x(3) + 0.5 * KEY_LINE, down_to(KEY) point pointtype 6 pointsize 1.1 linewidth 1.6 linecolor rgb BLACK
}

beside(height) = bound(TOP + (BOTTOM - TOP) * (1.0 - height), TOP + (to > from ? 62 : 18), BOTTOM - 18)
if (criterion < top) {
    set label 5 CRITERION_WORDS.in_words(5) at screen RIGHT + 0.008, down_to(beside((criterion - bottom) / (top - bottom)) - 14) left noenhanced font SMALL textcolor rgb QUIET
}
if (to > from && to > begin && from < end) {
    set arrow 6 from screen across(bound(from, begin, end)), down_to(TOP - 6) to screen across(bound(to, begin, end)), down_to(TOP - 6) nohead linewidth 3 linecolor rgb QUIET
    set label 6 on_two_lines(in_words(12)) at screen RIGHT + 0.008, down_to(TOP - 6) left noenhanced font SMALL textcolor rgb QUIET
}

stroke = 0.035 # of a pulse at the panel's foot, as a share of its height
plot (criterion < top ? criterion : NaN) with lines linewidth 1 linecolor rgb QUIET dashtype solid, \
     DATA using 'start_s':(bottom):(0):(stroke * (top - bottom)) with vectors arrowstyle 3, \
     DATA using 'start_s':(layer_then[which(0)]):(0):(most(least(grain_peak[which(0)], criterion), layer_then[which(0)]) - layer_then[which(0)]) with vectors arrowstyle 1, \
     DATA using 'start_s':(most(criterion, layer_then[which(0)])):(0):(most(grain_peak[which(0)] - most(criterion, layer_then[which(0)]), 0.0)) with vectors arrowstyle 2, \
     DATA using 'start_s':(grain_peak[which(0)]) with points pointtype 7 pointsize (dense ? 0.3 : 1.0) linecolor rgb VERMILLION, \
     DATA using 'start_s':(dense ? NaN : other_peak[which(0)]) with points pointtype 4 pointsize 1.2 linewidth 1.6 linecolor rgb BLUE, \
     for [p = 0:n_pass - 1] DATA using (of_pass(p)):(dense ? other_peak[which(0)] : NaN) with lines linetype 2, \
     DATA using 'start_s':(dense ? NaN : grain_left[which(0)]) with points pointtype 6 pointsize 1.1 linewidth 1.6 linecolor rgb BLACK, \
     for [p = 0:n_pass - 1] DATA using (of_pass(p)):(dense ? grain_left[which(0)] : NaN) with lines linetype 3 dashtype solid

# ---- in the middle: its layer ----

unset for [i = 1:13] label i
unset for [i = 1:6] arrow i
unset for [i = 901:904] label i

TOP = 390.0
BOTTOM = 556.0
set tmargin at screen down_to(TOP)
set bmargin at screen down_to(BOTTOM)
reach = most(1.06 * (most(highest_layer, other_layer) - lowest_layer), 0.01)
bottom = lowest_layer - 0.07 * reach
top = lowest_layer + reach
set yrange [bottom:top]
set label 905 'its layer, °C' at screen 0.024, down_to(0.5 * (TOP + BOTTOM)) center rotate by 90
KEY = 366.0
set label 1 LAYER.', lesion: '.(dense ? 'swings up to ' : 'peak ').degrees(peak_layer) at screen key_word(1), down_to(KEY) left noenhanced font SMALL textcolor rgb VERMILLION
set label 2 (LAYER_AROUND eq LAYER ? '' : LAYER_AROUND.', ').'neighbour: '.(dense ? 'swings up to ' : 'peak ').degrees(peak_other) at screen key_word(2), down_to(KEY) left noenhanced font SMALL textcolor rgb BLUE
set label 3 'lesion: just before each pulse' at screen key_word(3), down_to(KEY) left noenhanced font SMALL
set arrow 1 from screen key_x(1), down_to(KEY) rto screen KEY_LINE, 0 nohead linetype 1
set arrow 2 from screen key_x(2), down_to(KEY) rto screen KEY_LINE, 0 nohead linetype 2
if (dense) {
    set arrow 3 from screen key_x(3), down_to(KEY) rto screen KEY_LINE, 0 nohead linetype 3 dashtype solid
} else {
    set label 13 '' at screen key_x(3) + 0.5 * KEY_LINE, down_to(KEY) point pointtype 6 pointsize 1.1 linewidth 1.6 linecolor rgb BLACK
}
if (criterion < top) {
    set label 5 CRITERION_WORDS.in_words(5) at screen RIGHT + 0.008, down_to(beside((criterion - bottom) / (top - bottom)) - 14) left noenhanced font SMALL textcolor rgb QUIET
}
plot (criterion < top ? criterion : NaN) with lines linewidth 1 linecolor rgb QUIET dashtype solid, \
     DATA using 'start_s':(bottom):(0):(stroke * (top - bottom)) with vectors arrowstyle 3, \
     for [p = 0:n_pass - 1] DATA using (of_pass(p)):(dense ? layer_left[which(0)] : NaN):(layer_peak[which(0)]) with filledcurves fillcolor rgb PALE, \
     for [p = 0:n_pass - 1] DATA using (of_pass(p)):(dense ? layer_peak[which(0)] : NaN) with lines linetype 1 linewidth 1.2, \
     for [p = 0:n_pass - 1] DATA using (of_pass(p)):(dense ? other_layer_peak[which(0)] : NaN) with lines linetype 2 linewidth 1.2, \
     for [p = 0:n_pass - 1] DATA using (of_pass(p)):(dense ? other_left[which(0)] : NaN) with lines linetype 2 linewidth 1.2, \
     CURVES using (followed(column(time))):(layer('lesion')) with lines linetype 1 linewidth 1.6, \
     CURVES using (followed(column(time))):(layer('neighbour')) with lines linetype 2 linewidth 1.6, \
     DATA using 'start_s':(dense ? NaN : layer_left[which(0)]) with points pointtype 6 pointsize 1.1 linewidth 1.6 linecolor rgb BLACK, \
     for [p = 0:n_pass - 1] DATA using (of_pass(p)):(dense ? layer_left[which(0)] : NaN) with lines linetype 3 dashtype solid

# ---- below: a quarter of the spot deep ----

unset for [i = 1:13] label i
unset for [i = 1:3] arrow i

TOP = 610.0
BOTTOM = 752.0
set tmargin at screen down_to(TOP)
set bmargin at screen down_to(BOTTOM)
reach = most(1.08 * (highest_deep - lowest_deep), 0.01)
bottom = lowest_deep - 0.07 * reach
top = lowest_deep + reach
set yrange [bottom:top]
set label 905 in_words(9).' deep, '.(watched > 0 ? '°C' : 'rise, K') at screen 0.024, down_to(0.5 * (TOP + BOTTOM)) center rotate by 90
KEY = 586.0
set label 1 in_words(9).' deep, lesion'.(watched > 0 ? '' : ', by the pulses alone') at screen key_word(1), down_to(KEY) left noenhanced font SMALL textcolor rgb VERMILLION
set label 2 'neighbour' at screen key_word(2), down_to(KEY) left noenhanced font SMALL textcolor rgb BLUE
set arrow 1 from screen key_x(1), down_to(KEY) rto screen KEY_LINE, 0 nohead linetype 1
set arrow 2 from screen key_x(2), down_to(KEY) rto screen KEY_LINE, 0 nohead linetype 2
if (!dense) {
    set label 3 'lesion: just before each pulse' at screen key_word(3), down_to(KEY) left noenhanced font SMALL
    set label 13 '' at screen key_x(3) + 0.5 * KEY_LINE, down_to(KEY) point pointtype 6 pointsize 1.1 linewidth 1.6 linecolor rgb BLACK
}
set format x '%g'
set label 906 'time since the first pulse began, s' at screen 0.5 * (LEFT + RIGHT), down_to(797) center
set label 907 'strokes at the foot: the pulses'.(strlen(note) > 0 ? '; '.note : '') at screen 0.015, down_to(820) left noenhanced font SMALL textcolor rgb QUIET
if (watched > 0) {
    plot DATA using 'start_s':(bottom):(0):(stroke * (top - bottom)) with vectors arrowstyle 3, \
         CURVES using time:(deep('lesion')) with lines linetype 1, \
         CURVES using time:(deep('neighbour')) with lines linetype 2, \
         DATA using 'start_s':(dense ? NaN : deep_left[which(0)]) with points pointtype 6 pointsize 1.1 linewidth 1.6 linecolor rgb BLACK
} else {
    plot DATA using 'start_s':(bottom):(0):(stroke * (top - bottom)) with vectors arrowstyle 3, \
         for [p = 0:n_pass - 1] DATA using (of_pass(p)):(spot('lesion')) with lines linetype 1, \
         for [p = 0:n_pass - 1] DATA using (of_pass(p)):(spot('neighbour')) with lines linetype 2, \
         DATA using 'start_s':(dense ? NaN : spot('lesion')) with points pointtype 6 pointsize 1.1 linewidth 1.6 linecolor rgb BLACK
}
unset multiplot
