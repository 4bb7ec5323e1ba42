/* What --set does to a file: values replaced, sections made, its own faults named. */
#include "support/check.h"
#include "support/reading.h"

#include "scenario/keys.h"

static void settings_replace_values(void **state)
{
    (void)state;
    static const char *const set[] = {"light.spot= 6.1 mm ", "skin.basal.melanosomes=8.3 %",
                                      "lesion.basal.melanosomes=19 %", "watch.depths=[2 um, 0.4 mm]"};
    const struct brv_scenario ask = sound_with(whole, set, 4);
    assert_true(ask.beam.spot == 6.1e-3);
    assert_true(ask.skin[BRV_NEIGHBOUR].layer[1].melanosomes == 0.083);
    assert_true(ask.skin[BRV_LESION].layer[1].melanosomes == 0.19);
    assert_int_equal(ask.watch.n_depth, 2);
    assert_true(ask.watch.depth[1] == 0.4e-3);

    static const char *const more[] = {"title=A: b, [c] # d", "grain.layer=dermis", "lesion.grain.diameter=0.2 um",
                                       "skin.stratum corneum.thickness=21 um"};
    const struct outcome outcome = read_with(whole, more, 4);
    assert_string_equal(outcome.messages, "");
    assert_string_equal(outcome.request.title, "A: b, [c] # d");
    assert_int_equal(outcome.request.scenario.skin[BRV_NEIGHBOUR].grain.layer, 2);
    assert_true(outcome.request.scenario.skin[BRV_LESION].grain.diameter == 0.2e-6);
    assert_true(outcome.request.scenario.skin[BRV_NEIGHBOUR].layer[0].thickness == 21e-6);
}

static void settings_make_sections(void **state)
{
    (void)state;
    static const char *const set[] = {"lesion.basal.melanosomes=31 %", "surface.temperature=29 degC",
                                      "skin.basal.melanosomes=11 %", "lesion.dermis.blood=2 %"};
    const struct brv_scenario ask = sound_with(LIGHT "skin: dark\n", set, 4); /* a ready skin takes changes */
    assert_true(ask.skin[BRV_LESION].layer[1].melanosomes == 0.31);
    assert_true(ask.skin[BRV_NEIGHBOUR].layer[1].melanosomes == 0.11);
    assert_true(ask.skin[BRV_LESION].layer[2].blood == 0.02);

    static const char *const skin[] = {"skin=dark"};
    assert_int_equal(sound_with(LIGHT, skin, 1).skin[BRV_LESION].n_layer, 3);
}

static void settings_replace_rivals_of_the_file(void **state)
{
    (void)state;
    static const char *const energy[] = {"light.energy=93 mJ"};
    const struct brv_scenario ask = sound_with(LIGHT "skin: dark\n", energy, 1);
    assert_true(ask.beam.energy == 0.093);
    assert_false(brv_key_given(&ask.beam, BRV_SCOPE_LIGHT, "fluence"));
    static const char *const fluence[] = {"light.fluence=2.1 J/cm2", "skin.basal.absorption=53 /cm",
                                          "lesion.basal.absorption=71 /cm"};
    const struct brv_scenario other = sound_with(whole, fluence, 3);
    assert_false(brv_key_given(&other.beam, BRV_SCOPE_LIGHT, "energy"));
    assert_true(other.skin[BRV_NEIGHBOUR].layer[1].absorption == 5300.0);
    assert_true(other.skin[BRV_LESION].layer[1].absorption == 7100.0);

    static const char *const index[] = {"surface.index=1.5"}; /* and nothing is laid on or taken away */
    const struct brv_scenario still =
        sound_with(LIGHT "skin: dark\nsurface: {outside: plate, outside_temperature: 5 degC, to: 2 s}\n", index, 1);
    assert_true(still.surface.index == 1.5 && !brv_surface_changes(&still));
    assert_false(brv_key_given(&still.surface, BRV_SCOPE_SURFACE, "to"));

    static const char *const undone[] = {"surface.outside=air", "light.count=1", "light.passes=1"};
    const struct brv_scenario single =
        sound_with("light: {wavelength: 532 nm, pulse: 7 ns, spot: 4 mm, fluence: 1 J/cm2, count: 5, rate: 2 Hz, "
                   "passes: 3, pause: 7 s}\nskin: dark\n"
                   "surface: {outside: plate, outside_temperature: 5 degC, from: -1 s, to: 2 s}\n",
                   undone, 3);
    assert_true(brv_pulse_total(&single.pulse) == 1 && !brv_surface_changes(&single));
    assert_false(brv_key_given(&single.pulse, BRV_SCOPE_PULSE, "rate"));
    assert_false(brv_key_given(&single.surface, BRV_SCOPE_SURFACE, "outside_temperature"));

    static const char *const ready[] = {"skin.basal.absorption=53 /cm"};
    assert_true(sound_with(LIGHT "skin: dark\n", ready, 1).skin[BRV_NEIGHBOUR].layer[1].absorption == 5300.0);

    static const char *const both[] = {"light.fluence=2.1 J/cm2", "light.energy=93 mJ"}; /* asked for: not silent */
    refused_with(LIGHT "skin: dark\n", both, 2,
                 "--set light.energy:1:14: light.energy = 93 mJ: give fluence or energy, not both\n");
}

static void faults_in_settings_name_them(void **state)
{
    (void)state;
    static const struct {
        const char *set, *message;
    } row[] = {
        {"light.spot=6",
         "--set light.spot:1:12: light.spot = 6: the unit is missing (nm, um, mm, cm, m); allowed 0.5 mm to 30 mm\n"},
        {"light.spot=", "--set light.spot:1:1: light.spot has no value; allowed 0.5 mm to 30 mm\n"},
        {"light.spot", "--set light.spot:1:1: a path, = and a value are wanted, such as light.spot=\"6 mm\"\n"},
        {"=6 mm", "--set :1:1: a path, = and a value are wanted, such as light.spot=\"6 mm\"\n"},
        {"light..spot=6 mm", "--set light..spot:1:1: a path, = and a value are wanted, such as light.spot=\"6 mm\"\n"},
        {"a.b.c.d=1", "--set a.b.c.d:1:1: a path, = and a value are wanted, such as light.spot=\"6 mm\"\n"},
        {"light.pulse=5 s", "--set light.pulse:1:13: light.pulse = 5 s, allowed 10 ps to 100 ms\n"},
        {"light.spt=5 mm", "--set light.spt:1:1: light.spt is not a key; did you mean light.spot?\n"},
        {"ligth.rate=5 mm", "--set ligth.rate:1:1: ligth is not a section; did you mean light?\n"},
        {"light.spot.x=5 mm", "--set light.spot.x:1:1: spot is a value in the file and has no keys below it\n"},
        {"skin.rete.blood=1 %", "--set skin.rete.blood:1:1: the skin has no layer called rete\n"},
        {"skin.basl.blood=1 %", "--set skin.basl.blood:1:1: the skin has no layer called basl; did you mean basal?\n"},
        {"skin.basal=1 %", "--set skin.basal:1:1: one key of the layer is wanted, as in skin.basal.thickness\n"},
        {"lesion.rete.blood=1 %",
         "--set lesion.rete.blood:1:1: lesion.rete: the skin has no such layer, only stratum corneum, basal, dermis\n"},
        {"watch.depths=[0 um, 1 mm", "--set watch.depths:1:14: the list that begins here is not closed with ]\n"},
        {"watch.depths=[0 um, 1]",
         "--set watch.depths:1:21: watch.depths = 1: the unit is missing (nm, um, mm, cm, m); allowed 0 mm to 20 mm\n"},
        {"title=\x1b[31m", "--set title:1:7: a control character stands here; a scenario is a text file\n"},
        {"grain.layer=rete", "--set grain.layer:1:13: grain.layer = rete: the skin has no such layer, only stratum "
                             "corneum, basal, dermis\n"},
    };
    for (size_t i = 0; i < sizeof row / sizeof *row; i++) refused_with(whole, &row[i].set, 1, row[i].message);

    static const char *const ready[] = {"skin.basal=5 %"};
    refused_with(LIGHT "skin: dark\n", ready, 1,
                 "--set skin.basal:1:1: a layer and its key are wanted, as in skin.basal.melanosomes\n");
}

/* Those of the file come first, whatever --set is called. */
static void faults_of_the_file_come_first(void **state)
{
    (void)state;
    static const char *const set[] = {"light.pulse=5 s"};
    refused_with("light: {wavelength: 5 nm, spot: 3.7 mm, fluence: 1 J/cm2}\nskin: dark\n", set, 1,
                 "FILE:1:21: light.wavelength = 5 nm, allowed 400 nm to 1100 nm\n"
                 "--set light.pulse:1:13: light.pulse = 5 s, allowed 10 ps to 100 ms\n");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(settings_replace_values),
        cmocka_unit_test(settings_make_sections),
        cmocka_unit_test(settings_replace_rivals_of_the_file),
        cmocka_unit_test(faults_in_settings_name_them),
        cmocka_unit_test(faults_of_the_file_come_first),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
