#include "heat/history.h"

#include "base/array.h"

#include <math.h>
#include <stdbool.h>
#include <stdlib.h>

#define EVEN_SPACING 2.5 /* ratio of neighbouring time steps up to which a parabola is drawn */

brv_status brv_history_build(struct brv_history *history, size_t n_time, size_t n_probe, size_t n_cell,
                             struct brv_error *error)
{
    *history = (struct brv_history){.n_time = n_time,
                                    .n_probe = n_probe,
                                    .n_cell = n_cell,
                                    .time = brv_array_new(n_time),
                                    .rise = brv_array_new(n_probe * n_time),
                                    .pigment = brv_array_new(n_probe * n_time),
                                    .excess = brv_array_new(3 * n_time),
                                    .face = brv_array_new(n_cell + 1),
                                    .absorbed = brv_array_new(n_cell),
                                    .peak = brv_array_new(n_cell)};
    if (history->time && history->rise && history->pigment && history->excess && history->face && history->absorbed &&
        history->peak)
        return BRV_OK;
    brv_history_free(history);
    return brv_error_raise(error, BRV_MEMORY, "history");
}

const double *brv_history_rise(const struct brv_history *history, size_t probe)
{
    return history->rise + probe * history->n_time;
}

const double *brv_history_pigment(const struct brv_history *history, size_t probe)
{
    return history->pigment + probe * history->n_time;
}

/* Top of the parabola through three points whose middle one is the highest. */
static struct brv_summit parabola(const double t[3], const double v[3])
{
    const double left = (v[1] - v[0]) / (t[1] - t[0]), right = (v[2] - v[1]) / (t[2] - t[1]);
    const double bend = (right - left) / (t[2] - t[0]);
    if (!(bend < 0.0)) return (struct brv_summit){v[1], t[1]};
    const double top = 0.5 * (t[0] + t[1]) - 0.5 * left / bend;
    return (struct brv_summit){v[0] + left * (top - t[0]) + bend * (top - t[0]) * (top - t[1]), top};
}

/* May a smooth curve be drawn through the points i - 1, i, i + 1? */
static bool smooth_at(const struct brv_history *history, size_t i)
{
    if (i == 0 || i + 1 >= history->n_time) return false;
    const double *t = history->time + i - 1;
    const double ratio = (t[2] - t[1]) / (t[1] - t[0]);
    const bool sharp = history->kink >= t[0] && history->kink <= t[2];
    return ratio > 1.0 / EVEN_SPACING && ratio < EVEN_SPACING && !sharp;
}

struct brv_summit brv_history_summit(const struct brv_history *history, size_t probe, double darkness)
{
    const double *rise = brv_history_rise(history, probe), *pigment = brv_history_pigment(history, probe);
    size_t top = 0;
    for (size_t i = 1; i < history->n_time; i++)
        if (rise[i] + (darkness - 1.0) * pigment[i] > rise[top] + (darkness - 1.0) * pigment[top]) top = i;

    if (!smooth_at(history, top))
        return (struct brv_summit){rise[top] + (darkness - 1.0) * pigment[top], history->time[top]};
    double value[3];
    for (size_t i = 0; i < 3; i++) value[i] = rise[top - 1 + i] + (darkness - 1.0) * pigment[top - 1 + i];
    return parabola(history->time + top - 1, value);
}

/* Straight line in log-log between two points: a cooling curve is close to one over a tenth of a decade. */
static double crossing(double t0, double v0, double t1, double v1, double level)
{
    if (!(t0 > 0.0 && v1 > 0.0 && level > 0.0)) return t0 + (t1 - t0) * (v0 - level) / (v0 - v1);
    const double share = log(v0 / level) / log(v0 / v1);
    return t0 * pow(t1 / t0, share);
}

double brv_history_fall(const struct brv_history *history, const double curve[], double from, double level)
{
    for (size_t i = 1; i < history->n_time; i++) {
        if (history->time[i] <= from || curve[i] > level) continue;
        if (history->time[i - 1] < from) return history->time[i];
        return from + crossing(history->time[i - 1] - from, curve[i - 1], history->time[i] - from, curve[i], level);
    }
    return NAN;
}

void brv_history_free(struct brv_history *history)
{
    double *const array[] = {history->time, history->rise,     history->pigment, history->excess,
                             history->face, history->absorbed, history->peak};
    for (size_t i = 0; i < sizeof array / sizeof *array; i++) free(array[i]);
    *history = (struct brv_history){.n_time = 0};
}
