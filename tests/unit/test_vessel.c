/* Blood in a vessel: self-shading of a long cylinder in light from all sides. */
#include "base/constants.h"
#include "effect/relaxation.h"
#include "effect/vessel.h"
#include "support/check.h"
#include "tissue/chromophore.h"

#include <gsl/gsl_qrng.h>
#include <math.h>

static double shading(double x)
{
    double found;
    assert_int_equal(brv_vessel_shading(&found, x, NULL), BRV_OK);
    return found;
}

/* Chords of isotropic light through a cylinder of diameter 1: directions even over the sphere count with the width of
 * the shadow, the sine of the angle to the axis; offsets are even across the shadow. The mean chord is 4 V / S = 1.  */
static double by_chords(double x)
{
    enum { DRAWS = 1 << 18 };
    gsl_qrng *draws = gsl_qrng_alloc(gsl_qrng_sobol, 2);
    double taken = 0.0, thin = 0.0;
    for (int i = 0; i < DRAWS; i++) {
        double even[2];
        gsl_qrng_get(draws, even);
        const double sine = sqrt(1.0 - even[0] * even[0]), offset = even[1];
        const double chord = sqrt(1.0 - offset * offset) / sine;
        taken += sine * -expm1(-x * chord);
        thin += sine * x * chord;
    }
    gsl_qrng_free(draws);
    return taken / thin;
}

/* 3e-4: the draws. */
static void shading_is_that_of_chords(void **state)
{
    (void)state;
    static const double x[] = {1e-3, 0.05, 0.23, 1.148, 3.0, 12.0, 60.0};
    for (size_t i = 0; i < sizeof x / sizeof *x; i++) check_close(shading(x[i]), by_chords(x[i]), 3e-4, 0.0);
}

/* Opaque: every ray is taken, so F = 1 / x times S / 4 V d = 1 / x. Thin: nothing is shaded. */
static void limits_are_met(void **state)
{
    (void)state;
    check_row("vessel: opaque cylinder in light from all sides, x F at x = 1000", "vessel-shading (exact)",
              1000.0 * shading(1000.0), 1.0, 2e-3, "the thinnest chords still let some light through");
    check_row("vessel: thin cylinder, F at x = 1e-5", "vessel-shading (exact)", shading(1e-5), 1.0, 2e-5,
              "1 - F is about x");
    check_close(shading(0.0), 1.0, 0.0, 0.0);
    for (double x = 1e-7; x < 1e2; x *= 1.3) assert_true(shading(x * 1.3) < shading(x));
}

/* 0.6 J/cm2 at 532 nm, as the teaching example has it: thin, in skin that sends back enough light for a fluence of 2.7
 * times the incident one.                                                                                           */
static void example_is_met(void **state)
{
    (void)state;
    const double absorption = brv_chromophore_blood(532e-9, 0.7);
    check_row("vessel: blood at 532 nm, 0.6 J/cm2, light 2.7 times the incident, no shading [K]",
              "vessel-example (computed)", absorption * 2.7 * 6e3 / (BRV_BLOOD_DENSITY * BRV_BLOOD_HEAT_CAPACITY), 98.0,
              1.0, "two digits");
    check_row("vessel: relaxation of 100 um by d^2/16 alpha [ms]", "course-problem-vessel (seen)",
              1e3 * brv_relaxation_time(BRV_VESSEL_KAPPA, 100e-6, BRV_TRADE_DIFFUSIVITY), 4.81, 0.005, "rounding");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(shading_is_that_of_chords),
        cmocka_unit_test(limits_are_met),
        cmocka_unit_test(example_is_met),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
