# A sweep over one key as curves, over two as maps.
#
#   gnuplot -d -c sweep.gp DATA OUTPUT KIND NUMBERS NAMES HEADING ASKED CORNER
#
# DATA is sweep.csv. NUMBERS: how many keys, then for each of them: how many values, the first, the last (in SI), 1 where
# they are even in the logarithm, 1 where the scenario has a value of its own inside and this value, the factor from SI to
# the unit shown and what is taken off before, 1 where the axis takes prefixes of SI. NAMES, separated by `|`: for each key
# its column, its path and its unit.

DATA = ARG1
OUTPUT = ARG2
KIND = ARG3
NUMBERS = ARG4
NAMES = ARG5
HEADING = ARG6
ASKED = ARG7
CORNER = ARG8
HEIGHT = 760.0

folder = ARG0
while (strlen(folder) > 0 && substr(folder, strlen(folder), strlen(folder)) ne '/') {
    folder = substr(folder, 1, strlen(folder) - 1)
}
load folder.'style.gp'

N_KEY = int(word(NUMBERS, 1))
number(key, i) = word(NUMBERS, 1 + 9 * (key - 1) + i) + 0.0
array NAME[3 * N_KEY]
rest = NAMES
do for [i = 1:3 * N_KEY] {
    cut = strstrt(rest, '|')
    NAME[i] = substr(rest, 1, cut - 1)
    rest = substr(rest, cut + 1, strlen(rest))
}
key_column(key) = NAME[3 * key - 2]
key_unit(key) = NAME[3 * key]
is_log(key) = number(key, 4) > 0.5
has_own(key) = number(key, 5) > 0.5
by_prefix(key) = number(key, 9) > 0.5
in_unit(key, value) = (value - number(key, 8)) * number(key, 7)
key_label(key) = NAME[3 * key - 1].(by_prefix(key) || key_unit(key) eq '' ? '' : ', '.key_unit(key))

# Marks of an axis with prefixes: 1 ns, 10 ns, ...; over few decades also 2 and 5 of each.
prefix(e) = word('p n µ m', int(floor(e / 3.0)) + 5)
mark_words(key, e, m) = sprintf('%g ', m * 10.0**(e - 3 * floor(e / 3.0))).(e >= 0 ? '' : prefix(e)).key_unit(key)
first_decade(key) = floor(log10(number(key, 2)) + 1e-9)
last_decade(key) = floor(log10(number(key, 3)) + 1e-9)
mark_factors(key) = last_decade(key) - first_decade(key) > 1 ? '1' : '1 2 5'
every_decade(key) = last_decade(key) - first_decade(key) > 7 ? 2 : 1

# The edges of a value's cell: half a step to either side.
step(key) = (is_log(key) ? log(number(key, 3) / number(key, 2)) : number(key, 3) - number(key, 2)) / (number(key, 1) - 1.0)
edge(key, value, side) = in_unit(key, is_log(key) ? value * exp(side * step(key)) : value + side * step(key))

if (N_KEY == 1) {
    load folder.'sweep_curve.gp'
} else {
    load folder.'sweep_map.gp'
}
