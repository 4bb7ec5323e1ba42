# Thresholds as this model has them against those in print, for docs/validation.md.
#
#   gnuplot -d -c thresholds.gp DATA OUTPUT KIND CORNER
#
# DATA has the columns row, paper, group, published_J_cm2, low_J_cm2, middle_J_cm2 and high_J_cm2; text may be quoted.
# A group is one of GROUPS below, or empty where nothing is predicted. A row without high stays open above; one without
# any of the three is named under the panel.

DATA = ARG1
OUTPUT = ARG2
KIND = ARG3
CORNER = ARG4
HEADING = 'Predicted against published thresholds'
ASKED = 'each bar runs from the low to the high prediction, its symbol is the middle one'
HEIGHT = 790.0

folder = ARG0
while (strlen(folder) > 0 && substr(folder, strlen(folder), strlen(folder)) ne '/') {
    folder = substr(folder, 1, strlen(folder) - 1)
}
load folder.'style.gp'

FACTOR = 1.46 # the band on either side of equality
N_GROUP = 6
array GROUPS[N_GROUP] = ['human', 'guinea pig', 'explant', 'animal not held', 'grains alone', 'tried afterwards']
shape(group) = int(word('7 5 9 12 6 2', group))
size(group) = word(KIND eq 'png' ? '1.7 1.6 2.0 2.3 1.8 1.8' : '0.7 0.65 0.65 0.6 0.75 0.65', group) + 0.0
array COLOURS[N_GROUP] = [VERMILLION, BLUE, '#7a3e9d', QUIET, BLACK, QUIET]

# ---- the rows ----

n = 0
stats DATA using (n = n + 1, n) nooutput
if (n == 0) { exit error 'no thresholds' }
array name[n]
array group[n]
array published[n]
array low[n]
array middle[n]
array high[n]
group_of(text) = sum [g = 1:N_GROUP] (GROUPS[g] eq text ? g : 0)
i = 0
stats DATA using (i = i + 1, name[i] = strcol('row'), group[i] = group_of(strcol('group')), \
                  published[i] = column('published_J_cm2'), i) nooutput
# Apart, since an empty field would end a row's reading.
do for [k = 1:n] { low[k] = middle[k] = high[k] = NaN }
i = 0
stats DATA using (i = i + 1, low[i] = column('low_J_cm2'), i) nooutput
i = 0
stats DATA using (i = i + 1, middle[i] = column('middle_J_cm2'), i) nooutput
i = 0
stats DATA using (i = i + 1, high[i] = column('high_J_cm2'), i) nooutput

there(x) = x == x && x > 0.0
begin = 1e30
end = 0.0
array is_there[N_GROUP]
do for [g = 1:N_GROUP] { is_there[g] = 0 }
without = ''
not_in_print = ''
reach(x) = there(x) ? (begin = least(begin, x), end = most(end, x)) : 0
do for [k = 1:n] {
    if (!there(published[k])) { not_in_print = not_in_print.(strlen(not_in_print) > 0 ? ', ' : '').name[k] }
    if (!there(low[k]) && !there(middle[k]) && !there(high[k])) {
        without = without.(strlen(without) > 0 ? ', ' : '').name[k]
    } else {
        if (group[k] == 0) { exit error 'a group that is not known: row '.name[k] }
        is_there[int(group[k])] = 1
    }
    stretched = reach(published[k]) + reach(low[k]) + reach(middle[k]) + reach(high[k])
}
begin = begin / 1.5
end = end * 1.5

# ---- the panel, a square ----

TOP = 74.0
BOTTOM = HEIGHT - 108.0
SIDE = BOTTOM - TOP
LEFT_AT = 84.0
decades = log10(end / begin)
along(x) = log10(x / begin) / decades * SIDE # from the lower left corner, in the units of HEIGHT
screen_x(along) = (LEFT_AT + along) / WIDTH
screen_y(along) = down_to(BOTTOM - along)

set lmargin at screen screen_x(0.0)
set rmargin at screen screen_x(SIDE)
set tmargin at screen down_to(TOP)
set bmargin at screen down_to(BOTTOM)
set logscale xy
set xrange [begin:end]
set yrange [begin:end]
steps = decades > 3.5 ? '1' : decades > 2.2 ? '1 3' : '1 2 5'
tic(m, k) = (word(steps, k) + 0.0) * 10.0**m
set xtics ()
set ytics ()
do for [m = floor(log10(begin)):ceil(log10(end))] {
    do for [k = 1:words(steps)] {
        if (tic(m, k) >= begin && tic(m, k) <= end) {
            set xtics add (sprintf('%g', tic(m, k)) tic(m, k))
            set ytics add (sprintf('%g', tic(m, k)) tic(m, k))
        }
    }
}
set label 905 'published threshold, J/cm²' at screen screen_x(0.5 * SIDE), down_to(BOTTOM + 44) center
set label 906 'predicted threshold, J/cm²' at screen 0.02, screen_y(0.5 * SIDE) center rotate by 90
# ---- bars that would lie on each other stand side by side ----

CLOSE = 5.0
STEP = 6.0
array at_x[n]
array from_y[n]
array to_y[n]
array middle_y[n]
n_moved = 0
n_open = 0
drawn(k) = there(published[k]) && from_y[k] == from_y[k]
do for [k = 1:n] {
    at_x[k] = there(published[k]) ? along(published[k]) : NaN
    middle_y[k] = there(middle[k]) ? along(middle[k]) : NaN
    from_y[k] = there(low[k]) ? along(low[k]) : middle_y[k]
    to_y[k] = there(high[k]) ? along(high[k]) : from_y[k] == from_y[k] ? SIDE : NaN
    if (drawn(k)) {
        n_open = n_open + !there(high[k])
        moved = 1
        while (moved) {
            moved = 0
            do for [other = 1:k - 1] {
                if (drawn(other) && abs(at_x[other] - at_x[k]) < CLOSE && from_y[k] < to_y[other] + 8 && to_y[k] > from_y[other] - 8) {
                    at_x[k] = at_x[other] + STEP
                    moved = 1
                    n_moved = n_moved + 1
                }
            }
        }
    }
}

note = ''
add(words) = strlen(words) > 0 ? note.(strlen(note) > 0 ? '; ' : '').words : note
note = add(n_open > 0 ? 'an arrow: there is no high one' : '')
note = add(n_moved > 0 ? 'bars that would coincide stand side by side' : '')
note = add(strlen(not_in_print) > 0 ? 'without a published number: '.not_in_print : '')
note = add(strlen(without) > 0 ? 'without a prediction: '.without : '')
set label 907 note at screen 0.015, down_to(HEIGHT - 32) left noenhanced font SMALL textcolor rgb QUIET

# ---- the rows' names: of some places beside its symbol and at the ends of its bar each takes the one least in the way ----

N_PLACE = 12
array place_x[N_PLACE] = [1, -1, 1, -1, 1, -1, 1, -1, 1, -1, 0, 0]
array place_y[N_PLACE] = [0, 0, 10, 10, -10, -10, 20, 20, -20, -20, 0, 0]
GAP = 9.0
TALL = 6.0 # half the height of a name
array wide[n]   # half its width
array name_x[n] # its middle
array name_y[n]
apart(a_from, a_to, b_from, b_to) = a_to < b_from || b_to < a_from
do for [k = 1:n] {
    wide[k] = 3.6 * strlen(name[k]) + 1.0
    name_x[k] = name_y[k] = NaN
}
do for [k = 1:n] {
    if (drawn(k)) {
        anchor = middle_y[k] == middle_y[k] ? middle_y[k] : from_y[k]
        fewest = 1e9
        do for [p = 1:N_PLACE] {
            x = at_x[k] + place_x[p] * (GAP + wide[k])
            y = p == 11 ? to_y[k] + 11.0 : p == 12 ? from_y[k] - 11.0 : anchor + place_y[p]
            cost = 0.1 * p + (x - wide[k] < 2.0 || x + wide[k] > SIDE || y < 8.0 || y > SIDE ? 50 : 0)
            cost = cost + (x - wide[k] < y + TALL && x + wide[k] > y - TALL ? 3 : 0) # on the line of equality
            do for [other = 1:n] {
                if (drawn(other)) {
                    on_bar = !apart(x - wide[k], x + wide[k], at_x[other] - 3, at_x[other] + 3) && !apart(y - TALL, y + TALL, from_y[other], to_y[other])
                    on_point = middle_y[other] == middle_y[other] \
                        && !apart(x - wide[k], x + wide[k], at_x[other] - 6, at_x[other] + 6) && !apart(y - TALL, y + TALL, middle_y[other] - 6, middle_y[other] + 6)
                    on_name = name_x[other] == name_x[other] \
                        && !apart(x - wide[k], x + wide[k], name_x[other] - wide[other], name_x[other] + wide[other]) && abs(y - name_y[other]) < 2.0 * TALL
                    cost = cost + 5 * on_bar + 10 * on_point + 20 * on_name
                }
            }
            if (cost < fewest) {
                fewest = cost
                best_x = x
                best_y = y
            }
        }
        name_x[k] = best_x
        name_y[k] = best_y
        set label k name[k] at screen screen_x(best_x), screen_y(best_y) center noenhanced font SMALL textcolor rgb COLOURS[int(group[k])] front
    }
}

# ---- the key ----

KEY = SIDE + LEFT_AT + 24.0
KEY_TOP = TOP + 20.0
line = 0
do for [g = 1:N_GROUP] {
    if (is_there[g]) {
        set label 100 + g '' at screen (KEY + 12.0) / WIDTH, down_to(KEY_TOP + 24.0 * line) point pointtype shape(g) pointsize size(g) linewidth 1.4 linecolor rgb COLOURS[g]
        set label 110 + g GROUPS[g] at screen (KEY + 34.0) / WIDTH, down_to(KEY_TOP + 24.0 * line) left noenhanced font SMALL textcolor rgb COLOURS[g]
        line = line + 1
    }
}
KEY_LINES = KEY_TOP + 24.0 * line + 16.0
set arrow 101 from screen KEY / WIDTH, down_to(KEY_LINES) rto screen 26.0 / WIDTH, 0 nohead linewidth 1.4 linecolor rgb BLACK
set label 121 '1 : 1, as published' at screen (KEY + 34.0) / WIDTH, down_to(KEY_LINES) left noenhanced font SMALL
set object 101 rectangle from screen KEY / WIDTH, down_to(KEY_LINES + 36.0) to screen (KEY + 26.0) / WIDTH, down_to(KEY_LINES + 20.0) fillcolor rgb SHADE fillstyle solid noborder
set label 122 "46 %: spread of the\nbest published\ntissue-level model" at screen (KEY + 34.0) / WIDTH, down_to(KEY_LINES + 28.0) left noenhanced font SMALL

# ---- bars and symbols ----

set style arrow 1 heads size screen 0.003, 90 linewidth 1.4 # from the low to the high
set style arrow 2 head filled size screen 0.008, 20 linewidth 1.4 # open above
do for [k = 1:n] {
    if (drawn(k)) {
        g = int(group[k])
        style = there(high[k]) ? 1 : 2
        set arrow 200 + k from screen screen_x(at_x[k]), screen_y(from_y[k]) to screen screen_x(at_x[k]), screen_y(to_y[k]) \
            arrowstyle style linecolor rgb COLOURS[g] front
        if (style == 2) { set arrow 400 + k from screen screen_x(at_x[k] - 3.0), screen_y(from_y[k]) rto screen 6.0 / WIDTH, 0 nohead linewidth 1.4 linecolor rgb COLOURS[g] front }
        if (there(middle[k])) {
            set label 200 + k '' at screen screen_x(at_x[k]), screen_y(middle_y[k]) point pointtype shape(g) pointsize size(g) linewidth 1.4 linecolor rgb COLOURS[g] front
        }
    }
}
set object 1 polygon from begin, begin to begin, begin * FACTOR to end / FACTOR, end to end, end to end, end / FACTOR to begin * FACTOR, begin to begin, begin \
    fillcolor rgb SHADE fillstyle solid noborder back
set arrow 1 from begin, begin to end, end nohead linewidth 1.4 linecolor rgb BLACK back
plot NaN notitle
