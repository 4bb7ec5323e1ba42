/* The list of uncertain inputs of a scenario, and one draw of them. */
#include "base/constants.h"
#include "study/draw.h"
#include "study/inputs.h"
#include "support/check.h"
#include "support/sample.h"
#include "tissue/tissue.h"

#include <math.h>
#include <string.h>

static struct brv_inputs inputs;
static double u[BRV_MOST_INPUTS];

static void list(const struct brv_scenario *ask, const struct brv_opened opened[], size_t n)
{
    assert_int_equal(brv_scenario_check(ask, NULL, 0), 0);
    brv_inputs_list(&inputs, ask, opened, n);
    for (size_t i = 0; i < BRV_MOST_INPUTS; i++) u[i] = 0.5;
}

static size_t find(enum brv_input_id id, enum brv_scope scope, const char *key, size_t layer)
{
    for (size_t i = 0; i < inputs.n; i++) {
        const struct brv_input *input = &inputs.input[i];
        if (input->id != id) continue;
        if (id != BRV_INPUT_KEY) return i;
        const bool here = (input->where[0] | input->where[1]) >> layer & 1u;
        if (brv_keys[input->key].scope == scope && !strcmp(brv_keys[input->key].name, key) && here) return i;
    }
    return inputs.n;
}

static bool has_key(enum brv_scope scope, const char *key, size_t layer)
{
    return find(BRV_INPUT_KEY, scope, key, layer) < inputs.n;
}

static bool has(enum brv_input_id id)
{
    return find(id, BRV_SCOPE_LIGHT, "", 0) < inputs.n;
}

static struct brv_scenario drawn(const struct brv_scenario *ask)
{
    struct brv_scenario draw;
    brv_draw_apply(&draw, ask, &inputs, u);
    assert_int_equal(brv_scenario_check(&draw, NULL, 0), 0);
    return draw;
}

static struct brv_scenario filled(void)
{
    struct brv_scenario ask = sample_scenario();
    brv_scenario_fill(&ask);
    return ask;
}

static struct brv_opened open_at(enum brv_scope scope, const char *key, size_t site, size_t layer, double low,
                                 double high)
{
    return (struct brv_opened){(size_t)brv_key_find(scope, key), site, layer, low, high};
}

/* ---- how a value is drawn ---- */

/* By hand: half of the draws below the value, half above; in the logarithm from a factor of 4 on. */
static void half_lie_below_the_value(void **state)
{
    (void)state;
    const struct brv_input even = {.value = 2.0, .low = 1.0, .high = 3.9};
    check_close(brv_draw_at(&even, 0.0), 1.0, 0.0, 0.0);
    check_close(brv_draw_at(&even, 0.25), 1.5, 1e-15, 0.0);
    check_close(brv_draw_at(&even, 0.5), 2.0, 0.0, 0.0);
    check_close(brv_draw_at(&even, 0.75), 2.95, 1e-15, 0.0);
    check_close(brv_draw_at(&even, 1.0), 3.9, 1e-15, 0.0);
    const struct brv_input ratio = {.value = 1.0, .low = 0.316, .high = 3.16, .ratio = true};
    check_close(brv_draw_at(&ratio, 0.25), sqrt(0.316), 1e-15, 0.0);
    check_close(brv_draw_at(&ratio, 0.75), sqrt(3.16), 1e-15, 0.0);
    const struct brv_input end = {.value = 385.15, .low = 385.15, .high = 423.15};
    check_close(brv_draw_at(&end, 0.5), 404.15, 1e-15, 0.0);
    check_close(brv_draw_at(&end, 0.05), 387.05, 1e-15, 0.0);
}

static void ranges_decide_the_law(void **state)
{
    (void)state;
    const struct brv_scenario ask = filled();
    list(&ask, NULL, 0);
    for (size_t i = 0; i < inputs.n; i++) {
        const struct brv_input *input = &inputs.input[i];
        assert_true(input->low < input->high && input->low <= input->value && input->value <= input->high);
        assert_true(input->ratio == (input->low > 0.0 && input->high / input->low >= 4.0));
        assert_true(input->where[BRV_LESION] || input->where[BRV_NEIGHBOUR]);
    }
    assert_true(inputs.input[find(BRV_INPUT_KEY, BRV_SCOPE_GRAIN, "darkness", 0)].ratio);
    assert_false(inputs.input[find(BRV_INPUT_KEY, BRV_SCOPE_GRAIN, "heat_capacity", 0)].ratio);
}

/* ---- what is on the list ---- */

static void what_is_written_is_held(void **state)
{
    (void)state;
    struct brv_scenario ask = sample_scenario();
    sample_set(&ask, BRV_SCOPE_GRAIN, 0, "darkness", 1.7);
    sample_set(&ask, BRV_SCOPE_LAYER, 1, "thickness", 12e-6);
    sample_set(&ask, BRV_SCOPE_LAYER, 2, "blood", 0.004);
    brv_scenario_fill(&ask);
    list(&ask, NULL, 0);
    assert_false(has_key(BRV_SCOPE_GRAIN, "darkness", 0));
    assert_false(has_key(BRV_SCOPE_LAYER, "thickness", 1));
    assert_true(has_key(BRV_SCOPE_LAYER, "thickness", 0));
    assert_false(has_key(BRV_SCOPE_LAYER, "blood", 2));
    assert_true(has_key(BRV_SCOPE_LAYER, "saturation", 2));  /* there is blood */
    assert_false(has_key(BRV_SCOPE_LAYER, "saturation", 1)); /* there is none */
    assert_false(has_key(BRV_SCOPE_WATCH, "tan", 0));
    assert_false(has_key(BRV_SCOPE_LAYER, "melanosomes", 1)); /* of a ready skin: as one factor */
    assert_true(has(BRV_INPUT_SKIN_PIGMENT) && has(BRV_INPUT_BASAL_SHARE) && has(BRV_INPUT_LESION_FACTOR));
    assert_true(has(BRV_INPUT_ENERGY) && has(BRV_INPUT_SPOT) && has(BRV_INPUT_SCATTERING) && has(BRV_INPUT_TRANSFER));
}

/* Epidermis, basal row and dermis share the index and the water, epidermis and basal row the conductivity. */
static void layers_alike_are_one_input(void **state)
{
    (void)state;
    const struct brv_scenario ask = filled();
    list(&ask, NULL, 0);
    const struct brv_input *index = &inputs.input[find(BRV_INPUT_KEY, BRV_SCOPE_LAYER, "index", 0)];
    const struct brv_input *upper = &inputs.input[find(BRV_INPUT_KEY, BRV_SCOPE_LAYER, "conductivity", 0)];
    const struct brv_input *lower = &inputs.input[find(BRV_INPUT_KEY, BRV_SCOPE_LAYER, "conductivity", 2)];
    assert_int_equal(index->where[BRV_LESION], 7);
    assert_int_equal(index->where[BRV_NEIGHBOUR], 7);
    assert_int_equal(upper->where[BRV_NEIGHBOUR], 3);
    assert_int_equal(lower->where[BRV_NEIGHBOUR], 4);
    u[upper - inputs.input] = 1.0;
    const struct brv_scenario draw = drawn(&ask);
    for (size_t site = 0; site < BRV_N_SITE; site++) {
        check_close(draw.skin[site].layer[0].conductivity, 0.26, 1e-15, 0.0);
        check_close(draw.skin[site].layer[1].conductivity, 0.26, 1e-15, 0.0);
        check_close(draw.skin[site].layer[2].conductivity, 0.37, 0.0, 0.0);
    }
}

static void what_cannot_matter_is_not_there(void **state)
{
    (void)state;
    struct brv_scenario ask = sample_scenario();
    ask.lesion_given = 1;
    ask.skin[BRV_NEIGHBOUR].layer[0].given = ask.skin[BRV_NEIGHBOUR].layer[1].given = 0;
    ask.skin[BRV_LESION] = ask.skin[BRV_NEIGHBOUR];
    for (size_t i = 0; i < 3; i++) {
        sample_set(&ask, BRV_SCOPE_LAYER, i, "absorption", 100.0);
        sample_set(&ask, BRV_SCOPE_LAYER, i, "reduced_scattering", 3000.0);
    }
    sample_set(&ask, BRV_SCOPE_GRAIN, 0, "absorption", 5e4);
    sample_set(&ask, BRV_SCOPE_LAYER, 2, "thickness", 2e-4); /* no room for a vessel at 0.3 mm */
    ask.below.index = 1.0;
    sample_give(&ask.below, BRV_SCOPE_BELOW, "index");
    brv_scenario_fill(&ask);
    list(&ask, NULL, 0);
    static const char *const composition[] = {"melanosomes", "blood", "saturation", "water", "baseline"};
    for (size_t k = 0; k < 5; k++)
        for (size_t i = 0; i < 3; i++) assert_false(has_key(BRV_SCOPE_LAYER, composition[k], i));
    assert_false(has_key(BRV_SCOPE_GRAIN, "darkness", 0) || has_key(BRV_SCOPE_GRAIN, "darkness_spread", 0));
    assert_false(has_key(BRV_SCOPE_WATCH, "sign_column", 0) || has_key(BRV_SCOPE_VESSEL, "saturation", 0));
    assert_false(has(BRV_INPUT_SCATTERING) || has(BRV_INPUT_SCATTERING_POWER) || has(BRV_INPUT_SKIN_PIGMENT));
    assert_true(has_key(BRV_SCOPE_LAYER, "anisotropy", 1) && has_key(BRV_SCOPE_WATCH, "criterion", 0));
}

/* A skin written out layer by layer is none of the ready ones, whatever its numbers. */
static void a_changed_skin_is_no_ready_one(void **state)
{
    (void)state;
    struct brv_scenario ask = sample_scenario();
    sample_set(&ask, BRV_SCOPE_LAYER, 1, "melanosomes", 0.2);
    brv_scenario_fill(&ask);
    list(&ask, NULL, 0);
    assert_false(has(BRV_INPUT_SKIN_PIGMENT) || has(BRV_INPUT_BASAL_SHARE));
    assert_true(has(BRV_INPUT_LESION_FACTOR));
    ask = sample_scenario();
    ask.skin[BRV_NEIGHBOUR].ready = 0;
    brv_scenario_fill(&ask);
    list(&ask, NULL, 0);
    assert_false(has(BRV_INPUT_SKIN_PIGMENT));
}

/* ---- a draw ---- */

static void the_middle_is_the_scenario(void **state)
{
    (void)state;
    const struct brv_scenario ask = filled();
    list(&ask, NULL, 0);
    u[find(BRV_INPUT_KEY, BRV_SCOPE_WATCH, "criterion", 0)] = 0.0;
    const struct brv_scenario draw = drawn(&ask);
    check_close(draw.beam.fluence, ask.beam.fluence, 1e-15, 0.0);
    check_close(draw.watch.criterion, ask.watch.criterion, 0.0, 0.0);
    for (size_t site = 0; site < BRV_N_SITE; site++) {
        struct brv_tissue one, other;
        brv_tissue_resolve(&one, &ask, site);
        brv_tissue_resolve(&other, &draw, site);
        check_close(other.grain.absorption, one.grain.absorption, 1e-15, 0.0);
        for (size_t i = 0; i < 3; i++) { /* rounding of the sums in a ready skin */
            check_close(other.layer[i].absorption, one.layer[i].absorption, 1e-14, 0.0);
            check_close(other.layer[i].scattering, one.layer[i].scattering, 1e-14, 0.0);
            check_close(other.layer[i].heat_capacity, one.layer[i].heat_capacity, 1e-14, 0.0);
        }
    }
}

/* 27 /cm at 500 nm with the power 1.0 is 27 x 500/532 /cm at 532 nm. */
static void scattering_falls_by_its_power(void **state)
{
    (void)state;
    const struct brv_scenario ask = filled();
    list(&ask, NULL, 0);
    u[find(BRV_INPUT_SCATTERING, 0, "", 0)] = 0.0;
    u[find(BRV_INPUT_SCATTERING_POWER, 0, "", 0)] = 0.0;
    const struct brv_scenario draw = drawn(&ask);
    for (size_t i = 0; i < 3; i++)
        check_close(draw.skin[BRV_LESION].layer[i].reduced_scattering, 2700.0 * 500.0 / 532.0, 1e-12, 0.0);
}

/* The device gives energy: a spot 5 % too small has its fluence up by 1 / 0.95^2, at the same energy. */
static void energy_is_spread_over_the_spot(void **state)
{
    (void)state;
    const struct brv_scenario ask = filled();
    list(&ask, NULL, 0);
    u[find(BRV_INPUT_SPOT, 0, "", 0)] = 0.0;
    struct brv_scenario draw = drawn(&ask);
    check_close(draw.beam.energy, ask.beam.energy, 1e-15, 0.0);
    check_close(draw.beam.fluence, ask.beam.fluence / (0.95 * 0.95), 1e-14, 0.0);
    u[find(BRV_INPUT_ENERGY, 0, "", 0)] = 1.0;
    draw = drawn(&ask);
    check_close(draw.beam.fluence, 1.2 * ask.beam.fluence / (0.95 * 0.95), 1e-14, 0.0);
    check_close(draw.beam.energy, draw.beam.fluence * brv_beam_area(&draw.beam), 1e-14, 0.0);
}

/* 50 um and 10 um: their pigment is that of 60 um, wherever it lies and however much cannot be packed. */
static void pigment_of_a_ready_skin_is_kept(void **state)
{
    (void)state;
    for (int preset = 0; preset < BRV_N_PRESET; preset++) {
        struct brv_scenario ask = sample_scenario();
        brv_skin_preset(&ask.skin[BRV_NEIGHBOUR], (enum brv_preset)preset);
        brv_scenario_fill(&ask);
        list(&ask, NULL, 0);
        const size_t whole = find(BRV_INPUT_SKIN_PIGMENT, 0, "", 0), share = find(BRV_INPUT_BASAL_SHARE, 0, "", 0);
        for (int k = 0; k < 9; k++) {
            u[whole] = 0.5 * (k % 3);
            u[share] = 0.5 * (k / 3);
            const struct brv_scenario draw = drawn(&ask);
            const struct brv_layer_ask *layer = draw.skin[BRV_NEIGHBOUR].layer;
            const double wanted = brv_draw_at(&inputs.input[whole], u[whole]);
            const double basal = 6.0 * wanted * brv_draw_at(&inputs.input[share], u[share]);
            check_close((50.0 * layer[0].melanosomes + 10.0 * layer[1].melanosomes) / 60.0, wanted, 1e-14, 0.0);
            check_close(layer[1].melanosomes, fmin(basal, 0.6), 1e-14, 0.0);
        }
    }
}

static void lesion_follows(void **state)
{
    (void)state;
    struct brv_scenario ask = filled();
    list(&ask, NULL, 0);
    u[find(BRV_INPUT_LESION_FACTOR, 0, "", 0)] = 0.0;
    u[find(BRV_INPUT_SKIN_PIGMENT, 0, "", 0)] = 0.0;
    struct brv_scenario draw = drawn(&ask);
    check_close(draw.skin[BRV_LESION].layer[1].melanosomes, 1.5 * draw.skin[BRV_NEIGHBOUR].layer[1].melanosomes, 1e-15,
                0.0);
    check_close(draw.skin[BRV_LESION].layer[0].melanosomes, draw.skin[BRV_NEIGHBOUR].layer[0].melanosomes, 0.0, 0.0);

    ask = sample_scenario(); /* described: its ratio to the skin around it stays */
    ask.lesion_given = 1;
    ask.skin[BRV_LESION].layer[1].melanosomes = 0.31;
    brv_scenario_fill(&ask);
    list(&ask, NULL, 0);
    assert_false(has(BRV_INPUT_LESION_FACTOR));
    u[find(BRV_INPUT_SKIN_PIGMENT, 0, "", 0)] = 1.0;
    draw = drawn(&ask);
    const double ratio = 0.31 / ask.skin[BRV_NEIGHBOUR].layer[1].melanosomes;
    check_close(draw.skin[BRV_LESION].layer[1].melanosomes, ratio * draw.skin[BRV_NEIGHBOUR].layer[1].melanosomes,
                1e-15, 0.0);
    check_close(draw.skin[BRV_LESION].layer[0].melanosomes, draw.skin[BRV_NEIGHBOUR].layer[0].melanosomes, 0.0, 0.0);
    assert_true(draw.skin[BRV_NEIGHBOUR].layer[0].melanosomes > 1.5 * ask.skin[BRV_NEIGHBOUR].layer[0].melanosomes);
}

/* 1.2 times 883.6 J would be 1060 J, and energy ends at 1000 J: the fluence follows from what is left. */
static void what_follows_keeps_its_range(void **state)
{
    (void)state;
    struct brv_scenario ask = sample_scenario();
    ask.beam.spot = 15e-3;
    ask.beam.fluence = 5e6;
    brv_scenario_fill(&ask);
    list(&ask, NULL, 0);
    u[find(BRV_INPUT_ENERGY, 0, "", 0)] = 1.0;
    const struct brv_scenario draw = drawn(&ask);
    check_close(ask.beam.energy, 883.6, 1e-3, 0.0); /* as rounded above */
    check_close(draw.beam.energy, 1000.0, 1e-12, 0.0);
    check_close(draw.beam.fluence, 1000.0 / ask.beam.energy * 5e6, 1e-12, 0.0);
}

/* The limits in the text, by hand: what has no row in the table of keys. */
static void specials_have_their_limits(void **state)
{
    (void)state;
    static const struct {
        int special;
        double low, high;
    } wanted[] = {{BRV_INPUT_SCATTERING, 2700.0, 6000.0}, {BRV_INPUT_SCATTERING_POWER, 1.0, 1.6},
                  {BRV_INPUT_SKIN_PIGMENT, 0.013, 0.063}, {BRV_INPUT_BASAL_SHARE, 0.4, 0.9},
                  {BRV_INPUT_LESION_FACTOR, 1.5, 4.0},    {BRV_INPUT_TRANSFER, 5.0, 20.0}};
    const struct brv_scenario ask = filled();
    list(&ask, NULL, 0);
    for (size_t i = 0; i < sizeof wanted / sizeof *wanted; i++) {
        const struct brv_input *input = &inputs.input[find(wanted[i].special, 0, "", 0)];
        check_close(input->low, wanted[i].low, 1e-12, 0.0);
        check_close(input->high, wanted[i].high, 1e-12, 0.0);
    }
}

static void opened_values_are_drawn(void **state)
{
    (void)state;
    const struct brv_scenario ask = filled();
    const struct brv_opened opened[] = {
        open_at(BRV_SCOPE_LIGHT, "fluence", BRV_NEIGHBOUR, 0, 5e3, 7e3),
        open_at(BRV_SCOPE_LAYER, "melanosomes", BRV_NEIGHBOUR, 1, 0.1, 0.2),
        open_at(BRV_SCOPE_GRAIN, "darkness", BRV_LESION, 0, 0.5, 2.0),
    };
    list(&ask, opened, 3);
    assert_true(inputs.input[0].opened && inputs.input[1].opened && inputs.input[2].opened && !inputs.input[3].opened);
    assert_false(has(BRV_INPUT_ENERGY) || has(BRV_INPUT_SKIN_PIGMENT) || has(BRV_INPUT_BASAL_SHARE));
    u[0] = 1.0;
    u[1] = 0.0;
    u[2] = 1.0;
    const struct brv_scenario draw = drawn(&ask);
    check_close(draw.beam.fluence, 7e3, 1e-15, 0.0);
    check_close(draw.beam.energy, 7e3 * brv_beam_area(&draw.beam), 1e-15, 0.0);
    check_close(draw.skin[BRV_NEIGHBOUR].layer[1].melanosomes, 0.1, 1e-15, 0.0);
    check_close(draw.skin[BRV_LESION].layer[1].melanosomes, 0.25, 1e-15, 0.0); /* 2.5 times */
    check_close(draw.skin[BRV_LESION].grain.darkness, 2.0, 1e-15, 0.0);
    check_close(draw.skin[BRV_NEIGHBOUR].grain.darkness, 1.0, 0.0, 0.0); /* its neighbour's is another input */
}

static void some_keys_cannot_be_opened(void **state)
{
    (void)state;
    static const struct {
        enum brv_scope scope;
        const char *key;
        bool can;
    } row[] = {
        {BRV_SCOPE_LIGHT, "spot", true},    {BRV_SCOPE_LIGHT, "profile", false}, {BRV_SCOPE_PULSE, "count", false},
        {BRV_SCOPE_PULSE, "pulse", true},   {BRV_SCOPE_WATCH, "tan", false},     {BRV_SCOPE_WATCH, "until", false},
        {BRV_SCOPE_WATCH, "depths", false}, {BRV_SCOPE_WATCH, "damage", false},  {BRV_SCOPE_LIGHT, "seed", false}};
    const struct brv_scenario ask = filled();
    for (size_t i = 0; i < sizeof row / sizeof *row; i++)
        assert_true(brv_inputs_can_open((size_t)brv_key_find(row[i].scope, row[i].key)) == row[i].can);
    const size_t thick = (size_t)brv_key_find(BRV_SCOPE_LAYER, "thickness");
    check_close(brv_inputs_value(&ask, thick, BRV_NEIGHBOUR, 1), 10e-6, 0.0, 0.0);
    assert_true(isnan(brv_inputs_value(&ask, thick, BRV_NEIGHBOUR, 2))); /* endless */
    assert_true(isnan(brv_inputs_value(&ask, (size_t)brv_key_find(BRV_SCOPE_GRAIN, "absorption"), BRV_NEIGHBOUR, 0)));
    check_close(brv_inputs_value(&ask, (size_t)brv_key_find(BRV_SCOPE_LIGHT, "energy"), BRV_NEIGHBOUR, 0),
                ask.beam.energy, 0.0, 0.0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(half_lie_below_the_value),
        cmocka_unit_test(ranges_decide_the_law),
        cmocka_unit_test(what_is_written_is_held),
        cmocka_unit_test(layers_alike_are_one_input),
        cmocka_unit_test(what_cannot_matter_is_not_there),
        cmocka_unit_test(a_changed_skin_is_no_ready_one),
        cmocka_unit_test(the_middle_is_the_scenario),
        cmocka_unit_test(scattering_falls_by_its_power),
        cmocka_unit_test(energy_is_spread_over_the_spot),
        cmocka_unit_test(pigment_of_a_ready_skin_is_kept),
        cmocka_unit_test(lesion_follows),
        cmocka_unit_test(what_follows_keeps_its_range),
        cmocka_unit_test(specials_have_their_limits),
        cmocka_unit_test(opened_values_are_drawn),
        cmocka_unit_test(some_keys_cannot_be_opened),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
