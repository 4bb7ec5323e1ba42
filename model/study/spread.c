#include "study/draw.h"
#include "study/spread.h"

#include "base/array.h"
#include "base/team.h"
#include "study/indices.h"
#include "study/many.h"

#include <gsl/gsl_qrng.h>
#include <gsl/gsl_sort.h>
#include <gsl/gsl_statistics.h>

#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#define LOGARITHM_FROM 2.0  /* highest over lowest */
#define ROUNDING       1e-6 /* what varies less, relative to its size, does not: the steps of the heat leave that much */

#define FAINT_DAMAGE  (-6.0) /* log10 Omega: so little that no draw makes it -3, from which on it is told */
#define LITTLE_DAMAGE 0.05 /* of log10 Omega: an eighth of Omega, far below what low and high of the rates leave open */

enum { MOST_SOBOL = 32, BATCH = 32 };

/* ---- points ---- */

/* The further inputs by reversed Halton without its first base, 2, which is Sobol's first. */
static brv_status further_points(double u[], size_t n_draw, size_t n, struct brv_error *error)
{
    const size_t further = n - MOST_SOBOL;
    double point[1 + BRV_MOST_INPUTS];
    gsl_qrng *halton = gsl_qrng_alloc(gsl_qrng_reversehalton, (unsigned)further + 1);
    if (!halton) return brv_error_raise(error, BRV_MEMORY, "spread");
    for (size_t k = 0; k < n_draw; k++) {
        gsl_qrng_get(halton, point);
        memcpy(u + k * n + MOST_SOBOL, point + 1, further * sizeof *point);
    }
    gsl_qrng_free(halton);
    return BRV_OK;
}

brv_status brv_spread_points(double u[], size_t n_draw, size_t n, struct brv_error *error)
{
    assert(n > 0 && n <= BRV_MOST_INPUTS);
    const size_t by_sobol = n < MOST_SOBOL ? n : MOST_SOBOL;
    gsl_qrng *sobol = gsl_qrng_alloc(gsl_qrng_sobol, (unsigned)by_sobol);
    if (!sobol) return brv_error_raise(error, BRV_MEMORY, "spread");
    for (size_t k = 0; k < n_draw; k++) gsl_qrng_get(sobol, u + k * n);
    gsl_qrng_free(sobol);
    return n > by_sobol ? further_points(u, n_draw, n, error) : BRV_OK;
}

/* ---- runs ---- */

struct brv_scenario brv_spread_followed(const struct brv_scenario *ask, double after)
{
    struct brv_scenario copy = *ask;
    const double end = brv_pulse_last(&copy.pulse) + brv_pulse_window(&copy.pulse) + after;
    copy.watch.until = fmin(copy.watch.until, end);
    copy.surface.to = fmin(copy.surface.to, copy.watch.until);
    return copy;
}

bool brv_spread_leaves_out(enum brv_headline which)
{
    return which == BRV_HEADLINE_DERMIS_PEAK || which == BRV_HEADLINE_DEEP_PEAK;
}

static bool is_missing_above(enum brv_headline which)
{
    return which == BRV_HEADLINE_THRESHOLD_SIGN || which == BRV_HEADLINE_THRESHOLD_GRAIN;
}

/* What does not exist lies beyond one of the ends. */
static double counted(const struct brv_headlines *headlines, size_t site, enum brv_headline which)
{
    const double value = headlines->at[site][which].value;
    if (brv_spread_leaves_out(which)) return (double)NAN;
    if (!isnan(value)) return value;
    if (is_missing_above(which)) return (double)INFINITY;
    if (which != BRV_HEADLINE_RATIO) return value;
    const bool lesion = !isnan(headlines->at[BRV_LESION][BRV_HEADLINE_THRESHOLD_SIGN].value);
    return lesion ? (double)INFINITY : -(double)INFINITY;
}

static double *output_of(const struct brv_spreading *spreading, size_t site, size_t which)
{
    return spreading->output + (site * BRV_N_HEADLINE + which) * spreading->n_draw;
}

static void keep(struct brv_spreading *spreading, const struct brv_result *result, size_t draw)
{
    struct brv_headlines headlines;
    brv_headlines_read(&headlines, result);
    for (size_t site = 0; site < BRV_N_SITE; site++)
        for (size_t which = 0; which < BRV_N_HEADLINE; which++)
            output_of(spreading, site, which)[draw] = counted(&headlines, site, (enum brv_headline)which);
}

/* Is damage done after the short time: by what lies on the skin, or by warmth that stays? */
static bool damage_goes_on(const struct brv_headlines *brief, const struct brv_headlines *whole)
{
    for (size_t site = 0; site < BRV_N_SITE; site++) {
        const double early = brief->at[site][BRV_HEADLINE_DAMAGE].value,
                     all = whole->at[site][BRV_HEADLINE_DAMAGE].value;
        if (all > FAINT_DAMAGE && all > early + LITTLE_DAMAGE) return true;
    }
    return false;
}

/* The scenario itself, to the short time and to its own end: the draws are followed as far as its damage asks for. */
static brv_status solve_asked(struct brv_spreading *spreading, const struct brv_scenario *ask,
                              const struct brv_control *control, struct brv_error *error)
{
    const struct brv_scenario copy[2] = {brv_spread_followed(ask, BRV_SPREAD_AFTER), *ask};
    struct brv_result result[2] = {{.ask = copy[0]}, {.ask = copy[1]}};
    struct brv_headlines headlines[2];
    const brv_status status = brv_many_solve(result, 2, copy, BRV_VALUES_ONLY, control, error);
    if (status) return status;
    for (size_t i = 0; i < 2; i++) {
        brv_headlines_read(&headlines[i], &result[i]);
        brv_run_free(&result[i]);
    }
    const bool goes_on = damage_goes_on(&headlines[0], &headlines[1]);
    spreading->after = goes_on ? (double)INFINITY : BRV_SPREAD_AFTER;
    for (size_t site = 0; site < BRV_N_SITE; site++)
        for (size_t which = 0; which < BRV_N_HEADLINE; which++)
            spreading->row[site][which].asked = counted(&headlines[goes_on], site, (enum brv_headline)which);
    return BRV_OK;
}

struct batch {
    struct brv_scenario ask[BATCH];
    struct brv_result result[BATCH];
};

static brv_status solve_batch(struct batch *batch, struct brv_spreading *spreading, const struct brv_scenario *ask,
                              size_t from, size_t n, const struct brv_control *control, struct brv_error *error)
{
    for (size_t k = 0; k < n; k++) {
        struct brv_scenario drawn;
        brv_draw_apply(&drawn, ask, &spreading->inputs, spreading->u + (from + k) * spreading->inputs.n);
        batch->ask[k] = brv_spread_followed(&drawn, spreading->after);
    }
    const brv_status status = brv_many_solve(batch->result, n, batch->ask, BRV_VALUES_ONLY, control, error);
    for (size_t k = 0; k < n && !status; k++) {
        keep(spreading, &batch->result[k], from + k);
        brv_run_free(&batch->result[k]);
    }
    return status;
}

static brv_status solve_draws(struct brv_spreading *spreading, const struct brv_scenario *ask,
                              const struct brv_control *control, struct brv_error *error)
{
    struct batch *batch = malloc(sizeof *batch);
    brv_status status = batch ? BRV_OK : brv_error_raise(error, BRV_MEMORY, "spread");
    for (size_t from = 0; from < spreading->n_draw && !status; from += BATCH) {
        const size_t left = spreading->n_draw - from, n = left < BATCH ? left : BATCH;
        status = solve_batch(batch, spreading, ask, from, n, control, error);
        if (!status && control && control->progress)
            control->progress(control->context, from + n, spreading->n_draw, (double)NAN);
    }
    free(batch);
    return status;
}

/* ---- quantiles ---- */

static double quantile(const double sorted[], size_t n, double share)
{
    const double place = share * (double)(n - 1), below = floor(place);
    const double low = sorted[(size_t)below], high = sorted[place > below ? (size_t)below + 1 : (size_t)below];
    if (isinf(low)) return low;
    if (isinf(high)) return high;
    return gsl_stats_quantile_from_sorted_data(sorted, 1, n, share);
}

struct brv_quantiles brv_spread_quantiles(double value[], size_t n)
{
    for (size_t k = 0; k < n; k++)
        if (isnan(value[k])) return (struct brv_quantiles){(double)NAN, (double)NAN, (double)NAN};
    gsl_sort(value, 1, n);
    return (struct brv_quantiles){quantile(value, n, 0.05), quantile(value, n, 0.5), quantile(value, n, 0.95)};
}

/* No difference where both are the same end, none to be told where one is. */
static double apart(double one, double other)
{
    if (isinf(one) || isinf(other)) return (double)NAN;
    return fabs(one - other);
}

static void find_quantiles(struct brv_spread_row *row, const double output[], size_t n, double *space)
{
    size_t missing = 0;
    for (size_t k = 0; k < n; k++) missing += isfinite(output[k]) ? 0 : 1;
    row->without = (double)missing / (double)n;
    memcpy(space, output, n * sizeof *space);
    row->all = brv_spread_quantiles(space, n);
    memcpy(space, output, n * sizeof *space);
    const struct brv_quantiles half = brv_spread_quantiles(space, n / 2);
    row->half = (struct brv_quantiles){apart(half.p5, row->all.p5), apart(half.p50, row->all.p50),
                                       apart(half.p95, row->all.p95)};
}

/* ---- indices ---- */

static int scale_for(enum brv_headline which, const double y[], size_t n)
{
    double least = (double)INFINITY, most = -(double)INFINITY;
    if (which == BRV_HEADLINE_SHARE) return BRV_SCALE_RANK;
    for (size_t k = 0; k < n; k++) {
        if (!isfinite(y[k])) return BRV_SCALE_RANK;
        least = fmin(least, y[k]);
        most = fmax(most, y[k]);
    }
    return least > 0.0 && most > LOGARITHM_FROM * least ? BRV_SCALE_LOGARITHM : BRV_SCALE_PLAIN;
}

/* Place in the order over n; equal ones share the middle of their places. */
static void rank(double out[], const double y[], size_t n, size_t order[])
{
    gsl_sort_index(order, y, 1, n);
    for (size_t k = 0, end; k < n; k = end) {
        for (end = k + 1; end < n && !(y[order[end]] > y[order[k]]); end++) {
        }
        for (size_t m = k; m < end; m++) out[order[m]] = 0.5 * (double)(k + end) / (double)n;
    }
}

static bool varies(const double y[], size_t n)
{
    double least, most;
    gsl_stats_minmax(&least, &most, y, 1, n);
    if (isinf(least) || isinf(most)) return least < most;
    return most - least > ROUNDING * fmax(fabs(least), fabs(most));
}

struct work {
    struct brv_spreading *spreading;
};

static brv_status fit_row(struct brv_spread_row *row, const struct brv_spreading *spreading, const double output[],
                          double *y, size_t *order, struct brv_error *error)
{
    const size_t n = spreading->n_draw;
    if (row->scale == BRV_SCALE_RANK) rank(y, output, n, order);
    for (size_t k = 0; k < n && row->scale != BRV_SCALE_RANK; k++)
        y[k] = row->scale == BRV_SCALE_LOGARITHM ? log(output[k]) : output[k];
    const struct brv_indices_ask ask = {.n_draw = n,
                                        .n_input = spreading->inputs.n,
                                        .u = spreading->u,
                                        .y = y,
                                        .degree = BRV_SPREAD_DEGREE,
                                        .cross = BRV_SPREAD_CROSS};
    struct brv_indices_fit fit;
    const brv_status status = brv_indices_solve(row->first, row->total, &fit, &ask, error);
    row->q2 = fit.q2;
    return status;
}

static brv_status judge_row(void *context, size_t item, struct brv_error *error)
{
    const struct work *work = context;
    struct brv_spreading *spreading = work->spreading;
    const size_t site = item / BRV_N_HEADLINE, which = item % BRV_N_HEADLINE, n = spreading->n_draw;
    struct brv_spread_row *row = &spreading->row[site][which];
    const double *output = output_of(spreading, site, which);
    double *space = brv_array_new(n);
    size_t *order = calloc(n, sizeof *order);
    brv_status status = space && order ? BRV_OK : brv_error_raise(error, BRV_MEMORY, "spread");
    row->q2 = (double)NAN;
    if (!status) find_quantiles(row, output, n, space);
    if (!status && !isnan(row->all.p50) && varies(output, n)) {
        row->scale = scale_for((enum brv_headline)which, output, n);
        status = fit_row(row, spreading, output, space, order, error);
    }
    free(order);
    free(space);
    return status;
}

/* ---- the story ---- */

brv_status brv_spread_solve(struct brv_spreading *spreading, const struct brv_scenario *ask,
                            const struct brv_inputs *inputs, size_t n_draw, const struct brv_control *control,
                            struct brv_error *error)
{
    assert(n_draw >= 4 && inputs->n >= 1 && ask->beam.method != BRV_METHOD_SAMPLED);
    *spreading = (struct brv_spreading){.inputs = *inputs, .n_draw = n_draw};
    spreading->u = brv_array_new(n_draw * inputs->n);
    spreading->output = brv_array_new((size_t)BRV_N_SITE * BRV_N_HEADLINE * n_draw);
    brv_status status = spreading->u && spreading->output ? BRV_OK : brv_error_raise(error, BRV_MEMORY, "spread");
    if (!status) status = brv_spread_points(spreading->u, n_draw, inputs->n, error);
    if (!status) status = solve_asked(spreading, ask, control, error);
    if (!status) status = solve_draws(spreading, ask, control, error);
    struct work work = {spreading};
    if (!status)
        status =
            brv_team_run((size_t)BRV_N_SITE * BRV_N_HEADLINE, control ? control->threads : 0, judge_row, &work, error);
    if (status) brv_spread_free(spreading);
    return status;
}

void brv_spread_free(struct brv_spreading *spreading)
{
    free(spreading->u);
    free(spreading->output);
    spreading->u = spreading->output = NULL;
    spreading->n_draw = 0;
}
