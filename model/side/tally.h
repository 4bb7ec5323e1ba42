/* How much of the skin gets how much: shares of an area by what falls on it.
 *     value i = first + i step,  share[i] of the skin gets it,  the shares sum to 1
 * What is laid down twice without regard to each other adds up: shares of a sum are the convolution of the shares.
 * Two laws of what lies about by chance, with nothing regular in it:
 *   - hits of discs, mean m: Poisson, share of k hits = exp(-m) m^k / k!                    Source: [poisson-distribution]
 *   - dose of gaussian spots, exp(-8 r^2/D^2) each. An area pi D^2/8 dy/y of a spot gets between y and y + dy, so by
 *     Campbell's theorem the mean is c = m/2 and the variance c/2, which makes the coefficient of variation 1/sqrt(m) as
 *     it is for discs. The whole law follows from   x p(x) = c (P(x) - P(x - 1)),   P the share at or below x; it is
 *     x^c exp(-0.5772 c)/Gamma(c + 1) up to x = 1.                                         Source: [campbell-1909]
 * Accuracy: mean of every tally to rounding, other numbers to the step; tests/verification/test_tally.c.              */
#ifndef BRV_SIDE_TALLY_H
#define BRV_SIDE_TALLY_H

#include "base/status.h"

#include <stddef.h>

struct brv_tally {
    double first, step; /* of the values */
    size_t n;
    double *share; /* [n] of the skin [1] */
};

brv_status brv_tally_build(struct brv_tally *tally, double first, double step, size_t n,
                           struct brv_error *error) BRV_MUST_CHECK;

/* The sum of `times` like it, none knowing of the others. */
brv_status brv_tally_repeat(struct brv_tally *sum, const struct brv_tally *one, size_t times,
                            struct brv_error *error) BRV_MUST_CHECK;

/* The same thing `times` over, on the same places. */
brv_status brv_tally_stretch(struct brv_tally *tally, const struct brv_tally *one, double times,
                             struct brv_error *error) BRV_MUST_CHECK;

/* Hits of discs at random; `mean` above 0. */
brv_status brv_tally_poisson(struct brv_tally *tally, double mean, struct brv_error *error) BRV_MUST_CHECK;

/* Dose of gaussian spots at random, in doses of one pulse on its axis; `mean` above 0. */
brv_status brv_tally_scatter(struct brv_tally *tally, double mean, struct brv_error *error) BRV_MUST_CHECK;

double brv_tally_value(const struct brv_tally *tally, size_t i);
double brv_tally_mean(const struct brv_tally *tally);
double brv_tally_variation(const struct brv_tally *tally); /* standard deviation over mean [1] */

/* Share of the skin that gets from `least` to below `most` [1]. */
double brv_tally_between(const struct brv_tally *tally, double least, double most);

/* The least value at or below which at least a share `level` of the skin lies. */
double brv_tally_quantile(const struct brv_tally *tally, double level);

/* The same of brv_tally_scatter: by its closed form up to the dose of one pulse, where steps would be coarse. */
double brv_tally_scatter_quantile(const struct brv_tally *tally, double mean, double level);

void brv_tally_free(struct brv_tally *tally);

#endif
