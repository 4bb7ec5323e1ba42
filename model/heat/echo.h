/* What the pulses of a train leave to those after them, without going through the train: the pulses are alike, so every
 * one leaves the same curve, and what is there at a time is the sum of that curve at all the times that have gone by
 * since. The curve is a sum over poles (heat/contour.h), and so is the sum of any number of it: a few solves serve the
 * whole train, where going from spell to spell takes a few for every pulse.
 * Test: tests/verification/test_train.c, against the same train from spell to spell.                              */
#ifndef BRV_HEAT_ECHO_H
#define BRV_HEAT_ECHO_H

#include "heat/contour.h"
#include "heat/timeline.h"

struct brv_echo_ask {
    const struct brv_timeline *timeline;
    size_t first, last;             /* spells: every one from first to last is begun by a pulse, the chain unchanged */
    double origin;                  /* of the curve, after the start of a pulse [s] */
    const double *heat;             /* [n] what one pulse has left there [J] */
    double tolerance;               /* of the contour, for the curve of one pulse [1] */
    size_t n_gauge;                 /* at most BRV_CONTOUR_GAUGES - 2 ... */
    const struct brv_gauge *gauge;  /* ... [n_gauge] what is written */
    struct brv_gauge carried, lost; /* flows of heat [W] */
};

/* Can it be had so? It takes a third pulse, and time between two in which the last energy of one has arrived. */
bool brv_echo_serves(const struct brv_echo_ask *ask);

/* Adds the pulses' curves to the rows of the spells before `last`: curve[n_gauge][n_row]. Beats of a spell hold its own
 * pulse already; other rows of it do not, and get it. Adds to rise [n] what all these pulses have left at the start of
 * `last`, and to `carried` and `lost` what has flowed by then. Room of the contour: for the chain.                   */
brv_status brv_echo_add(double curve[], double rise[], double *carried, double *lost, struct brv_contour *contour,
                        const struct brv_chain *chain, const struct brv_echo_ask *ask,
                        struct brv_error *error) BRV_MUST_CHECK;

#endif
