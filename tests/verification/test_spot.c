/* Light of real spots against the photon walk, which shares nothing with it but the media: on the axis and beside it,
 * flat and gaussian, four wavelengths, light and dark skin; and the published and own anchors.
 * Every comparison is of means over one depth cell. */
#include "light/sampled.h"
#include "light/spot.h"
#include "support/check.h"
#include "support/sample.h"

#include <gsl/gsl_errno.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { N_CELL = 13, N_GAUSS = 3, N_POINT = N_CELL * N_GAUSS, N_RING = 96, N_SPOT = 7, N_BESIDE = 6, PHOTONS = 250000 };

/* Faces of layers are among them; all ready skins have an upper epidermis of 50 um and a basal row of 10 um. */
static const double face[N_CELL + 1] = {0.0,    20e-6,  50e-6, 60e-6,   100e-6, 200e-6, 300e-6,
                                        500e-6, 750e-6, 1e-3,  1.35e-3, 1.8e-3, 2.4e-3, 3e-3};
static const double spots[N_SPOT] = {0.5e-3, 1e-3, 2e-3, 4e-3, 6e-3, 10e-3, 20e-3};

/* Where a sampled number is worth comparing, as the accuracy is claimed: phi/H0 above 1e-3, known to 0.5 %. */
static const double LEAST_LIGHT = 1e-3, LARGEST_ERROR = 5e-3;

/* What is claimed, as a relative difference; wanted is 6 % for 1 to 4 mm and 3 % from 4 mm on. */
static const double ALLOWED = 0.03;
static const char *const bound = "3 %, as claimed, where light exceeds 1e-3 and its standard error is below 0.5 %";

static struct brv_sampled walk(const struct brv_medium *media, size_t n)
{
    double ring[N_RING + 1];
    brv_sampled_rings(ring, N_RING);
    const struct brv_sampled_ask ask = {.n_medium = n,
                                        .medium = media,
                                        .outside_index = 1.0,
                                        .below_index = 1.0,
                                        .n_depth = N_CELL,
                                        .depth = face,
                                        .n_ring = N_RING,
                                        .ring = ring,
                                        .seed = 1,
                                        .photons = PHOTONS};
    struct brv_sampled sampled = {0};
    assert_int_equal(brv_sampled_solve(&sampled, &ask, NULL), BRV_OK);
    return sampled;
}

/* mean[cell][radius] of the fluence over each cell. */
static void spot_means(double *mean, const struct brv_medium *media, size_t n, double diameter, bool gaussian,
                       const double *radius, size_t n_radius)
{
    static const double node[N_GAUSS] = {0.11270166537925831, 0.5, 0.88729833462074169};
    static const double weight[N_GAUSS] = {5.0 / 18.0, 8.0 / 18.0, 5.0 / 18.0};
    double depth[N_POINT];
    for (size_t i = 0; i < N_POINT; i++)
        depth[i] = face[i / N_GAUSS] + node[i % N_GAUSS] * (face[i / N_GAUSS + 1] - face[i / N_GAUSS]);
    const struct brv_spot_ask ask = {.n_medium = n,
                                     .medium = media,
                                     .outside_index = 1.0,
                                     .below_index = 1.0,
                                     .diameter = diameter,
                                     .gaussian = gaussian,
                                     .n_depth = N_POINT,
                                     .depth = depth,
                                     .n_radius = n_radius,
                                     .radius = radius};
    struct brv_spot spot = {0};
    assert_int_equal(brv_spot_solve(&spot, &ask, NULL), BRV_OK);
    memset(mean, 0, N_CELL * n_radius * sizeof *mean);
    for (size_t i = 0; i < N_POINT; i++)
        for (size_t r = 0; r < n_radius; r++)
            mean[i / N_GAUSS * n_radius + r] += weight[i % N_GAUSS] * spot.fluence[i * n_radius + r];
    brv_spot_free(&spot);
}

/* The largest relative difference among numbers worth comparing, with its sign, and how many those are. The others are
 * held to the same bound and 4 of their own standard errors. */
struct worst {
    double difference;
    size_t count;
};

static void compare(struct worst *worst, double found, struct brv_mean expected)
{
    const double difference = found / expected.value - 1.0, error = expected.error / expected.value;
    if (!(expected.value > LEAST_LIGHT)) return;
    if (error < LARGEST_ERROR) {
        worst->count++;
        if (fabs(difference) > fabs(worst->difference)) worst->difference = difference;
    } else if (!(fabs(difference) < ALLOWED + 4.0 * error)) {
        fail_msg("spot %g, photon walk %g with an error of %g", found, expected.value, expected.error);
    }
}

static void check_axis(const char *skin, const struct brv_medium *media, size_t n, const struct brv_sampled *sampled)
{
    static const double axis[1] = {0.0};
    double mean[N_CELL];
    for (int gaussian = 0; gaussian < 2; gaussian++)
        for (size_t i = 0; i < N_SPOT; i++) {
            struct worst worst = {0.0, 0};
            char what[128];
            spot_means(mean, media, n, spots[i], gaussian, axis, 1);
            for (size_t cell = 0; cell < N_CELL; cell++)
                compare(&worst, mean[cell], brv_sampled_axis(sampled, spots[i], gaussian, cell));
            assert_true(worst.count >= 4); /* the narrowest and most noisy one */
            snprintf(what, sizeof what, "spot, axis, %s, %s %g mm, worst of %zu depths", skin,
                     gaussian ? "gaussian" : "flat", 1e3 * spots[i], worst.count);
            check_row(what, "own photon walk (computed)", worst.difference, 0.0, ALLOWED, bound);
        }
}

/* Distances from the axis over the radius of the beam. A cell's mean of flat-beam light close to the edge is steep, and
 * so both sides are kept 10 % of the radius away. */
static void check_beside(const char *skin, const struct brv_medium *media, size_t n, const struct brv_sampled *sampled)
{
    static const double share[N_BESIDE] = {0.3, 0.6, 0.9, 1.1, 1.5, 2.0};
    double mean[N_CELL * N_BESIDE], radius[N_BESIDE];
    for (int gaussian = 0; gaussian < 2; gaussian++)
        for (size_t i = 2; i < 5; i++) {
            struct worst worst = {0.0, 0};
            char what[128];
            for (size_t r = 0; r < N_BESIDE; r++) radius[r] = 0.5 * spots[i] * share[r];
            spot_means(mean, media, n, spots[i], gaussian, radius, N_BESIDE);
            for (size_t cell = 0; cell < N_CELL; cell++)
                for (size_t r = 0; r < N_BESIDE; r++)
                    compare(&worst, mean[cell * N_BESIDE + r],
                            brv_sampled_beside(sampled, spots[i], gaussian, radius[r], cell));
            assert_true(worst.count >= 20);
            snprintf(what, sizeof what, "spot, beside the axis, %s, %s %g mm, worst of %zu points", skin,
                     gaussian ? "gaussian" : "flat", 1e3 * spots[i], worst.count);
            check_row(what, "own photon walk (computed)", worst.difference, 0.0, ALLOWED, bound);
        }
}

static void check_skins(double wavelength)
{
    static const enum brv_preset preset[] = {BRV_LIGHT_SKIN, BRV_DARK_SKIN};
    for (size_t i = 0; i < 2; i++) {
        struct brv_medium media[BRV_MOST_LAYERS];
        char skin[32];
        const size_t n = sample_media(media, wavelength, preset[i]);
        struct brv_sampled sampled = walk(media, n);
        snprintf(skin, sizeof skin, "%g nm, %s skin", 1e9 * wavelength, i ? "dark" : "light");
        check_axis(skin, media, n, &sampled);
        if (wavelength == 532e-9 || wavelength == 1064e-9) check_beside(skin, media, n, &sampled);
        brv_sampled_free(&sampled);
    }
}

static void spots_at_532(void **state)
{
    (void)state;
    check_skins(532e-9);
}

static void spots_at_694(void **state)
{
    (void)state;
    check_skins(694e-9);
}

static void spots_at_755(void **state)
{
    (void)state;
    check_skins(755e-9);
}

static void spots_at_1064(void **state)
{
    (void)state;
    check_skins(1064e-9);
}

/* Stacks that no ready skin has: a clear plate, an index step below weak scattering, isotropic and very forward
 * scattering, no mirror at the surface. Inside the plate itself, where nothing is absorbed, the harmonics cannot tell
 * light that is caught between two total reflections: 17 % are missing there, so the first cells are left out. */
static void awkward_stacks(void **state)
{
    (void)state;
    static const struct {
        const char *name;
        size_t n, first_cell;
        struct brv_medium media[2];
    } stack[] = {
        {"skin under 1 mm of clear plate", 2, 9, {{1e-3, 0.0, 0.0, 0.0, 1.5}, {INFINITY, 100.0, 1e4, 0.85, 1.4}}},
        {"skin under 1 mm of weak scattering",
         2,
         0,
         {{1e-3, 5.0, 500.0, 0.9, 1.33}, {INFINITY, 100.0, 1e4, 0.85, 1.45}}},
        {"isotropic", 1, 0, {{INFINITY, 100.0, 2000.0, 0.0, 1.33}}},
        {"g = 0.98", 1, 0, {{INFINITY, 100.0, 5e4, 0.98, 1.4}}},
        {"matched surface", 1, 0, {{INFINITY, 100.0, 1e4, 0.85, 1.0}}}};
    static const double axis[1] = {0.0};
    for (size_t i = 0; i < sizeof stack / sizeof *stack; i++) {
        struct brv_sampled sampled = walk(stack[i].media, stack[i].n);
        for (size_t j = 2; j < N_SPOT; j++) {
            double mean[N_CELL];
            struct worst worst = {0.0, 0};
            char what[128];
            spot_means(mean, stack[i].media, stack[i].n, spots[j], false, axis, 1);
            for (size_t cell = stack[i].first_cell; cell < N_CELL; cell++)
                compare(&worst, mean[cell], brv_sampled_axis(&sampled, spots[j], false, cell));
            snprintf(what, sizeof what, "spot, axis, %s, flat %g mm, worst of %zu depths", stack[i].name,
                     1e3 * spots[j], worst.count);
            check_row(what, "own photon walk (computed)", worst.difference, 0.0, 0.06,
                      "3 % is claimed for skin; a step of the index inside the stack costs a little more");
        }
        brv_sampled_free(&sampled);
    }
}

/* Shares of the wide answer on the axis of a flat beam. */
static void anchors(void **state)
{
    (void)state;
    static const double depth[4] = {55e-6, 1e-3, 2e-3, 3e-3}, axis[1] = {0.0};
    struct brv_medium media[BRV_MOST_LAYERS];
    struct brv_spot_ask ask = {.n_medium = sample_media(media, 1064e-9, BRV_LIGHT_SKIN),
                               .medium = media,
                               .outside_index = 1.0,
                               .below_index = 1.0,
                               .diameter = 4e-3,
                               .n_depth = 4,
                               .depth = depth,
                               .n_radius = 1,
                               .radius = axis};
    struct brv_spot spot = {0};
    assert_int_equal(brv_spot_solve(&spot, &ask, NULL), BRV_OK);
    check_row("spot, flat 4 mm at 1064 nm, share of the wide beam's light at the basal row", "own design (computed)",
              spot.fluence[0] / spot.wide[0], 0.74, 0.01, "two digits");
    check_row("spot, flat 4 mm at 1064 nm, share of the wide beam's light at 1 mm", "own design (computed)",
              spot.fluence[1] / spot.wide[1], 0.60, 0.01, "two digits");
    brv_spot_free(&spot);

    ask.diameter = 10e-3;
    assert_int_equal(brv_spot_solve(&spot, &ask, NULL), BRV_OK);
    check_row("spot, flat 10 mm at 1064 nm, share of the wide beam's light at 1 mm", "ash-2017 (abstract)",
              spot.fluence[1] / spot.wide[1], 0.88, 0.1, "another skin, wavelengths not told apart");
    check_row("spot, flat 10 mm at 1064 nm, share of the wide beam's light at 3 mm", "ash-2017 (abstract)",
              spot.fluence[3] / spot.wide[3], 0.73, 0.1, "another skin, wavelengths not told apart");
    brv_spot_free(&spot);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(spots_at_532),  cmocka_unit_test(spots_at_694),   cmocka_unit_test(spots_at_755),
        cmocka_unit_test(spots_at_1064), cmocka_unit_test(awkward_stacks), cmocka_unit_test(anchors),
    };
    gsl_set_error_handler_off();
    return cmocka_run_group_tests(tests, NULL, NULL);
}
