/* Test spots: steps of fluence in one skin. Light and heat are linear, so one run serves all of them:
 *     rise = rise of the run x fluence / its fluence;   share and sign = by the thresholds of the run's grains
 * Temperatures have a start that is not in proportion, and damage is gathered by the exponential of them: both are read
 * anew for every step, off the run's curves with their rises multiplied.
 * The same numbers as from a run of each step: tests/verification/test_ladder.c.                                      */
#ifndef BRV_STUDY_TEST_SPOTS_H
#define BRV_STUDY_TEST_SPOTS_H

#include "run/run.h"

#include <stdbool.h>

enum brv_sign { BRV_SIGN_NONE, BRV_SIGN_UNSURE, BRV_SIGN_SEEN, BRV_N_SIGN };

struct brv_test_spot_site {
    struct brv_spread share;   /* of the grains disrupted, by the criteria in print; NAN: there is no pigment [1] */
    enum brv_sign sign;        /* below the range of its threshold, within it, above it */
    struct brv_spread grain;   /* highest rise of the mean of one grain [K] */
    struct brv_spread layer;   /* highest rise of its layer [K] */
    struct brv_spread vessel;  /* rise of the blood in a vessel; NAN where there is none [K] */
    struct brv_spread film;    /* highest rise of the mean of a film; NAN: bare skin [K] */
    struct brv_spread surface; /* highest rise of the skin's surface; NAN where it is not watched [K] */
    struct brv_spread hottest; /* highest temperature of any layer with pigment or watched depth by the pulses [K] */
    struct brv_spread damage;  /* log10 Omega of the most damaged of them; -INFINITY: none [1] */
    bool illustrative;         /* brv_effect_illustrates */
};

struct brv_test_spot {
    double fluence, energy; /* of one pulse [J/m2], [J] */
    struct brv_test_spot_site site[BRV_N_SITE];
};

struct brv_test_spots {
    size_t n;
    struct brv_test_spot step[BRV_MOST_STEPS];
    struct brv_result result; /* the run that all steps are read from, at the last step */
};

/* Where a fluence stands to the range of a threshold; without any threshold there is no sign. */
enum brv_sign brv_sign_at(const struct brv_spread *threshold, double fluence);

/* Solves the steps of a checked scenario whose ladder is given. On failure it comes back empty. */
brv_status brv_test_spots_solve(struct brv_test_spots *spots, const struct brv_scenario *ask,
                                const struct brv_control *control, struct brv_error *error) BRV_MUST_CHECK;

void brv_test_spots_free(struct brv_test_spots *spots);

#endif
