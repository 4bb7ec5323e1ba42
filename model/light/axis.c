#include "light/axis.h"

#include "base/array.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define STEPS_PER_PIECE 16 /* the ratio changes by a few thousandths within one */

static brv_status make_room(struct brv_axis *axis, size_t n, struct brv_error *error)
{
    *axis = (struct brv_axis){.n = n, .n_step = STEPS_PER_PIECE * (n - 1)};
    double **const array[] = {&axis->depth, &axis->ratio, &axis->error, &axis->face, &axis->flux, &axis->taken};
    for (size_t i = 0; i < 6; i++) {
        *array[i] = brv_array_new(i < 3 ? n : axis->n_step + 1);
        if (!*array[i]) return brv_error_raise(error, BRV_MEMORY, "brv_axis_build");
    }
    return BRV_OK;
}

static double along(const struct brv_axis *axis, const double value[], double depth)
{
    if (depth <= axis->depth[0]) return value[0];
    if (depth >= axis->depth[axis->n - 1]) return value[axis->n - 1];
    const size_t i = brv_array_interval(axis->depth, axis->n - 1, depth);
    const double share = (depth - axis->depth[i]) / (axis->depth[i + 1] - axis->depth[i]);
    return value[i] + share * (value[i + 1] - value[i]);
}

double brv_axis_ratio(const struct brv_axis *axis, double depth)
{
    return along(axis, axis->ratio, depth);
}

double brv_axis_error(const struct brv_axis *axis, double depth)
{
    return along(axis, axis->error, depth);
}

/* Ratio in the middle of a fine step; below the last step that of its end. */
static double step_ratio(const struct brv_axis *axis, size_t step)
{
    if (step >= axis->n_step) return axis->ratio[axis->n - 1];
    return brv_axis_ratio(axis, 0.5 * (axis->face[step] + axis->face[step + 1]));
}

static void lay_steps(struct brv_axis *axis, const struct brv_layered *layered)
{
    for (size_t i = 0; i <= axis->n_step; i++) {
        const size_t piece = i / STEPS_PER_PIECE, rest = i % STEPS_PER_PIECE;
        const double from = axis->depth[piece], to = rest ? axis->depth[piece + 1] : from;
        axis->face[i] = i ? from + (to - from) * (double)rest / STEPS_PER_PIECE : 0.0;
        axis->flux[i] = brv_layered_net_flux(layered, axis->face[i]);
        if (i > 0) axis->taken[i] = axis->taken[i - 1] + step_ratio(axis, i - 1) * (axis->flux[i - 1] - axis->flux[i]);
    }
}

brv_status brv_axis_build(struct brv_axis *axis, const struct brv_layered *layered, size_t n, const double depth[],
                          const double ratio[], const double ratio_error[], struct brv_error *error)
{
    const brv_status status = make_room(axis, n, error);
    if (status) {
        brv_axis_free(axis);
        return status;
    }
    memcpy(axis->depth, depth, n * sizeof *depth);
    memcpy(axis->ratio, ratio, n * sizeof *ratio);
    memcpy(axis->error, ratio_error, n * sizeof *ratio_error);
    lay_steps(axis, layered);
    return BRV_OK;
}

double brv_axis_taken(const struct brv_axis *axis, const struct brv_layered *layered, double depth)
{
    if (depth <= 0.0) return 0.0;
    size_t step = axis->n_step;
    if (depth < axis->face[step]) step = brv_array_interval(axis->face, axis->n_step, depth);
    const double flux = isinf(depth) ? 0.0 : brv_layered_net_flux(layered, depth);
    return axis->taken[step] + step_ratio(axis, step) * (axis->flux[step] - flux);
}

void brv_axis_free(struct brv_axis *axis)
{
    free(axis->depth);
    free(axis->ratio);
    free(axis->error);
    free(axis->face);
    free(axis->flux);
    free(axis->taken);
    *axis = (struct brv_axis){.n = 0};
}
