# Warmth beside the axis: rise by the pulses, by distance from the axis and depth, after the last pulse and later.
#
#   gnuplot -d -c beside.gp DATA OUTPUT KIND NUMBERS HEADING ASKED CORNER TIMES
#
# DATA is beside.csv, the lesion is drawn. NUMBERS: spot diameter and the least depth to draw, in m. TIMES are the two
# times in words, each in single quotes; when the second is empty the run was over before, and one panel is drawn.

DATA = ARG1
OUTPUT = ARG2
KIND = ARG3
NUMBERS = ARG4
HEADING = ARG5
ASKED = ARG6
CORNER = ARG7
TIMES = ARG8

folder = ARG0
while (strlen(folder) > 0 && substr(folder, strlen(folder), strlen(folder)) ne '/') {
    folder = substr(folder, 1, strlen(folder) - 1)
}
load folder.'style.gp'

spot = word(NUMBERS, 1) + 0.0
shallowest = word(NUMBERS, 2) + 0.0
n_panel = strlen(word(TIMES, 2)) > 0 ? 2 : 1
rise_column(panel) = word('after_last_pulse_rise_K later_rise_K', panel)
rise(panel) = column(rise_column(panel))

# ---- the cells: their centres stand in DATA, all depths of one radius after another; they meet half-way ----

n_depth = 0
n_row = 0
first_radius = NaN
brightest = 0.0
stats DATA using (r = column('radius_m'), own = strcol('site') eq 'lesion', \
                  own && first_radius != first_radius ? first_radius = r : 0, \
                  own && r == first_radius ? n_depth = n_depth + 1 : 0, own ? n_row = n_row + 1 : 0, \
                  brightest = own ? most(brightest, rise(1)) : brightest, \
                  brightest = own && n_panel > 1 ? most(brightest, rise(2)) : brightest, r) nooutput
n_radius = n_row / n_depth
array depth[n_depth + 1]
array radius[n_radius + 1]
DECADES = 2.5 # of rise that are shown
if (brightest <= 0.0) { brightest = 1e-9 }
faintest = brightest / 10**DECADES
widest = 0.75 * spot
deepest = shallowest
row = 0
lay(i, z, j, r) = (depth[i + 1] = z, radius[j + 1] = r)
stats DATA using (r = column('radius_m'), z = column('depth_m'), own = strcol('site') eq 'lesion', \
                  own ? lay(row % n_depth, z, row / n_depth, r) : 0, row = row + own, \
                  warm = own && (rise(1) > faintest || (n_panel > 1 && rise(2) > faintest)), \
                  widest = warm ? most(widest, r) : widest, deepest = warm ? most(deepest, z) : deepest, r) nooutput
depth[n_depth + 1] = 2.0 * depth[n_depth] - depth[n_depth - 1]
radius[n_radius + 1] = 2.0 * radius[n_radius] - radius[n_radius - 1]
deepest = least(deepest, depth[n_depth])
widest = least(widest, radius[n_radius])
inner(j) = j < 1 ? 0.0 : 0.5 * (radius[j] + radius[j + 1])   # j counts from 0
outer(j) = 0.5 * (radius[j + 1] + radius[j + 2])
upper(i) = i < 1 ? 0.0 : 0.5 * (depth[i] + depth[i + 1])
lower(i) = 0.5 * (depth[i + 1] + depth[i + 2])
down(any) = int(column(0)) % n_depth
out(any) = int(least(int(column(0)) / n_depth, n_radius - 1))
# Each tile reaches a little under the next one, which is drawn later: so no seams show.
UNDER = 1.5 # in the units of WIDTH
TOP = 0.80
BOTTOM = 0.15
WIDE = n_panel > 1 ? 0.345 : 0.69
aside = UNDER * 2.0 * widest / (WIDE * WIDTH)
down_root = UNDER * sqrt(deepest) / ((TOP - BOTTOM) * HEIGHT)
far(j) = least(outer(j) + aside, widest)
left_end(side, j) = 1e3 * (side > 0 ? inner(j) : -far(j))
right_end(side, j) = 1e3 * (side > 0 ? far(j) : j < 1 ? aside : -inner(j))
below(i) = least((sqrt(lower(i)) + down_root)**2, deepest)
shade(t) = log10(bound(t, faintest, brightest))

# ---- colours: one scale for both times ----

# Dark to light in even steps of lightness, readable in grey as well.
set palette defined (0 '#10194a', 1 '#23508a', 2 '#3d8a97', 3 '#7fbf85', 4 '#d3e07a', 5 '#fff8c6')
set cbrange [log10(faintest):log10(brightest)]
set cbtics ()
do for [decade = floor(log10(faintest)):ceil(log10(brightest))] {
    do for [i = 1:3] {
        mark = word('1 2 5', i) * 10.0**decade
        if (mark >= 0.999 * faintest && mark <= 1.001 * brightest) { set cbtics add (sprintf('%g', mark) log10(mark)) }
    }
}
set cblabel 'temperature rise by the pulses, K' offset 0.5, 0

# ---- panels ----

left_of(panel) = panel == 1 ? 0.115 : 0.475
panel_height = (TOP - BOTTOM) * HEIGHT
line_share = ROW / panel_height
depth_words(z) = z == 0 ? '0' : z < 0.9995e-3 ? sprintf('%.3g µm', z * 1e6) : sprintf('%.3g mm', z * 1e3)
set nonlinear y via sqrt(abs(y)) inverse y * y
set yrange [deepest:0]
marks = '0.0 50.0e-6 0.2e-3 0.5e-3 1.0e-3 2.0e-3 3.0e-3 4.0e-3 5.0e-3'
set ytics ()
do for [i = 1:words(marks)] {
    mark = word(marks, i) + 0.0
    if (mark <= 1.001 * deepest) { set ytics add (depth_words(mark) mark) }
}
set xrange [-1e3 * widest:1e3 * widest]
set tmargin at screen TOP
set bmargin at screen BOTTOM
set xlabel 'distance from the axis, mm' offset 0, 0.3
set label 904 'depth (square-root scale)' at screen 0.02, 0.5 * (TOP + BOTTOM) center rotate by 90
set style fill solid noborder
set border 15 front linewidth 1.2 linecolor rgb '#404040'
set colorbox user origin screen left_of(n_panel) + WIDE + 0.02, BOTTOM size screen 0.03, TOP - BOTTOM
set multiplot
do for [panel = 1:n_panel] {
    set lmargin at screen left_of(panel)
    set rmargin at screen left_of(panel) + WIDE
    set label 905 word(TIMES, panel) at screen left_of(panel), 0.878 left noenhanced
    set label 906 'spot' at screen left_of(panel) + 0.5 * WIDE + 0.5 * WIDE * least(0.5 * spot / widest, 0.8) + 0.01, TOP + 0.028 left font SMALL
    set arrow 1 from first -500.0 * spot, screen TOP + 0.028 to first 500.0 * spot, screen TOP + 0.028 nohead linewidth 3 linecolor rgb BLACK
    if (panel < n_panel) { unset colorbox } else { set colorbox user origin screen left_of(n_panel) + WIDE + 0.02, BOTTOM size screen 0.03, TOP - BOTTOM }
    if (panel == 2) {
        unset for [i = 901:904] label i
        set ytics ('' 0)
        do for [i = 1:words(marks)] { if (word(marks, i) + 0.0 <= 1.001 * deepest) { set ytics add ('' word(marks, i) + 0.0) } }
    }
    plot for [side = -1:1:2] DATA using (strcol('site') eq 'lesion' && inner(out(0)) < widest && upper(down(0)) < deepest ? \
         side * 1e3 * column('radius_m') : NaN):(column('depth_m')):(left_end(side, out(0))):(right_end(side, out(0))): \
         (upper(down(0))):(below(down(0))):(shade(rise(panel))) with boxxyerror fillcolor palette
}
unset multiplot
