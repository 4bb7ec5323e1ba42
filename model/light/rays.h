/* The directions in which diffuse light is followed: one set of rays for all layers.
 * A ray keeps n sin(theta) from layer to layer (Snell), so it is named by the index in which it would graze and
 * its cosine there; in a layer of index n
 *     n cosine(n) = sqrt(n^2 - index^2 + index^2 cosine^2),   and the ray is absent when index > n.
 * Between two successive indices the nodes are Gauss-Legendre in `cosine`: every angle of total reflection of the
 * stack lies between two such intervals, and within one of them Snell and Fresnel are smooth.
 * strength^2 = n^2 weight(n) cosine(n) is the same in every layer: flux across a step of the index is kept exactly. */
#ifndef BRV_LIGHT_RAYS_H
#define BRV_LIGHT_RAYS_H

#include "base/status.h"

#include <stddef.h>

struct brv_rays {
    size_t n;
    double *index;    /* [n] ascending: the index in which the ray would graze  [1] */
    double *cosine;   /* [n] its cosine in that index                           [1] */
    double *strength; /* [n] n sqrt(weight cosine), the same in every layer     [1] */
};

/* Shares about `n_ray` rays among the intervals between the `n_index` indices, in any order, repeats allowed;
 * at least three to an interval. BRV_MEMORY on failure.                                                    */
brv_status brv_rays_build(struct brv_rays *rays, const double *index, size_t n_index, size_t n_ray,
                          struct brv_error *error) BRV_MUST_CHECK;

/* Number of rays in a layer of this index: they are the first ones. */
size_t brv_rays_present(const struct brv_rays *rays, double index);

/* Cosine of a ray in a layer of this index; 0 when it is absent. */
double brv_rays_cosine(const struct brv_rays *rays, size_t ray, double index);

void brv_rays_free(struct brv_rays *rays);

#endif
