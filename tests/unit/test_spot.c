/* The contract of light/spot: its limits, the plane integral, superposition, scaling, and the parts it is made of. */
#include "base/constants.h"
#include "light/face.h"
#include "light/layered.h"
#include "light/lateral.h"
#include "light/linear.h"
#include "light/ripple.h"
#include "light/spot.h"
#include "light/tilt.h"
#include "support/check.h"

#include <gsl/gsl_errno.h>
#include <gsl/gsl_integration.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Light skin at 1064 nm, where spots matter most, and at 532 nm. */
static const struct brv_medium infrared[3] = {
    {50e-6, 124.5, 10486.0, 0.85, 1.4}, {10e-6, 710.9, 10486.0, 0.85, 1.4}, {INFINITY, 36.19, 10486.0, 0.85, 1.4}};
static const struct brv_medium green[3] = {
    {50e-6, 1057.7, 28079.0, 0.85, 1.4}, {10e-6, 7590.4, 28079.0, 0.85, 1.4}, {INFINITY, 167.3, 28079.0, 0.85, 1.4}};

enum { N_DEPTH = 7 };
static const double depth[N_DEPTH] = {0.0, 20e-6, 55e-6, 0.2e-3, 0.5e-3, 1e-3, 3e-3};
static const double axis[1] = {0.0};

static struct brv_spot_ask ask_for(const struct brv_medium *media, size_t n, double diameter, bool gaussian)
{
    return (struct brv_spot_ask){.n_medium = n,
                                 .medium = media,
                                 .outside_index = 1.0,
                                 .below_index = 1.0,
                                 .diameter = diameter,
                                 .gaussian = gaussian,
                                 .n_depth = N_DEPTH,
                                 .depth = depth,
                                 .n_radius = 1,
                                 .radius = axis};
}

static struct brv_spot solve(const struct brv_spot_ask *ask)
{
    struct brv_spot spot = {0};
    struct brv_error error = {0};
    const brv_status status = brv_spot_solve(&spot, ask, &error);
    if (status) print_error("%s: %g\n", error.place, error.found);
    assert_int_equal(status, BRV_OK);
    return spot;
}

/* What comes back */

static void keeps_copies_and_frees_twice(void **state)
{
    (void)state;
    double where[2] = {0.3e-3, 0.1e-3}, across[3] = {2e-3, 0.0, 1e-3};
    struct brv_spot_ask ask = ask_for(infrared, 3, 2.385e-3, false);
    ask.n_depth = 2;
    ask.depth = where;
    ask.n_radius = 3;
    ask.radius = across;
    struct brv_spot spot = solve(&ask);
    where[0] = across[0] = -1.0;
    assert_int_equal(spot.n_depth, 2);
    assert_int_equal(spot.n_radius, 3);
    check_close(spot.depth[0], 0.3e-3, 0.0, 0.0);
    check_close(spot.radius[0], 2e-3, 0.0, 0.0);
    assert_true(spot.fluence[1] > spot.fluence[2] && spot.fluence[2] > spot.fluence[0]); /* any order of radii */
    assert_true(spot.wide[0] > spot.fluence[1]);
    brv_spot_free(&spot);
    brv_spot_free(&spot);
    assert_null(spot.fluence);
    assert_int_equal(spot.n_depth, 0);
}

static void takes_the_deeper_side_of_a_face(void **state)
{
    (void)state;
    const struct brv_medium media[2] = {{0.2e-3, 100.0, 10000.0, 0.8, 1.33}, {INFINITY, 50.0, 12000.0, 0.85, 1.45}};
    const double face = 0.2e-3, where[3] = {nextafter(face, 0.0), face, face + 1e-12};
    struct brv_spot_ask ask = ask_for(media, 2, 3e-3, false);
    ask.n_depth = 3;
    ask.depth = where;
    struct brv_spot spot = solve(&ask);
    check_close(spot.fluence[1], spot.fluence[2], 1e-7, 0.0);          /* a picometre of gradient */
    assert_true(fabs(spot.fluence[0] / spot.fluence[1] - 1.0) > 0.01); /* the light jumps at an index step */
    brv_spot_free(&spot);
}

/* Limits */

static void check_wide(const struct brv_medium *media, double diameter, bool gaussian, double tolerance)
{
    const struct brv_spot_ask ask = ask_for(media, 3, diameter, gaussian);
    const struct brv_layered_ask wide = {
        .n_medium = 3, .medium = media, .outside_index = 1.0, .below_index = 1.0, .cosine = 1.0};
    struct brv_spot spot = solve(&ask);
    struct brv_layered light;
    assert_int_equal(brv_layered_solve(&light, &wide, NULL), BRV_OK);
    for (size_t i = 0; i < N_DEPTH; i++) {
        check_close(spot.wide[i], brv_layered_fluence(&light, depth[i]), 0.0, 0.0);
        check_close(spot.fluence[i], spot.wide[i], tolerance, 0.0);
    }
    brv_layered_free(&light);
    brv_spot_free(&spot);
}

/* The edge of a flat beam of 120 mm is 25 diffusion depths away at 1064 nm, more at 532 nm. On the axis of a gaussian
 * what is missing falls with (diffusion depth / w)^2. */
static void wide_spots_tend_to_layered(void **state)
{
    (void)state;
    check_wide(infrared, 120e-3, false, 2e-4);
    check_wide(green, 30e-3, false, 2e-4);
    check_wide(infrared, 400e-3, true, 2e-3);
    check_wide(green, 300e-3, true, 2e-3);
}

/* Without scattering: Beer's law, two passes through the bottom, times the profile of the beam. */
static void unscattered_light_keeps_its_profile(void **state)
{
    (void)state;
    const struct brv_medium media = {1e-3, 800.0, 0.0, 0.0, 1.4};
    const double across[4] = {0.0, 0.9e-3, 1e-3, 1.1e-3}, flat[4] = {1.0, 1.0, 0.5, 0.0}, where[2] = {0.0, 0.7e-3};
    const double mirror = 0.4 * 0.4 / (2.4 * 2.4), pass = exp(-0.8);
    for (int gaussian = 0; gaussian < 2; gaussian++) {
        struct brv_spot_ask ask = ask_for(&media, 1, 2e-3, gaussian);
        ask.n_depth = 2;
        ask.depth = where;
        ask.n_radius = 4;
        ask.radius = across;
        struct brv_spot spot = solve(&ask);
        for (size_t i = 0; i < 2; i++) {
            const double down = (1.0 - mirror) / (1.0 - mirror * mirror * pass * pass) * exp(-800.0 * where[i]);
            const double wide = down * (1.0 + mirror * exp(-2.0 * 800.0 * (1e-3 - where[i])));
            for (size_t r = 0; r < 4; r++) {
                const double profile = gaussian ? exp(-2.0 * across[r] * across[r] / 1e-6) : flat[r];
                check_close(spot.fluence[4 * i + r], wide * profile, 1e-12, 1e-12);
            }
        }
        brv_spot_free(&spot);
    }
}

/* The plane integral: all light at one depth is the area of the beam times the wide answer. */

enum { N_PIECE = 5, N_GAUSS = 48 };

static void check_plane_integral(const struct brv_medium *media, double diameter, bool gaussian)
{
    const double radius = 0.5 * diameter;
    const double end[N_PIECE + 1] = {0.0, 0.8 * radius, radius, 1.3 * radius, radius + 5e-3, radius + 40e-3};
    const double area = (gaussian ? 0.5 : 1.0) * BRV_PI * radius * radius;
    double where[N_PIECE * N_GAUSS], weight[N_PIECE * N_GAUSS];
    gsl_integration_glfixed_table *gauss = gsl_integration_glfixed_table_alloc(N_GAUSS);
    for (size_t piece = 0; piece < N_PIECE; piece++)
        for (size_t i = 0; i < N_GAUSS; i++)
            gsl_integration_glfixed_point(end[piece], end[piece + 1], i, &where[piece * N_GAUSS + i],
                                          &weight[piece * N_GAUSS + i], gauss);
    gsl_integration_glfixed_table_free(gauss);

    struct brv_spot_ask ask = ask_for(media, 3, diameter, gaussian);
    ask.n_radius = N_PIECE * N_GAUSS;
    ask.radius = where;
    struct brv_spot spot = solve(&ask);
    for (size_t i = 0; i < N_DEPTH; i++) {
        double sum = 0.0;
        for (size_t r = 0; r < spot.n_radius; r++)
            sum += weight[r] * 2.0 * BRV_PI * where[r] * spot.fluence[i * spot.n_radius + r];
        check_close(sum / area, spot.wide[i], 1e-3, 0.0); /* as claimed */
    }
    brv_spot_free(&spot);
}

static void plane_integral_is_the_wide_answer(void **state)
{
    (void)state;
    static const double diameter[] = {1e-3, 4e-3, 20e-3};
    for (size_t i = 0; i < 3; i++)
        for (int gaussian = 0; gaussian < 2; gaussian++) {
            check_plane_integral(infrared, diameter[i], gaussian);
            check_plane_integral(green, diameter[i], gaussian);
        }
}

/* Symmetries */

static void lengths_scale(void **state)
{
    (void)state;
    const double factor = 1.7, across[2] = {0.0, 1.3e-3};
    double scaled_depth[N_DEPTH], scaled_across[2];
    struct brv_medium scaled[3];
    for (size_t i = 0; i < 3; i++) {
        scaled[i] = infrared[i];
        scaled[i].thickness *= factor;
        scaled[i].absorption /= factor;
        scaled[i].scattering /= factor;
    }
    for (size_t i = 0; i < N_DEPTH; i++) scaled_depth[i] = depth[i] * factor;
    for (size_t i = 0; i < 2; i++) scaled_across[i] = across[i] * factor;
    struct brv_spot_ask ask = ask_for(infrared, 3, 3e-3, false), larger = ask_for(scaled, 3, 3e-3 * factor, false);
    ask.n_radius = larger.n_radius = 2;
    ask.radius = across;
    larger.depth = scaled_depth;
    larger.radius = scaled_across;
    struct brv_spot first = solve(&ask), second = solve(&larger);
    /* Rounding, times 1e6 for how alike the modes are at the highest frequencies. */
    for (size_t i = 0; i < 2 * N_DEPTH; i++) check_close(second.fluence[i], first.fluence[i], 1e-8, 0.0);
    brv_spot_free(&first);
    brv_spot_free(&second);
}

static void a_split_layer_changes_nothing(void **state)
{
    (void)state;
    struct brv_medium split[5] = {infrared[0], infrared[0], infrared[1], infrared[2], infrared[2]};
    split[0].thickness = 13e-6;
    split[1].thickness = 37e-6;
    split[3].thickness = 0.7e-3;
    const struct brv_spot_ask ask = ask_for(infrared, 3, 2e-3, false), other = ask_for(split, 5, 2e-3, false);
    struct brv_spot first = solve(&ask), second = solve(&other);
    for (size_t i = 0; i < N_DEPTH; i++) check_close(second.fluence[i], first.fluence[i], 1e-6, 0.0); /* as above */
    brv_spot_free(&first);
    brv_spot_free(&second);
}

static void wider_spots_are_brighter(void **state)
{
    (void)state;
    static const double diameter[] = {0.5e-3, 0.7e-3, 1e-3, 1.5e-3, 2e-3, 3e-3, 4e-3, 6e-3, 10e-3, 15e-3, 30e-3};
    const struct brv_medium *const media[] = {infrared, green};
    for (size_t which = 0; which < 4; which++) {
        double before[N_DEPTH] = {0};
        for (size_t i = 0; i < sizeof diameter / sizeof *diameter; i++) {
            const struct brv_spot_ask ask = ask_for(media[which / 2], 3, diameter[i], which % 2);
            struct brv_spot spot = solve(&ask);
            for (size_t j = 0; j < N_DEPTH; j++) {
                assert_true(spot.fluence[j] > before[j] * (1.0 - 1e-4)); /* of an almost wide spot nothing is left */
                assert_true(spot.fluence[j] < spot.wide[j] * (1.0 + 1e-4));
                before[j] = spot.fluence[j];
            }
            brv_spot_free(&spot);
        }
    }
}

/* exp(-2 r^2 / w^2) is the mean of flat beams of radius w sqrt(-ln(u) / 2) over 0 < u < 1. */
static void a_gaussian_is_a_sum_of_flat_beams(void **state)
{
    (void)state;
    enum { N_FLAT = 40 };
    const double w = 1.5e-3, across[3] = {0.0, 2.2e-3, 4e-3};
    double sum[3 * N_DEPTH] = {0};
    gsl_integration_glfixed_table *gauss = gsl_integration_glfixed_table_alloc(N_FLAT);
    struct brv_spot_ask ask = ask_for(infrared, 3, 2.0 * w, true);
    ask.n_radius = 3;
    ask.radius = across;
    struct brv_spot gaussian = solve(&ask);
    ask.gaussian = false;
    for (size_t i = 0; i < N_FLAT; i++) {
        double root, weight; /* u = 1 - root^2 spreads the points over the radii */
        gsl_integration_glfixed_point(0.0, 1.0, i, &root, &weight, gauss);
        ask.diameter = 2.0 * w * sqrt(-0.5 * log1p(-root * root));
        struct brv_spot flat = solve(&ask);
        for (size_t j = 0; j < 3 * N_DEPTH; j++) sum[j] += 2.0 * root * weight * flat.fluence[j];
        brv_spot_free(&flat);
    }
    gsl_integration_glfixed_table_free(gauss);
    /* 40 flat beams, each with an edge of unscattered light, are a coarse sum beside the axis. */
    for (size_t j = 0; j < N_DEPTH; j++) {
        check_close(sum[3 * j], gaussian.fluence[3 * j], 2e-3, 0.0);
        if (j >= 4) check_close(sum[3 * j + 1], gaussian.fluence[3 * j + 1], 5e-3, 0.0);
        if (j >= 4) check_close(sum[3 * j + 2], gaussian.fluence[3 * j + 2], 5e-3, 0.0);
    }
    brv_spot_free(&gaussian);
}

/* Stacks at the limits of what is allowed: numbers, positive and not above the wide answer on the axis. */
static void awkward_stacks_have_an_answer(void **state)
{
    (void)state;
    const struct brv_medium stack[6] = {{1e-6, 1.0, 99.0, 0.98, 1.5}, {0.3e-3, 0.0, 0.0, 0.0, 1.33},
                                        {1e-3, 0.0, 1e4, 0.9, 1.4},   {0.1e-3, 2e4, 0.0, 0.8, 1.62},
                                        {2e-3, 1e-3, 1e4, 0.85, 1.4}, {INFINITY, 1e3, 1e4, 0.5, 1.52}};
    for (size_t first = 0; first < 6; first++)
        for (size_t n = 1; n <= 6 - first; n++) {
            struct brv_spot_ask ask = ask_for(stack + first, n, 5e-3, first % 2);
            struct brv_spot spot = solve(&ask);
            for (size_t i = 0; i < N_DEPTH; i++) {
                assert_true(isfinite(spot.fluence[i]));
                assert_true(spot.fluence[i] > -1e-3 && spot.fluence[i] < 1.02 * spot.wide[i] + 1e-3);
            }
            brv_spot_free(&spot);
        }
}

static void sixteen_layers(void **state)
{
    (void)state;
    struct brv_medium stack[16];
    for (size_t i = 0; i < 16; i++)
        stack[i] = (struct brv_medium){0.1e-3, 40.0 + 10.0 * (double)i, 8000.0 + 300.0 * (double)i, 0.85,
                                       1.33 + 0.01 * (double)(i % 4)};
    stack[15].thickness = INFINITY;
    const struct brv_spot_ask ask = ask_for(stack, 16, 3e-3, false);
    struct brv_spot spot = solve(&ask);
    for (size_t i = 1; i < N_DEPTH; i++) assert_true(spot.fluence[i] > 0.0 && spot.fluence[i] < spot.wide[i]);
    brv_spot_free(&spot);
}

/* Parts */

/* The turned modes put back into along psi' + (loss + k across) psi = 0. */
static double worst_residual(const struct brv_tilt_modes *modes, const struct brv_tilt *tilt,
                             const struct brv_harmonics *shapes, double k)
{
    double worst = 0.0;
    for (size_t mode = 0; mode < BRV_N_ODD; mode++) {
        for (size_t i = 0; i < BRV_N_EVEN; i++) {
            double sum = tilt->loss[shapes->degree_of_even[i]] * modes->even[i * BRV_N_ODD + mode];
            for (size_t j = 0; j < BRV_N_ODD; j++)
                sum -= modes->fade[mode] * shapes->along[i * BRV_N_ODD + j] * modes->odd[j * BRV_N_ODD + mode];
            for (size_t j = 0; j < BRV_N_EVEN; j++)
                sum += k * shapes->across_even[i * BRV_N_EVEN + j] * modes->even[j * BRV_N_ODD + mode];
            worst = fmax(worst, fabs(sum) / modes->fade[mode]);
        }
        for (size_t i = 0; i < BRV_N_ODD; i++) {
            double sum = tilt->loss[shapes->degree_of_odd[i]] * modes->odd[i * BRV_N_ODD + mode];
            for (size_t j = 0; j < BRV_N_EVEN; j++)
                sum -= modes->fade[mode] * shapes->along[j * BRV_N_ODD + i] * modes->even[j * BRV_N_ODD + mode];
            for (size_t j = 0; j < BRV_N_ODD; j++)
                sum += k * shapes->across_odd[i * BRV_N_ODD + j] * modes->odd[j * BRV_N_ODD + mode];
            worst = fmax(worst, fabs(sum) / modes->fade[mode]);
        }
    }
    return worst;
}

static void turned_modes_solve_the_equation(void **state)
{
    (void)state;
    struct brv_harmonics shapes;
    struct brv_tilt tilt;
    struct brv_tilt_modes modes;
    double loss[BRV_N_DEGREE];
    assert_int_equal(brv_harmonics_build(&shapes, NULL), BRV_OK);
    for (size_t l = 0; l < BRV_N_DEGREE; l++) loss[l] = 0.01 + 100.0 * (1.0 - pow(0.85, (double)l));
    assert_int_equal(brv_tilt_build(&tilt, loss, NULL), BRV_OK);
    for (double k = 0.0; k < 300.0; k = 3.0 * k + 0.1) {
        brv_tilt_modes_fill(&modes, &tilt, &shapes, k);
        check_close(worst_residual(&modes, &tilt, &shapes, k), 0.0, 0.0, 1e-11);
    }
}

/* Of the shape mu both rows together say that the net flux is the same on both sides, whatever is reflected. */
static void a_step_lets_the_net_flux_through(void **state)
{
    (void)state;
    struct brv_harmonics shapes;
    struct brv_face face;
    const double above = 1.33, below = 1.52;
    assert_int_equal(brv_harmonics_build(&shapes, NULL), BRV_OK);
    assert_int_equal(brv_face_step(&face, &shapes, above, below, NULL), BRV_OK);
    const size_t down = shapes.place[1][0], up = BRV_N_ODD + down;
    for (size_t i = 0; i < BRV_N_EVEN; i++) {
        check_close(face.lower_even[down * BRV_N_EVEN + i] + face.lower_even[up * BRV_N_EVEN + i], 0.0, 0.0, 1e-9);
        check_close(face.upper_even[down * BRV_N_EVEN + i] + face.upper_even[up * BRV_N_EVEN + i], 0.0, 0.0, 1e-9);
    }
    for (size_t i = 0; i < BRV_N_ODD; i++) {
        const double flux = i == down ? 1.0 : 0.0;
        check_close(face.lower_odd[down * BRV_N_ODD + i] + face.lower_odd[up * BRV_N_ODD + i], flux, 0.0, 1e-9);
        check_close(face.upper_odd[down * BRV_N_ODD + i] + face.upper_odd[up * BRV_N_ODD + i], -flux, 0.0, 1e-9);
    }
}

/* At k = 0 the harmonics are a coarse second answer to the wide beam; the ratio to it is all that is taken from them. */
static void harmonics_know_the_wide_beam(void **state)
{
    (void)state;
    struct brv_ripple ripple;
    assert_int_equal(brv_ripple_build(&ripple, infrared, 3, 1.0, 1.0, NULL), BRV_OK);
    assert_int_equal(brv_ripple_solve(&ripple, 0.0, NULL), BRV_OK);
    const struct brv_spot_ask ask = ask_for(infrared, 3, 5e-3, false);
    struct brv_spot spot = solve(&ask);
    for (size_t i = 0; i < N_DEPTH; i++)
        check_close(brv_ripple_fluence(&ripple, depth[i]) + brv_ripple_direct(&ripple, depth[i]), spot.wide[i], 0.01,
                    0.0); /* order 7 at the surface */
    brv_spot_free(&spot);
    brv_ripple_free(&ripple);
    brv_ripple_free(&ripple);
}

/* The weights on a share whose transform is known: exp(-k^2 s^2 / 2) widens a gaussian beam by s. */
static void weights_transform(void **state)
{
    (void)state;
    const struct brv_profile profile = {2e-3, true};
    const double across[4] = {0.0, 1e-3, 3e-3, 5e-3}, s = 1.5e-3, widened = 4e-6 + 4.0 * s * s;
    struct brv_lateral lateral;
    assert_int_equal(brv_lateral_build(&lateral, &profile, 200.0, 2e4, across, 4, NULL), BRV_OK);
    for (size_t r = 0; r < 4; r++) {
        double sum = 0.0;
        for (size_t i = 0; i < lateral.n_frequency; i++)
            sum += lateral.weight[r * lateral.n_frequency + i] * exp(-0.5 * pow(lateral.frequency[i] * s, 2.0));
        const double exact = 4e-6 / widened * exp(-2.0 * across[r] * across[r] / widened);
        check_close(sum, exact, 0.0, 1e-4); /* of a cubic spline through 36 frequencies */
    }
    brv_lateral_free(&lateral);
    brv_lateral_free(&lateral);
}

static void a_singular_system_is_refused(void **state)
{
    (void)state;
    double matrix[4] = {0.0, 0.0, 0.0, 0.0}, right[2] = {1.0, 1.0}, none[1] = {NAN};
    struct brv_error error = {0};
    assert_int_equal(brv_linear_solve(matrix, right, 2, 1, &error), BRV_NUMERICS);
    assert_int_equal(error.status, BRV_NUMERICS);
    assert_int_equal(brv_linear_solve(none, right, 1, 1, &error), BRV_NUMERICS);
}

/* What is not a number in the media is refused, and nothing is left. */
static void failure_leaves_nothing(void **state)
{
    (void)state;
    struct brv_medium media[1] = {{INFINITY, 100.0, 1e4, 0.85, 1.4}};
    media[0].scattering = NAN;
    const struct brv_spot_ask ask = ask_for(media, 1, 3e-3, false);
    struct brv_spot spot = {0};
    struct brv_error error = {0};
    assert_int_not_equal(brv_spot_solve(&spot, &ask, &error), BRV_OK);
    assert_null(spot.fluence);
    assert_null(spot.depth);
}

static void same_bytes_twice(void **state)
{
    (void)state;
    const struct brv_spot_ask ask = ask_for(green, 3, 2.385e-3, false);
    struct brv_spot first = solve(&ask), second = solve(&ask);
    assert_memory_equal(first.fluence, second.fluence, N_DEPTH * sizeof(double));
    brv_spot_free(&first);
    brv_spot_free(&second);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(keeps_copies_and_frees_twice),
        cmocka_unit_test(takes_the_deeper_side_of_a_face),
        cmocka_unit_test(wide_spots_tend_to_layered),
        cmocka_unit_test(unscattered_light_keeps_its_profile),
        cmocka_unit_test(plane_integral_is_the_wide_answer),
        cmocka_unit_test(lengths_scale),
        cmocka_unit_test(a_split_layer_changes_nothing),
        cmocka_unit_test(wider_spots_are_brighter),
        cmocka_unit_test(a_gaussian_is_a_sum_of_flat_beams),
        cmocka_unit_test(awkward_stacks_have_an_answer),
        cmocka_unit_test(sixteen_layers),
        cmocka_unit_test(turned_modes_solve_the_equation),
        cmocka_unit_test(a_step_lets_the_net_flux_through),
        cmocka_unit_test(harmonics_know_the_wide_beam),
        cmocka_unit_test(weights_transform),
        cmocka_unit_test(a_singular_system_is_refused),
        cmocka_unit_test(failure_leaves_nothing),
        cmocka_unit_test(same_bytes_twice),
    };
    gsl_set_error_handler_off();
    return cmocka_run_group_tests(tests, NULL, NULL);
}
