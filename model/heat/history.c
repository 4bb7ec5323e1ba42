#include "heat/history.h"

#include "base/array.h"

#include <math.h>
#include <stdbool.h>
#include <stdlib.h>

#define EVEN_SPACING 2.5 /* ratio of neighbouring time steps up to which a parabola is drawn */

brv_status brv_history_build(struct brv_history *history, const struct brv_history_ask *ask, struct brv_error *error)
{
    const size_t n_time = ask->n_time, n_curve = ask->n_probe * n_time;
    *history = (struct brv_history){.n_time = n_time,
                                    .n_probe = ask->n_probe,
                                    .n_cell = ask->n_cell,
                                    .n_pulse = ask->n_pulse,
                                    .n_profile = ask->n_profile,
                                    .n_radius = ask->n_radius,
                                    .time = brv_array_new(n_time),
                                    .since = brv_array_new(n_time),
                                    .pulse = calloc(n_time, sizeof *history->pulse),
                                    .start = brv_array_new(ask->n_probe),
                                    .rise = brv_array_new(n_curve),
                                    .pigment = brv_array_new(n_curve),
                                    .cooled = ask->cooled ? brv_array_new(n_curve) : NULL,
                                    .excess = brv_array_new(3 * n_time),
                                    .before = calloc(ask->n_pulse, sizeof *history->before),
                                    .face = brv_array_new(ask->n_cell + 1),
                                    .absorbed = brv_array_new(ask->n_cell),
                                    .peak = brv_array_new(ask->n_cell),
                                    .radius = brv_array_new(ask->n_radius),
                                    .profile = brv_array_new(ask->n_profile * ask->n_radius)};
    if (history->time && history->since && history->pulse && history->start && history->rise && history->pigment &&
        (history->cooled || !ask->cooled) && history->excess && history->before && history->face && history->absorbed &&
        history->peak && history->radius && history->profile)
        return BRV_OK;
    brv_history_free(history);
    return brv_error_raise(error, BRV_MEMORY, "history");
}

brv_status brv_field_build(struct brv_field *field, size_t n_depth, size_t n_radius, struct brv_error *error)
{
    *field = (struct brv_field){.n_depth = n_depth,
                                .n_radius = n_radius,
                                .depth = brv_array_new(n_depth),
                                .radius = brv_array_new(n_radius),
                                .rise = {brv_array_new(n_depth * n_radius), brv_array_new(n_depth * n_radius)}};
    if (field->depth && field->radius && field->rise[0] && field->rise[1]) return BRV_OK;
    brv_field_free(field);
    return brv_error_raise(error, BRV_MEMORY, "field");
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

/* May a smooth curve be drawn through the points i - 1, i, i + 1? They must belong to one pulse. */
static bool smooth_at(const struct brv_history *history, size_t i)
{
    if (i == 0 || i + 1 >= history->n_time || history->pulse[i - 1] != history->pulse[i + 1]) return false;
    const double *t = history->since + i - 1;
    const double ratio = (t[2] - t[1]) / (t[1] - t[0]);
    const bool turns = history->sharp && history->window >= t[0] && history->window <= t[2];
    return ratio > 1.0 / EVEN_SPACING && ratio < EVEN_SPACING && !turns;
}

/* A curve made of a probe's parts: factor x (rise + (darkness - 1) pigment), and with `whole` start and cooling too. */
struct mix {
    const struct brv_history *history;
    size_t probe;
    double factor, darkness;
    bool whole;
};

static double value_at(const struct mix *mix, size_t row)
{
    const struct brv_history *history = mix->history;
    const size_t place = mix->probe * history->n_time + row;
    const double rise = history->rise[place] + (mix->darkness - 1.0) * history->pigment[place];
    if (!mix->whole) return mix->factor * rise;
    return history->start[mix->probe] + (history->cooled ? history->cooled[place] : 0.0) + mix->factor * rise;
}

static struct brv_summit summit_of(const struct mix *mix, size_t from)
{
    const struct brv_history *history = mix->history;
    size_t top = from;
    for (size_t i = from + 1; i < history->n_time; i++)
        if (value_at(mix, i) > value_at(mix, top)) top = i;
    if (!smooth_at(history, top)) return (struct brv_summit){value_at(mix, top), history->time[top]};
    const double value[3] = {value_at(mix, top - 1), value_at(mix, top), value_at(mix, top + 1)};
    const struct brv_summit summit = parabola(history->since + top - 1, value);
    return (struct brv_summit){summit.value, history->time[top] + (summit.time - history->since[top])};
}

struct brv_summit brv_history_summit(const struct brv_history *history, size_t probe, double darkness)
{
    return summit_of(&(struct mix){history, probe, 1.0, darkness, false}, 0);
}

struct brv_summit brv_history_hottest(const struct brv_history *history, size_t probe, double darkness, double factor)
{
    return summit_of(&(struct mix){history, probe, factor, darkness, true}, history->before[0]);
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
    const double *since = history->since;
    for (size_t i = 1; i < history->n_time; i++) {
        if (history->pulse[i] != 1 || since[i] <= from || curve[i] > level) continue;
        if (history->pulse[i - 1] != 1 || since[i - 1] < from) return since[i];
        return from + crossing(since[i - 1] - from, curve[i - 1], since[i] - from, curve[i], level);
    }
    return NAN;
}

void brv_field_free(struct brv_field *field)
{
    double *const array[] = {field->depth, field->radius, field->rise[0], field->rise[1]};
    for (size_t i = 0; i < sizeof array / sizeof *array; i++) free(array[i]);
    *field = (struct brv_field){.n_depth = 0};
}

void brv_history_free(struct brv_history *history)
{
    double *const array[] = {history->time,     history->since,  history->start,  history->rise,
                             history->pigment,  history->cooled, history->excess, history->face,
                             history->absorbed, history->peak,   history->radius, history->profile};
    for (size_t i = 0; i < sizeof array / sizeof *array; i++) free(array[i]);
    free(history->pulse);
    free(history->before);
    brv_field_free(&history->field);
    *history = (struct brv_history){.n_time = 0};
}
