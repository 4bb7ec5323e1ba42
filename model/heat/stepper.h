/* Time steps of a chain: trapezoidal rule over the first part of the step, second-order backward difference over
 * the rest (TR-BDF2). L-stable, second order, one factor for both parts.
 *     g = 2 - sqrt 2:   C (y_g - y_0) = (g h / 2)(F_0 + F_g) + E_first
 *                       C y_1 = C (c1 y_g - c0 y_0) + (g h / 2) F_1 + E_all - c1 E_first
 * E_first and E_all are the energies that arrive in the first part and in the whole step. Backward differences
 * damp what an abrupt pulse excites; a trapezoidal rule alone would ring.
 * Accuracy: observed order 2.00 +- 0.1, tests/verification/test_order.c. Sources: [bank-1985] for the scheme,
 * [hosea-shampine-1996] for the filtered error estimate, both from memory and proved by the order test.        */
#ifndef BRV_HEAT_STEPPER_H
#define BRV_HEAT_STEPPER_H

#include "heat/chain.h"
#include "heat/source.h"

#define BRV_STEP_FIRST_PART 0.58578643762690495 /* g = 2 - sqrt 2 */

/* What lies outside the two ends at the start, after the first part and at the end of a step [K]. */
struct brv_outside_rise {
    double top[3], bottom[3];
};

struct brv_stepper {
    size_t n;
    double *own, *pivot, *pass;      /* [n] the factored step; valid for factored_step */
    double *middle, *next, *error;   /* [n] rise after the first part and the whole step; error estimate [K] */
    double *first, *all;             /* [n] energy of the two parts [J] */
    double *flow;                    /* [3 n] heat flowing into each cell at the three times [W] */
    double *link;                    /* [n + 1] conductances times the step [J/K] */
    struct brv_outside_rise outside; /* of the step just tried */
    double factored_step;            /* [s] */
    double suggested_step;           /* [s]; 0 before the first */
    double least_rise;               /* what lies below this need not be resolved; 0 unless set [K] */
    double carried, lost;            /* heat taken by the sinks and through the ends so far [J] */
    size_t n_step;                   /* accepted steps */
};

brv_status brv_stepper_build(struct brv_stepper *stepper, size_t n, struct brv_error *error) BRV_MUST_CHECK;

/* One step of the chain with the energies in stepper->first and ->all. The result stands in stepper->next and the
 * estimate of its error in stepper->error; the chain is unchanged until brv_stepper_accept.                    */
void brv_stepper_try(struct brv_stepper *stepper, const struct brv_chain *chain, double step,
                     const struct brv_outside_rise *outside);

/* Takes the step just tried: moves the chain, its peaks and the audit sums. */
void brv_stepper_accept(struct brv_stepper *stepper, struct brv_chain *chain);

/* Moves the chain from `from` to `to` in steps whose estimated error stays below `tolerance` times the largest
 * rise in the chain, or times least_rise if that is more: the first trickle of a pulse need not be resolved. Nothing
 * outside the ends is warm. BRV_NUMERICS when the steps become absurdly small.       */
brv_status brv_stepper_advance(struct brv_stepper *stepper, struct brv_chain *chain, const struct brv_source *source,
                               double from, double to, double tolerance, struct brv_error *error) BRV_MUST_CHECK;

/* The same in `steps` even steps, whatever their error: linear in the chain and its source to rounding. */
void brv_stepper_march(struct brv_stepper *stepper, struct brv_chain *chain, const struct brv_source *source,
                       double from, double to, size_t steps);

void brv_stepper_free(struct brv_stepper *stepper);

#endif
