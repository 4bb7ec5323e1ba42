/* Readings of a meter: what counts as a point, what one reading cannot tell, limits and drift at their edges. */
#include "side/output.h"

#include "support/check.h"

#include <math.h>

#define NONE (double)NAN

static struct brv_output read_all(const struct brv_meter_reading reading[], size_t n)
{
    struct brv_output output;
    assert_int_equal(brv_output_read(&output, reading, n, 6e-3, BRV_OUTPUT_METER_ERROR, BRV_OUTPUT_SPOT_ERROR, NULL),
                     BRV_OK);
    return output;
}

/* Days 0, 1, 2, ... with these energies. */
static struct brv_output read_days(const double energy[], size_t n)
{
    struct brv_meter_reading reading[64];
    for (size_t i = 0; i < n; i++) reading[i] = (struct brv_meter_reading){(double)i, energy[i], NONE, NONE};
    return read_all(reading, n);
}

static void one_reading_tells_no_spread(void **state)
{
    (void)state;
    const struct brv_meter_reading one = {NONE, 0.4, NONE, NONE};
    struct brv_output output = read_all(&one, 1);
    check_close(output.energy.mean, 0.4, 0.0, 0.0);
    assert_true(isnan(output.energy.low) && isnan(output.energy.deviation) && isnan(output.random));
    assert_true(isnan(output.within) && isnan(output.drift.slope));
    assert_int_equal(output.spot.n, 0);
    assert_false(output.limits || output.drift.told || output.days);
    check_close(output.high / output.fluence, 1.0 + output.systematic, 1e-15, 0.0); /* what is left is systematic */
    brv_output_free(&output);
    brv_output_free(&output);
    assert_null(output.day);
}

/* Means of days are the points; a day of three readings counts as much as a day of one. */
static void a_day_is_one_point(void **state)
{
    (void)state;
    const struct brv_meter_reading reading[] = {{3.0, 0.40, 6.0e-3, 0.5},
                                                {3.0, 0.42, NONE, 0.5},
                                                {3.0, 0.44, 6.2e-3, 0.5},
                                                {10.0, 0.50, NONE, 0.5},
                                                {17.0, 0.40, 6.4e-3, 0.5}};
    struct brv_output output = read_all(reading, 5);
    assert_int_equal(output.n_day, 3);
    assert_int_equal(output.day[0].n, 3);
    assert_int_equal(output.energy.n, 3);
    check_close(output.day[0].energy, 0.42, 1e-15, 0.0);
    check_close(output.energy.mean, 0.44, 1e-15, 0.0);
    check_close(output.ratio.mean, 0.88, 1e-15, 0.0);
    check_close(output.within, 0.02, 1e-13, 0.0); /* 0.40, 0.42, 0.44 about 0.42, two degrees of freedom */
    assert_int_equal(output.n_spot, 3);
    assert_int_equal(output.spot.n, 2); /* two days measured it */
    check_close(brv_output_spot(&output), 6.25e-3, 1e-15, 0.0);
    check_close(brv_meter_reading_fluence(&reading[4], 6.25e-3) / brv_meter_reading_fluence(&reading[1], 6.4e-3),
                0.40 / 0.42, 1e-14, 0.0);
    brv_output_free(&output);
}

/* All on one day: each is a point of its own, and there is nothing to say of a drift. */
static void one_day_only(void **state)
{
    (void)state;
    const struct brv_meter_reading reading[] = {
        {5.0, 0.40, NONE, NONE}, {5.0, 0.42, NONE, NONE}, {5.0, 0.44, NONE, 0.5}, {5.0, 0.42, NONE, 0.5}};
    struct brv_output output = read_all(reading, 4);
    assert_int_equal(output.energy.n, 4);
    assert_int_equal(output.n_set, 2); /* the others do not say what the display said; the setting is that of all */
    check_close(output.set, 0.5, 0.0, 0.0);
    assert_int_equal(output.ratio.n, 2);
    check_close(output.ratio.mean, 0.86, 1e-15, 0.0);
    assert_true(isnan(output.within)); /* no point holds two */
    assert_true(isnan(output.drift.slope));
    assert_int_equal(output.drift.n, 1);
    assert_false(output.days);
    check_close(output.day[3].day, 4.0, 0.0, 0.0); /* the fourth reading, not day 5 */
    brv_output_free(&output);
}

/* Seven days cannot show one that is off, eight can: see the header. */
static void limits_from_eight_days_on(void **state)
{
    (void)state;
    const double energy[] = {0.4, 0.4, 0.4, 0.6, 0.4, 0.4, 0.4, 0.4};
    struct brv_output seven = read_days(energy, 7), eight = read_days(energy, 8);
    assert_false(seven.limits);
    assert_true(isnan(seven.limit_high));
    assert_int_equal(seven.n_outside, 0);
    assert_true(eight.limits);
    assert_int_equal(eight.n_outside, 1);
    assert_true(eight.day[3].outside);
    const double would_be = seven.energy.mean + 2.66 * seven.moving_range;
    assert_true(would_be > 0.6); /* why seven are not enough */
    brv_output_free(&seven);
    brv_output_free(&eight);
}

/* One reading of 0.1 on a day, three on the last: their mean is not 0.1 in the last bit. */
static void all_the_same(void **state)
{
    enum { N = 12 };
    (void)state;
    struct brv_meter_reading reading[N];
    for (size_t i = 0; i < N; i++) reading[i] = (struct brv_meter_reading){(double)(i < 9 ? i : 9), 0.1, NONE, NONE};
    struct brv_output output = read_all(reading, N);
    assert_int_equal(output.n_day, 10);
    assert_true(output.day[9].energy > output.day[0].energy);
    assert_int_equal(output.n_outside, 0);
    assert_false(output.drift.told);
    brv_output_free(&output);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(one_reading_tells_no_spread),
        cmocka_unit_test(a_day_is_one_point),
        cmocka_unit_test(one_day_only),
        cmocka_unit_test(limits_from_eight_days_on),
        cmocka_unit_test(all_the_same),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
