#include "side/tally.h"

#include "base/array.h"

#include <gsl/gsl_math.h>

#include <math.h>
#include <stdlib.h>

#define TAIL  1e-12 /* of the skin: a law of chance is followed so far [1] */
#define LARGE 1e200 /* before a recursion leaves the range of numbers */

/* Values of dose within the dose of one pulse; a mean of many pulses needs fewer. */
enum { FINE = 256, COARSE = 32, MANY = 50 };

brv_status brv_tally_build(struct brv_tally *tally, double first, double step, size_t n, struct brv_error *error)
{
    *tally = (struct brv_tally){.first = first, .step = step, .n = n, .share = brv_array_new(n)};
    if (tally->share) return BRV_OK;
    *tally = (struct brv_tally){.n = 0};
    return brv_error_raise(error, BRV_MEMORY, "brv_tally_build");
}

double brv_tally_scatter_quantile(const struct brv_tally *tally, double mean, double level)
{
    const double closed = exp((log(level) + M_EULER * mean + lgamma(mean + 1.0)) / mean);
    return closed <= 1.0 ? closed : brv_tally_quantile(tally, level);
}

void brv_tally_free(struct brv_tally *tally)
{
    free(tally->share);
    *tally = (struct brv_tally){.n = 0};
}

/* ---- sums ---- */

/* Adds one more to what `used` values hold, with room[] to do it in; returns how many values are then used. */
static size_t add_one(double share[], size_t used, const struct brv_tally *one, double room[])
{
    const size_t more = used + one->n - 1;
    for (size_t i = 0; i < more; i++) room[i] = 0.0;
    for (size_t i = 0; i < used; i++)
        for (size_t k = 0; k < one->n; k++) room[i + k] += share[i] * one->share[k];
    for (size_t i = 0; i < more; i++) share[i] = room[i];
    return more;
}

brv_status brv_tally_repeat(struct brv_tally *sum, const struct brv_tally *one, size_t times, struct brv_error *error)
{
    const size_t n = times * (one->n - 1) + 1;
    double *room = brv_array_new(n);
    *sum = (struct brv_tally){.n = 0};
    const brv_status status = room ? brv_tally_build(sum, (double)times * one->first, one->step, n, error)
                                   : brv_error_raise(error, BRV_MEMORY, "brv_tally_repeat");
    if (!status) {
        size_t used = 1;
        sum->share[0] = 1.0;
        for (size_t k = 0; k < times; k++) used = add_one(sum->share, used, one, room);
    }
    free(room);
    return status;
}

brv_status brv_tally_stretch(struct brv_tally *tally, const struct brv_tally *one, double times,
                             struct brv_error *error)
{
    const brv_status status = brv_tally_build(tally, times * one->first, times * one->step, one->n, error);
    for (size_t i = 0; i < one->n && !status; i++) tally->share[i] = one->share[i];
    return status;
}

/* ---- by chance ---- */

/* Room for all values that more than TAIL of the skin gets: 9 standard deviations, and what a small mean needs. */
static double reach_of(double mean, double variance)
{
    return mean + 9.0 * sqrt(variance) + 25.0;
}

brv_status brv_tally_poisson(struct brv_tally *tally, double mean, struct brv_error *error)
{
    const brv_status status = brv_tally_build(tally, 0.0, 1.0, (size_t)reach_of(mean, mean), error);
    for (size_t k = 0; k < tally->n && !status; k++)
        tally->share[k] = exp((double)k * log(mean) - mean - lgamma((double)k + 1.0));
    return status;
}

/* What one spot gives, in steps: pulses that give i + 1 steps fall on a place `rate` times on average. */
static double rate_of(size_t i, double mean, size_t per_pulse)
{
    const double low = (double)i + 0.5, high = fmin((double)i + 1.5, (double)per_pulse);
    return mean * log(high / low);
}

/* Sums of rare hits, value by value: j share[j] = sum over i of i rate[i] share[j - i]. All terms are positive, so
 * nothing is lost; the scale is set afterwards.                                                                    */
static void add_up(struct brv_tally *tally, const double weight[], size_t per_pulse)
{
    double whole = 1.0;
    tally->share[0] = 1.0;
    for (size_t j = 1; j < tally->n; j++) {
        double sum = 0.0;
        for (size_t i = 1; i <= per_pulse && i <= j; i++) sum += weight[i - 1] * tally->share[j - i];
        tally->share[j] = sum / (double)j;
        whole += tally->share[j];
        if (whole < LARGE) continue;
        for (size_t i = 0; i <= j; i++) tally->share[i] /= LARGE;
        whole /= LARGE;
    }
    for (size_t j = 0; j < tally->n; j++) tally->share[j] /= whole;
}

brv_status brv_tally_scatter(struct brv_tally *tally, double mean, struct brv_error *error)
{
    const size_t per_pulse = mean > MANY ? COARSE : FINE;
    const double step = 1.0 / (double)per_pulse;
    double *weight = brv_array_new(per_pulse), given = 0.0;
    *tally = (struct brv_tally){.n = 0};
    if (!weight) return brv_error_raise(error, BRV_MEMORY, "brv_tally_scatter");
    for (size_t i = 0; i < per_pulse; i++) {
        weight[i] = (double)(i + 1) * rate_of(i, mean, per_pulse);
        given += step * weight[i];
    }
    const brv_status status =
        brv_tally_build(tally, mean - given, step, (size_t)(reach_of(mean, 0.5 * mean) / step), error);
    if (!status) add_up(tally, weight, per_pulse); /* less than half a step is given evenly: mean - given */
    free(weight);
    return status;
}

/* ---- what is read ---- */

double brv_tally_value(const struct brv_tally *tally, size_t i)
{
    return tally->first + (double)i * tally->step;
}

double brv_tally_mean(const struct brv_tally *tally)
{
    double sum = 0.0;
    for (size_t i = 0; i < tally->n; i++) sum += tally->share[i] * brv_tally_value(tally, i);
    return sum;
}

double brv_tally_variation(const struct brv_tally *tally)
{
    const double mean = brv_tally_mean(tally);
    double sum = 0.0;
    for (size_t i = 0; i < tally->n; i++) sum += tally->share[i] * gsl_pow_2(brv_tally_value(tally, i) - mean);
    return sqrt(sum) / mean;
}

double brv_tally_between(const struct brv_tally *tally, double least, double most)
{
    double sum = 0.0;
    for (size_t i = 0; i < tally->n; i++)
        if (brv_tally_value(tally, i) >= least && brv_tally_value(tally, i) < most) sum += tally->share[i];
    return sum;
}

double brv_tally_quantile(const struct brv_tally *tally, double level)
{
    double sum = 0.0;
    for (size_t i = 0; i < tally->n; i++) {
        sum += tally->share[i];
        if (sum >= level - TAIL) return brv_tally_value(tally, i);
    }
    return brv_tally_value(tally, tally->n - 1);
}
