/* Light on the axis of a spot, carried by the exact answer for an endless beam.
 * A beam of finite width has, on its axis, a share `ratio` of the endless beam's fluence, which falls smoothly with
 * depth while the fluence itself jumps and bends at layers. So the ratio is kept at some depths and joined by straight
 * lines, and what a slice takes up is the endless beam's share of it times the ratio in fine steps: slices add up to
 * rounding however they are cut.                                                                              */
#ifndef BRV_LIGHT_AXIS_H
#define BRV_LIGHT_AXIS_H

#include "base/status.h"
#include "light/layered.h"

#include <stddef.h>

struct brv_axis {
    size_t n;
    double *depth; /* [n] ascending [m] */
    double *ratio; /* [n] fluence on the axis over that of an endless beam [1] */
    double *error; /* [n] standard error of the ratio; 0 where nothing was sampled [1] */
    size_t n_step;
    double *face;  /* [n_step + 1] fine steps [m] */
    double *flux;  /* [n_step + 1] net flux of the endless beam there [1] */
    double *taken; /* [n_step + 1] taken up above it on the axis, over the axis fluence [1] */
};

/* Keeps copies of depth, ratio and error [n], n >= 2. */
brv_status brv_axis_build(struct brv_axis *axis, const struct brv_layered *layered, size_t n, const double depth[],
                          const double ratio[], const double ratio_error[], struct brv_error *error) BRV_MUST_CHECK;

double brv_axis_ratio(const struct brv_axis *axis, double depth);
double brv_axis_error(const struct brv_axis *axis, double depth);

/* Taken up on the axis between the surface and `depth`, over the axis fluence [1]; INFINITY: all of it. */
double brv_axis_taken(const struct brv_axis *axis, const struct brv_layered *layered, double depth);

void brv_axis_free(struct brv_axis *axis);

#endif
