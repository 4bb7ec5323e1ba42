/* What the temperatures mean for one skin: relaxation, confinement, peaks and the threshold of a grain.
 * The front of this folder: it knows the stages before it.                                                  */
#ifndef BRV_EFFECT_EFFECT_H
#define BRV_EFFECT_EFFECT_H

#include "effect/damage.h"
#include "effect/relaxation.h"
#include "effect/threshold.h"
#include "heat/heat.h"

#include <stdbool.h>

/* A number with its spread: low and high are for grains 0.316 and 3.16 times as dark, light held fixed. */
struct brv_spread {
    double value, low, high;
};

#define BRV_WARM                                                                                                       \
    (45.0 + 273.15) /* lasting warmth above this is told of, nothing is judged by it; this project's choice [K] */

enum { BRV_MOST_PROBES = BRV_N_GRAIN_PROBE + BRV_MOST_DEPTHS + 1 };

struct brv_effect {
    double pulse;                       /* width [s] */
    double diameter;                    /* of the grain [m] */
    struct brv_cooling cooling;         /* this grain, heated at once [s] */
    double fall_half[3], fall_efold[3]; /* after the end of this pulse: excess of centre, mean, surface over the
                                           layer down to 1/2, 1/e of what it was then; NAN: it never does, or was not above its cell [s] */
    double held;                        /* share of the grain's heat that has not left it at the end of the pulse [1] */
    double stress_time;                 /* sound across the grain [s] */
    double adiabatic_rise;              /* of the grain if it kept all its heat [K] */
    struct brv_spread peak[BRV_MOST_PROBES];      /* highest rise of every probe by the pulses [K] */
    double peak_time[BRV_MOST_PROBES];            /* [s] */
    struct brv_spread hottest[BRV_MOST_PROBES];   /* highest temperature from the first pulse on, cooling counted [K] */
    double hottest_time[BRV_MOST_PROBES];         /* [s] */
    struct brv_spread threshold[BRV_N_CRITERION]; /* fluence of every pulse, interior mean [J/m2] */
    bool above;      /* grain or a layer passes the first criterion: 'without vaporisation' */
    double sideways; /* from here on heat leaves sideways and layers without a disc are too warm: D^2/(16 alpha);
                        INFINITY where the disc takes care of it [s] */
    double warm;     /* longest time that any layer probe spends above BRV_WARM, in all [s] */
    struct brv_spread log_damage[BRV_MOST_PROBES]; /* from BRV_PROBE_LAYER on: ln Omega; -INFINITY: none [1] */
    double minutes[BRV_MOST_PROBES];               /* the same: CEM43; NAN above 50 C [min] */
    size_t most_damaged;                           /* the probe with the highest Omega */
    bool illustrative; /* pulses shorter than the rates were ever fitted to: Omega is an illustration */
    double coldest;    /* lowest temperature of any layer probe without the pulses [K] */
};

brv_status brv_effect_judge(struct brv_effect *effect, const struct brv_tissue *tissue, const struct brv_light *light,
                            const struct brv_history *history, const struct brv_audit *audit,
                            const struct brv_scenario *ask, struct brv_error *error) BRV_MUST_CHECK;

#endif
