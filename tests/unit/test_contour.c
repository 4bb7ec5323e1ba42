/* The contract of the contour. Its accuracy stands in verification/test_contour.c. */
#include "heat/contour.h"
#include "support/check.h"

#include <math.h>
#include <string.h>

enum { N = 23 };

#define TOLERANCE 1e-10

/* A chain whose cells relax in nanoseconds at one end and in seconds at the other. */
static void build(struct brv_chain *chain, double heat[N])
{
    assert_int_equal(brv_chain_build(chain, N, NULL), BRV_OK);
    for (size_t i = 0; i < N; i++) {
        chain->capacity[i] = pow(2.385, (double)i);
        chain->sink[i] = 0.02 * chain->capacity[i];
        heat[i] = chain->capacity[i] * (1.0 + cos((double)i)) * exp(-0.2 * (double)i);
    }
    for (size_t i = 0; i <= N; i++) chain->link[i] = 1e9 * pow(0.41, (double)i);
    chain->link[0] = 1e-3;
}

static struct brv_gauge one_cell(size_t cell)
{
    static const double one = 1.0;
    return (struct brv_gauge){cell, 1, &one};
}

static void freed_twice(void **state)
{
    (void)state;
    struct brv_contour contour;
    assert_int_equal(brv_contour_build(&contour, N, NULL), BRV_OK);
    brv_contour_free(&contour);
    assert_null(contour.rise);
    brv_contour_free(&contour);
    assert_int_equal(brv_contour_build(&contour, 0, NULL), BRV_OK); /* no room at all is room */
    brv_contour_free(&contour);
}

/* One cell: e^(-t), and what it takes in. */
static void single_cell(void **state)
{
    (void)state;
    struct brv_chain chain;
    struct brv_contour contour;
    assert_int_equal(brv_chain_build(&chain, 1, NULL), BRV_OK);
    assert_int_equal(brv_contour_build(&contour, 5, NULL), BRV_OK); /* more room than cells */
    chain.capacity[0] = 2.0;
    chain.sink[0] = 1.0;
    chain.link[0] = 0.25;
    chain.link[1] = 0.75;
    static const double heat = 6.0, inflow = 1.0;
    const struct brv_gauge gauge = one_cell(0);
    double rise;
    brv_contour_aim(&contour, &chain, 0.1, 30.0, TOLERANCE, &heat, NULL);
    for (double t = 0.1; t < 30.0; t *= 1.7) {
        brv_contour_state(&contour, t, &rise);
        check_close(rise, 3.0 * exp(-t), 0.0, 3.0 * TOLERANCE); /* as promised */
        brv_contour_read(&contour, 1, &gauge, 1, &t, &rise);
        check_close(rise, 3.0 * exp(-t), 0.0, 3.0 * TOLERANCE);
        check_close(brv_contour_gathered(&contour, &gauge, t), -3.0 * expm1(-t), 0.0, 3.0 * TOLERANCE);
        check_close(chain.rise[0], 0.0, 0.0, 0.0); /* the chain itself is left alone */
    }
    brv_contour_aim(&contour, &chain, 0.1, 30.0, TOLERANCE, NULL, &inflow);
    for (double t = 0.1; t < 30.0; t *= 1.7) {
        brv_contour_state(&contour, t, &rise);
        check_close(rise, -0.5 * expm1(-t), 0.0, 0.5 * 30.0 * TOLERANCE);
    }
    brv_contour_free(&contour);
    brv_chain_free(&chain);
}

/* The same chain in units a million million million times larger and smaller. */
static void times_tiny_and_huge(void **state)
{
    (void)state;
    for (double unit = 1e-18; unit < 1e19; unit *= 1e6) {
        struct brv_chain chain;
        struct brv_contour contour;
        double heat[N], rise[N], other[N];
        build(&chain, heat);
        assert_int_equal(brv_contour_build(&contour, N, NULL), BRV_OK);
        brv_contour_aim(&contour, &chain, 1e-3, 1e-2, TOLERANCE, heat, NULL);
        brv_contour_state(&contour, 4e-3, rise);
        for (size_t i = 0; i < N; i++) chain.sink[i] /= unit;
        for (size_t i = 0; i <= N; i++) chain.link[i] /= unit;
        brv_contour_aim(&contour, &chain, 1e-3 * unit, 1e-2 * unit, TOLERANCE, heat, NULL);
        brv_contour_state(&contour, 4e-3 * unit, other);
        for (size_t i = 0; i < N; i++) check_close(other[i], rise[i], 0.0, 1e-12); /* rounding only */
        brv_contour_free(&contour);
        brv_chain_free(&chain);
    }
}

/* A time that two windows hold, or that is asked under two tolerances, has one answer. */
static void neighbours_agree(void **state)
{
    (void)state;
    struct brv_chain chain;
    struct brv_contour one, other;
    double heat[N], here[N], there[N];
    build(&chain, heat);
    assert_int_equal(brv_contour_build(&one, N, NULL), BRV_OK);
    assert_int_equal(brv_contour_build(&other, N, NULL), BRV_OK);
    for (double time = 1e-9; time < 1e3; time *= 10.0) {
        brv_contour_aim(&one, &chain, time / 9.0, time, TOLERANCE, heat, heat);
        brv_contour_aim(&other, &chain, time, 33.0 * time, TOLERANCE, heat, heat);
        brv_contour_state(&one, time, here);
        brv_contour_state(&other, time, there);
        for (size_t i = 0; i < N; i++) check_close(here[i], there[i], 0.0, 2.0 * (2.0 + 34.0 * time * 2.0) * TOLERANCE);
    }
    brv_contour_free(&one);
    brv_contour_free(&other);
    brv_chain_free(&chain);
}

/* Heat conducted 1e12 times faster than it is lost: the chain cools as one. */
static void stiff_chain_cools_as_one(void **state)
{
    (void)state;
    struct brv_chain chain;
    struct brv_contour contour;
    double heat[N], rise[N], all = 0.0, capacity = 0.0;
    build(&chain, heat);
    assert_int_equal(brv_contour_build(&contour, N, NULL), BRV_OK);
    for (size_t i = 0; i < N; i++) {
        capacity += chain.capacity[i];
        all += heat[i];
    }
    for (size_t i = 0; i <= N; i++) chain.link[i] = i % N ? 2e10 * capacity : 0.0;
    brv_contour_aim(&contour, &chain, 1.0, 100.0, 1e-11, heat, NULL);
    for (double t = 1.0; t < 100.0; t *= 1.9) {
        brv_contour_state(&contour, t, rise);
        /* tolerance; and cells differ by the ratio of loss to conduction, 1e-12 */
        for (size_t i = 0; i < N; i++) check_close(rise[i], all / capacity * exp(-0.02 * t), 1e-12, 2e-11);
    }
    brv_contour_free(&contour);
    brv_chain_free(&chain);
}

/* What went in is stored, carried away or lost, from heat and from an inflow. */
static void heat_is_conserved(void **state)
{
    (void)state;
    struct brv_chain chain;
    struct brv_contour contour;
    double heat[N], in = 0.0;
    build(&chain, heat);
    chain.link[0] = 0.5; /* a loss that counts */
    assert_int_equal(brv_contour_build(&contour, N, NULL), BRV_OK);
    for (size_t i = 0; i < N; i++) in += heat[i];
    const struct brv_gauge carried = {0, N, chain.sink};
    const struct brv_gauge first = {0, 1, &chain.link[0]}, last = {N - 1, 1, &chain.link[N]};
    for (double from = 1e-8; from < 1e3; from *= 50.0) {
        brv_contour_aim(&contour, &chain, from, 50.0 * from, TOLERANCE, heat, NULL);
        for (double t = from; t < 51.0 * from; t *= 2.5) {
            brv_contour_state(&contour, t, chain.rise);
            const double out = brv_contour_gathered(&contour, &carried, t) + brv_contour_gathered(&contour, &first, t) +
                               brv_contour_gathered(&contour, &last, t);
            check_close(brv_chain_stored(&chain) + out, in, 2.0 * TOLERANCE,
                        0.0); /* stored and gathered err once each */
        }
        brv_contour_aim(&contour, &chain, from, 50.0 * from, TOLERANCE, NULL, heat);
        const double t = 7.0 * from;
        brv_contour_state(&contour, t, chain.rise);
        const double out = brv_contour_gathered(&contour, &carried, t) + brv_contour_gathered(&contour, &first, t) +
                           brv_contour_gathered(&contour, &last, t);
        check_close(brv_chain_stored(&chain) + out, in * t, 0.0, 2.0 * TOLERANCE * in * 50.0 * from);
    }
    brv_contour_free(&contour);
    brv_chain_free(&chain);
}

/* A rise that does not fall at all is the hardest to gather: nothing but its start times the time. */
static void steady_rise_is_gathered(void **state)
{
    (void)state;
    struct brv_chain chain;
    struct brv_contour contour;
    static const double heat = 3.0;
    const struct brv_gauge gauge = one_cell(0);
    assert_int_equal(brv_chain_build(&chain, 1, NULL), BRV_OK);
    assert_int_equal(brv_contour_build(&contour, 1, NULL), BRV_OK);
    chain.capacity[0] = 1.0;
    for (double tolerance = 1e-11; tolerance < 2e-3; tolerance *= 100.0) {
        brv_contour_aim(&contour, &chain, 1.0, 50.0, tolerance, &heat, NULL);
        for (double t = 1.0; t < 50.0; t *= 1.3) /* as the header says */
            check_close(brv_contour_gathered(&contour, &gauge, t), heat * t, 0.0, 30.0 * tolerance * heat * 50.0);
    }
    brv_contour_free(&contour);
    brv_chain_free(&chain);
}

static void nothing_in_is_nothing_out(void **state)
{
    (void)state;
    struct brv_chain chain;
    struct brv_contour contour;
    double heat[N], rise[N];
    build(&chain, heat);
    assert_int_equal(brv_contour_build(&contour, N, NULL), BRV_OK);
    memset(heat, 0, sizeof heat);
    const struct brv_gauge gauge = {0, N, chain.capacity};
    for (int kind = 0; kind < 3; kind++) {
        brv_contour_aim(&contour, &chain, 1.0, 9.0, TOLERANCE, kind ? heat : NULL, kind == 2 ? heat : NULL);
        brv_contour_state(&contour, 2.0, rise);
        for (size_t i = 0; i < N; i++) check_close(rise[i], 0.0, 0.0, 0.0);
        check_close(brv_contour_gathered(&contour, &gauge, 2.0), 0.0, 0.0, 0.0);
    }
    brv_contour_free(&contour);
    brv_chain_free(&chain);
}

static void answers_are_linear(void **state)
{
    (void)state;
    struct brv_chain chain;
    struct brv_contour contour;
    double heat[N], inflow[N], by_heat[N], by_inflow[N], by_both[N];
    build(&chain, heat);
    assert_int_equal(brv_contour_build(&contour, N, NULL), BRV_OK);
    for (size_t i = 0; i < N; i++) inflow[i] = 3.0 * heat[N - 1 - i];
    static const double none[N] = {0.0};
    brv_contour_aim(&contour, &chain, 0.1, 1.0, TOLERANCE, heat, none); /* with an inflow, so that the poles agree */
    brv_contour_state(&contour, 0.3, by_heat);
    brv_contour_aim(&contour, &chain, 0.1, 1.0, TOLERANCE, NULL, inflow);
    brv_contour_state(&contour, 0.3, by_inflow);
    brv_contour_aim(&contour, &chain, 0.1, 1.0, TOLERANCE, heat, inflow);
    brv_contour_state(&contour, 0.3, by_both);
    const double largest = fabs(by_both[0]) + fabs(by_both[N / 2]) + 1.0;
    for (size_t i = 0; i < N; i++)
        check_close(by_heat[i] + by_inflow[i], by_both[i], 0.0, 1e-13 * largest); /* rounding */
    brv_contour_free(&contour);
    brv_chain_free(&chain);
}

/* Readings, states and gauges of a chain say the same; more gauges than are taken at once; times in any order. */
static void readings_are_states(void **state)
{
    (void)state;
    enum { GAUGES = 3 * N };
    struct brv_chain chain;
    struct brv_contour contour;
    double heat[N], value[GAUGES * 2];
    static const double time[2] = {0.7, 0.2}, weight[3] = {0.3, -1.7, 0.6};
    struct brv_gauge gauge[GAUGES];
    build(&chain, heat);
    assert_int_equal(brv_contour_build(&contour, N, NULL), BRV_OK);
    for (size_t g = 0; g < GAUGES; g++) gauge[g] = g < N ? one_cell(g) : (struct brv_gauge){g % (N - 2), 3, weight};
    brv_contour_aim(&contour, &chain, 0.1, 1.0, TOLERANCE, heat, NULL);
    brv_contour_read(&contour, GAUGES, gauge, 2, time, value);
    for (size_t i = 0; i < 2; i++) {
        brv_contour_state(&contour, time[i], chain.rise);
        for (size_t g = 0; g < GAUGES; g++) /* rounding of sums in another order */
            check_close(value[2 * g + i], brv_gauge_read(&gauge[g], chain.rise), 0.0, 1e-13);
    }
    brv_contour_free(&contour);
    brv_chain_free(&chain);
}

/* A pulse of no length is heat laid down at once; one of any length, the mean of what its parts leave. */
static void pulse_is_a_mean(void **state)
{
    (void)state;
    static const double node[3] = {0.2386191860831969, 0.6612093864662645, 0.9324695142031521};
    static const double weight[3] = {0.4679139345726910, 0.3607615730481386, 0.1713244923791704};
    struct brv_chain chain;
    struct brv_contour contour;
    double heat[N], pulse, now;
    build(&chain, heat);
    assert_int_equal(brv_contour_build(&contour, N, NULL), BRV_OK);
    const struct brv_gauge gauge = one_cell(12);
    static const double time = 0.4;
    brv_contour_aim(&contour, &chain, 0.1, 1.0, TOLERANCE, heat, NULL);
    for (double width = 1e-12; width < 0.06; width *= 3.0) {
        double mean = 0.0;
        for (int k = 0; k < 6; k++) {
            const double then = time + 0.5 * width * (1.0 + (k % 2 ? -1.0 : 1.0) * node[k / 2]);
            brv_contour_read(&contour, 1, &gauge, 1, &then, &now);
            mean += 0.5 * weight[k / 2] * now;
        }
        brv_contour_read_pulse(&contour, width, 1, &gauge, 1, &time, &pulse);
        check_close(pulse, mean, 0.0, 1e-12); /* rounding; six nodes leave nothing of so short a stretch */
    }
    brv_contour_free(&contour);
    brv_chain_free(&chain);
}

static void ratio_is_what_its_poles_serve(void **state)
{
    (void)state;
    for (int fed = 0; fed < 2; fed++)
        for (double tolerance = 1e-12; tolerance < 2e-2; tolerance *= 10.0) {
            const double ratio = brv_contour_ratio(tolerance, fed);
            const size_t n = brv_contour_poles(ratio * (1.0 + 1e-9), tolerance, fed);
            assert_true(ratio > 10.0 && ratio < 1000.0 && n <= BRV_CONTOUR_MOST_POLES);
            assert_true(brv_contour_poles(1.03 * ratio, tolerance, fed) > n); /* they are used up */
            assert_true(brv_contour_poles(1.0, tolerance, fed) <= n);
        }
    assert_true(brv_contour_poles(500.0, 1e-12, true) <=
                BRV_CONTOUR_MOST_POLES); /* there is room for any such window */
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(freed_twice),
        cmocka_unit_test(single_cell),
        cmocka_unit_test(times_tiny_and_huge),
        cmocka_unit_test(neighbours_agree),
        cmocka_unit_test(stiff_chain_cools_as_one),
        cmocka_unit_test(heat_is_conserved),
        cmocka_unit_test(steady_rise_is_gathered),
        cmocka_unit_test(nothing_in_is_nothing_out),
        cmocka_unit_test(answers_are_linear),
        cmocka_unit_test(readings_are_states),
        cmocka_unit_test(pulse_is_a_mean),
        cmocka_unit_test(ratio_is_what_its_poles_serve),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
