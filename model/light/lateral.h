/* From answers at a few lateral frequencies to the light at distances from the axis:
 *     light(r) = integral of spectrum(k) share(k) J0(k r) dk = sum over i of weight[r][i] share(k_i),
 * share the answer at k over that at k = 0. Between the frequencies share is a cubic spline over arsinh(k / scale),
 * even in k; above the last one it falls as 1 / k (light that was scattered once), fading out smoothly.
 * The weights know the beam and the distances only, so one set serves every depth.                                */
#ifndef BRV_LIGHT_LATERAL_H
#define BRV_LIGHT_LATERAL_H

#include "base/status.h"
#include "light/profile.h"

#include <stddef.h>

struct brv_lateral {
    size_t n_frequency, n_radius;
    double scale;      /* below it share hardly depends on k               [1/m] */
    double most;       /* the last frequency                               [1/m] */
    double *frequency; /* [n_frequency] from 0                             [1/m] */
    double *weight;    /* [n_radius][n_frequency]                            [1] */
};

/* For media whose light stops depending on k below `slowest` and is lost in its first free path above `fastest`.
 * BRV_MEMORY or BRV_NUMERICS on failure, and then `lateral` is empty.                                             */
brv_status brv_lateral_build(struct brv_lateral *lateral, const struct brv_profile *profile, double slowest,
                             double fastest, const double *radius, size_t n_radius,
                             struct brv_error *error) BRV_MUST_CHECK;

void brv_lateral_free(struct brv_lateral *lateral);

#endif
