/* Grains that differ, and the sign that one can see: part of the front of this folder. */
#ifndef BRV_EFFECT_EFFECT_CROWD_H
#define BRV_EFFECT_EFFECT_CROWD_H

#include "effect/effect.h"

#define BRV_SIGN_LEAST 0.1e-6 /* column of disrupted pigment from which a sign counts as visible, as unsure ... */
#define BRV_SIGN_MOST  0.6e-6 /* ... as that: this project's choice, fixed before any comparison [m] */

/* All grains as they are, 0.316 times or 3.16 times as dark, with the light that is then left in each layer; the last two
 * are as the first where that was not asked of the light. */
enum brv_shade { BRV_AS_DARK, BRV_PALER, BRV_DARKER, BRV_N_SHADE };

/* By what the fluence is to be multiplied so that the crowd does by its own criterion what it does by another one: what the
 * first pulse must add to the grain's layer, as cold as it then is, is in proportion, and so is the fluence [1].
 * Temperatures in [K]. */
double brv_crowd_otherwise(const struct brv_history *history, double own_criterion, double criterion);

/* Shares of the grains disrupted, by number, at any fluences of every pulse: share[n], fluence[n] [J/m2], shade[n]. The
 * curve of brv_crowd_effect has only some, and long pulses disrupt most grains of a layer between two of them.     */
brv_status brv_crowd_shares(double share[], size_t n, const double fluence[], const enum brv_shade shade[],
                            const struct brv_tissue *tissue, const struct brv_light *light,
                            const struct brv_history *history, const struct brv_scenario *ask,
                            struct brv_error *error) BRV_MUST_CHECK;

/* The thresholds of all grains of one skin, for those who follow grains one by one. */
struct brv_thresholds {
    struct brv_population population;
    size_t n_layer;
    size_t layer[BRV_MOST_MEANS];  /* [n_layer] of the skin */
    double column[BRV_MOST_MEANS]; /* pigment of each layer as a thickness [m] */
    double whole;                  /* of all of them [m] */
    double *near, *uptake; /* [n_layer][n_fine][BRV_N_DARKNESS] 1 / threshold [m2/J]; uptake [1]; both refined */
    double gain[BRV_N_SHADE][BRV_MOST_MEANS]; /* what the grains of each layer take up, over as they are [1] */
};

/* Lays them when of each layer's pigment only left[n_layer] of what it takes up is still there, by number as in `layer`;
 * NULL: all of it. They are for the light that was solved: with another light in a layer its fluence is to be multiplied
 * by the ratio of the two. What warmth comes from other layers is not reduced. On failure they are empty.            */
brv_status brv_thresholds_lay(struct brv_thresholds *thresholds, const double left[], const struct brv_tissue *tissue,
                              const struct brv_light *light, const struct brv_history *history,
                              const struct brv_scenario *ask, struct brv_error *error) BRV_MUST_CHECK;

void brv_thresholds_free(struct brv_thresholds *thresholds);

brv_status brv_crowd_judge(struct brv_crowd_effect *effect, const struct brv_tissue *tissue,
                           const struct brv_light *light, const struct brv_history *history,
                           const struct brv_scenario *ask, struct brv_error *error) BRV_MUST_CHECK;

#endif
