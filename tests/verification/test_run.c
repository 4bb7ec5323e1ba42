/* The whole chain, light to meaning: what must hold for any scenario, and numbers known from outside. */
#include "base/constants.h"
#include "run/run.h"
#include "support/check.h"
#include "support/sample.h"

#include <gsl/gsl_integration.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

static void solve(struct brv_result *result, struct brv_scenario ask)
{
    struct brv_error error = {.place = ""};
    struct brv_error fault;
    brv_scenario_fill(&ask);
    assert_int_equal(brv_scenario_check(&ask, &fault, 1), 0);
    const brv_status status = brv_run_solve(result, &ask, 1, &error);
    if (status) fail_msg("%s: %s, found %g", error.place, brv_status_text(status), error.found);
}

static double peak(const struct brv_result *result, size_t site, size_t probe)
{
    return result->site[site].effect.peak[probe].value;
}

static void budget_and_audit_close(void **state)
{
    (void)state;
    static const double nm[] = {532, 694, 1064}, pulse[] = {10e-12, 7e-9, 2.3e-6, 1e-3, 0.1};
    for (size_t i = 0; i < 3; i++)
        for (size_t j = 0; j < 5; j++) {
            struct brv_scenario ask = sample_scenario();
            struct brv_result result;
            ask.beam.wavelength = nm[i] * 1e-9;
            ask.pulse.width = pulse[j];
            ask.pulse.shape = j % 2 ? BRV_SHAPE_SQUARE : BRV_SHAPE_GAUSSIAN;
            solve(&result, ask);
            for (size_t site = 0; site < BRV_N_SITE; site++) {
                const struct brv_site *here = &result.site[site];
                double cells = 0.0;
                assert_true(fabs(here->light.layered.residual) < 1e-8);
                assert_true(fabs(here->audit.layers) < 1e-10 && fabs(here->audit.grain) < 1e-10);
                assert_true(fabs(here->audit.join) < 1e-10);
                for (size_t k = 0; k < here->light.layered.n_medium; k++) cells += here->light.layered.absorbed[k];
                check_close(here->audit.absorbed, 6e3 * cells, 1e-8, 0.0); /* heat got all that light gave */
            }
            brv_run_free(&result);
        }
}

/* After a long pulse, and late after a short one, the grain is its layer to 1e-6 of the peak. */
static void grain_becomes_its_layer(void **state)
{
    (void)state;
    struct brv_scenario ask = sample_scenario();
    struct brv_result result;
    solve(&result, ask);
    const struct brv_history *h = &result.site[BRV_LESION].history;
    for (size_t i = 0; i < h->n_time; i++) {
        if (h->time[i] < 1e-5) continue;
        for (size_t probe = 0; probe < 3; probe++)
            check_close(brv_history_rise(h, probe)[i], brv_history_rise(h, BRV_PROBE_LAYER)[i], 0.0,
                        1e-6 * peak(&result, BRV_LESION, BRV_PROBE_MEAN));
    }
    brv_run_free(&result);
}

/* The lesson: a nanosecond pulse leaves the grain ten times hotter than its layer; a millisecond pulse does not. */
static void short_pulses_keep_heat_in_the_grain(void **state)
{
    (void)state;
    struct brv_scenario ask = sample_scenario();
    struct brv_result fast, slow;
    sample_set(&ask, BRV_SCOPE_LAYER, 1, "melanosomes", 0.06);
    sample_set(&ask, BRV_SCOPE_GRAIN, 0, "diameter", 0.5e-6);
    solve(&fast, ask);
    ask.pulse.width = 1e-3;
    solve(&slow, ask);
    assert_true(peak(&fast, BRV_NEIGHBOUR, BRV_PROBE_MEAN) > 10.0 * peak(&fast, BRV_NEIGHBOUR, BRV_PROBE_LAYER));
    assert_true(peak(&slow, BRV_NEIGHBOUR, BRV_PROBE_MEAN) < 1.05 * peak(&slow, BRV_NEIGHBOUR, BRV_PROBE_LAYER));
    brv_run_free(&fast);
    brv_run_free(&slow);
}

static void everything_is_linear_in_fluence(void **state)
{
    (void)state;
    struct brv_scenario ask = sample_scenario();
    struct brv_result one, other;
    solve(&one, ask);
    ask.beam.fluence *= 2.385;
    solve(&other, ask);
    for (size_t i = 0; i < one.site[0].history.n_probe * one.site[0].history.n_time; i++)
        check_close(other.site[0].history.rise[i], 2.385 * one.site[0].history.rise[i], 1e-9, 1e-12);
    check_close(other.site[0].effect.threshold[0].value, one.site[0].effect.threshold[0].value, 1e-9, 0.0);
    brv_run_free(&one);
    brv_run_free(&other);
}

/* Highest mean and surface of grains after a square 7-ns pulse, as a share of the adiabatic rise. */
static void grain_keeps_this_share_of_seven_nanoseconds(void **state)
{
    (void)state;
    static const struct {
        double um, mean;
    } row[] = {{1.0, 0.94}, {0.6, 0.89}, {0.3, 0.78}, {0.13, 0.54}};
    for (size_t i = 0; i < 4; i++) {
        struct brv_scenario ask = sample_scenario();
        struct brv_result result;
        char what[80];
        sample_set(&ask, BRV_SCOPE_GRAIN, 0, "diameter", row[i].um * 1e-6);
        sample_set(&ask, BRV_SCOPE_LAYER, 1, "melanosomes", 1e-9); /* alone: no warmth from other grains */
        solve(&result, ask);
        const struct brv_effect *effect = &result.site[BRV_NEIGHBOUR].effect;
        const double layer = peak(&result, BRV_NEIGHBOUR, BRV_PROBE_LAYER);
        snprintf(what, sizeof what, "mean of a %.2f um grain, 7 ns, over adiabatic", row[i].um);
        check_row(what, "grain-shares (computed, two digits)",
                  effect->peak[BRV_PROBE_MEAN].value / effect->adiabatic_rise, row[i].mean, 0.01,
                  "two digits, and host capacity 0.5 % off");
        assert_true(layer < 0.05 * effect->adiabatic_rise);
        brv_run_free(&result);
    }
}

/* Pulse-width table, set B (k1/k2 0.4, alpha1/alpha2 0.5): peak of surface and centre of a 1-um grain. */
static void pulse_width_table(void **state)
{
    (void)state;
    static const struct {
        double pulse, surface, centre;
    } row[] = {{3e-9, 0.3497, 1.0},
               {50e-9, 0.3154, 1.0},
               {240e-9, 0.2653, 0.9893},
               {1e-6, 0.1817, 0.6733},
               {6e-6, 0.0593, 0.1647}};
    for (size_t i = 0; i < sizeof row / sizeof *row; i++) {
        struct brv_scenario ask = sample_scenario();
        struct brv_result result;
        char what[80];
        const double alpha = 1.3e-7, capacity = 1150.0 * 3590.0;
        ask.pulse.width = row[i].pulse;
        sample_set(&ask, BRV_SCOPE_GRAIN, 0, "diameter", 1e-6);
        sample_set(&ask, BRV_SCOPE_GRAIN, 0, "host_conductivity", alpha * capacity);
        sample_set(&ask, BRV_SCOPE_GRAIN, 0, "conductivity", 0.4 * alpha * capacity);
        sample_set(&ask, BRV_SCOPE_GRAIN, 0, "density", 1000.0);
        sample_set(&ask, BRV_SCOPE_GRAIN, 0, "heat_capacity", 0.8 * capacity / 1000.0);
        sample_set(&ask, BRV_SCOPE_LAYER, 1, "melanosomes", 0.0);
        ask.skin[0].grain.layer = ask.skin[1].grain.layer = 1;
        sample_give(&ask.skin[0].grain, BRV_SCOPE_GRAIN, "layer");
        sample_give(&ask.skin[1].grain, BRV_SCOPE_GRAIN, "layer");
        solve(&result, ask);
        const struct brv_history *h = &result.site[BRV_NEIGHBOUR].history;
        const double adiabatic = result.site[BRV_NEIGHBOUR].effect.adiabatic_rise;
        double surface = 0.0, centre = 0.0;
        for (size_t k = 0; k < h->n_time; k++) {
            centre = fmax(centre, h->excess[BRV_PROBE_CENTRE * h->n_time + k]);
            surface = fmax(surface, h->excess[BRV_PROBE_SURFACE * h->n_time + k]);
        }
        snprintf(what, sizeof what, "1-um grain, pulse %g s, surface over adiabatic", row[i].pulse);
        check_row(what, "pulse-width-factor (computed)", surface / adiabatic, row[i].surface, 0.012 * row[i].surface,
                  "the table sought its peak on a coarse set of times: 1 %");
        snprintf(what, sizeof what, "1-um grain, pulse %g s, centre over adiabatic", row[i].pulse);
        check_row(what, "pulse-width-factor (computed)", centre / adiabatic, row[i].centre, 0.003,
                  "four digits less the cells of a run");
        brv_run_free(&result);
    }
}

/* Share of a warm sphere's heat still in it at Fo, in like surroundings: the heat kernel averaged over the distances
 * between two points of a sphere, whose density is 3 s^2 (1 - 3 s/4 + s^3/16) for radius 1.                       */
static double pair(double s, void *fo)
{
    return s * s * (1.0 - 0.75 * s + s * s * s / 16.0) * exp(-s * s / (4.0 * *(double *)fo));
}

static double sphere_share(double fo)
{
    double value, error;
    gsl_integration_workspace *space = gsl_integration_workspace_alloc(100);
    gsl_function f = {pair, &fo};
    gsl_integration_qags(&f, 0.0, 2.0, 0.0, 1e-9, 100, space, &value, &error);
    gsl_integration_workspace_free(space);
    return value * 4.0 * BRV_PI / pow(4.0 * BRV_PI * fo, 1.5);
}

/* Heat still in a grain when a square pulse ends: the mean of that share over the pulse. */
static void heat_still_held(void **state)
{
    (void)state;
    static const double pulse[] = {5e-9, 200e-9, 1e-6};
    for (size_t i = 0; i < 3; i++) {
        struct brv_scenario ask = sample_scenario();
        struct brv_result result;
        char what[80];
        const double capacity = 1150.0 * 3590.0, alpha = 1.3e-7, radius = 0.5e-6;
        ask.pulse.width = pulse[i];
        sample_set(&ask, BRV_SCOPE_GRAIN, 0, "diameter", 2.0 * radius);
        sample_set(&ask, BRV_SCOPE_GRAIN, 0, "host_conductivity", alpha * capacity);
        sample_set(&ask, BRV_SCOPE_GRAIN, 0, "conductivity", alpha * capacity);
        sample_set(&ask, BRV_SCOPE_GRAIN, 0, "density", 1150.0);
        sample_set(&ask, BRV_SCOPE_GRAIN, 0, "heat_capacity", 3590.0);
        sample_set(&ask, BRV_SCOPE_LAYER, 1, "melanosomes", 0.0);
        ask.skin[0].grain.layer = ask.skin[1].grain.layer = 1;
        sample_give(&ask.skin[0].grain, BRV_SCOPE_GRAIN, "layer");
        sample_give(&ask.skin[1].grain, BRV_SCOPE_GRAIN, "layer");
        solve(&result, ask);

        double mean = 0.0;
        const int n = 400; /* substitution s = sqrt(t) makes the start smooth */
        for (int k = 0; k < n; k++) {
            const double s = (k + 0.5) / n;
            mean += 2.0 * s * sphere_share(s * s * alpha * pulse[i] / (radius * radius)) / n;
        }
        snprintf(what, sizeof what, "share of heat held by a 1-um grain, square %g s", pulse[i]);
        check_row(what, "sphere-pair-distances (exact, memory)", result.site[BRV_NEIGHBOUR].audit.held, mean, 0.002,
                  "cells of a run");
        brv_run_free(&result);
    }
}

/* Cells and steps of a run against the same run with eight threads, and with itself: the same bytes. */
static void threads_change_nothing(void **state)
{
    (void)state;
    struct brv_scenario ask = sample_scenario();
    struct brv_result one, eight;
    struct brv_error error;
    brv_scenario_fill(&ask);
    assert_int_equal(brv_run_solve(&one, &ask, 1, &error), BRV_OK);
    assert_int_equal(brv_run_solve(&eight, &ask, 8, &error), BRV_OK);
    const struct brv_history *a = &one.site[0].history, *b = &eight.site[0].history;
    assert_memory_equal(a->rise, b->rise, a->n_probe * a->n_time * sizeof *a->rise);
    assert_memory_equal(one.site[1].effect.peak, eight.site[1].effect.peak, sizeof one.site[1].effect.peak);
    brv_run_free(&one);
    brv_run_free(&eight);
    brv_run_free(&eight); /* twice is allowed */
}

/* Thresholds by hand: fluence x (criterion - start) / rise, and the spread turned round. */
static void threshold_follows_from_the_rise(void **state)
{
    (void)state;
    struct brv_result result;
    solve(&result, sample_scenario());
    const struct brv_effect *effect = &result.site[BRV_NEIGHBOUR].effect;
    check_close(effect->threshold[0].value, 6e3 * (112.0 - 33.0) / effect->peak[BRV_PROBE_MEAN].value, 1e-12, 0.0);
    check_close(effect->threshold[2].value / effect->threshold[0].value, (150.0 - 33.0) / (112.0 - 33.0), 1e-12, 0.0);
    check_close(effect->threshold[1].low, 6e3 * (136.0 - 33.0) / effect->peak[BRV_PROBE_MEAN].high, 1e-12, 0.0);
    assert_true(effect->threshold[0].low < effect->threshold[0].value);
    brv_run_free(&result);
}

/* A 1-um grain: sound crosses in 667 ps; its relaxation by d^2/(16 alpha) is 480.8 ns. */
static void times_by_formula(void **state)
{
    (void)state;
    struct brv_scenario ask = sample_scenario();
    struct brv_result result;
    sample_set(&ask, BRV_SCOPE_GRAIN, 0, "diameter", 1e-6);
    solve(&result, ask);
    check_row("stress confinement, 1 um [ps]", "photoacoustic (memory)", 1e12 * result.site[0].effect.stress_time,
              667.0, 0.5, "digits of the table");
    check_row("relaxation, 1 um, kappa 16 [ns]", "trade-diffusivity (memory)",
              1e9 * brv_relaxation_time(16.0, 1e-6, BRV_TRADE_DIFFUSIVITY), 480.8, 0.05, "digits of the table");
    check_row("relaxation, 1 um, kappa 4 [ns]", "trade-diffusivity (memory)",
              1e9 * brv_relaxation_time(4.0, 1e-6, BRV_TRADE_DIFFUSIVITY), 1923.1, 0.05, "digits of the table");
    brv_run_free(&result);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(budget_and_audit_close),
                                       cmocka_unit_test(grain_becomes_its_layer),
                                       cmocka_unit_test(short_pulses_keep_heat_in_the_grain),
                                       cmocka_unit_test(everything_is_linear_in_fluence),
                                       cmocka_unit_test(grain_keeps_this_share_of_seven_nanoseconds),
                                       cmocka_unit_test(pulse_width_table),
                                       cmocka_unit_test(heat_still_held),
                                       cmocka_unit_test(threads_change_nothing),
                                       cmocka_unit_test(threshold_follows_from_the_rise),
                                       cmocka_unit_test(times_by_formula)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
