/* The pulse in time: exact shares of its energy, and where the pulses of a train start. */
#include "scenario/beam.h"
#include "scenario/pulse.h"
#include "support/check.h"

#include <math.h>

static void square_pulse_arrives_evenly(void **state)
{
    (void)state;
    const struct brv_pulse pulse = {.shape = BRV_SHAPE_SQUARE, .width = 7e-9};
    check_close(brv_pulse_delivered(&pulse, 2.1e-9), 0.3, 1e-14, 0.0);
    check_close(brv_pulse_delivered(&pulse, -1e-9), 0.0, 0.0, 0.0);
    check_close(brv_pulse_delivered(&pulse, 8e-9), 1.0, 0.0, 0.0);
    check_close(brv_pulse_end(&pulse), 7e-9, 1e-15, 0.0);
    check_close(brv_pulse_window(&pulse), 7e-9, 1e-15, 0.0);
}

/* Full width at half maximum: the power half a width from the centre is half the power at the centre. */
static void gaussian_pulse_has_its_width(void **state)
{
    (void)state;
    const struct brv_pulse pulse = {.shape = BRV_SHAPE_GAUSSIAN, .width = 3.0};
    const double centre = brv_pulse_centre(&pulse), d = 1e-4;
    const double top = brv_pulse_delivered(&pulse, centre + d) - brv_pulse_delivered(&pulse, centre - d);
    const double half = brv_pulse_delivered(&pulse, centre + 1.5 + d) - brv_pulse_delivered(&pulse, centre + 1.5 - d);
    check_close(half / top, 0.5, 1e-6, 0.0); /* central differences over 2e-4 of a width of 3 */
    check_close(centre, 7.5, 1e-15, 0.0);
    check_close(brv_pulse_end(&pulse), 10.5, 1e-15, 0.0);
    check_close(brv_pulse_window(&pulse), 15.0, 1e-15, 0.0);
    check_close(brv_pulse_delivered(&pulse, centre), 0.5, 1e-15, 0.0);
    check_close(brv_pulse_delivered(&pulse, 15.0), 1.0, 0.0, 0.0);
    check_close(brv_pulse_delivered(&pulse, 15.0 - 1e-9), 1.0, 1e-9, 0.0); /* renormalised at the cut */
    check_close(brv_pulse_delivered(&pulse, 4.1) + brv_pulse_delivered(&pulse, 15.0 - 4.1), 1.0, 1e-14, 0.0);
}

/* 3 pulses 0.25 s apart, then 2 s from the last to the first of the next pass: a pass takes 0.5 s, and 2.5 s lie
 * between the starts of two passes. All are sums of powers of two, so they are exact.                           */
static void pulses_of_a_train_follow_each_other(void **state)
{
    (void)state;
    const struct brv_pulse pulse = {.width = 7e-9, .rate = 4.0, .count = 3.0, .passes = 4.0, .pause = 2.0};
    const double start[] = {0.0, 0.25, 0.5, 2.5, 2.75, 3.0, 5.0, 5.25, 5.5, 7.5, 7.75, 8.0};
    assert_int_equal(brv_pulse_total(&pulse), 12);
    for (size_t k = 0; k < 12; k++) check_close(brv_pulse_start(&pulse, k), start[k], 0.0, 0.0);
    check_close(brv_pulse_last(&pulse), 8.0, 0.0, 0.0);
}

/* The last start is the start of the last pulse to the bit, whatever rate and pause are. */
static void the_last_pulse_is_the_last(void **state)
{
    (void)state;
    for (int count = 1; count <= 14; count++) {
        const struct brv_pulse pulse = {
            .width = 7e-9, .rate = 0.7 * count, .count = count, .passes = 15 - count, .pause = 0.3 * count};
        check_close(brv_pulse_last(&pulse), brv_pulse_start(&pulse, brv_pulse_total(&pulse) - 1), 0.0, 0.0);
    }
}

/* What is not given is 0, and is never looked at: no rate for one pulse in a pass, no pause for one pass. */
static void a_single_pulse_needs_no_rate(void **state)
{
    (void)state;
    const struct brv_pulse single = {.width = 7e-9, .count = 1.0, .passes = 1.0};
    assert_int_equal(brv_pulse_total(&single), 1);
    check_close(brv_pulse_start(&single, 0), 0.0, 0.0, 0.0);
    check_close(brv_pulse_last(&single), 0.0, 0.0, 0.0);

    const struct brv_pulse passes = {.width = 7e-9, .count = 1.0, .passes = 3.0, .pause = 0.5};
    check_close(brv_pulse_start(&passes, 2), 1.0, 0.0, 0.0);
    check_close(brv_pulse_last(&passes), 1.0, 0.0, 0.0);

    const struct brv_pulse one_pass = {.width = 7e-9, .rate = 4.0, .count = 3.0, .passes = 1.0};
    check_close(brv_pulse_last(&one_pass), 0.5, 0.0, 0.0);
}

/* Energy over area as a meter gives it; a Gaussian beam has exactly twice that on its axis. Source: 2 E / (pi w^2). */
static void fluence_of_a_spot(void **state)
{
    (void)state;
    struct brv_beam beam = {.spot = 4e-3, .profile = BRV_PROFILE_FLAT, .fluence = 6e3};
    check_close(brv_beam_area(&beam), 1.2566370614359172e-5, 1e-15, 0.0);
    check_close(brv_beam_axis_fluence(&beam), 6e3, 0.0, 0.0);
    beam.profile = BRV_PROFILE_GAUSSIAN;
    const double energy = beam.fluence * brv_beam_area(&beam), w = 0.5 * beam.spot;
    check_close(brv_beam_axis_fluence(&beam), 2.0 * energy / (3.14159265358979323846 * w * w), 1e-14, 0.0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(square_pulse_arrives_evenly),         cmocka_unit_test(gaussian_pulse_has_its_width),
        cmocka_unit_test(pulses_of_a_train_follow_each_other), cmocka_unit_test(the_last_pulse_is_the_last),
        cmocka_unit_test(a_single_pulse_needs_no_rate),        cmocka_unit_test(fluence_of_a_spot)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
