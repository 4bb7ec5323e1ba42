# A lesson's answer: curves or points over one axis.
#
#   gnuplot -d -c lesson_answer.gp DATA OUTPUT KIND HEADING ASKED CORNER WORDS
#
# DATA has the columns curve, x, y, y_low, y_high, x and y under their own names in SI. WORDS, each in single quotes: for x
# and then for y: column, label, factor to what is shown, is it logarithmic, is it a time in seconds, from, to (shown);
# place and name of an upright line (0: none); how many curves; for four curves: name, height of the name (0 to 1), is it
# points; how many names x has (0: x is a number), and these.

DATA = ARG1
OUTPUT = ARG2
KIND = ARG3
HEADING = ARG4
ASKED = ARG5
CORNER = ARG6
WORDS = ARG7

folder = ARG0
while (strlen(folder) > 0 && substr(folder, strlen(folder), strlen(folder)) ne '/') {
    folder = substr(folder, 1, strlen(folder) - 1)
}
BLANK = 0
load folder.'lesson_axes.gp'
