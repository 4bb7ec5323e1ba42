# One pigment grain and its cell: rise against distance from the centre, as the first pulse ends and later.
#
#   gnuplot -d -c grain.gp DATA OUTPUT KIND NUMBERS HEADING ASKED CORNER COLUMNS WORDS
#
# DATA is grain.csv. NUMBERS: radius of the grain in m and whether it is alone, first of the lesion, then of the
# neighbour. COLUMNS are the columns to draw, in the order of time, and WORDS their times in words, each in single quotes.

DATA = ARG1
OUTPUT = ARG2
KIND = ARG3
NUMBERS = ARG4
HEADING = ARG5
ASKED = ARG6
CORNER = ARG7
COLUMNS = ARG8
WORDS = ARG9

folder = ARG0
while (strlen(folder) > 0 && substr(folder, strlen(folder), strlen(folder)) ne '/') {
    folder = substr(folder, 1, strlen(folder) - 1)
}
load folder.'style.gp'

SHOWN = 5.0      # radii around a grain that is alone
ALIKE = 0.01     # share of the highest rise by which a curve must differ from the one before to be drawn
n_time = words(COLUMNS)
site(panel) = word('lesion neighbour', panel)
radius(panel) = word(NUMBERS, 2 * panel - 1) + 0.0
alone(panel) = int(word(NUMBERS, 2 * panel))

# ---- what is there: the end of each cell, and every curve at its centre, at the grain's surface and at its end ----

array end[2]
array first_row[2]
array highest[2]
array centre[2 * n_time]
array surface[2 * n_time]
array edge[2 * n_time]
at(panel, k) = (panel - 1) * n_time + k
do for [panel = 1:2] {
    end[panel] = 0.0
    highest[panel] = 0.0
    far = SHOWN * radius(panel)
    limit = alone(panel) ? far : 1e9
    last = 0.0
    stats DATA using (r = column('radius_m'), strcol('site') eq site(panel) && r <= limit ? (last = most(last, r)) : 0) nooutput
    end[panel] = alone(panel) ? far : last
    do for [k = 1:n_time] {
        here = at(panel, k)
        name = word(COLUMNS, k)
        mine(any) = strcol('site') eq site(panel) && column('radius_m') <= last
        c = NaN
        stats DATA using (r = column('radius_m'), y = column(name), own = mine(0), \
                          own ? highest[panel] = most(highest[panel], y) : 0, \
                          own && c != c ? c = y : 0, \
                          own && r <= radius(panel) ? s = y : 0, own ? e = y : 0) nooutput
        centre[here] = c
        surface[here] = s
        edge[here] = e
    }
}
peak = most(most(highest[1], highest[2]), 0.01)

# Curves that the eye could not part are drawn once, and named together.
array drawn[2 * n_time]
array name_of[2 * n_time]
differs(a, b) = abs(sqrt(most(a, 0.0)) - sqrt(most(b, 0.0))) > ALIKE * sqrt(peak)
do for [panel = 1:2] {
    kept = 0
    do for [k = 1:n_time] {
        here = at(panel, k)
        drawn[here] = 1
        name_of[here] = word(WORDS, k)
        if (kept > 0) {
            there = at(panel, kept)
            if (!differs(centre[here], centre[there]) && !differs(surface[here], surface[there]) && !differs(edge[here], edge[there])) {
                drawn[here] = 0
                name_of[there] = (kept == 1 ? 'end' : word(WORDS, kept)).' to '.word(WORDS, k)
            }
        }
        if (drawn[here]) { kept = k }
    }
}

# ---- one hue for each skin, from dark to light with time, and its own dashes for every curve ----

mix(dark, light, share) = int(dark + share * (light - dark))
tone(panel, k) = (share = n_time > 1 ? (k - 1.0) / (n_time - 1.0) : 0.0, \
                  panel == 1 ? 65536 * mix(0x4a, 0xf2, share) + 256 * mix(0x1c, 0x9a, share) + mix(0x00, 0x5c, share) \
                             : 65536 * mix(0x00, 0x6c, share) + 256 * mix(0x22, 0xb8, share) + mix(0x44, 0xe6, share))
set linetype 11 linewidth 2.4 dashtype solid
set linetype 12 linewidth 2.2 dashtype (12, 4)
set linetype 13 linewidth 2.2 dashtype (12, 4, 2, 4)
set linetype 14 linewidth 2.2 dashtype (6, 3)
set linetype 15 linewidth 2.2 dashtype (2, 3)
set linetype 16 linewidth 2.2 dashtype (16, 3, 6, 3)
set linetype 17 linewidth 2.2 dashtype (16, 3, 2, 3, 2, 3)
set linetype 18 linewidth 2.2 dashtype solid

# ---- panels ----

nanometres = most(end[1], end[2]) < 2e-6
scale = nanometres ? 1e9 : 1e6
length_words(d) = d < 0.9995e-6 ? sprintf('%.3g nm', d * 1e9) : sprintf('%.3g µm', d * 1e6)
TOP = 0.81
BOTTOM = 0.165
WIDE = 0.31
left_of(panel) = panel == 1 ? 0.085 : 0.54
panel_height = (TOP - BOTTOM) * HEIGHT
line_share = 0.85 * ROW / panel_height

set nonlinear y via sqrt(abs(y)) inverse y * y
top = 1.06 * peak
set yrange [0:top]
up(y) = sqrt(most(y, 0.0) / top)
marks = '0 0.01 0.05 0.1 0.2 0.5 1 2 5 10 20 50 100 150 200 300 400 500 700 1000 1500 2000 3000 5000 10000 20000'
set ytics ()
last_mark = -1.0
kept_marks = ''
do for [i = 1:words(marks)] {
    mark = word(marks, i) + 0.0
    if (mark <= top && (last_mark < 0.0 || up(mark) - last_mark > 1.2 * line_share)) {
        set ytics add (word(marks, i) mark)
        kept_marks = kept_marks.' '.word(marks, i)
        last_mark = up(mark)
    }
}
set tmargin at screen TOP
set bmargin at screen BOTTOM
set label 904 'rise by the pulse, K (square-root scale)' at screen 0.02, 0.5 * (TOP + BOTTOM) center rotate by 90

set label 907 'times count from the end of the first pulse; curves that nearly coincide are drawn as one' at screen 0.015, down_to(HEIGHT - 32) left noenhanced font SMALL textcolor rgb QUIET

set multiplot
array order[n_time]
array height[n_time]
do for [panel = 1:2] {
    set lmargin at screen left_of(panel)
    set rmargin at screen left_of(panel) + WIDE
    set xrange [0:scale * end[panel]]
    set xlabel 'distance from the centre, '.(nanometres ? 'nm' : 'µm') offset 0, 0.3
    edge_x = left_of(panel) + WIDE * radius(panel) / end[panel]
    set label 300 site(panel).(alone(panel) ? ': one grain, alone' : ': one grain and its cell') at screen left_of(panel), 0.875 left textcolor rgb (panel == 1 ? VERMILLION : BLUE)
    set label 301 'grain, radius '.length_words(radius(panel)) at screen edge_x, TOP + 0.022 center font SMALL textcolor rgb QUIET
    set arrow 300 from screen edge_x, BOTTOM to screen edge_x, TOP nohead linewidth 1 linecolor rgb QUIET back
    if (panel == 2) {
        unset for [i = 901:904] label i
        unset label 907
        set ytics ('' 0)
        do for [i = 2:words(kept_marks)] { set ytics add ('' word(kept_marks, i) + 0.0) }
        unset for [i = 1:n_time] label i
        unset for [i = 1:n_time] arrow i
    }

    # The names stand at the right, a line apart at least, in the order of the curves' ends.
    n_drawn = 0
    do for [k = 1:n_time] {
        if (drawn[at(panel, k)]) {
            place = n_drawn + 1
            while (place > 1) {
                if (edge[at(panel, int(order[place - 1]))] <= edge[at(panel, k)]) { break }
                order[place] = order[place - 1]
                place = place - 1
            }
            order[place] = k
            n_drawn = n_drawn + 1
        }
    }
    lowest = -1.0
    do for [i = 1:n_drawn] {
        height[i] = most(up(edge[at(panel, int(order[i]))]), lowest + line_share)
        lowest = height[i]
    }
    highest_name = 1.0
    do for [i = 1:n_drawn] {
        from_above = n_drawn + 1 - i
        height[from_above] = least(height[from_above], highest_name)
        highest_name = height[from_above] - line_share
    }
    # Around a grain that is alone all curves end at the same height: there the names stand where no curve can be.
    do for [i = 1:n_drawn] {
        k = int(order[i])
        on_screen = BOTTOM + height[i] * (TOP - BOTTOM)
        if (alone(panel)) {
            # earlier curves higher up
            line = 0
            do for [n = 1:k] { line = line + drawn[at(panel, n)] }
            on_screen = TOP - 0.03 - 1.2 * (line - 1) * ROW / HEIGHT
            set label i name_of[at(panel, k)] at screen left_of(panel) + 0.62 * WIDE, on_screen left noenhanced font SMALL
            set arrow i from screen left_of(panel) + 0.43 * WIDE, on_screen to screen left_of(panel) + 0.59 * WIDE, on_screen \
                nohead linetype 10 + k linecolor rgb tone(panel, k)
        } else {
            set label i name_of[at(panel, k)] at screen left_of(panel) + WIDE + 0.029, on_screen left noenhanced font SMALL
            set arrow i from screen left_of(panel) + WIDE + 0.003, BOTTOM + up(edge[at(panel, k)]) * (TOP - BOTTOM) \
                to screen left_of(panel) + WIDE + 0.025, on_screen nohead linewidth 0.9 linecolor rgb tone(panel, k)
        }
    }
    plot for [k = 1:n_time] DATA using (strcol('site') eq site(panel) && drawn[at(panel, k)] ? scale * column('radius_m') : NaN):\
         (most(column(word(COLUMNS, k)), 0.0)) with lines linetype 10 + k linecolor rgb tone(panel, k)
}
unset multiplot
