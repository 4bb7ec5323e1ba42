/* Heat of several hits of one place: what a train leaves is the sum of what its pulses leave, each in its own time. */
#include "study/revisit.h"

#include "scenario/keys.h"
#include "support/check.h"
#include "support/sample.h"

#include <math.h>
#include <string.h>

static struct brv_scenario flat_spot(void)
{
    struct brv_scenario ask = sample_scenario();
    ask.beam.method = BRV_METHOD_SPOT; /* heat leaves sideways: the disc is at work */
    ask.beam.wavelength = 1064e-9;
    brv_scenario_fill(&ask);
    assert_int_equal(brv_scenario_check(&ask, NULL, 0), 0);
    return ask;
}

/* Times between two rows of a curve are read straight in their logarithm: 1e-3 of the rise at most, seen 2e-4. */
static void a_train_is_a_sum(void **state)
{
    (void)state;
    const struct brv_scenario ask = flat_spot();
    const struct brv_revisit_ask how[] = {{4, 5.0, 3.7}, {1, 5.0, NAN}, {1, 5.0, 0.4}, {1, 5.0, 0.6}, {1, 5.0, 0.8}};
    struct brv_revisit revisit[5];
    assert_int_equal(brv_revisit_solve(revisit, 5, &ask, how, NULL, NULL), BRV_OK);
    for (size_t site = 0; site < BRV_N_SITE; site++) {
        double sum = revisit[1].site[site].rest.value;
        for (size_t k = 2; k < 5; k++) sum += revisit[k].site[site].later.value;
        check_close(revisit[0].site[site].rest.value, sum, 1e-3, 0.0);
        assert_true(sum > 0.0 && isnan(revisit[1].site[site].later.value));
        const struct brv_revisit_site *train = &revisit[0].site[site], *one = &revisit[1].site[site];
        assert_true(train->highest.value > 1.5 * one->highest.value && train->highest.value < 4.0 * one->highest.value);
        assert_true(train->rest.low < train->rest.value && train->rest.high > train->rest.value); /* paler, darker */
        assert_true(train->highest.low <= train->highest.value && train->highest.value <= train->highest.high);
    }
    check_close(revisit[0].deep, 1e-3, 1e-15, 0.0);
}

/* One pulse alone is the run of the scenario. */
static void one_pulse_is_a_run(void **state)
{
    (void)state;
    const struct brv_scenario ask = flat_spot();
    const struct brv_revisit_ask how = {1, 2.0, NAN};
    struct brv_revisit revisit;
    struct brv_result run;
    assert_int_equal(brv_revisit_solve(&revisit, 1, &ask, &how, NULL, NULL), BRV_OK);
    struct brv_scenario same = ask;
    same.watch.until = 2.04;
    assert_int_equal(brv_run_solve(&run, &same, NULL, NULL), BRV_OK);
    for (size_t site = 0; site < BRV_N_SITE; site++)
        check_close(revisit.site[site].highest.value, run.site[site].effect.dermis[0].last.value, 1e-6, 0.0);
    brv_run_free(&run);
}

/* What lies on the skin to the end stays there to the new end; a scenario's own train is laid aside. */
static void what_the_scenario_said(void **state)
{
    (void)state;
    struct brv_scenario ask = sample_scenario();
    ask.surface.outside = BRV_GEL;
    sample_give(&ask.surface, BRV_SCOPE_SURFACE, "outside");
    ask.pulse.count = 3.0;
    ask.pulse.rate = 1.0;
    sample_give(&ask.pulse, BRV_SCOPE_PULSE, "count");
    sample_give(&ask.pulse, BRV_SCOPE_PULSE, "rate");
    brv_scenario_fill(&ask);
    assert_int_equal(brv_scenario_check(&ask, NULL, 0), 0);
    const struct brv_revisit_ask few = {2, 10.0, NAN}, one = {1, 10.0, 4.0}, fast = {3, 20.0, NAN};
    struct brv_scenario made = brv_revisit_scenario(&ask, &few);
    assert_int_equal(brv_scenario_check(&made, NULL, 0), 0);
    assert_int_equal(brv_pulse_total(&made.pulse), 2);
    assert_true(made.surface.to >= made.watch.until && made.watch.until > 2.0);
    check_close(made.pulse.passes, 1.0, 0.0, 0.0);
    struct brv_scenario filled = made; /* its end is given, so that filling it again adds no pulses to it */
    brv_scenario_fill(&filled);
    check_close(filled.watch.until, made.watch.until, 0.0, 0.0);
    made = brv_revisit_scenario(&ask, &one);
    assert_int_equal(brv_scenario_check(&made, NULL, 0), 0);
    assert_int_equal(brv_pulse_total(&made.pulse), 1);
    assert_true(made.watch.until > 4.0);
    made = brv_revisit_scenario(&ask, &fast); /* faster than a scenario may be */
    assert_int_equal(brv_scenario_check(&made, NULL, 0), 1);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_train_is_a_sum),
        cmocka_unit_test(one_pulse_is_a_run),
        cmocka_unit_test(what_the_scenario_said),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
