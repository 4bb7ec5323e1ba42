/* Grains that differ, and the sign that one can see: part of the front of this folder. */
#ifndef BRV_EFFECT_EFFECT_CROWD_H
#define BRV_EFFECT_EFFECT_CROWD_H

#include "effect/effect.h"

#define BRV_SIGN_LEAST 0.1e-6 /* column of disrupted pigment from which a sign counts as visible, as unsure ... */
#define BRV_SIGN_MOST  0.6e-6 /* ... as that: this project's choice, fixed before any comparison [m] */

brv_status brv_crowd_judge(struct brv_crowd_effect *effect, const struct brv_tissue *tissue,
                           const struct brv_history *history, const struct brv_scenario *ask,
                           struct brv_error *error) BRV_MUST_CHECK;

#endif
