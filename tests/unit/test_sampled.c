/* The contract of light/sampled: same bytes from every variant and any number of threads, stopping, what is refused. */
#include "base/random.h"
#include "light/bins.h"
#include "light/lanes.h"
#include "light/sampled.h"
#include "light/walk.h"
#include "support/check.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { DEPTHS = 6, RINGS = 40 };

static const struct brv_medium skin[3] = {
    {50e-6, 1100.0, 28000.0, 0.85, 1.4}, {10e-6, 3400.0, 28000.0, 0.85, 1.45}, {INFINITY, 190.0, 28000.0, 0.85, 1.4}};
static const double depth[DEPTHS + 1] = {0.0, 25e-6, 50e-6, 60e-6, 200e-6, 500e-6, 1e-3};

static struct brv_sampled_ask ask_for(uint64_t photons)
{
    static double ring[RINGS + 1];
    brv_sampled_rings(ring, RINGS);
    return (struct brv_sampled_ask){.n_medium = 3,
                                    .medium = skin,
                                    .outside_index = 1.0,
                                    .below_index = 1.0,
                                    .n_depth = DEPTHS,
                                    .depth = depth,
                                    .n_ring = RINGS,
                                    .ring = ring,
                                    .seed = 5,
                                    .photons = photons,
                                    .threads = 1};
}

static struct brv_sampled solve(const struct brv_sampled_ask *ask)
{
    struct brv_sampled light;
    assert_int_equal(brv_sampled_solve(&light, ask, NULL), BRV_OK);
    return light;
}

static void check_same_bytes(const struct brv_sampled *a, const struct brv_sampled *b)
{
    const size_t map = a->n_group * a->n_depth * (a->n_ring + 1);
    assert_int_equal(a->photons, b->photons);
    assert_int_equal(a->events, b->events);
    assert_int_equal(a->n_group, b->n_group);
    assert_memory_equal(a->response, b->response, map * sizeof *a->response);
    assert_memory_equal(a->absorbed, b->absorbed, a->n_medium * sizeof *a->absorbed);
    assert_memory_equal(&a->reflected_diffuse, &b->reflected_diffuse, sizeof a->reflected_diffuse);
}

/* The pieces */

static void functions_of_the_lanes(void **state)
{
    (void)state;
    const uint32_t key[2] = {9, 0};
    for (uint32_t i = 0; i < 20000; i++) {
        const uint32_t counter[4] = {i, 0, 0, 0};
        const struct brv_random random = brv_random_draw(key, counter);
        const double u = brv_random_short(random.word[0]), h = brv_random_short(random.word[1]) - 0.5;
        check_close(brv_lanes_minus_log(u), -log(u), 2e-15, 0.0);
        check_close(brv_lanes_sine(h), sin(3.14159265358979323846 * h), 2e-13, 0.0);
    }
    const double end[] = {brv_random_short(0), brv_random_short(UINT32_MAX), 0.70710678118654746, 0.70710678118654757};
    for (size_t i = 0; i < 4; i++) check_close(brv_lanes_minus_log(end[i]), -log(end[i]), 2e-15, 0.0);
}

/* Numbers of the lanes are those of base/random.h, and a block of straight photons goes where it should. */
static void lanes_take_the_common_step(void **state)
{
    (void)state;
    static struct brv_lanes block;
    const struct brv_lane_scales scales = {
        {1.0, 2.0, UINT64_C(0x3ff) << 5, 47}, {1.0, 2.0, UINT64_C(0x3ff) << 5, 47}, {3, 4}};
    for (size_t variant = 0; variant < brv_lanes_variants(); variant++) {
        memset(&block, 0, sizeof block);
        for (size_t i = 0; i < BRV_LANES; i++) {
            block.photon[i] = (UINT64_C(5) << 32) + i;
            block.step[i] = 7;
            block.to_z[i] = 1.0;
            block.weight[i] = 1.0;
            block.loss[i] = 0.25;
            block.free_path[i] = 2.0;
            block.bottom[i] = 2.0;
        }
        brv_lanes_variant(variant).go(&block, 1, &scales);
        for (size_t i = 0; i < BRV_LANES; i++) {
            const uint32_t counter[4] = {(uint32_t)i, 5, 7, 0};
            const struct brv_random random = brv_random_draw(scales.key, counter);
            const double way = -2.0 * log(brv_random_short(random.word[0]));
            assert_true(block.turn[i] == brv_random_short(random.word[1]));
            assert_true(block.azimuth[i] == brv_random_short(random.word[2]));
            assert_true(block.spare[i] == brv_random_short(random.word[3]));
            assert_int_equal(block.out[i], way > 2.0);
            check_close(block.z[i], way > 2.0 ? 0.0 : way, 1e-14, 0.0);
            check_close(block.weight[i], way > 2.0 ? 1.0 : 0.75, 0.0, 0.0);
            assert_int_equal(block.step[i], 8);
        }
    }
}

/* The cosine of the turn has the mean g, and directions keep their length. */
static void turns_have_the_asked_mean(void **state)
{
    (void)state;
    static const double anisotropy[] = {0.0, 1e-7, 1e-5, 0.3, 0.9, 0.98};
    enum { STEPS = 4000 };
    static struct brv_lanes block;
    for (size_t k = 0; k < sizeof anisotropy / sizeof *anisotropy; k++) {
        struct brv_lane_medium medium = {.top = 0.0};
        double mean = 0.0;
        brv_lanes_anisotropy(&medium, anisotropy[k]);
        memset(&block, 0, sizeof block);
        for (size_t i = 0; i < BRV_LANES; i++) {
            block.to_z[i] = 1.0;
            block.start[i] = medium.start;
            block.slope[i] = medium.slope;
            block.bend[i] = medium.bend;
            block.offset[i] = medium.offset;
            block.spread[i] = medium.spread;
        }
        for (uint32_t step = 0; step < STEPS; step++) {
            const struct brv_lanes old = block;
            for (uint32_t i = 0; i < BRV_LANES; i++) {
                const uint32_t key[2] = {1, 0}, counter[4] = {i, 0, step, 0};
                const struct brv_random random = brv_random_draw(key, counter);
                block.turn[i] = brv_random_short(random.word[0]);
                block.azimuth[i] = brv_random_short(random.word[1]);
            }
            brv_lanes_variant(0).turn(&block, 1);
            for (size_t i = 0; i < BRV_LANES; i++) {
                mean += old.to_x[i] * block.to_x[i] + old.to_y[i] * block.to_y[i] + old.to_z[i] * block.to_z[i];
                check_close(hypot(hypot(block.to_x[i], block.to_y[i]), block.to_z[i]), 1.0, 1e-14, 0.0);
            }
        }
        mean /= STEPS * BRV_LANES;
        check_close(mean, anisotropy[k], 0.0, 5.0 / sqrt(3.0 * STEPS * BRV_LANES)); /* variance is at most 1/3 */
    }
}

static void bins_find_every_interval(void **state)
{
    (void)state;
    const double face[] = {0.0, 1e-6, 2e-6, 5e-5, 5.0001e-5, 5.0002e-5, 1e-3, 2.0};
    const size_t n = sizeof face / sizeof *face - 1;
    struct brv_bins bins;
    for (int squared = 0; squared <= 1; squared++) {
        assert_int_equal(brv_bins_build(&bins, face, n, squared, NULL), BRV_OK);
        for (size_t i = 0; i <= n; i++) {
            assert_int_equal(brv_bins_find(&bins, bins.face[i]), i);
            if (i > 0) assert_int_equal(brv_bins_find(&bins, nextafter(bins.face[i], 0.0)), i - 1);
        }
        assert_int_equal(brv_bins_find(&bins, 1e300), n);
        brv_bins_free(&bins);
    }
}

/* Directions are of length 1 before every turn, after faces too: every cosine and every way relies on it. */

static double longest, shortest;
static size_t n_turned;

static void look_and_turn(struct brv_lanes *block, size_t n)
{
    for (size_t k = 0; k < n; k++)
        for (size_t i = 0; i < BRV_LANES; i++) {
            const struct brv_lanes *lanes = &block[k];
            if (!(lanes->weight[i] > 0.0)) continue;
            const double square =
                lanes->to_x[i] * lanes->to_x[i] + lanes->to_y[i] * lanes->to_y[i] + lanes->to_z[i] * lanes->to_z[i];
            longest = fmax(longest, square);
            shortest = fmin(shortest, square);
            n_turned++;
        }
    brv_lanes_variant(0).turn(block, n);
}

static void directions_keep_their_length(void **state)
{
    (void)state;
    const struct brv_medium steps[3] = {
        {50e-6, 1100.0, 28000.0, 0.85, 1.3}, {50e-6, 340.0, 28000.0, 0.85, 1.6}, {INFINITY, 190.0, 28000.0, 0.85, 1.4}};
    struct brv_sampled_ask ask = ask_for(2000);
    ask.medium = steps;
    struct brv_walk walk;
    assert_int_equal(brv_walk_build(&walk, &ask, NULL), BRV_OK);
    walk.steps.turn = look_and_turn;
    static struct brv_lanes block[BRV_WALK_BLOCKS];
    struct brv_walk_tally tally = {.map = calloc((DEPTHS + 1) * (RINGS + 1), sizeof(double))};
    assert_non_null(tally.map);
    longest = shortest = 1.0;
    assert_true(brv_walk_batch(&walk, &tally, block, 0, 2000));
    assert_true(n_turned > 10000);
    /* a sine good to 2e-13 and some thousand turns of one photon; a face that forgets one part misses by 0.1 */
    check_close(longest, 1.0, 1e-9, 0.0);
    check_close(shortest, 1.0, 1e-9, 0.0);
    free(tally.map);
    brv_walk_free(&walk);
}

/* Same bytes */

static void same_bytes_from_any_threads(void **state)
{
    (void)state;
    struct brv_sampled_ask ask = ask_for(20001); /* the last batch is not full */
    struct brv_sampled one = solve(&ask);
    assert_int_equal(one.photons, 20001);
    for (unsigned threads = 2; threads <= 8; threads += 6) {
        ask.threads = threads;
        struct brv_sampled many = solve(&ask);
        check_same_bytes(&one, &many);
        brv_sampled_free(&many);
    }
    brv_sampled_free(&one);
}

static void same_bytes_from_any_variant(void **state)
{
    (void)state;
    struct brv_sampled_ask ask = ask_for(5000);
    struct brv_sampled fastest = solve(&ask);
    for (unsigned variant = 1; variant <= brv_lanes_variants(); variant++) {
        ask.variant = variant;
        struct brv_sampled other = solve(&ask);
        check_same_bytes(&fastest, &other);
        brv_sampled_free(&other);
    }
    ask.seed = 6;
    struct brv_sampled other = solve(&ask);
    assert_true(other.reflected_diffuse.value != fastest.reflected_diffuse.value);
    brv_sampled_free(&other);
    brv_sampled_free(&fastest);
}

/* Stopping */

struct watcher {
    volatile sig_atomic_t stop;
    uint64_t calls, stop_at, done;
    double error;
};

static void watch(void *context, uint64_t done, uint64_t wanted, double error)
{
    struct watcher *watcher = context;
    watcher->done = done;
    watcher->error = error;
    assert_true(done <= wanted);
    if (++watcher->calls == watcher->stop_at) watcher->stop = 1;
}

static void stop_flag_drops_the_batch_in_hand(void **state)
{
    (void)state;
    struct watcher watcher = {.stop_at = 3};
    struct brv_sampled_ask ask = ask_for(640000);
    ask.stop = &watcher.stop;
    ask.progress = watch;
    ask.context = &watcher;
    ask.threads = 2;
    struct brv_sampled light = solve(&ask);
    assert_true(light.stopped);
    assert_int_equal(light.photons, watcher.done);
    assert_true(light.photons >= 30000 && light.photons < 640000);
    assert_int_equal(light.photons % 10000, 0); /* 64 batches in all */
    brv_sampled_free(&light);

    struct watcher before = {.stop = 1};
    ask.stop = &before.stop;
    ask.context = &before;
    light = solve(&ask);
    assert_true(light.stopped && light.photons == 0 && before.calls == 0);
    assert_true(isinf(brv_sampled_axis(&light, 4e-3, false, 0).error));
    brv_sampled_free(&light);
}

static void stops_at_the_asked_error(void **state)
{
    (void)state;
    struct watcher watcher = {.stop_at = 0};
    struct brv_sampled_ask ask = ask_for(64 * 16384 * 4);
    ask.error = 0.05;
    ask.progress = watch;
    ask.context = &watcher;
    struct brv_medium dark = {INFINITY, 5000.0, 20000.0, 0.5, 1.4}; /* quickly walked */
    ask.medium = &dark;
    ask.n_medium = 1;
    struct brv_sampled light = solve(&ask);
    assert_false(light.stopped);
    assert_true(light.photons < ask.photons);
    assert_true(watcher.error < 0.05 && watcher.error > 0.0);
    for (size_t cell = 0; cell < DEPTHS; cell++) {
        const struct brv_mean axis = brv_sampled_axis(&light, 4e-3, false, cell);
        if (axis.value > 1e-3) assert_true(axis.error < 0.05 * axis.value);
    }
    brv_sampled_free(&light);
}

/* Budget and sums */

static void budget_closes(void **state)
{
    (void)state;
    const struct brv_sampled_ask ask = ask_for(20000);
    struct brv_sampled light = solve(&ask);
    double sum = light.reflected_specular.value + light.reflected_diffuse.value + light.transmitted.value;
    for (size_t i = 0; i < light.n_medium; i++) sum += light.absorbed[i].value;
    /* What the roulette makes and loses is counted: rounding of a few hundred additions per photon is left. */
    check_close(sum + light.roulette.value, 1.0, 0.0, 1e-12);
    assert_true(light.roulette.error > 0.0 && fabs(light.roulette.value) < 4.0 * light.roulette.error);
    brv_sampled_free(&light);
}

/* Weights found once for a distance give the same bytes as found again for every depth. */
static void check_weighed(const struct brv_sampled *light, bool gaussian, size_t cell)
{
    static const double radius[] = {0.0, 1e-6, 1.3e-3, 2e-3, 6e-3};
    double weight[RINGS];
    for (size_t i = 0; i < sizeof radius / sizeof *radius; i++) {
        const struct brv_mean found = brv_sampled_beside(light, 4e-3, gaussian, radius[i], cell);
        brv_sampled_weigh(weight, light, 4e-3, gaussian, radius[i]);
        const struct brv_mean weighed = brv_sampled_weighed(light, weight, cell);
        assert_memory_equal(&weighed, &found, sizeof found);
    }
}

static void beams_are_sums_over_rings(void **state)
{
    (void)state;
    const struct brv_sampled_ask ask = ask_for(20000);
    struct brv_sampled light = solve(&ask);
    for (size_t cell = 0; cell < DEPTHS; cell++) {
        const double wide = brv_sampled_wide(&light, cell).value, beyond = brv_sampled_ring(&light, cell, RINGS).value;
        check_close(brv_sampled_axis(&light, 2.0 * ask.ring[RINGS], false, cell).value, wide - beyond, 1e-12, 0.0);
        check_close(brv_sampled_axis(&light, 2.0 * ask.ring[1], false, cell).value,
                    brv_sampled_ring(&light, cell, 0).value, 1e-12, 0.0);
        for (int gaussian = 0; gaussian <= 1; gaussian++) {
            const double axis = brv_sampled_axis(&light, 4e-3, gaussian, cell).value;
            assert_true(axis > 0.0 && axis <= wide);
            check_close(brv_sampled_beside(&light, 4e-3, gaussian, 1e-6, cell).value, axis, 1e-3, 0.0);
            assert_true(brv_sampled_beside(&light, 4e-3, gaussian, 4e-3, cell).value < 0.2 * axis);
            check_weighed(&light, gaussian, cell);
        }
    }
    brv_sampled_free(&light);
}

/* One photon in one group: a value, and an error that nobody knows. */
static void one_photon(void **state)
{
    (void)state;
    const struct brv_sampled_ask ask = ask_for(1);
    struct brv_sampled light = solve(&ask);
    assert_int_equal(light.photons, 1);
    assert_int_equal(light.n_group, 1);
    assert_true(isinf(light.reflected_diffuse.error));
    brv_sampled_free(&light);
    brv_sampled_free(&light);
}

/* What is refused */

static void check_refused(const struct brv_sampled_ask *ask, brv_status expected, double found, double most)
{
    struct brv_sampled light;
    struct brv_error error = {0};
    memset(&light, 0x55, sizeof light);
    assert_int_equal(brv_sampled_solve(&light, ask, &error), expected);
    assert_int_equal(error.status, expected);
    if (expected == BRV_RANGE) {
        check_close(error.found, found, 1e-12, 0.0);
        check_close(error.most, most, 1e-12, 0.0);
    }
    assert_null(light.response);
    assert_int_equal(light.n_depth, 0);
    brv_sampled_free(&light);
}

static void out_of_range_is_refused(void **state)
{
    (void)state;
    struct brv_sampled_ask ask = ask_for(0);
    check_refused(&ask, BRV_RANGE, 0.0, 1e12);
    ask = ask_for(BRV_SAMPLED_MOST_PHOTONS + 1);
    check_refused(&ask, BRV_RANGE, 1e12 + 1.0, 1e12);
    ask = ask_for(1000);
    ask.error = -1e-3;
    check_refused(&ask, BRV_RANGE, -1e-3, 1.0);
    ask = ask_for(1000);
    ask.threads = 257;
    check_refused(&ask, BRV_RANGE, 257.0, 256.0);
    ask = ask_for(1000);
    ask.n_ring = BRV_SAMPLED_MOST_CELLS / (DEPTHS + 1); /* refused before the radii are looked at */
    check_refused(&ask, BRV_RANGE, (double)((ask.n_ring + 1) * (DEPTHS + 1)), BRV_SAMPLED_MOST_CELLS);
    ask = ask_for(1000);
    const struct brv_medium white = {INFINITY, 0.0, 28000.0, 0.85, 1.4};
    ask.medium = &white;
    ask.n_medium = 1;
    check_refused(&ask, BRV_RANGE, 1.0, BRV_SAMPLED_MOST_ALBEDO);
}

static void disorder_is_refused(void **state)
{
    (void)state;
    static const double missing[] = {0.0, 50e-6, 100e-6}, falling[] = {0.0, 60e-6, 50e-6},
                        late[] = {1e-6, 50e-6, 60e-6};
    static const double *const wrong[] = {missing, falling, late};
    for (size_t i = 0; i < 3; i++) {
        struct brv_sampled_ask ask = ask_for(1000);
        ask.depth = wrong[i];
        ask.n_depth = 2;
        check_refused(&ask, BRV_ORDER, 0.0, 0.0);
    }
    struct brv_sampled_ask ask = ask_for(1000);
    ask.ring = falling;
    ask.n_ring = 2;
    check_refused(&ask, BRV_ORDER, 0.0, 0.0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(directions_keep_their_length), cmocka_unit_test(functions_of_the_lanes),
        cmocka_unit_test(lanes_take_the_common_step),   cmocka_unit_test(turns_have_the_asked_mean),
        cmocka_unit_test(bins_find_every_interval),     cmocka_unit_test(same_bytes_from_any_threads),
        cmocka_unit_test(same_bytes_from_any_variant),  cmocka_unit_test(stop_flag_drops_the_batch_in_hand),
        cmocka_unit_test(stops_at_the_asked_error),     cmocka_unit_test(budget_closes),
        cmocka_unit_test(beams_are_sums_over_rings),    cmocka_unit_test(one_photon),
        cmocka_unit_test(out_of_range_is_refused),      cmocka_unit_test(disorder_is_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
