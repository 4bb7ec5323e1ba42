/* How diffuse light with a lateral frequency k fades in one homogeneous layer: the modes exp(i k x - lambda z) of
 *     along psi' + (loss_l + k across) psi = 0.
 * Without a lateral frequency the modes of azimuthal order m' fade at rates nu given by
 *     loss_l c_l = nu (step_l+1 c_l+1 + step_l c_l-1),   one small symmetric problem for each m'.
 * Nothing in an endless layer prefers an axis. So each mode with k is one of these with its axis tilted by the
 * imaginary angle artanh: lambda^2 = nu^2 + k^2, and its shape follows by turning. No eigenproblem depends on k. */
#ifndef BRV_LIGHT_TILT_H
#define BRV_LIGHT_TILT_H

#include "base/status.h"
#include "light/harmonics.h"

#include <stddef.h>

/* The modes of one layer without a lateral frequency. */
struct brv_tilt {
    double loss[BRV_N_DEGREE];             /* of each l                                      [1/m] */
    double fade[BRV_N_ODD];                /* nu, for each mode                              [1/m] */
    size_t azimuth[BRV_N_ODD];             /* m'                                                   */
    double share[BRV_N_ODD][BRV_N_DEGREE]; /* c_l                                              [1] */
};

/* The modes at one k; a mode that fades upwards has the odd shapes reversed. */
struct brv_tilt_modes {
    double fade[BRV_N_ODD];              /* lambda                                 [1/m] */
    double even[BRV_N_EVEN * BRV_N_ODD]; /* row: shape, column: mode; largest 1      [1] */
    double odd[BRV_N_ODD * BRV_N_ODD];   /* the same for the odd shapes              [1] */
};

/* From loss[l] > 0. BRV_MEMORY or BRV_NUMERICS on failure. */
brv_status brv_tilt_build(struct brv_tilt *tilt, const double loss[BRV_N_DEGREE],
                          struct brv_error *error) BRV_MUST_CHECK;

void brv_tilt_modes_fill(struct brv_tilt_modes *modes, const struct brv_tilt *tilt, const struct brv_harmonics *shapes,
                         double frequency);

#endif
