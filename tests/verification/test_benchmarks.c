/* Published and standard conduction targets, by the slab, the sphere and the disc: every row of heat_benchmarks.csv has its
 * function here or stands in the list of what this version does not predict.                                    */
#include "base/constants.h"
#include "heat/disc.h"
#include "heat/slab.h"
#include "heat/sphere.h"
#include "heat/stepper.h"
#include "support/check.h"
#include "support/exact_disc.h"
#include "support/table.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define DATA "tests/verification/data/"

static const struct brv_source none = {0};

static struct brv_slab_grid even(double cell)
{
    return (struct brv_slab_grid){.finest = cell, .growth = 1.0, .most = cell};
}

static double slab_at(const struct brv_slab *slab, double depth)
{
    const struct brv_reading reading = brv_slab_reading(slab, depth);
    return brv_chain_read(&slab->chain, &reading);
}

static void advance(struct brv_chain *chain, const struct brv_source *source, double to, double tolerance)
{
    struct brv_stepper stepper;
    assert_int_equal(brv_stepper_build(&stepper, chain->n, NULL), BRV_OK);
    assert_int_equal(brv_stepper_advance(&stepper, chain, source, 0.0, to, tolerance, NULL), BRV_OK);
    brv_stepper_free(&stepper);
}

/* Even steps with something warm outside the ends, the same all the time. */
static void march(struct brv_chain *chain, double top, double step, size_t steps)
{
    const struct brv_outside_rise outside = {{top, top, top}, {0.0}};
    struct brv_stepper stepper;
    assert_int_equal(brv_stepper_build(&stepper, chain->n, NULL), BRV_OK);
    for (size_t i = 0; i < steps; i++) {
        brv_stepper_try(&stepper, chain, step, &outside);
        brv_stepper_accept(&stepper, chain);
    }
    brv_stepper_free(&stepper);
}

static double even_share(const void *end, double time)
{
    return fmin(time / *(const double *)end, 1.0);
}

static double extrapolated(double wide, double narrow)
{
    return narrow + (narrow - wide) / 3.0;
}

/* Reads n numbers by a format, or fails at the row. */
#define READ(row, column, n, ...)                                                                                      \
    (sscanf(table_text((row), (column)), __VA_ARGS__) == (n) ? (void)0                                                 \
                                                             : table_fail((row), column, table_text((row), (column))))

/* NAFEMS T3: steel plate, one face held at 100 sin(pi t / 40), the other at 0; after 32 s. */

static const double t3_place[5] = {0.01, 0.02, 0.04, 0.06, 0.08};

static double swinging_face(double time)
{
    return 100.0 * sin(BRV_PI * time / 40.0);
}

static void nafems_t3(double found[5], size_t cells, size_t steps)
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
            {swinging_face(now), swinging_face(now + BRV_STEP_FIRST_PART * step), swinging_face(now + step)}, {0.0}};
        brv_stepper_try(&stepper, &slab.chain, step, &outside);
        brv_stepper_accept(&stepper, &slab.chain);
    }
    for (size_t i = 0; i < 5; i++) found[i] = slab_at(&slab, t3_place[i]);
    brv_stepper_free(&stepper);
    brv_slab_free(&slab);
}

static void plate_with_a_swinging_face(const struct table_row *row)
{
    double coarse[5], fine[5], published, exact;
    READ(row, "published", 1, "%lf C", &published);
    READ(row, "exact_computed", 1, "%lf C", &exact);
    nafems_t3(coarse, 100, 640);
    nafems_t3(fine, 200, 1280);
    check_row("NAFEMS T3, 1 mm cells, 0.05 s steps [C]", "nafems-t3 (seen)", coarse[1], published, 0.0366,
              "1e-3 relative on a normal grid, as published");
    check_row("NAFEMS T3, 1 mm cells, 0.05 s steps, exact [C]", "nafems-t3 (computed)", coarse[1], exact, 0.011,
              "3e-4 relative: 2e-4 is what cells of 1 mm leave");
    check_row("NAFEMS T3, extrapolated from two grids [C]", "nafems-t3 (computed)", extrapolated(coarse[1], fine[1]),
              exact, 3.6e-5, "1e-6 relative after removing the second-order error");
}

static void profile_under_a_swinging_face(const struct table_row *row)
{
    double coarse[5], fine[5], exact[5];
    READ(row, "exact_computed", 5, "%lf, %lf, %lf, %lf, %lf C", &exact[0], &exact[1], &exact[2], &exact[3], &exact[4]);
    nafems_t3(coarse, 100, 640);
    nafems_t3(fine, 200, 1280);
    for (size_t i = 0; i < 5; i++) {
        char what[80];
        snprintf(what, sizeof what, "NAFEMS T3, profile, %g mm, extrapolated [C]", 1e3 * t3_place[i]);
        check_row(what, "nafems-t3 (computed)", extrapolated(coarse[i], fine[i]), exact[i], 1e-5 * exact[i] + 5e-6,
                  "1e-5 relative after refinement, five printed decimals");
    }
}

/* NAFEMS T4: steel plate of 1 m by 0.6 m, one short face held at 100, its middle plane closed, the rest cooled. The
 * strip's modes are marched until nothing changes; the place asked for is on the cooled side. As a disc it is a rod. */
static double nafems_t4(int power, size_t cells)
{
    const double conductivity = 52.0, transfer = 750.0, width = 0.6, cell = width / (double)cells;
    const struct brv_slab_layer plate = {1.0, conductivity, 1.0, 0.0};
    const struct brv_slab_grid grid = even(cell);
    double face[128] = {0.0};
    struct brv_slab slab;
    struct brv_radial radial;
    struct brv_disc_field field;
    for (size_t i = 1; i <= cells; i++) face[i] = width * (double)i / (double)cells;
    assert_int_equal(brv_slab_build(&slab, &plate, 1, &grid, INFINITY, transfer, NULL), BRV_OK);
    assert_int_equal(brv_radial_build(&radial, cells, face, power, transfer / conductivity, NULL), BRV_OK);
    assert_int_equal(brv_disc_field_build(&field, cells, slab.chain.n, NULL), BRV_OK);
    for (size_t mode = 0; mode < cells; mode++) {
        struct brv_chain chain;
        assert_int_equal(brv_chain_build(&chain, slab.chain.n, NULL), BRV_OK);
        brv_disc_mode(&chain, &slab, &radial, mode);
        march(&chain, 100.0 * radial.total[mode], 1e3, 40); /* steps far beyond every time constant */
        memcpy(field.amplitude + mode * chain.n, chain.rise, chain.n * sizeof *chain.rise);
        brv_chain_free(&chain);
    }
    const struct brv_reading side = brv_radial_reading(&radial, width), depth = brv_slab_reading(&slab, 0.2);
    const double found = brv_disc_read(&field, &radial, &side, &depth);
    brv_disc_field_free(&field);
    brv_radial_free(&radial);
    brv_slab_free(&slab);
    return found;
}

static void plate_in_two_dimensions(const struct table_row *row)
{
    double published, exact;
    READ(row, "published", 1, "%lf C", &published);
    READ(row, "exact_computed", 1, "%lf C", &exact);
    const double biot = 750.0 / 52.0 * 0.6, coarse = nafems_t4(0, 30), fine = nafems_t4(0, 60);
    check_row("NAFEMS T4, cells of 2 cm [C]", "nafems-t4 (seen)", coarse, published, 0.05, "printed digit");
    check_row("NAFEMS T4, cells of 2 cm, exact [C]", "nafems-t4 (computed)", coarse, exact, 2e-3 * exact,
              "2e-3 relative on a normal grid");
    check_row("NAFEMS T4, extrapolated from two grids [C]", "nafems-t4 (computed)", extrapolated(coarse, fine), exact,
              2e-4, "1e-5 relative after removing the second-order error, the corner of held and cooled face included");
    check_close(100.0 * exact_plate_held(0.2 / 0.6, 1.0 / 0.6, biot), exact, 0.0, 1e-6); /* printed decimals */
    check_row("the plate of NAFEMS T4 as a rod, extrapolated [C]", "carslaw-jaeger (exact)",
              extrapolated(nafems_t4(1, 30), nafems_t4(1, 60)), 100.0 * exact_cylinder_held(0.2 / 0.6, 1.0 / 0.6, biot),
              2e-4, "the same; strip and disc are not confused");
}

/* Holman, Heat Transfer, example 4.2: steel half-space at 35 C under 3.2e5 W/m2; at 25 mm after 30 s. */
static void half_space_under_constant_flux(const struct table_row *row)
{
    const struct brv_slab_layer steel = {1.0, 45.0, 45.0 / 1.4e-5, 0.0};
    const struct brv_slab_grid grid = {0.1e-3, 0.005, INFINITY, 0.0};
    static const double end = 30.0;
    double published, exact;
    struct brv_slab slab;
    READ(row, "published", 1, "%lf C", &published);
    READ(row, "exact_computed", 1, "%lf C", &exact);
    assert_int_equal(brv_slab_build(&slab, &steel, 1, &grid, 0.0, 0.0, NULL), BRV_OK);
    double *deposit = calloc(slab.chain.n, sizeof *deposit);
    deposit[0] = 3.2e5 * end; /* a flux into the face is energy in the first cell */
    const struct brv_source source = {deposit, even_share, &end, end, 0.1};
    advance(&slab.chain, &source, end, 1e-8);
    const double found = 35.0 + slab_at(&slab, 0.025);
    check_row("half-space under constant flux, 25 mm, 30 s [C]", "holman-4.2 (seen)", found, published, 0.06,
              "printed digit");
    check_row("half-space under constant flux, 25 mm, 30 s, exact [C]", "holman-4.2 (computed)", found, exact, 2e-3,
              "3e-5 relative; the fair one is 1e-4");
    free(deposit);
    brv_slab_free(&slab);
}

/* Holman, example 4.5: aluminium plate of 5 cm cooled on both faces; its middle is a plane of symmetry. */
static void plate_cooled_by_a_fluid(const struct table_row *row)
{
    const struct brv_slab_layer half = {0.025, 215.0, 2700.0 * 900.0, 0.0};
    const struct brv_slab_grid grid = even(0.25e-3);
    double exact;
    struct brv_slab slab;
    READ(row, "exact_computed", 1, "%lf C", &exact);
    assert_int_equal(brv_slab_build(&slab, &half, 1, &grid, 525.0, 0.0, NULL), BRV_OK);
    for (size_t i = 0; i < slab.chain.n; i++) slab.chain.rise[i] = 130.0;
    advance(&slab.chain, &none, 60.0, 1e-8);
    check_row("plate cooled by a fluid, 12.5 mm below the face, 60 s [C]", "holman-4.5 (computed)",
              70.0 + slab_at(&slab, 0.0125), exact, 1.5e-3,
              "1e-5 relative; the book's 147.7 was read from a chart and is not compared");
    brv_slab_free(&slab);
}

/* A sphere of one material with a film of transfer h on its surface, through the kernel's closed cell: its outermost
 * face gets the film in series with the last half cell. The grain's own surface is only a face inside.             */
static void film_on(struct brv_sphere *sphere, double radius, double conductivity, double transfer)
{
    const size_t last = sphere->chain.n - 1;
    const double half = 0.5 * (sphere->face[last + 1] - sphere->face[last]);
    sphere->chain.link[last + 1] = radius * radius / (half / conductivity + 1.0 / transfer);
}

static double egg(double time, double width)
{
    const double radius = 0.0275, conductivity = 0.6, capacity = 0.6 / 0.14e-6;
    const struct brv_sphere_ask ask = {.radius = 0.5 * radius,
                                       .cell_radius = radius,
                                       .conductivity = conductivity,
                                       .host_conductivity = conductivity,
                                       .heat_capacity = capacity,
                                       .host_heat_capacity = capacity,
                                       .finest = width,
                                       .growth = 1.0,
                                       .most = width};
    struct brv_sphere sphere;
    assert_int_equal(brv_sphere_build(&sphere, &ask, NULL), BRV_OK);
    film_on(&sphere, radius, conductivity, 1400.0);
    for (size_t i = 0; i < sphere.chain.n; i++) sphere.chain.rise[i] = 8.0 - 97.0; /* above the water */
    advance(&sphere.chain, &none, time, 1e-8);
    const double found = brv_chain_read(&sphere.chain, &sphere.centre);
    brv_sphere_free(&sphere);
    return 97.0 + found;
}

static void egg_in_boiling_water(const struct table_row *row)
{
    double time;
    READ(row, "fair_tolerance", 1, "1e-4 relative to %lf s", &time);
    check_row("egg in boiling water, centre when it should reach 70 C [C]", "cengel-egg (seen; time computed)",
              extrapolated(egg(time, 0.4e-3), egg(time, 0.2e-3)), 70.0, 5e-3, "1e-4 of the time at 0.05 K/s");
}

/* Goldenberg and Tranter's sphere for ever: surface 1/3, centre 1/3 + (k2/k1)/6. */
static void steady_sphere(double found[2], double ratio, double width)
{
    const struct brv_sphere_ask ask = {.radius = 1.0,
                                       .cell_radius = INFINITY,
                                       .reach = 100.0,
                                       .conductivity = ratio,
                                       .host_conductivity = 1.0,
                                       .heat_capacity = 1.0,
                                       .host_heat_capacity = 1.0,
                                       .finest = 0.005 * width,
                                       .growth = 0.04 * width,
                                       .most = 0.02 * width};
    const double end = 1e9;
    struct brv_sphere sphere;
    assert_int_equal(brv_sphere_build(&sphere, &ask, NULL), BRV_OK);
    double *deposit = calloc(sphere.chain.n, sizeof *deposit);
    for (size_t i = 0; i < sphere.n_grain; i++) deposit[i] = end * brv_sphere_shell(&sphere, i);
    const struct brv_source source = {deposit, even_share, &end, end, end};
    advance(&sphere.chain, &source, end, 1e-8);
    found[0] = brv_chain_read(&sphere.chain, &sphere.surface);
    found[1] = brv_chain_read(&sphere.chain, &sphere.centre);
    free(deposit);
    brv_sphere_free(&sphere);
}

static void sphere_heated_for_ever(const struct table_row *row)
{
    static const double ratio[] = {0.1, 0.4, 1.0, 3.1, 10.0};
    if (strcmp(table_text(row, "published"), "1/3 ; 1/3+(k2/k1)/6") != 0) table_fail(row, "asks for", "something else");
    for (size_t i = 0; i < sizeof ratio / sizeof *ratio; i++) {
        double wide[2], narrow[2];
        char what[80];
        steady_sphere(wide, ratio[i], 1.0);
        steady_sphere(narrow, ratio[i], 0.5);
        snprintf(what, sizeof what, "heated sphere, k1/k2 %g, steady surface", ratio[i]);
        check_row(what, "goldenberg-1952 (exact)", extrapolated(wide[0], narrow[0]), 1.0 / 3.0, 1e-6,
                  "extrapolated from 200 and 400 cells per radius");
        snprintf(what, sizeof what, "heated sphere, k1/k2 %g, steady centre", ratio[i]);
        check_row(what, "goldenberg-1952 (exact)", extrapolated(wide[1], narrow[1]), 1.0 / 3.0 + 1.0 / (6.0 * ratio[i]),
                  1e-6, "extrapolated from 200 and 400 cells per radius");
    }
}

/* Two half-spaces brought together: their contact takes (T1 e1 + T2 e2) / (e1 + e2) at once and keeps it,
 * e = sqrt(k rho c).                                                                                      */
static void check_contact(const char *name, double k1, double c1, double k2, double c2)
{
    const struct brv_slab_layer body[2] = {{0.05, k1, c1, 0.0}, {0.05, k2, c2, 0.0}};
    const struct brv_slab_grid grid = {1e-6, 0.02, INFINITY, 0.0};
    const double e1 = sqrt(k1 * c1), e2 = sqrt(k2 * c2);
    struct brv_slab slab;
    char what[80];
    assert_int_equal(brv_slab_build(&slab, body, 2, &grid, 0.0, 0.0, NULL), BRV_OK);
    for (size_t i = 0; i < slab.first_cell[1]; i++) slab.chain.rise[i] = 1.0;
    advance(&slab.chain, &none, 1.0, 1e-8);
    snprintf(what, sizeof what, "contact of two half-spaces, %s", name);
    check_row(what, "two-half-spaces (seen; exact)", slab_at(&slab, 0.05), e1 / (e1 + e2), 1e-6,
              "of the step between them, at 1e5 times the time heat takes through a cell");
    brv_slab_free(&slab);
}

static void two_half_spaces(const struct table_row *row)
{
    if (strcmp(table_text(row, "published"), "(T1 e1+T2 e2)/(e1+e2)") != 0)
        table_fail(row, "asks for", "something else");
    check_contact("skin on sapphire", 0.37, 3.7e6, 35.0, 3.0e6);
    check_contact("epidermis on dermis", 0.23, 4.1e6, 0.37, 3.7e6);
    check_contact("water on fat", 0.62, 4.16e6, 0.20, 2.2e6);
}

/* Blood that carries heat away holds a warm face's profile to exp(-x / L), L = sqrt(k / (w rho c of blood)). */
static double reach_of_heat(double conductivity, double perfusion, double cell)
{
    const double sink = perfusion * BRV_BLOOD_DENSITY * BRV_BLOOD_HEAT_CAPACITY;
    const struct brv_slab_layer tissue = {0.2, conductivity, 3.9e6, sink};
    const struct brv_slab_grid grid = even(cell);
    struct brv_slab slab;
    assert_int_equal(brv_slab_build(&slab, &tissue, 1, &grid, INFINITY, 0.0, NULL), BRV_OK);
    march(&slab.chain, 1.0, 1e5, 40); /* steps far beyond every time constant */
    const double length = -0.01 / log(slab_at(&slab, 0.0101) / slab_at(&slab, 0.0001));
    brv_slab_free(&slab);
    return length;
}

static void perfusion_limits_the_reach_of_heat(const struct table_row *row)
{
    double length[2], k[2], w[2];
    READ(row, "exact_computed", 6, "%lf mm (k %lf, w %lf), %lf mm (k %lf, w %lf)", &length[0], &k[0], &w[0], &length[1],
         &k[1], &w[1]);
    for (size_t i = 0; i < 2; i++) {
        const double found = extrapolated(reach_of_heat(k[i], w[i], 0.2e-3), reach_of_heat(k[i], w[i], 0.1e-3));
        const double exact = sqrt(k[i] / (w[i] * 1050.0 * 3617.0));
        char what[80];
        snprintf(what, sizeof what, "reach of a warm face in perfused tissue, k %g, w %g [mm]", k[i], w[i]);
        check_row(what, "pennes (computed)", 1e3 * found, length[i], i ? 5.2e-3 : 5.2e-4, "digits of the table");
        check_row(what, "pennes (exact)", 1e3 * found, 1e3 * exact, 1e-5, "1e-6 relative, extrapolated");
    }
}

/* The table, row by row */

struct target {
    const char *id;
    void (*check)(const struct table_row *row); /* NULL: not predicted */
    const char *why_not;
};

static const struct target targets[] = {
    {"NAFEMS T3", plate_with_a_swinging_face, NULL},
    {"NAFEMS T3 profile", profile_under_a_swinging_face, NULL},
    {"NAFEMS T4", plate_in_two_dimensions, NULL},
    {"Holman Ex 4.2", half_space_under_constant_flux, NULL},
    {"Holman Ex 4.5", plate_cooled_by_a_fluid, NULL},
    {"Cengel egg", egg_in_boiling_water, NULL},
    {"egg variant", NULL, "the table itself says: unreliable, do not use"},
    {"C&J steady sphere", sphere_heated_for_ever, NULL},
    {"two half-spaces", two_half_spaces, NULL},
    {"Pennes steady half-space", perfusion_limits_the_reach_of_heat, NULL},
    {"Pennes forearm", NULL, "a cylinder, and its conductivity and film were cut off where it was seen"},
};

static void check_target(const struct table_row *row, void *context)
{
    const char *id = table_text(row, "id");
    for (size_t i = 0; i < sizeof targets / sizeof *targets; i++) {
        if (strcmp(targets[i].id, id) != 0) continue;
        if (targets[i].check)
            targets[i].check(row);
        else
            print_message("not predicted: %s: %s\n", id, targets[i].why_not);
        *(size_t *)context += !targets[i].check;
        return;
    }
    table_fail(row, "nothing is known about", id);
}

static void every_benchmark(void **state)
{
    size_t not_predicted = 0;
    (void)state;
    assert_int_equal(table_each(DATA "heat_benchmarks.csv", check_target, &not_predicted), 11);
    assert_int_equal(not_predicted, 2);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(every_benchmark)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
