/* Words that numbers choose: what an answer says of a comparison can then never be false. */
#ifndef BRV_CLI_LESSON_PHRASE_H
#define BRV_CLI_LESSON_PHRASE_H

#include "report/compare.h"
#include "report/number.h"
#include "report/sheet.h"
#include "report/term.h"

#include <stdbool.h>

#define BRV_PHRASE_ALIKE 0.05 /* ratios this near to 1 are told as alike; this project's choice [1] */

/* `less`, `alike` or `more`, by value over other. NAN: `alike` is "", for there is nothing to say. */
const char *brv_phrase_order(double value, double other, const char *less, const char *alike, const char *more);

/* "0.42 times", "12 times", "the same" (within 1 %): value over other at two digits. */
const char *brv_phrase_times(char out[BRV_NUMBER_SIZE], double value, double other);

/* "8.9 times (8.6 to 9)": a headline of one choice over that of another, with the least and the most of it: low over low
 * and high over high, because both choices have the same grains.                                                    */
const char *brv_phrase_ratio(char out[BRV_TERM_SIZE], const struct brv_compared *compared, size_t choice, size_t other,
                             enum brv_site_index site, enum brv_headline which);

/* The same of any two spreads. */
const char *brv_phrase_ratio_of(char out[BRV_TERM_SIZE], const struct brv_spread *value,
                                const struct brv_spread *other);

/* "148 K (73 to 221)": a headline of one choice and site, with low and high. */
const char *brv_phrase_headline(char out[BRV_TERM_SIZE], const struct brv_compared *compared, size_t choice,
                                enum brv_site_index site, enum brv_headline which);

/* The same of all choices: "7 ns 166 K (77.6 to 264), 300 ns 60.5 K (28.3 to 95.8)". */
const char *brv_phrase_all(char out[BRV_SHEET_LINE_SIZE], const struct brv_compared *compared, enum brv_site_index site,
                           enum brv_headline which);

/* "78.1 C (54.2 to 104)": any spread in its unit, value x scale + shift. */
const char *brv_phrase_spread(char out[BRV_TERM_SIZE], const struct brv_spread *spread, double scale, double shift,
                              const char *unit);

/* The value of a headline alone [SI], for comparisons. */
double brv_phrase_value(const struct brv_compared *compared, size_t choice, enum brv_site_index site,
                        enum brv_headline which);

/* "12.6 %", "0 %", "100 %": a share at three digits, "under 0.01 %" for less than that, "0 %" for
 * what is none but for the digits of a sum, below 1e-9. */
const char *brv_phrase_percent(char out[BRV_NUMBER_SIZE], double share);

/* "78.1 C (54.2 to >112)": a temperature in kelvin; above the ceiling none is told, as in summaries. */
const char *brv_phrase_degrees(char out[BRV_TERM_SIZE], const struct brv_spread *temperature, double ceiling);

#endif
