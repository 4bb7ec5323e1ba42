/* The slab kernel against exact solutions: one test per table, every row a check; and its audit.
 * Published conduction targets are in test_benchmarks.c.                                        */
#include "heat/slab.h"
#include "heat/stepper.h"
#include "support/check.h"
#include "support/table.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define DATA "tests/verification/data/"

static const struct brv_source none = {0};

static double read_at(const struct brv_slab *slab, double depth)
{
    const struct brv_reading reading = brv_slab_reading(slab, depth);
    return brv_chain_read(&slab->chain, &reading);
}

static double even_share(const void *end, double time)
{
    return fmin(time / *(const double *)end, 1.0);
}

/* A half-space of conductivity and capacity 1 under an insulated face, deep enough for heat until tau. */
static void build_half_space(struct brv_slab *slab, double tau)
{
    const struct brv_slab_layer medium = {20.0 + 12.0 * sqrt(tau), 1.0, 1.0, 0.0};
    const struct brv_slab_grid grid = {0.001, 0.01, INFINITY, 0.0};
    assert_int_equal(brv_slab_build(slab, &medium, 1, &grid, 0.0, 0.0, NULL), BRV_OK);
}

static void advance(struct brv_slab *slab, const struct brv_source *source, double to)
{
    struct brv_stepper stepper;
    assert_int_equal(brv_stepper_build(&stepper, slab->chain.n, NULL), BRV_OK);
    assert_int_equal(brv_stepper_advance(&stepper, &slab->chain, source, 0.0, to, 1e-8, NULL), BRV_OK);
    brv_stepper_free(&stepper);
}

/* Share of exp(-x) between the faces of a cell. */
static double exponential(const struct brv_slab *slab, size_t cell)
{
    const double from = slab->face[cell], to = slab->face[cell + 1];
    return -exp(-from) * expm1(from - to);
}

/* An exponential source mu I exp(-mu x) from t = 0 in an insulated half-space; theta = k mu T / I at tau = alpha
 * mu^2 t. With mu = k = rho c = 1 the numbers are the table's own.                                             */
static void check_source(const struct table_row *row, void *context)
{
    (void)context;
    static const double place[5] = {0.0, 0.5, 1.0, 2.0, 5.0};
    static const char *const column[5] = {"theta_X0", "theta_X0.5", "theta_X1", "theta_X2", "theta_X5"};
    const double tau = table_number(row, "tau");
    struct brv_slab slab;
    build_half_space(&slab, tau);
    double *deposit = calloc(slab.chain.n, sizeof *deposit);
    for (size_t i = 0; i < slab.chain.n; i++) deposit[i] = tau * exponential(&slab, i);
    const struct brv_source source = {deposit, even_share, &tau, tau, tau / 40.0};
    advance(&slab, &source, tau);

    for (size_t i = 0; i < 5; i++) {
        char what[120];
        snprintf(what, sizeof what, "exponential source, tau %g, mu x %g: k mu T / I", tau, place[i]);
        check_row(what, "carslaw-jaeger (closed form, computed)", read_at(&slab, place[i]),
                  table_number(row, column[i]), 2e-5 * table_number(row, "theta_X0"),
                  "of the surface value; a thousandth of an absorption length per cell");
    }
    free(deposit);
    brv_slab_free(&slab);
}

static void exponential_source_in_a_half_space(void **state)
{
    (void)state;
    assert_int_equal(table_each(DATA "semi_infinite_exponential_source_computed.csv", check_source, NULL), 9);
}

/* The same heat laid down at once: the face keeps exp(tau) erfc(sqrt tau) of its first rise. */
static void check_deposit(const struct table_row *row, void *context)
{
    (void)context;
    const double tau = table_number(row, "tau"), expected = table_number(row, "surface_fraction_of_initial_peak");
    struct brv_slab slab;
    build_half_space(&slab, tau);
    for (size_t i = 0; i < slab.chain.n; i++) slab.chain.rise[i] = exponential(&slab, i) / slab.chain.capacity[i];
    advance(&slab, &none, tau);

    char what[120];
    snprintf(what, sizeof what, "instantaneous exponential deposit, tau %g: share left at the face", tau);
    check_close(exp(tau) * erfc(sqrt(tau)), expected, 1e-8, 0.0); /* the table is the closed form */
    check_row(what, "carslaw-jaeger (closed form, computed)", read_at(&slab, 0.0), expected, 2e-5 * expected,
              "a thousandth of an absorption length per cell");
    brv_slab_free(&slab);
}

static void exponential_deposit_in_a_half_space(void **state)
{
    (void)state;
    assert_int_equal(table_each(DATA "semi_infinite_instantaneous_deposit_computed.csv", check_deposit, NULL), 10);
}

/* What goes in is stored, carried away or lost: the sums are kept apart, so their agreement is a check. */
static void audit_closes(void **state)
{
    (void)state;
    const struct brv_slab_layer layer[] = {{60e-6, 0.23, 4.1e6, 0.0}, {0.03, 0.37, 3.7e6, 3.8e3}};
    const struct brv_slab_grid grid = {0.25e-6, 0.08, INFINITY, 0.0};
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
        cmocka_unit_test(exponential_source_in_a_half_space),
        cmocka_unit_test(exponential_deposit_in_a_half_space),
        cmocka_unit_test(audit_closes),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
