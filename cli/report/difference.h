/* What a lesion and the skin around it differ in, key by key: every row of the table of keys, of each layer and of the
 * grain, in the texts of its own unit. `brevis check` and report.html tell the same.
 * Tests: tests/cli/report.sh, tests/cli/words.sh.                                                                    */
#ifndef BRV_CLI_REPORT_DIFFERENCE_H
#define BRV_CLI_REPORT_DIFFERENCE_H

#include "scenario/allowed.h"
#include "scenario/request.h"

#include <stdbool.h>
#include <stddef.h>

/* Begins as {.owner = NULL}. */
struct brv_difference {
    const char *owner; /* a layer's name, or "grain" */
    const struct brv_key *key;
    bool of_grain;
    bool here_given, there_given; /* false: it has no value of its own, and what is usual holds */
    char here[BRV_ALLOWED_SIZE], there[BRV_ALLOWED_SIZE]; /* in the lesion; in the skin around it */
    size_t next_part, next_row;                           /* where to look on */
};

/* The next one; false: there is none any more. */
bool brv_difference_next(struct brv_difference *difference, const struct brv_request *request);

#endif
