/* Heat where neighbouring spots follow one another: one place hit several times, a whole spot each time.
 * The spots of a row lie beside each other and only overlap, so a place in the overlap gets less than this from that row;
 * what other rows and further passes add is not in it. On the axis of the beam. It is a run of the scenario with a train
 * of so many pulses, and nothing else.                                                                             */
#ifndef BRV_STUDY_REVISIT_H
#define BRV_STUDY_REVISIT_H

#include "run/run.h"

/* How one place is come back to. */
struct brv_revisit_ask {
    size_t hits; /* along one row; 1: one pulse alone */
    double rate; /* of the pulses [1/s] */
    double next; /* from the last of them until the next row comes by; NAN: not asked [s] */
};

struct brv_revisit_site {
    struct brv_spread highest; /* rise at 0.3 mm; NAN where the skin is thinner [K] */
    struct brv_spread rest;    /* a quarter of the spot deep, 1/rate after the last one [K] */
    struct brv_spread later;   /* there, when the next row comes by; NAN where that was not asked [K] */
};

struct brv_revisit {
    struct brv_revisit_ask ask;
    double deep; /* a quarter of the spot [m] */
    struct brv_revisit_site site[BRV_N_SITE];
};

/* The scenario as it is then run: check it, for more pulses may not fit what lies on the skin. */
struct brv_scenario brv_revisit_scenario(const struct brv_scenario *ask, const struct brv_revisit_ask *how);

/* Answers n of them at once: revisit[n]. The scenarios made of them are checked. On failure error->index is the number. */
brv_status brv_revisit_solve(struct brv_revisit revisit[], size_t n, const struct brv_scenario *ask,
                             const struct brv_revisit_ask how[], const struct brv_control *control,
                             struct brv_error *error) BRV_MUST_CHECK;

#endif
