/* The whole chain, light to meaning: what must hold for any scenario, and numbers known from outside. */
#include "base/constants.h"
#include "run/run.h"
#include "support/check.h"
#include "support/exact_sphere.h"
#include "support/sample.h"
#include "support/table.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define DATA "tests/verification/data/"

/* Pulse-width table, relative. */
#define SURFACE_TABLE 0.005
#define CENTRE_TABLE  0.001
#define SURFACE_EXACT 0.002
#define CENTRE_EXACT  0.001
#define HELD_EXACT    0.002 /* heat leaves a 1-um grain through a nanometre in 10 ps */

static void solve(struct brv_result *result, struct brv_scenario ask)
{
    struct brv_error error = {.place = ""};
    struct brv_error fault;
    brv_scenario_fill(&ask);
    assert_int_equal(brv_scenario_check(&ask, &fault, 1), 0);
    const brv_status status = brv_run_solve(result, &ask, &(struct brv_control){.threads = 1}, &error);
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
                check_close(here->audit.layers, brv_ledger_missing(&here->audit.skin), 0.0, 0.0); /* told as it is */
                for (size_t k = 0; k < here->light.layered.n_medium; k++) cells += here->light.layered.absorbed[k];
                check_close(here->audit.skin.absorbed, 6e3 * cells, 1e-8, 0.0); /* heat got all that light gave */
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

/* A grain of 1 um alone in surroundings of the trade diffusivity, of k and alpha relative to them. */
static const double pulse_grain_radius = 0.5e-6;

static struct brv_scenario grain_alone(double pulse, double k_ratio, double alpha_ratio)
{
    const double capacity = 1150.0 * 3590.0, conductivity = BRV_TRADE_DIFFUSIVITY * capacity;
    struct brv_scenario ask = sample_scenario();
    ask.pulse.width = pulse;
    sample_set(&ask, BRV_SCOPE_GRAIN, 0, "diameter", 2.0 * pulse_grain_radius);
    sample_set(&ask, BRV_SCOPE_GRAIN, 0, "host_conductivity", conductivity);
    sample_set(&ask, BRV_SCOPE_GRAIN, 0, "conductivity", k_ratio * conductivity);
    sample_set(&ask, BRV_SCOPE_GRAIN, 0, "density", 1150.0);
    sample_set(&ask, BRV_SCOPE_GRAIN, 0, "heat_capacity", 3590.0 * k_ratio / alpha_ratio);
    sample_set(&ask, BRV_SCOPE_LAYER, 1, "melanosomes", 0.0);
    for (size_t site = 0; site < BRV_N_SITE; site++) {
        ask.skin[site].grain.layer = 1;
        sample_give(&ask.skin[site].grain, BRV_SCOPE_GRAIN, "layer");
    }
    return ask;
}

/* Highest rise of centre and surface over the layer, and the heat still held, as shares of the adiabatic rise. */
struct shares {
    double surface, centre, held;
};

static struct shares pulse_shares(double pulse, double k_ratio, double alpha_ratio)
{
    struct brv_result result;
    struct shares shares = {0.0, 0.0, 0.0};
    solve(&result, grain_alone(pulse, k_ratio, alpha_ratio));
    const struct brv_site *site = &result.site[BRV_NEIGHBOUR];
    const struct brv_history *h = &site->history;
    for (size_t i = 0; i < h->n_time; i++) {
        shares.centre = fmax(shares.centre, h->excess[BRV_PROBE_CENTRE * h->n_time + i]);
        shares.surface = fmax(shares.surface, h->excess[BRV_PROBE_SURFACE * h->n_time + i]);
    }
    shares.centre /= site->effect.adiabatic_rise;
    shares.surface /= site->effect.adiabatic_rise;
    shares.held = site->audit.held;
    brv_run_free(&result);
    return shares;
}

/* Conductivity and diffusivity of grain over surroundings in the sets A and B, and the 3-ns pulse they refer to. */
struct pulse_set {
    double k_ratio, alpha_ratio;
    struct shares base;
};

static const struct pulse_set *set_of(const struct table_row *row, const struct pulse_set sets[2])
{
    const char *name = table_text(row, "set");
    if (strcmp(name, "A") != 0 && strcmp(name, "B") != 0) table_fail(row, "is of an unknown set", name);
    return &sets[name[0] - 'A'];
}

static const char *const cells_of_a_run = "cells and steps of a run";

/* One column of one row, where it is not blank. */
static void check_share(const struct table_row *row, const char *column, double found, double relative,
                        const char *reason)
{
    char what[120];
    if (table_blank(row, column)) return;
    const double expected = table_number(row, column);
    snprintf(what, sizeof what, "1-um grain, set %s, pulse %s s, %s", table_text(row, "set"),
             table_text(row, "pulse_s"), column);
    check_row(what, "pulse-width-factor (computed)", found, expected, relative * expected + table_rounding(row, column),
              reason);
}

/* Set A, grain like its surroundings, has closed forms: they hold the model tighter than the table can. */
static void check_exact(const char *pulse, const struct shares *found)
{
    const double reduced = BRV_TRADE_DIFFUSIVITY * atof(pulse) / (pulse_grain_radius * pulse_grain_radius);
    char what[120];
    snprintf(what, sizeof what, "1-um grain like its surroundings, pulse %s s, surface over adiabatic", pulse);
    check_row(what, "carslaw-jaeger (exact, memory)", found->surface, exact_sphere_pulse_rise(reduced, 1.0),
              SURFACE_EXACT * found->surface, cells_of_a_run);
    snprintf(what, sizeof what, "1-um grain like its surroundings, pulse %s s, centre over adiabatic", pulse);
    check_row(what, "carslaw-jaeger (exact, memory)", found->centre, exact_sphere_pulse_rise(reduced, 0.0),
              CENTRE_EXACT * found->centre, cells_of_a_run);
    snprintf(what, sizeof what, "1-um grain like its surroundings, pulse %s s, heat still held", pulse);
    check_row(what, "sphere-pair-distances (exact, memory)", found->held, exact_sphere_pulse_mean(reduced),
              HELD_EXACT * found->held, cells_of_a_run);
}

static void check_pulse_width(const struct table_row *row, void *sets)
{
    const struct pulse_set *set = set_of(row, sets);
    const struct shares here = pulse_shares(table_number(row, "pulse_s"), set->k_ratio, set->alpha_ratio);
    const char *const coarse =
        "the table sought its peak on a coarse set of times: 1 % at the surface, half of it used";
    const char *const digits = "printed digits, cells and steps of a run";
    check_share(row, "surface_peak_fraction", here.surface, SURFACE_TABLE, coarse);
    check_share(row, "centre_peak_fraction", here.centre, CENTRE_TABLE, digits);
    check_share(row, "threshold_ratio_surface", set->base.surface / here.surface, SURFACE_TABLE, coarse);
    check_share(row, "threshold_ratio_centre", set->base.centre / here.centre, CENTRE_TABLE, digits);
    if (set == sets) check_exact(table_text(row, "pulse_s"), &here);
}

static void pulse_width_table(void **state)
{
    (void)state;
    struct pulse_set sets[2] = {{1.0, 1.0, pulse_shares(3e-9, 1.0, 1.0)}, {0.4, 0.5, pulse_shares(3e-9, 0.4, 0.5)}};
    assert_int_equal(table_each(DATA "pulse_width_factor_computed.csv", check_pulse_width, sets), 25);
}

/* What a grain would lead its cell by counts the cell it shares with others: a pulse far shorter than the relaxation leaves
 * all of that, however dense the grains. 3 %: a skin of (6 / d) 2 sqrt(alpha t / pi) has been left within 10 ps.      */
static void a_short_pulse_leaves_its_lead_to_dense_grains(void **state)
{
    (void)state;
    struct brv_scenario ask = sample_scenario();
    struct brv_result result;
    ask.pulse.width = 10e-12;
    sample_set(&ask, BRV_SCOPE_LAYER, 1, "melanosomes", 0.3);
    solve(&result, ask);
    for (size_t site = 0; site < BRV_N_SITE; site++) {
        assert_true(result.site[site].audit.held < 1.0);
        check_close(result.site[site].audit.held, 1.0, 0.03, 0.0);
    }
    brv_run_free(&result);
}

/* Cells of a layer, grain and host together, absorb what the layer does, over all that the keys allow. */
static void cells_and_layer_absorb_alike(void **state)
{
    (void)state;
    for (size_t corner = 0; corner < 8; corner++) {
        struct brv_scenario ask = sample_scenario();
        struct brv_result result;
        sample_set(&ask, BRV_SCOPE_GRAIN, 0, "darkness", corner & 1 ? 100.0 : 1e-6);
        sample_set(&ask, BRV_SCOPE_GRAIN, 0, "diameter", corner & 2 ? 5e-6 : 0.05e-6);
        sample_set(&ask, BRV_SCOPE_LAYER, 1, "melanosomes", corner & 4 ? 0.6 : 1e-6);
        solve(&result, ask);
        for (size_t site = 0; site < BRV_N_SITE; site++)
            check_close(result.site[site].audit.join, 0.0, 0.0, 1e-10); /* what every run is held to */
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
    assert_int_equal(brv_run_solve(&one, &ask, &(struct brv_control){.threads = 1}, &error), BRV_OK);
    assert_int_equal(brv_run_solve(&eight, &ask, &(struct brv_control){.threads = 8}, &error), BRV_OK);
    const struct brv_history *a = &one.site[0].history, *b = &eight.site[0].history;
    assert_memory_equal(a->rise, b->rise, a->n_probe * a->n_time * sizeof *a->rise);
    assert_memory_equal(one.site[1].effect.peak, eight.site[1].effect.peak, sizeof one.site[1].effect.peak);
    brv_run_free(&one);
    brv_run_free(&eight);
    brv_run_free(&eight); /* twice is allowed */
}

/* A train of a whole run: before every pulse a grain in its cell has nothing left of its own, and grains and layers
 * hold the same energy over all pulses.                                                                              */
static void grains_of_a_train_keep_nothing(void **state)
{
    (void)state;
    struct brv_scenario ask = sample_scenario();
    struct brv_result result;
    ask.pulse.count = 20.0;
    ask.pulse.rate = 10.0;
    sample_give(&ask.pulse, BRV_SCOPE_PULSE, "count");
    sample_give(&ask.pulse, BRV_SCOPE_PULSE, "rate");
    solve(&result, ask);
    for (size_t site = 0; site < BRV_N_SITE; site++) {
        const struct brv_site *here = &result.site[site];
        const struct brv_history *history = &here->history;
        assert_int_equal(history->n_pulse, 20);
        for (size_t k = 1; k < history->n_pulse; k++)
            for (size_t probe = 0; probe < BRV_PROBE_LAYER; probe++)
                check_close(history->excess[probe * history->n_time + history->before[k]], 0.0, 0.0,
                            1e-8 * here->effect.peak[BRV_PROBE_MEAN].value);
        check_close(here->audit.join, 0.0, 0.0, 1e-10); /* what every run is held to */
        check_close(here->audit.grain, 0.0, 0.0, 1e-10);
        double share = 0.0;
        for (size_t i = 0; i < here->light.layered.n_medium; i++) share += here->light.layered.absorbed[i];
        check_close(here->audit.skin.absorbed, 20.0 * 6e3 * share, 1e-8, 0.0);
        assert_true(history->rise[BRV_PROBE_LAYER * history->n_time + history->before[19]] >
                    1.0); /* the layer does keep */
    }
    brv_run_free(&result);
}

/* Damage of a run: more light more of it, dermis by its own rates, ten pulses more than one, called an illustration. */
static void damage_follows_warmth(void **state)
{
    (void)state;
    struct brv_result weak, strong;
    struct brv_scenario ask = sample_scenario();
    solve(&weak, ask);
    ask.beam.fluence *= 2.0;
    solve(&strong, ask);
    const struct brv_effect *little = &weak.site[BRV_LESION].effect, *more = &strong.site[BRV_LESION].effect;
    assert_true(little->illustrative && more->illustrative);
    assert_true(more->log_damage[BRV_PROBE_LAYER].value > little->log_damage[BRV_PROBE_LAYER].value + 1.0);
    for (size_t probe = BRV_PROBE_LAYER; probe < weak.site[BRV_LESION].history.n_probe; probe++) {
        const struct brv_spread *damage = &more->log_damage[probe];
        assert_true(damage->low <= damage->value && damage->value <= damage->high);
        assert_true(damage->value <= more->log_damage[more->most_damaged].value);
    }
    brv_run_free(&weak);
    brv_run_free(&strong);
    ask.pulse.width = 20e-3;
    solve(&strong, ask);
    assert_false(strong.site[BRV_LESION].effect.illustrative);
    brv_run_free(&strong);
}

static void lay_warm(struct brv_scenario *ask, double celsius)
{
    ask->surface.outside = BRV_PLATE;
    sample_give(&ask->surface, BRV_SCOPE_SURFACE, "outside");
    sample_set(ask, BRV_SCOPE_SURFACE, 0, "outside_temperature", celsius + 273.15);
    sample_set(ask, BRV_SCOPE_SURFACE, 0, "from", -60.0);
}

/* The rates were fitted to warmth that lasts: where that makes most of Omega, or a burn by itself, a short pulse makes it
 * no illustration.                                                                                                  */
static void lasting_warmth_is_no_illustration(void **state)
{
    (void)state;
    struct brv_result result;
    struct brv_scenario ask = sample_scenario();
    lay_warm(&ask, 55.0);
    ask.beam.fluence *= 0.01;
    solve(&result, ask);
    const double plate = result.site[BRV_LESION].effect.damage.value;
    assert_true(plate > 0.0); /* burnt by the plate */
    for (size_t site = 0; site < BRV_N_SITE; site++) assert_false(result.site[site].effect.illustrative);
    brv_run_free(&result);

    ask.beam.fluence *= 300.0; /* the pulse does more, and the plate what it did */
    solve(&result, ask);
    const struct brv_effect *both = &result.site[BRV_LESION].effect;
    assert_true(both->damage.value > plate + log(4.0)); /* most of it is gathered fast */
    assert_false(both->illustrative);
    brv_run_free(&result);
}

/* Paler grains may leave another place the most damaged one, and darker grains a third: the least and the most of "the
 * most damaged place" are no less than those of any place. Warmed by a gel the surface is hardly touched by darkness.  */
static void damage_spreads_over_all_places(void **state)
{
    (void)state;
    struct brv_result result;
    struct brv_scenario ask = sample_scenario();
    ask.surface.outside = BRV_GEL;
    sample_give(&ask.surface, BRV_SCOPE_SURFACE, "outside");
    sample_set(&ask, BRV_SCOPE_SURFACE, 0, "outside_temperature", 50.0 + 273.15);
    solve(&result, ask);
    bool elsewhere = false;
    for (size_t site = 0; site < BRV_N_SITE; site++) {
        const struct brv_effect *effect = &result.site[site].effect;
        const struct brv_spread *own = &effect->log_damage[effect->most_damaged];
        assert_true(effect->damage.value == own->value);
        elsewhere |= effect->damage.low > own->low;
        for (size_t probe = BRV_PROBE_LAYER; probe < result.site[site].history.n_probe; probe++) {
            assert_true(effect->damage.low >= effect->log_damage[probe].low);
            assert_true(effect->damage.high >= effect->log_damage[probe].high);
        }
    }
    assert_true(elsewhere); /* or nothing was tried */
    brv_run_free(&result);
}

/* Thresholds by hand: fluence x (criterion - start) / rise, and the spread turned round. */
static void threshold_follows_from_the_rise(void **state)
{
    (void)state;
    struct brv_result result;
    solve(&result, sample_scenario());
    const struct brv_effect *effect = &result.site[BRV_NEIGHBOUR].effect;
    /* 33 C at the surface, warmer by the steady flux through half the basal row's depth: some 0.03 K */
    const double start = result.site[BRV_NEIGHBOUR].history.start[BRV_PROBE_MEAN] - 273.15;
    assert_true(start > 33.01 && start < 33.1);
    check_close(effect->threshold[0].value, 6e3 * (112.0 - start) / effect->peak[BRV_PROBE_MEAN].value, 1e-12, 0.0);
    check_close(effect->threshold[2].value / effect->threshold[0].value, (150.0 - start) / (112.0 - start), 1e-12, 0.0);
    check_close(effect->threshold[1].low, 6e3 * (136.0 - start) / effect->peak[BRV_PROBE_MEAN].high, 1e-12, 0.0);
    assert_true(effect->threshold[0].low < effect->threshold[0].value);
    brv_run_free(&result);
}

/* A hot layer counts where its grains stay cool: here an absorber without grains above the pigment. */
static void layers_count_for_the_criterion(void **state)
{
    (void)state;
    static const double fluence[] = {0.1e3, 10e3};
    for (size_t i = 0; i < 2; i++) {
        struct brv_scenario ask = sample_scenario();
        struct brv_result result;
        for (size_t site = 0; site < BRV_N_SITE; site++)
            ask.skin[site].layer[0].given &= ~brv_key_bit((size_t)brv_key_find(BRV_SCOPE_LAYER, "melanosomes"));
        sample_set(&ask, BRV_SCOPE_LAYER, 0, "absorption", 5e4);
        ask.beam.fluence = fluence[i];
        ask.watch.n_depth = 1; /* nobody watches that layer */
        ask.watch.depth[0] = 1e-3;
        sample_give(&ask.watch, BRV_SCOPE_WATCH, "depths");
        solve(&result, ask);
        const struct brv_effect *effect = &result.site[BRV_NEIGHBOUR].effect;
        assert_true(effect->peak[BRV_PROBE_MEAN].value < 112.0 - 33.0);
        assert_int_equal(effect->above, i);
        brv_run_free(&result);
    }
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
                                       cmocka_unit_test(a_short_pulse_leaves_its_lead_to_dense_grains),
                                       cmocka_unit_test(cells_and_layer_absorb_alike),
                                       cmocka_unit_test(threads_change_nothing),
                                       cmocka_unit_test(grains_of_a_train_keep_nothing),
                                       cmocka_unit_test(damage_follows_warmth),
                                       cmocka_unit_test(damage_spreads_over_all_places),
                                       cmocka_unit_test(lasting_warmth_is_no_illustration),
                                       cmocka_unit_test(threshold_follows_from_the_rise),
                                       cmocka_unit_test(layers_count_for_the_criterion),
                                       cmocka_unit_test(times_by_formula)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
