/* How diffuse light fades in one homogeneous layer. With p, q the sum and the difference of the light along +mu
 * and -mu on each ray (times sqrt(w mu) / n), and t the depth in units of 1 / extinction,
 *     q' = -A p,   p' = -B q,   A = M^-1/2 E diag(loss_even) E^T M^-1/2,   B the same with the odd shapes O.
 * loss_l = (mu_a + mu_s (1 - kept_l)) / extinction: each Legendre order l loses light at its own rate. Part of the
 * forward peak is too sharp for the rays and counts as not scattered at all (delta-M), peak = g^(1.2 n):
 *     extinction = mu_a + mu_s (1 - peak),   kept_l = peak + (g^l - peak) exp(-(l / 0.9 n)^6).
 * The orders fade out because a sharp last order rings, and the angle of total reflection cuts through the ringing:
 * fading takes the error of a slab with g = 0.9 and n = 1.4 down ten-fold.
 * The singular values of diag(loss_even)^1/2 E^T M^-1 O diag(loss_odd)^1/2 are the decay constants k; they are
 * never squared on the way, so the small one of nearly loss-free layers keeps its digits. In the modes
 *     p = P eta,  q = Q zeta,  Q^T P = 1:     eta' = -zeta,   zeta' = -k^2 eta.
 * Source: [wiscombe-1977] for delta-M; [stamnes-1988] for discrete ordinates.                                    */
#ifndef BRV_LIGHT_MODES_H
#define BRV_LIGHT_MODES_H

#include "base/status.h"
#include "light/basis.h"

#include <stddef.h>

struct brv_modes {
    size_t n;
    double extinction;  /* left after delta-M; t = extinction * depth    [1/m] */
    double *decay;      /* [n] k, in units of the extinction             [1]   */
    double *sum;        /* [n * n] P: row ray, column mode               [1]   */
    double *difference; /* [n * n] Q: row ray, column mode               [1]   */
    double *loss;       /* [2 n] by order l                              [1]   */
};

/* BRV_MEMORY or BRV_NUMERICS on failure, and then `modes` is empty. A clear layer has extinction 0. */
brv_status brv_modes_build(struct brv_modes *modes, const struct brv_basis *basis, double absorption, double scattering,
                           double anisotropy, struct brv_error *error) BRV_MUST_CHECK;

void brv_modes_free(struct brv_modes *modes);

#endif
