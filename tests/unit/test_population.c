/* Grains that differ: shares against draws of single grains and against closed forms. */
#include "base/constants.h"
#include "effect/population.h"
#include "support/check.h"

#include <gsl/gsl_cdf.h>
#include <gsl/gsl_qrng.h>
#include <math.h>
#include <stdlib.h>

enum { MOST = BRV_MOST_POPULATION_SIZES };

/* 1 / threshold of a grain, as a made-up law: its layer's part, and its own that grows with the darkness and with the
 * diameter in standard deviations as nanosecond grains do.                                                          */
struct law {
    double layer, own, steepness; /* [m2/J], [m2/J], of exp(steepness z) */
};

static double nearness_of(const struct law *law, double z, double darkness)
{
    return law->layer + law->own * darkness / (1.0 + exp(-law->steepness * z));
}

static size_t even_sizes(double z[MOST], size_t n, double from, double to)
{
    for (size_t i = 0; i < n; i++) z[i] = n > 1 ? from + (to - from) * (double)i / (double)(n - 1) : 0.0;
    return n;
}

/* What grains take up is in proportion to their darkness here. */
static double uptake[BRV_N_FINE * BRV_N_DARKNESS];

static void build(struct brv_population *population, double nearness[], const struct law *law, double darkness,
                  double diameter)
{
    double z[MOST], coarse[MOST * BRV_N_DARKNESS];
    const size_t n = diameter > 0.0 ? even_sizes(z, 9, -4.0, 4.0 + 3.0 * diameter) : even_sizes(z, 1, 0.0, 0.0);
    assert_int_equal(brv_population_build(population, darkness, diameter, n, z, NULL), BRV_OK);
    for (size_t i = 0; i < n; i++)
        for (size_t k = 0; k < BRV_N_DARKNESS; k++)
            coarse[i * BRV_N_DARKNESS + k] = nearness_of(law, z[i], brv_population_darkness(k));
    brv_population_refine(nearness, population, coarse);
    for (size_t i = 0; i < n; i++)
        for (size_t k = 0; k < BRV_N_DARKNESS; k++) coarse[i * BRV_N_DARKNESS + k] = brv_population_darkness(k);
    brv_population_refine(uptake, population, coarse);
}

/* ---- against draws ---- */

enum { DRAWS = 1 << 17 };

/* Every draw is one grain; for the share by volume it counts as much as its volume. */
static struct brv_shares drawn(const struct law *law, double darkness, double diameter, double fluence)
{
    gsl_qrng *draws = gsl_qrng_alloc(gsl_qrng_sobol, 2);
    double number = 0.0, volume = 0.0, all = 0.0;
    for (int i = 0; i < DRAWS; i++) {
        double even[2];
        gsl_qrng_get(draws, even);
        const double z = gsl_cdf_ugaussian_Pinv(even[0]), d = exp(diameter * z);
        const double s = exp(darkness * gsl_cdf_ugaussian_Pinv(even[1]) - 0.5 * darkness * darkness);
        const double own = d * d * d;
        all += own;
        if (nearness_of(law, z, s) * fluence < 1.0) continue;
        number += 1.0 / DRAWS;
        volume += own;
    }
    gsl_qrng_free(draws);
    return (struct brv_shares){number, volume / all};
}

/* 1e-3: what the header promises; the draws themselves are good to about 2e-4. */
static void shares_are_those_of_draws(void **state)
{
    (void)state;
    static const struct law law[] = {{1e-5, 4e-4, 0.4}, {0.0, 1e-3, 0.1}, {2e-4, 1e-4, 1.2}};
    static const double spread[][2] = {{0.7, 0.2}, {0.5, 0.05}, {1.0, 0.5}, {0.2, 0.25}};
    static const double fluence[] = {300.0, 2000.0, 4000.0, 9000.0};
    for (size_t l = 0; l < 3; l++)
        for (size_t s = 0; s < 4; s++)
            for (size_t f = 0; f < 4; f++) {
                struct brv_population population;
                double nearness[BRV_N_FINE * BRV_N_DARKNESS];
                build(&population, nearness, &law[l], spread[s][0], spread[s][1]);
                const struct brv_shares found = brv_population_disrupted(&population, nearness, uptake, fluence[f]);
                const struct brv_shares wanted = drawn(&law[l], spread[s][0], spread[s][1], fluence[f]);
                check_close(found.number, wanted.number, 0.0, 1e-3);
                check_close(found.volume, wanted.volume, 0.0, 1e-3);
            }
}

/* ---- closed forms ---- */

/* One size and a threshold in proportion to 1 / darkness: the share is that of a normal distribution. Such a law is a
 * power, met exactly, so only rounding is left.                                                                     */
static void one_size_is_a_normal_distribution(void **state)
{
    (void)state;
    const struct law law = {0.0, 2e-4, 0.0}; /* z counts for nothing: half of it, 1e-4 */
    struct brv_population population;
    double nearness[BRV_N_FINE * BRV_N_DARKNESS];
    build(&population, nearness, &law, 0.7, 0.0);
    for (double fluence = 1e3; fluence < 1e5; fluence *= 1.7) {
        const double z = (log(1e4 / fluence) + 0.5 * 0.49) / 0.7;
        const struct brv_shares share = brv_population_disrupted(&population, nearness, uptake, fluence);
        check_close(share.number, gsl_cdf_ugaussian_Q(z), 0.0, 1e-12);
        assert_true(share.volume >= share.number && share.volume <= share.number); /* the same grains */
    }
}

/* All alike: at the threshold all of them at once. */
static void without_spreads_it_is_a_step(void **state)
{
    (void)state;
    const struct law law = {1e-5, 2e-4, 0.0};
    struct brv_population population;
    double nearness[BRV_N_FINE * BRV_N_DARKNESS];
    const double threshold = 1.0 / nearness_of(&law, 0.0, 1.0);
    build(&population, nearness, &law, 0.0, 0.0);
    assert_true(brv_population_disrupted(&population, nearness, uptake, threshold * (1.0 - 1e-9)).number <= 0.0);
    assert_true(brv_population_disrupted(&population, nearness, uptake, threshold * (1.0 + 1e-9)).number >= 1.0);
}

/* Nothing but size: by volume z is normal about 3 sigma. The step in z falls between two points of the sum, so the
 * share is good to one of them, 0.05 times the density there: 2 %.                                                  */
static void volume_leans_to_large_grains(void **state)
{
    (void)state;
    const struct law law = {0.0, 2e-4, 1.0};
    struct brv_population population;
    double nearness[BRV_N_FINE * BRV_N_DARKNESS];
    build(&population, nearness, &law, 0.0, 0.3);
    const double z = 0.5, fluence = 1.0 / nearness_of(&law, z, 1.0);
    const struct brv_shares share = brv_population_disrupted(&population, nearness, uptake, fluence);
    check_close(share.number, gsl_cdf_ugaussian_Q(z), 0.0, 0.02);
    check_close(share.volume, gsl_cdf_ugaussian_Q(z - 0.9), 0.0, 0.02);
}

/* The layer alone is enough, or light never suffices: all, or none, whatever the darkness. */
static void all_and_none(void **state)
{
    (void)state;
    const struct law hot = {1e-2, 1e-4, 0.3}, cold = {0.0, 1e-12, 0.3};
    struct brv_population population;
    double nearness[BRV_N_FINE * BRV_N_DARKNESS];
    build(&population, nearness, &hot, 0.7, 0.2);
    check_close(brv_population_disrupted(&population, nearness, uptake, 200.0).volume, 1.0, 0.0, 1e-12);
    build(&population, nearness, &cold, 0.7, 0.2);
    check_close(brv_population_disrupted(&population, nearness, uptake, 1e5).volume, 0.0, 0.0, 1e-12);
}

/* More light, more grains. */
static void shares_grow_with_fluence(void **state)
{
    (void)state;
    const struct law law = {1e-4, 3e-4, 0.8};
    struct brv_population population;
    double nearness[BRV_N_FINE * BRV_N_DARKNESS], before = 0.0;
    build(&population, nearness, &law, 0.7, 0.25);
    for (double fluence = 10.0; fluence < 1e6; fluence *= 1.01) {
        const struct brv_shares share = brv_population_disrupted(&population, nearness, uptake, fluence);
        assert_true(share.number >= before - 1e-14);
        before = share.number;
    }
    check_close(before, 1.0, 0.0, 1e-12);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(shares_are_those_of_draws),
        cmocka_unit_test(one_size_is_a_normal_distribution),
        cmocka_unit_test(without_spreads_it_is_a_step),
        cmocka_unit_test(volume_leans_to_large_grains),
        cmocka_unit_test(all_and_none),
        cmocka_unit_test(shares_grow_with_fluence),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
