/* Choices side by side: several scenarios solved at once, the first one being what the others are held against.
 * Equal light: the fluence at which a choice has the first one's light, over the first one's fluence. It is a ratio of
 * light, not of what grains do, and no setting.
 *     equal = (light / fluence of the first) / (light / fluence of this one)                                        */
#ifndef BRV_STUDY_COMPARE_H
#define BRV_STUDY_COMPARE_H

#include "study/headline.h"

#include <stdbool.h>

struct brv_beside_first {
    double equal_grain, equal_deep; /* light in the grain's layer, at 1 mm; NAN where there is none [1] */
    bool within[BRV_N_HEADLINE];    /* differs from the first by less than the spread of either */
};

struct brv_comparison {
    size_t n;
    struct brv_result *result;                     /* [n] */
    struct brv_headlines *headline;                /* [n] */
    struct brv_beside_first (*beside)[BRV_N_SITE]; /* [n] */
};

/* Is the difference of two values smaller than their spread: does each lie within the low and high of the other, or are
 * they the same? A NAN is beyond every number: a threshold that is never reached. Sharp values that differ are not. */
bool brv_spread_hides(const struct brv_spread *one, const struct brv_spread *other);

/* Solves n checked scenarios, at least one. On failure it comes back empty and error->index is the scenario's number. */
brv_status brv_compare_solve(struct brv_comparison *comparison, size_t n, const struct brv_scenario ask[],
                             const struct brv_control *control, struct brv_error *error) BRV_MUST_CHECK;

void brv_comparison_free(struct brv_comparison *comparison);

#endif
