#include "support/exact_chain.h"

#include "light/singular.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Columns of the bidiagonal root of links and sinks, scaled with capacity: the elimination of base/ladder.h. */
static void lay_root(double *column, const struct brv_chain *chain)
{
    const size_t n = chain->n;
    double held = chain->link[0];
    for (size_t i = 0; i < n; i++) {
        held += chain->sink[i];
        const double onward = chain->link[i + 1], all = held + onward;
        column[i * n + i] = sqrt(all / chain->capacity[i]);
        if (i + 1 < n && all > 0.0) column[(i + 1) * n + i] = -onward / sqrt(all * chain->capacity[i + 1]);
        held = all > 0.0 ? held * (onward / all) : 0.0;
    }
}

bool exact_chain_build(struct exact_chain *exact, const struct brv_chain *chain)
{
    const size_t n = chain->n;
    *exact = (struct exact_chain){.n = n, .rate = calloc(n, sizeof(double)), .mode = calloc(n * n, sizeof(double))};
    double *column = calloc(n * n, sizeof *column);
    lay_root(column, chain);
    const brv_status status = brv_singular_turn(column, exact->mode, exact->rate, n, NULL);
    for (size_t k = 0; k < n; k++) {
        exact->rate[k] *= exact->rate[k];
        for (size_t i = 0; i < n; i++) exact->mode[k * n + i] /= sqrt(chain->capacity[i]);
    }
    free(column);
    return status == BRV_OK;
}

static double left_of_heat(double rate, double time)
{
    return exp(-rate * time);
}

static double left_of_inflow(double rate, double time)
{
    return rate * time < 1e-15 ? time : -expm1(-rate * time) / rate;
}

void exact_chain_rise(const struct exact_chain *exact, const double heat[], const double inflow[], double time,
                      double rise[])
{
    const size_t n = exact->n;
    for (size_t i = 0; i < n; i++) rise[i] = 0.0;
    for (size_t k = 0; k < n; k++) {
        const double *mode = exact->mode + k * n;
        double laid = 0.0, flowing = 0.0;
        for (size_t i = 0; i < n; i++) {
            laid += heat ? mode[i] * heat[i] : 0.0;
            flowing += inflow ? mode[i] * inflow[i] : 0.0;
        }
        const double share = laid * left_of_heat(exact->rate[k], time) + flowing * left_of_inflow(exact->rate[k], time);
        for (size_t i = 0; i < n; i++) rise[i] += mode[i] * share;
    }
}

void exact_chain_free(struct exact_chain *exact)
{
    free(exact->rate);
    free(exact->mode);
    *exact = (struct exact_chain){.n = 0};
}
