#include "side/output.h"

#include "base/constants.h"

#include <gsl/gsl_cdf.h>
#include <gsl/gsl_fit.h>
#include <gsl/gsl_statistics.h>

#include <assert.h>
#include <math.h>
#include <stdlib.h>

/* Half of what lies outside of an interval is on either side. */
static double quantile(double freedom)
{
    return gsl_cdf_tdist_Pinv(0.5 * (1.0 + BRV_OUTPUT_CONFIDENCE), freedom);
}

void brv_sample_read(struct brv_sample *sample, const double value[], size_t n)
{
    const double none = (double)NAN;
    assert(n > 0);
    *sample = (struct brv_sample){n, gsl_stats_mean(value, 1, n), none, none, none, none};
    if (n == 1) return;
    sample->deviation = gsl_stats_sd_m(value, 1, n, sample->mean);
    sample->error = sample->deviation / sqrt((double)n);
    const double half = quantile((double)(n - 1)) * sample->error;
    sample->low = sample->mean - half;
    sample->high = sample->mean + half;
}

static double area(double spot)
{
    return 0.25 * BRV_PI * spot * spot;
}

double brv_meter_reading_fluence(const struct brv_meter_reading *reading, double spot)
{
    return reading->energy / area(isnan(reading->spot) ? spot : reading->spot);
}

double brv_output_together(double energy, double spot)
{
    return hypot(energy, 2.0 * spot);
}

double brv_output_spot(const struct brv_output *output)
{
    return output->spot.n ? output->spot.mean : output->planned_spot;
}

/* ---- points ---- */

/* Where the readings of a day end that begin at `from`. */
static size_t end_of_day(const struct brv_meter_reading reading[], size_t n, size_t from, bool by_day)
{
    size_t end = from + 1;
    while (by_day && end < n && !(reading[end].day > reading[from].day)) end++;
    return end;
}

/* Mean over a day of what was read; NAN where nothing was. */
static double mean_of(const struct brv_meter_reading reading[], size_t n,
                      double (*value)(const struct brv_meter_reading *))
{
    double sum = 0.0;
    size_t count = 0;
    for (size_t i = 0; i < n; i++) {
        const double one = value(&reading[i]);
        if (isnan(one)) continue;
        sum += one;
        count++;
    }
    return count ? sum / (double)count : (double)NAN;
}

static double energy_of(const struct brv_meter_reading *reading)
{
    return reading->energy;
}

static double spot_of(const struct brv_meter_reading *reading)
{
    return reading->spot;
}

static double ratio_of(const struct brv_meter_reading *reading)
{
    return reading->energy / reading->set;
}

/* The sample of the points that have a value; `work` has room for n. */
static void sample_points(struct brv_sample *sample, const struct brv_meter_reading reading[], size_t n, bool by_day,
                          double (*value)(const struct brv_meter_reading *), double work[])
{
    size_t count = 0;
    *sample = (struct brv_sample){.n = 0};
    for (size_t from = 0, end; from < n; from = end) {
        end = end_of_day(reading, n, from, by_day);
        const double mean = mean_of(reading + from, end - from, value);
        if (!isnan(mean)) work[count++] = mean;
    }
    if (count) brv_sample_read(sample, work, count);
}

static void list_days(struct brv_output *output, const struct brv_meter_reading reading[], size_t n)
{
    output->n_day = 0;
    for (size_t from = 0, end; from < n; from = end) {
        end = end_of_day(reading, n, from, output->days);
        output->day[output->n_day++] =
            (struct brv_output_day){.day = output->days ? reading[from].day : (double)(from + 1),
                                    .n = end - from,
                                    .energy = mean_of(reading + from, end - from, energy_of)};
    }
}

/* Readings of one day about their own mean, all days together. */
static double pooled(const struct brv_meter_reading reading[], size_t n, bool by_day)
{
    double squares = 0.0;
    size_t freedom = 0;
    for (size_t from = 0, end; from < n; from = end) {
        end = end_of_day(reading, n, from, by_day);
        const double mean = mean_of(reading + from, end - from, energy_of);
        for (size_t i = from; i < end; i++) squares += (reading[i].energy - mean) * (reading[i].energy - mean);
        freedom += end - from - 1;
    }
    return freedom ? sqrt(squares / (double)freedom) : (double)NAN;
}

/* Readings that are all the same differ from their own mean by rounding: that is nothing outside, and no drift. */
#define ROUNDING 1e-12

/* ---- the chart ---- */

static void draw_limits(struct brv_output *output)
{
    double sum = 0.0;
    output->moving_range = (double)NAN;
    for (size_t i = 1; i < output->n_day; i++) sum += fabs(output->day[i].energy - output->day[i - 1].energy);
    if (output->n_day > 1) output->moving_range = sum / (double)(output->n_day - 1);
    output->limits = output->n_day >= BRV_OUTPUT_CHART_DAYS;
    const double half = output->limits ? 1.5 * sqrt(BRV_PI) * output->moving_range : (double)NAN; /* 2.66 of it */
    const double hair = ROUNDING * output->energy.mean;
    output->limit_low = output->energy.mean - half;
    output->limit_high = output->energy.mean + half;
    for (size_t i = 0; i < output->n_day && output->limits; i++) {
        struct brv_output_day *day = &output->day[i];
        day->outside = day->energy < output->limit_low - hair || day->energy > output->limit_high + hair;
        output->n_outside += day->outside;
    }
}

/* ---- drift ---- */

static void fit_drift(struct brv_output *output, size_t n, double work[])
{
    double offset, slope, at_0, both, at_slope, squares;
    output->drift = (struct brv_drift){n, (double)NAN, (double)NAN, (double)NAN, false};
    if (n < BRV_OUTPUT_DRIFT_DAYS) return;
    for (size_t i = 0; i < n; i++) {
        work[i] = output->day[i].day;
        work[n + i] = output->day[i].energy / output->day[0].energy;
    }
    gsl_fit_linear(work, 1, work + n, 1, n, &offset, &slope, &at_0, &both, &at_slope, &squares);
    const double half = quantile((double)(n - 2)) * sqrt(at_slope);
    output->drift.slope = slope;
    output->drift.low = slope - half;
    output->drift.high = slope + half;
    const double span = work[n - 1] - work[0];
    output->drift.told = (output->drift.low > 0.0 || output->drift.high < 0.0) && fabs(slope) * span > ROUNDING;
}

/* ---- fluence ---- */

static double half_width(const struct brv_sample *sample)
{
    return 0.5 * (sample->high - sample->low) / sample->mean;
}

/* A spot that was measured once, or never, adds nothing random: that is not known, and is said. */
static void find_fluence(struct brv_output *output, double meter_error, double spot_error)
{
    const double spot = output->spot.n > 1 ? half_width(&output->spot) : 0.0;
    output->fluence = output->energy.mean / area(brv_output_spot(output));
    output->random = brv_output_together(half_width(&output->energy), spot);
    output->systematic = brv_output_together(meter_error, spot_error);
    const double share = isnan(output->random) ? output->systematic : hypot(output->random, output->systematic);
    output->low = output->fluence * (1.0 - share);
    output->high = output->fluence * (1.0 + share);
}

/* What the display said of these readings, all of one setting, and how many of them tell. */
static void find_set(struct brv_output *output, const struct brv_meter_reading reading[], size_t n)
{
    output->set = (double)NAN;
    for (size_t i = 0; i < n; i++) {
        if (isnan(reading[i].set)) continue;
        output->set = reading[i].set;
        output->n_set++;
    }
}

brv_status brv_output_read(struct brv_output *output, const struct brv_meter_reading reading[], size_t n,
                           double planned_spot, double meter_error, double spot_error, struct brv_error *error)
{
    assert(n > 0);
    *output = (struct brv_output){.n = n, .planned_spot = planned_spot, .days = reading[n - 1].day > reading[0].day};
    output->day = calloc(n, sizeof *output->day);
    double *work = malloc(2 * n * sizeof *work);
    if (!output->day || !work) {
        free(work);
        brv_output_free(output);
        return brv_error_raise(error, BRV_MEMORY, "output");
    }
    for (size_t i = 0; i < n; i++) output->n_spot += isnan(reading[i].spot) ? 0 : 1;
    sample_points(&output->energy, reading, n, output->days, energy_of, work);
    sample_points(&output->spot, reading, n, output->days, spot_of, work);
    sample_points(&output->ratio, reading, n, output->days, ratio_of, work);
    find_set(output, reading, n);
    output->within = pooled(reading, n, output->days);
    list_days(output, reading, n);
    draw_limits(output);
    fit_drift(output, isnan(reading[0].day) ? 0 : output->days ? output->n_day : 1, work);
    find_fluence(output, meter_error, spot_error);
    free(work);
    return BRV_OK;
}

void brv_output_free(struct brv_output *output)
{
    free(output->day);
    *output = (struct brv_output){.n = 0};
}
