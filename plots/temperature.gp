# Temperature against time: above, one pigment grain and its layer on one scale; below, the layers on their own.
#
#   gnuplot -d -c temperature.gp DATA OUTPUT KIND NUMBERS HEADING ASKED CORNER LAYER GRAIN
#
# DATA is temperature.csv. NUMBERS are separated by blanks, in s, K and m:
#   start temperature, pulse width, 1 if the pulse is Gaussian, time of its centre, relaxation time of the grain,
#   criterion, time from which heat leaves sideways, number of the watched depth to draw (0: none), that depth.
# LAYER is the name of the grain's layer, GRAIN its size in words, such as '0.3 µm'.

DATA = ARG1
OUTPUT = ARG2
KIND = ARG3
HEADING = ARG5
ASKED = ARG6
CORNER = ARG7
LAYER = ARG8
GRAIN = ARG9

folder = ARG0
while (strlen(folder) > 0 && substr(folder, strlen(folder), strlen(folder)) ne '/') {
    folder = substr(folder, 1, strlen(folder) - 1)
}
load folder.'style.gp'

start = word(ARG4, 1) + 0.0 - 273.15
width = word(ARG4, 2) + 0.0
gaussian = word(ARG4, 3) + 0
centre = word(ARG4, 4) + 0.0
relaxation = word(ARG4, 5) + 0.0
criterion = word(ARG4, 6) + 0.0 - 273.15
sideways = word(ARG4, 7) + 0.0
deeper = word(ARG4, 8) + 0
depth = word(ARG4, 9) + 0.0

grain(site) = start + column(site.'_grain_mean_rise_K')
layer(site) = start + column(site.'_layer_rise_K')
watched(site) = start + column(sprintf('%s_depth%d_rise_K', site, deeper))

# ---- numbers in words ----

unit_of(n) = n < -9 ? 'ps' : n < -6 ? 'ns' : n < -3 ? 'µs' : n < 0 ? 'ms' : 's'
scale_of(n) = n < -9 ? 1e12 : n < -6 ? 1e9 : n < -3 ? 1e6 : n < 0 ? 1e3 : 1.0
decade_of(x) = int(floor(log10(x) + 1e-9))
tic_words(n) = sprintf('%.0f %s', 10.0**n * scale_of(n), unit_of(n))
time_words(t) = sprintf('%.3g %s', t * scale_of(decade_of(t)), unit_of(decade_of(t)))
about_words(t) = sprintf('%.2g %s', t * scale_of(decade_of(t)), unit_of(decade_of(t)))
degrees(x) = sprintf('%.0f °C', x)
fine(x) = sprintf('%.1f °C', x)
depth_words(z) = z < 1e-3 ? sprintf('%.3g µm', z * 1e6) : sprintf('%.3g mm', z * 1e3)

# ---- where the curves stand ----

stats DATA using 'time_s':(grain('lesion')) name 'LG' nooutput
stats DATA using 'time_s':(grain('neighbour')) name 'NG' nooutput
stats DATA using 'time_s':(layer('lesion')) name 'LL' nooutput
stats DATA using 'time_s':(layer('neighbour')) name 'NL' nooutput

highest = most(LG_max_y, NG_max_y)
warmest = most(LL_max_y, NL_max_y)
together = highest - start < 1.1 * (warmest - start) # grain and layer are one curve to the eye

# When the hottest grain, and the warmer layer, came up to half and 0.8 of their peaks and when they left them.
grain_half = start + 0.5 * (highest - start)
layer_most = start + 0.8 * (warmest - start)
came = 0.0
went = 0.0
layer_came = 0.0
plateau_came = 0.0
plateau_went = 0.0
stats DATA using (now = column('time_s'), \
                  hot = most(grain('lesion'), grain('neighbour')), warm = most(layer('lesion'), layer('neighbour')), \
                  came = came == 0.0 && hot > grain_half ? now : came, went = hot > grain_half ? now : went, \
                  layer_came = layer_came == 0.0 && warm > start + 0.1 * (warmest - start) ? now : layer_came, \
                  plateau_came = plateau_came == 0.0 && warm > layer_most ? now : plateau_came, \
                  plateau_went = warm > layer_most ? now : plateau_went, now) nooutput

# ---- the time axis, made by hand: gnuplot would write powers of ten ----

first = floor(log10(least(width, relaxation) / 9.0))
last = ceil(log10(LG_max_x) - 1e-9)
begin = 10.0**first
end = 10.0**last
LEFT = 0.08
RIGHT = 0.965
panel_width = (RIGHT - LEFT) * WIDTH
share(t) = log10(most(t, begin) / begin) / (last - first)
at(share) = begin * 10.0**(share * (last - first))
length(text) = strlen(text) * LETTER / panel_width

set lmargin at screen LEFT
set rmargin at screen RIGHT
set logscale x
set xrange [begin:end]
set xtics ()
step = last - first > 16 ? 2 : 1
do for [n = first:last:step] { set xtics add (tic_words(n) 10.0**n) }

power(t) = gaussian ? (abs(t - centre) < 2.5 * width ? exp(-4.0 * log(2.0) * ((t - centre) / width)**2) : 0.0) \
                    : (t < width ? 1.0 : 0.0)
set samples 700

# The figure in one line.
lesson = together ? 'grain and layer warm together' \
                  : sprintf('the grain warms %.2g times as much as its layer', (LG_max_y - start) / (LL_max_y - start))
set label 904 lesson at screen RIGHT, 0.926 right noenhanced textcolor rgb BLACK

set multiplot

# ---- above: the grain, and its layer on the same scale ----

set tmargin at screen 0.875
set bmargin at screen 0.45
panel_height = (0.875 - 0.45) * HEIGHT
reach = most(highest, criterion + 0.14 * (criterion - start)) - start
bottom = start - 0.05 * reach
top = bottom + 1.05 * reach / (1.0 - 3.6 * ROW / panel_height) # lines of words above the curves
row = (top - bottom) * ROW / panel_height
set yrange [bottom:top]
set ylabel 'grain ('.GRAIN.'), °C' noenhanced offset 0.5, 0

what = together ? 'grain and layer' : 'grain'
lesion_words = sprintf('%s in the lesion: up to %s', what, degrees(LG_max_y))
neighbour_words = sprintf('%s in the skin around: up to %s', what, degrees(NG_max_y))
layer_words = sprintf('%s layer in the lesion: up to %s', LAYER, degrees(LL_max_y))

# The names stand in a column behind the peak, where the grain has cooled; before the peak when there is no room.
# They keep clear of the layer's curve and name, and of the criterion.
longest = length(neighbour_words)
behind = share(went) + 0.03 + longest < 1.0 || share(came) - 0.03 < longest
column = behind ? least(share(went) + 0.03, 1.0 - longest) : share(came) - 0.03
layer_head = LL_max_y + 0.75 * row
if (layer_head > criterion - 0.7 * row && layer_head < criterion + 1.4 * row) { layer_head = criterion + 1.6 * row }
clear = together ? (behind ? warmest : start) + 0.75 * row : layer_head + row
head = most(highest, clear + row)
if (head > criterion - 0.7 * row && head - row < criterion + 1.4 * row) {
    head = criterion - 0.8 * row > clear + row ? criterion - 0.8 * row : criterion + 2.6 * row
}
lesion_head = head - (LG_max_y < NG_max_y ? row : 0.0)
neighbour_head = head - (LG_max_y < NG_max_y ? 0.0 : row)
if (behind) {
    set label 1 lesion_words at at(column), lesion_head left noenhanced textcolor rgb VERMILLION front
    set label 2 neighbour_words at at(column), neighbour_head left noenhanced textcolor rgb BLUE front
    if (!together) { set label 3 layer_words at at(least(column + 0.03, 1.0 - length(layer_words))), layer_head left noenhanced textcolor rgb VERMILLION front }
} else {
    set label 1 lesion_words at at(column), lesion_head right noenhanced textcolor rgb VERMILLION front
    set label 2 neighbour_words at at(column), neighbour_head right noenhanced textcolor rgb BLUE front
    if (!together) { set label 3 layer_words at at(column), layer_head right noenhanced textcolor rgb VERMILLION front }
}

set arrow 1 from begin, criterion to end, criterion nohead linewidth 1 linecolor rgb QUIET front
set label 4 sprintf('disruption criterion %s (without vaporisation above)', degrees(criterion)) \
    at end, criterion + 0.55 * row right noenhanced textcolor rgb QUIET font SMALL front

set arrow 2 from relaxation, graph 0 to relaxation, graph 1 nohead linewidth 1 linecolor rgb BLACK dashtype (8, 6) front
pulse_words = 'pulse '.time_words(width)
relaxation_words = 'grain relaxes in '.about_words(relaxation)
pulse_edge = share(gaussian ? centre - width : width) - 0.01 # left of the hump, or within the shade of a square pulse
if (share(relaxation) < pulse_edge && share(relaxation) > pulse_edge - length(pulse_words)) { pulse_edge = share(relaxation) - 0.01 }
if (pulse_edge > length(pulse_words)) {
    set label 5 pulse_words at at(pulse_edge), top - 0.6 * row right noenhanced front
} else {
    set label 5 pulse_words at at(share(gaussian ? centre + width : width) + 0.01), top - 0.6 * row left noenhanced front
}
set label 6 relaxation_words at at(share(relaxation) + 0.01), top - 1.6 * row left noenhanced front

# Above the criterion the model goes on where nature would not: thin and dotted.
drawn(t) = most(t, begin) # time 0 has no place on this axis: its row starts the curve at the edge
sound(y) = y <= criterion ? y : NaN
doubtful(y) = y > start + 0.6 * (criterion - start) ? y : NaN # from lower down, to meet the sound part
set format x ''
plot '+' using 1:(bottom):(bottom + power($1) * (top - bottom)) with filledcurves fillcolor rgb SHADE notitle, \
     for [i = 1:2] DATA using (drawn(column('time_s'))):(doubtful(grain(word('lesion neighbour', i)))) with lines linetype i linewidth 1.3 dashtype (1.5, 3), \
     for [i = 1:2] DATA using (drawn(column('time_s'))):(sound(grain(word('lesion neighbour', i)))) with lines linetype i, \
     DATA using (drawn(column('time_s'))):(together ? NaN : layer('lesion')) with lines linetype 1 dashtype (3, 4)

# ---- below: the layers, on a scale of their own ----

unset for [i = 1:6] label i
unset label 901
unset label 902
unset label 903
unset label 904
unset arrow 1

set tmargin at screen 0.405
set bmargin at screen 0.13
panel_height = (0.405 - 0.13) * HEIGHT
n_curve = deeper > 0 ? 3 : 2
array peak[3] = [LL_max_y, NL_max_y, 0.0]
array curve_words[3] = [LAYER.' layer, lesion: peak '.fine(LL_max_y), \
                        LAYER.' layer, skin around: peak '.fine(NL_max_y), '']
if (deeper > 0) {
    stats DATA using 'time_s':(watched('lesion')) name 'DL' nooutput
    peak[3] = DL_max_y
    curve_words[3] = depth_words(depth).' deep, lesion: peak '.fine(DL_max_y)
}
tallest = most(most(peak[1], peak[2]), peak[3])
reach = tallest - start
bottom = start - 0.06 * reach
top = bottom + 1.06 * reach / (1.0 - 3.4 * ROW / panel_height)
row = (top - bottom) * ROW / panel_height
set yrange [bottom:top]
set ylabel 'layers, °C' noenhanced offset 0.5, 0

# Names above their curves: from the coolest upwards, each clear of the next curve and of the name below it.
array order[3] = [1, 2, 3]
do for [pass = 1:2] { do for [i = 1:n_curve - 1] {
    if (peak[order[i]] > peak[order[i + 1]]) { swap = order[i]; order[i] = order[i + 1]; order[i + 1] = swap }
} }
# They start where the layer is at its warmest, or, when it does not stay there, end where it begins to warm.
beside = share(plateau_went) - share(plateau_came) > 0.6 * length(curve_words[2]) \
         || share(layer_came) - 0.03 < length(curve_words[2])
column = beside ? share(plateau_came) + 0.015 : share(layer_came) - 0.03
head = start - row
do for [i = 1:n_curve] {
    height = peak[order[i]] + 0.7 * row
    do for [above = i + 1:n_curve] {
        next = peak[order[above]]
        if (beside && next > height - 0.9 * row && next < height + 0.7 * row) { height = next + 0.7 * row }
    }
    head = most(height, head + row)
    if (beside) {
        set label order[i] curve_words[order[i]] at at(column), head left noenhanced boxed textcolor linetype order[i] front
    } else {
        set label order[i] curve_words[order[i]] at at(column), head right noenhanced textcolor linetype order[i] front
    }
}
if (sideways < LG_max_x) {
    set label 4 'dotted from '.about_words(sideways).' on: heat also leaves sideways, which is not counted' \
        at end, top - 0.5 * row right noenhanced textcolor rgb QUIET font SMALL front
}
set label 905 'time since the pulse began' at screen 0.5 * (LEFT + RIGHT), 0.065 center
set format x '%g'
before(t) = t <= sideways ? drawn(t) : NaN
after(t) = t >= sideways ? t : NaN
temperature(i) = i == 3 ? watched('lesion') : layer(word('lesion neighbour', i))
plot '+' using 1:(bottom):(bottom + power($1) * (top - bottom)) with filledcurves fillcolor rgb SHADE, \
     for [i = 1:n_curve] DATA using (before(column('time_s'))):(temperature(i)) with lines linetype i, \
     for [i = 1:n_curve] DATA using (after(column('time_s'))):(temperature(i)) with lines linetype i linewidth 1.3 dashtype (1.5, 3)

unset multiplot
