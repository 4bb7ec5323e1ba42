/* The grain's kernel against exact solutions of conduction in a sphere: one test per table, every row a check.
 * Each row is solved on two grids, the second with cells of half the width, and extrapolated to cells of no width: the
 * error falls with the square of the width (see test_order.c). What is left is near 1e-6; one grid alone leaves a few
 * 1e-5. A slip of 2 % in radius, conductivity or capacity moves these numbers by 1e-3 and more.                     */
#include "heat/sphere.h"
#include "heat/stepper.h"
#include "support/check.h"
#include "support/exact_sphere.h"
#include "support/table.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define DATA      "tests/verification/data/"
#define TOLERANCE 1e-8 /* of a step */
#define INSIDE    1e-5 /* of the largest value of a row, up to the surface */
#define OUTSIDE   2e-5 /* farther out, where straight lines join cells that widen */

static const struct brv_source none = {0};

static double even_share(const void *end, double time)
{
    return fmin(time / *(const double *)end, 1.0);
}

static void advance(struct brv_sphere *sphere, const struct brv_source *source, double from, double to)
{
    struct brv_stepper stepper;
    assert_int_equal(brv_stepper_build(&stepper, sphere->chain.n, NULL), BRV_OK);
    assert_int_equal(brv_stepper_advance(&stepper, &sphere->chain, source, from, to, TOLERANCE, NULL), BRV_OK);
    brv_stepper_free(&stepper);
}

/* Unbounded, in surroundings of conductivity and capacity 1; `width` scales all cells. */
static void build(struct brv_sphere *sphere, double conductivity, double heat_capacity, double reach, double width)
{
    const struct brv_sphere_ask ask = {.radius = 1.0,
                                       .cell_radius = INFINITY,
                                       .reach = reach,
                                       .conductivity = conductivity,
                                       .host_conductivity = 1.0,
                                       .heat_capacity = heat_capacity,
                                       .host_heat_capacity = 1.0,
                                       .finest = 0.005 * width,
                                       .growth = 0.02 * width,
                                       .most = 0.02 * width};
    assert_int_equal(brv_sphere_build(sphere, &ask, NULL), BRV_OK);
}

static double read_at(const struct brv_sphere *sphere, double radius)
{
    const struct brv_reading reading = brv_sphere_reading(sphere, radius);
    return brv_chain_read(&sphere->chain, &reading);
}

/* Heats the grain by 1 per volume and time; reads at n radii. */
static void heat(double found[], const double radius[], size_t n, double k, double capacity, double time, double reach,
                 double width)
{
    struct brv_sphere sphere;
    build(&sphere, k, capacity, reach, width);
    double *deposit = calloc(sphere.chain.n, sizeof *deposit);
    for (size_t i = 0; i < sphere.n_grain; i++) deposit[i] = time * brv_sphere_shell(&sphere, i);
    const struct brv_source source = {deposit, even_share, &time, time, time / 40.0};
    advance(&sphere, &source, 0.0, time);
    for (size_t i = 0; i < n; i++) found[i] = read_at(&sphere, radius[i]);
    free(deposit);
    brv_sphere_free(&sphere);
}

/* Relative to the largest value of a row. */
static double allowed(double radius, double largest)
{
    return largest * (radius > 1.0 ? OUTSIDE : INSIDE);
}

static double extrapolated(double wide, double narrow)
{
    return narrow + (narrow - wide) / 3.0;
}

/* One row: theta = rise k2 / (A a^2) after heating at the even rate A for the time tau a^2 / alpha2. */
static void check_heated(const struct table_row *row, void *context)
{
    (void)context;
    static const double radius[4] = {0.0, 0.5, 1.0, 2.0};
    static const char *const column[4] = {"theta_r0", "theta_r0.5a", "theta_r1a", "theta_r2a"};
    const double k = table_number(row, "k1_over_k2"), capacity = k / table_number(row, "alpha1_over_alpha2");
    const double tau = table_number(row, "tau");
    const double end = isinf(tau) ? 1e9 : tau, reach = isinf(tau) ? 1000.0 : 2.0 + 12.0 * sqrt(tau);
    double wide[4], narrow[4];
    heat(wide, radius, 4, k, capacity, end, reach, 1.0);
    heat(narrow, radius, 4, k, capacity, end, reach, 0.5);
    for (size_t i = 0; i < 4; i++) {
        char what[160];
        snprintf(what, sizeof what, "heated sphere, %s, tau %g, r/a %g: k2 T/(A a2)", table_text(row, "case"), tau,
                 radius[i]);
        check_row(what, isinf(tau) ? "goldenberg-1952 (exact)" : "goldenberg-1952 (computed)",
                  extrapolated(wide[i], narrow[i]), table_number(row, column[i]),
                  allowed(radius[i], table_number(row, "theta_r0")), "extrapolated from 200 and 400 cells per radius");
    }
}

static void heated_sphere_matches_goldenberg_tranter(void **state)
{
    (void)state;
    assert_int_equal(table_each(DATA "goldenberg_tranter_computed.csv", check_heated, NULL), 17);
}

/* A sphere warm by 1 in like surroundings. Its start is a jump; the face between two cells lies on it. */
static void cool(double found[], const double radius[], size_t n, double fo, double width)
{
    struct brv_sphere sphere;
    build(&sphere, 1.0, 1.0, 2.0 + 12.0 * sqrt(fo), width);
    for (size_t i = 0; i < sphere.n_grain; i++) sphere.chain.rise[i] = 1.0;
    advance(&sphere, &none, 0.0, fo);
    for (size_t i = 0; i < n; i++) found[i] = read_at(&sphere, radius[i]);
    found[n] = brv_sphere_grain_mean(&sphere);
    brv_sphere_free(&sphere);
}

static void check_warm(const struct table_row *row, void *context)
{
    (void)context;
    static const double radius[5] = {0.0, 0.5, 1.0, 1.5, 2.0};
    static const char *const column[5] = {"T_r0", "T_r0.5a", "T_r1a", "T_r1.5a", "T_r2a"};
    const char *const reason = "extrapolated from 200 and 400 cells per radius";
    const double fo = table_number(row, "Fo");
    double wide[6], narrow[6];
    char what[120];
    cool(wide, radius, 5, fo, 1.0);
    cool(narrow, radius, 5, fo, 0.5);
    for (size_t i = 0; i < 5; i++) {
        const double expected = table_number(row, column[i]);
        check_close(exact_sphere_rise(fo, radius[i]), expected, 2e-8, 1e-15); /* the table is the closed form */
        snprintf(what, sizeof what, "warm sphere, Fo %g, r/a %g", fo, radius[i]);
        check_row(what, "carslaw-jaeger (closed form, computed)", extrapolated(wide[i], narrow[i]), expected,
                  allowed(radius[i], table_number(row, "T_r0")), reason);
    }
    snprintf(what, sizeof what, "warm sphere, Fo %g, mean", fo);
    check_row(what, "sphere-pair-distances (exact, memory)", extrapolated(wide[5], narrow[5]), exact_sphere_mean(fo),
              allowed(0.0, table_number(row, "T_r0")), reason);
}

static void warm_sphere_cools(void **state)
{
    (void)state;
    assert_int_equal(table_each(DATA "instantaneous_sphere_computed.csv", check_warm, NULL), 12);
}

/* In a closed cell nothing is lost: the cell flattens to the mean of what went in. */
static void closed_cell_keeps_its_heat(void **state)
{
    (void)state;
    const double fraction = 0.0613;
    const struct brv_sphere_ask ask = {.radius = 1.0,
                                       .cell_radius = 1.0 / cbrt(fraction),
                                       .conductivity = 0.45,
                                       .host_conductivity = 1.0,
                                       .heat_capacity = 0.83,
                                       .host_heat_capacity = 1.0,
                                       .finest = 0.01,
                                       .growth = 0.05,
                                       .most = 0.05};
    struct brv_sphere sphere;
    assert_int_equal(brv_sphere_build(&sphere, &ask, NULL), BRV_OK);
    for (size_t i = 0; i < sphere.n_grain; i++) sphere.chain.rise[i] = 7.31;
    const double before = brv_chain_stored(&sphere.chain);
    advance(&sphere, &none, 0.0, 1e3);

    const double flat = 7.31 * 0.83 * fraction / (0.83 * fraction + 1.0 - fraction);
    check_close(brv_chain_stored(&sphere.chain), before, 1e-12, 0.0); /* conservative to rounding */
    check_close(read_at(&sphere, 0.0), flat, 1e-9, 0.0);
    check_close(brv_sphere_cell_mean(&sphere), flat, 1e-11, 0.0);
    brv_sphere_free(&sphere);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(heated_sphere_matches_goldenberg_tranter),
        cmocka_unit_test(warm_sphere_cools),
        cmocka_unit_test(closed_cell_keeps_its_heat),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
