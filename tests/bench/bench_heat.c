/* Time of one heat problem by the contour, by steps and by general libraries, each tuned to the same error: 1e-4 of the
 * largest rise over all readings. The libraries are looked for when this is built and serve nothing else.           */
#define _DEFAULT_SOURCE
#include "heat/bench.h"
#include "heat/contour.h"
#include "report/seconds.h"
#include "support/exact_chain.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define ALLOWED 1e-4 /* error */
#define WIDTH   8e-9
#define UNTIL   10.0
#define LONG    0.3 /* seconds of repetition for one timing */

/* ---- the problems ---- */

static void lay_times(struct problem *problem)
{
    problem->width = WIDTH;
    for (int i = 0; i < IN_PULSE; i++) problem->in_pulse[i] = WIDTH * (i + 1) / IN_PULSE;
    for (int i = 0; i < AFTER; i++)
        problem->after[i] = 0.125 * WIDTH * pow(UNTIL / (0.125 * WIDTH), (double)i / (AFTER - 1));
}

static void lay_matrix(struct problem *problem)
{
    const struct brv_chain *chain = problem->chain;
    const size_t n = chain->n;
    problem->below = calloc(4 * n, sizeof *problem->below);
    problem->own = problem->below + n;
    problem->above = problem->own + n;
    problem->rate = problem->above + n;
    for (size_t i = 0; i < n; i++) {
        problem->below[i] = chain->link[i] / chain->capacity[i];
        problem->above[i] = chain->link[i + 1] / chain->capacity[i];
        problem->own[i] = -(chain->link[i] + chain->link[i + 1] + chain->sink[i]) / chain->capacity[i];
        problem->rate[i] = problem->heat[i] / (problem->width * chain->capacity[i]);
    }
}

static void gauge_reading(struct problem *problem, int g, struct brv_reading reading)
{
    double *weight = problem->weight + (size_t)g * problem->chain->n;
    weight[reading.cell[0]] += reading.weight[0];
    weight[reading.cell[1]] += reading.weight[1];
    problem->gauge[g] =
        (struct brv_gauge){reading.cell[0], reading.cell[1] - reading.cell[0] + 1, weight + reading.cell[0]};
}

/* Mean over the first cells, by heat capacity. */
static void gauge_mean(struct problem *problem, int g, size_t cells)
{
    double *weight = problem->weight + (size_t)g * problem->chain->n, sum = 0.0;
    for (size_t i = 0; i < cells; i++) sum += problem->chain->capacity[i];
    for (size_t i = 0; i < cells; i++) weight[i] = problem->chain->capacity[i] / sum;
    problem->gauge[g] = (struct brv_gauge){0, cells, weight};
}

static void make_room(struct problem *problem)
{
    problem->heat = calloc(problem->chain->n, sizeof *problem->heat);
    problem->weight = calloc(N_GAUGE * problem->chain->n, sizeof *problem->weight);
}

/* 60 um of epidermis on dermis, perfused, cooled at the face; light dies out over 0.3 mm. */
static void build_slab(struct problem *problem)
{
    static const double depth[] = {0.0, 30e-6, 100e-6, 500e-6};
    const struct brv_slab_layer layer[] = {{60e-6, 0.23, 4.1e6, 0.0}, {0.03, 0.37, 3.7e6, 3.8e3}};
    const struct brv_slab_grid grid = {0.25e-6, 0.0274, INFINITY, 0.0};
    if (brv_slab_build(&problem->slab, layer, 2, &grid, 10.0, 0.0, NULL)) abort();
    problem->name = "slab";
    problem->chain = &problem->slab.chain;
    make_room(problem);
    const double *face = problem->slab.face;
    for (size_t i = 0; i < problem->chain->n; i++)
        problem->heat[i] = 6e3 * (exp(-face[i] / 3e-4) - exp(-face[i + 1] / 3e-4));
    for (int g = 0; g < 4; g++) gauge_reading(problem, g, brv_slab_reading(&problem->slab, depth[g]));
    gauge_mean(problem, 4, problem->slab.first_cell[1]);
}

/* A grain of half a micrometre in unbounded surroundings. */
static void build_sphere(struct problem *problem)
{
    static const double radius[] = {0.0, 0.5e-6, 0.7e-6, 1.5e-6};
    const struct brv_sphere_ask ask = {.radius = 0.5e-6,
                                       .cell_radius = INFINITY,
                                       .reach = 7e-3,
                                       .conductivity = 0.28,
                                       .host_conductivity = 0.5,
                                       .heat_capacity = 3.4e6,
                                       .host_heat_capacity = 3.9e6,
                                       .finest = 4e-9,
                                       .growth = 0.0332,
                                       .most = 8e-9};
    if (brv_sphere_build(&problem->sphere, &ask, NULL)) abort();
    problem->name = "sphere";
    problem->chain = &problem->sphere.chain;
    make_room(problem);
    for (size_t i = 0; i < problem->sphere.n_grain; i++)
        problem->heat[i] = 3.4e8 * brv_sphere_shell(&problem->sphere, i);
    for (int g = 0; g < 4; g++) gauge_reading(problem, g, brv_sphere_reading(&problem->sphere, radius[g]));
    gauge_mean(problem, 4, problem->sphere.n_grain);
}

static void solve_exactly(struct problem *problem)
{
    const size_t n = problem->chain->n;
    struct exact_chain exact;
    double *rise = calloc(3 * n, sizeof *rise), *before = rise + n, *inflow = before + n;
    if (!exact_chain_build(&exact, problem->chain)) abort();
    for (size_t i = 0; i < n; i++) inflow[i] = problem->heat[i] / WIDTH;
    for (int i = 0; i < N_TIME; i++) {
        if (i < IN_PULSE) {
            exact_chain_rise(&exact, NULL, inflow, problem->in_pulse[i], rise);
        } else { /* on from the state at the end of the pulse, which is the last that was read in it */
            exact_chain_rise(&exact, before, NULL, problem->after[i - IN_PULSE], rise);
        }
        read_state(problem, rise, i, problem->exact);
        if (i == IN_PULSE - 1)
            for (size_t j = 0; j < n; j++) before[j] = problem->chain->capacity[j] * rise[j];
    }
    for (int i = 0; i < N_GAUGE * N_TIME; i++) problem->scale = fmax(problem->scale, fabs(problem->exact[i]));
    exact_chain_free(&exact);
    free(rise);
}

static void build(struct problem *problem, bool sphere)
{
    *problem = (struct problem){.name = NULL};
    lay_times(problem);
    if (sphere)
        build_sphere(problem);
    else
        build_slab(problem);
    lay_matrix(problem);
    solve_exactly(problem);
}

static void release(struct problem *problem)
{
    brv_slab_free(&problem->slab);
    brv_sphere_free(&problem->sphere);
    free(problem->heat);
    free(problem->weight);
    free(problem->below);
}

/* ---- the methods ---- */

struct outcome {
    double time, error, tolerance;
    int option;
};

static double error_of(const struct problem *problem, const double value[])
{
    double most = 0.0;
    for (int i = 0; i < N_GAUGE * N_TIME; i++) {
        const double error = fabs(value[i] - problem->exact[i]);
        if (!(error <= most)) most = error;
    }
    return most / problem->scale;
}

static double timed(const struct method *method, void *kept, const struct problem *problem, int option,
                    double tolerance, double *error)
{
    static double value[N_GAUGE * N_TIME];
    const double start = brv_seconds(CLOCK_MONOTONIC);
    const bool good = method->run(kept, problem, option, tolerance, value);
    const double time = brv_seconds(CLOCK_MONOTONIC) - start;
    *error = good ? error_of(problem, value) : (double)INFINITY;
    return time;
}

/* The fastest of all options and tolerances that meets the error, then the least time of many runs. */
static struct outcome tuned(const struct method *method, const struct problem *problem)
{
    struct outcome best = {.time = INFINITY};
    void *kept = method->open(problem);
    const double step = pow(10.0, -0.125);
    for (int option = 0; option < method->n_option; option++)
        for (double tolerance = method->first_tolerance; tolerance > 0.999 * method->last_tolerance;
             tolerance *= step) {
            double error, time = timed(method, kept, problem, option, tolerance, &error);
            if (time < 0.02) time = fmin(time, timed(method, kept, problem, option, tolerance, &error));
            if (error <= ALLOWED && time < best.time) best = (struct outcome){time, error, tolerance, option};
            if (error < 0.05 * ALLOWED) break; /* smaller tolerances only cost more */
        }
    const double start = brv_seconds(CLOCK_MONOTONIC);
    while (isfinite(best.time) && brv_seconds(CLOCK_MONOTONIC) - start < LONG)
        best.time = fmin(best.time, timed(method, kept, problem, best.option, best.tolerance, &best.error));
    method->close(kept);
    return best;
}

static double report(const struct method *method, const struct problem *problem)
{
    const struct outcome best = tuned(method, problem);
    if (!isfinite(best.time)) {
        printf("  %-28s does not meet the error\n", method->name);
        return INFINITY;
    }
    printf("  %-28s %9.3f ms, error %.1e (tolerance %.1e, option %d)\n", method->name, 1e3 * best.time, best.error,
           best.tolerance, best.option);
    return best.time;
}

static void time_pole(const struct problem *problem)
{
    struct brv_contour contour;
    if (brv_contour_build(&contour, problem->chain->n, NULL)) abort();
    double least = INFINITY;
    for (int i = 0; i < 2000; i++) {
        const double start = brv_seconds(CLOCK_MONOTONIC);
        brv_contour_aim(&contour, problem->chain, 1e-6, 40e-6, 1e-4, problem->heat, NULL);
        least = fmin(least, (brv_seconds(CLOCK_MONOTONIC) - start) / (double)(contour.n_octet * BRV_OCTET));
    }
    printf("  contour solve per pole (%zu cells) %.2f us of %zu together (wanted: below 3 us)\n", problem->chain->n,
           1e6 * least, contour.n_octet * BRV_OCTET);
    brv_contour_free(&contour);
}

static void compare(bool sphere)
{
    static const struct method *const library[] = {
#ifdef HAVE_SUNDIALS
        &by_cvode, &by_arkode,
#endif
#ifdef HAVE_LAPACKE
        &by_dstemr, &by_dstevd,
#endif
        &by_gsl};
    struct problem problem;
    build(&problem, sphere);
    printf("heat, %s of %zu cells, pulse of 8 ns, 10 s of cooling, %d readings at %d times, error below %g\n",
           problem.name, problem.chain->n, N_GAUGE, N_TIME, ALLOWED);
    time_pole(&problem);
    const double contour = report(&by_contour, &problem), states = report(&by_contour_state, &problem);
    const double steps = report(&by_stepper, &problem);
    double best = INFINITY;
    for (size_t i = 0; i < sizeof library / sizeof *library; i++) best = fmin(best, report(library[i], &problem));
    printf(
        "  best library / contour %.1f, / contour in every cell %.1f, / stepper %.2f (wanted of the first: above 10, "
        "aim 20)\n",
        best / contour, best / states, best / steps);
    release(&problem);
}

int main(void)
{
#ifndef HAVE_SUNDIALS
    puts("SUNDIALS is not here and is left out");
#endif
#ifndef HAVE_LAPACKE
    puts("LAPACKE is not here and is left out");
#endif
    compare(false);
    compare(true);
    return EXIT_SUCCESS;
}
