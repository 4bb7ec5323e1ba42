/* A scenario filled from C: what a key reaches, the same scenario as from a file, every documented fault. */
#include "scenario/given.h"

#include "report/hash.h"
#include "scenario/keys.h"
#include "scenario/request.h"
#include "support/check.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static const enum brv_layer_kind four[] = {BRV_HORNY, BRV_EPIDERMIS, BRV_BASAL, BRV_DERMIS};

static void give(struct brv_scenario *ask, const char *path, double value)
{
    struct brv_error error;
    assert_int_equal(brv_scenario_give(ask, path, value, &error), BRV_OK);
}

static struct brv_scenario stacked(void)
{
    struct brv_scenario ask;
    memset(&ask, 0, sizeof ask);
    brv_skin_stack(&ask, four, 4);
    return ask;
}

/* Where a scenario's own file and one filled from C differ, the hash of all its numbers does. */
static void check_same(struct brv_scenario *ask, const char *file)
{
    struct brv_request request;
    struct brv_faults faults = {.n = 0};
    assert_int_equal(brv_request_read(&request, file, NULL, 0, &faults), 0);
    brv_faults_free(&faults);
    brv_scenario_fill(ask);
    assert_int_equal(brv_scenario_check(ask, NULL, 0), 0);
    char from_c[BRV_HASH_SIZE], from_file[BRV_HASH_SIZE];
    assert_string_equal(brv_hash_scenario(from_c, ask), brv_hash_scenario(from_file, &request.scenario));
}

static void hand_is_that_of_its_file(void **state)
{
    (void)state;
    struct brv_scenario ask = stacked();
    give(&ask, "light.wavelength", 532e-9);
    give(&ask, "light.pulse", 7e-9);
    give(&ask, "light.spot", 4e-3);
    give(&ask, "light.fluence", 6e3);
    give(&ask, "skin.horny.thickness", 15e-6);
    give(&ask, "skin.epidermis.thickness", 60e-6);
    give(&ask, "skin.epidermis.melanosomes", 0.018);
    give(&ask, "skin.basal.thickness", 10e-6);
    give(&ask, "skin.basal.melanosomes", 0.10);
    give(&ask, "skin.dermis.thickness", INFINITY);
    give(&ask, "skin.dermis.blood", 0.003);
    give(&ask, "lesion.basal.melanosomes", 0.25);
    give(&ask, "grain.diameter", 0.5e-6);
    give(&ask, "watch.depths", 0.0);
    give(&ask, "watch.depths", 80e-6);
    give(&ask, "watch.depths", 300e-6);
    give(&ask, "watch.depths", 1e-3);
    give(&ask, "watch.until", 10.0);
    check_same(&ask, "scenarios/hand_532nm.yaml");
}

/* A ready skin, a word, a train, a medium on the skin. */
static void cold_plate_is_that_of_its_file(void **state)
{
    (void)state;
    struct brv_scenario ask;
    memset(&ask, 0, sizeof ask);
    brv_skin_preset(&ask.skin[BRV_NEIGHBOUR], BRV_LIGHT_SKIN);
    ask.skin[BRV_LESION] = ask.skin[BRV_NEIGHBOUR];
    give(&ask, "light.wavelength", 532e-9);
    give(&ask, "light.pulse", 7e-9);
    give(&ask, "light.spot", 4e-3);
    give(&ask, "light.fluence", 6e3);
    give(&ask, "light.count", 10.0);
    give(&ask, "light.rate", 3.0);
    give(&ask, "lesion.basal.melanosomes", 0.25);
    give(&ask, "grain.diameter", 0.5e-6);
    give(&ask, "surface.outside", BRV_PLATE);
    give(&ask, "surface.outside_temperature", 5.0 + 273.15);
    give(&ask, "surface.from", -2.0);
    give(&ask, "surface.to", 5.0);
    const double depth[] = {0.0, 55e-6, 300e-6, 1e-3};
    for (size_t i = 0; i < 4; i++) give(&ask, "watch.depths", depth[i]);
    give(&ask, "watch.until", 20.0);
    check_same(&ask, "scenarios/lesson/08_cold_plate.yaml");
}

static void skin_reaches_both_and_lesion_one(void **state)
{
    (void)state;
    struct brv_scenario ask = stacked();
    const struct brv_skin *lesion = &ask.skin[BRV_LESION], *neighbour = &ask.skin[BRV_NEIGHBOUR];
    give(&ask, "skin.basal.melanosomes", 0.1);
    give(&ask, "grain.diameter", 0.4e-6);
    assert_int_equal(ask.lesion_given, 0);
    check_close(lesion->layer[2].melanosomes, 0.1, 0.0, 0.0);
    check_close(lesion->grain.diameter, 0.4e-6, 0.0, 0.0);

    give(&ask, "lesion.grain.diameter", 0.6e-6);
    give(&ask, "lesion.basal.melanosomes", 0.3);
    assert_int_equal(ask.lesion_given, 1);
    check_close(neighbour->layer[2].melanosomes, 0.1, 0.0, 0.0);
    check_close(neighbour->grain.diameter, 0.4e-6, 0.0, 0.0);
    check_close(lesion->layer[2].melanosomes, 0.3, 0.0, 0.0);
    check_close(lesion->grain.diameter, 0.6e-6, 0.0, 0.0);
    assert_true(brv_key_given(&lesion->layer[2], BRV_SCOPE_LAYER, "melanosomes"));
    assert_false(brv_key_given(&lesion->layer[2], BRV_SCOPE_LAYER, "thickness"));

    give(&ask, "skin.horny.thickness", 20e-6);
    brv_skin_stack(&ask, four + 1, 3); /* what was said of the layers before is forgotten */
    assert_int_equal(ask.lesion_given, 0);
    assert_int_equal(lesion->n_layer, 3);
    assert_false(brv_key_given(&neighbour->layer[0], BRV_SCOPE_LAYER, "thickness"));
    assert_false(brv_key_given(&neighbour->layer[1], BRV_SCOPE_LAYER, "melanosomes"));
}

/* Refused with this status, at this key (NULL: none), and nothing changed. */
static void check_refused(const char *path, double value, brv_status status, enum brv_scope scope, const char *key)
{
    struct brv_error error;
    struct brv_scenario ask = stacked(), before;
    memcpy(&before, &ask, sizeof ask); /* holes too, as they are compared */
    assert_int_equal(brv_scenario_give(&ask, path, value, &error), status);
    assert_int_equal(brv_scenario_give(&ask, path, value, NULL), status);
    assert_int_equal(error.status, status);
    assert_int_equal(error.key, key ? brv_key_find(scope, key) : -1);
    assert_memory_equal(&error.found, &value, sizeof value); /* infinite values too */
    if (key) check_close(error.most, brv_keys[error.key].most, 0.0, 0.0);
    if (key) check_close(error.least, brv_keys[error.key].least, 0.0, 0.0);
    assert_memory_equal(&ask, &before, sizeof ask);
}

static void what_is_not_there_is_refused(void **state)
{
    (void)state;
    static const char *const nowhere[] = {
        "",
        "light",
        "light.",
        "light.fluency",
        "fluence",
        "skin.melanosomes",
        "skin.basal",
        "skin.basal.",
        "skin.basal.fluence",
        "skin.basal.kind", /* said by the stack only: the path would lead elsewhere after it */
        "basal.melanosomes",
        "lesion.light.fluence",
        "lesion.melanosomes",
        "skin.grain.diameter",
        "skin.colour.lightness",
        "light.fluence.more",
        "lightxfluence"};
    for (size_t i = 0; i < sizeof nowhere / sizeof *nowhere; i++)
        check_refused(nowhere[i], 1.0, BRV_MISSING, BRV_SCOPE_LIGHT, NULL);
    check_refused("skin.fat.thickness", 1e-3, BRV_MISSING, BRV_SCOPE_LAYER, "thickness"); /* no fat in this skin */
    check_refused("lesion.fat.blood", 0.01, BRV_MISSING, BRV_SCOPE_LAYER, "blood");
}

static void bounds_are_those_of_the_keys(void **state)
{
    (void)state;
    struct brv_scenario ask = stacked();
    struct brv_error error;
    check_refused("light.wavelength", 399e-9, BRV_RANGE, BRV_SCOPE_LIGHT, "wavelength");
    check_refused("light.wavelength", 1101e-9, BRV_RANGE, BRV_SCOPE_LIGHT, "wavelength");
    check_refused("light.wavelength", INFINITY, BRV_RANGE, BRV_SCOPE_LIGHT, "wavelength");
    check_refused("light.profile", 2.0, BRV_RANGE, BRV_SCOPE_LIGHT, "profile");
    check_refused("light.profile", 0.5, BRV_RANGE, BRV_SCOPE_LIGHT, "profile");
    check_refused("grain.darkness", 0.0, BRV_RANGE, BRV_SCOPE_GRAIN, "darkness"); /* above 0 */
    check_refused("skin.dermis.thickness", -INFINITY, BRV_RANGE, BRV_SCOPE_LAYER, "thickness");
    check_refused("lesion.basal.melanosomes", 0.61, BRV_RANGE, BRV_SCOPE_LAYER, "melanosomes");
    give(&ask, "light.wavelength", 400e-9);
    give(&ask, "light.wavelength", 1100e-9);

    for (size_t i = 0; i < BRV_MOST_DEPTHS; i++) give(&ask, "watch.depths", 1e-5 * (double)i);
    assert_int_equal(brv_scenario_give(&ask, "watch.depths", 1e-3, &error), BRV_RANGE);
    assert_int_equal(ask.watch.n_depth, BRV_MOST_DEPTHS);
    check_close(ask.watch.depth[BRV_MOST_DEPTHS - 1], 1e-5 * (BRV_MOST_DEPTHS - 1), 0.0, 0.0);
}

static void not_a_number_is_refused(void **state)
{
    (void)state;
    struct brv_scenario ask = stacked();
    assert_int_equal(brv_scenario_give(&ask, "light.fluence", (double)NAN, NULL), BRV_RANGE);
    assert_int_equal(brv_scenario_give(&ask, "light.shape", (double)NAN, NULL), BRV_RANGE);
    assert_int_equal(brv_scenario_give(&ask, "skin.dermis.thickness", (double)NAN, NULL), BRV_RANGE);
}

/* Every key but those of a measured colour and the kind of a layer can be given, at both of its bounds. */
static void every_key_has_its_path(void **state)
{
    (void)state;
    size_t n = 0;
    const size_t kind = (size_t)brv_key_find(BRV_SCOPE_LAYER, "kind");
    for (size_t i = 0; i < brv_n_keys; i++) {
        char path[80];
        const struct brv_key *key = &brv_keys[i];
        struct brv_scenario ask = stacked();
        if (key->scope == BRV_SCOPE_COLOUR || i == kind) continue;
        snprintf(path, sizeof path, "%s%s.%s", brv_scope_name(key->scope),
                 key->scope == BRV_SCOPE_LAYER ? ".basal" : "", key->name);
        const size_t layer = key->scope == BRV_SCOPE_LAYER ? 2 : 0;
        if (!key->above) give(&ask, path, key->least);
        give(&ask, path, key->most);
        assert_true(brv_key_given(brv_key_scope(&ask, key->scope, BRV_LESION, layer), key->scope, key->name));
        n++;
    }
    assert_true(n > 60);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(hand_is_that_of_its_file),         cmocka_unit_test(cold_plate_is_that_of_its_file),
        cmocka_unit_test(skin_reaches_both_and_lesion_one), cmocka_unit_test(what_is_not_there_is_refused),
        cmocka_unit_test(bounds_are_those_of_the_keys),     cmocka_unit_test(not_a_number_is_refused),
        cmocka_unit_test(every_key_has_its_path),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
