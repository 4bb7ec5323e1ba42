/* What this program offers: the contour, read by gauges or in every cell, and steps. */
#include "bench.h"

#include "heat/contour.h"
#include "heat/stepper.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

void read_state(const struct problem *problem, const double rise[], int i, double value[])
{
    for (int g = 0; g < N_GAUGE; g++) {
        const struct brv_gauge *gauge = &problem->gauge[g];
        double sum = 0.0;
        for (size_t k = 0; k < gauge->n; k++) sum += gauge->weight[k] * rise[gauge->first + k];
        value[g * N_TIME + i] = sum;
    }
}

/* ---- contour ---- */

struct kept_contour {
    struct brv_contour contour;
    double *inflow, *rise;
    double tolerance, ratio; /* of windows; a program looks for it once */
};

static void *open_contour(const struct problem *problem)
{
    struct kept_contour *kept = calloc(1, sizeof *kept);
    const size_t n = problem->chain->n;
    if (brv_contour_build(&kept->contour, n, NULL)) abort();
    kept->inflow = calloc(2 * n, sizeof *kept->inflow);
    kept->rise = kept->inflow + n;
    return kept;
}

static void close_contour(void *kept)
{
    struct kept_contour *contour = kept;
    brv_contour_free(&contour->contour);
    free(contour->inflow);
    free(contour);
}

static void put(const double found[], int n, int first, double value[])
{
    for (int g = 0; g < N_GAUGE; g++) memcpy(value + g * N_TIME + first, found + g * n, (size_t)n * sizeof *value);
}

static void read_in_pulse(struct kept_contour *kept, const struct problem *problem, bool whole, double value[])
{
    double found[N_GAUGE * IN_PULSE];
    for (size_t i = 0; i < problem->chain->n; i++) kept->inflow[i] = problem->heat[i] / problem->width;
    brv_contour_aim(&kept->contour, problem->chain, problem->in_pulse[0], problem->width, kept->tolerance, NULL,
                    kept->inflow);
    if (!whole) {
        brv_contour_read(&kept->contour, N_GAUGE, problem->gauge, IN_PULSE, problem->in_pulse, found);
        put(found, IN_PULSE, 0, value);
        return;
    }
    for (int i = 0; i < IN_PULSE; i++) {
        brv_contour_state(&kept->contour, problem->in_pulse[i], kept->rise);
        read_state(problem, kept->rise, i, value);
    }
}

/* As many times after the pulse, from number `first` on, as one window serves. Returns how many. */
static int read_window(struct kept_contour *kept, const struct problem *problem, int first, double value[])
{
    const double from = problem->after[first], widest = from * kept->ratio;
    double found[N_GAUGE * AFTER];
    int n = 1;
    while (first + n < AFTER && problem->after[first + n] + problem->width <= widest) n++;
    const double to = problem->after[first + n - 1] + problem->width;
    brv_contour_aim(&kept->contour, problem->chain, from, to, kept->tolerance, problem->heat, NULL);
    brv_contour_read_pulse(&kept->contour, problem->width, N_GAUGE, problem->gauge, (size_t)n, problem->after + first,
                           found);
    put(found, n, IN_PULSE + first, value);
    return n;
}

/* The same from the state at the end of the pulse, for what wants every cell. */
static int read_states(struct kept_contour *kept, const struct problem *problem, int first, double value[])
{
    const double from = problem->after[first], widest = from * kept->ratio;
    int n = 1;
    while (first + n < AFTER && problem->after[first + n] <= widest) n++;
    brv_contour_aim(&kept->contour, problem->chain, from, problem->after[first + n - 1], kept->tolerance, kept->inflow,
                    NULL);
    for (int i = 0; i < n; i++) {
        brv_contour_state(&kept->contour, problem->after[first + i], kept->rise);
        read_state(problem, kept->rise, IN_PULSE + first + i, value);
    }
    return n;
}

static void aim_windows(struct kept_contour *kept, double tolerance)
{
    if (kept->tolerance == tolerance) return;
    kept->tolerance = tolerance;
    kept->ratio = brv_contour_ratio(tolerance, false);
}

static bool run_contour(void *state, const struct problem *problem, int option, double tolerance, double value[])
{
    struct kept_contour *kept = state;
    (void)option;
    aim_windows(kept, tolerance);
    read_in_pulse(kept, problem, false, value);
    for (int i = 0; i < AFTER;) i += read_window(kept, problem, i, value);
    return true;
}

static bool run_contour_state(void *state, const struct problem *problem, int option, double tolerance, double value[])
{
    struct kept_contour *kept = state;
    (void)option;
    aim_windows(kept, tolerance);
    read_in_pulse(kept, problem, true, value);
    for (size_t i = 0; i < problem->chain->n; i++) kept->inflow[i] = problem->chain->capacity[i] * kept->rise[i];
    for (int i = 0; i < AFTER;) i += read_states(kept, problem, i, value);
    return true;
}

const struct method by_contour = {"brevis contour", 1, 1e-2, 1e-6, open_contour, run_contour, close_contour};
const struct method by_contour_state = {
    "brevis contour, every cell", 1, 1e-2, 1e-6, open_contour, run_contour_state, close_contour};

/* ---- stepper ---- */

static double even_share(const void *width, double time)
{
    return fmin(time / *(const double *)width, 1.0);
}

static void *open_stepper(const struct problem *problem)
{
    struct brv_stepper *stepper = calloc(1, sizeof *stepper);
    if (brv_stepper_build(stepper, problem->chain->n, NULL)) abort();
    return stepper;
}

static bool run_stepper(void *state, const struct problem *problem, int option, double tolerance, double value[])
{
    struct brv_stepper *stepper = state;
    struct brv_chain *chain = problem->chain;
    const struct brv_source source = {problem->heat, even_share, &problem->width, problem->width, problem->width / 8.0};
    double now = 0.0;
    (void)option;
    memset(chain->rise, 0, chain->n * sizeof *chain->rise);
    stepper->suggested_step = 0.0;
    stepper->least_rise = problem->scale;
    for (int i = 0; i < N_TIME; i++) {
        const double then = i < IN_PULSE ? problem->in_pulse[i] : problem->width + problem->after[i - IN_PULSE];
        if (brv_stepper_advance(stepper, chain, &source, now, then, tolerance, NULL)) return false;
        read_state(problem, chain->rise, i, value);
        now = then;
    }
    return true;
}

static void close_stepper(void *state)
{
    brv_stepper_free(state);
    free(state);
}

const struct method by_stepper = {"brevis stepper", 1, 1e-2, 1e-8, open_stepper, run_stepper, close_stepper};
