# Where the light goes: fluence and absorbed energy against depth, drawn downwards as skin lies.
#
#   gnuplot -d -c depth.gp DATA OUTPUT KIND BOUNDARIES HEADING ASKED CORNER LAYERS
#
# DATA is depth.csv. BOUNDARIES are the depths between layers in m, separated by blanks, and LAYERS the layers' names
# from the surface inwards, separated by `|`.

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

boundary(i) = word(BOUNDARIES, i) + 0.0
n_boundary = words(BOUNDARIES)
depth_words(z) = z == 0 ? '0' : z < 0.9995e-3 ? sprintf('%.3g µm', z * 1e6) : sprintf('%.3g mm', z * 1e3)
is(site) = strcol('site') eq site

fluence(site) = is(site) ? column('fluence_ratio') : NaN
energy(site) = is(site) && column('absorbed_J_m3') > 0.0 ? 1e-6 * column('absorbed_J_m3') : NaN

# ---- the depth axis goes as the square root, so that the thin layers on top and the dermis are both seen ----

stats DATA using (column('depth_m')) name 'Z' nooutput
deepest = n_boundary > 0 ? bound(1.3 * boundary(n_boundary), 2e-3, 10e-3) : 2e-3
deepest = least(deepest, Z_max)
down(z) = sqrt(z / deepest) # share of the way down

TOP = 0.855
BOTTOM = 0.15
panel_height = (TOP - BOTTOM) * HEIGHT
line_share = ROW / panel_height

# ---- where the names of the curves go: on the outer sides of the two, below the layers on top ----

FROM = 0.25 # the first of these shares of the way down that lies below the thin layers
beneath = FROM
do for [i = 1:n_boundary] { if (abs(down(boundary(i)) - beneath) < 1.5 * line_share) { beneath = down(boundary(i)) + 2.0 * line_share } }
beneath = least(beneath, 0.9)
named = deepest * beneath**2
lesion_fluence = NaN
around_fluence = NaN
lesion_energy = NaN
around_energy = NaN
most_fluence = 0.0
most_energy = 0.0
least_energy = 1e30
stats DATA using (z = column('depth_m'), shown = z <= deepest, here = z <= named, \
                  f = column('fluence_ratio'), e = 1e-6 * column('absorbed_J_m3'), \
                  lesion_fluence = here && is('lesion') ? f : lesion_fluence, \
                  around_fluence = here && is('neighbour') ? f : around_fluence, \
                  lesion_energy = here && is('lesion') ? e : lesion_energy, \
                  around_energy = here && is('neighbour') ? e : around_energy, \
                  most_fluence = shown ? most(most_fluence, f) : most_fluence, \
                  most_energy = shown ? most(most_energy, e) : most_energy, \
                  least_energy = shown && e > 0.0 ? least(least_energy, e) : least_energy, z) nooutput

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

widest_fluence = 1.4 * most_fluence # leaves room for a name
decade_most = ceil(log10(most_energy))
decade_least = most(floor(log10(least_energy)), decade_most - 6)
decades = decade_most - decade_least

WIDE = 0.34
LEFT = 0.115
MIDDLE = 0.48
length(text) = strlen(text) * LETTER / (WIDE * WIDTH)
left_of(panel) = panel == 1 ? LEFT : MIDDLE

# How far across its panel a curve stands at the depth where it is named.
across_lesion(panel) = panel == 1 ? lesion_fluence / (widest_fluence) : (log10(lesion_energy) - decade_least) / decades
across_around(panel) = panel == 1 ? around_fluence / (widest_fluence) : (log10(around_energy) - decade_least) / decades

LESION = 'lesion'
AROUND = 'skin around'

# ---- names of the layers, at the right: in the middle of each layer, one line apart at least ----

rest = LAYERS
above = 0.0
head = -1.0
do for [i = 1:n_boundary + 1] {
    cut = strstrt(rest, '|')
    name = cut > 0 ? substr(rest, 1, cut - 1) : rest
    rest = substr(rest, cut + 1, strlen(rest))
    below = i <= n_boundary ? least(down(boundary(i)), 1.0) : 1.0
    middle = 0.5 * (above + below)
    head = most(middle, head + 1.05 * line_share)
    on_screen = TOP - head * (TOP - BOTTOM)
    if (strlen(name) > 19) { name = substr(name, 1, 18).'…' }
    if (above < 1.0 && head <= 1.0) {
        set label 100 + i name at screen MIDDLE + WIDE + 0.028, on_screen left noenhanced
        set arrow 100 + i from screen MIDDLE + WIDE + 0.005, TOP - middle * (TOP - BOTTOM) \
            to screen MIDDLE + WIDE + 0.023, on_screen nohead linewidth 0.8 linecolor rgb QUIET
    }
    above = below
}
do for [i = 1:n_boundary] {
    set arrow i from graph 0, first boundary(i) to graph 1, first boundary(i) nohead linewidth 0.8 linecolor rgb QUIET back
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
        set label 905 'fluence over incident fluence' at screen LEFT + 0.5 * WIDE, BOTTOM - 0.075 center
        set label 904 'depth' at screen 0.018, 0.5 * (TOP + BOTTOM) center rotate by 90
    } else {
        unset label 901
        unset label 902
        unset label 903
        unset label 904
        unset for [i = 101:101 + n_boundary] label i # drawn with the first panel
        unset for [i = 101:101 + n_boundary] arrow i
        set logscale x
        set xrange [10.0**decade_least:10.0**decade_most]
        set format x '%g'
        set ytics ('' 0)
        do for [i = 1:words(marks)] { if (word(marks, i) + 0.0 <= deepest * 1.001) { set ytics add ('' word(marks, i) + 0.0) } }
        set label 905 'absorbed energy, J/cm³' at screen MIDDLE + 0.5 * WIDE, BOTTOM - 0.075 center
    }

    lesion = across_lesion(panel)
    around = across_around(panel)
    lesion_left = lesion <= around
    room = least(lesion, around) - 0.03 > length(lesion_left ? LESION : AROUND)
    right = most(lesion, around) + 0.03
    right_head = 1.0 - beneath
    left_head = right_head - (room ? 0.0 : 1.1 * line_share)
    lesion_head = lesion_left ? left_head : right_head
    around_head = lesion_left ? right_head : left_head
    if (room && lesion_left) { set label 1 LESION at graph lesion - 0.03, lesion_head right textcolor linetype 1 front }
    if (!(room && lesion_left)) { set label 1 LESION at graph right, lesion_head left textcolor linetype 1 front }
    if (room && !lesion_left) { set label 2 AROUND at graph around - 0.03, around_head right textcolor linetype 2 front }
    if (!(room && !lesion_left)) { set label 2 AROUND at graph right, around_head left textcolor linetype 2 front }

    plot DATA using (panel == 1 ? fluence('lesion') : energy('lesion')):'depth_m' with lines linetype 1, \
         DATA using (panel == 1 ? fluence('neighbour') : energy('neighbour')):'depth_m' with lines linetype 2
}
unset multiplot
