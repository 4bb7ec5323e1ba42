/* Light through a lid: Beer's law where nothing scatters, a walk of photons, and what must hold for any lid. */
#include "side/lid.h"

#include "base/constants.h"
#include "light/layered.h"
#include "light/sampled.h"
#include "side/shares.h"
#include "support/check.h"
#include "support/sample.h"
#include "tissue/tissue.h"

#include <math.h>

static struct brv_scenario at(double wavelength)
{
    struct brv_scenario ask = sample_scenario();
    ask.beam.wavelength = wavelength;
    return ask;
}

static struct brv_lid lid_of(struct brv_scenario *ask)
{
    struct brv_lid lid;
    brv_scenario_fill(ask);
    struct brv_error fault = {.place = ""};
    if (brv_scenario_check(ask, &fault, 1))
        fail_msg("%s %s", fault.key >= 0 ? brv_keys[fault.key].name : "-", fault.place);
    assert_int_equal(brv_lid_solve(&lid, ask, NULL), BRV_OK);
    return lid;
}

static void give_lid(struct brv_scenario *ask, double thickness)
{
    ask->room.lid = thickness;
    sample_give(&ask->room, BRV_SCOPE_ROOM, "lid");
}

static double face(double one, double other) /* what a face lets through, straight on */
{
    return 1.0 - pow((one - other) / (one + other), 2.0);
}

/* Nothing scatters: exp(-tau) through two faces, and the light that goes back and forth between them. */
static void without_scattering(void **state)
{
    (void)state;
    static const double absorption[] = {200.0, 700.0, 900.0}, thickness[] = {50e-6, 10e-6, 1e-3};
    struct brv_scenario ask = at(1064e-9);
    double tau = 0.0;
    for (size_t i = 0; i < 3; i++) {
        for (size_t site = 0; site < BRV_N_SITE; site++) { /* of the ready skin's composition nothing is left */
            struct brv_layer_ask *layer = &ask.skin[site].layer[i];
            *layer = (struct brv_layer_ask){.kind = layer->kind, .thickness = i < 2 ? thickness[i] : (double)INFINITY};
            sample_give(layer, BRV_SCOPE_LAYER, "kind");
            sample_give(layer, BRV_SCOPE_LAYER, "thickness");
        }
        sample_set(&ask, BRV_SCOPE_LAYER, i, "absorption", absorption[i]);
        sample_set(&ask, BRV_SCOPE_LAYER, i, "scattering", 0.0);
        tau += absorption[i] * thickness[i];
    }
    give_lid(&ask, 1e-3);
    const struct brv_lid lid = lid_of(&ask);
    const double in = face(1.0, 1.4), out = face(1.4, BRV_EYE_INDEX);
    const double expected = in * out * exp(-tau) / (1.0 - (1.0 - in) * (1.0 - out) * exp(-2.0 * tau));
    check_row("lid that does not scatter", "own-limits (exact)", lid.passes.value, expected, 1e-9,
              "rounding; there is nothing else");
    check_close(lid.passes.low, lid.passes.high, 1e-12, 0.0); /* nor any pigment to be darker */
    check_close(lid.whole, 1.06e-3, 1e-12, 0.0);
}

/* The same three layers, given to the photon walk: another method. Its error says how near it must come. */
static void against_a_walk(void **state)
{
    (void)state;
    static const double wavelengths[] = {532e-9, 1064e-9};
    for (size_t k = 0; k < 2; k++) {
        struct brv_scenario ask = at(wavelengths[k]);
        give_lid(&ask, 0.6e-3);
        const struct brv_lid lid = lid_of(&ask);
        const struct brv_scenario cut = brv_lid_scenario(&ask, 0.6e-3);
        struct brv_medium media[BRV_MOST_LAYERS];
        struct brv_tissue tissue;
        brv_tissue_resolve(&tissue, &cut, BRV_NEIGHBOUR);
        assert_int_equal(tissue.n_layer, 3);
        for (size_t i = 0; i < 3; i++)
            media[i] =
                (struct brv_medium){tissue.layer[i].thickness, tissue.layer[i].absorption, tissue.layer[i].scattering,
                                    tissue.layer[i].anisotropy, tissue.layer[i].index};
        const double top = tissue.layer[0].thickness, basal = top + tissue.layer[1].thickness;
        const double depth[] = {0.0, top, basal, basal + tissue.layer[2].thickness}, ring[] = {0.0, 1e-3};
        const struct brv_sampled_ask walk = {.n_medium = 3,
                                             .medium = media,
                                             .outside_index = 1.0,
                                             .below_index = 1.336,
                                             .n_depth = 3,
                                             .depth = depth,
                                             .n_ring = 1,
                                             .ring = ring,
                                             .seed = 7,
                                             .photons = 100000,
                                             .error = 0.0,
                                             .watched = 1e-3,
                                             .threads = 1};
        struct brv_sampled sampled;
        struct brv_error error = {.place = ""};
        if (brv_sampled_solve(&sampled, &walk, &error)) fail_msg("%s: %g", error.place, error.found);
        check_row(k ? "share through a lid, 1064 nm" : "share through a lid, 532 nm", "own-limits (computed)",
                  lid.passes.value, sampled.transmitted.value, 4.0 * sampled.transmitted.error,
                  "4 standard errors of a walk of photons");
        brv_sampled_free(&sampled);
    }
}

static void pigment_and_thickness(void **state)
{
    (void)state;
    struct brv_scenario ask = at(1064e-9);
    const struct brv_lid own = lid_of(&ask);
    check_close(own.dermis, 0.62e-3, 0.0, 0.0);
    assert_true(own.passes.low < own.passes.value && own.passes.value < own.passes.high && own.passes.high < 1.0);
    struct brv_scenario thin = at(1064e-9), thick = at(1064e-9), green = at(532e-9), same = at(1064e-9);
    give_lid(&thin, 0.3e-3);
    give_lid(&thick, 1.2e-3);
    give_lid(&same, 0.62e-3);
    assert_true(lid_of(&thin).passes.value > own.passes.value);
    assert_true(lid_of(&thick).passes.value < own.passes.value);
    assert_true(lid_of(&green).passes.value < own.passes.value);
    const struct brv_lid given = lid_of(&same); /* a thickness that is known has no spread */
    check_close(given.passes.value, own.passes.value, 0.0, 0.0);
    assert_true(given.passes.low < given.passes.value && given.passes.value < given.passes.high);
    assert_true(given.passes.low > own.passes.low && given.passes.high < own.passes.high);
}

/* Fat below the dermis is left out, and a grain that lay there is looked for in the lid. */
static void what_lies_below(void **state)
{
    (void)state;
    struct brv_scenario ask = at(1064e-9), with_fat = at(1064e-9);
    const struct brv_lid own = lid_of(&ask);
    for (size_t site = 0; site < BRV_N_SITE; site++) {
        struct brv_skin *skin = &with_fat.skin[site];
        skin->layer[2].thickness = 1.5e-3;
        sample_give(&skin->layer[2], BRV_SCOPE_LAYER, "thickness");
        skin->layer[3] = (struct brv_layer_ask){.kind = BRV_FAT, .thickness = (double)INFINITY};
        sample_give(&skin->layer[3], BRV_SCOPE_LAYER, "kind");
        sample_give(&skin->layer[3], BRV_SCOPE_LAYER, "thickness");
        skin->n_layer = 4;
    }
    check_close(lid_of(&with_fat).passes.value, own.passes.value, 0.0, 0.0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(without_scattering),
        cmocka_unit_test(against_a_walk),
        cmocka_unit_test(pigment_and_thickness),
        cmocka_unit_test(what_lies_below),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
