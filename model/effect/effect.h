/* What the temperatures mean for one skin: relaxation, confinement, peaks and the threshold of a grain.
 * The front of this folder: it knows the stages before it.                                                  */
#ifndef BRV_EFFECT_EFFECT_H
#define BRV_EFFECT_EFFECT_H

#include "effect/damage.h"
#include "effect/population.h"
#include "effect/relaxation.h"
#include "effect/threshold.h"
#include "heat/heat.h"

#include <stdbool.h>

/* A number with its spread: low and high are for grains 0.316 and 3.16 times as dark, scaled from what two more solves
 * of the light tell (light/light_sensitivity.h); with the light held fixed where that was not asked.               */
struct brv_spread {
    double value, low, high;
};

#define BRV_WARM                                                                                                       \
    (45.0 + 273.15) /* lasting warmth above this is told of, nothing is judged by it; this project's choice [K] */

#define BRV_BOILING (100.0 + 273.15) /* water at normal pressure [K] */

enum { BRV_MOST_PROBES = BRV_N_GRAIN_PROBE + BRV_MOST_DEPTHS + 1 + BRV_N_MARK + BRV_MOST_LAYERS };

/* What a pulse of one fluence does to grains that differ, in all layers with pigment together. */
struct brv_disrupted {
    struct brv_shares share; /* of the grains, by number and by volume [1] */
    double column;           /* disrupted pigment, as the thickness of a layer of nothing else [m] */
};

/* Fluences from BRV_LEAST_FLUENCE on, so many a decade. */
#define BRV_LEAST_FLUENCE 10.0 /* [J/m2] */
enum { BRV_FLUENCE_DECADE = 40, BRV_N_FLUENCE = 6 * BRV_FLUENCE_DECADE + 1 };

/* Fluence number i of that list [J/m2]. */
double brv_effect_fluence(size_t i);

/* Grains that differ: see effect/population.h. One grain and a sign that one can see are two things: a sign needs
 * enough disrupted pigment per area, column >= watch.sign_column, a number without a source.                        */
struct brv_crowd_effect {
    double column;             /* of all pigment [m] */
    struct brv_disrupted here; /* at the fluence asked for; its shares, and the next two's, NAN: no pigment */
    struct brv_disrupted least,
        most; /* there by the criteria in print, 150 and 112 degC, and the one asked for, with all
                                         grains 0.316 and 3.16 times as dark */
    struct brv_disrupted curve[BRV_N_FLUENCE];
    struct brv_spread threshold_sign; /* fluence of every pulse; low and high are for BRV_SIGN_LEAST and _MOST and
                                         for grains 3.16 and 0.316 times as dark; NAN:
                                         there is not so much pigment, or no light for it [J/m2] */
};

/* Blood in a vessel (effect/vessel.h); low and high are for the saturations of vessel.saturation's spread. */
struct brv_vessel_effect {
    bool there;
    double fluence_ratio;   /* on its axis, over the incident fluence [1] */
    double shading;         /* F [1] */
    struct brv_spread rise; /* by the light of one pulse, if the blood kept that heat; above the tissue around it [K] */
    double relaxation;      /* d^2 / 16 alpha [s] */
};

/* A film on the skin. Its mean is a probe of the history like any other; here stands what is read off it alone. */
struct brv_film_effect {
    bool there;
    double absorbed;        /* on the axis, over the incident axis fluence [1] */
    struct brv_spread peak; /* highest rise of its mean; low and high are for the darkness of the grains below [K] */
    double warmest;         /* highest rise of any of its cells [K] */
    double gives;           /* highest rise that its heat brings to the mean of the grain's layer [K] */
    double gives_time;      /* when [s] */
    bool above;             /* it passes the ceiling: energy over heat capacity, not a temperature */
};

/* A depth of 0.3 or 1 mm. */
struct brv_dermis_effect {
    bool there;
    struct brv_spread first,
        last;    /* highest rise after the first pulse and before the second; from the last pulse on [K] */
    double warm; /* time above BRV_WARM [s] */
};

/* Pressure in the grain (effect/pressure.h); low and high are a factor of 3 either way. */
struct brv_pressure_effect {
    double theta;            /* pulse over the time of sound across the grain [1] */
    double confined;         /* S(theta) [1] */
    struct brv_spread value; /* of the pulse with the most, up to the criterion and no further [Pa] */
    bool at_criterion;       /* the grain gets hotter than that */
};

struct brv_effect {
    double pulse;                       /* width [s] */
    double diameter;                    /* of the grain [m] */
    struct brv_cooling cooling;         /* this grain, heated at once [s] */
    double fall_half[3], fall_efold[3]; /* after the end of this pulse: excess of centre, mean, surface over the
                                           layer down to 1/2, 1/e of what it was then; NAN: it never does, or was not above its cell [s] */
    double held;           /* at the end of the pulse, of the lead over its cell it would have without conduction [1] */
    double stress_time;    /* sound across the grain [s] */
    double adiabatic_rise; /* of the grain if it kept all its heat [K] */
    struct brv_spread peak[BRV_MOST_PROBES];      /* highest rise of every probe by the pulses [K] */
    double peak_time[BRV_MOST_PROBES];            /* [s] */
    struct brv_spread hottest[BRV_MOST_PROBES];   /* highest temperature from the first pulse on, cooling counted [K] */
    double hottest_time[BRV_MOST_PROBES];         /* [s] */
    double criterion;                             /* asked for [K] */
    int place;                                    /* enum brv_grain_place */
    struct brv_spread threshold_grain;            /* fluence of every pulse at which that place reaches it [J/m2] */
    struct brv_spread threshold[BRV_N_CRITERION]; /* the same for the criteria in print [J/m2] */
    struct brv_crowd_effect crowd;
    struct brv_pressure_effect pressure;
    struct brv_vessel_effect vessel;
    struct brv_dermis_effect dermis[BRV_N_MARK]; /* 0.3 and 1 mm */
    struct brv_film_effect film;
    double ceiling;  /* above it a figure is energy over heat capacity: 112 degC, or a lower criterion of the mean, but
                       never below BRV_BOILING [K] */
    bool above;      /* grain or a layer of the skin passes it: 'without vaporisation' */
    double sideways; /* from here on heat leaves sideways and layers without a disc are too warm: D^2/(16 alpha);
                        INFINITY where the disc takes care of it [s] */
    double warm;     /* longest time that any layer probe spends above BRV_WARM, in all [s] */
    struct brv_spread log_damage[BRV_MOST_PROBES]; /* from BRV_PROBE_LAYER on: ln Omega; -INFINITY: none [1] */
    double minutes[BRV_MOST_PROBES];               /* the same: CEM43; NAN above 50 C [min] */
    size_t most_damaged;                           /* the probe with the highest Omega */
    struct brv_spread damage; /* ln Omega of the most damaged place, which may be another with low and with high [1] */
    bool illustrative;        /* Omega is gathered faster than the rates were fitted to: brv_effect_illustrates */
    double coldest;           /* lowest temperature of any layer probe without the pulses [K] */
};

/* What grains 0.316 (k = 0) or 3.16 times (1) as dark make of a probe. Where the light was not asked, it is held fixed.
 * Heat of pigment in the mean of a layer that has some is its own; at a depth it has come from all that have some. */
struct brv_scaling brv_effect_scaling(const struct brv_tissue *tissue, const struct brv_light *light,
                                      const struct brv_history *history, size_t probe, size_t k);

/* Rates of damage where a probe lies, of one set (enum brv_damage_set): those of the dermis in dermis and fat. */
const struct brv_damage_pair *brv_effect_rates(const struct brv_tissue *tissue, const struct brv_light *light,
                                               const struct brv_history *history, size_t probe, int set);

/* Above it a figure is energy over heat capacity, no temperature [K]. */
double brv_effect_ceiling(const struct brv_watch *watch);

/* The higher of two in value, low and high, each by itself. */
struct brv_spread brv_spread_higher(const struct brv_spread *one, const struct brv_spread *other);

/* Omega is an illustration where a pulse under a millisecond gathers most of it during the pulse and the millisecond after
 * it. It is none where half of it or more is lasting warmth, nor where that alone is what is published for burns of first
 * degree. `log_all`, `log_lasting`: ln Omega and ln of its part outside brv_effect_brief().                         */
bool brv_effect_illustrates(const struct brv_scenario *ask, double log_all, double log_lasting);

/* Heating that is no lasting warmth: from the start of a pulse to a millisecond after its end [s]. */
double brv_effect_brief(const struct brv_scenario *ask);

/* What the same pulses do with `factor` times the light each, as far as it is read off the temperatures of places: peak,
 * hottest, their times, minutes, warm and all of the damage. They are not in proportion to the light; the rest of `effect`
 * is empty. The same numbers as of a run with that fluence: tests/verification/test_ladder.c.                       */
brv_status brv_effect_times(struct brv_effect *effect, const struct brv_tissue *tissue, const struct brv_light *light,
                            const struct brv_history *history, const struct brv_scenario *ask, double factor,
                            struct brv_error *error) BRV_MUST_CHECK;

brv_status brv_effect_judge(struct brv_effect *effect, const struct brv_tissue *tissue, const struct brv_light *light,
                            const struct brv_history *history, const struct brv_audit *audit,
                            const struct brv_scenario *ask, struct brv_error *error) BRV_MUST_CHECK;

#endif
