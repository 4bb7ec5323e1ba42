/* Every unit the program knows: one closed table, and the way back from SI to words.
 *     SI value = number x 10^power x times + offset
 * The power of ten is kept apart so that a reader can add it to the exponent of the written number: 0.6 J/cm2,
 * 600 mJ/cm2 and 6000 J/m2 then give the same bits.                                                          */
#ifndef BRV_CLI_SCENARIO_UNIT_H
#define BRV_CLI_SCENARIO_UNIT_H

#include "scenario/keys.h"

#include <stdbool.h>

#include <stddef.h>

struct brv_unit {
    const char *name; /* in ASCII; see brv_unit_find for the other spellings */
    enum brv_dimension dimension;
    int power;
    double times;  /* 1 except for minutes        */
    double offset; /* 0 except for degC       [K] */
    double from;   /* messages use it for numbers from here on; 0: never */
};

/* The unit that `text` names, or NULL. Besides the names of the table: a micro sign (U+00B5 or U+03BC) for u, a degree
 * sign for deg, superscripts or ^ before a power.                                                             */
const struct brv_unit *brv_unit_find(const char *text);

/* The unit that `text` was probably meant to be, of this dimension rather than another; or NULL. */
const struct brv_unit *brv_unit_meant(const char *text, enum brv_dimension dimension);

/* A unit that others have and no key here takes: "fs", "kHz", "W". It is no slip of the pen for one of ours. */
bool brv_unit_is_foreign(const char *text);

/* "a length", "a time", ...; with an example "a length such as mm" in brv_unit_wanted. */
const char *brv_unit_dimension_name(enum brv_dimension dimension);
const char *brv_unit_example(enum brv_dimension dimension);

/* All units of a dimension in one spelling each, "nm, um, mm, cm, m". Returns `out`. */
enum { BRV_UNIT_LIST_SIZE = 80 };
const char *brv_unit_list(char out[BRV_UNIT_LIST_SIZE], enum brv_dimension dimension);

/* The unit of a dimension in SI, without a power of ten: m, s, J/m2, K, /m. NULL for plain numbers and shares. */
const struct brv_unit *brv_unit_si(enum brv_dimension dimension);

/* The unit in which a value reads best: 0.6 J/cm2, 75 mJ, 0.3 um. NULL for plain numbers. */
const struct brv_unit *brv_unit_best(double value, enum brv_dimension dimension);

/* One unit in which two values both read well, or NULL. */
const struct brv_unit *brv_unit_common(double one, double other, enum brv_dimension dimension);

/* "0.5 mm", "1100 nm", "endless" for infinity: at most four digits, no trailing zeros. `unit` NULL: the number
 * alone. Returns `out`.                                                                                       */
enum { BRV_UNIT_VALUE_SIZE = 40 };
const char *brv_unit_value(char out[BRV_UNIT_VALUE_SIZE], double value, const struct brv_unit *unit);

#endif
