# Which share of the pigment grains is disrupted at which fluence, and below, where that becomes a sign one can see.
#
#   gnuplot -d -c disrupted.gp DATA OUTPUT KIND NUMBERS HEADING ASKED CORNER PLACE WORDS
#
# DATA is disrupted.csv. NUMBERS are separated by blanks, in J/m², °C and m; WORDS hold the same in words at the same
# places, each in single quotes, fluences from the 8th on in J/cm² without their unit:
#   1 the scenario's own fluence of every pulse, 2 criterion, 3 how many pulses (in words: the headline),
#   4 column of disrupted pigment that counts as a sign, 5 and 6 the least and the most it is put at,
#   7 factor on the pigment of the tanned neighbour (1: there is none),
#   8 fluence of a sign at the column of 4, 9 at that of 5, 10 at that of 6 (0: not so much pigment),
#   11 fluence for one grain (0: none, or not asked), 12 column of all pigment: the lesion,
#   13 to 17 the same of the neighbour, 18 to 22 of the tanned neighbour.
# PLACE is where in a grain the criterion is looked for.

DATA = ARG1
OUTPUT = ARG2
KIND = ARG3
HEADING = ARG5
ASKED = ARG6
CORNER = ARG7
PLACE = ARG8
ROW_PITCH = 52.0
n_row = word(ARG4, 7) + 0.0 > 1.0 ? 3 : 2
HEIGHT = 598.0 + ROW_PITCH * n_row

folder = ARG0
while (strlen(folder) > 0 && substr(folder, strlen(folder), strlen(folder)) ne '/') {
    folder = substr(folder, 1, strlen(folder) - 1)
}
load folder.'style.gp'

number(i) = word(ARG4, i) + 0.0
in_words(i) = word(ARG9, i)

own = 1e-4 * number(1) # fluences are drawn in J/cm²
n_pulse = int(number(3))
FIRST = 8 # the five numbers of a row follow
OF_ROW = 5
at(row, i) = FIRST + OF_ROW * (row - 1) + i
sign_at(row) = 1e-4 * number(at(row, 0))
least_at(row) = 1e-4 * number(at(row, 1))
most_at(row) = 1e-4 * number(at(row, 2))
grain_at(row) = 1e-4 * number(at(row, 3))
pigment(row) = number(at(row, 4))

site(i) = word('lesion neighbour', i)
called(i) = site(i).(pigment(i) > 0.0 ? '' : ', one imagined grain')
fluence(any) = 1e-4 * column('fluence_J_m2')
by_number(i) = 100.0 * column(site(i).'_share_by_number')
by_volume(i) = 100.0 * column(site(i).'_share_by_volume')

# ---- what is there: the rows' range, where the curves pass the heights of their names, and whether volume differs ----

VISIBLY = 1.5                  # percent
LEAP = 25.0                    # percent, from one row to the next
FLAT = 0.1                     # so near to none or all, in percent, a curve goes on beyond the rows: it never falls
array height[2] = [62.0, 38.0] # of the name at the left of the curves, and of the one at the right
array passed[8]                # by curve and height
array begins_at[4]             # share in the first row, by curve
array ends_at[4]
curve(i, volume) = 2 * (i - 1) + volume + 1
which(i, volume, h) = 2 * (curve(i, volume) - 1) + h
apart = 0.0
leaps = 0.0
do for [i = 1:2] {
    do for [volume = 0:1] {
        do for [h = 1:2] {
            x_before = y_before = y_first = place = NaN
            from_row = 1e30
            to_row = 0.0
            stats DATA using (x = fluence(0), y = volume ? by_volume(i) : by_number(i), \
                              from_row = least(from_row, x), to_row = most(to_row, x), \
                              apart = most(apart, abs(by_volume(i) - by_number(i))), \
                              y - y_before > LEAP ? leaps = most(leaps, 100.0 * (x / x_before - 1.0)) : 0, \
                              y_first = y_first == y_first ? y_first : y, \
                              y_before < height[h] && y >= height[h] && !(place == place) ? \
                                  place = x_before * (x / x_before)**((height[h] - y_before) / (y - y_before)) : 0, \
                              x_before = x, y_before = y, y) nooutput
            if (to_row == 0.0) { exit error 'no shares of grains' }
            passed[which(i, volume, h)] = place == place ? place : y_before < height[h] ? to_row : from_row
            begins_at[curve(i, volume)] = y_first
            ends_at[curve(i, volume)] = y_before
        }
    }
}
volumes = apart > VISIBLY
earliest(i, h) = least(passed[which(i, 0, h)], passed[which(i, 1, h)])
latest(i, h) = most(passed[which(i, 0, h)], passed[which(i, 1, h)])
at_left = earliest(1, 1) <= earliest(2, 1) ? 1 : 2
at_right = 3 - at_left

# ---- the fluence axis: the rows, the marks when they are near, and a decade at least ----

NEAR = 10.0 # times beyond the rows
BESIDE = 1.2
begin = from_row
end = to_row
near(x) = x > from_row / NEAR && x < to_row * NEAR
do for [i = 1:22] {
    if (i == 1 || (i >= FIRST && (i - FIRST) % OF_ROW < 4)) {
        mark = 1e-4 * number(i)
        if (near(mark)) {
            begin = least(begin, mark / BESIDE)
            end = most(end, mark * BESIDE)
        }
    }
}
widen = most(sqrt(10.0 * begin / end), 1.0)
begin = begin / widen
end = end * widen

LEFT = 0.155
RIGHT = 0.765 # beside it stand the numbers
decades = log10(end / begin)
across(x) = LEFT + log10(x / begin) / decades * (RIGHT - LEFT)
inside(x) = x >= begin && x <= end
set lmargin at screen LEFT
set rmargin at screen RIGHT
set logscale x
set xrange [begin:end]
steps = decades > 4.5 ? '1' : decades > 2.8 ? '1 3' : '1 2 5'
tic(n, k) = (word(steps, k) + 0.0) * 10.0**n
lowest = floor(log10(begin))
highest = ceil(log10(end))
set xtics ()
do for [n = lowest:highest] { do for [k = 1:words(steps)] { if (inside(tic(n, k))) { set xtics add ('' tic(n, k)) } } }

# ---- words above ----

set label 904 in_words(3) at screen 0.015, down_to(76) noenhanced
colour(row) = row == 1 ? VERMILLION : BLUE
set linetype 5 linecolor rgb BLUE linewidth 1.8 dashtype (12, 4, 2, 4) # the tanned neighbour
line_of(row) = int(word('1 2 5', row))
set style textbox opaque noborder margins 0.6, 0.4

KEY_LINE = 0.035
DOT = KIND eq 'png' ? 1.6 : 0.65
RING = 1.6 * DOT
set samples 2 # so often each mark is drawn
KEY = 106.0
key_x(i) = word(volumes ? '0.155 0.37 0.54' : '0.155 0.155 0.5', i) + 0.0
set arrow 1 from screen key_x(1), down_to(KEY) rto screen KEY_LINE, 0 nohead linewidth 2.2 linecolor rgb BLACK
set label 1 (volumes ? 'by number of grains' : 'by number of grains, by volume nearly alike') at screen key_x(1) + KEY_LINE + 0.008, down_to(KEY) left noenhanced font SMALL
if (volumes) {
    set arrow 2 from screen key_x(2), down_to(KEY) rto screen KEY_LINE, 0 nohead linewidth 0.9 linecolor rgb BLACK
    set label 2 'by volume' at screen key_x(2) + KEY_LINE + 0.008, down_to(KEY) left noenhanced font SMALL
}
set label 3 '' at screen key_x(3), down_to(KEY) point pointtype 7 pointsize DOT
set label 4 in_words(4).' of disrupted pigment, taken as a sign (no source)' at screen key_x(3) + 0.015, down_to(KEY) left noenhanced font SMALL

own_words = 'this scenario: '.in_words(1).(n_pulse > 1 ? ' each' : '')
own_words = own < begin ? '← '.own_words : own > end ? own_words.' →' : own_words
half = 0.5 * strlen(own_words) * 6.2 / WIDTH

set multiplot

# ---- above: the shares ----

TOP = 148.0
BOTTOM = 420.0
BARS_TOP = 474.0
BARS_BOTTOM = BARS_TOP + ROW_PITCH * n_row
low = -2.0
high = 104.0
set tmargin at screen down_to(TOP)
set bmargin at screen down_to(BOTTOM)
set yrange [low:high]
set ytics 20
up(y) = down_to(BOTTOM - (y - low) / (high - low) * (BOTTOM - TOP))
row_at(row) = down_to(BARS_TOP + ROW_PITCH * (row - 0.5))

set label 5 own_words at screen bound(across(bound(own, begin, end)), LEFT + half, RIGHT - half), down_to(TOP - 10) center noenhanced font SMALL
if (inside(own)) { set arrow 5 from screen across(own), down_to(TOP) to screen across(own), down_to(BOTTOM) nohead linewidth 1.2 linecolor rgb BLACK back }
set label 905 'grains disrupted, %' at screen 0.024, down_to(0.5 * (TOP + BOTTOM)) center rotate by 90
set label 6 called(at_left) at screen most(across(earliest(at_left, 1)) - 0.014, LEFT + 0.012 + strlen(called(at_left)) * LETTER / WIDTH), up(height[1]) right noenhanced boxed textcolor linetype at_left front
set label 7 called(at_right) at screen across(latest(at_right, 2)) + 0.014, up(height[2]) left noenhanced boxed textcolor linetype at_right front

# From the curve down to the bar that says how sure this is.
do for [i = 1:2] {
    if (inside(sign_at(i))) {
        set arrow 10 + i from screen across(sign_at(i)), up(100.0 * number(4) / pigment(i)) to screen across(sign_at(i)), down_to(BOTTOM) \
            nohead linewidth 1.2 dashtype (2, 3) linecolor rgb colour(i)
    }
}
# Beyond the rows, where nothing changes any more.
do for [i = 1:2] {
    c = curve(i, 0)
    if (from_row > begin && begins_at[c] < FLAT) { set arrow 20 + i from begin, begins_at[c] to from_row, begins_at[c] nohead linetype i }
    if (to_row < end && ends_at[c] > 100.0 - FLAT) { set arrow 30 + i from to_row, ends_at[c] to end, ends_at[c] nohead linetype i }
}
plot for [i = 1:2] DATA using (fluence(0)):(volumes ? by_volume(i) : NaN) with lines linetype i linewidth 0.9, \
     for [i = 1:2] DATA using (fluence(0)):(by_number(i)) with lines linetype i, \
     for [i = 1:2] '+' using (inside(sign_at(i)) ? sign_at(i) : NaN):(100.0 * number(4) / pigment(i)) with points pointtype 7 pointsize DOT linecolor rgb colour(i)

# ---- below: a sign that one can see ----

unset for [i = 1:7] label i
unset for [i = 1:32] arrow i
unset for [i = 901:905] label i

set tmargin at screen down_to(BARS_TOP)
set bmargin at screen down_to(BARS_BOTTOM)
set yrange [0:1]
unset ytics
set border 1
do for [n = lowest:highest] { do for [k = 1:words(steps)] { if (inside(tic(n, k))) { set xtics add (sprintf('%g', tic(n, k)) tic(n, k)) } } }

KEY = BARS_TOP - 22.0
set label 7 'a sign one can see' at screen 0.015, down_to(KEY) left noenhanced font SMALL
set arrow 1 from screen 0.155, down_to(KEY) rto screen KEY_LINE, 0 heads size screen 0.005, 90 linewidth 2.2 linecolor rgb BLACK
set label 1 in_words(5).' to '.in_words(6).' (no source)' at screen 0.155 + KEY_LINE + 0.012, down_to(KEY) left noenhanced font SMALL
set label 2 '' at screen 0.43, down_to(KEY) point pointtype 7 pointsize DOT
set label 3 in_words(4) at screen 0.445, down_to(KEY) left noenhanced font SMALL
set label 4 '' at screen 0.55, down_to(KEY) point pointtype 6 pointsize RING linewidth 1.3
set label 5 'one grain of median size, mean darkness' at screen 0.568, down_to(KEY) left noenhanced font SMALL
set label 6 'J/cm²' at screen 0.985, down_to(KEY) right noenhanced font SMALL textcolor rgb QUIET

row_name(row) = row < 3 ? site(row) : "neighbour with\n".in_words(7).' × its pigment'
do for [row = 1:n_row] {
    here = row_at(row)
    if (row < 3 && inside(sign_at(row))) {
        set arrow 60 + row from screen across(sign_at(row)), down_to(BARS_TOP) to screen across(sign_at(row)), here \
            nohead linewidth 1.2 dashtype (2, 3) linecolor rgb colour(row)
    }
    set label 10 + row row_name(row) at screen 0.015, here + (row == 3 ? 0.4 * ROW / HEIGHT : 0.0) left noenhanced font SMALL textcolor rgb colour(row)

    # A range whose upper end would take more pigment than there is stays open.
    open = most_at(row) == 0.0
    from = least_at(row)
    to = open ? end : most_at(row)
    if (from > 0.0 && from < end && to > begin) {
        set arrow 10 + row from screen across(most(from, begin)), here to screen across(least(to, end)), here \
            nohead linetype line_of(row) linewidth (open ? 1.2 : 2.2)
        if (from >= begin) { set arrow 20 + row from screen across(from), here - 5 / HEIGHT rto screen 0, 10 / HEIGHT nohead linewidth 1.8 linecolor rgb colour(row) }
        if (to <= end && !open) { set arrow 30 + row from screen across(to), here - 5 / HEIGHT rto screen 0, 10 / HEIGHT nohead linewidth 1.8 linecolor rgb colour(row) }
    }
    if (from > 0.0 && (open || to > end)) {
        set arrow 40 + row from screen RIGHT - 0.002, here rto screen 0.012, 0 head filled size screen 0.01, 20 linewidth 1.4 linecolor rgb colour(row)
    }
    if (from > 0.0 && from < begin) {
        set arrow 50 + row from screen LEFT + 0.002, here rto screen -0.012, 0 head filled size screen 0.01, 20 linewidth 1.4 linecolor rgb colour(row)
    }

    # The same in numbers.
    some = sign_at(row) > 0.0
    of_sign = from == 0.0 ? (pigment(row) > 0.0 ? "no sign: not so much pigment\n(".in_words(at(row, 4)).' in all)' : "no sign:\nno pigment") \
            : some && !open ? 'sign '.in_words(at(row, 0)).' ('.in_words(at(row, 1)).' to '.in_words(at(row, 2)).')' \
            : (some ? 'sign '.in_words(at(row, 0)).' (from '.in_words(at(row, 1)).' on)' : 'no sign (only '.in_words(5).': '.in_words(at(row, 1)).')') \
              ."\n".in_words(some ? 6 : 4).': not so much pigment'
    of_grain = row == 3 ? '' : "\none grain ".(grain_at(row) > 0.0 ? in_words(at(row, 3)) : 'at no fluence')
    n_line = 1 + open + (row < 3)
    set label 20 + row of_sign.of_grain at screen RIGHT + 0.02, here + 0.39 * (n_line - 1) * ROW / HEIGHT left noenhanced font SMALL textcolor rgb colour(row)
}
if (inside(own)) { set arrow 5 from screen across(own), down_to(BARS_TOP) to screen across(own), down_to(BARS_BOTTOM) nohead linewidth 1.2 linecolor rgb BLACK back }

set label 906 (n_pulse > 1 ? 'fluence of every pulse, J/cm²' : 'fluence of the pulse, J/cm²') at screen 0.5 * (LEFT + RIGHT), down_to(BARS_BOTTOM + 44) center
set label 907 'a grain counts as disrupted at '.in_words(2).', '.PLACE.'; not clearance. A sign: so much disrupted pigment, as the thickness of a layer of nothing else' \
    at screen 0.015, down_to(HEIGHT - 32) left noenhanced font SMALL textcolor rgb QUIET
if (leaps > 0.0) {
    set label 908 sprintf('where a curve leaps between two of the fluences computed, %.0f %% apart, it is drawn straight', leaps) \
        at screen 0.015, down_to(HEIGHT - 49) left noenhanced font SMALL textcolor rgb QUIET
}
share_of(row) = 1.0 - (row - 0.5) / n_row
plot for [row = 1:n_row] '+' using (inside(grain_at(row)) ? grain_at(row) : NaN):(share_of(row)) with points pointtype 7 pointsize RING linecolor rgb '#ffffff', \
     for [row = 1:n_row] '+' using (inside(grain_at(row)) ? grain_at(row) : NaN):(share_of(row)) with points pointtype 6 pointsize RING linewidth 1.3 linecolor rgb colour(row), \
     for [row = 1:n_row] '+' using (inside(sign_at(row)) ? sign_at(row) : NaN):(share_of(row)) with points pointtype 7 pointsize DOT linecolor rgb colour(row)
unset multiplot
