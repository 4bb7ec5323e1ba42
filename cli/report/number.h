/* Numbers as text: for files at full precision, for people at three digits. */
#ifndef BRV_CLI_REPORT_NUMBER_H
#define BRV_CLI_REPORT_NUMBER_H

#include "effect/effect.h"
#include "scenario/keys.h"

#include <stdbool.h>

enum { BRV_NUMBER_SIZE = 64 };

/* The shortest decimal that reads back as the same double; `nan` as "". Returns `out`. */
const char *brv_number_exact(char out[BRV_NUMBER_SIZE], double value);

/* Three significant digits without exponent where that reads well: 0.058, 61.4, 1840, 2.1e-07; "-" for NaN. */
const char *brv_number_short(char out[BRV_NUMBER_SIZE], double value);

/* Two significant digits, and 120 rather than 1.2e+02. */
const char *brv_number_two(char out[BRV_NUMBER_SIZE], double value);

/* Two digits for an end of a range, three from 99.5 on: rounded down, or with `up` up, so that what lies within it still does. */
const char *brv_number_outward(char out[BRV_NUMBER_SIZE], double value, bool up);

/* Three digits with the unit that reads best: "27.3 ns", "0.6 J/cm2". */
const char *brv_number_unit(char out[BRV_NUMBER_SIZE], double value, enum brv_dimension dimension);

/* "61.4 (19.4 to 194)" with every number scaled and shifted: value x scale + shift. */
const char *brv_number_spread(char out[BRV_NUMBER_SIZE], const struct brv_spread *spread, double scale, double shift);

/* "78.1 (54.2 to >112)": degrees Celsius of a temperature in kelvin. Above the ceiling a figure is energy over heat
 * capacity, and no temperature is told.                                                                             */
const char *brv_number_degrees(char out[BRV_NUMBER_SIZE], const struct brv_spread *temperature, double ceiling);

/* "7 ns", "0.3 µm", "0.6 J/cm²": what the others wrote in the letters of a printed page. In place; returns `text`. */
const char *brv_number_print(char text[BRV_NUMBER_SIZE]);

/* brv_number_unit in those letters. */
const char *brv_number_printed(char out[BRV_NUMBER_SIZE], double value, enum brv_dimension dimension);

#endif
