/* Several visits with the same pulse: which grains are left, and what the doses add up to. A TEACHING MODEL, and not a
 * course of anything: at each visit every grain whose threshold lies below the pulse is disrupted and gone by the next,
 * dark and large ones first; of what is missing the share visits.returns is back by then (study/remains.h). What is left
 * is paler and smaller, shades less, and the same pulse disrupts less of it.
 *     light of visit n    solved anew, with the melanosomes that are left in each layer, v f, as dark as they are on the
 *                         mean, d:  mu_a = f v mu_mel d F(mu_mel d D) + the rest
 *     threshold           of a grain, over the light in its layer: heat is linear. Of the warmth of its surroundings what
 *                         the missing pigment of its own layer gave is left out (effect/effect_crowd.h)
 * Grains that return are of the kind that is missing. The interval, the clearing of what is disrupted, white dots,
 * darkening and healing are not in it; within a train or passes the skin stays as it was before the visit.
 * Low and high: all grains 0.316 and 3.16 times as dark, and the criteria in print, each followed through all visits with
 * its own light. The first visit is the run itself, to rounding. The threshold at a later one is
 * within 0.1 % of a run of the changed skin for 7 ns, within 4 % up to 1 ms: tests/verification/test_visits.c.                                                */
#ifndef BRV_STUDY_VISITS_H
#define BRV_STUDY_VISITS_H

#include "study/remains.h"
#include "study/test_spots.h"

#define BRV_DARKEST 0.05 /* of the grains there, by number: the darkest and largest ones; this project's choice [1] */

/* Of a skin without any pigment share, before, after, darkness and threshold are NAN. */
struct brv_visit_site {
    struct brv_spread share;  /* of the grains that are there, by number, disrupted at this visit [1] */
    struct brv_spread before; /* pigment there when the visit begins, by volume, over that before the first [1] */
    struct brv_spread after;  /* the same when it is over [1] */
    struct brv_spread
        darkness;             /* of what is there when it begins, its mean by volume, over that before the first [1] */
    struct brv_spread column; /* disrupted at this visit, as the thickness of a layer of nothing else [m] */
    enum brv_sign sign;       /* of that column, in the way of test spots: by the criterion asked for */
    struct brv_spread light;  /* fluence in the layer of the grain, over that at the first visit [1] */
    struct brv_spread threshold; /* fluence that disrupts BRV_DARKEST of the grains there; NAN: none are left [J/m2] */
};

struct brv_visit {
    double fluence; /* of all pulses on one place up to and with this visit, a mere sum [J/m2] */
    double pulses;  /* how many they are; whole [1] */
    struct brv_visit_site site[BRV_N_SITE];
};

struct brv_visits {
    size_t n;
    struct brv_visit visit[BRV_MOST_VISITS]; /* [n] */
    struct brv_result result;                /* the run of the first visit */
};

/* Follows the visits of a checked scenario in which they are given. The numbers are the same for any count of threads. On
 * failure it comes back empty. A walk of photons answers the first visit only; how the light then changes is asked of the
 * kernel for spots.                                                                                                   */
brv_status brv_visits_solve(struct brv_visits *visits, const struct brv_scenario *ask,
                            const struct brv_control *control, struct brv_error *error) BRV_MUST_CHECK;

void brv_visits_free(struct brv_visits *visits);

#endif
