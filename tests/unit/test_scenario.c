/* Defaults and the check: every documented fault provoked. */
#include "scenario/keys.h"
#include "support/check.h"
#include "support/sample.h"

#include <math.h>
#include <string.h>

static struct brv_error fault[40];

/* Is there a fault of this status at this key, anywhere? */
static int has(size_t n, brv_status status, enum brv_scope scope, const char *name)
{
    const int key = name ? brv_key_find(scope, name) : -1;
    for (size_t i = 0; i < n && i < 40; i++)
        if (fault[i].status == status && fault[i].scope == (int)scope && fault[i].key == key) return 1;
    return 0;
}

static size_t faults_of(struct brv_scenario *ask)
{
    brv_scenario_fill(ask);
    return brv_scenario_check(ask, fault, 40);
}

static void table_of_keys_is_sound(void **state)
{
    (void)state;
    for (size_t i = 0; i < brv_n_keys; i++) {
        assert_int_equal(brv_key_find(brv_keys[i].scope, brv_keys[i].name), (int)i); /* no twins */
        assert_true(brv_keys[i].least <= brv_keys[i].most);
        for (size_t kind = 0; kind < BRV_N_KIND; kind++) {
            const double standard = brv_keys[i].standard[kind];
            if (isnan(standard) || isinf(standard)) continue;
            assert_true(standard >= brv_keys[i].least && standard <= brv_keys[i].most);
            if (isnan(brv_keys[i].low[kind])) continue;
            assert_true(brv_keys[i].low[kind] <= standard && standard < brv_keys[i].high[kind]);
        }
    }
    assert_int_equal(brv_key_find(BRV_SCOPE_LIGHT, "fluency"), -1);
}

static void sample_is_sound_and_filled(void **state)
{
    (void)state;
    struct brv_scenario ask = sample_scenario();
    assert_int_equal(faults_of(&ask), 0);
    check_close(ask.beam.energy, 6e3 * 1.2566370614359172e-5, 1e-14, 0.0);
    check_close(ask.surface.index, 1.0, 0.0, 0.0);
    check_close(ask.skin[BRV_NEIGHBOUR].layer[1].melanosomes, 0.1368, 1e-12, 0.0); /* 0.038 x 60 um x 0.6 / 10 um */
    check_close(ask.skin[BRV_LESION].layer[1].melanosomes, 0.342, 1e-12, 0.0);     /* x 2.5, since none was given */
    assert_true(isinf(brv_skin_thickness(&ask.skin[BRV_LESION])));
    assert_int_equal(ask.watch.n_depth, 4);
    check_close(ask.watch.depth[1], 55e-6, 1e-12, 0.0);
}

static void energy_gives_fluence(void **state)
{
    (void)state;
    struct brv_scenario ask = sample_scenario();
    ask.beam.given = 0;
    ask.beam.energy = 0.075;
    sample_give(&ask.beam, BRV_SCOPE_LIGHT, "energy");
    brv_scenario_fill(&ask);
    check_close(ask.beam.fluence, 0.075 / 1.2566370614359172e-5, 1e-14, 0.0);
}

static void nothing_given_is_all_missing(void **state)
{
    (void)state;
    struct brv_scenario ask;
    memset(&ask, 0, sizeof ask);
    const size_t n = faults_of(&ask);
    assert_true(has(n, BRV_MISSING, BRV_SCOPE_LIGHT, "wavelength"));
    assert_true(has(n, BRV_MISSING, BRV_SCOPE_LIGHT, "spot"));
    assert_true(has(n, BRV_MISSING, BRV_SCOPE_LIGHT, "fluence"));
    assert_true(has(n, BRV_MISSING, BRV_SCOPE_PULSE, "pulse"));
    assert_true(has(n, BRV_MISSING, BRV_SCOPE_LAYER, NULL));
}

static void values_out_of_range(void **state)
{
    (void)state;
    struct brv_scenario ask = sample_scenario();
    ask.beam.wavelength = 10.6e-6;
    ask.pulse.width = 5.0;
    sample_set(&ask, BRV_SCOPE_LAYER, 0, "thickness", -50e-6);
    sample_set(&ask, BRV_SCOPE_LAYER, 1, "melanosomes", 0.61);
    sample_set(&ask, BRV_SCOPE_GRAIN, 0, "darkness", 0.0);
    sample_set(&ask, BRV_SCOPE_LAYER, 2, "index", NAN);
    const size_t n = faults_of(&ask);
    assert_true(has(n, BRV_RANGE, BRV_SCOPE_LIGHT, "wavelength"));
    assert_true(has(n, BRV_RANGE, BRV_SCOPE_PULSE, "pulse"));
    assert_true(has(n, BRV_RANGE, BRV_SCOPE_LAYER, "thickness"));
    assert_true(has(n, BRV_RANGE, BRV_SCOPE_LAYER, "melanosomes"));
    assert_true(has(n, BRV_RANGE, BRV_SCOPE_GRAIN, "darkness")); /* its least is not allowed itself */
    assert_true(has(n, BRV_RANGE, BRV_SCOPE_LAYER, "index"));
}

static void keys_that_exclude_each_other(void **state)
{
    (void)state;
    struct brv_scenario ask = sample_scenario();
    ask.beam.energy = 0.1;
    sample_give(&ask.beam, BRV_SCOPE_LIGHT, "energy");
    sample_set(&ask, BRV_SCOPE_LAYER, 0, "absorption", 1e3); /* beside the melanosomes of the ready skin */
    sample_set(&ask, BRV_SCOPE_LAYER, 2, "scattering", 1e4);
    sample_set(&ask, BRV_SCOPE_LAYER, 2, "reduced_scattering", 1e3);
    sample_set(&ask, BRV_SCOPE_GRAIN, 0, "darkness", 2.0);
    sample_set(&ask, BRV_SCOPE_GRAIN, 0, "absorption", 5e4);
    ask.surface.index = 1.5;
    sample_give(&ask.surface, BRV_SCOPE_SURFACE, "index");
    sample_give(&ask.surface, BRV_SCOPE_SURFACE, "outside");
    ask.below.index = 1.3;
    sample_give(&ask.below, BRV_SCOPE_BELOW, "index");
    const size_t n = faults_of(&ask);
    assert_true(has(n, BRV_CONFLICT, BRV_SCOPE_LIGHT, "energy"));
    assert_true(has(n, BRV_CONFLICT, BRV_SCOPE_LAYER, "melanosomes"));
    assert_true(has(n, BRV_CONFLICT, BRV_SCOPE_LAYER, "scattering"));
    assert_true(has(n, BRV_CONFLICT, BRV_SCOPE_GRAIN, "absorption"));
    assert_true(has(n, BRV_CONFLICT, BRV_SCOPE_SURFACE, "index"));
    assert_true(has(n, BRV_CONFLICT, BRV_SCOPE_BELOW, "index"));
}

static void things_that_do_not_fit(void **state)
{
    (void)state;
    struct brv_scenario ask = sample_scenario();
    sample_set(&ask, BRV_SCOPE_LAYER, 0, "thickness", INFINITY);
    ask.skin[BRV_LESION].grain.layer = ask.skin[BRV_NEIGHBOUR].grain.layer = 9;
    sample_give(&ask.skin[BRV_LESION].grain, BRV_SCOPE_GRAIN, "layer");
    sample_give(&ask.skin[BRV_NEIGHBOUR].grain, BRV_SCOPE_GRAIN, "layer");
    ask.watch.until = 1e-9;
    sample_give(&ask.watch, BRV_SCOPE_WATCH, "until");
    size_t n = faults_of(&ask);
    assert_true(has(n, BRV_ORDER, BRV_SCOPE_LAYER, "thickness"));
    assert_true(has(n, BRV_ORDER, BRV_SCOPE_GRAIN, "layer"));
    assert_true(has(n, BRV_ORDER, BRV_SCOPE_WATCH, "until"));

    ask = sample_scenario(); /* layers count from 0: the last is there, the one after it is not */
    for (size_t site = 0; site < BRV_N_SITE; site++) {
        ask.skin[site].grain.layer = (int)ask.skin[site].n_layer;
        sample_give(&ask.skin[site].grain, BRV_SCOPE_GRAIN, "layer");
    }
    assert_true(has(faults_of(&ask), BRV_ORDER, BRV_SCOPE_GRAIN, "layer"));
    for (size_t site = 0; site < BRV_N_SITE; site++) ask.skin[site].grain.layer--;
    assert_false(has(faults_of(&ask), BRV_ORDER, BRV_SCOPE_GRAIN, "layer"));

    ask = sample_scenario();
    sample_set(&ask, BRV_SCOPE_LAYER, 2, "thickness", 2e-3);
    ask.watch.n_depth = 1;
    ask.watch.depth[0] = 1e-3;
    ask.watch.depth[1] = 3e-3; /* stands behind what is counted */
    sample_give(&ask.watch, BRV_SCOPE_WATCH, "depths");
    assert_false(has(faults_of(&ask), BRV_ORDER, BRV_SCOPE_WATCH, "depths"));
    ask.watch.depth[0] = 3e-3;
    sample_give(&ask.watch, BRV_SCOPE_WATCH, "depths");
    n = faults_of(&ask);
    assert_true(has(n, BRV_MISSING, BRV_SCOPE_BELOW, "index"));
    assert_true(has(n, BRV_ORDER, BRV_SCOPE_WATCH, "depths"));
}

/* A photon in an endless layer that hardly absorbs would be walked for ever. */
static void endless_walks_are_refused(void **state)
{
    (void)state;
    struct brv_scenario ask = sample_scenario();
    sample_set(&ask, BRV_SCOPE_LAYER, 2, "absorption", 0.1);
    ask.beam.method = BRV_METHOD_SAMPLED;
    assert_true(has(faults_of(&ask), BRV_ORDER, BRV_SCOPE_LAYER, "absorption"));
    ask.beam.method = BRV_METHOD_LAYERED;
    assert_false(has(faults_of(&ask), BRV_ORDER, BRV_SCOPE_LAYER, "absorption"));
    sample_set(&ask, BRV_SCOPE_LAYER, 2, "absorption", 0.0); /* no other way ends where nothing is taken up at all */
    assert_true(has(faults_of(&ask), BRV_ORDER, BRV_SCOPE_LAYER, "absorption"));
    sample_set(&ask, BRV_SCOPE_LAYER, 2, "thickness", 2e-3);
    assert_false(has(faults_of(&ask), BRV_ORDER, BRV_SCOPE_LAYER, "absorption"));

    ask = sample_scenario();
    ask.beam.method = BRV_METHOD_SAMPLED;
    ask.beam.photons = 20000.5;
    sample_give(&ask.beam, BRV_SCOPE_LIGHT, "photons");
    assert_true(has(faults_of(&ask), BRV_ORDER, BRV_SCOPE_LIGHT, "photons"));
}

/* 5 gaussian pulses of 20 ms, 0.5 s apart: 0.1 s each with the tails, the last starts at 2 s. */
static struct brv_scenario train_scenario(void)
{
    struct brv_scenario ask = sample_scenario();
    ask.pulse.shape = BRV_SHAPE_GAUSSIAN;
    ask.pulse.width = 20e-3;
    sample_set(&ask, BRV_SCOPE_PULSE, 0, "rate", 2.0);
    sample_set(&ask, BRV_SCOPE_PULSE, 0, "count", 5.0);
    return ask;
}

static struct brv_scenario laid_on(int outside, double from, double to)
{
    struct brv_scenario ask = train_scenario();
    ask.surface.outside = outside;
    sample_give(&ask.surface, BRV_SCOPE_SURFACE, "outside");
    sample_set(&ask, BRV_SCOPE_SURFACE, 0, "from", from);
    sample_set(&ask, BRV_SCOPE_SURFACE, 0, "to", to);
    if (outside != BRV_GEL) sample_set(&ask, BRV_SCOPE_SURFACE, 0, "outside_temperature", 278.15);
    return ask;
}

static void curves_run_on_past_a_train(void **state)
{
    (void)state;
    struct brv_scenario ask = train_scenario();
    assert_int_equal(faults_of(&ask), 0);
    check_close(ask.watch.until, 62.0, 0.0, 0.0);
    ask = train_scenario();
    sample_set(&ask, BRV_SCOPE_WATCH, 0, "until", 2.1); /* just when the last tail has arrived */
    assert_true(has(faults_of(&ask), BRV_ORDER, BRV_SCOPE_WATCH, "until"));
    ask = train_scenario();
    sample_set(&ask, BRV_SCOPE_WATCH, 0, "until", 2.11);
    assert_int_equal(faults_of(&ask), 0);
}

static void trains_that_do_not_fit(void **state)
{
    (void)state;
    struct brv_scenario ask = train_scenario();
    ask.pulse.width = 101e-3; /* 0.505 s with its tails */
    assert_true(has(faults_of(&ask), BRV_RANGE, BRV_SCOPE_PULSE, "pulse"));
    ask.pulse.width = 100e-3;
    assert_int_equal(faults_of(&ask), 0); /* exactly one after the other */
    ask.pulse.rate = 2.01;
    assert_true(has(faults_of(&ask), BRV_ORDER, BRV_SCOPE_PULSE, "rate"));

    ask = train_scenario();
    sample_set(&ask, BRV_SCOPE_PULSE, 0, "passes", 41.0);
    assert_true(has(faults_of(&ask), BRV_MISSING, BRV_SCOPE_PULSE, "pause"));
    assert_true(has(faults_of(&ask), BRV_ORDER, BRV_SCOPE_PULSE, "passes")); /* 205 pulses */
    sample_set(&ask, BRV_SCOPE_PULSE, 0, "passes", 40.0);
    sample_set(&ask, BRV_SCOPE_PULSE, 0, "pause", 0.1);
    assert_int_equal(faults_of(&ask), 0);
    ask.pulse.width = 30e-3;
    assert_true(has(faults_of(&ask), BRV_ORDER, BRV_SCOPE_PULSE, "pause"));
    ask.pulse.width = 20e-3;
    ask.pulse.pause = 200.0;
    assert_true(has(faults_of(&ask), BRV_ORDER, BRV_SCOPE_PULSE, "pause")); /* 7878 s in all */
}

/* Light meets the medium that lies there during the pulses, and air when none does. */
static void light_meets_what_lies_there_during_the_pulses(void **state)
{
    (void)state;
    const struct {
        int outside;
        double from, to, index, transfer;
        bool covers;
    } row[] = {
        {BRV_PLATE, -1.0, 50.0, 1.76, 5000.0, true}, {BRV_PLATE, 0.0, 2.1, 1.76, 5000.0, true}, /* edge on edge */
        {BRV_PLATE, -5.0, 0.0, 1.0, 5000.0, false},  {BRV_PLATE, 2.1, 50.0, 1.0, 5000.0, false},
        {BRV_PLATE, 0.6, 0.9, 1.0, 5000.0, false}, /* between two pulses */
        {BRV_GEL, -1.0, 3.0, 1.34, 300.0, true},     {BRV_FORCED_AIR, -1.0, 3.0, 1.0, 100.0, true},
    };
    for (size_t i = 0; i < sizeof row / sizeof *row; i++) {
        struct brv_scenario ask = laid_on(row[i].outside, row[i].from, row[i].to);
        assert_int_equal(faults_of(&ask), 0);
        assert_true(brv_surface_changes(&ask));
        assert_int_equal(brv_surface_covers(&ask), row[i].covers);
        assert_int_equal(brv_surface_covered_pulses(&ask), row[i].covers ? 5 : 0);
        check_close(ask.surface.index, row[i].index, 0.0, 0.0);
        check_close(ask.surface.transfer, row[i].transfer, 0.0, 0.0);
        check_close(ask.surface.air_transfer, 10.0, 0.0, 0.0);
    }
}

/* Nothing is laid on: the medium is in balance with the skin, and its transfer is the only one there is. */
static void what_always_lies_there_changes_nothing(void **state)
{
    (void)state;
    struct brv_scenario ask = train_scenario();
    assert_int_equal(faults_of(&ask), 0);
    assert_false(brv_surface_changes(&ask) || brv_surface_covers(&ask));
    check_close(ask.surface.transfer, 10.0, 0.0, 0.0);

    ask = train_scenario();
    sample_set(&ask, BRV_SCOPE_SURFACE, 0, "index", 1.5);
    sample_set(&ask, BRV_SCOPE_SURFACE, 0, "transfer", 700.0);
    assert_int_equal(faults_of(&ask), 0);
    assert_true(brv_surface_covers(&ask) && !brv_surface_changes(&ask));
    check_close(ask.surface.index, 1.5, 0.0, 0.0);
    check_close(ask.surface.air_transfer, 700.0, 0.0, 0.0);
}

static void gel_is_as_warm_as_the_skin(void **state)
{
    (void)state;
    struct brv_scenario ask = sample_scenario();
    ask.surface.outside = BRV_GEL;
    sample_give(&ask.surface, BRV_SCOPE_SURFACE, "outside");
    sample_set(&ask, BRV_SCOPE_SURFACE, 0, "temperature", 300.0);
    assert_int_equal(faults_of(&ask), 0);
    check_close(ask.surface.outside_temperature, 300.0, 0.0, 0.0);
    check_close(ask.surface.from, -1.0, 0.0, 0.0);
    check_close(ask.surface.to, 60.0, 0.0, 0.0); /* watch.until */
    check_close(ask.surface.core, 310.15, 0.0, 0.0);
}

static void surfaces_that_do_not_fit(void **state)
{
    (void)state;
    const struct {
        int outside;
        double from, to;
        const char *key;
    } row[] = {
        {BRV_PLATE, 3.0, 2.5, "to"},   {BRV_PLATE, 3.0, 3.0, "to"},    {BRV_PLATE, 63.0, 64.0, "from"},
        {BRV_PLATE, 3.0, 63.0, "to"},  {BRV_PLATE, 0.05, 3.0, "from"}, {BRV_PLATE, -1.0, 2.05, "to"},
        {BRV_PLATE, 0.3, 3.0, "from"}, {BRV_PLATE, -1.0, 1.9, "to"},   {BRV_AIR, -1.0, 1.0, "from"},
    };
    for (size_t i = 0; i < sizeof row / sizeof *row; i++) {
        struct brv_scenario ask = laid_on(row[i].outside, row[i].from, row[i].to);
        assert_true(has(faults_of(&ask), BRV_ORDER, BRV_SCOPE_SURFACE, row[i].key));
    }
    struct brv_scenario ask = laid_on(BRV_PLATE, -1.0, 3.0);
    ask.surface.given &= ~brv_key_bit((size_t)brv_key_find(BRV_SCOPE_SURFACE, "outside_temperature"));
    assert_true(has(faults_of(&ask), BRV_MISSING, BRV_SCOPE_SURFACE, "outside_temperature"));
    ask.surface.index = 1.5;
    sample_give(&ask.surface, BRV_SCOPE_SURFACE, "index");
    assert_true(has(faults_of(&ask), BRV_CONFLICT, BRV_SCOPE_SURFACE, "index"));
    assert_true(has(faults_of(&ask), BRV_CONFLICT, BRV_SCOPE_SURFACE, "from"));
}

/* 5 x 7 ns and 35 ns differ by rounding, and so do 3 / 3 Hz and 1 s: the same moment, no edge inside a pulse. */
/* ---- what is judged ---- */

static void criteria_lie_above_warm_skin(void **state)
{
    (void)state;
    struct brv_scenario ask = sample_scenario();
    ask.watch.criterion = 50.0 + 273.15;
    sample_give(&ask.watch, BRV_SCOPE_WATCH, "criterion");
    assert_int_equal(faults_of(&ask), 0);
    ask.surface.temperature = 50.0 + 273.15;
    sample_give(&ask.surface, BRV_SCOPE_SURFACE, "temperature");
    const size_t n = faults_of(&ask);
    assert_true(has(n, BRV_ORDER, BRV_SCOPE_WATCH, "criterion"));
    assert_true(fault[0].least > 323.15); /* says from where on */
    ask = laid_on(BRV_PLATE, -1.0, 9.0);
    ask.watch.criterion = 45.0 + 273.15;
    sample_give(&ask.watch, BRV_SCOPE_WATCH, "criterion");
    ask.surface.outside_temperature = 55.0 + 273.15;
    sample_give(&ask.surface, BRV_SCOPE_SURFACE, "outside_temperature");
    assert_true(has(faults_of(&ask), BRV_ORDER, BRV_SCOPE_WATCH, "criterion"));
}

/* Only a spread that was asked for is judged: a tiny grain alone is no fault. */
static void spreads_stay_among_grains(void **state)
{
    (void)state;
    struct brv_scenario ask = sample_scenario();
    sample_set(&ask, BRV_SCOPE_GRAIN, 0, "diameter", 0.06e-6);
    sample_set(&ask, BRV_SCOPE_GRAIN, 0, "darkness", 90.0);
    assert_int_equal(faults_of(&ask), 0);
    sample_set(&ask, BRV_SCOPE_GRAIN, 0, "diameter_spread", 0.2);
    sample_set(&ask, BRV_SCOPE_GRAIN, 0, "darkness_spread", 0.5);
    const size_t n = faults_of(&ask);
    assert_true(has(n, BRV_ORDER, BRV_SCOPE_GRAIN, "diameter_spread"));
    assert_true(has(n, BRV_ORDER, BRV_SCOPE_GRAIN, "darkness_spread"));
    sample_set(&ask, BRV_SCOPE_GRAIN, 0, "diameter_spread", 0.1); /* 0.051 um at the 5th of 100 */
    sample_set(&ask, BRV_SCOPE_GRAIN, 0, "darkness_spread", 0.06);
    assert_int_equal(faults_of(&ask), 0);
}

static void vessels_lie_within_a_layer(void **state)
{
    (void)state;
    struct brv_scenario ask = sample_scenario();
    assert_int_equal(faults_of(&ask), 0);
    check_close(ask.vessel.depth, 0.3e-3, 1e-12, 0.0);
    ask.vessel.depth = 0.084e-3; /* the dermis begins at 60 um, the vessel has 50 um */
    sample_give(&ask.vessel, BRV_SCOPE_VESSEL, "depth");
    assert_true(has(faults_of(&ask), BRV_ORDER, BRV_SCOPE_VESSEL, "depth"));
    check_close(fault[0].least, 85e-6, 1e-9, 0.0);
    ask.vessel.depth = 0.0851e-3;
    assert_int_equal(faults_of(&ask), 0);

    ask = sample_scenario(); /* a skin without room has no vessel, and no fault for that */
    ask.skin[BRV_NEIGHBOUR].layer[2].kind = BRV_EPIDERMIS;
    assert_false(has(faults_of(&ask), BRV_ORDER, BRV_SCOPE_VESSEL, "depth"));
    check_close(ask.vessel.depth, 0.0, 0.0, 0.0);
    sample_give(&ask.vessel, BRV_SCOPE_VESSEL, "diameter");
    assert_true(has(faults_of(&ask), BRV_ORDER, BRV_SCOPE_VESSEL, "depth"));
}

static void rounding_is_no_fault(void **state)
{
    (void)state;
    struct brv_scenario ask = laid_on(BRV_PLATE, -1.0, 35e-9);
    ask.pulse.width = 7e-9;
    ask.pulse.count = 1.0;
    ask.pulse.given &= ~brv_key_bit((size_t)brv_key_find(BRV_SCOPE_PULSE, "rate"));
    assert_int_equal(faults_of(&ask), 0);
    for (int place = 1; place < 9; place++) {
        ask = laid_on(BRV_PLATE, -1.0, 0.3 * place + 0.1); /* taken away as a pulse ends, 10/3 Hz */
        ask.pulse.count = place + 1.0;
        ask.pulse.rate = 1.0 / 0.3;
        assert_int_equal(faults_of(&ask), 0);
        assert_true(brv_surface_covers(&ask));
    }
}

static struct brv_scenario in_a_room(const char *const given[], size_t n)
{
    struct brv_scenario ask = sample_scenario();
    ask.room = (struct brv_room_ask){.beam = 5e-3, .divergence = 2e-3, .lens = 0.1, .stay = 10.0};
    for (size_t i = 0; i < n; i++) sample_give(&ask.room, BRV_SCOPE_ROOM, given[i]);
    return ask;
}

static void rooms_that_do_not_fit(void **state)
{
    (void)state;
    static const char *const names[] = {"beam", "divergence", "lens"};
    struct brv_scenario ask = in_a_room(names, 2);
    assert_int_equal(faults_of(&ask), 0);
    ask = in_a_room(names, 1);
    assert_true(has(faults_of(&ask), BRV_ORDER, BRV_SCOPE_ROOM, "beam"));
    ask = in_a_room(names + 1, 1);
    assert_true(has(faults_of(&ask), BRV_ORDER, BRV_SCOPE_ROOM, "divergence"));
    ask = in_a_room(names + 2, 1);
    assert_true(has(faults_of(&ask), BRV_ORDER, BRV_SCOPE_ROOM, "lens"));
    ask = in_a_room(names, 3);
    assert_true(has(faults_of(&ask), BRV_CONFLICT, BRV_SCOPE_ROOM, "lens"));

    ask = in_a_room(names, 0);
    ask.room.edition = BRV_EDITION_ICNIRP_2013;
    sample_give(&ask.room, BRV_SCOPE_ROOM, "edition");
    ask.pulse.width = 1e-9;
    assert_int_equal(faults_of(&ask), 0);
    ask.pulse.width = 0.999e-9;
    assert_true(has(faults_of(&ask), BRV_ORDER, BRV_SCOPE_PULSE, "pulse"));
    ask.room.edition = BRV_EDITION_BOTH; /* the other one covers it */
    assert_int_equal(faults_of(&ask), 0);
    ask.room.lid = 0.0;
    ask.room.stay = -1.0;
    sample_give(&ask.room, BRV_SCOPE_ROOM, "lid");
    sample_give(&ask.room, BRV_SCOPE_ROOM, "stay");
    const size_t n = faults_of(&ask);
    assert_true(has(n, BRV_RANGE, BRV_SCOPE_ROOM, "lid") && has(n, BRV_RANGE, BRV_SCOPE_ROOM, "stay"));
}

static void more_faults_than_room_are_counted(void **state)
{
    (void)state;
    struct brv_scenario ask;
    memset(&ask, 0, sizeof ask);
    brv_scenario_fill(&ask);
    const size_t all = brv_scenario_check(&ask, fault, 40);
    struct brv_error two[2];
    assert_int_equal(brv_scenario_check(&ask, two, 2), all);
    assert_int_equal(brv_scenario_check(&ask, NULL, 0), all);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(table_of_keys_is_sound),
                                       cmocka_unit_test(sample_is_sound_and_filled),
                                       cmocka_unit_test(energy_gives_fluence),
                                       cmocka_unit_test(nothing_given_is_all_missing),
                                       cmocka_unit_test(values_out_of_range),
                                       cmocka_unit_test(keys_that_exclude_each_other),
                                       cmocka_unit_test(things_that_do_not_fit),
                                       cmocka_unit_test(endless_walks_are_refused),
                                       cmocka_unit_test(curves_run_on_past_a_train),
                                       cmocka_unit_test(trains_that_do_not_fit),
                                       cmocka_unit_test(light_meets_what_lies_there_during_the_pulses),
                                       cmocka_unit_test(what_always_lies_there_changes_nothing),
                                       cmocka_unit_test(gel_is_as_warm_as_the_skin),
                                       cmocka_unit_test(surfaces_that_do_not_fit),
                                       cmocka_unit_test(criteria_lie_above_warm_skin),
                                       cmocka_unit_test(spreads_stay_among_grains),
                                       cmocka_unit_test(vessels_lie_within_a_layer),
                                       cmocka_unit_test(rounding_is_no_fault),
                                       cmocka_unit_test(rooms_that_do_not_fit),
                                       cmocka_unit_test(more_faults_than_room_are_counted)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
