/* The section `spread` of a scenario: values that are opened, and every way to write them wrongly. */
#include "support/check.h"
#include "support/reading.h"

#include "command/command.h"
#include "report/hash.h"
#include "scenario/keys.h"
#include "scenario/request.h"

#include <string.h>

#define REST "light: {wavelength: 755 nm, pulse: 6.3 ns, spot: 3.7 mm, fluence: 1.37 J/cm2}\nskin: light\n"

static void opened_at(const struct brv_opened *opened, enum brv_scope scope, const char *key, size_t site, size_t layer)
{
    assert_int_equal(opened->key, brv_key_find(scope, key));
    assert_int_equal(opened->site, site);
    assert_int_equal(opened->layer, layer);
}

static void opened_values_arrive(void **state)
{
    (void)state;
    char one[BRV_HASH_SIZE], other[BRV_HASH_SIZE];
    const struct outcome outcome = read_text(REST "spread:\n"
                                                  "  skin.basal.melanosomes: 4.5 % to 19.25 %\n"
                                                  "  lesion.epidermis.thickness: 37 um to 0.0610 mm\n"
                                                  "  lesion.grain.darkness: 0.5 to 2\n"
                                                  "  light.fluence: 1.3 J/cm2 to 1.4 J/cm2\n"
                                                  "  surface: {core: 36.5 degC to 37.5 degC}\n");
    assert_string_equal(outcome.messages, "");
    const struct brv_request *request = &outcome.request;
    assert_int_equal(request->n_opened, 5);
    opened_at(&request->opened[0], BRV_SCOPE_LAYER, "melanosomes", BRV_NEIGHBOUR, 1);
    opened_at(&request->opened[1], BRV_SCOPE_LAYER, "thickness", BRV_LESION, 0);
    opened_at(&request->opened[2], BRV_SCOPE_GRAIN, "darkness", BRV_LESION, 0);
    opened_at(&request->opened[3], BRV_SCOPE_LIGHT, "fluence", BRV_NEIGHBOUR, 0);
    opened_at(&request->opened[4], BRV_SCOPE_SURFACE, "core", BRV_NEIGHBOUR, 0);
    assert_true(request->opened[0].low == 0.045 && request->opened[0].high == 0.1925);
    assert_true(request->opened[1].low == 37e-6 && request->opened[1].high == 61e-6);
    check_close(request->opened[4].high, 310.65, 0.0, 6e-14); /* one rounding of degC */

    const struct outcome without = read_text(REST);
    assert_int_equal(without.request.n_opened, 0);
    brv_hash_scenario(one, &request->scenario);
    brv_hash_scenario(other, &without.request.scenario);
    assert_string_equal(one, other); /* what is opened is no part of the scenario */
}

static void wrong_entries_are_refused(void **state)
{
    (void)state;
    refused(REST "spread:\n  grain.darkness: 2 to 0.5\n",
            "FILE:4:19: spread: grain.darkness = 2 to 0.5: the first must be "
            "the lower one; allowed above 0, at most 100\n");
    refused(REST "spread:\n  light.energy: 1 mJ to 2 mJ\n",
            "FILE:4:17: spread: light.energy = 1 mJ to 2 mJ does not hold the scenario's own value, 147.3 mJ\n");
    refused(REST "spread:\n  light.fluence: 1.3 J/cm2 to 1.4 J/cm2\n  light.energy: 100 mJ to 200 mJ\n",
            "FILE:5:3: spread: light.energy is opened twice, or once as fluence and once as energy\n");
    refused(REST "spread:\n  grain: {darkness: 0.5 to 2}\n  grain.darkness: 0.5 to 2\n",
            "FILE:5:3: spread: grain.darkness is opened twice, or once as fluence and once as energy\n");
    refused(REST "spread: [1, 2]\n",
            "FILE:3:9: spread: a list stands here; what is uncertain is wanted below it, one a "
            "line, such as `grain.darkness: 0.5 to 2`\n");
    refused(REST "spread:\n  skin.basal.melanosomes.more: 1 % to 2 %\n  .darkness: 0.5 to 2\n",
            "FILE:4:3: spread: skin.basal.melanosomes.more is not a path to a key, such as skin.basal.melanosomes, "
            "lesion.grain.darkness or light.fluence\n"
            "FILE:5:3: spread: .darkness is not a path to a key, such as skin.basal.melanosomes, "
            "lesion.grain.darkness or light.fluence\n");
}

/* The rest of the file has a fault: the section is still read, but not compared with values that are not there. */
static void faults_stand_beside_those_of_the_rest(void **state)
{
    (void)state;
    refused("light: {wavelength: 755 nm, pulse: 6.3 ns, spot: 3.7 mm, fluence: 1.37}\nskin: light\nspread:\n"
            "  light.fluence: 1.3 J/cm2 to 1.4 J/cm2\n  grain.darknes: 1 to 2\n",
            "FILE:1:67: light.fluence = 1.37: the unit is missing (J/m2, mJ/cm2, J/cm2); allowed 0.01 mJ/cm2 to 1000 "
            "J/cm2\n"
            "FILE:5:3: spread: grain.darknes is not a key; did you mean darkness?\n");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(opened_values_arrive),
        cmocka_unit_test(wrong_entries_are_refused),
        cmocka_unit_test(faults_stand_beside_those_of_the_rest),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
