/* The contour against the exact solution of the same chain, mode by mode; against the stepper; against a closed form.
 * Errors are those of time alone, but for the closed form.                                                        */
#include "heat/contour.h"
#include "heat/slab.h"
#include "heat/sphere.h"
#include "heat/stepper.h"
#include "support/check.h"
#include "support/exact_chain.h"
#include "support/table.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define DATA "tests/verification/data/"

enum { MOST = 512, PER_WINDOW = 9 };

/* A chain with the heat that a short pulse leaves in it. */
struct problem {
    struct brv_slab slab;
    struct brv_sphere sphere;
    struct brv_chain *chain;
    struct brv_contour contour;
    double heat[MOST];
};

static void finish(struct problem *problem)
{
    assert_true(problem->chain->n <= MOST);
    assert_int_equal(brv_contour_build(&problem->contour, problem->chain->n, NULL), BRV_OK);
}

/* Skin of two layers with a jump of k, perfused, cooled at its face; light dies out over 0.3 mm. */
static void build_slab(struct problem *problem)
{
    *problem = (struct problem){.chain = NULL};
    const struct brv_slab_layer layer[] = {{60e-6, 0.23, 4.1e6, 0.0}, {0.03, 0.37, 3.7e6, 3.8e3}};
    const struct brv_slab_grid grid = {0.25e-6, 0.16, INFINITY, 0.0};
    assert_int_equal(brv_slab_build(&problem->slab, layer, 2, &grid, 10.0, 0.0, NULL), BRV_OK);
    problem->chain = &problem->slab.chain;
    const double *face = problem->slab.face;
    for (size_t i = 0; i < problem->chain->n; i++)
        problem->heat[i] = 6e3 * (exp(-face[i] / 3e-4) - exp(-face[i + 1] / 3e-4));
    finish(problem);
}

/* A grain of half a micrometre, hot at the start; in a closed cell of 5 um, or unbounded. */
static void build_sphere(struct problem *problem, double cell_radius)
{
    *problem = (struct problem){.chain = NULL};
    const struct brv_sphere_ask ask = {.radius = 0.5e-6,
                                       .cell_radius = cell_radius,
                                       .reach = 0.1,
                                       .conductivity = 0.28,
                                       .host_conductivity = 0.5,
                                       .heat_capacity = 3.4e6,
                                       .host_heat_capacity = 3.9e6,
                                       .finest = 2e-9,
                                       .growth = 0.14,
                                       .most = 0.05e-6};
    assert_int_equal(brv_sphere_build(&problem->sphere, &ask, NULL), BRV_OK);
    problem->chain = &problem->sphere.chain;
    for (size_t i = 0; i < problem->sphere.n_grain; i++)
        problem->heat[i] = 3.4e8 * brv_sphere_shell(&problem->sphere, i);
    finish(problem);
}

static void release(struct problem *problem)
{
    brv_slab_free(&problem->slab);
    brv_sphere_free(&problem->sphere);
    brv_contour_free(&problem->contour);
}

/* Highest rise of any cell if nothing were conducted away. */
static double adiabatic(const struct brv_chain *chain, const double heat[])
{
    double most = 0.0;
    for (size_t i = 0; i < chain->n; i++) most = fmax(most, heat[i] / chain->capacity[i]);
    return most;
}

static double largest_difference(const double one[], const double other[], size_t n)
{
    double most = 0.0;
    for (size_t i = 0; i < n; i++) most = fmax(most, fabs(one[i] - other[i]));
    return most;
}

static double time_of(const struct brv_contour *contour, size_t i)
{
    return contour->from * pow(contour->to / contour->from, (double)i / (PER_WINDOW - 1));
}

/* ---- against every mode ---- */

/* Largest error of the window just aimed at, over cells and times. */
static double window_error(const struct problem *problem, const struct exact_chain *exact, const double heat[],
                           const double inflow[])
{
    double most = 0.0;
    for (size_t i = 0; i < PER_WINDOW; i++) {
        double found[MOST], expected[MOST];
        const double time = time_of(&problem->contour, i);
        brv_contour_state(&problem->contour, time, found);
        exact_chain_rise(exact, heat, inflow, time, expected);
        most = fmax(most, largest_difference(found, expected, exact->n));
    }
    return most;
}

/* Windows of one ratio over 1e-9 ... 1e3 s: heat, and the same numbers as an inflow [W]. The claim is the tolerance
 * itself; 2e-12 is what the modes of the exact solution are good for.                                             */
static void check_tolerance(struct problem *problem, const struct exact_chain *exact, double tolerance, double ratio)
{
    const double scale = adiabatic(problem->chain, problem->heat);
    for (double from = 1e-9; from < 1e3; from *= ratio) {
        const double to = fmin(from * ratio, 1e3);
        brv_contour_aim(&problem->contour, problem->chain, from, to, tolerance, problem->heat, NULL);
        check_close(window_error(problem, exact, problem->heat, NULL) / scale, 0.0, 0.0, tolerance + 2e-12);
        brv_contour_aim(&problem->contour, problem->chain, from, to, tolerance, NULL, problem->heat);
        check_close(window_error(problem, exact, NULL, problem->heat) / (to * scale), 0.0, 0.0, tolerance + 2e-12);
    }
}

static void check_every_mode(struct problem *problem)
{
    static const double tolerance[] = {1e-4, 1e-6, 1e-8, 1e-10, 1e-11};
    struct exact_chain exact;
    assert_true(exact_chain_build(&exact, problem->chain));
    for (size_t i = 0; i < sizeof tolerance / sizeof *tolerance; i++) {
        check_tolerance(problem, &exact, tolerance[i], brv_contour_ratio(tolerance[i], true));
        check_tolerance(problem, &exact, tolerance[i], 7.3);
    }
    exact_chain_free(&exact);
    release(problem);
}

static void slab_meets_its_modes(void **state)
{
    (void)state;
    struct problem problem;
    build_slab(&problem);
    check_every_mode(&problem);
}

static void closed_cell_meets_its_modes(void **state)
{
    (void)state;
    struct problem problem;
    build_sphere(&problem, 5e-6);
    check_every_mode(&problem);
}

static void unbounded_grain_meets_its_modes(void **state)
{
    (void)state;
    struct problem problem;
    build_sphere(&problem, INFINITY);
    check_every_mode(&problem);
}

/* ---- a square pulse ---- */

static double even_share(const void *width, double time)
{
    return fmin(time / *(const double *)width, 1.0);
}

/* The rise `since` seconds after a square pulse, by the contour, in the way its length suggests: the mean over the
 * pulse while it is short beside that time, or else the difference of two responses to the inflow.                */
static void after_pulse(struct problem *problem, double width, double since, double tolerance, double rise[])
{
    const size_t n = problem->chain->n;
    if (width <= 0.2 * since) {
        brv_contour_aim(&problem->contour, problem->chain, since, since + width, tolerance, problem->heat, NULL);
        for (size_t i = 0; i < n; i++) {
            static const double one = 1.0;
            const struct brv_gauge gauge = {i, 1, &one};
            brv_contour_read_pulse(&problem->contour, width, 1, &gauge, 1, &since, &rise[i]);
        }
        return;
    }
    double inflow[MOST] = {0.0}, before[MOST];
    for (size_t i = 0; i < n; i++) inflow[i] = problem->heat[i] / width;
    brv_contour_aim(&problem->contour, problem->chain, since, since, tolerance, NULL, inflow);
    brv_contour_state(&problem->contour, since, before);
    brv_contour_aim(&problem->contour, problem->chain, since + width, since + width, tolerance, NULL, inflow);
    brv_contour_state(&problem->contour, since + width, rise);
    for (size_t i = 0; i < n; i++) rise[i] -= before[i];
}

static void exact_pulse(const struct exact_chain *exact, const struct problem *problem, double width, double since,
                        double rise[])
{
    double inflow[MOST] = {0.0}, before[MOST];
    for (size_t i = 0; i < exact->n; i++) inflow[i] = problem->heat[i] / width;
    exact_chain_rise(exact, NULL, inflow, since, before);
    exact_chain_rise(exact, NULL, inflow, since + width, rise);
    for (size_t i = 0; i < exact->n; i++) rise[i] -= before[i];
}

/* Both ways, on either side of where they change over and far from it. Much later the difference of two exact
 * responses, too, loses digits, as since / width; there the stepper is the comparison.                          */
static void check_pulse(struct problem *problem)
{
    static const double width = 8e-9, share[] = {0.01, 0.1, 0.9, 4.9, 5.1, 30.0, 1000.0};
    struct exact_chain exact;
    assert_true(exact_chain_build(&exact, problem->chain));
    const double scale = adiabatic(problem->chain, problem->heat);
    for (size_t i = 0; i < sizeof share / sizeof *share; i++) {
        double found[MOST], expected[MOST];
        after_pulse(problem, width, share[i] * width, 1e-9, found);
        exact_pulse(&exact, problem, width, share[i] * width, expected);
        /* each of two responses adds the tolerance as a share of what flowed in until then, 5.9 pulses at the most */
        check_close(largest_difference(found, expected, exact.n) / scale, 0.0, 0.0, share[i] < 5.0 ? 11e-9 : 1e-9);
    }
    exact_chain_free(&exact);
}

static void advance(struct problem *problem, const struct brv_source *source, double from, double to)
{
    struct brv_stepper stepper;
    assert_int_equal(brv_stepper_build(&stepper, problem->chain->n, NULL), BRV_OK);
    assert_int_equal(brv_stepper_advance(&stepper, problem->chain, source, from, to, 1e-8, NULL), BRV_OK);
    brv_stepper_free(&stepper);
}

/* Stepping with local errors of 1e-8 in some thousand steps is good to 1e-5 of the highest rise so far. */
static void check_steps(struct problem *problem)
{
    static const double width = 8e-9, share[] = {0.05, 1.0, 4.9, 5.1, 200.0, 1e5, 1e8};
    const struct brv_source source = {problem->heat, even_share, &width, width, width / 40.0};
    const double scale = adiabatic(problem->chain, problem->heat);
    double now = 0.0;
    memset(problem->chain->rise, 0, problem->chain->n * sizeof(double));
    for (size_t i = 0; i < sizeof share / sizeof *share; i++) {
        double found[MOST];
        const double then = width * (1.0 + share[i]);
        if (i == 0) {
            advance(problem, &source, 0.0, width);
            now = width;
        }
        advance(problem, &source, now, then);
        now = then;
        after_pulse(problem, width, share[i] * width, 1e-9, found);
        check_close(largest_difference(found, problem->chain->rise, problem->chain->n) / scale, 0.0, 0.0, 1e-5);
    }
}

static void pulse_in_the_slab(void **state)
{
    (void)state;
    struct problem problem;
    build_slab(&problem);
    check_pulse(&problem);
    check_steps(&problem);
    release(&problem);
}

static void pulse_in_the_grain(void **state)
{
    (void)state;
    struct problem problem;
    build_sphere(&problem, INFINITY);
    check_pulse(&problem);
    check_steps(&problem);
    release(&problem);
}

/* ---- a train ---- */

/* Ten times the same heat, a millisecond apart: the sum of ten answers to one is the answer to the last together with
 * what the others have left by then.                                                                             */
static void train_is_a_sum(void **state)
{
    (void)state;
    enum { PULSES = 10 };
    static const double apart = 1e-3, since = 3e-4, tolerance = 1e-12;
    struct problem problem;
    build_slab(&problem);
    const size_t n = problem.chain->n;
    double all[MOST] = {0.0}, left[MOST] = {0.0}, rise[MOST];
    for (size_t p = 0; p < PULSES; p++) { /* one after the other */
        for (size_t i = 0; i < n; i++) left[i] = problem.heat[i] + (p ? problem.chain->capacity[i] * left[i] : 0.0);
        const double until = p + 1 < PULSES ? apart : since;
        brv_contour_aim(&problem.contour, problem.chain, until, until, tolerance, left, NULL);
        brv_contour_state(&problem.contour, until, left);
    }
    brv_contour_aim(&problem.contour, problem.chain, since, PULSES * apart, tolerance, problem.heat, NULL);
    for (size_t p = 0; p < PULSES; p++) {
        brv_contour_state(&problem.contour, since + apart * (double)p, rise);
        for (size_t i = 0; i < n; i++) all[i] += rise[i];
    }
    /* ten answers to 1e-12 each on either side */
    check_close(largest_difference(all, left, n) / adiabatic(problem.chain, problem.heat), 0.0, 0.0, 2e-11);
    release(&problem);
}

/* ---- a closed form ---- */

/* Heat laid down as exp(-x) in a half-space of conductivity and capacity 1 under an insulated face, which keeps
 * exp(tau) erfc(sqrt tau) of its first rise.                                                                   */
static void check_deposit(const struct table_row *row, void *context)
{
    (void)context;
    const double tau = table_number(row, "tau"), expected = table_number(row, "surface_fraction_of_initial_peak");
    const struct brv_slab_layer medium = {20.0 + 12.0 * sqrt(tau), 1.0, 1.0, 0.0};
    const struct brv_slab_grid grid = {0.001, 0.01, INFINITY, 0.0};
    struct brv_slab slab;
    struct brv_contour contour;
    assert_int_equal(brv_slab_build(&slab, &medium, 1, &grid, 0.0, 0.0, NULL), BRV_OK);
    assert_int_equal(brv_contour_build(&contour, slab.chain.n, NULL), BRV_OK);
    double *heat = calloc(slab.chain.n, sizeof *heat);
    for (size_t i = 0; i < slab.chain.n; i++) heat[i] = -exp(-slab.face[i]) * expm1(slab.face[i] - slab.face[i + 1]);
    brv_contour_aim(&contour, &slab.chain, tau, tau, 1e-9, heat, NULL);
    brv_contour_state(&contour, tau, slab.chain.rise);

    char what[140];
    snprintf(what, sizeof what, "instantaneous exponential deposit, tau %g: share left at the face, by the contour",
             tau);
    const struct brv_reading face = brv_slab_reading(&slab, 0.0);
    check_row(what, "carslaw-jaeger (closed form, computed)", brv_chain_read(&slab.chain, &face), expected,
              2e-5 * expected, "a thousandth of an absorption length per cell");
    free(heat);
    brv_contour_free(&contour);
    brv_slab_free(&slab);
}

static void exponential_deposit_in_a_half_space(void **state)
{
    (void)state;
    assert_int_equal(table_each(DATA "semi_infinite_instantaneous_deposit_computed.csv", check_deposit, NULL), 10);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(slab_meets_its_modes),
        cmocka_unit_test(closed_cell_meets_its_modes),
        cmocka_unit_test(unbounded_grain_meets_its_modes),
        cmocka_unit_test(pulse_in_the_slab),
        cmocka_unit_test(pulse_in_the_grain),
        cmocka_unit_test(train_is_a_sum),
        cmocka_unit_test(exponential_deposit_in_a_half_space),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
