/* Grains that differ, and the sign that one can see: part of the front of this folder. */
#ifndef BRV_EFFECT_EFFECT_CROWD_H
#define BRV_EFFECT_EFFECT_CROWD_H

#include "effect/effect.h"

#define BRV_SIGN_LEAST 0.1e-6 /* column of disrupted pigment from which a sign counts as visible, as unsure ... */
#define BRV_SIGN_MOST  0.6e-6 /* ... as that: this project's choice, fixed before any comparison [m] */

/* How much more or less the grains of the followed one's layer take up if all are 0.316 (gain[0]) or 3.16 (gain[1]) times
 * as dark, the light that is then left counted; {1, 1} where that was not asked of the light [1]. */
void brv_crowd_gain(double gain[2], const struct brv_tissue *tissue, const struct brv_light *light);

brv_status brv_crowd_judge(struct brv_crowd_effect *effect, const struct brv_tissue *tissue,
                           const struct brv_light *light, const struct brv_history *history,
                           const struct brv_scenario *ask, struct brv_error *error) BRV_MUST_CHECK;

#endif
