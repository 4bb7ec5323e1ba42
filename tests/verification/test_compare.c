/* Choices side by side: the same as single runs, and the ratio of equal light is one. */
#include "study/compare.h"

#include "light/light_sensitivity.h"

#include "support/check.h"
#include "support/sample.h"

#include <math.h>

enum { N_SPOT = 4 };
static const double spots[N_SPOT] = {3e-3, 5e-3, 7e-3, 10e-3};

static struct brv_scenario through(double spot, double fluence)
{
    struct brv_scenario ask = sample_scenario();
    ask.beam.wavelength = 1064e-9;
    ask.beam.method = BRV_METHOD_SPOT;
    ask.beam.spot = spot;
    ask.beam.fluence = fluence;
    ask.watch.until = 1e-3;
    sample_give(&ask.watch, BRV_SCOPE_WATCH, "until");
    brv_scenario_fill(&ask);
    assert_int_equal(brv_scenario_check(&ask, NULL, 0), 0);
    return ask;
}

static void solve(struct brv_comparison *comparison, size_t n, const struct brv_scenario ask[])
{
    struct brv_error error = {.place = ""};
    if (brv_compare_solve(comparison, n, ask, NULL, &error)) fail_msg("%s: %g", error.place, error.found);
}

/* To the last bit: a choice is no other computation than a run of its own. */
static void a_choice_is_a_run(void **state)
{
    (void)state;
    const struct brv_scenario ask[2] = {through(3e-3, 6e3), through(7e-3, 6e3)};
    struct brv_comparison comparison;
    struct brv_result alone;
    struct brv_headlines headlines;
    solve(&comparison, 2, ask);
    for (size_t i = 0; i < 2; i++) {
        assert_int_equal(brv_run_solve(&alone, &ask[i], NULL, NULL), BRV_OK);
        brv_headlines_read(&headlines, &alone);
        assert_memory_equal(&headlines, &comparison.headline[i], sizeof headlines);
        brv_run_free(&alone);
    }
    brv_comparison_free(&comparison);
    assert_int_equal(comparison.n, 0);
    brv_comparison_free(&comparison);
}

/* A choice at the first one's fluence times the ratio has just its light: light is linear, so to rounding. */
static void equal_light_is_equal(void **state)
{
    (void)state;
    const struct brv_scenario ask[2] = {through(3e-3, 6e3), through(10e-3, 1e3)};
    struct brv_comparison comparison, again;
    solve(&comparison, 2, ask);
    for (size_t site = 0; site < BRV_N_SITE; site++) {
        const struct brv_beside_first *beside = &comparison.beside[1][site];
        const struct brv_scenario grain[2] = {ask[0], through(10e-3, 6e3 * beside->equal_grain)};
        const struct brv_scenario deep[2] = {ask[0], through(10e-3, 6e3 * beside->equal_deep)};
        solve(&again, 2, grain);
        check_close(again.headline[1].at[site][BRV_HEADLINE_LIGHT_GRAIN].value,
                    again.headline[0].at[site][BRV_HEADLINE_LIGHT_GRAIN].value, 1e-12, 0.0);
        brv_comparison_free(&again);
        solve(&again, 2, deep);
        check_close(again.headline[1].at[site][BRV_HEADLINE_LIGHT_DEEP].value,
                    again.headline[0].at[site][BRV_HEADLINE_LIGHT_DEEP].value, 1e-12, 0.0);
        brv_comparison_free(&again);
        check_close(comparison.beside[0][site].equal_deep, 1.0, 0.0, 0.0);
    }
    brv_comparison_free(&comparison);
}

/* At one energy the fluence falls by area and the light at depth by less; at one fluence a wider spot has more light at
 * depth. Pulses on an area: touching circles in a hexagonal lattice cover pi / (2 sqrt 3) = 0.9069 of it.           */
static void spots_at_one_energy_and_at_one_fluence(void **state)
{
    (void)state;
    struct brv_scenario ask[2 * N_SPOT];
    struct brv_comparison comparison;
    for (size_t i = 0; i < N_SPOT; i++) {
        ask[i] = through(spots[i], 2e4 * spots[0] * spots[0] / (spots[i] * spots[i]));
        ask[N_SPOT + i] = through(spots[i], 2e4);
    }
    solve(&comparison, 2 * N_SPOT, ask);
    const struct brv_headlines *at = comparison.headline;
    for (size_t i = 0; i < N_SPOT; i++) {
        const double pulses = at[i].at[0][BRV_HEADLINE_PULSES].value;
        check_row("pulses an area takes x area of a 3, 5, 7, 10 mm spot", "hexagonal packing (closed form)",
                  pulses * 0.25 * acos(-1.0) * spots[i] * spots[i], acos(-1.0) / (2.0 * sqrt(3.0)), 1e-12, "rounding");
        check_row("energy through 3, 5, 7, 10 mm over that through 3 mm, fluence by area", "by area (closed form)",
                  at[i].at[0][BRV_HEADLINE_ENERGY].value / at[0].at[0][BRV_HEADLINE_ENERGY].value, 1.0, 1e-12,
                  "rounding");
    }
    for (size_t i = 1; i < N_SPOT; i++)
        for (size_t site = 0; site < BRV_N_SITE; site++) {
            const double narrower = at[i - 1].at[site][BRV_HEADLINE_LIGHT_DEEP].value;
            const double area = pow(spots[i - 1] / spots[i], 2.0);
            assert_true(at[i].at[site][BRV_HEADLINE_LIGHT_DEEP].value > 1.02 * area * narrower);
            assert_true(at[i].at[site][BRV_HEADLINE_LIGHT_DEEP].value < narrower);
            assert_true(at[N_SPOT + i].at[site][BRV_HEADLINE_LIGHT_DEEP].value >
                        1.02 * at[N_SPOT + i - 1].at[site][BRV_HEADLINE_LIGHT_DEEP].value);
            assert_true(comparison.beside[i][site].equal_deep < comparison.beside[i - 1][site].equal_deep);
        }
    brv_comparison_free(&comparison);
}

/* What stands in the list, by hand from the run. */
static void headlines_are_read_right(void **state)
{
    (void)state;
    const struct brv_scenario ask = through(5e-3, 2e4);
    struct brv_result run;
    struct brv_headlines headlines;
    assert_int_equal(brv_run_solve(&run, &ask, NULL, NULL), BRV_OK);
    brv_headlines_read(&headlines, &run);
    const struct brv_effect *lesion = &run.site[BRV_LESION].effect, *other = &run.site[BRV_NEIGHBOUR].effect;
    for (size_t i = 0; i < BRV_N_SITE; i++) {
        const struct brv_site *site = &run.site[i];
        const struct brv_spread *at = headlines.at[i];
        const size_t layer = site->tissue.grain.layer;
        const double light = 2e4 * site->light.mean_fluence[layer], deep = 2e4 * brv_light_fluence(&site->light, 1e-3);
        check_close(at[BRV_HEADLINE_LIGHT_GRAIN].value, light, 1e-14, 0.0);
        check_close(at[BRV_HEADLINE_LIGHT_GRAIN].low, light * site->light.sensitivity.mean[1][layer], 1e-14, 0.0);
        check_close(at[BRV_HEADLINE_LIGHT_GRAIN].high, light * site->light.sensitivity.mean[0][layer], 1e-14, 0.0);
        check_close(at[BRV_HEADLINE_LIGHT_DEEP].low, deep * brv_light_answer(&site->light, 1, 1e-3), 1e-14, 0.0);
        check_close(at[BRV_HEADLINE_DAMAGE].value,
                    site->effect.log_damage[site->effect.most_damaged].value / 2.302585092994046, 1e-14, 0.0);
        check_close(at[BRV_HEADLINE_SHARE].high, site->effect.crowd.most.share.number, 0.0, 0.0);
        check_close(at[BRV_HEADLINE_DEEP_PEAK].value, site->effect.dermis[1].first.value, 0.0, 0.0);
    }
    const double low = other->crowd.threshold_sign.low / lesion->crowd.threshold_sign.low;
    const double high = other->crowd.threshold_sign.high / lesion->crowd.threshold_sign.high;
    check_close(headlines.at[BRV_LESION][BRV_HEADLINE_RATIO].value,
                other->crowd.threshold_sign.value / lesion->crowd.threshold_sign.value, 1e-14, 0.0);
    check_close(headlines.at[BRV_LESION][BRV_HEADLINE_RATIO].low, fmin(low, high), 1e-14, 0.0);
    check_close(headlines.at[BRV_NEIGHBOUR][BRV_HEADLINE_RATIO].high, fmax(low, high), 1e-14, 0.0);
    brv_run_free(&run);
}

/* In skin without pigment a single grain is imagined, and none of it is a share of anything; the lesion has some. */
static void no_pigment_has_no_share(void **state)
{
    (void)state;
    struct brv_scenario ask = sample_scenario();
    struct brv_result run;
    struct brv_headlines headlines;
    for (size_t i = 0; i < ask.skin[BRV_NEIGHBOUR].n_layer; i++)
        sample_set(&ask, BRV_SCOPE_LAYER, i, "melanosomes", 0.0);
    ask.skin[BRV_LESION].layer[1].melanosomes = 0.2;
    ask.lesion_given = true;
    brv_scenario_fill(&ask);
    assert_int_equal(brv_scenario_check(&ask, NULL, 0), 0);
    assert_int_equal(brv_run_solve(&run, &ask, NULL, NULL), BRV_OK);
    brv_headlines_read(&headlines, &run);
    const struct brv_spread *lesion = &headlines.at[BRV_LESION][BRV_HEADLINE_SHARE],
                            *neighbour = &headlines.at[BRV_NEIGHBOUR][BRV_HEADLINE_SHARE];
    assert_true(lesion->value > 0.0 && lesion->high <= 1.0);
    assert_true(isnan(neighbour->value) && isnan(neighbour->low) && isnan(neighbour->high));
    assert_true(headlines.at[BRV_NEIGHBOUR][BRV_HEADLINE_THRESHOLD_GRAIN].value > 0.0);
    brv_run_free(&run);
}

static bool hides(double value, double low, double high, double other, double other_low, double other_high)
{
    return brv_spread_hides(&(struct brv_spread){value, low, high}, &(struct brv_spread){other, other_low, other_high});
}

static void small_differences_are_hidden(void **state)
{
    (void)state;
    const double none = NAN;
    assert_true(hides(2.0, 1.0, 4.0, 3.0, 1.5, 6.0));
    assert_false(hides(2.0, 1.0, 2.5, 3.0, 1.5, 6.0));   /* 3 is beyond the first */
    assert_false(hides(2.0, 1.0, 4.0, 3.0, 2.5, 6.0));   /* 2 is beyond the second */
    assert_true(hides(2.0, 4.0, 1.0, 3.0, 6.0, 1.5));    /* whichever end is named low */
    assert_false(hides(2.0, 2.0, 2.0, 2.1, 2.1, 2.1));   /* sharp values differ */
    assert_true(hides(2.0, 2.0, 2.0, 2.0, 2.0, 2.0));    /* or are the same */
    assert_true(hides(2.0, 1.0, none, none, 1.5, none)); /* no sign, and perhaps none here */
    assert_false(hides(2.0, 1.0, 3.0, none, 1.5, none));
    assert_true(hides(none, none, none, none, none, none));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_choice_is_a_run),
        cmocka_unit_test(equal_light_is_equal),
        cmocka_unit_test(spots_at_one_energy_and_at_one_fluence),
        cmocka_unit_test(headlines_are_read_right),
        cmocka_unit_test(no_pigment_has_no_share),
        cmocka_unit_test(small_differences_are_hidden),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
