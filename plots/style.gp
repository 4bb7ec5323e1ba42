# What all figures share: size, font, colours, the words around the panels. Loaded by the scripts beside it, which
# set OUTPUT, KIND (svg, png or pdf), HEADING, ASKED and CORNER first, and HEIGHT when it is another.
# SLIDE = 1, set before it too, makes a picture for the screen of a lecture hall: 16 x 9 cm, a png of it at 300 dpi,
# letters of 3.3 % of its height and none below 2.2 %. A pdf is 16 cm wide either way.

least(a, b) = a < b ? a : b
most(a, b) = a > b ? a : b
bound(x, low, high) = least(most(x, low), high)

set encoding utf8
set datafile separator comma
set datafile columnheaders

if (!exists('SLIDE')) { SLIDE = 0 }
WIDTH = SLIDE ? 960.0 : 900.0
if (!exists('HEIGHT')) { HEIGHT = SLIDE ? 540.0 : 620.0 }
ROW = SLIDE ? 24.0 : 18.0     # a line of text, and
LETTER = SLIDE ? 10.0 : 7.2   # a letter of it, in the units of WIDTH and HEIGHT

POINT = 0.75 # of a font, over the units of WIDTH, where a terminal counts in points
PLAIN = SLIDE ? 18.0 : 13.0
if (KIND eq 'png') {
    DPI = 300.0 # of a slide 16 cm wide
    across = SLIDE ? floor(16.0 / 2.54 * DPI + 0.5) : 2 * WIDTH
    set terminal pngcairo size across, floor(across * HEIGHT / WIDTH + 0.5) font sprintf('DejaVu Sans,%g', POINT * PLAIN) \
        fontscale across / WIDTH linewidth across / WIDTH dashlength SLIDE + 1 background '#ffffff'
    SMALL = SLIDE ? ',10.5' : ',8'
    LARGE = POINT * (SLIDE ? 25.0 : 16.0)
} else { if (KIND eq 'pdf') {
    across = 16.0 / 2.54 * 72.0 # points; dashes are counted in half of them
    set terminal pdfcairo size 16.0 / 2.54, 16.0 / 2.54 * HEIGHT / WIDTH font sprintf('DejaVu Sans,%g', POINT * PLAIN) \
        fontscale across / WIDTH linewidth across / WIDTH dashlength 2 background '#ffffff'
    SMALL = SLIDE ? ',10.5' : ',8'
    LARGE = POINT * (SLIDE ? 25.0 : 16.0)
} else {
    set terminal svg size WIDTH, HEIGHT font sprintf('DejaVu Sans,%g', PLAIN) linewidth 1 background '#ffffff'
    SMALL = SLIDE ? ',14' : ',10.7'
    LARGE = SLIDE ? 25.0 : 16.0
} }
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
FITS = SLIDE ? 66.0 : 95.0 # letters of a heading; a longer one is written smaller,
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
FITS_BELOW = SLIDE ? 96.0 : 118.0 # and so is the line below it
MIDDLING = (KIND eq 'svg' ? 1.0 : POINT) * PLAIN * least(1.0, FITS_BELOW / (strlen(ASKED) + 1.0))
down_to(y) = 1.0 - y / HEIGHT # share of the screen for a distance from its top
set label 901 HEADING at screen 0.015, down_to(SLIDE ? 26 : 21) noenhanced font sprintf(',%.2f', LARGE)
set label 902 ASKED at screen 0.015, down_to(SLIDE ? 57 : 46) noenhanced textcolor rgb QUIET font sprintf(',%.2f', MIDDLING)
set label 903 CORNER at screen 0.015, down_to(HEIGHT - (SLIDE ? 31 : 11)) noenhanced textcolor rgb QUIET font SMALL
