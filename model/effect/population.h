/* Grains that differ: which share of them is disrupted at a fluence.
 * Darkness and diameter are log-normal and independent of each other:
 *     darkness = exp(sigma z - sigma^2 / 2), so that its mean over the volume is 1 and the layer absorbs what it did
 *     diameter = median exp(sigma z); by volume, large grains count more, z is then normal about 3 sigma
 * Each grain has its own threshold. The nearness, its inverse, is asked of a kernel of heat for a few sizes and for the
 * darknesses below, between which it is nearly straight; a spline through the sizes makes it fine enough for the shares,
 * which are integrals over the normal distribution. Source of the spreads: [jacques-1998], [melanosome-size].
 * Accuracy 1e-3 of the share: tests/unit/test_population.c, against draws of single grains.                        */
#ifndef BRV_EFFECT_POPULATION_H
#define BRV_EFFECT_POPULATION_H

#include "base/status.h"

#include <gsl/gsl_spline.h>

#include <stddef.h>

enum { BRV_N_DARKNESS = 19, BRV_MOST_POPULATION_SIZES = 16, BRV_N_FINE = 201 };

struct brv_population {
    double darkness_spread, diameter_spread; /* sigma of each [1] */
    size_t n_size;
    double size[BRV_MOST_POPULATION_SIZES]; /* [n_size] z of the diameters, even; one or at least three [1] */
    size_t n_fine;                          /* BRV_N_FINE, or one for one size */
    gsl_spline *spline;                     /* over size; NULL for one */
};

struct brv_shares {
    double number, volume; /* [1] */
};

brv_status brv_population_build(struct brv_population *population, double darkness_spread, double diameter_spread,
                                size_t n_size, const double size[], struct brv_error *error) BRV_MUST_CHECK;

/* Darkness number k: from e^-5 to e^4 in steps of e^0.5 [1]. */
double brv_population_darkness(size_t k);

/* From nearness[i * BRV_N_DARKNESS + k] of grains of size i and darkness k, 0 for never, to fine[n_fine *
 * BRV_N_DARKNESS], which does not fall with k.                                                                     */
void brv_population_refine(double fine[], const struct brv_population *population, const double nearness[]);

/* Shares disrupted at `fluence` [J/m2]. */
struct brv_shares brv_population_disrupted(const struct brv_population *population, const double fine[],
                                           double fluence);

void brv_population_free(struct brv_population *population);

#endif
