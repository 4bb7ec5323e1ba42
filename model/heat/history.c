#include "heat/history.h"

#include "base/array.h"

#include <assert.h>
#include <math.h>
#include <stdbool.h>
#include <stdlib.h>

#define BY_PULSES    0.5 /* of its highest rise: less, and a temperature is hardly the pulses' */
#define EVEN_SPACING 2.5 /* ratio of neighbouring time steps up to which a parabola is drawn */

brv_status brv_history_build(struct brv_history *history, const struct brv_history_ask *ask, struct brv_error *error)
{
    const size_t n_time = ask->n_time, n_curve = ask->n_probe * n_time;
    *history = (struct brv_history){
        .n_time = n_time,
        .n_probe = ask->n_probe,
        .n_cell = ask->n_cell,
        .n_pulse = ask->n_pulse,
        .n_profile = ask->n_profile,
        .n_radius = ask->n_radius,
        .time = brv_array_new(n_time),
        .since = brv_array_new(n_time),
        .pulse = calloc(n_time, sizeof *history->pulse),
        .beat = calloc(n_time, sizeof *history->beat),
        .depth = brv_array_new(ask->n_probe),
        .start = brv_array_new(ask->n_probe),
        .rise = brv_array_new(n_curve),
        .pigment = brv_array_new(n_curve),
        .other = {ask->other ? brv_array_new(n_curve) : NULL, ask->other ? brv_array_new(n_curve) : NULL},
        .cooled = ask->cooled ? brv_array_new(n_curve) : NULL,
        .from_film = ask->film ? brv_array_new(n_curve) : NULL,
        .excess = brv_array_new(3 * n_time),
        .before = calloc(ask->n_pulse, sizeof *history->before),
        .face = brv_array_new(ask->n_cell + 1),
        .absorbed = brv_array_new(ask->n_cell),
        .peak = brv_array_new(ask->n_cell),
        .radius = brv_array_new(ask->n_radius),
        .profile = brv_array_new(ask->n_profile * ask->n_radius)};
    if (history->time && history->since && history->pulse && history->beat && history->depth && history->start &&
        history->rise && history->pigment && (history->cooled || !ask->cooled) && (history->from_film || !ask->film) &&
        ((history->other[0] && history->other[1]) || !ask->other) && history->excess && history->before &&
        history->face && history->absorbed && history->peak && history->radius && history->profile)
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

/* Is something laid on the skin, or taken away, between two rows? */
static bool changes(const struct brv_history *history, size_t first, size_t last)
{
    const double t0 = history->time[first], t1 = history->time[last];
    return history->from < history->to &&
           ((history->from >= t0 && history->from < t1) || (history->to >= t0 && history->to < t1));
}

/* May a smooth curve be drawn through the points i - 1, i, i + 1? They must belong to one pulse. */
static bool smooth_at(const struct brv_history *history, size_t i)
{
    if (i == 0 || i + 1 >= history->n_time || history->pulse[i - 1] != history->pulse[i + 1]) return false;
    const double *t = history->since + i - 1;
    const double ratio = (t[2] - t[1]) / (t[1] - t[0]);
    const bool turns = history->sharp && history->window >= t[0] && history->window <= t[2];
    return ratio > 1.0 / EVEN_SPACING && ratio < EVEN_SPACING && !turns && !changes(history, i - 1, i + 1);
}

static const struct brv_scaling as_it_is = {1.0, 1.0, NULL};

/* What a whole rise and its part from pigment become. */
static double scaled(struct brv_scaling scaling, size_t row, double rise, double pigment)
{
    return scaling.curve ? scaling.curve[row] : scaling.rest * rise + (scaling.pigment - scaling.rest) * pigment;
}

double brv_history_scaled(const struct brv_history *history, size_t probe, size_t row, struct brv_scaling scaling)
{
    const size_t here = probe * history->n_time + row;
    return scaled(scaling, row, history->rise[here], history->pigment[here]);
}

/* Something that is read off a probe, row by row. */
struct view {
    const struct brv_history *history;
    struct brv_curve curve;
    struct brv_scaling scaling;
    double temperature; /* to be reached [K] */
    double least_rise;  /* rows with less by the pulses, at darkness 1, do not count [K] */
};

static struct brv_curve curve_of(const struct brv_history *history, size_t probe)
{
    return (struct brv_curve){brv_history_rise(history, probe), brv_history_pigment(history, probe),
                              history->start[probe],
                              history->cooled ? history->cooled + probe * history->n_time : NULL};
}

typedef double (*curve_at)(const struct view *view, size_t row);

static double rise_at(const struct view *view, size_t row)
{
    return scaled(view->scaling, row, view->curve.rise[row], view->curve.pigment[row]);
}

/* Temperature without the pulses. */
static double rest_at(const struct view *view, size_t row)
{
    return view->curve.start + (view->curve.cooled ? view->curve.cooled[row] : 0.0);
}

static double temperature_at(const struct view *view, size_t row)
{
    return view->curve.rise[row] >= view->least_rise ? rest_at(view, row) + rise_at(view, row) : -(double)INFINITY;
}

/* The inverse of the factor on every pulse with which the temperature is reached in this row. */
static double nearness_at(const struct view *view, size_t row)
{
    const double missing = view->temperature - rest_at(view, row);
    return missing > 0.0 ? rise_at(view, row) / missing : (double)INFINITY;
}

/* The top near row `top`, which is the highest. */
static struct brv_summit summit_at(const struct view *view, curve_at curve, size_t top)
{
    const struct brv_history *history = view->history;
    if (!smooth_at(history, top)) return (struct brv_summit){curve(view, top), history->time[top]};
    const double value[3] = {curve(view, top - 1), curve(view, top), curve(view, top + 1)};
    if (!isfinite(value[0] + value[2])) return (struct brv_summit){value[1], history->time[top]};
    const struct brv_summit summit = parabola(history->since + top - 1, value);
    return (struct brv_summit){summit.value, history->time[top] + (summit.time - history->since[top])};
}

static struct brv_summit summit_of(const struct view *view, curve_at curve, size_t from)
{
    size_t top = from;
    for (size_t i = from + 1; i < view->history->n_time; i++)
        if (curve(view, i) > curve(view, top)) top = i;
    return summit_at(view, curve, top);
}

struct brv_summit brv_history_summit(const struct brv_history *history, size_t probe, struct brv_scaling scaling)
{
    return summit_of(&(struct view){history, curve_of(history, probe), scaling, 0.0, 0.0}, rise_at, 0);
}

/* Rows that count have half of the highest rise; the highest row always does. Where no light arrives all rows are rounding,
 * and the top of a parabola through three of them may lie far above the highest.                                    */
static double least_counted(const struct brv_history *history, size_t probe)
{
    const double highest = brv_history_summit(history, probe, as_it_is).value;
    const double *rise = brv_history_rise(history, probe);
    double row = -(double)INFINITY;
    for (size_t i = history->before[0]; i < history->n_time; i++) row = fmax(row, rise[i]);
    return fmin(fmin(BY_PULSES * highest, highest), row);
}

struct brv_summit brv_history_hottest(const struct brv_history *history, size_t probe, struct brv_scaling scaling)
{
    const struct view view = {history, curve_of(history, probe), scaling, 0.0, least_counted(history, probe)};
    return summit_of(&view, temperature_at, history->before[0]);
}

/* Row by row for all darknesses at once: a long train has thousands of rows. */
void brv_history_reach(double factor[], const struct brv_history *history, const struct brv_curve *curve, size_t n,
                       const double darkness[], double temperature)
{
    struct view view = {history, *curve, as_it_is, temperature, 0.0};
    double best[BRV_MOST_REACHES];
    size_t top[BRV_MOST_REACHES];
    assert(n <= BRV_MOST_REACHES);
    for (size_t k = 0; k < n; k++) {
        best[k] = -(double)INFINITY;
        top[k] = history->before[0]; /* where no row is a number, none is higher */
    }
    for (size_t i = history->before[0]; i < history->n_time; i++) {
        const double missing = temperature - rest_at(&view, i), per = missing > 0.0 ? 1.0 / missing : (double)INFINITY;
        const double own = curve->rise[i] - curve->pigment[i];
        for (size_t k = 0; k < n; k++) {
            const double here = missing > 0.0 ? (own + darkness[k] * curve->pigment[i]) * per : (double)INFINITY;
            if (!(here > best[k])) continue;
            best[k] = here;
            top[k] = i;
        }
    }
    for (size_t k = 0; k < n; k++) {
        view.scaling.pigment = darkness[k];
        const double nearness = summit_at(&view, nearness_at, top[k]).value;
        factor[k] = nearness > 0.0 ? 1.0 / nearness : (double)NAN;
        if (!isfinite(nearness)) factor[k] = 0.0; /* a row without anything missing */
    }
}

/* A factor on all that is taken up is one on the pulses. */
double brv_history_factor(const struct brv_history *history, size_t probe, struct brv_scaling scaling,
                          double temperature)
{
    struct brv_curve curve = curve_of(history, probe);
    const double darkness = scaling.curve ? 1.0 : scaling.pigment / scaling.rest;
    double factor;
    if (scaling.curve) curve.rise = scaling.curve;
    brv_history_reach(&factor, history, &curve, 1, &darkness, temperature);
    return scaling.curve ? factor : factor / scaling.rest;
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

static double *times(const double curve[], size_t n, double factor)
{
    double *more = curve ? brv_array_new(n) : NULL;
    for (size_t i = 0; more && i < n; i++) more[i] = factor * curve[i];
    return more;
}

brv_status brv_history_times(struct brv_history *more, const struct brv_history *history, double factor,
                             struct brv_error *error)
{
    const size_t n = history->n_probe * history->n_time;
    *more = *history;
    more->rise = times(history->rise, n, factor);
    more->pigment = times(history->pigment, n, factor);
    for (size_t k = 0; k < 2; k++) more->other[k] = times(history->other[k], n, factor);
    more->adiabatic = factor * history->adiabatic;
    more->n_cell = more->n_profile = more->n_radius = 0;
    more->excess = more->face = more->absorbed = more->peak = more->radius = more->profile = NULL;
    more->crowd = (struct brv_crowd){.n_layer = 0};
    more->field = (struct brv_field){.n_depth = 0};
    if (more->rise && more->pigment && !more->other[0] == !history->other[0] && !more->other[1] == !history->other[1])
        return BRV_OK;
    brv_history_times_free(more);
    return brv_error_raise(error, BRV_MEMORY, "history");
}

void brv_history_times_free(struct brv_history *more)
{
    free(more->rise);
    free(more->pigment);
    for (size_t k = 0; k < 2; k++) free(more->other[k]);
    *more = (struct brv_history){.n_time = 0};
}

void brv_history_free(struct brv_history *history)
{
    double *const array[] = {history->time,    history->since,    history->depth,    history->start,
                             history->rise,    history->pigment,  history->cooled,   history->excess,
                             history->face,    history->absorbed, history->peak,     history->radius,
                             history->profile, history->other[0], history->other[1], history->from_film};
    for (size_t i = 0; i < sizeof array / sizeof *array; i++) free(array[i]);
    free(history->pulse);
    free(history->beat);
    free(history->crowd.closed);
    free(history->crowd.open);
    free(history->before);
    brv_field_free(&history->field);
    *history = (struct brv_history){.n_time = 0};
}
