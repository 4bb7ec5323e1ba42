/* The slab kernel against exact solutions and published conduction targets. */
#include "heat/slab.h"
#include "heat/stepper.h"
#include "support/check.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static const double pi = 3.14159265358979323846;

static struct brv_slab_grid even(double cell)
{
    return (struct brv_slab_grid){.finest = cell, .growth = 1.0, .most = cell};
}

static double read_at(const struct brv_slab *slab, double depth)
{
    const struct brv_reading reading = brv_slab_reading(slab, depth);
    return brv_chain_read(&slab->chain, &reading);
}

static double left_face(double time)
{
    return 100.0 * sin(pi * time / 40.0);
}

/* NAFEMS T3: steel plate, one face held at 100 sin(pi t / 40), the other at 0; at 20 mm after 32 s. */
static double nafems_t3(size_t cells, size_t steps)
{
    const struct brv_slab_layer steel = {0.1, 35.0, 440.5 * 7200.0, 0.0};
    const struct brv_slab_grid grid = even(0.1 / (double)cells);
    struct brv_slab slab;
    struct brv_stepper stepper;
    assert_int_equal(brv_slab_build(&slab, &steel, 1, &grid, INFINITY, INFINITY, NULL), BRV_OK);
    assert_int_equal(brv_stepper_build(&stepper, slab.chain.n, NULL), BRV_OK);

    const double step = 32.0 / (double)steps;
    for (size_t i = 0; i < steps; i++) {
        const double now = step * (double)i;
        const struct brv_outside_rise outside = {
            {left_face(now), left_face(now + BRV_STEP_FIRST_PART * step), left_face(now + step)}, {0.0}};
        brv_stepper_try(&stepper, &slab.chain, step, &outside);
        brv_stepper_accept(&stepper, &slab.chain);
    }
    const double found = read_at(&slab, 0.02);
    brv_stepper_free(&stepper);
    brv_slab_free(&slab);
    return found;
}

static void plate_with_a_swinging_face(void **state)
{
    (void)state;
    const double coarse = nafems_t3(100, 640), fine = nafems_t3(200, 1280);
    check_row("NAFEMS T3, 1 mm cells, 0.05 s steps [C]", "nafems-t3 (seen; recomputed 36.603116)", coarse, 36.603116,
              0.0366, "1e-3 relative on a normal grid, as published");
    check_row("NAFEMS T3, extrapolated from two grids [C]", "nafems-t3 (seen; recomputed 36.603116)",
              fine + (fine - coarse) / 3.0, 36.603116, 1e-4, "what is left after removing the second-order error");
}

/* Holman, Heat Transfer, example 4.2: steel half-space at 35 C under 3.2e5 W/m2; at 25 mm after 30 s. */
static double even_share(const void *end, double time)
{
    return fmin(time / *(const double *)end, 1.0);
}

static void half_space_under_constant_flux(void **state)
{
    (void)state;
    const struct brv_slab_layer steel = {1.0, 45.0, 45.0 / 1.4e-5, 0.0};
    const struct brv_slab_grid grid = {0.1e-3, 0.005, INFINITY};
    static const double end = 30.0;
    double deposit[2000] = {3.2e5 * 30.0}; /* a flux into the face is energy in the first cell */
    const struct brv_source source = {deposit, even_share, &end, end, 0.1};
    struct brv_slab slab;
    struct brv_stepper stepper;
    assert_int_equal(brv_slab_build(&slab, &steel, 1, &grid, 0.0, 0.0, NULL), BRV_OK);
    assert_int_equal(brv_stepper_build(&stepper, slab.chain.n, NULL), BRV_OK);
    assert_int_equal(brv_stepper_advance(&stepper, &slab.chain, &source, 0.0, end, 1e-7, NULL), BRV_OK);
    check_row("half-space under constant flux, 25 mm, 30 s [C]", "holman-4.2 (seen; recomputed 79.314159)",
              35.0 + read_at(&slab, 0.025), 79.314159, 4.4e-3, "1e-4 of the rise");
    brv_stepper_free(&stepper);
    brv_slab_free(&slab);
}

/* Holman, example 4.5: aluminium plate of 5 cm cooled on both faces; its middle is a plane of symmetry. */
static void plate_cooled_by_a_fluid(void **state)
{
    (void)state;
    const struct brv_slab_layer half = {0.025, 215.0, 2700.0 * 900.0, 0.0};
    const struct brv_slab_grid grid = even(0.25e-3);
    static const struct brv_source none = {0};
    struct brv_slab slab;
    struct brv_stepper stepper;
    assert_int_equal(brv_slab_build(&slab, &half, 1, &grid, 525.0, 0.0, NULL), BRV_OK);
    assert_int_equal(brv_stepper_build(&stepper, slab.chain.n, NULL), BRV_OK);
    for (size_t i = 0; i < slab.chain.n; i++) slab.chain.rise[i] = 130.0;
    assert_int_equal(brv_stepper_advance(&stepper, &slab.chain, &none, 0.0, 60.0, 1e-7, NULL), BRV_OK);
    check_row("plate cooled by a fluid, 12.5 mm below the face, 60 s [C]", "holman-4.5 (seen; exact 148.399)",
              70.0 + read_at(&slab, 0.0125), 148.399, 8e-3, "1e-4 of the rise, and the exact value's own digits");
    brv_stepper_free(&stepper);
    brv_slab_free(&slab);
}

/* An exponential source mu I exp(-mu x) from t = 0 in an insulated half-space; theta = k mu T / I at tau = alpha
 * mu^2 t. With mu = k = rho c = 1 the numbers are the table's own.                                             */
static void exponential_source_row(double tau, const double theta[5])
{
    static const double place[5] = {0.0, 0.5, 1.0, 2.0, 5.0};
    const struct brv_slab_layer medium = {150.0, 1.0, 1.0, 0.0};
    const struct brv_slab_grid grid = {0.001, 0.01, INFINITY};
    struct brv_slab slab;
    struct brv_stepper stepper;
    assert_int_equal(brv_slab_build(&slab, &medium, 1, &grid, 0.0, 0.0, NULL), BRV_OK);
    assert_int_equal(brv_stepper_build(&stepper, slab.chain.n, NULL), BRV_OK);

    double deposit[2000] = {0.0};
    for (size_t i = 0; i < slab.chain.n; i++) deposit[i] = tau * (exp(-slab.face[i]) - exp(-slab.face[i + 1]));
    const struct brv_source source = {deposit, even_share, &tau, tau, tau / 40.0};
    assert_int_equal(brv_stepper_advance(&stepper, &slab.chain, &source, 0.0, tau, 1e-7, NULL), BRV_OK);
    for (size_t i = 0; i < 5; i++) {
        char what[120];
        snprintf(what, sizeof what, "exponential source, tau %g, mu x %g: k mu T / I", tau, place[i]);
        check_row(what, "carslaw-jaeger (closed form, computed)", read_at(&slab, place[i]), theta[i], 1e-4 * theta[0],
                  "1e-4 of the surface value, as for any good conduction code");
    }
    brv_stepper_free(&stepper);
    brv_slab_free(&slab);
}

static void exponential_source_in_a_half_space(void **state)
{
    (void)state;
    FILE *file = fopen("tests/verification/data/semi_infinite_exponential_source_computed.csv", "r");
    assert_non_null(file);
    char line[300];
    double tau, theta[5];
    size_t rows = 0;
    while (fgets(line, sizeof line, file))
        if (sscanf(line, "%lf,%lf,%lf,%lf,%lf,%lf", &tau, &theta[0], &theta[1], &theta[2], &theta[3], &theta[4]) == 6) {
            exponential_source_row(tau, theta);
            rows++;
        }
    fclose(file);
    assert_int_equal(rows, 9);
}

/* Blood that carries heat away holds a warm face's profile to exp(-x / L), L = sqrt(k / sink). */
static void perfusion_limits_the_reach_of_heat(void **state)
{
    (void)state;
    const double sink = 0.0013 * 1050.0 * 3617.0;
    const struct brv_slab_layer tissue = {0.2, 0.45, 3.9e6, sink};
    const struct brv_slab_grid grid = even(0.2e-3);
    struct brv_slab slab;
    struct brv_stepper stepper;
    assert_int_equal(brv_slab_build(&slab, &tissue, 1, &grid, INFINITY, 0.0, NULL), BRV_OK);
    assert_int_equal(brv_stepper_build(&stepper, slab.chain.n, NULL), BRV_OK);
    const struct brv_outside_rise outside = {{1.0, 1.0, 1.0}, {0.0}};
    for (size_t i = 0; i < 40; i++) { /* steps far beyond every time constant */
        brv_stepper_try(&stepper, &slab.chain, 1e5, &outside);
        brv_stepper_accept(&stepper, &slab.chain);
    }
    const double length = -0.01 / log(read_at(&slab, 0.0101) / read_at(&slab, 0.0001));
    check_row("reach of a warm face in perfused tissue [mm]", "pennes (exact: sqrt(k / (w rho c)))", 1e3 * length,
              1e3 * sqrt(0.45 / sink), 1e-3, "second order on 0.2-mm cells");
    brv_stepper_free(&stepper);
    brv_slab_free(&slab);
}

/* What goes in is stored, carried away or lost: the sums are kept apart, so their agreement is a check. */
static void audit_closes(void **state)
{
    (void)state;
    const struct brv_slab_layer layer[] = {{60e-6, 0.23, 4.1e6, 0.0}, {0.03, 0.37, 3.7e6, 3.8e3}};
    const struct brv_slab_grid grid = {0.25e-6, 0.08, INFINITY};
    static const double end = 7e-9;
    double deposit[2000] = {0.0};
    struct brv_slab slab;
    struct brv_stepper stepper;
    assert_int_equal(brv_slab_build(&slab, layer, 2, &grid, 10.0, 0.0, NULL), BRV_OK);
    assert_int_equal(brv_stepper_build(&stepper, slab.chain.n, NULL), BRV_OK);
    for (size_t i = 0; i < slab.chain.n; i++)
        deposit[i] = 6e3 * (exp(-slab.face[i] / 3e-4) - exp(-slab.face[i + 1] / 3e-4));
    const struct brv_source source = {deposit, even_share, &end, end, end / 20.0};
    assert_int_equal(brv_stepper_advance(&stepper, &slab.chain, &source, 0.0, end, 1e-6, NULL), BRV_OK);
    assert_int_equal(brv_stepper_advance(&stepper, &slab.chain, &source, end, 300.0, 1e-6, NULL), BRV_OK);

    double in = 0.0;
    for (size_t i = 0; i < slab.chain.n; i++) in += deposit[i];
    assert_true(stepper.carried > 0.1 * in && stepper.lost > 0.002 * in); /* all three shares matter here */
    check_close(brv_chain_stored(&slab.chain) + stepper.carried + stepper.lost, in, 1e-11, 0.0);
    brv_stepper_free(&stepper);
    brv_slab_free(&slab);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(plate_with_a_swinging_face),
        cmocka_unit_test(half_space_under_constant_flux),
        cmocka_unit_test(plate_cooled_by_a_fluid),
        cmocka_unit_test(exponential_source_in_a_half_space),
        cmocka_unit_test(perfusion_limits_the_reach_of_heat),
        cmocka_unit_test(audit_closes),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
