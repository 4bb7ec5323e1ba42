# One key: light, highest rise, thresholds and grains disrupted, lesion and neighbour, with their spreads as bands.
# Loaded by sweep.gp.

set linetype 21 linecolor rgb VERMILLION linewidth 2.2 dashtype solid
set linetype 22 linecolor rgb BLUE linewidth 2.2 dashtype (14, 6)
set linetype 23 linecolor rgb VERMILLION linewidth 1.6 dashtype (3, 4)
set linetype 24 linecolor rgb BLUE linewidth 1.6 dashtype (10, 4, 2, 4)

WIDE = 0.385
TALL = 0.27
left_of(panel) = panel % 2 == 1 ? 0.085 : 0.575
top_of(panel) = panel <= 2 ? 0.80 : 0.375

array TITLE[4] = ['light, J/cm²', 'highest rise of a grain, no vaporisation, K', 'thresholds, J/cm²', 'grains disrupted, %']
array FIRST[4] = ['light_grain_J_m2', 'grain_peak_K', 'threshold_sign_J_m2', 'share_disrupted']
array SECOND[4] = ['light_1mm_J_m2', '', 'threshold_grain_J_m2', '']
array FIRST_NAME[4] = ['at the grain', '', 'of a sign', '']
array SECOND_NAME[4] = ['at 1 mm', '', 'of a grain', '']
array SCALE[4] = [1e-4, 1.0, 1e-4, 1e2]

x(dummy) = in_unit(1, column(key_column(1)))
y(panel, site, name, end) = SCALE[panel] * column(site.'_'.name.end)

# What a panel shows at most, the open ends of bands left out; and whether there is anything to show.
most_of(panel) = panel == 4 ? 100.0 : MOST[panel]
array MOST[4]
array N_SHOWN[4]
do for [panel = 1:4] {
    highest = 0.0
    n = 0
    do for [site in 'lesion neighbour'] {
        stats DATA using (v = y(panel, site, FIRST[panel], ''), n = n + (v == v), highest = v == v ? most(highest, v) : highest, 1) nooutput
        stats DATA using (v = y(panel, site, FIRST[panel], '_high'), highest = v == v ? most(highest, least(v, 4.0 * highest)) : highest, 1) nooutput
        if (strlen(SECOND[panel]) > 0) {
            stats DATA using (v = y(panel, site, SECOND[panel], ''), highest = v == v ? most(highest, v) : highest, 1) nooutput
        }
    }
    MOST[panel] = highest > 0.0 ? highest : 1.0
    N_SHOWN[panel] = n
}

set xrange [in_unit(1, number(1, 2)):in_unit(1, number(1, 3))]
if (is_log(1)) { set logscale x }
set format x '%g'
if (by_prefix(1)) {
    set xtics ()
    do for [e = first_decade(1):last_decade(1):every_decade(1)] {
        do for [m in mark_factors(1)] {
            at = m * 10.0**e
            if (at > (1.0 - 1e-9) * number(1, 2) && at < (1.0 + 1e-9) * number(1, 3)) { set xtics add (mark_words(1, e, m + 0.0) at) }
        }
    }
}
set xlabel key_label(1) noenhanced offset 0, 0.4

if (has_own(1)) {
    set arrow 900 from first in_unit(1, number(1, 6)), graph 0 to first in_unit(1, number(1, 6)), graph 1 nohead linewidth 1 linecolor rgb QUIET dashtype (2, 4) back
    set label 906 "upright line: the scenario's own value" at screen 0.985, down_to(72) right font SMALL textcolor rgb QUIET
}
do for [i = 1:2] {
    set arrow 910 + i from screen 0.085 + 0.15 * (i - 1), down_to(72) rto screen 0.045, 0 nohead linetype 20 + i
    set label 910 + i word('lesion neighbour', i) at screen 0.138 + 0.15 * (i - 1), down_to(72) left textcolor linetype 20 + i
}
set label 913 'shaded: low to high (top: no high)' at screen 0.385, down_to(72) left font SMALL textcolor rgb QUIET

set multiplot
do for [panel = 1:4] {
    set lmargin at screen left_of(panel)
    set rmargin at screen left_of(panel) + WIDE
    set tmargin at screen top_of(panel)
    set bmargin at screen top_of(panel) - TALL
    set yrange [0:1.04 * most_of(panel)]
    set label 920 TITLE[panel] at screen left_of(panel) - 0.06, top_of(panel) + 0.032 left
    if (strlen(SECOND[panel]) > 0) {
        do for [k = 1:2] {
            at_x = left_of(panel) + 0.10 + 0.19 * (k - 1)
            do for [i = 1:2] {
                set arrow 930 + 2 * k + i from screen at_x, top_of(panel) + 0.038 - 0.012 * (i - 1) rto screen 0.035, 0 nohead linetype 20 + 2 * (k - 1) + i
            }
            set label 930 + k k == 1 ? FIRST_NAME[panel] : SECOND_NAME[panel] at screen at_x + 0.041, top_of(panel) + 0.032 left font SMALL
        }
    } else {
        unset for [i = 931:932] label i
        unset for [i = 933:936] arrow i
    }
    if (panel == 2) {
        unset for [i = 901:903] label i
        unset for [i = 911:913] label i
        unset for [i = 911:912] arrow i
        unset label 906
    }
    if (N_SHOWN[panel] == 0) {
        set label 940 panel == 3 ? 'no fluence makes a sign' : 'none' at graph 0.5, graph 0.06 center textcolor rgb QUIET
    } else {
        unset label 940
    }
    two = strlen(SECOND[panel]) > 0 ? SECOND[panel] : FIRST[panel]
    plot DATA using (x(0)):(y(panel, 'lesion', FIRST[panel], '_low')):(least(y(panel, 'lesion', FIRST[panel], '_high'), 2.0 * most_of(panel))) \
             with filledcurves fillcolor rgb VERMILLION fillstyle transparent solid 0.12 noborder, \
         DATA using (x(0)):(y(panel, 'neighbour', FIRST[panel], '_low')):(least(y(panel, 'neighbour', FIRST[panel], '_high'), 2.0 * most_of(panel))) \
             with filledcurves fillcolor rgb BLUE fillstyle transparent solid 0.12 noborder, \
         DATA using (x(0)):(strlen(SECOND[panel]) > 0 ? y(panel, 'lesion', two, '') : NaN) with lines linetype 23, \
         DATA using (x(0)):(strlen(SECOND[panel]) > 0 ? y(panel, 'neighbour', two, '') : NaN) with lines linetype 24, \
         DATA using (x(0)):(y(panel, 'lesion', FIRST[panel], '')) with lines linetype 21, \
         DATA using (x(0)):(y(panel, 'neighbour', FIRST[panel], '')) with lines linetype 22
}
unset multiplot
