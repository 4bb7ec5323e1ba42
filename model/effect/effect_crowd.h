/* Grains that differ, and the sign that one can see: part of the front of this folder. */
#ifndef BRV_EFFECT_EFFECT_CROWD_H
#define BRV_EFFECT_EFFECT_CROWD_H

#include "effect/effect.h"

#define BRV_SIGN_LEAST 0.1e-6 /* column of disrupted pigment from which a sign counts as visible, as unsure ... */
#define BRV_SIGN_MOST  0.6e-6 /* ... as that: this project's choice, fixed before any comparison [m] */

/* How much more or less the grains of the followed one's layer take up if all are 0.316 (gain[0]) or 3.16 (gain[1]) times
 * as dark, the light that is then left counted; {1, 1} where that was not asked of the light [1]. */
void brv_crowd_gain(double gain[2], const struct brv_tissue *tissue, const struct brv_light *light);

/* By what the fluence is to be multiplied so that the crowd does by its own criterion what it does by another one, and all
 * grains paler or darker: what the first pulse must add to the grain's layer, as cold as it then is, is in proportion, what
 * it does add too [1]. Temperatures in [K]. */
double brv_crowd_otherwise(const struct brv_history *history, double own_criterion, double criterion, double gain);

/* Shares of the grains disrupted, by number, at any fluences of every pulse: share[n], fluence[n] [J/m2]. The curve of
 * brv_crowd_effect has only some, and long pulses disrupt most grains of a layer between two of them.               */
brv_status brv_crowd_shares(double share[], size_t n, const double fluence[], const struct brv_tissue *tissue,
                            const struct brv_light *light, const struct brv_history *history,
                            const struct brv_scenario *ask, struct brv_error *error) BRV_MUST_CHECK;

brv_status brv_crowd_judge(struct brv_crowd_effect *effect, const struct brv_tissue *tissue,
                           const struct brv_light *light, const struct brv_history *history,
                           const struct brv_scenario *ask, struct brv_error *error) BRV_MUST_CHECK;

#endif
