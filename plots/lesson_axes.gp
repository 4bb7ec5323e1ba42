# One panel of a lesson, with its curves or, for a guess, without. Loaded by lesson_answer.gp and lesson_guess.gp.

HEIGHT = 520.0
load folder.'style.gp'

in_words(i) = word(WORDS, i)
number(i) = word(WORDS, i) + 0.0
X = 0
Y = 7
x_column = in_words(X + 1)
y_column = in_words(Y + 1)
mark = number(15)
n_curve = int(number(17))
name_of(k) = in_words(15 + 3 * k)
height_of(k) = number(16 + 3 * k)
is_points(k) = int(number(17 + 3 * k))
n_name = int(number(30))

LEFT = 0.105
RIGHT = 0.80
TOP = 84.0
BOTTOM = HEIGHT - (n_name > 0 ? 72.0 : 88.0)
set lmargin at screen LEFT
set rmargin at screen RIGHT
set tmargin at screen down_to(TOP)
set bmargin at screen down_to(BOTTOM)

# Four curves told apart by colour, dashes and marks.
set linetype 11 linecolor rgb VERMILLION linewidth 2.4 dashtype solid
set linetype 12 linecolor rgb BLUE linewidth 2.4 dashtype (14, 6)
set linetype 13 linecolor rgb BLACK linewidth 2.0 dashtype (12, 4, 2, 4)
set linetype 14 linecolor rgb QUIET linewidth 2.4 dashtype (3, 4)
array MARK[4] = [7, 6, 5, 4]
DOT = KIND eq 'png' ? 1.6 : 0.75

set xrange [number(X + 6):number(X + 7)]
set yrange [number(Y + 6):number(Y + 7)]
if (number(X + 4) > 0) { set logscale x }
if (number(Y + 4) > 0) { set logscale y }
set format x (number(X + 5) > 0 ? '%.0s %cs' : '%g')
set format y (number(Y + 5) > 0 ? '%.0s %cs' : '%g')
decades = number(X + 4) > 0 ? log10(number(X + 7) / number(X + 6)) : 0
if (number(X + 5) > 0 && decades > 6) {
    set xtics ()
    do for [d = -12:3:3] {
        if (10.0**d > 0.999 * number(X + 6) && 10.0**d < 1.001 * number(X + 7)) { set xtics add (word("'1 ps' '1 ns' '1 µs' '1 ms' '1 s' '1000 s'", (d + 15) / 3) 10.0**d) }
    }
}
set grid xtics ytics linecolor rgb SHADE linetype 1 linewidth 0.5

# Names of choices in lines, broken at blanks; the more there are, the narrower.
fits = n_name > 0 ? int(70 / n_name) : 70
blank_before(text, from) = from < 1 || substr(text, from, from) eq ' ' ? from : blank_before(text, from - 1)
broken(text) = strlen(text) <= fits ? text : (c = blank_before(text, fits + 1), c < 3 ? text : \
    substr(text, 1, c - 1)."\n".broken(substr(text, c + 1, strlen(text))))
if (n_name > 0) {
    set xtics ()
    do for [i = 1:n_name] {
        set label 100 + i broken(in_words(30 + i)) at first i, screen down_to(BOTTOM + 16) center noenhanced font SMALL
        set xtics add ('' i)
    }
} else {
    set label 905 in_words(X + 2) at screen 0.5 * (LEFT + RIGHT), down_to(BOTTOM + 46) center noenhanced
}
set label 906 in_words(Y + 2) at screen 0.02, down_to(0.5 * (TOP + BOTTOM)) center rotate by 90 noenhanced

# Below two and a half decades a logarithmic axis is labelled at 1, 2 and 5.
shown_decades = number(Y + 4) > 0 ? log10(number(Y + 7) / number(Y + 6)) : 9
if (shown_decades < 2.5 && number(Y + 5) == 0) {
    set ytics ()
    do for [d = int(floor(log10(number(Y + 6)))):int(ceil(log10(number(Y + 7))))] { do for [q in '1 2 5'] {
        at = (q + 0.0) * 10.0**d
        if (at > 0.999 * number(Y + 6) && at < 1.001 * number(Y + 7)) { set ytics add (sprintf('%g', at) at) }
    } }
}

if (BLANK) {
    do for [k = 1:n_curve] {
        if (strlen(name_of(k)) > 0) {
            set label 200 + k 'draw: '.name_of(k) at screen RIGHT + 0.008, down_to(TOP + 10 + 22 * k) left noenhanced font SMALL
        }
    }
    set label 907 'draw here what you expect' at graph 0.5, graph 0.93 center textcolor rgb QUIET
    plot '+' using (number(X + 6)):(number(Y + 6) - 1.0) with points linecolor rgb '#ffffff'
} else {
    bars = 0
    stats DATA using (v = column(y_column.'_low'), v == v ? (bars = 1, v) : NaN) nooutput
    if (bars) { set label 908 'bars: low to high' at screen 0.985, down_to(TOP - 14) right font SMALL textcolor rgb QUIET }
    if (mark > 0) {
        set arrow 1 from first mark, graph 0 to first mark, graph 1 nohead linewidth 1.2 linecolor rgb QUIET dashtype (2, 4) front
        set label 909 in_words(16) at first mark, screen down_to(TOP - 10) center noenhanced font SMALL textcolor rgb QUIET
    }
    do for [k = 1:n_curve] {
        at_y = down_to(BOTTOM) + height_of(k) * (down_to(TOP) - down_to(BOTTOM))
        if (strlen(name_of(k)) > 0) {
            set label 200 + k name_of(k) at screen RIGHT + 0.042, at_y left noenhanced font SMALL textcolor linetype 10 + k
            if (is_points(k)) {
                set label 300 + k '' at screen RIGHT + 0.025, at_y point linetype 10 + k pointtype MARK[k] pointsize DOT
            } else {
                set arrow 300 + k from screen RIGHT + 0.006, at_y rto screen 0.031, 0 nohead linetype 10 + k
            }
        }
    }
    shown_x(k) = column('curve') == k ? number(X + 3) * column(x_column) : NaN
    shown_y(end) = number(Y + 3) * column(y_column.end)
    plot for [k = 1:n_curve] DATA using (is_points(k) ? NaN : shown_x(k)):(shown_y('')) with lines linetype 10 + k, \
         for [k = 1:n_curve] DATA using (is_points(k) ? shown_x(k) : NaN):(shown_y('')):(v = shown_y('_low'), v == v ? v : shown_y('')):(v = shown_y('_high'), v == v ? v : shown_y('')) \
             with yerrorbars linetype 10 + k dashtype solid linewidth 1.5 pointtype MARK[k] pointsize DOT
}
