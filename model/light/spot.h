/* Light of a flat or gaussian spot in plane layers, on its axis and off it, without random numbers.
 *     phi(r, z) = unscattered(z) profile(r)
 *               + [layered(z) - unscattered(z)] integral of spectrum(k) share(k, z) J0(k r) dk
 * The beam is a sum of lateral frequencies k (lateral.h). For each of them the transfer equation has depth and
 * direction only and is solved in spherical harmonics to order 7 (ripple.h); share is its diffuse fluence over that at
 * k = 0. So frequency 0 is the exact wide answer of layered.h: a wide spot tends to it, and the plane integral at every
 * depth is the area of the beam times it.
 *
 * Normal incidence; fluence over the incident fluence on the axis, before the mirror reflection. For a gaussian that is
 * 2 E / (pi w^2), w the 1/e2 radius.
 *
 * Accuracy in skin, light and dark, 532 to 1064 nm, flat and gaussian spots of 0.5 to 20 mm, to a depth of 3 mm: 3 % on
 * the axis and beside it wherever there is more than 1e-3, and mostly 0.5 %: tests/verification/test_spot.c. A face
 * between two indices inside the stack, or a clear layer of 1 mm, costs another 3 % below it. Not covered: the light
 * inside such a clear layer (17 % less than there is), and spots narrower than the free path of the unscattered beam in
 * media that hardly scatter (0.5 mm in mu_s' = 240 1/m: 6 % at 0.5 mm, 40 % at 3 mm), because the sharp forward peak is
 * counted as unscattered and does not widen.
 * Source: [marshak-1947], [wigner-1959]                                                                            */
#ifndef BRV_LIGHT_SPOT_H
#define BRV_LIGHT_SPOT_H

#include "base/status.h"
#include "light/layered.h"

#include <stdbool.h>
#include <stddef.h>

struct brv_spot_ask {
    size_t n_medium;                   /* 1 to 16 */
    const struct brv_medium *medium;   /* [n_medium]; as in layered.h */
    double outside_index, below_index; /* as in layered.h [1] */
    double diameter;                   /* flat, or 1/e2 when gaussian; 0.5 to 30 mm are checked [m] */
    bool gaussian;
    size_t n_depth;       /* at least 1 */
    const double *depth;  /* [n_depth] where the fluence is wanted; on a face the deeper side is meant [m] */
    size_t n_radius;      /* at least 1 */
    const double *radius; /* [n_radius] distances from the axis; time grows with the largest [m] */
};

struct brv_spot {
    size_t n_depth, n_radius;
    double *depth;   /* [n_depth] copy of the asked [m] */
    double *radius;  /* [n_radius] copy of the asked [m] */
    double *fluence; /* [n_depth][n_radius] over the incident fluence on the axis [1] */
    double *wide;    /* [n_depth] what an endless beam has there [1] */
};

/* BRV_MEMORY or BRV_NUMERICS on failure, and then `spot` is empty. */
brv_status brv_spot_solve(struct brv_spot *spot, const struct brv_spot_ask *ask,
                          struct brv_error *error) BRV_MUST_CHECK;

/* Empties `spot`; may be called twice and on a zeroed struct. */
void brv_spot_free(struct brv_spot *spot);

#endif
