# Where the light goes: fluence and absorbed energy against depth, drawn downwards as skin lies.
#
#   gnuplot -d -c depth.gp DATA OUTPUT KIND BOUNDARIES HEADING ASKED CORNER LAYERS
#
# DATA is depth.csv. BOUNDARIES are how far down to draw and then the depths between layers, in m, separated by blanks,
# and LAYERS the layers' names from the surface inwards, separated by `|`.

DATA = ARG1
OUTPUT = ARG2
KIND = ARG3
BOUNDARIES = ARG4
HEADING = ARG5
ASKED = ARG6
CORNER = ARG7
LAYERS = ARG8

folder = ARG0
while (strlen(folder) > 0 && substr(folder, strlen(folder), strlen(folder)) ne '/') {
    folder = substr(folder, 1, strlen(folder) - 1)
}
load folder.'style.gp'

deepest = word(BOUNDARIES, 1) + 0.0
boundary(i) = word(BOUNDARIES, i + 1) + 0.0
n_boundary = words(BOUNDARIES) - 1
depth_words(z) = z == 0 ? '0' : z < 0.9995e-3 ? sprintf('%.3g µm', z * 1e6) : sprintf('%.3g mm', z * 1e3)
is(site) = strcol('site') eq site

fluence(site) = is(site) ? column('fluence_ratio') : NaN
energy(site) = is(site) && column('absorbed_J_m3') > 0.0 ? 1e-6 * column('absorbed_J_m3') : NaN

# ---- the depth axis goes as the square root, so that the thin layers on top and the dermis are both seen ----

down(z) = sqrt(z / deepest) # share of the way down

TOP = 0.855
BOTTOM = 0.15
panel_height = (TOP - BOTTOM) * HEIGHT
line_share = ROW / panel_height

# ---- the ranges across ----

most_fluence = 0.0
most_energy = 0.0
least_energy = 1e30
stats DATA using (shown = column('depth_m') <= deepest, f = column('fluence_ratio'), e = 1e-6 * column('absorbed_J_m3'), \
                  most_fluence = shown ? most(most_fluence, f) : most_fluence, \
                  most_energy = shown ? most(most_energy, e) : most_energy, \
                  least_energy = shown && e > 0.0 ? least(least_energy, e) : least_energy, f) nooutput
if (most_energy == 0.0) { most_energy = least_energy = 1.0 }

widest_fluence = 1.06 * most_fluence
decade_most = ceil(log10(most_energy))
decade_least = bound(floor(log10(least_energy)), decade_most - 6, decade_most - 1)

# Set only now: these ranges would also keep rows from the counts above.
set nonlinear y via sqrt(abs(y)) inverse y * y
set yrange [deepest:0]
marks = '0.0 10.0e-6 50.0e-6 100.0e-6 200.0e-6 500.0e-6 1.0e-3 2.0e-3 3.0e-3 5.0e-3 7.0e-3 10.0e-3'
last_mark = -1.0
set ytics ()
do for [i = 1:words(marks)] {
    mark = word(marks, i) + 0.0
    if (mark <= deepest * 1.001 && (last_mark < 0.0 || down(mark) - down(last_mark) > 1.2 * line_share)) {
        set ytics add (depth_words(mark) mark)
        last_mark = mark
    }
}

WIDE = 0.325
LEFT = 0.115
MIDDLE = 0.5
left_of(panel) = panel == 1 ? LEFT : MIDDLE

# ---- names of the layers, at the right: in the middle of each layer, one line apart at least ----

n_layer = n_boundary + 1
array middle[n_layer] # share of the way down
array head[n_layer]
n_shown = 0
above = 0.0
lowest = -1.0
do for [i = 1:n_layer] {
    below = i < n_layer ? least(down(boundary(i)), 1.0) : 1.0
    if (above < 1.0) { n_shown = i }
    middle[i] = 0.5 * (above + below)
    lowest = most(middle[i], lowest + 1.05 * line_share)
    head[i] = lowest
    above = below
}
# When they run out at the bottom, the lowest ones make room upwards.
lowest = 1.0 + 0.5 * line_share
do for [i = 1:n_shown] {
    from_below = n_shown + 1 - i
    head[from_below] = least(head[from_below], lowest)
    lowest = head[from_below] - 1.05 * line_share
}
rest = LAYERS
do for [i = 1:n_shown] {
    cut = strstrt(rest, '|')
    name = cut > 0 ? substr(rest, 1, cut - 1) : rest
    rest = substr(rest, cut + 1, strlen(rest))
    if (strlen(name) > 17) { name = substr(name, 1, 16).'…' }
    on_screen = TOP - head[i] * (TOP - BOTTOM)
    set label 100 + i name at screen MIDDLE + WIDE + 0.028, on_screen left noenhanced
    set arrow 100 + i from screen MIDDLE + WIDE + 0.005, TOP - middle[i] * (TOP - BOTTOM) \
        to screen MIDDLE + WIDE + 0.023, on_screen nohead linewidth 0.8 linecolor rgb QUIET
}
do for [i = 1:n_boundary] {
    if (boundary(i) < deepest) {
        set arrow i from graph 0, first boundary(i) to graph 1, first boundary(i) nohead linewidth 0.8 linecolor rgb QUIET back
    }
}

# ---- the panels: fluence, then energy ----

set tmargin at screen TOP
set bmargin at screen BOTTOM
set multiplot
do for [panel = 1:2] {
    set lmargin at screen left_of(panel)
    set rmargin at screen left_of(panel) + WIDE
    if (panel == 1) {
        set xrange [0:widest_fluence]
        set label 905 'fluence over incident fluence on the axis' at screen LEFT + 0.5 * WIDE, BOTTOM - 0.075 center
        set label 904 'depth (square-root scale)' at screen 0.018, 0.5 * (TOP + BOTTOM) center rotate by 90
    } else {
        unset label 901
        unset label 902
        unset label 903
        unset label 904
        unset for [i = 101:100 + n_shown] label i # drawn with the first panel
        unset for [i = 101:100 + n_shown] arrow i
        set logscale x
        set xrange [10.0**decade_least:10.0**decade_most]
        set format x '%g'
        set ytics ('' 0)
        do for [i = 1:words(marks)] { if (word(marks, i) + 0.0 <= deepest * 1.001) { set ytics add ('' word(marks, i) + 0.0) } }
        set label 905 'absorbed energy, J/cm³' at screen MIDDLE + 0.5 * WIDE, BOTTOM - 0.075 center
    }

    # The names of the curves stand above the panel, so that they lie on none.
    do for [i = 1:2] {
        key_left = left_of(panel) + (i - 1) * 0.5 * WIDE
        set arrow 200 + i from screen key_left, TOP + 0.035 rto screen 0.035, 0 nohead linetype i
        set label i word('lesion neighbour', i) at screen key_left + 0.043, TOP + 0.035 left textcolor linetype i
    }

    plot DATA using (panel == 1 ? fluence('lesion') : energy('lesion')):'depth_m' with lines linetype 1, \
         DATA using (panel == 1 ? fluence('neighbour') : energy('neighbour')):'depth_m' with lines linetype 2
}
unset multiplot
