/* Angular shapes of light that is even in one lateral direction: real spherical harmonics to a fixed odd order,
 *     Y_lm = N_lm P_lm(mu) cos(m azimuth),   0 <= m <= l <= order, orthonormal on the sphere,
 * the coefficient of Y_lm standing for i^m times a real number, so that a wave exp(i k x) leaves everything real.
 * Shapes with l + m even are even in mu, the others are odd; there are fewer odd ones.
 * With psi the coefficients: mu couples by `along`, i sin(theta) cos(azimuth) by `across_...` (antisymmetric). Turning
 * the axis of the shapes by an angle multiplies the shapes of each l by exp(angle G), G the generator; `turn` holds the
 * eigenvectors of G, whose eigenvalues are l, l - 2, ..., -l, so even an imaginary angle is plain arithmetic.
 * Source: [wigner-1959]                                                                                        */
#ifndef BRV_LIGHT_HARMONICS_H
#define BRV_LIGHT_HARMONICS_H

#include "base/status.h"

#include <stddef.h>

enum {
    BRV_LAST_DEGREE = 7,
    BRV_N_DEGREE = BRV_LAST_DEGREE + 1,                             /* l = 0 ... order            */
    BRV_N_EVEN = (BRV_LAST_DEGREE + 1) * (BRV_LAST_DEGREE + 3) / 4, /* shapes even in mu          */
    BRV_N_ODD = (BRV_LAST_DEGREE + 1) * (BRV_LAST_DEGREE + 1) / 4   /* shapes odd in mu           */
};

/* Matrices are row-major; all numbers are pure. */
struct brv_harmonics {
    size_t place[BRV_N_DEGREE][BRV_N_DEGREE];               /* [l][m]: position among the even or the odd shapes */
    size_t degree_of_even[BRV_N_EVEN];                      /* l */
    size_t degree_of_odd[BRV_N_ODD];                        /* l */
    double along[BRV_N_EVEN * BRV_N_ODD];                   /* row: even, column: odd */
    double across_even[BRV_N_EVEN * BRV_N_EVEN];            /* even with even */
    double across_odd[BRV_N_ODD * BRV_N_ODD];               /* odd with odd */
    double turn[BRV_N_DEGREE][BRV_N_DEGREE * BRV_N_DEGREE]; /* [l]: row m, column j for eigenvalue l - 2 j */
};

/* BRV_MEMORY or BRV_NUMERICS on failure. */
brv_status brv_harmonics_build(struct brv_harmonics *shapes, struct brv_error *error) BRV_MUST_CHECK;

/* Coefficient of mu Y_l-1,m in Y_lm and the other way round. */
double brv_harmonics_step(size_t l, size_t m);

/* value[l][m] = sqrt(2 pi) N_lm P_lm(cosine): orthonormal over -1 < cosine < 1 for each m. */
void brv_harmonics_values(double value[BRV_N_DEGREE][BRV_N_DEGREE], double cosine);

#endif
