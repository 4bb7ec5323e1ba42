/* What may stand for a key, in words: the same for messages and for `brevis explain`. */
#ifndef BRV_CLI_SCENARIO_ALLOWED_H
#define BRV_CLI_SCENARIO_ALLOWED_H

#include "scenario/keys.h"

#include <stddef.h>

enum { BRV_ALLOWED_SIZE = 160 };

/* "10 ps to 100 ms", "1 um to 100 mm, or endless", "gaussian or square", "above 0, at most 100". Returns `out`. */
const char *brv_allowed(char out[BRV_ALLOWED_SIZE], const struct brv_key *key);

/* The same as the end of a sentence: "allowed 10 ps to 100 ms", "the only value is the word `nothing`". */
const char *brv_allowed_said(char out[BRV_ALLOWED_SIZE], const struct brv_key *key);

/* One value of a key, in the unit of its range: "1064 nm", "square", "endless"; "none" for NaN. Returns `out`. */
const char *brv_allowed_value(char out[BRV_ALLOWED_SIZE], const struct brv_key *key, double value);

#endif
