# The axes of a lesson's answer with nothing in them, to draw a guess into.
#
#   gnuplot -d -c lesson_guess.gp DATA OUTPUT KIND HEADING ASKED CORNER WORDS
#
# As lesson_answer.gp; DATA has a header only.

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
BLANK = 1
load folder.'lesson_axes.gp'
