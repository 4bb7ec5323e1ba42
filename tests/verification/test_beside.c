/* Whole runs whose heat leaves sideways: the disc with the light's map as its source, joined to the slab.
 * A skin that takes up all light in a few micrometres and conducts like one material is a half-space under a disc of
 * heat, for which there are closed forms; real skins are held to what must be true of any.                          */
#include "base/constants.h"
#include "heat/heat_beside.h"
#include "run/run.h"
#include "support/check.h"
#include "support/exact_disc.h"
#include "support/sample.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static void solve(struct brv_site *site, struct brv_scenario ask)
{
    struct brv_error error = {.place = ""};
    brv_scenario_fill(&ask);
    assert_int_equal(brv_scenario_check(&ask, NULL, 0), 0);
    if (brv_site_solve(site, &ask, BRV_NEIGHBOUR, BRV_VALUES_ONLY, NULL, &error))
        fail_msg("%s: %g", error.place, error.found);
}

static struct brv_scenario spot_scenario(void)
{
    struct brv_scenario ask = sample_scenario();
    ask.beam.method = BRV_METHOD_SPOT;
    return ask;
}

/* ---- closed forms ---- */

#define CONDUCTIVITY 0.4
#define CAPACITY     3.6e6

/* Nothing is lost, nothing carried away, all light stops in the first micrometres. */
static struct brv_scenario black_half_space(int profile)
{
    struct brv_scenario ask = spot_scenario();
    ask.beam.profile = profile;
    sample_give(&ask.beam, BRV_SCOPE_LIGHT, "profile");
    for (size_t layer = 0; layer < 3; layer++) {
        for (size_t site = 0; site < BRV_N_SITE; site++) {
            struct brv_layer_ask *here = &ask.skin[site].layer[layer];
            here->given = here->given & brv_key_bit((size_t)brv_key_find(BRV_SCOPE_LAYER, "kind"));
            here->melanosomes = 0.0;
        }
        sample_set(&ask, BRV_SCOPE_LAYER, layer, "absorption", 3e5);
        sample_set(&ask, BRV_SCOPE_LAYER, layer, "scattering", 10.0);
        sample_set(&ask, BRV_SCOPE_LAYER, layer, "index", 1.0);
        sample_set(&ask, BRV_SCOPE_LAYER, layer, "conductivity", CONDUCTIVITY);
        sample_set(&ask, BRV_SCOPE_LAYER, layer, "density", 1000.0);
        sample_set(&ask, BRV_SCOPE_LAYER, layer, "heat_capacity", CAPACITY / 1000.0);
        sample_set(&ask, BRV_SCOPE_LAYER, layer, "perfusion", 0.0);
    }
    ask.surface.transfer = 0.0;
    sample_give(&ask.surface, BRV_SCOPE_SURFACE, "transfer");
    ask.watch.n_depth = 2;
    ask.watch.depth[1] = 0.5e-3;
    sample_give(&ask.watch, BRV_SCOPE_WATCH, "depths");
    return ask;
}

/* A row of the history for a time, which the caller must take from it. */
static size_t row_after(const struct brv_history *history, double time)
{
    size_t row = 0;
    while (row + 1 < history->n_time && history->time[row] < time) row++;
    return row;
}

/* In units of conductivity and capacity 1: lengths as they are, times by diffusivity, rises by heat per capacity. */
static double exact(int profile, double time, double depth, double fluence)
{
    const double scaled = time * CONDUCTIVITY / CAPACITY;
    const double rise = profile == BRV_PROFILE_GAUSSIAN ? exact_disc_gaussian(scaled, depth, 2e-3)
                                                        : exact_disc_at_once(scaled, depth, 2e-3);
    return fluence / CAPACITY * rise;
}

static void check_half_space(int profile)
{
    static const double from[] = {0.3, 3.0, 20.0, 59.0};
    struct brv_site site;
    const struct brv_scenario ask = black_half_space(profile);
    solve(&site, ask);
    const struct brv_history *history = &site.history;
    const double fluence = (profile == BRV_PROFILE_GAUSSIAN ? 2.0 : 1.0) * ask.beam.fluence;
    assert_true(history->field.n_depth > 0);
    for (size_t k = 0; k < 4; k++)
        for (size_t d = 0; d < 2; d++) {
            char what[160];
            const size_t row = row_after(history, from[k]);
            const double expected = exact(profile, history->time[row], ask.watch.depth[d], fluence);
            const double scale = exact(profile, history->time[row], 0.0, fluence);
            snprintf(what, sizeof what, "run of a black half-space, %s 4-mm spot, %.3g s, %g mm deep: rise, K",
                     profile == BRV_PROFILE_GAUSSIAN ? "gaussian" : "flat", history->time[row],
                     1e3 * ask.watch.depth[d]);
            check_row(what, "carslaw-jaeger (closed form)", brv_history_rise(history, BRV_N_GRAIN_PROBE + d)[row],
                      expected, 0.005 * scale,
                      "of the surface: map of 33 radii, disc of some 55 rings, light stops within 10 um instead of 0");
        }
    /* 1 %: rings and straight lines of the map; the light is all there */
    check_close(site.audit.beside_share, 1.0, 0.01, 0.0);
    brv_site_free(&site);
}

static void black_half_space_under_a_flat_spot(void **state)
{
    (void)state;
    check_half_space(BRV_PROFILE_FLAT);
}

static void black_half_space_under_a_gaussian_spot(void **state)
{
    (void)state;
    check_half_space(BRV_PROFILE_GAUSSIAN);
}

/* Faces that lie deeper than the light, between layers of the same stuff, are no faces: cells are coarse there. */
static void faces_in_the_dark_change_nothing(void **state)
{
    (void)state;
    static const double thickness[] = {0.4e-3, 3e-3, 30e-3};
    const struct brv_scenario ask = black_half_space(BRV_PROFILE_FLAT);
    struct brv_scenario parted = ask;
    struct brv_site whole, parts;
    for (size_t site = 0; site < BRV_N_SITE; site++) {
        struct brv_skin *skin = &parted.skin[site];
        for (size_t i = 0; i < 3; i++) {
            struct brv_layer_ask *above = &skin->layer[skin->n_layer - 1];
            above[1] = above[0];
            above->thickness = thickness[i];
            sample_give(above, BRV_SCOPE_LAYER, "thickness");
            skin->n_layer++;
        }
    }
    solve(&whole, ask);
    solve(&parts, parted);
    const struct brv_history *one = &whole.history, *other = &parts.history;
    assert_true(other->field.n_depth > 0 && other->n_time == one->n_time);
    /* 1e-5 of the highest: 1e-4 is missed where cells in the dark are three times as wide as the way to them */
    for (size_t i = 0; i < one->n_time; i++)
        for (size_t probe = BRV_N_GRAIN_PROBE; probe < BRV_N_GRAIN_PROBE + 2; probe++)
            check_close(brv_history_rise(other, probe)[i], brv_history_rise(one, probe)[i], 0.0,
                        1e-5 * whole.effect.peak[BRV_N_GRAIN_PROBE].value);
    brv_site_free(&whole);
    brv_site_free(&parts);
}

/* ---- real skin ---- */

/* The same light with and without its map: without, heat stays on the axis. */
static void both_ways(struct brv_history *disc, struct brv_history *slab, struct brv_site *site,
                      const struct brv_scenario *given)
{
    struct brv_scenario ask = *given;
    struct brv_audit audit;
    solve(site, ask);
    brv_scenario_fill(&ask);
    struct brv_light wide = site->light;
    wide.n_map_depth = 0;
    assert_int_equal(brv_heat_run(disc, &audit, &site->tissue, &site->light, &ask, NULL), BRV_OK);
    assert_int_equal(brv_heat_run(slab, &audit, &site->tissue, &wide, &ask, NULL), BRV_OK);
    assert_int_equal(slab->field.n_depth, 0);
}

static double warmest(const struct brv_history *history)
{
    double most = 0.0;
    for (size_t i = 0; i < history->n_time; i++) most = fmax(most, brv_history_rise(history, BRV_PROBE_LAYER)[i]);
    return most;
}

/* The axis of a spot is its warmest place, so what leaves sideways only cools it, and at first not at all. */
static void check_sideways_cools(const struct brv_scenario *ask)
{
    struct brv_history disc, slab;
    struct brv_site site;
    both_ways(&disc, &slab, &site, ask);
    const double most = warmest(&slab);
    const struct brv_layer *last = &site.tissue.layer[site.tissue.n_layer - 1];
    const double first = pow(BRV_BESIDE_FLAT * ask->beam.spot, 2.0) * last->heat_capacity / (4.0 * last->conductivity);
    double lost = 0.0;
    for (size_t probe = BRV_PROBE_LAYER; probe < disc.n_probe; probe++)
        for (size_t i = 0; i < disc.n_time; i++) {
            const double here = brv_history_rise(&disc, probe)[i], wide = brv_history_rise(&slab, probe)[i];
            assert_true(here <= wide + 1e-4 * most); /* grid and map of the disc */
            assert_true(here >= -1e-4 * most);
            /* a gaussian spot has lost 8 alpha t / w^2 = 2e-3 by a tenth of the first time, a flat one nothing; 2e-4
             * of the first rise for the grid                                                                       */
            if (disc.pulse[i] == 1 && disc.since[i] < 0.1 * first)
                assert_true(here >= wide * (1.0 - 2e-3) - 2e-4 * most);
            lost = fmax(lost, wide - here);
        }
    assert_true(lost > 1e-3 * most); /* and in the end it does */
    assert_true(fabs(site.audit.beside) < 1e-10);
    /* light beyond the map is continued as it fell; 3 %: narrow spots have a good part of it there */
    assert_true(site.audit.beside_share > 0.96 && site.audit.beside_share < 1.03);
    brv_history_free(&disc);
    brv_history_free(&slab);
    brv_site_free(&site);
}

static void what_leaves_sideways_cools_the_axis(void **state)
{
    (void)state;
    static const double nm[] = {532e-9, 1064e-9}, spot[] = {2e-3, 4e-3, 10e-3};
    for (size_t i = 0; i < 2; i++)
        for (size_t j = 0; j < 3; j++)
            for (int profile = 0; profile < 2; profile++) {
                struct brv_scenario ask = spot_scenario();
                ask.beam.wavelength = nm[i];
                ask.beam.spot = spot[j];
                ask.beam.profile = profile;
                sample_give(&ask.beam, BRV_SCOPE_LIGHT, "profile");
                check_sideways_cools(&ask);
            }
}

/* Trains, long pulses and something cold on the skin go through the disc as well. */
static void trains_and_long_pulses_too(void **state)
{
    (void)state;
    struct brv_scenario ask = spot_scenario();
    ask.pulse.count = 12.0;
    ask.pulse.rate = 4.0;
    sample_give(&ask.pulse, BRV_SCOPE_PULSE, "count");
    sample_give(&ask.pulse, BRV_SCOPE_PULSE, "rate");
    check_sideways_cools(&ask);
    ask.pulse.width = 50e-3; /* longer than a hundredth of the time sideways: stepped through in every mode */
    ask.surface.outside = BRV_PLATE;
    ask.surface.outside_temperature = 278.15;
    ask.surface.to = 9.0;
    sample_give(&ask.surface, BRV_SCOPE_SURFACE, "outside");
    sample_give(&ask.surface, BRV_SCOPE_SURFACE, "outside_temperature");
    sample_give(&ask.surface, BRV_SCOPE_SURFACE, "to");
    check_sideways_cools(&ask);
}

/* A pulse given at once at its centre and the same stepped through: the departure differs by (width / time)^2. */
static void a_short_pulse_counts_as_one_moment(void **state)
{
    (void)state;
    struct brv_site sudden, stepped;
    struct brv_scenario ask = spot_scenario();
    ask.pulse.width = 0.5e-3; /* a hundredth of the time sideways of 4 mm is 1 ms */
    solve(&sudden, ask);
    ask.pulse.width = 1.5e-3;
    solve(&stepped, ask);
    for (size_t probe = BRV_PROBE_LAYER; probe < sudden.history.n_probe; probe++) {
        const size_t i = sudden.history.n_time - 1, j = stepped.history.n_time - 1;
        const double one = brv_history_rise(&sudden.history, probe)[i],
                     two = brv_history_rise(&stepped.history, probe)[j];
        /* centres half a millisecond apart, of sixty seconds with a rise that falls no faster than t^-3/2 */
        check_close(one, two, 2.0 * 0.5e-3 / 60.0, 0.0);
    }
    brv_site_free(&sudden);
    brv_site_free(&stepped);
}

/* A spot so wide that heat does not get there is followed in depth only, and the history says so. */
static void short_runs_and_wide_spots_need_no_disc(void **state)
{
    (void)state;
    struct brv_site site;
    struct brv_scenario ask = spot_scenario();
    ask.watch.until = 50e-3;
    sample_give(&ask.watch, BRV_SCOPE_WATCH, "until");
    solve(&site, ask);
    assert_int_equal(site.history.field.n_depth, 0);
    assert_true(isnan(site.audit.beside_share));
    assert_true(site.history.travelled < brv_beside_part(&ask.beam) * ask.beam.spot);
    brv_site_free(&site);
    ask.beam.method = BRV_METHOD_LAYERED;
    ask.watch.until = 60.0;
    solve(&site, ask);
    assert_int_equal(site.history.field.n_depth, 0);
    assert_true(isfinite(site.effect.sideways) && site.effect.sideways < 60.0);
    brv_site_free(&site);
}

/* The maps of heat: warmest on the axis, cooler and wider later. */
static void maps_spread(void **state)
{
    (void)state;
    struct brv_site site;
    solve(&site, spot_scenario());
    const struct brv_field *field = &site.history.field;
    double total[2] = {0.0, 0.0}, outside[2] = {0.0, 0.0};
    assert_true(field->n_depth > 50 && field->n_radius > 30);
    check_close(field->time[1], 10.0, 1e-9, 0.0);
    for (size_t k = 0; k < 2; k++)
        for (size_t i = 0; i < field->n_depth; i++)
            for (size_t j = 0; j < field->n_radius; j++) {
                const double rise = field->rise[k][i * field->n_radius + j];
                assert_true(rise > -1e-3 && rise < 1.01 * fmax(field->rise[k][i * field->n_radius], 1e-3));
                total[k] += rise * field->radius[j];
                if (field->radius[j] > 2.2e-3) outside[k] += rise * field->radius[j];
            }
    assert_true(total[1] < total[0] && outside[1] / total[1] > 1.3 * outside[0] / total[0]);
    brv_site_free(&site);
}

/* What a plate moves back and forth is 1e5 times what the pulse brings: 1e-5 of the pulse's heat would not be missed in
 * the account of both, so the pulses have one of their own.                                                       */
static void a_plate_does_not_hide_the_pulses(void **state)
{
    (void)state;
    struct brv_site site;
    struct brv_scenario ask = spot_scenario();
    ask.surface.outside = BRV_PLATE;
    ask.surface.outside_temperature = 258.15;
    ask.surface.transfer = 1e5;
    ask.surface.from = -100.0;
    sample_give(&ask.surface, BRV_SCOPE_SURFACE, "outside");
    sample_give(&ask.surface, BRV_SCOPE_SURFACE, "outside_temperature");
    sample_give(&ask.surface, BRV_SCOPE_SURFACE, "transfer");
    sample_give(&ask.surface, BRV_SCOPE_SURFACE, "from");
    solve(&site, ask);
    assert_true(fabs(site.audit.skin.given) > 1e4 * site.audit.skin.absorbed);
    assert_true(fabs(site.audit.pulses) > 0.0 && fabs(site.audit.pulses) < 1e-10);
    brv_site_free(&site);
    solve(&site, spot_scenario());
    assert_true(!(fabs(site.audit.pulses) > 0.0));
    brv_site_free(&site);
}

/* A run whose grains do not hold what their layer does is refused with the residual, and leaves nothing behind. */
static void an_audit_that_does_not_close_is_an_error(void **state)
{
    (void)state;
    struct brv_site site;
    struct brv_history history;
    struct brv_audit audit;
    struct brv_error error = {.place = ""};
    struct brv_scenario ask = spot_scenario();
    solve(&site, ask);
    brv_scenario_fill(&ask);
    site.light.mean_fluence[site.tissue.grain.layer] *= 1.0 + 1e-8;
    assert_int_equal(brv_heat_run(&history, &audit, &site.tissue, &site.light, &ask, &error), BRV_NUMERICS);
    assert_string_equal(error.place, "energy of grains against their layer");
    check_close(error.found, 1e-8, 1e-5, 0.0);
    assert_null(history.time);
    assert_int_equal(history.n_time, 0);
    brv_site_free(&site);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(black_half_space_under_a_flat_spot),
        cmocka_unit_test(black_half_space_under_a_gaussian_spot),
        cmocka_unit_test(faces_in_the_dark_change_nothing),
        cmocka_unit_test(what_leaves_sideways_cools_the_axis),
        cmocka_unit_test(trains_and_long_pulses_too),
        cmocka_unit_test(a_short_pulse_counts_as_one_moment),
        cmocka_unit_test(short_runs_and_wide_spots_need_no_disc),
        cmocka_unit_test(maps_spread),
        cmocka_unit_test(a_plate_does_not_hide_the_pulses),
        cmocka_unit_test(an_audit_that_does_not_close_is_an_error),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
