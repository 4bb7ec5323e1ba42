# Where the light goes beside the axis: fluence over incident axis fluence, by distance from the axis and depth.
#
#   gnuplot -d -c map.gp DATA OUTPUT KIND NUMBERS HEADING ASKED CORNER
#
# DATA is map.csv, the lesion is drawn. NUMBERS: spot diameter and the depth to draw, in m.

DATA = ARG1
OUTPUT = ARG2
KIND = ARG3
NUMBERS = ARG4
HEADING = ARG5
ASKED = ARG6
CORNER = ARG7

folder = ARG0
while (strlen(folder) > 0 && substr(folder, strlen(folder), strlen(folder)) ne '/') {
    folder = substr(folder, 1, strlen(folder) - 1)
}
load folder.'style.gp'

spot = word(NUMBERS, 1) + 0.0
deepest = word(NUMBERS, 2) + 0.0

# Depths are about even in the square root, radii are even: half a step each way makes the tiles meet.
widest = 0.0
end = 0.0
next_radius = 1e9
stats DATA using (r = column('radius_m'), z = column('depth_m'), widest = most(widest, r), end = most(end, z), \
                  next_radius = r > 0.0 ? least(next_radius, r) : next_radius, z) nooutput
brightest = 0.0
stats DATA using (f = column('fluence_ratio'), brightest = most(brightest, f), f) nooutput
set cbrange [-2.5:log10(brightest)]
half_radius = 0.52 * next_radius # a little more than half, so that no seams show
half_root = 0.53 * sqrt(end) / 55.0
upper(z) = z < 2e-5 ? 0.0 : most(sqrt(z) - half_root, 0.0)**2
lower(z) = (sqrt(z) + half_root)**2
shade(f) = log10(bound(f, 3e-3, 1e3))

# Dark to light in even steps of lightness, readable in grey as well.
set palette defined (0 '#10194a', 1 '#23508a', 2 '#3d8a97', 3 '#7fbf85', 4 '#d3e07a', 5 '#fff8c6')
set cbtics ('0.001' -3, '0.003' log10(0.003), '0.01' -2, '0.03' log10(0.03), '0.1' -1, '0.3' log10(0.3), '1' 0, '3' log10(3.0), '10' 1)
set cblabel 'fluence over incident fluence on the axis' offset 0.5, 0
set nonlinear y via sqrt(abs(y)) inverse y * y
set yrange [deepest:0]
set ytics ('0' 0, '0.1 mm' 1e-4, '0.5 mm' 5e-4, '1 mm' 1e-3, '2 mm' 2e-3, '3 mm' 3e-3)
set xrange [-1e3 * widest:1e3 * widest]
set xlabel 'distance from the axis, mm' offset 0, 0.3
set label 904 'depth (square-root scale)' at screen 0.02, 0.5 center rotate by 90
set lmargin at screen 0.13
set rmargin at screen 0.82
set tmargin at screen 0.84
set bmargin at screen 0.15
set arrow 1 from first -500.0 * spot, graph 1.03 to first 500.0 * spot, graph 1.03 nohead linewidth 3 linecolor rgb BLACK
set label 905 'spot' at first 0, graph 1.07 center
set style fill solid noborder
plot for [side = -1:1:2] DATA using (strcol('site') eq 'lesion' && column('depth_m') < 1.2 * deepest ? \
     side * 1e3 * column('radius_m') : NaN):(column('depth_m')):(side * 1e3 * column('radius_m') - 1e3 * half_radius): \
     (side * 1e3 * column('radius_m') + 1e3 * half_radius):(upper(column('depth_m'))):(lower(column('depth_m'))): \
     (shade(column('fluence_ratio'))) with boxxyerror fillcolor palette
