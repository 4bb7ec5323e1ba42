/* How much light it takes until warmth that lasts does damage: part of the front of this folder.
 * Rises by the pulses are linear in the fluence and Omega grows with every one of them, so there is one factor on all
 * pulses with which the most damaged layer or depth has just ln Omega = 0 (effect/damage.h); Omega = 1 is published for
 * burns of second degree. The root is found to 1e-9 of ln Omega.
 * Tests: tests/verification/test_window.c: a run at the fluence found has ln Omega = 0.                              */
#ifndef BRV_EFFECT_EFFECT_WARMTH_H
#define BRV_EFFECT_EFFECT_WARMTH_H

#include "effect/effect.h"

struct brv_warmth {
    double factor;     /* on every pulse; 0: Omega passes 1 without them, NAN: no factor does it [1] */
    double low, high;  /* the same for grains 3.16 and 0.316 times as dark, or whichever is less and more [1] */
    size_t probe;      /* where; BRV_NO_PROBE without a factor above 0 */
    bool illustrative; /* that Omega = 1 is gathered as brv_effect_illustrates has it; not where it needs no pulse */
    double rest;       /* ln of the most that Omega can grow after the last row, at this factor, until the time asked:
                      if the hottest of the layers, of the core and of what lies on the skin stayed so [1] */
};

/* `until`: up to when the rest counts, from the start of the first pulse [s]. */
brv_status brv_warmth_judge(struct brv_warmth *warmth, const struct brv_tissue *tissue, const struct brv_light *light,
                            const struct brv_history *history, const struct brv_scenario *ask, double until,
                            struct brv_error *error) BRV_MUST_CHECK;

#endif
