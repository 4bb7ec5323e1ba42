/* The grain's kernel against exact solutions of conduction in a sphere.
 * Tolerances: the grids below leave a few 1e-5 (see test_order.c for how the error falls); a slip of 2 % in radius,
 * conductivity or capacity moves these numbers by 1e-3 and more.                                               */
#include "heat/sphere.h"
#include "heat/stepper.h"
#include "support/check.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#define TOLERANCE 1e-7 /* of a step */

static double steady(const void *end, double time)
{
    return time / *(const double *)end;
}

static void advance(struct brv_sphere *sphere, const struct brv_source *source, double from, double to)
{
    struct brv_stepper stepper;
    assert_int_equal(brv_stepper_build(&stepper, sphere->chain.n, NULL), BRV_OK);
    assert_int_equal(brv_stepper_advance(&stepper, &sphere->chain, source, from, to, TOLERANCE, NULL), BRV_OK);
    brv_stepper_free(&stepper);
}

static void build(struct brv_sphere *sphere, double conductivity, double heat_capacity, double reach)
{
    const struct brv_sphere_ask ask = {.radius = 1.0,
                                       .cell_radius = INFINITY,
                                       .reach = reach,
                                       .conductivity = conductivity,
                                       .host_conductivity = 1.0,
                                       .heat_capacity = heat_capacity,
                                       .host_heat_capacity = 1.0,
                                       .finest = 0.0025,
                                       .growth = 0.02,
                                       .most = 0.01};
    assert_int_equal(brv_sphere_build(sphere, &ask, NULL), BRV_OK);
}

static double read_at(const struct brv_sphere *sphere, double radius)
{
    const struct brv_reading reading = brv_sphere_reading(sphere, radius);
    return brv_chain_read(&sphere->chain, &reading);
}

/* One row: theta = rise k2 / (A a^2) after heating at the even rate A for the time tau a^2 / alpha2. */
static void heated_sphere_row(const char *name, double k, double alpha, double tau, const double theta[4])
{
    static const double radius[4] = {0.0, 0.5, 1.0, 2.0};
    struct brv_sphere sphere;
    build(&sphere, k, k / alpha, 60.0);

    double deposit[2000] = {0.0};
    for (size_t i = 0; i < sphere.n_grain; i++) deposit[i] = tau * brv_sphere_shell(&sphere, i);
    const struct brv_source source = {deposit, steady, &tau, tau, tau / 40.0};
    advance(&sphere, &source, 0.0, tau);

    for (size_t i = 0; i < 4; i++) {
        char what[160];
        snprintf(what, sizeof what, "heated sphere, %s, tau %g, r/a %g: k2 T/(A a2)", name, tau, radius[i]);
        check_row(what, "goldenberg-1952 (computed here from the problem statement)", read_at(&sphere, radius[i]),
                  theta[i], 5e-5, "grid of 400 cells per radius at the surface");
    }
    brv_sphere_free(&sphere);
}

static void heated_sphere_matches_goldenberg_tranter(void **state)
{
    (void)state;
    FILE *file = fopen("tests/verification/data/goldenberg_tranter_computed.csv", "r");
    assert_non_null(file);
    char line[400], name[80];
    double k, alpha, tau, theta[4];
    size_t rows = 0;
    while (fgets(line, sizeof line, file)) {
        const char *format =
            line[0] == '"' ? "\"%79[^\"]\",%lf,%lf,%lf,%lf,%lf,%lf,%lf" : "%79[^,],%lf,%lf,%lf,%lf,%lf,%lf,%lf";
        if (sscanf(line, format, name, &k, &alpha, &tau, &theta[0], &theta[1], &theta[2], &theta[3]) != 8) continue;
        if (isinf(tau)) continue; /* the steady rows are a check of their own */
        heated_sphere_row(name, k, alpha, tau, theta);
        rows++;
    }
    fclose(file);
    assert_int_equal(rows, 15);
}

/* Steady state of the heated sphere: theta = 1/3 + (k2/k1)(1 - r^2)/6 inside, 1/(3 r) outside; exact. */
static void heated_sphere_becomes_steady(void **state)
{
    (void)state;
    struct brv_sphere sphere;
    build(&sphere, 2.0, 2.0, 300.0);
    double end = 1e7, deposit[2000] = {0.0};
    for (size_t i = 0; i < sphere.n_grain; i++) deposit[i] = end * brv_sphere_shell(&sphere, i);
    const struct brv_source source = {deposit, steady, &end, end, end};
    advance(&sphere, &source, 0.0, end);
    check_row("heated sphere, k1/k2 2, steady centre", "exact", read_at(&sphere, 0.0), 1.0 / 3.0 + 1.0 / 12.0, 3e-5,
              "space only: second order on 400 cells per radius");
    check_row("heated sphere, k1/k2 2, steady surface", "exact", read_at(&sphere, 1.0), 1.0 / 3.0, 3e-5,
              "the outer condition -k dT/dr = k T/r is exact in steady state");
    brv_sphere_free(&sphere);
}

/* A sphere warm by 1 in like surroundings. Its start is discontinuous, so the first row waits for Fo 0.05. */
static void warm_sphere_cools(void **state)
{
    (void)state;
    static const struct {
        double fo, centre, half, surface, one_half, two;
    } row[] = {{0.05, 0.981433865, 0.870790125, 0.373843374, 0.03282683, 0.000357682799},
               {0.211327, 0.500005193, 0.418866991, 0.241877198, 0.0923281401, 0.022274795},
               {1.0, 0.0811085883, 0.0766579517, 0.0647145616, 0.0487892001, 0.0328395619},
               {10.0, 0.00292933276, 0.00291126296, 0.00285771955, 0.00277065989, 0.00265321383}};
    static const struct brv_source none = {0};
    struct brv_sphere sphere;
    build(&sphere, 1.0, 1.0, 60.0);
    for (size_t i = 0; i < sphere.n_grain; i++) sphere.chain.rise[i] = 1.0;

    double now = 0.0;
    for (size_t i = 0; i < sizeof row / sizeof *row; i++) {
        advance(&sphere, &none, now, row[i].fo);
        now = row[i].fo;
        const double radius[] = {0.0, 0.5, 1.0, 1.5, 2.0};
        const double exact[] = {row[i].centre, row[i].half, row[i].surface, row[i].one_half, row[i].two};
        for (size_t j = 0; j < 5; j++) {
            char what[120];
            snprintf(what, sizeof what, "warm sphere, Fo %g, r/a %g", row[i].fo, radius[j]);
            check_row(what, "carslaw-jaeger (closed form, computed)", read_at(&sphere, radius[j]), exact[j], 5e-5,
                      "grid of 400 cells per radius at the surface");
        }
    }
    brv_sphere_free(&sphere);
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
    static const struct brv_source none = {0};
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
        cmocka_unit_test(heated_sphere_becomes_steady),
        cmocka_unit_test(warm_sphere_cools),
        cmocka_unit_test(closed_cell_keeps_its_heat),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
