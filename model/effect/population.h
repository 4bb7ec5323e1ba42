/* Grains that differ: which share of them is disrupted at a fluence.
 * Darkness and diameter are log-normal and independent of each other:
 *     darkness = exp(sigma z - sigma^2 / 2), so that its mean over the volume is 1
 *     diameter = median exp(sigma z); by volume, large grains count more, z is then normal about 3 sigma
 * Each grain has its own threshold. The nearness, its inverse, is asked of a kernel of heat for a few sizes and for the
 * darknesses below, between which it is straight against what a grain takes up; a spline through the sizes makes it fine enough for the shares,
 * which are integrals over the normal distribution. Source of the spreads: [jacques-1998], [melanosome-size].
 * The light is not changed by the spreads. Dark and large grains shade themselves more, so a crowd takes up a little
 * less than as many middle grains: 1.6 % less where mu_a d = 0.05 for the middle one, 5 % at 0.2, 15 % at 1.
 * Accuracy 1e-3 of the share, 4e-3 with a spread of 0.5 of the diameters: tests/unit/test_population.c, against draws of
 * single grains.                                                                                                    */
#ifndef BRV_EFFECT_POPULATION_H
#define BRV_EFFECT_POPULATION_H

#include "base/status.h"

#include <stddef.h>

enum { BRV_N_DARKNESS = 37, BRV_MOST_POPULATION_SIZES = 16, BRV_N_FINE = 101 };

struct brv_population {
    double darkness_spread, diameter_spread; /* sigma of each [1] */
    size_t n_size;
    double size[BRV_MOST_POPULATION_SIZES];        /* [n_size] z of the diameters, even; one or at least three [1] */
    size_t n_fine;                                 /* BRV_N_FINE, or one for one size */
    double number[BRV_N_FINE], volume[BRV_N_FINE]; /* [n_fine] share of each size, by number and by volume [1] */
    double part[BRV_N_FINE][BRV_MOST_POPULATION_SIZES]; /* what a value at a size gives to each finer one [1] */
};

struct brv_shares {
    double number, volume; /* [1] */
};

brv_status brv_population_build(struct brv_population *population, double darkness_spread, double diameter_spread,
                                size_t n_size, const double size[], struct brv_error *error) BRV_MUST_CHECK;

/* Darkness number k: from e^-5 to e^4 in steps of e^0.25 [1]. */
double brv_population_darkness(size_t k);

/* From coarse[n_size][BRV_N_DARKNESS] to fine[n_fine][BRV_N_DARKNESS], which does not fall with the darkness. Serves for
 * nearness, 1 / threshold and 0 for never [m2/J], and for uptake, over that of a grain of darkness 1 [1].           */
void brv_population_refine(double fine[], const struct brv_population *population, const double coarse[]);

/* ln of the darkness from which on grains of one size are disrupted, from its BRV_N_DARKNESS refined values; -12 where
 * all are, 8 where none is [1].                                                                                    */
double brv_population_critical(const double nearness[BRV_N_DARKNESS], const double uptake[BRV_N_DARKNESS],
                               double fluence);

/* Share of the grains of any one size that are darker than exp(ln), and the share of the sum of all darknesses that they
 * hold: of a log-normal with mean 1 that sum leans by sigma^2 [1].                                                  */
double brv_population_darker(const struct brv_population *population, double ln);
double brv_population_blackness(const struct brv_population *population, double ln);

/* Shares disrupted at `fluence` [J/m2]; nearness and uptake are refined. */
struct brv_shares brv_population_disrupted(const struct brv_population *population, const double nearness[],
                                           const double uptake[], double fluence);

#endif
