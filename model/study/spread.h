/* How uncertain the headlines are, and which input makes them so: the scenario drawn many times.
 * Points: Sobol's sequence as GSL has it, whose first point is the middle of every input, for the first 32 inputs: of
 * GSL's later columns some hang together at 256 draws (products of two at 0.75 where 0 is right, against 0.2). The further
 * inputs, which are those that matter least, take the reversed Halton sequence in the bases 3, 5, 7, ... The same scenario
 * gives the same draws.
 * Every draw is a pair of runs, lesion and neighbour, followed to BRV_SPREAD_AFTER past the end of the last pulse:
 * grains and thin layers have long passed their peaks; warmth at 0.3 and 1 mm comes later and is left out (NAN). Where the
 * damage of the scenario itself goes on after that, every draw is followed to the scenario's own end.
 * Quantiles: of all draws, between neighbours as GSL has it. A threshold that does not exist lies beyond the highest
 * one, so a quantile may be INFINITY, 'none'. The threshold ratio is INFINITY where only the neighbour has no sign and
 * -INFINITY where the lesion has none.
 * Error of a quantile by the number of draws: the first half of them against all. It is an indication, no bound.
 * Indices: study/indices.h of a headline, or of its logarithm where all are positive and over more than a factor of 2,
 * or of its rank where some do not exist, and for shares, which are squeezed between 0 and 1.
 * Tests: tests/verification/test_spread.c. Source: [sobol-1967], [halton-1960], from memory.                       */
#ifndef BRV_STUDY_SPREAD_H
#define BRV_STUDY_SPREAD_H

#include "base/control.h"
#include "study/headline.h"
#include "study/inputs.h"

#define BRV_SPREAD_AFTER 10e-3 /* [s] */
#define BRV_SPREAD_ROUGH 0.7   /* q2 below this: the ranking is rough, this project's choice */

enum { BRV_SPREAD_DRAWS = 256, BRV_SPREAD_DEGREE = 3, BRV_SPREAD_CROSS = 3 };

enum brv_spread_scale { BRV_SCALE_PLAIN, BRV_SCALE_LOGARITHM, BRV_SCALE_RANK, BRV_N_SCALE };

struct brv_quantiles {
    double p5, p50, p95;
};

/* One headline at one site. */
struct brv_spread_row {
    double asked;              /* of the scenario itself; NAN: there is none, or it is left out */
    struct brv_quantiles all;  /* NAN where the headline is left out, or not in every draw */
    struct brv_quantiles half; /* difference of the first half of the draws; NAN where one of them is infinite */
    double without;            /* share of the draws that have no such value [1] */
    int scale;                 /* enum brv_spread_scale: what the indices are of */
    double q2;                 /* see study/indices.h; NAN: nothing varies */
    double first[BRV_MOST_INPUTS], total[BRV_MOST_INPUTS]; /* by input */
};

struct brv_spreading {
    struct brv_inputs inputs;
    size_t n_draw;
    double after;   /* how long past the last pulse; INFINITY: to the scenario's own end [s] */
    double *u;      /* [n_draw][inputs.n] */
    double *output; /* [BRV_N_SITE][BRV_N_HEADLINE][n_draw] SI */
    struct brv_spread_row row[BRV_N_SITE][BRV_N_HEADLINE]; /* what is shared is the same at both */
};

/* Point number k of the sequence: u[n], each above 0 and below 1. Points are written for all k below n_draw. */
brv_status brv_spread_points(double u[], size_t n_draw, size_t n, struct brv_error *error) BRV_MUST_CHECK;

/* The scenario, followed for `after` seconds past its last pulse, to its own end at most. */
struct brv_scenario brv_spread_followed(const struct brv_scenario *ask, double after);

/* Is this headline left out? */
bool brv_spread_leaves_out(enum brv_headline which);

/* 5, 50 and 95 % of n values, which are sorted; INFINITY and -INFINITY are ends. */
struct brv_quantiles brv_spread_quantiles(double value[], size_t n);

/* Draws a checked scenario n_draw times. `control` may be NULL; the numbers are the same for any count of threads. On
 * failure `spreading` comes back empty. Not for light.method sampled: its noise would be taken for spread.            */
brv_status brv_spread_solve(struct brv_spreading *spreading, const struct brv_scenario *ask,
                            const struct brv_inputs *inputs, size_t n_draw, const struct brv_control *control,
                            struct brv_error *error) BRV_MUST_CHECK;

void brv_spread_free(struct brv_spreading *spreading);

#endif
