# Temperature against time: above, one pigment grain and its layer on one scale; below, the layers on their own.
#
#   gnuplot -d -c temperature.gp DATA OUTPUT KIND NUMBERS HEADING ASKED CORNER LAYER WORDS
#
# DATA is temperature.csv. NUMBERS are separated by blanks, in s, °C and m; WORDS hold the same in words at the same
# places, each in single quotes:
#   1 start temperature of the lesion's layer, 2 above it nothing is a temperature, 3 pulse width, 4 time of its centre, 5 is it Gaussian (in words: the headline),
#   6 time from which heat leaves sideways (0: that is counted),
#   7 diameter, 8 relaxation time, 9 peak of the grain, 10 peak of its layer, 11 are these two alike: the lesion,
#   12 to 16 the same of the neighbour,
#   17 and 18 peak of the lesion's grain when less and when more dark, 19 time of its peak,
#   20 number of the watched depth to draw (0: none), 21 that depth, 22 its peak in the lesion, 23 its start,
#   24 the coldest temperature without pulses, 25 how many pulses there are: the last one is drawn,
#   26 start temperature of the neighbour's layer, 27 is number 2 the criterion that was asked for.
# LAYER is the name of the grain's layer in the lesion, a bar, and that in the skin around it.

DATA = ARG1
OUTPUT = ARG2
KIND = ARG3
HEADING = ARG5
ASKED = ARG6
CORNER = ARG7
HEIGHT = 790.0

folder = ARG0
while (strlen(folder) > 0 && substr(folder, strlen(folder), strlen(folder)) ne '/') {
    folder = substr(folder, 1, strlen(folder) - 1)
}
load folder.'style.gp'

number(i) = word(ARG4, i) + 0.0
in_words(i) = word(ARG9, i)

start = number(1)
criterion = number(2)
CRITERION_WORDS = number(27) > 0.0 ? "disruption\ncriterion\n" : "no boiling\ncounted above\n"
ABOVE_WORDS = 'above '.(number(27) > 0.0 ? 'the criterion' : in_words(2))
width = number(3)
centre = number(4)
gaussian = int(number(5))
sideways = number(6)
LESION = 6  # the five numbers of a site follow
AROUND = 11
together(site) = int(number(site + 5))
peak_time = number(19)
deeper = int(number(20))

start_of(site) = site eq 'lesion' ? start : number(26)
grain(site) = start_of(site) + column(site.'_grain_mean_rise_K')
layer(site) = start_of(site) + column(site.'_layer_rise_K')
watched(site) = number(23) + column(sprintf('%s_depth%d_rise_K', site, deeper))
coldest = number(24)
last_pulse = int(number(25))
since(any) = int(column('pulse')) == last_pulse ? column('since_s') : NaN

bar = strstrt(ARG8, '|')
layer_words(name) = (strlen(name) > 16 ? substr(name, 1, 15).'…' : name).' layer'
LAYER = layer_words(substr(ARG8, 1, bar - 1))
LAYER_AROUND = layer_words(substr(ARG8, bar + 1, strlen(ARG8)))

stats DATA using (since(0)):(grain('lesion')) name 'LG' nooutput

# ---- the time axis, made by hand: gnuplot would write powers of ten ----

unit_of(n) = n < -9 ? 'ps' : n < -6 ? 'ns' : n < -3 ? 'µs' : n < 0 ? 'ms' : 's'
scale_of(n) = n < -9 ? 1e12 : n < -6 ? 1e9 : n < -3 ? 1e6 : n < 0 ? 1e3 : 1.0
tic_words(n) = sprintf('%.0f %s', 10.0**n * scale_of(n), unit_of(n))

first = floor(log10(width / 9.0) + 1e-9)
last = most(ceil(log10(LG_max_x) - 1e-9), first + 1)
begin = 10.0**first
end = 10.0**last
LEFT = 0.105
RIGHT = 0.895 # beside it the criterion is named
share(t) = log10(most(t, begin) / begin) / (last - first)
across(t) = LEFT + share(t) * (RIGHT - LEFT)

set lmargin at screen LEFT
set rmargin at screen RIGHT
set logscale x
set xrange [begin:end]
set xtics ()
step = last - first > 16 ? 2 : 1
do for [n = first:last:step] { set xtics add (tic_words(n) 10.0**n) }
set format y '%g'

power(t) = gaussian ? (abs(t - centre) < 2.5 * width ? exp(-4.0 * log(2.0) * ((t - centre) / width)**2) : 0.0) \
                    : (t < width ? 1.0 : 0.0)
set samples 1400

# ---- what is drawn thin and dotted: above the criterion, and after heat began to leave sideways ----

leaves = sideways > 0.0 && sideways < 0.5 * LG_max_x # else it lies at the end of the axis, where no eye could follow
sound_now = 1
sound_before = 1
judge(t, y) = (sound_before = sound_now, sound_now = y <= criterion && !(leaves && t > sideways))
# Where a curve crosses over, both parts share the point behind: no gap, and nothing drawn twice.
sound(t, y) = (judge(t, y), sound_now || sound_before ? y : NaN)
doubtful(t, y) = (judge(t, y), sound_now && sound_before ? NaN : y)
drawn(t) = t > 0.0 ? t : 1e-3 * begin # time 0 has no place on this axis: the curve comes in from the left

highest = most(most(number(LESION + 3), number(AROUND + 3)), most(number(LESION + 4), number(AROUND + 4)))
above_words = highest > criterion ? ABOVE_WORDS.', where vaporisation is left out' : ''
sideways_words = leaves ? 'from '.in_words(6).' on, when heat also leaves sideways, which is not counted' : ''
note = above_words.(strlen(above_words) > 0 && leaves ? ', and ' : '').sideways_words

# ---- words above the panels ----

set label 904 in_words(5) at screen 0.015, down_to(76) noenhanced textcolor rgb BLACK

# Pulse and relaxation are durations: bars on a common scale of their own, apart from the time axis.
BARS = 0.4
BARS_WIDE = 0.42
longest = most(width, most(number(LESION + 2), number(AROUND + 2)))
array duration[3] = [width, number(LESION + 2), number(AROUND + 2)]
array duration_name[3] = ['pulse width', 'relaxation time of the grain, lesion', 'relaxation time of the grain, neighbour']
array duration_value[3] = [in_words(3), in_words(LESION + 2), in_words(AROUND + 2)]
array duration_colour[3] = ['#909090', VERMILLION, BLUE]
do for [i = 1:3] {
    on_screen = down_to(88 + 17 * i)
    stop = BARS + most(BARS_WIDE * duration[i] / longest, 2.0 / WIDTH)
    set label 910 + i duration_name[i] at screen 0.015, on_screen left noenhanced font SMALL textcolor rgb (i == 1 ? BLACK : duration_colour[i])
    set label 920 + i duration_value[i] at screen BARS - 0.01, on_screen right noenhanced font SMALL textcolor rgb (i == 1 ? BLACK : duration_colour[i])
    set object i rectangle from screen BARS, on_screen - 4.5 / HEIGHT to screen stop, on_screen + 4.5 / HEIGHT \
        fillcolor rgb duration_colour[i] fillstyle solid noborder front
}
set arrow 901 from screen BARS, down_to(97) to screen BARS, down_to(147) nohead linewidth 1 linecolor rgb BLACK
set label 930 'durations, to scale' at screen 0.985, down_to(105) right noenhanced font SMALL textcolor rgb QUIET

# The key of a panel stands above it, so that no name lies on a curve.
KEY_LEFT = LEFT
KEY_RIGHT = 0.545
KEY_LINE = 0.035
key_x(i) = i % 2 ? KEY_LEFT : KEY_RIGHT
key_y(i, top) = down_to(top + 18 * int((i - 1) / 2))

set multiplot

# ---- above: the grain, and its layer on the same scale ----

TOP = 226.0
BOTTOM = 458.0
set tmargin at screen down_to(TOP)
set bmargin at screen down_to(BOTTOM)
reach = most(1.06 * highest, criterion + 0.06 * (criterion - start)) - start
bottom = least(start, coldest) - 0.05 * reach
top = start + reach
set yrange [bottom:top]
set label 905 'grain, mean, °C' at screen 0.024, down_to(0.5 * (TOP + BOTTOM)) center rotate by 90

grain_words(site) = (together(site) ? 'grain and '.(site == LESION ? LAYER : LAYER_AROUND) : 'grain').' ('.in_words(site + 1).')'
array key[4] = [grain_words(LESION).', lesion: up to '.in_words(LESION + 3), \
                grain_words(AROUND).', neighbour: up to '.in_words(AROUND + 3), \
                'grains 0.316 to 3.16 times as dark, lesion: '.word(in_words(17), 1).' to '.in_words(18), \
                together(LESION) ? '' : LAYER.', lesion: up to '.in_words(LESION + 4)]
array key_colour[4] = [VERMILLION, BLUE, VERMILLION, VERMILLION]
do for [i = 1:4] {
    set label i key[i] at screen key_x(i) + KEY_LINE + 0.008, key_y(i, 176) left noenhanced font SMALL textcolor rgb key_colour[i]
}
set arrow 1 from screen key_x(1), key_y(1, 176) rto screen KEY_LINE, 0 nohead linetype 1
set arrow 2 from screen key_x(2), key_y(2, 176) rto screen KEY_LINE, 0 nohead linetype 2
set arrow 3 from screen key_x(3) + 0.5 * KEY_LINE, key_y(3, 183) rto screen 0, 14 / HEIGHT heads size screen 0.004, 90 linewidth 1.4 linecolor rgb VERMILLION
if (!together(LESION)) { set arrow 4 from screen key_x(4), key_y(4, 176) rto screen KEY_LINE, 0 nohead linetype 4 }

# Three lines beside the axis at the criterion's height, moved so that they stay beside the panel.
beside(height, top, bottom) = bound(top + (bottom - top) * (1.0 - height), top + 18, bottom - 18)
criterion_at = beside((criterion - bottom) / (top - bottom), TOP, BOTTOM)
set label 5 CRITERION_WORDS.in_words(2) at screen RIGHT + 0.008, down_to(criterion_at - 14) left noenhanced font SMALL textcolor rgb QUIET

pulse_words = 'pulse '.in_words(3)
half = 0.5 * strlen(pulse_words) * 6.2 / WIDTH
set label 6 pulse_words at screen bound(across(gaussian ? centre : sqrt(width * begin)), LEFT + half, RIGHT - half), down_to(TOP - 9) \
    center noenhanced font SMALL textcolor rgb QUIET

# The spread, where the lesion's grain is hottest; an arrow where it goes on above the panel.
beyond = number(18) > top
set arrow 6 from peak_time, number(17) to peak_time, (beyond ? top : number(18)) \
    head size screen 0.006, (beyond ? 25 : 90) linewidth 1.4 linecolor rgb VERMILLION front
sidestep = 10.0**(0.004 * (last - first))
set arrow 7 from peak_time / sidestep, number(17) to peak_time * sidestep, number(17) nohead linewidth 1.4 linecolor rgb VERMILLION front

plot '+' using 1:(bottom):(bottom + power($1) * (top - bottom)) with filledcurves fillcolor rgb SHADE, \
     '+' using 1:(criterion) with lines linewidth 1 linecolor rgb QUIET dashtype solid, \
     for [i = 1:2] DATA using (drawn(since(0))):(doubtful(since(0), grain(word('lesion neighbour', i)))) with lines linetype i linewidth 1.5 dashtype (1.5, 2.5), \
     for [i = 1:2] DATA using (drawn(since(0))):(sound(since(0), grain(word('lesion neighbour', i)))) with lines linetype i, \
     DATA using (drawn(since(0))):(together(LESION) ? NaN : doubtful(since(0), layer('lesion'))) with lines linetype 1 linewidth 1.5 dashtype (1.5, 2.5), \
     DATA using (drawn(since(0))):(together(LESION) ? NaN : sound(since(0), layer('lesion'))) with lines linetype 4

# ---- below: the layers, on a scale of their own ----

unset for [i = 1:6] label i
unset for [i = 901:905] label i
unset for [i = 911:913] label i
unset for [i = 921:923] label i
unset label 930
unset for [i = 1:3] object i
unset for [i = 1:7] arrow i
unset arrow 901

TOP = 540.0
BOTTOM = 698.0
set tmargin at screen down_to(TOP)
set bmargin at screen down_to(BOTTOM)
n_curve = deeper > 0 ? 3 : 2
tallest = most(number(LESION + 4), number(AROUND + 4))
if (deeper > 0) { tallest = most(tallest, number(22)) }
reach = most(1.08 * (tallest - start), 0.01)
bottom = least(start, coldest) - 0.06 * reach
top = start + reach
set yrange [bottom:top]
set label 905 'layers, °C' at screen 0.024, down_to(0.5 * (TOP + BOTTOM)) center rotate by 90

array key[3] = [LAYER.', lesion: peak '.in_words(LESION + 4), \
                LAYER_AROUND.', neighbour: peak '.in_words(AROUND + 4), \
                (number(21) > 0.0 ? in_words(21).' deep' : 'surface').' (watched), lesion: peak '.in_words(22)]
do for [i = 1:n_curve] {
    set label i key[i] at screen key_x(i) + KEY_LINE + 0.008, key_y(i, 506) left noenhanced font SMALL textcolor linetype i
    set arrow i from screen key_x(i), key_y(i, 506) rto screen KEY_LINE, 0 nohead linetype i
}
if (criterion < top) {
    criterion_at = beside((criterion - bottom) / (top - bottom), TOP, BOTTOM)
    set label 5 CRITERION_WORDS.in_words(2) at screen RIGHT + 0.008, down_to(criterion_at - 14) left noenhanced font SMALL textcolor rgb QUIET
}
set label 906 (last_pulse > 1 ? sprintf('time since the last of %d pulses began', last_pulse) : 'time since the pulse began') at screen 0.5 * (LEFT + RIGHT), down_to(743) center
if (strlen(note) > 0) { set label 907 'thin dots: '.note at screen 0.015, down_to(762) left noenhanced font SMALL textcolor rgb QUIET }

temperature(i) = i == 3 ? watched('lesion') : layer(word('lesion neighbour', i))
plot '+' using 1:(bottom):(bottom + power($1) * (top - bottom)) with filledcurves fillcolor rgb SHADE, \
     '+' using 1:(criterion < top ? criterion : NaN) with lines linewidth 1 linecolor rgb QUIET dashtype solid, \
     for [i = 1:n_curve] DATA using (drawn(since(0))):(doubtful(since(0), temperature(i))) with lines linetype i linewidth 1.5 dashtype (1.5, 2.5), \
     for [i = 1:n_curve] DATA using (drawn(since(0))):(sound(since(0), temperature(i))) with lines linetype i

unset multiplot
