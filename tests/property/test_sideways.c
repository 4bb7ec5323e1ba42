/* What must hold for any scenario under a spot, whose heat goes sideways: random ones as in test_property.c, which asks
 * endless beams only, solved with the kernel for spots. BREVIS_SEED=n repeats or varies them.                        */
#include "run/run.h"
#include "support/check.h"
#include "support/random.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

enum { N_CASE = 40 };

static struct random_case spot_case(size_t i)
{
    struct random_case one = random_case_draw(i);
    one.drawn.beam.method = one.ask.beam.method = BRV_METHOD_SPOT;
    return one;
}

static double warmest(const struct brv_history *history)
{
    double most = history->adiabatic;
    for (size_t i = 0; i < history->n_probe * history->n_time; i++) most = fmax(most, history->rise[i]);
    return most;
}

/* Every number is one, accounts close, and nothing gets colder by pulses. 5e-3 of the warmest: coarse cells and map of
 * the disc far from light, 1.8e-3 was the worst of a thousand; a map that misses a tenth of the light says so.      */
static void check_site(const struct random_case *one, const struct brv_site *site)
{
    const struct brv_history *history = &site->history;
    const double most = warmest(history);
    const double share[] = {site->audit.layers, site->audit.pulses, site->audit.beside, site->audit.grain};
    for (size_t i = 0; i < 4; i++) random_case_hold(one, fabs(share[i]) < 1e-10, "an energy account", share[i], 1e-10);
    for (size_t probe = BRV_PROBE_LAYER; probe < history->n_probe; probe++)
        for (size_t i = 0; i < history->n_time; i++) {
            const double rise = brv_history_rise(history, probe)[i];
            random_case_hold(one, isfinite(rise) && rise >= -5e-3 * most, "rise of a layer or depth", rise,
                             -5e-3 * most);
        }
    for (size_t i = 0; i < BRV_N_CRITERION; i++) {
        const struct brv_spread *threshold = &site->effect.threshold[i];
        if (isnan(threshold->value)) continue;
        random_case_hold(one, threshold->low <= 1.001 * threshold->value && threshold->value <= 1.001 * threshold->high,
                         "darker grains need less", threshold->low, threshold->high);
    }
}

static void any_spot_is_answered(void **state)
{
    (void)state;
    size_t n_disc = 0;
    print_message("BREVIS_SEED=%lu, %d scenarios\n", random_seed(), N_CASE);
    for (size_t i = 0; i < N_CASE; i++) {
        const struct random_case one = spot_case(i);
        struct brv_error error = {.place = ""};
        struct brv_site site;
        const brv_status status = brv_site_solve(&site, &one.ask, i % BRV_N_SITE, BRV_VALUES_ONLY, NULL, &error);
        random_case_hold(&one, !status, error.place, error.found, error.most);
        check_site(&one, &site);
        n_disc += site.history.field.n_depth > 0;
        brv_site_free(&site);
    }
    assert_true(n_disc > N_CASE / 4); /* the disc was asked */
}

/* A train under a plate, both sites: the same bytes with one thread and with eight. */
static void threads_change_nothing(void **state)
{
    (void)state;
    struct random_case one = spot_case(0);
    struct brv_scenario *ask = &one.ask;
    struct brv_result single, eight;
    for (size_t i = 1; i < N_CASE && brv_pulse_total(&ask->pulse) < 2; i++) one = spot_case(i);
    assert_true(brv_pulse_total(&ask->pulse) > 1);
    assert_int_equal(brv_run_solve(&single, ask, &(struct brv_control){.threads = 1}, NULL), BRV_OK);
    assert_int_equal(brv_run_solve(&eight, ask, &(struct brv_control){.threads = 8}, NULL), BRV_OK);
    for (size_t site = 0; site < BRV_N_SITE; site++) {
        const struct brv_history *a = &single.site[site].history, *b = &eight.site[site].history;
        assert_memory_equal(a->rise, b->rise, a->n_probe * a->n_time * sizeof *a->rise);
        assert_memory_equal(a->pigment, b->pigment, a->n_probe * a->n_time * sizeof *a->pigment);
    }
    brv_run_free(&single);
    brv_run_free(&eight);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(any_spot_is_answered),
                                       cmocka_unit_test(threads_change_nothing)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
