#include "report/moment.h"

#include "base/constants.h"
#include "report/number.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#define HARDLY 0.005 /* less is told as "under 0.01 K" [K] */

double brv_moment_last(const struct brv_history *history)
{
    return history->since[history->n_time - 1];
}

/* The row of the last pulse after which `since` lies, and how far on the way to the next [1]. */
static size_t row_at(const struct brv_history *history, double since, double *way)
{
    size_t low = history->before[history->n_pulse - 1] + 1, high = history->n_time - 1;
    *way = 0.0;
    if (low > high || history->pulse[low] != history->n_pulse) low = high;
    if (!(since < history->since[high])) return high;
    if (!(since > history->since[low])) return low;
    while (high - low > 1) {
        const size_t middle = low + (high - low) / 2;
        if (history->since[middle] > since)
            high = middle;
        else
            low = middle;
    }
    const double span = history->since[high] - history->since[low];
    if (span > 0.0) *way = (since - history->since[low]) / span;
    return low;
}

static double between(const double curve[], size_t row, double way)
{
    return way > 0.0 ? curve[row] + way * (curve[row + 1] - curve[row]) : curve[row];
}

static struct brv_spread spread_of(double value, double paler, double darker)
{
    return (struct brv_spread){value, fmin(value, fmin(paler, darker)), fmax(value, fmax(paler, darker))};
}

/* By the pulses: as it is, and with grains paler and darker. */
static void rises(double out[3], const struct brv_site *site, size_t probe, double since)
{
    double way;
    const struct brv_history *history = &site->history;
    const size_t row = row_at(history, since, &way);
    out[0] = between(brv_history_rise(history, probe), row, way);
    for (size_t k = 0; k < 2; k++) {
        const struct brv_scaling scaling = brv_effect_scaling(&site->tissue, &site->light, history, probe, k);
        const double here = brv_history_scaled(history, probe, row, scaling);
        out[k + 1] = way > 0.0 ? here + way * (brv_history_scaled(history, probe, row + 1, scaling) - here) : here;
    }
}

void brv_moment_read(struct brv_moment *moment, const struct brv_site *site, size_t probe, double since)
{
    double own[3], way;
    const struct brv_history *history = &site->history;
    const size_t row = row_at(history, since, &way);
    rises(own, site, probe, since);
    const double rest =
        history->start[probe] + (history->cooled ? between(history->cooled + probe * history->n_time, row, way) : 0.0);
    moment->rise = spread_of(own[0], own[1], own[2]);
    moment->temperature = spread_of(rest + own[0], rest + own[1], rest + own[2]);
}

struct brv_spread brv_moment_excess(const struct brv_site *site, double since)
{
    double grain[3], layer[3];
    rises(grain, site, BRV_PROBE_MEAN, since);
    rises(layer, site, BRV_PROBE_LAYER, since);
    return spread_of(grain[0] - layer[0], grain[1] - layer[1], grain[2] - layer[2]);
}

const char *brv_moment_rise(char out[BRV_MOMENT_SIZE], const struct brv_spread *rise)
{
    char value[BRV_NUMBER_SIZE], low[BRV_NUMBER_SIZE], high[BRV_NUMBER_SIZE];
    if (fmax(fabs(rise->value), fabs(rise->high)) < HARDLY) {
        snprintf(out, BRV_MOMENT_SIZE, "under 0.01 K");
        return out;
    }
    brv_number_short(value, rise->value);
    brv_number_short(low, rise->low);
    brv_number_short(high, rise->high);
    if (!strcmp(value, low) && !strcmp(value, high))
        snprintf(out, BRV_MOMENT_SIZE, "%s K", value);
    else
        snprintf(out, BRV_MOMENT_SIZE, "%s K (%s to %s)", value, low, high);
    return out;
}

/* "79.3", "over 112" */
static const char *degrees(char out[BRV_NUMBER_SIZE], double temperature, double ceiling)
{
    char text[BRV_NUMBER_SIZE];
    const bool over = temperature > ceiling;
    snprintf(out, BRV_NUMBER_SIZE, "%s%.20s", over ? "over " : "",
             brv_number_short(text, fmin(temperature, ceiling) - BRV_ZERO_C));
    return out;
}

const char *brv_moment_temperature(char out[BRV_MOMENT_SIZE], const struct brv_spread *temperature, double ceiling)
{
    char value[BRV_NUMBER_SIZE], low[BRV_NUMBER_SIZE], high[BRV_NUMBER_SIZE];
    degrees(value, temperature->value, ceiling);
    degrees(low, temperature->low, ceiling);
    degrees(high, temperature->high, ceiling);
    if (temperature->value > ceiling)
        snprintf(out, BRV_MOMENT_SIZE, "%s °C by energy over heat capacity, no temperature", value);
    else if (!strcmp(value, low) && !strcmp(value, high))
        snprintf(out, BRV_MOMENT_SIZE, "%s °C", value);
    else
        snprintf(out, BRV_MOMENT_SIZE, "%s °C (%s to %s)", value, low, high);
    return out;
}
