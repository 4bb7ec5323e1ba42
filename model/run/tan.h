/* What a tan does: the neighbour once more, with more pigment in every layer of the epidermis that has some; what lies in the
 * dermis does not tan.
 * Only what decides the threshold of a sign is followed, to a moment after the last pulse; the lesion is left as it is.
 * What comes out is shown and nothing is said of it.                                                               */
#ifndef BRV_RUN_TAN_H
#define BRV_RUN_TAN_H

#include "run/site.h"

#include <stdbool.h>

struct brv_tan {
    double factor;                    /* on the pigment, as asked; 1: not asked, the rest is empty [1] */
    double applied;                   /* on all pigment above the dermis: less where it is cut [1] */
    bool cut;                         /* a layer has no room for so much: grains fill 60 % of it at most */
    double column;                    /* of all pigment [m] */
    struct brv_spread threshold_sign; /* as in effect/effect.h [J/m2] */
};

brv_status brv_tan_solve(struct brv_tan *tan, const struct brv_scenario *ask, const struct brv_control *control,
                         struct brv_error *error) BRV_MUST_CHECK;

#endif
