# Two keys: the share of grains disrupted and the threshold of a sign, lesion and neighbour, as maps. Loaded by sweep.gp.
# The first key runs across, the second upwards; a cell stands for the point in its middle.

WIDE = 0.335
TALL = 0.275
left_of(panel) = panel % 2 == 1 ? 0.105 : 0.515
top_of(panel) = panel <= 2 ? 0.82 : 0.42

number_at(panel, site) = panel <= 2 ? 100.0 * column(site.'_share_disrupted') : 1e-4 * column(site.'_threshold_sign_J_m2')

lowest = 1e30
highest = 0.0
do for [site in 'lesion neighbour'] {
    stats DATA using (v = number_at(3, site), lowest = v == v ? least(lowest, v) : lowest, highest = v == v ? most(highest, v) : highest, 1) nooutput
}
if (highest == 0.0) { lowest = highest = 1.0 }
if (highest < 1.05 * lowest) {
    highest = 1.05 * highest
    lowest = lowest / 1.05
}
few_decades = highest < 200.0 * lowest
if (highest < 1.6 * lowest) { # so that two marks lie inside
    highest = 1.3 * highest
    lowest = lowest / 1.3
}

# Dark to light in even steps of lightness, readable in grey as well.
set palette defined (0 '#10194a', 1 '#23508a', 2 '#3d8a97', 3 '#7fbf85', 4 '#d3e07a', 5 '#fff8c6')

set xrange [edge(1, number(1, 2), -0.5):edge(1, number(1, 3), 0.5)]
set yrange [edge(2, number(2, 2), -0.5):edge(2, number(2, 3), 0.5)]
if (is_log(1)) { set logscale x }
if (is_log(2)) { set logscale y }
set format x '%g'
set format y '%g'
if (by_prefix(1)) {
    set xtics ()
    do for [e = first_decade(1):last_decade(1):every_decade(1)] {
        do for [m in mark_factors(1)] {
            at = m * 10.0**e
            if (at > (1.0 - 1e-9) * number(1, 2) && at < (1.0 + 1e-9) * number(1, 3)) { set xtics add (mark_words(1, e, m + 0.0) at) }
        }
    }
}
if (by_prefix(2)) {
    set ytics ()
    do for [e = first_decade(2):last_decade(2):every_decade(2)] {
        do for [m in mark_factors(2)] {
            at = m * 10.0**e
            if (at > (1.0 - 1e-9) * number(2, 2) && at < (1.0 + 1e-9) * number(2, 3)) { set ytics add (mark_words(2, e, m + 0.0) at) }
        }
    }
}
set xlabel key_label(1) noenhanced offset 0, 0.4
if (by_prefix(1)) { set xtics font SMALL }
set border 15 linewidth 1 linecolor rgb '#404040'
set style fill solid noborder
set label 906 'middle values: low and high stand in sweep.csv; grey: no pigment, or no sign at any fluence' at screen 0.985, down_to(72) right font SMALL textcolor rgb QUIET
own = has_own(1) && has_own(2)
if (own) { set label 907 "cross: the scenario's own values" at screen 0.105, down_to(72) left font SMALL textcolor rgb QUIET }

set multiplot
do for [panel = 1:4] {
    site = word('lesion neighbour', 2 - panel % 2)
    set lmargin at screen left_of(panel)
    set rmargin at screen left_of(panel) + WIDE
    set tmargin at screen top_of(panel)
    set bmargin at screen top_of(panel) - TALL
    set label 920 site.': '.(panel <= 2 ? 'grains disrupted, %' : 'threshold of a sign, J/cm²') at screen left_of(panel), top_of(panel) + 0.025 left
    if (panel == 2) {
        unset for [i = 901:903] label i
        unset for [i = 906:907] label i
    }
    if (panel % 2 == 1) {
        unset colorbox
        set label 921 key_label(2) at screen 0.02, top_of(panel) - 0.5 * TALL center rotate by 90 noenhanced
    } else {
        unset label 921
        set colorbox user origin screen left_of(2) + WIDE + 0.02, screen top_of(panel) - TALL size screen 0.02, screen TALL
    }
    if (panel <= 2) {
        unset logscale cb
        set cbrange [0:100]
        set cbtics 0, 20, 100 format '%g'
    } else {
        set logscale cb
        set cbrange [lowest:highest]
        set cbtics ()
        do for [e = floor(log10(lowest)):floor(log10(highest))] {
            do for [m in highest < 3.0 * lowest ? '1 1.2 1.4 1.6 1.8 2 2.5 3 4 5 6 7 8 9' : few_decades ? '1 1.5 2 3 5 7' : '1'] {
                at = m * 10.0**e
                if (at >= 0.999 * lowest && at <= 1.001 * highest) { set cbtics add (sprintf('%g', at) at) }
            }
        }
    }
    set object 1 rectangle from graph 0, graph 0 to graph 1, graph 1 fillcolor rgb SHADE fillstyle solid noborder behind
    if (own) { set label 930 '' at first in_unit(1, number(1, 6)), first in_unit(2, number(2, 6)) point pointtype 2 pointsize (KIND eq 'png' ? 2.2 : 1.0) linewidth 2 linecolor rgb VERMILLION front }
    # A box without a value would be painted white over the grey: it has no place either.
    plot DATA using (number_at(panel, site) == number_at(panel, site) ? in_unit(1, column(key_column(1))) : NaN):(in_unit(2, column(key_column(2)))): \
         (edge(1, column(key_column(1)), -0.51)):(edge(1, column(key_column(1)), 0.51)): \
         (edge(2, column(key_column(2)), -0.51)):(edge(2, column(key_column(2)), 0.51)):(number_at(panel, site)) \
         with boxxyerror fillcolor palette
}
unset multiplot
