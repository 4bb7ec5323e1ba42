# The window of one pulse: pulse width across, fluence upwards. Left, where grains are disrupted; right, where that
# becomes a sign one can see, and where warmth that lasts does damage.
#
#   gnuplot -d -c window.gp DATA OUTPUT KIND NUMBERS HEADING ASKED CORNER PLACE WORDS
#
# DATA is window.csv. NUMBERS are separated by blanks, in s and J/m²; WORDS hold the same in words, each in single quotes:
#   1 the scenario's own width, 2 relaxation of the grain in the lesion, 3 in the neighbour, 4 sound across the grain of
#   the lesion, 5 of the neighbour, 6 the scenario's own fluence, 7 and 8 the ends of the fluence axis (in words: the
#   criterion, the range of the column of a sign).
# PLACE is where in a grain the criterion is looked for.

DATA = ARG1
OUTPUT = ARG2
KIND = ARG3
HEADING = ARG5
ASKED = ARG6
CORNER = ARG7
PLACE = ARG8
HEIGHT = 640.0

folder = ARG0
while (strlen(folder) > 0 && substr(folder, strlen(folder), strlen(folder)) ne '/') {
    folder = substr(folder, 1, strlen(folder) - 1)
}
load folder.'style.gp'

number(i) = word(ARG4, i) + 0.0
in_words(i) = word(ARG9, i)
micro(text) = substr(word(text, 2), 1, 1) eq 'u' ? word(text, 1).' µ'.substr(word(text, 2), 2, strlen(word(text, 2))) : text
squared(text) = substr(text, strlen(text), strlen(text)) eq '2' ? substr(text, 1, strlen(text) - 1).'²' : text

own_width = number(1)
own_fluence = 1e-4 * number(6) # drawn in J/cm²
low = 1e-4 * number(7)
high = 1e-4 * number(8)

# ---- what is there ----

SHORT = 'damage_illustrative'
site(i) = word('lesion neighbour', i)
begin = 1e30
end = 0.0
stats DATA using (w = column('width_s'), begin = least(begin, w), end = most(end, w), w) nooutput
fluence(i, what) = 1e-4 * column(site(i).'_'.what.'_J_m2')
pale(i) = i == 1 ? '#f6dcc8' : '#cfe3f0'

# Where the curves begin: their names stand there, outside of lesion and neighbour alike.
array height[5]
what(k) = word('share5 share50 share95 threshold_sign_low damage', k)
array name[5] = ['5 %', '50 %', '95 %', 'sign', 'damage']
below(k) = k == 1 || k == 4
outer(k, one, other) = below(k) ? least(one, other) : most(one, other)
left_out = 0
stats DATA using (left_out = left_out + (strcol(SHORT) eq ''), 0.0) nooutput
array harm[2] # of the narrowest pulse
do for [i = 1:2] { first = NaN; stats DATA using (first = first == first ? first : fluence(i, 'damage'), 0.0) nooutput; harm[i] = first }
array some[2] # grains to disrupt at any width
do for [i = 1:2] { some[i] = 0; stats DATA using (some[i] = some[i] || fluence(i, 'share50') > 0.0, 0.0) nooutput }
called(i) = site(i).(some[i] ? '' : ', no pigment')
last_short = 0.0 # pulses up to it only have an illustration of damage
stats DATA using (w = column('width_s'), last_short = column(SHORT) == 1.0 ? most(last_short, w) : last_short, 0.0) nooutput
answered = 0.0
do for [k = 1:5] {
    place = NaN
    stats DATA using (one = fluence(1, what(k)), other = fluence(2, what(k)), answered = one > 0.0 ? 1.0 : answered, \
                      place = place == place ? place : outer(k, one, other), 0.0) nooutput
    height[k] = place
}
if (answered == 0.0) { exit error 'no widths' }

set linetype 21 linecolor rgb VERMILLION linewidth 1.0 dashtype solid
set linetype 22 linecolor rgb BLUE linewidth 1.0 dashtype (14, 6)

set logscale xy
set xrange [begin:end]
set yrange [low:high]
set xtics ('10 ps' 1e-11, '' 1e-10, '1 ns' 1e-9, '' 1e-8, '100 ns' 1e-7, '' 1e-6, '10 µs' 1e-5, '' 1e-4, '1 ms' 1e-3, '' 1e-2, '100 ms' 1e-1)
set ytics () # hand-made: powers and their halves
do for [n = floor(log10(low)):ceil(log10(high))] {
    set ytics add (sprintf('%g', 10.0**n) 10.0**n, sprintf('%g', 3.0 * 10.0**n) 3.0 * 10.0**n)
}

TOP = 178.0
BOTTOM = 518.0
WIDE = 0.385
left_of(panel) = panel == 1 ? 0.08 : 0.575
panel_x(panel, width) = left_of(panel) + WIDE * log10(width / begin) / log10(end / begin)
panel_y(f) = down_to(BOTTOM) + (down_to(TOP) - down_to(BOTTOM)) * log10(f / low) / log10(high / low)
set tmargin at screen down_to(TOP)
set bmargin at screen down_to(BOTTOM)
set style textbox opaque noborder margins 0.4, 0.2

set label 904 'ONE pulse, without vaporisation. Left: grains disrupted, not clearance. Right, same axes: a sign, and damage by warmth.' at screen 0.015, down_to(76) noenhanced
DOT = KIND eq 'png' ? 1.7 : 0.75
set samples 2
inside(w, f) = w >= begin && w <= end && f >= low && f <= high
own_seen = inside(own_width, own_fluence)

set multiplot
do for [panel = 1:2] {
    set lmargin at screen left_of(panel)
    set rmargin at screen left_of(panel) + WIDE
    if (panel == 2) {
        unset for [i = 901:904] label i
        unset for [i = 1:60] label i
        unset for [i = 1:60] arrow i
    }

    # The key, above the panel, so that no name lies on a curve.
    KEY = 104.0
    LINE = 0.04
    x = left_of(panel)
    if (panel == 1) {
        set label 1 'grains disrupted: 5 %, 50 % (thick), 95 %, by number' at screen x, down_to(KEY) left noenhanced
    } else {
        set label 1 'a sign one can see; damage by warmth' at screen x, down_to(KEY) left noenhanced
    }
    do for [i = 1:2] {
        set arrow i from screen x + (i - 1) * 0.5 * WIDE, down_to(KEY + 20) rto screen LINE, 0 nohead linetype i
        set label 1 + i called(i) at screen x + (i - 1) * 0.5 * WIDE + LINE + 0.008, down_to(KEY + 20) left textcolor linetype i
    }
    if (panel == 2) {
        set arrow 3 from screen x, down_to(KEY + 40) rto screen LINE, 0 nohead linewidth 1.6 linecolor rgb BLACK dashtype (10, 3, 2, 3)
        set arrow 4 from screen x + 0.2 * WIDE, down_to(KEY + 40) rto screen LINE, 0 nohead linewidth 1.6 linecolor rgb BLACK dashtype (1.5, 3)
        set label 4 'damage, Ω = 1 (band: grey)' at screen x + LINE + 0.008, down_to(KEY + 40) left noenhanced font SMALL
        unset arrow 4
        set arrow 4 from screen x + 0.58 * WIDE, down_to(KEY + 40) rto screen LINE, 0 nohead linewidth 1.6 linecolor rgb BLACK dashtype (1.5, 3)
        set label 5 'an illustration' at screen x + 0.58 * WIDE + LINE + 0.008, down_to(KEY + 40) left noenhanced font SMALL
    } else {
        set label 4 'disrupted at '.in_words(7).', '.PLACE at screen x, down_to(KEY + 40) left noenhanced font SMALL
    }

    if (panel == 2) {
        do for [i = 1:2] {
            if (harm[i] > low && harm[i] < high) {
                set label 30 + i 'damage, '.site(i) at screen left_of(panel) + 0.012, panel_y(harm[i]) + (harm[i] < harm[3 - i] || (harm[i] == harm[3 - i] && i == 1) ? -9.0 : 9.0) / HEIGHT left noenhanced font SMALL textcolor rgb (i == 1 ? VERMILLION : BLUE) front
            }
        }
    }
    do for [k = (panel == 1 ? 1 : 4):(panel == 1 ? 3 : 4)] {
        if (height[k] > low && height[k] < high) {
            set label 20 + k name[k] at screen left_of(panel) + 0.012, panel_y(height[k]) + (below(k) ? -11.0 : 11.0) / HEIGHT left noenhanced font SMALL front
        }
    }

    # Marks of the grain: its relaxation, and sound across it.
    do for [i = 1:2] {
        relaxation = number(1 + i)
        if (relaxation > begin && relaxation < end) {
            set arrow 10 + i from screen panel_x(panel, relaxation), down_to(TOP) to screen panel_x(panel, relaxation), down_to(BOTTOM) \
                nohead linetype 20 + i back
        }
    }
    sound = number(4)
    if (sound > begin && sound < end) {
        set arrow 13 from screen panel_x(panel, sound), down_to(TOP) to screen panel_x(panel, sound), down_to(BOTTOM) \
            nohead linewidth 1.1 dashtype (3, 3) linecolor rgb QUIET back
    }
    if (panel == 1) {
        if (number(2) > 0.0) {
            set label 14 'relaxation '.micro(in_words(2)).' | '.micro(in_words(3)) at screen panel_x(panel, least(number(2), number(3))), down_to(TOP - 9) left noenhanced font SMALL
        }
        if (sound > begin && sound < end) {
            set label 15 'sound '.micro(in_words(4)) at screen most(panel_x(panel, sound), left_of(panel) + 0.088), down_to(TOP - 9) right noenhanced font SMALL textcolor rgb QUIET
        }
        set label 905 'fluence of the pulse, J/cm²' at screen 0.018, down_to(0.5 * (TOP + BOTTOM)) center rotate by 90
    } else {
        unset label 905
    }
    set label 906 'pulse width' at screen left_of(panel) + 0.5 * WIDE, down_to(BOTTOM + 42) center
    if (own_seen && panel == 1) {
        set label 16 'this scenario: '.micro(in_words(1)).', '.squared(in_words(6)) at screen left_of(1), down_to(BOTTOM + 66) left noenhanced font SMALL point pointtype 7 pointsize DOT offset 1.2, 0
    }
    if (!own_seen && panel == 1) {
        set label 16 'this scenario lies outside: '.micro(in_words(1)).', '.squared(in_words(6)) at screen left_of(1), down_to(BOTTOM + 66) left noenhanced font SMALL
    }
    if (panel == 2) {
        set label 17 'right, bands: grains 3.16 to 0.316 × as dark; of a sign also its column, '.in_words(8).', no source. No side of any line is harmless.'.(left_out ? '; no curves: widths that this scenario does not allow' : '') at screen left_of(1), down_to(BOTTOM + 84) left noenhanced font SMALL textcolor rgb QUIET
    }

    if (panel == 1) {
        plot for [i = 2:1:-1] DATA using 'width_s':(fluence(i, 'share5')):(fluence(i, 'share95')) with filledcurves fillcolor rgb pale(i) fillstyle transparent solid 0.45, \
             for [i = 1:2] DATA using 'width_s':(fluence(i, 'share5')) with lines linetype i linewidth 1.0, \
             for [i = 1:2] DATA using 'width_s':(fluence(i, 'share95')) with lines linetype i linewidth 1.0, \
             for [i = 1:2] DATA using 'width_s':(fluence(i, 'share50')) with lines linetype i linewidth 2.8, \
             '+' using (own_seen ? own_width : NaN):(own_fluence) with points pointtype 7 pointsize DOT linecolor rgb BLACK
    } else {
        plot for [i = 2:1:-1] DATA using 'width_s':(fluence(i, 'damage_low')):(fluence(i, 'damage_high')) with filledcurves fillcolor rgb '#8c8c8c' fillstyle transparent solid 0.16, \
             for [i = 2:1:-1] DATA using 'width_s':(fluence(i, 'threshold_sign_low')):(fluence(i, 'threshold_sign_high')) with filledcurves fillcolor rgb pale(i) fillstyle transparent solid 0.6, \
             for [i = 1:2] DATA using 'width_s':(fluence(i, 'threshold_sign')) with lines linetype i, \
             for [i = 1:2] DATA using 'width_s':(column('width_s') >= last_short ? fluence(i, 'damage') : NaN) with lines linewidth 1.8 dashtype (10, 3, 2, 3) linecolor rgb (i == 1 ? VERMILLION : BLUE), \
             for [i = 1:2] DATA using 'width_s':(column(SHORT) == 1.0 ? fluence(i, 'damage') : NaN) with lines linewidth 1.8 dashtype (1.5, 3) linecolor rgb (i == 1 ? VERMILLION : BLUE), \
             '+' using (own_seen ? own_width : NaN):(own_fluence) with points pointtype 7 pointsize DOT linecolor rgb BLACK
    }
}
unset multiplot
