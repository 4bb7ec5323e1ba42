/* Test spots, read from one run, against a run of their own. */
#include "study/test_spots.h"

#include "support/check.h"
#include "support/sample.h"

#include <math.h>

static struct brv_scenario with_ladder(double first, double ratio, double count)
{
    struct brv_scenario ask = sample_scenario();
    ask.ladder = (struct brv_test_spots_ask){.first = first, .ratio = ratio, .count = count};
    sample_give(&ask.ladder, BRV_SCOPE_LADDER, "first");
    sample_give(&ask.ladder, BRV_SCOPE_LADDER, "ratio");
    sample_give(&ask.ladder, BRV_SCOPE_LADDER, "count");
    ask.watch.until = 1e-3;
    sample_give(&ask.watch, BRV_SCOPE_WATCH, "until");
    return ask;
}

/* Linear, to rounding; shares by the same thresholds, to the rounding of theirs. Long pulses disrupt a whole layer between
 * two fluences that are 6 % apart: read off a curve, shares were up to 56 % of the grains off.                       */
static void hold_steps(double pulse, double first, double ratio, const char *what)
{
    struct brv_scenario ask = with_ladder(first, ratio, 9.0);
    struct brv_test_spots spots;
    double worst = 0.0;
    ask.pulse.width = pulse;
    brv_scenario_fill(&ask);
    assert_int_equal(brv_scenario_check(&ask, NULL, 0), 0);
    assert_int_equal(brv_test_spots_solve(&spots, &ask, NULL, NULL), BRV_OK);
    assert_int_equal(spots.n, 9);
    for (size_t k = 0; k < spots.n; k += 2) {
        struct brv_result run;
        struct brv_scenario one = ask;
        one.beam.fluence = first * pow(ratio, (double)k);
        one.beam.energy = one.beam.fluence * brv_beam_area(&one.beam);
        assert_int_equal(brv_run_solve(&run, &one, NULL, NULL), BRV_OK);
        check_close(spots.step[k].fluence, one.beam.fluence, 1e-14, 0.0);
        check_close(spots.step[k].energy, one.beam.energy, 1e-14, 0.0);
        for (size_t site = 0; site < BRV_N_SITE; site++) {
            const struct brv_test_spot_site *at = &spots.step[k].site[site];
            const struct brv_effect *effect = &run.site[site].effect;
            check_close(at->grain.value, effect->peak[BRV_PROBE_MEAN].value, 1e-11, 0.0);
            check_close(at->layer.high, effect->peak[BRV_PROBE_LAYER].high, 1e-11, 0.0);
            check_close(at->vessel.value, effect->vessel.rise.value, 1e-11, 0.0);
            worst = fmax(worst, fabs(at->share.value - effect->crowd.here.share.number));
            worst = fmax(worst, fabs(at->share.low - effect->crowd.least.share.number));
            worst = fmax(worst, fabs(at->share.high - effect->crowd.most.share.number));
        }
        brv_run_free(&run);
    }
    check_row(what, "own runs (computed)", worst, 0.0, 1e-6, "rounding of thresholds");
    brv_test_spots_free(&spots);
    brv_test_spots_free(&spots);
}

static void a_step_is_a_run(void **state)
{
    (void)state;
    hold_steps(7e-9, 330.0, 1.37, "test spots, 7 ns, shares of grains: worst against runs");
    hold_steps(30e-6, 8000.0, 1.05, "test spots, 30 us, shares of grains: worst against runs");
}

static struct brv_spread hottest_place(const struct brv_site *site)
{
    struct brv_spread most = {0.0, 0.0, 0.0};
    for (size_t probe = BRV_PROBE_LAYER; probe < site->history.n_probe; probe++)
        if (probe != site->history.film) most = brv_spread_higher(&most, &site->effect.hottest[probe]);
    return most;
}

static double far(const struct brv_spread *one, const struct brv_spread *other)
{
    return fmax(fabs(one->value - other->value), fmax(fabs(one->low - other->low), fabs(one->high - other->high)));
}

/* No rise of skin is in proportion to these: a temperature has a start and what lies on the skin draws, and Omega goes by
 * the exponential of it: E/RT makes some hundred times as much of the rounding of rises, 1e-11 of them. */
static void hold_places(const struct brv_scenario *ask, double most, const char *what)
{
    struct brv_test_spots spots;
    double warmth = 0.0, damage = 0.0, worst = -(double)INFINITY;
    assert_int_equal(brv_scenario_check(ask, NULL, 0), 0);
    assert_int_equal(brv_test_spots_solve(&spots, ask, NULL, NULL), BRV_OK);
    for (size_t k = 0; k < spots.n; k++) {
        struct brv_result run;
        struct brv_scenario one = *ask;
        one.beam.fluence = spots.step[k].fluence;
        one.beam.energy = spots.step[k].energy;
        assert_int_equal(brv_run_solve(&run, &one, NULL, NULL), BRV_OK);
        for (size_t site = 0; site < BRV_N_SITE; site++) {
            const struct brv_test_spot_site *at = &spots.step[k].site[site];
            const struct brv_effect *effect = &run.site[site].effect;
            const struct brv_spread hottest = hottest_place(&run.site[site]);
            const struct brv_spread tens = {effect->damage.value / log(10.0), effect->damage.low / log(10.0),
                                            effect->damage.high / log(10.0)};
            warmth = fmax(warmth, far(&at->hottest, &hottest));
            damage = fmax(damage, far(&at->damage, &tens));
            worst = fmax(worst, at->damage.value);
            assert_int_equal(at->illustrative, effect->illustrative);
            assert_int_equal(effect->film.there, ask->film.given != 0);
            if (effect->film.there) check_close(at->film.high, effect->film.peak.high, 1e-11, 0.0);
        }
        brv_run_free(&run);
    }
    check_row(what, "own runs (computed): hottest place, K", warmth, 0.0, 1e-8, "rounding of rises");
    check_row(what, "own runs (computed): log10 Omega", damage, 0.0, 1e-8, "likewise, times E/RT");
    assert_true(worst > most); /* or there was nothing to compare */
    brv_test_spots_free(&spots);
}

/* 10 ms of deep red light; a train below a cold plate; a film. */
static void places_of_a_step_are_those_of_a_run(void **state)
{
    (void)state;
    struct brv_scenario ask = with_ladder(2e4, 1.4, 4.0);
    ask.beam.wavelength = 694e-9;
    ask.pulse.width = 10e-3;
    ask.watch.until = 1.0;
    brv_scenario_fill(&ask);
    hold_places(&ask, 0.0, "test spots, 10 ms: worst against runs");

    ask = with_ladder(3e3, 1.7, 4.0);
    ask.pulse.count = 12.0;
    ask.pulse.rate = 10.0;
    sample_give(&ask.pulse, BRV_SCOPE_PULSE, "count");
    sample_give(&ask.pulse, BRV_SCOPE_PULSE, "rate");
    ask.surface.outside = BRV_PLATE;
    ask.surface.outside_temperature = 278.15;
    ask.surface.from = -2.0;
    sample_give(&ask.surface, BRV_SCOPE_SURFACE, "outside");
    sample_give(&ask.surface, BRV_SCOPE_SURFACE, "outside_temperature");
    sample_give(&ask.surface, BRV_SCOPE_SURFACE, "from");
    ask.watch.until = 5.0;
    brv_scenario_fill(&ask);
    hold_places(&ask, 0.0, "test spots, a train below a plate of 5 C: worst against runs");

    ask = with_ladder(1e3, 3.0, 4.0);
    ask.film.thickness = 5e-6;
    ask.film.absorption = 2e5;
    sample_give(&ask.film, BRV_SCOPE_FILM, "thickness");
    sample_give(&ask.film, BRV_SCOPE_FILM, "absorption");
    brv_scenario_fill(&ask);
    hold_places(&ask, 0.0, "test spots, a film: worst against runs");
}

static void signs_by_their_range(void **state)
{
    (void)state;
    const struct brv_spread range = {2.0, 1.0, 4.0}, open = {2.0, 1.0, NAN}, none = {NAN, NAN, NAN};
    assert_int_equal(brv_sign_at(&range, 0.99), BRV_SIGN_NONE);
    assert_int_equal(brv_sign_at(&range, 1.0), BRV_SIGN_UNSURE);
    assert_int_equal(brv_sign_at(&range, 4.0), BRV_SIGN_UNSURE);
    assert_int_equal(brv_sign_at(&range, 4.1), BRV_SIGN_SEEN);
    assert_int_equal(brv_sign_at(&open, 1e6), BRV_SIGN_UNSURE); /* the column may need more pigment than there is */
    assert_int_equal(brv_sign_at(&none, 1e6), BRV_SIGN_NONE);
}

static bool refused(const struct brv_scenario *ask, brv_status status, const char *name)
{
    return sample_is_only_fault(ask, status, BRV_SCOPE_LADDER, name);
}

static void ladders_that_cannot_be(void **state)
{
    (void)state;
    struct brv_scenario ask = with_ladder(330.0, 1.37, 9.0);
    assert_false(refused(&ask, BRV_ORDER, "count"));
    ask = with_ladder(330.0, 1.0, 9.0);
    assert_true(refused(&ask, BRV_RANGE, "ratio"));
    ask = with_ladder(330.0, 5.0, 9.0); /* 1.3e8 J/m2 follow from the ratio: one fault, not two */
    assert_true(refused(&ask, BRV_RANGE, "ratio"));
    ask = with_ladder(330.0, 1.37, 13.0);
    assert_true(refused(&ask, BRV_RANGE, "count"));
    ask = with_ladder(330.0, 1.37, 4.5);
    assert_true(refused(&ask, BRV_ORDER, "count"));
    ask = with_ladder(1e6, 2.0, 4.0); /* 8e6 J/m2 through 4 mm are 100 J */
    assert_false(refused(&ask, BRV_ORDER, "count"));
    ask = with_ladder(1e6, 2.0, 5.0); /* 1.6e7 J/m2 */
    assert_true(refused(&ask, BRV_ORDER, "count"));
    ask = with_ladder(330.0, 1.37, 9.0);
    ask.ladder.given &= ~brv_key_bit((size_t)brv_key_find(BRV_SCOPE_LADDER, "first"));
    assert_true(refused(&ask, BRV_MISSING, "first"));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_step_is_a_run),
        cmocka_unit_test(places_of_a_step_are_those_of_a_run),
        cmocka_unit_test(signs_by_their_range),
        cmocka_unit_test(ladders_that_cannot_be),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
