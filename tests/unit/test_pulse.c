/* The pulse in time: exact shares of its energy. */
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
    const struct CMUnitTest tests[] = {cmocka_unit_test(square_pulse_arrives_evenly),
                                       cmocka_unit_test(gaussian_pulse_has_its_width),
                                       cmocka_unit_test(fluence_of_a_spot)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
