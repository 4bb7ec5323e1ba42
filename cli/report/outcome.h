/* What papers report of people after visits that were repeated: loss of pigment in spots, and pigment that came back.
 * Shown beside the model, which has neither; used in no computation.                                                 */
#ifndef BRV_CLI_REPORT_OUTCOME_H
#define BRV_CLI_REPORT_OUTCOME_H

#include <stdbool.h>
#include <stddef.h>

struct brv_outcome {
    const char *what;   /* what was seen */
    int seen_in;        /* in so many people; 0: only a share is printed */
    int n;              /* of so many */
    double share;       /* as printed; 0: seen_in / n [1] */
    const char *under;  /* visits and fluence, as printed; "": told in a row before */
    const char *source; /* key of docs/sources.md */
    const char *seen;
    bool chosen; /* people are in the report because of it: no frequency follows from their number */
};

extern const struct brv_outcome brv_outcomes[];
extern const size_t brv_n_outcomes;

/* "3 of 22: 5 weekly, 3.0 to 3.8 J/cm2 (wattanakrai-2010)". Returns `out`. */
enum { BRV_OUTCOME_SIZE = 240 };
const char *brv_outcome_text(char out[BRV_OUTCOME_SIZE], const struct brv_outcome *outcome);

#endif
