/* The disc against closed forms, limits and its own books. Its order is in test_order.c, its modes in
 * tests/unit/test_radial.c. In the exact checks conductivity and heat capacity are 1.                 */
#include "heat/disc_run.h"
#include "heat/stepper.h"
#include "support/check.h"
#include "support/exact_disc.h"

#include <math.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

struct disc {
    struct brv_slab slab;
    struct brv_radial radial;
    double *value; /* [radial n][slab n] start or deposit */
};

static void make_values(struct disc *disc)
{
    disc->value = calloc(disc->radial.n * disc->slab.chain.n, sizeof *disc->value);
}

static void free_disc(struct disc *disc)
{
    brv_slab_free(&disc->slab);
    brv_radial_free(&disc->radial);
    free(disc->value);
}

static void build_across(struct brv_radial *radial, const struct brv_disc_grid *grid, int power, double side)
{
    double *face = calloc(brv_disc_count(grid) + 1, sizeof *face);
    const size_t n = brv_disc_faces(grid, face);
    assert_int_equal(brv_radial_build(radial, n, face, power, side, NULL), BRV_OK);
    free(face);
}

/* `n` cells of the same width. */
static void build_even(struct brv_radial *radial, size_t n, double reach, int power, double side)
{
    double *face = calloc(n + 1, sizeof *face);
    for (size_t i = 0; i <= n; i++) face[i] = reach * (double)i / (double)n;
    assert_int_equal(brv_radial_build(radial, n, face, power, side, NULL), BRV_OK);
    free(face);
}

static bool lit(const struct brv_radial *radial, size_t cell, double radius)
{
    return radial->face[cell + 1] < radius * (1.0 + 1e-12);
}

/* Mean of exp(-2 r^2 / e2_radius^2) over a cell of a disc. */
static double gaussian(const struct brv_radial *radial, size_t cell, double e2_radius)
{
    const double a = radial->face[cell] / e2_radius, b = radial->face[cell + 1] / e2_radius;
    return 0.25 * e2_radius * e2_radius * (exp(-2.0 * a * a) - exp(-2.0 * b * b)) / radial->area[cell];
}

static double even_share(const void *end, double time)
{
    return fmin(time / *(const double *)end, 1.0);
}

/* ---- the closed forms themselves ---- */

static void closed_forms_have_their_limits(void **state)
{
    (void)state;
    static const double time[] = {0.01, 0.3, 7.0}, depth[] = {0.0, 0.4, 2.0};
    for (size_t t = 0; t < 3; t++)
        for (size_t z = 0; z < 3; z++) {
            const double slab = exact_disc_at_once(time[t], depth[z], INFINITY);
            check_close(exact_disc_at_once(time[t], depth[z], 1e3), slab, 1e-14, 0.0);
            check_close(exact_disc_flux(time[t], depth[z], 1e3), exact_disc_flux(time[t], depth[z], INFINITY), 1e-14,
                        0.0);
            check_close(exact_disc_gaussian(time[t], depth[z], 1e9), slab, 1e-14, 0.0);
            check_close(exact_disc_gaussian(time[t], depth[z], 0.7), /* the quadrature's own 1e-11, and a margin */
                        exact_disc_gaussian_by_rings(time[t], depth[z], 0.7), 1e-10, 0.0);
            /* a flux is heat laid down again and again: its slope in time is the answer to heat at once; 1e-6 is
             * what a central difference with steps of 1e-3 of the time leaves of the curve's third derivative      */
            const double step = 1e-3 * time[t];
            const double slope =
                exact_disc_flux(time[t] + step, depth[z], 1.0) - exact_disc_flux(time[t] - step, depth[z], 1.0);
            check_close(slope / (2.0 * step), exact_disc_at_once(time[t], depth[z], 1.0), 1e-4, 1e-9);
        }
    check_close(exact_disc_flux_steady(0.0, 1.0), 1.0, 0.0, 0.0); /* q R / k */
    check_close(exact_disc_flux(1e12, 0.0, 1.0), exact_disc_flux_steady(0.0, 1.0), 1e-6, 0.0);
    check_close(exact_disc_flux(1e12, 0.7, 1.0), exact_disc_flux_steady(0.7, 1.0), 2e-6, 0.0);
    /* series: the start, and a slow loss that cools the whole body as one */
    check_close(exact_plate_cooling(2e-4, 0.3, INFINITY), 1.0, 1e-12, 0.0);
    check_close(exact_cylinder_cooling(2e-4, 0.3, INFINITY), 1.0, 1e-12, 0.0);
    check_close(exact_plate_cooling(100.0, 0.0, 1e-4), exp(-100.0 * 1e-4), 1e-4, 0.0);
    check_close(exact_cylinder_cooling(100.0, 0.0, 1e-4), exp(-200.0 * 1e-4), 1e-4, 0.0);
}

/* ---- a spot on a half-space ---- */

/* A half-space under a spot of radius 1, wide and deep enough for heat until `until`. */
static void build_half_space(struct disc *disc, double finest, double until, double fineness)
{
    const double spread = sqrt(4.0 * until);
    const struct brv_slab_layer medium = {1.0 + 4.0 * spread, 1.0, 1.0, 0.0};
    const struct brv_slab_grid grid = {finest, 0.04, INFINITY, 0.0};
    const struct brv_disc_grid across = brv_disc_grid_for(2.0, 1.0 + 3.0 * spread, fineness);
    assert_int_equal(brv_slab_build(&disc->slab, &medium, 1, &grid, 0.0, 0.0, NULL), BRV_OK);
    build_across(&disc->radial, &across, 1, 0.0);
    make_values(disc);
}

static const double spot_time[4] = {0.01, 0.1, 1.0, 10.0};
static const double spot_depth[3] = {0.0, 0.2, 0.7};

static void run_spot(struct brv_disc_course *course, const struct disc *disc, const double time[4])
{
    const struct brv_disc_ask ask = {.slab = &disc->slab,
                                     .radial = &disc->radial,
                                     .start = disc->value,
                                     .n_time = 4,
                                     .time = time,
                                     .n_depth = 3,
                                     .depth = spot_depth,
                                     .tolerance = 1e-7};
    assert_int_equal(brv_disc_run(course, &ask, NULL), BRV_OK);
}

static void heat_laid_at_once(bool is_gaussian)
{
    struct disc disc;
    struct brv_disc_course course;
    build_half_space(&disc, 2e-3, 10.0, 3.0);
    for (size_t cell = 0; cell < disc.radial.n; cell++) /* in the uppermost cells */
        disc.value[cell * disc.slab.chain.n] =
            (is_gaussian ? gaussian(&disc.radial, cell, 1.0) : lit(&disc.radial, cell, 1.0)) / disc.slab.face[1];
    run_spot(&course, &disc, spot_time);
    for (size_t t = 0; t < 4; t++)
        for (size_t z = 0; z < 3; z++) {
            char what[120];
            const double exact = is_gaussian ? exact_disc_gaussian(spot_time[t], spot_depth[z], 1.0)
                                             : exact_disc_at_once(spot_time[t], spot_depth[z], 1.0);
            const double surface = exact_disc_at_once(spot_time[t], 0.0, INFINITY);
            snprintf(what, sizeof what, "heat laid at once on a %s disc, alpha t / R2 %g, z / R %g, axis",
                     is_gaussian ? "gaussian" : "flat", spot_time[t], spot_depth[z]);
            check_row(what, "carslaw-jaeger (closed form, computed)", course.axis[z * 4 + t], exact, 2e-4 * surface,
                      "of the surface under an endless spot; cells across three times as fine as usual");
        }
    brv_disc_course_free(&course);
    free_disc(&disc);
}

static void flat_and_gaussian_spots(void **state)
{
    (void)state;
    heat_laid_at_once(false);
    heat_laid_at_once(true);
}

/* What the usual cells leave of the highest rise on the axis of a 4-mm spot until 60 s. Skin of one conductivity, so
 * depth and radius part and the rise across can be had without a step in time: exp(-alpha mu^2 t) for every mode.    */
static double left_on_the_axis(double fineness, bool is_gaussian, size_t n_cell)
{
    const double radius = 2e-3, diffusivity = 1e-7;
    const struct brv_disc_grid across = brv_disc_grid_for(2.0 * radius, 17e-3, fineness);
    struct brv_radial radial;
    build_across(&radial, &across, 1, 0.0);
    assert_int_equal(radial.n, n_cell);
    double *density = calloc(radial.n, sizeof *density), worst = 0.0;
    for (size_t i = 0; i < radial.n; i++)
        density[i] = is_gaussian ? gaussian(&radial, i, radius) : lit(&radial, i, radius);
    for (double time = 1e-4; time < 60.0; time *= 1.2) {
        const double reduced = diffusivity * time / (radius * radius);
        double rise = is_gaussian ? -1.0 / (1.0 + 8.0 * reduced) : expm1(-0.25 / reduced);
        for (size_t mode = 0; mode < radial.n; mode++)
            rise += radial.axis[mode] * brv_radial_amplitude(&radial, mode, density, 1) *
                    exp(-diffusivity * radial.rate[mode] * time);
        worst = fmax(worst, fabs(rise));
    }
    free(density);
    brv_radial_free(&radial);
    return worst;
}

/* Rise on the axis of a flat spot of radius 1 at alpha t = 1.4, in cells of 0.05 to a closed end. */
static double axis_within(size_t n_cell)
{
    struct brv_radial radial;
    double density[600] = {0.0}, rise = 0.0;
    build_even(&radial, n_cell, 0.05 * (double)n_cell, 1, 0.0);
    for (size_t i = 0; i < 20; i++) density[i] = 1.0;
    for (size_t mode = 0; mode < n_cell; mode++)
        rise += radial.axis[mode] * brv_radial_amplitude(&radial, mode, density, 1) * exp(-1.4 * radial.rate[mode]);
    brv_radial_free(&radial);
    return rise;
}

static void spot_grid_serves_the_axis(void **state)
{
    (void)state;
    static const char *const reason = "what the header states; a quarter of it with cells half as wide";
    check_row("flat 4-mm spot, usual cells: largest error on the axis until 60 s", "carslaw-jaeger (exact)",
              left_on_the_axis(1.0, false, 55), 0.0, 8e-4, reason);
    check_row("the same, cells half as wide", "carslaw-jaeger (exact)", left_on_the_axis(2.0, false, 108), 0.0, 2e-4,
              reason);
    check_row("gaussian 4-mm spot, usual cells: largest error on the axis until 60 s", "carslaw-jaeger (exact)",
              left_on_the_axis(1.0, true, 55), 0.0, 1.1e-3, reason);
    check_row("the same gaussian, cells half as wide", "carslaw-jaeger (exact)", left_on_the_axis(2.0, true, 108), 0.0,
              2.8e-4, reason);
    /* the same cells up to 1 + 2 sqrt(4 alpha t) and twice as far: the end alone is seen */
    check_close(axis_within(115), axis_within(230), 1e-6, 0.0);
    assert_true(fabs(axis_within(65) / axis_within(230) - 1.0) > 1e-4); /* and is, where it is too near */
}

/* Under a flux the profile has a slope at the face: the line through the first two cells. */
static struct brv_reading face_under_flux(const struct brv_slab *slab)
{
    const double z0 = 0.5 * slab->face[1], z1 = 0.5 * (slab->face[1] + slab->face[2]);
    return (struct brv_reading){{0, 1}, {z1 / (z1 - z0), -z0 / (z1 - z0)}};
}

static void check_flux(double time, const char *steady)
{
    struct disc disc;
    struct brv_disc_course course;
    build_half_space(&disc, 2e-3, time, 3.0);
    for (size_t cell = 0; cell < disc.radial.n; cell++)
        disc.value[cell * disc.slab.chain.n] = lit(&disc.radial, cell, 1.0) ? time : 0.0;
    const struct brv_disc_ask ask = {.slab = &disc.slab,
                                     .radial = &disc.radial,
                                     .source = {disc.value, even_share, &time, time, 0.02 * time},
                                     .n_time = 1,
                                     .time = &time,
                                     .n_depth = 3,
                                     .depth = spot_depth,
                                     .tolerance = 1e-7};
    assert_int_equal(brv_disc_run(&course, &ask, NULL), BRV_OK);
    const struct brv_reading axis = brv_radial_reading(&disc.radial, 0.0), face = face_under_flux(&disc.slab);
    const double surface = brv_disc_read(&course.field, &disc.radial, &axis, &face);
    for (size_t z = 0; z < 3; z++) {
        char what[120];
        const double found = z ? course.axis[z] : surface;
        snprintf(what, sizeof what, "steady flux into a disc, alpha t / R2 %g, z / R %g, axis%s", time, spot_depth[z],
                 steady);
        check_row(what, "carslaw-jaeger (closed form, computed)", found, exact_disc_flux(time, spot_depth[z], 1.0),
                  2e-4 * exact_disc_flux(time, 0.0, 1.0), "of the surface; cells across three times as fine as usual");
    }
    brv_disc_course_free(&course);
    free_disc(&disc);
}

static void steady_flux_into_a_disc(void **state)
{
    (void)state;
    check_flux(0.01, "");
    check_flux(1.0, "");
    check_flux(1e6, ", nearly q R / k - z");
}

/* ---- bodies cooled on all sides ---- */

/* Rises of a body with half-height and radius (or half-width) 1 that was warm by 1, at `time`; product of two series. */
static void check_body(int power, double biot_ends, double biot_side)
{
    static const double time = 0.23, depth[2] = {0.0, 0.55};
    struct disc disc;
    struct brv_disc_course course;
    const struct brv_slab_layer half = {1.0, 1.0, 1.0, 0.0};
    const struct brv_slab_grid grid = {0.01, 1.0, 0.01, 0.0};
    assert_int_equal(brv_slab_build(&disc.slab, &half, 1, &grid, 0.0, biot_ends, NULL), BRV_OK);
    build_even(&disc.radial, 100, 1.0, power, biot_side);
    make_values(&disc);
    for (size_t i = 0; i < disc.radial.n * disc.slab.chain.n; i++) disc.value[i] = 1.0;
    const struct brv_disc_ask ask = {
        .slab = &disc.slab, .radial = &disc.radial, .start = disc.value, .n_time = 1, .time = &time, .tolerance = 1e-7};
    assert_int_equal(brv_disc_run(&course, &ask, NULL), BRV_OK);

    double (*across)(double, double, double) = power ? exact_cylinder_cooling : exact_plate_cooling;
    static const double radius[3] = {0.0, 0.6, 1.0};
    for (size_t i = 0; i < 6; i++) {
        char what[140];
        const double r = radius[i % 3], z = depth[i / 3];
        const struct brv_reading at_radius = brv_radial_reading(&disc.radial, r);
        const struct brv_reading at_depth = brv_slab_reading(&disc.slab, z);
        snprintf(what, sizeof what, "cooling %s, Biot %g at the ends and %g around, r %g, z %g",
                 power ? "cylinder" : "bar", biot_ends, biot_side, r, z);
        check_row(what, "carslaw-jaeger (exact)", brv_disc_read(&course.field, &disc.radial, &at_radius, &at_depth),
                  exact_plate_cooling(time, z, biot_ends) * across(time, r, biot_side), 4e-5,
                  "of the first rise, 100 cells each way");
    }
    brv_disc_course_free(&course);
    free_disc(&disc);
}

static void cylinders_and_bars_cool(void **state)
{
    (void)state;
    check_body(1, INFINITY, INFINITY);
    check_body(1, 0.7, 5.0);
    check_body(1, 20.0, 0.3);
    check_body(0, 0.7, 5.0);
    check_body(0, INFINITY, 1.0);
}

/* ---- layered skin: limits and books ---- */

/* Two layers, heat that fades with depth in a spot, a warm top, blood, an open end if asked for. */
static void build_skin(struct disc *disc, const struct brv_disc_grid *across, double transfer, double perfusion,
                       double side)
{
    const struct brv_slab_layer layer[] = {{60e-6, 0.23, 4.1e6, 0.0}, {8e-3, 0.37, 3.7e6, perfusion}};
    const struct brv_slab_grid grid = {3e-6, 0.12, INFINITY, 0.0};
    assert_int_equal(brv_slab_build(&disc->slab, layer, 2, &grid, transfer, 0.0, NULL), BRV_OK);
    build_across(&disc->radial, across, 1, side);
    make_values(disc);
}

/* Adds a spot whose heat fades with depth to the values. */
static void add_spot(struct disc *disc, double radius, bool is_gaussian, double fade, double heat)
{
    const size_t n = disc->slab.chain.n;
    const double *face = disc->slab.face;
    for (size_t cell = 0; cell < disc->radial.n; cell++)
        for (size_t i = 0; i < n; i++)
            disc->value[cell * n + i] +=
                (is_gaussian ? gaussian(&disc->radial, cell, radius) : lit(&disc->radial, cell, radius)) * heat *
                (exp(-face[i] / fade) - exp(-face[i + 1] / fade));
}

static const double skin_time[] = {1e-3, 3e-3, 0.01, 0.1, 1.0, 5.0};
static const double skin_depth[] = {0.0, 30e-6, 60e-6, 0.5e-3, 2e-3};
enum { N_TIME = 6, N_DEPTH = 5 };
static const double pulse = 3e-3;

static struct brv_disc_ask ask_skin(const struct disc *disc)
{
    return (struct brv_disc_ask){.slab = &disc->slab,
                                 .radial = &disc->radial,
                                 .source = {disc->value, even_share, &pulse, pulse, pulse / 20.0},
                                 .n_time = N_TIME,
                                 .time = skin_time,
                                 .n_depth = N_DEPTH,
                                 .depth = skin_depth,
                                 .tolerance = 1e-6};
}

/* The slab alone, under the deposit of the cell on the axis, in the same even steps. */
static void run_slab(double rise[N_DEPTH][N_TIME], const struct disc *disc, size_t steps)
{
    struct brv_slab slab = disc->slab;
    struct brv_stepper stepper;
    const struct brv_source source = {disc->value, even_share, &pulse, pulse, pulse / 20.0};
    assert_int_equal(brv_stepper_build(&stepper, slab.chain.n, NULL), BRV_OK);
    for (size_t t = 0; t < N_TIME; t++) {
        brv_stepper_march(&stepper, &slab.chain, &source, t ? skin_time[t - 1] : 0.0, skin_time[t], steps);
        for (size_t i = 0; i < N_DEPTH; i++) {
            const struct brv_reading reading = brv_slab_reading(&slab, skin_depth[i]);
            rise[i][t] = brv_chain_read(&slab.chain, &reading);
        }
    }
    brv_stepper_free(&stepper);
}

static size_t check_wide(double radius, const struct brv_disc_grid *across, double tolerance)
{
    double rise[N_DEPTH][N_TIME];
    struct disc disc;
    struct brv_disc_course course;
    build_skin(&disc, across, 10.0, 3.8e3, 0.0);
    add_spot(&disc, radius, false, 3e-4, 6e4);
    struct brv_disc_ask ask = ask_skin(&disc);
    ask.even_steps = 40;
    assert_int_equal(brv_disc_run(&course, &ask, NULL), BRV_OK);
    run_slab(rise, &disc, 40);
    for (size_t i = 0; i < N_DEPTH; i++)
        for (size_t t = 0; t < N_TIME; t++) check_close(course.axis[i * N_TIME + t], rise[i][t], tolerance, 0.0);
    const size_t n_step = course.n_step;
    brv_disc_course_free(&course);
    free_disc(&disc);
    return n_step;
}

static void a_wide_spot_is_a_slab(void **state)
{
    (void)state;
    const struct brv_disc_grid wide = brv_disc_grid_for(60e-3, 60e-3, 1.0);
    check_wide(30e-3, &wide, 1e-10); /* the rim is 20 sqrt(alpha t) away; what is left is rounding in the sums */
    /* lit to the end: mode 0 alone moves, and it is the slab but for the rounding of its constant shape */
    assert_int_equal(check_wide(1.0, &wide, 1e-13), 40 * N_TIME);
}

static void spots_add_up(void **state)
{
    (void)state;
    const struct brv_disc_grid across = brv_disc_grid_for(4e-3, 12e-3, 1.0);
    struct disc disc[3];
    struct brv_disc_course course[3];
    for (size_t i = 0; i < 3; i++) {
        build_skin(&disc[i], &across, 10.0, 3.8e3, 40.0);
        if (i != 1) add_spot(&disc[i], 2e-3, false, 3e-4, 6e4);
        if (i != 0) add_spot(&disc[i], 1.1e-3, true, 1e-3, 2e4);
        struct brv_disc_ask ask = ask_skin(&disc[i]);
        ask.even_steps = 20;
        assert_int_equal(brv_disc_run(&course[i], &ask, NULL), BRV_OK);
    }
    for (size_t i = 0; i < N_DEPTH * N_TIME; i++) /* rounding of some 60 modes that partly cancel */
        check_close(course[2].axis[i], course[0].axis[i] + course[1].axis[i], 1e-12, 0.0);
    for (size_t i = 0; i < 3; i++) {
        brv_disc_course_free(&course[i]);
        free_disc(&disc[i]);
    }
}

/* What goes in is stored, carried away (by blood, and through an open end) or lost at the top. */
static void check_books(double transfer, double perfusion, double side)
{
    const struct brv_disc_grid across = brv_disc_grid_for(4e-3, 8e-3, 1.0);
    static const double end[] = {pulse, 60.0};
    struct disc disc;
    struct brv_disc_course course;
    build_skin(&disc, &across, transfer, perfusion, side);
    add_spot(&disc, 2e-3, false, 3e-4, 6e4);
    struct brv_disc_ask ask = ask_skin(&disc);
    ask.n_time = 2;
    ask.time = end;
    assert_int_equal(brv_disc_run(&course, &ask, NULL), BRV_OK);
    const struct brv_disc_audit *audit = &course.audit;
    check_close(audit->in, 0.5 * 2e-3 * 2e-3 * 6e4 * -expm1(-disc.slab.face[disc.slab.chain.n] / 3e-4), 1e-12, 0.0);
    check_close(audit->missing, 0.0, 0.0, 1e-11);
    if (perfusion <= 0.0 && side <= 0.0) assert_true(audit->carried == 0.0);
    if (transfer <= 0.0) assert_true(audit->lost == 0.0);
    if (perfusion > 0.0 || side > 0.0) assert_true(audit->carried > 0.01 * audit->in);
    if (transfer > 0.0) assert_true(audit->lost > 0.01 * audit->in);
    brv_disc_course_free(&course);
    free_disc(&disc);
}

static void audit_closes(void **state)
{
    (void)state;
    check_books(0.0, 0.0, 0.0);
    check_books(40.0, 0.0, 0.0);
    check_books(40.0, 2e4, 0.0);
    check_books(0.0, 0.0, 400.0);
    check_books(40.0, 2e4, INFINITY);
}

static void a_tolerance_is_kept(void **state)
{
    (void)state;
    static const double tolerance[3] = {1e-5, 1e-6, 1e-8}, left[2] = {8e-5, 2e-5}; /* what the header states */
    const struct brv_disc_grid across = brv_disc_grid_for(4e-3, 12e-3, 1.0);
    struct disc disc;
    struct brv_disc_course course[3];
    build_skin(&disc, &across, 10.0, 3.8e3, 0.0);
    add_spot(&disc, 2e-3, false, 3e-4, 6e4);
    for (size_t i = 0; i < 3; i++) {
        struct brv_disc_ask ask = ask_skin(&disc);
        ask.tolerance = tolerance[i];
        assert_int_equal(brv_disc_run(&course[i], &ask, NULL), BRV_OK);
    }
    for (size_t i = 0; i < 2; i++)
        for (size_t at = 0; at < N_DEPTH * N_TIME; at++)
            check_close(course[i].axis[at], course[2].axis[at], left[i], 0.0);
    for (size_t i = 0; i < 3; i++) brv_disc_course_free(&course[i]);
    free_disc(&disc);
}

static void threads_change_nothing(void **state)
{
    (void)state;
    static const unsigned threads[3] = {1, 2, 8};
    const struct brv_disc_grid across = brv_disc_grid_for(4e-3, 12e-3, 1.0);
    struct disc disc;
    struct brv_disc_course course[3];
    build_skin(&disc, &across, 10.0, 3.8e3, 0.0);
    add_spot(&disc, 2e-3, false, 3e-4, 6e4);
    for (size_t i = 0; i < 3; i++) {
        struct brv_disc_ask ask = ask_skin(&disc);
        ask.threads = threads[i];
        assert_int_equal(brv_disc_run(&course[i], &ask, NULL), BRV_OK);
        assert_memory_equal(course[i].axis, course[0].axis, N_DEPTH * N_TIME * sizeof(double));
        assert_memory_equal(course[i].field.amplitude, course[0].field.amplitude,
                            disc.radial.n * disc.slab.chain.n * sizeof(double));
        assert_memory_equal(&course[i].audit, &course[0].audit, sizeof course[0].audit);
    }
    for (size_t i = 0; i < 3; i++) brv_disc_course_free(&course[i]);
    brv_disc_course_free(&course[0]); /* twice is allowed */
    free_disc(&disc);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(closed_forms_have_their_limits),
        cmocka_unit_test(flat_and_gaussian_spots),
        cmocka_unit_test(steady_flux_into_a_disc),
        cmocka_unit_test(cylinders_and_bars_cool),
        cmocka_unit_test(spot_grid_serves_the_axis),
        cmocka_unit_test(a_wide_spot_is_a_slab),
        cmocka_unit_test(spots_add_up),
        cmocka_unit_test(audit_closes),
        cmocka_unit_test(a_tolerance_is_kept),
        cmocka_unit_test(threads_change_nothing),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
