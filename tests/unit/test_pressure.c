/* Pressure: Grueneisen parameter of water, stress confinement, and what builds up at once. */
#include "base/constants.h"
#include "effect/confinement.h"
#include "effect/pressure.h"
#include "support/check.h"

#include <math.h>
#include <stdio.h>

static double gamma_at(double celsius)
{
    return brv_pressure_grueneisen(celsius + BRV_ZERO_C);
}

static void water_is_met(void **state)
{
    (void)state;
    static const double celsius[] = {20.0, 25.0, 30.0, 37.0};
    for (size_t i = 0; i < 4; i++) {
        char what[64];
        snprintf(what, sizeof what, "pressure: Gamma of water at %.0f C", celsius[i]);
        check_row(what, "gamma-straight-line (memory)", gamma_at(celsius[i]), 0.0043 + 0.0053 * celsius[i],
                  0.016 * gamma_at(celsius[i]), "the line is good to 1.5 % from 20 to 40 C");
    }
    check_row("pressure: Gamma at 90 C over that at 37 C", "photoacoustic (computed)", gamma_at(90.0) / gamma_at(37.0),
              2.0, 0.05, "said to be twice");
    assert_true(gamma_at(-20.0) <= 0.0 && gamma_at(-20.0) >= 0.0); /* nothing is known below 4 C */
    /* Water is densest at 4 C (handbook fact, from memory): warmed there it does not expand. Straight on from 10 to 20 C
     * it would be 0.005.                                                                                            */
    assert_true(gamma_at(4.01) > 0.0 && gamma_at(4.01) < 1e-3);
    for (double t = -60.0; t < 150.0; t += 0.5) assert_true(gamma_at(t + 0.5) >= gamma_at(t));
}

/* 0.1 /cm and 12 mJ/cm2 in water: 0.3 mK and 240 Pa with Gamma 0.2, which water has at 36.8 C. */
static void worked_example_is_met(void **state)
{
    (void)state;
    const double rise = 10.0 * 120.0 / 4e6, from = 36.8 + BRV_ZERO_C;
    check_row("pressure: text-book example, rise [mK]", "photoacoustic-example (seen)", 1e3 * rise, 0.30, 1e-9,
              "arithmetic");
    check_row("pressure: text-book example [Pa]", "photoacoustic-example (seen)",
              brv_pressure_at_once(from, from + rise, 4e6), 240.0, 1.0, "Gamma 0.2 is met at 36.8 C to 0.4 %");
}

/* By hand over the table: 33 to 112 C is 1.9 times what the Gamma of 33 C would give. */
static void growing_gamma_adds_up(void **state)
{
    (void)state;
    const double from = 33.0 + BRV_ZERO_C;
    double sum = 0.0;
    for (int i = 0; i < 79000; i++) sum += gamma_at(33.0 + 1e-3 * (i + 0.5)) * 1e-3;
    /* 1e-6: the midpoint sum */
    check_close(brv_pressure_at_once(from, from + 79.0, 3.4425e6), 3.4425e6 * sum, 1e-6, 0.0);
    check_row("pressure: 37 to 112 C over the same at the Gamma of 37 C", "photoacoustic (computed)",
              brv_pressure_at_once(37.0 + BRV_ZERO_C, 112.0 + BRV_ZERO_C, 1.0) / (75.0 * gamma_at(37.0)), 1.5, 0.25,
              "said to be low by about 1.5 with a constant Gamma");
    check_close(brv_pressure_at_once(from, from - 5.0, 1.0), 0.0, 0.0, 0.0);
    for (double to = 1.0; to < 120.0; to += 7.0) /* parts add up */
        check_close(brv_pressure_at_once(from, from + to, 1.0) + brv_pressure_at_once(from + to, from + 120.0, 1.0),
                    brv_pressure_at_once(from, from + 120.0, 1.0), 1e-12, 0.0);
}

/* Sound crosses 0.5, 0.7 and 1 um in 333, 467 and 667 ps; pulses of 5 to 10 ns are long against that. */
static void sound_lets_pressure_go(void **state)
{
    (void)state;
    check_row("pressure: S of a pulse much shorter than sound", "photoacoustic (exact)", brv_pressure_confined(1e-9),
              1.0, 1e-9, "1 - theta/2");
    check_row("pressure: S where pulse and sound are equal", "photoacoustic (exact)", brv_pressure_confined(1.0),
              1.0 - exp(-1.0), 1e-12, "closed form");
    check_row("pressure: S of 7 ns across 0.5 um", "photoacoustic (computed)",
              brv_pressure_confined(7e-9 / brv_confinement_time(0.5e-6, BRV_SOUND_SPEED)), 0.333e-9 / 7e-9, 1e-4,
              "333 ps over 7 ns");
    assert_true(brv_pressure_confined(0.0) >= 1.0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(water_is_met),
        cmocka_unit_test(worked_example_is_met),
        cmocka_unit_test(growing_gamma_adds_up),
        cmocka_unit_test(sound_lets_pressure_go),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
