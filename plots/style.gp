# What all figures share: size, font, colours, the words around the panels. Loaded by the scripts beside it, which
# set OUTPUT, KIND (svg or png), HEADING, ASKED and CORNER first, and HEIGHT when it is another.

least(a, b) = a < b ? a : b
most(a, b) = a > b ? a : b
bound(x, low, high) = least(most(x, low), high)

set encoding utf8
set datafile separator comma
set datafile columnheaders

WIDTH = 900.0
if (!exists('HEIGHT')) { HEIGHT = 620.0 }
ROW = 18.0    # a line of text, and
LETTER = 7.2  # a letter of it, in the units of WIDTH and HEIGHT

if (KIND eq 'png') {
    set terminal pngcairo size 2 * WIDTH, 2 * HEIGHT font 'DejaVu Sans,9.75' fontscale 2 linewidth 2 background '#ffffff'
    SMALL = ',8'
    LARGE = 12.0
} else {
    set terminal svg size WIDTH, HEIGHT font 'DejaVu Sans,13' linewidth 1 background '#ffffff'
    SMALL = ',10.7'
    LARGE = 16.0
}
set output OUTPUT

# Told apart without colour too: every curve has its own dashes, and its name beside it.
set linetype 1 linecolor rgb '#d55e00' linewidth 2.2 dashtype solid   # the lesion
set linetype 2 linecolor rgb '#0072b2' linewidth 2.2 dashtype (14, 6) # its neighbour
set linetype 3 linecolor rgb '#000000' linewidth 1.8 dashtype (12, 4, 2, 4) # a third curve
set linetype 4 linecolor rgb '#d55e00' linewidth 1.8 dashtype (12, 4, 2, 4) # a second one of the lesion
VERMILLION = '#d55e00'
BLUE = '#0072b2'
BLACK = '#000000'
QUIET = '#606060'
SHADE = '#dcdcdc'

set tics nomirror out scale 0.5 textcolor rgb BLACK
set border 3 linewidth 1 linecolor rgb '#404040'
unset key

# Text of users goes through noenhanced: `&`, `_` and `^` are letters there.
# gnuplot counts letters, whatever bytes they have; one of three bytes or more may be twice as wide as others.
FITS = 95.0       # letters of a heading; a longer one is written smaller,
MOST_LETTERS = 140 # and a still longer one ends in an ellipsis: the summary has it whole
heading_wide = 0
heading_cut = 0
do for [i = 1:strlen(HEADING)] {
    if (!heading_cut) {
        letter = substr(HEADING, i, i)
        set encoding default
        letter_wide = strlen(letter) > 2 ? 2 : 1
        set encoding utf8
        if (heading_wide + letter_wide > MOST_LETTERS - (i < strlen(HEADING) ? 1 : 0)) {
            heading_cut = i
        } else {
            heading_wide = heading_wide + letter_wide
        }
    }
}
if (heading_cut) { HEADING = substr(HEADING, 1, heading_cut - 1).'…'; heading_wide = heading_wide + 1 }
if (heading_wide > FITS) { LARGE = LARGE * FITS / heading_wide }
FITS_BELOW = 118.0 # and so is the line below it
MIDDLING = (KIND eq 'png' ? 9.75 : 13.0) * least(1.0, FITS_BELOW / (strlen(ASKED) + 1.0))
down_to(y) = 1.0 - y / HEIGHT # share of the screen for a distance from its top
set label 901 HEADING at screen 0.015, down_to(21) noenhanced font sprintf(',%.2f', LARGE)
set label 902 ASKED at screen 0.015, down_to(46) noenhanced textcolor rgb QUIET font sprintf(',%.2f', MIDDLING)
set label 903 CORNER at screen 0.015, down_to(HEIGHT - 11) noenhanced textcolor rgb QUIET font SMALL
