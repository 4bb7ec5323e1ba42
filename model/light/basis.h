/* The angular shapes in which a layer scatters: Legendre polynomials made exactly orthonormal on its rays.
 *     even[., j] ~ sqrt((4j + 1) w) P_2j(mu),   odd[., j] ~ sqrt((4j + 3) w) P_2j+1(mu)
 * (even ones for the sum, odd ones for the difference of the light along +mu and -mu). Both sets are complete, so
 * scattering neither makes nor loses light whatever the rays, and each moment acts on one shape only.            */
#ifndef BRV_LIGHT_BASIS_H
#define BRV_LIGHT_BASIS_H

#include "base/status.h"
#include "light/rays.h"

#include <stddef.h>

/* One layer index; matrices are row-major. */
struct brv_basis {
    size_t n;         /* rays present = even shapes = odd shapes            */
    double index;     /* of the layer                                  [1] */
    double *cosine;   /* [n] of each ray here                          [1] */
    double *even;     /* [n * n] row: ray, column: order 0, 2, 4 ...   [1] */
    double *odd;      /* [n * n] row: ray, column: order 1, 3, 5 ...   [1] */
    double *coupling; /* [n * n] even^T diag(1 / cosine) odd           [1] */
    double norm;      /* sum of the weights, square root; close to 1   [1] */
};

/* BRV_MEMORY or BRV_NUMERICS on failure, and then `basis` is empty. */
brv_status brv_basis_build(struct brv_basis *basis, const struct brv_rays *rays, double index,
                           struct brv_error *error) BRV_MUST_CHECK;

void brv_basis_free(struct brv_basis *basis);

#endif
