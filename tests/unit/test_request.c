/* From a scenario's text to the numbers of the model, and all faults of a text in one go. */
#include "support/check.h"
#include "support/reading.h"

#include "command/command.h"
#include "scenario/keys.h"
#include "scenario/request.h"

#include <math.h>
#include <stdbool.h>
#include <string.h>

static void everything_arrives(void **state)
{
    (void)state;
    const struct outcome outcome = read_text(whole);
    assert_string_equal(outcome.messages, "");
    assert_int_equal(outcome.code, BRV_EXIT_DONE);
    const struct brv_scenario *ask = &outcome.request.scenario;
    const struct brv_skin *neighbour = &ask->skin[BRV_NEIGHBOUR], *lesion = &ask->skin[BRV_LESION];

    assert_string_equal(outcome.request.title, "Everything that can be said");
    assert_string_equal(outcome.request.layer_name[0], "stratum corneum");
    assert_string_equal(outcome.request.layer_name[2], "dermis");
    assert_true(ask->beam.wavelength == 694.3e-9 && ask->beam.spot == 5.3e-3 && ask->beam.energy == 0.412);
    assert_int_equal(ask->beam.profile, BRV_PROFILE_GAUSSIAN);
    assert_int_equal(ask->pulse.shape, BRV_SHAPE_SQUARE);
    assert_true(ask->pulse.width == 28.5e-9);
    check_close(ask->beam.fluence, 0.412 / (0.25 * 3.14159265358979 * 5.3e-3 * 5.3e-3), 1e-13, 0.0);

    assert_int_equal(neighbour->n_layer, 3);
    assert_int_equal(neighbour->layer[0].kind, BRV_HORNY);
    assert_int_equal(neighbour->layer[1].kind, BRV_BASAL);
    assert_true(neighbour->layer[1].melanosomes == 0.079 && neighbour->layer[1].saturation == 0.615);
    assert_true(neighbour->layer[2].absorption == 83.0 && neighbour->layer[2].scattering == 18700.0);
    assert_true(neighbour->grain.darkness == 1.7 && lesion->grain.darkness == 1.7);
    assert_int_equal(neighbour->grain.layer, 1);

    assert_int_equal(ask->lesion_given, 1);
    assert_true(lesion->layer[1].melanosomes == 0.231 && lesion->layer[1].thickness == 11.3e-6);
    assert_true(lesion->grain.diameter == 0.61e-6);
    assert_false(brv_key_given(&lesion->layer[2], BRV_SCOPE_LAYER, "absorption")); /* its composition came instead */
    assert_true(lesion->layer[2].blood == 0.007);

    assert_int_equal(ask->surface.outside, BRV_GEL);
    check_close(ask->surface.temperature, 304.55, 0.0, 6e-14);
    assert_true(ask->below.index == 1.43);
    assert_int_equal(ask->watch.n_depth, 3);
    assert_true(ask->watch.depth[1] == 17.3e-6 && ask->watch.until == 90.0);
}

static void other_units_give_the_same_scenario(void **state)
{
    (void)state;
    const struct brv_scenario one = sound(LIGHT "skin: [{layer: dermis, absorption: 2.37 /cm}]\n");
    const struct brv_scenario two =
        sound("light: {wavelength: 0.755 um, pulse: 6300 ps, spot: 0.37 cm, fluence: 13700 J/m^2}\n"
              "skin: [{layer: dermis, absorption: 0.237 mm-1, thickness: endless}]\n");
    assert_memory_equal(&one.beam, &two.beam, sizeof one.beam);
    assert_memory_equal(&one.pulse, &two.pulse, sizeof one.pulse);
    assert_true(one.skin[0].layer[0].absorption == two.skin[0].layer[0].absorption);
}

/* ---- refusals: all of a text at once, and none that follows from another ---- */

static void keys_are_known(void **state)
{
    (void)state;
    refused("light: {wavelength: 755 nm, pulse: 6.3 ns, spot: 3.7 mm, fluency: 1 J/cm2}\nskin: light\n",
            "FILE:1:58: light.fluency is not a key; did you mean light.fluence?\n");
    refused(LIGHT "skin:\n  - layer: dermis\n    wavelength: 5 nm\n    zzz: 1\n    melanin: 2 %\n",
            "FILE:4:5: skin.dermis.wavelength is not a key here; wavelength belongs in light\n"
            "FILE:5:5: skin.dermis.zzz is not a key; here may stand kind, thickness, melanosomes, blood, saturation, "
            "water, baseline, absorption, scattering, reduced_scattering, anisotropy, index, conductivity, density, "
            "heat_capacity, perfusion\n"
            "FILE:6:5: skin.dermis.melanin is not a key: pigment is given as melanosomes, their share of the layer's "
            "volume\n");
    refused("wavelength: 755 nm\nlight.pulse: 6.3 ns\nspot: 3.7 mm\nfluence: 1 J/cm2\nskn: light\nqwerty: 5\n",
            "FILE:1:1: wavelength is not a section; write wavelength in light, indented below it\n"
            "FILE:2:1: light.pulse is not a section; write pulse in light, indented below it\n"
            "FILE:3:1: spot is not a section; write spot in light, indented below it\n"
            "FILE:4:1: fluence is not a section; write fluence in light, indented below it\n"
            "FILE:5:1: skn is not a section; did you mean skin?\n"
            "FILE:6:1: qwerty is not a section; a scenario has title, light, skin, lesion, grain, surface, below, "
            "watch, vessel, ladder, cover, room, visits, film, spread, choices\n");
}

static void what_is_needed_is_missed_once(void **state)
{
    (void)state;
    refused("title: x\n", "FILE:0:0: light is missing: a section that holds wavelength, spot, fluence, pulse (or "
                          "energy in place of fluence)\n"
                          "FILE:0:0: skin is missing: a list of layers, or a ready skin: light, intermediate or "
                          "dark\n");
    refused("skin: dark\nlight:\n  spot: 3.7 mm\n  energy: 5 apples\n",
            "FILE:2:1: light.wavelength is missing: wavelength in vacuum, 400 nm to 1100 nm\n"
            "FILE:2:1: light.pulse is missing: pulse width: full width at half maximum, or the length of a square "
            "pulse, 10 ps to 100 ms\n"
            "FILE:4:11: light.energy = 5 apples: no unit is called apples; here it can be nJ, uJ, mJ, J\n");
    refused(
        "skin: dark\nlight: 532 nm\n",
        "FILE:2:8: light = 532 nm; keys are wanted below it, indented, one a line, each with a colon and a blank: "
        "wavelength, spot, profile, fluence, energy, method, photons, error, seed, pulse, shape, rate, count, passes, "
        "pause\n");
    refused("light:\nskin:\n",
            "FILE:1:1: light is empty; keys are wanted below it, indented, one a line, each with a colon and a blank: "
            "wavelength, spot, profile, fluence, "
            "energy, method, photons, error, seed, pulse, shape, rate, count, passes, pause\n"
            "FILE:2:1: skin is empty: a list of layers is wanted, or a ready skin: light, intermediate or dark\n");
    refused("- a\n", "FILE:1:1: this is not a scenario: it begins with a section, such as `light:`\n");
}

static void ranges_are_kept(void **state)
{
    (void)state;
    refused("light: {wavelength: 10.6 um, pulse: 5 s, spot: 40 mm, fluence: -1 J/cm2}\n"
            "skin: [{layer: basal, thickness: 0 um, melanosomes: 61 %}, {layer: dermis, index: 0.9}]\n"
            "lesion: {basal.melanosomes: 62 %}\n"
            "grain: {darkness: 0}\n"
            "watch: {depths: [-1 um, 1 mm, 21 mm]}\n",
            "FILE:1:21: light.wavelength = 10.6 um, allowed 400 nm to 1100 nm\n"
            "FILE:1:37: light.pulse = 5 s, allowed 10 ps to 100 ms\n"
            "FILE:1:48: light.spot = 40 mm, allowed 0.5 mm to 30 mm\n"
            "FILE:1:64: light.fluence = -1 J/cm2, allowed 0.01 mJ/cm2 to 1000 J/cm2\n"
            "FILE:2:34: skin.basal.thickness = 0 um, allowed 1 um to 100 mm, or endless\n"
            "FILE:2:53: skin.basal.melanosomes = 61 %, allowed 0 % to 60 %\n"
            "FILE:2:83: skin.dermis.index = 0.9, allowed 1 to 2.5\n"
            "FILE:3:29: lesion.basal.melanosomes = 62 %, allowed 0 % to 60 %\n"
            "FILE:4:19: grain.darkness = 0, allowed above 0, at most 100\n"
            "FILE:5:18: watch.depths = -1 um, allowed 0 mm to 20 mm\n"
            "FILE:5:31: watch.depths = 21 mm, allowed 0 mm to 20 mm\n");
}

/* Bounds are allowed, in whatever unit: the reader rounds once, so none of them is missed by a bit. */
static void bounds_themselves_are_allowed(void **state)
{
    (void)state;
    sound("light: {wavelength: 0.4 um, pulse: 0.01 ns, spot: 0.05 cm, energy: 0.1 uJ}\n"
          "skin: [{layer: basal, thickness: 0.001 mm, melanosomes: 60 %}, {layer: dermis}]\n"
          "lesion: {grain.diameter: 0.05 um}\nsurface: {temperature: 0 degC}\n");
    sound("light: {wavelength: 1.1 um, pulse: 0.1 s, spot: 3 cm, energy: 1000 J}\n"
          "skin: [{layer: basal, thickness: 10 cm}, {layer: dermis}]\n"
          "grain: {diameter: 5000 nm, darkness: 100}\nsurface: {temperature: 60 degC}\n"
          "watch: {depths: [0.02 m], until: 4000 s}\n");
    sound(
        "light: {wavelength: 755 nm, pulse: 100 ms, shape: square, spot: 3.7 mm, fluence: 1000 J/cm2, rate: 10 Hz, "
        "count: 100, passes: 2, pause: 0.1 s}\n"
        "skin: light\n"
        "surface: {outside: plate, core: 60 degC, outside_temperature: -60 degC, transfer: 1e5 W/m^2/K, from: -10 min, "
        "to: -599 s}\n");
    sound("light: {wavelength: 755 nm, pulse: 6 ns, spot: 3 mm, fluence: 1 J/cm2, rate: 0.01 /s, count: 5, passes: 3, "
          "pause: 600 s}\nskin: light\n");
    sound(LIGHT "skin: light\nsurface: {outside: forced_air, core: 0 degC, outside_temperature: 60 degC, transfer: 0 "
                "W/m2/K, from: 1000 s, to: 4000 s}\nwatch: {until: 4000 s}\n");
}

static void rivals_do_not_stand_together(void **state)
{
    (void)state;
    refused("light: {wavelength: 755 nm, pulse: 6.3 ns, spot: 3.7 mm, fluence: 1 J/cm2, energy: 5 mJ}\n"
            "skin:\n"
            "  - layer: basal\n"
            "    melanosomes: 2 %\n"
            "    absorption: 8 /cm\n"
            "    scattering: 200 /cm\n"
            "    reduced_scattering: 30 /cm\n"
            "  - layer: dermis\n"
            "surface: {index: 1.2, outside: gel}\n"
            "grain: {darkness: 2, absorption: 3000 /cm}\n",
            "FILE:1:84: light.energy = 5 mJ: give fluence or energy, not both (fluence stands in line 1)\n"
            "FILE:4:18: skin.basal.melanosomes = 2 %: absorption replaces the composition: give one or the other "
            "(absorption stands in line 5)\n"
            "FILE:6:17: skin.basal.scattering = 200 /cm: give scattering or reduced_scattering, not both "
            "(reduced_scattering stands in line 7)\n"
            "FILE:9:18: surface.index = 1.2: give outside or index, not both (outside stands in line 9)\n"
            "FILE:10:34: grain.absorption = 3000 /cm: give darkness or absorption, not both (darkness stands in line "
            "10)\n");
}

/* ---- pulses in time, and what lies on the skin meanwhile ---- */

#define TRAIN(more)                                                                                                    \
    "light: {wavelength: 755 nm, pulse: 20 ms, spot: 3.7 mm, fluence: 1.37 J/cm2" more "}\nskin: light\n"

static void trains_and_surfaces_arrive(void **state)
{
    (void)state;
    const struct brv_scenario ask = sound(TRAIN(
        ", rate: 3 Hz, count: 7, passes: 2, pause: 1.5 min") "surface: {outside: plate, outside_temperature: -4 degC, "
                                                             "transfer: 3100 "
                                                             "W/m\xC2\xB2/K, core: 36.4 degC, from: -2 s, to: 3 min}\n"
                                                             "watch: {until: 200 s}\n");
    assert_true(ask.pulse.rate == 3.0 && ask.pulse.count == 7.0 && ask.pulse.passes == 2.0);
    assert_true(ask.pulse.pause == 90.0 && ask.surface.from == -2.0 && ask.surface.to == 180.0);
    assert_int_equal(ask.surface.outside, BRV_PLATE);
    assert_true(ask.surface.transfer == 3100.0 && ask.surface.index == 1.76);
    check_close(ask.surface.outside_temperature, 269.15, 0.0, 6e-14); /* one rounding of degC */
    check_close(ask.surface.core, 309.55, 0.0, 6e-14);
}

static void trains_are_laid_out_in_time(void **state)
{
    (void)state;
    refused(TRAIN(", count: 2, passes: 2"),
            "FILE:1:1: light.rate is missing: how often a pulse comes in a pass, centre to centre; needed when count "
            "is above 1, 0.01 Hz to 10 Hz\n"
            "FILE:1:1: light.pause is missing: from the last pulse of a pass to the first of the next, start to start; "
            "needed when passes is above 1, 0.1 s to 600 s\n");
    refused(TRAIN(", rate: 3 Hz, pause: 2 s"),
            "FILE:1:84: light.rate = 3 Hz: there is only one pulse in a pass: a rate needs light.count, above 1\n"
            "FILE:1:97: light.pause = 2 s: there is only one pass: a pause needs light.passes, above 1\n");
    refused(TRAIN(", rate: 3, count: 2.5, passes: 0, pause: 601 s"),
            "FILE:1:84: light.rate = 3: the unit is missing (/s, Hz); allowed 0.01 Hz to 10 Hz\n"
            "FILE:1:94: light.count = 2.5: a whole number is wanted, here up to 200\n"
            "FILE:1:107: light.passes = 0, allowed 1 to 200\n"
            "FILE:1:117: light.pause = 601 s, allowed 0.1 s to 600 s\n");
    refused(TRAIN(", shape: square, rate: 10 Hz, count: 21, passes: 10, pause: 1 s"),
            "FILE:1:125: light.passes = 10: light.count times this makes more than 200 pulses\n");
    refused(TRAIN(", rate: 10.1 Hz, count: 3"), "FILE:1:84: light.rate = 10.1 Hz, allowed 0.01 Hz to 10 Hz\n");
    refused("light: {wavelength: 755 nm, pulse: 30 ms, spot: 3.7 mm, energy: 1 J, rate: 10 Hz, count: 3, passes: 2, "
            "pause: 0.1 s}\nskin: light\n",
            "FILE:1:76: light.rate = 10 Hz: one pulse has not ended when the next begins: with its tails a gaussian "
            "pulse lasts 5 times its width, here up to 6.66 Hz\n"
            "FILE:1:111: light.pause = 0.1 s: one pulse has not ended when the next begins: with its tails a gaussian "
            "pulse lasts 5 times its width, here from 0.151 s on\n");
    refused(TRAIN(", rate: 0.01 Hz, count: 50"),
            "FILE:1:84: light.rate = 0.01 Hz: the last pulse would end later than any curve can\n");
    refused(TRAIN(", rate: 1 Hz, count: 5") "watch: {until: 4.1 s}\n",
            "FILE:3:16: watch.until = 4.1 s: the curves must run on past the end of the last pulse, here from 4.11 s "
            "on\n");
}

/* One fault each, and not what follows from it. */
static void what_follows_from_a_train_is_not_told(void **state)
{
    (void)state;
    refused(TRAIN(", rate: 3 Hz, count: many") "surface: {outside: gel, from: -1 s, to: 70 s}\n",
            "FILE:1:97: light.count = many: a number is wanted; allowed 1 to 200\n");
    refused(TRAIN(", rate: 3 Hz, count: 300, passes: 2, pause: 2 s"),
            "FILE:1:97: light.count = 300, allowed 1 to 200\n");
    refused(TRAIN(", rate: 3 parsec, count: 5"),
            "FILE:1:84: light.rate = 3 parsec: no unit is called parsec; here it can be /s, Hz\n");
    refused(TRAIN("") "surface: {outside: water, from: -3 s, to: 5 s, outside_temperature: 5 degC}\n",
            "FILE:3:20: surface.outside = water, allowed air, gel, forced_air or plate\n");
    refused(TRAIN("") "surface: {outside: gel, from: -601 s, to: -5 min}\nwatch: {until: 1 h}\n",
            "FILE:3:31: surface.from = -601 s, allowed -600 s to 1000 s\n"
            "FILE:4:16: watch.until = 1 h: h is for waiting; here it can be ps, ns, us, ms, s, min\n");
}

static void what_lies_on_the_skin_has_its_time(void **state)
{
    (void)state;
    refused(TRAIN("") "surface: {from: -2 s, to: 1 s, outside_temperature: 5 degC}\n",
            "FILE:3:17: surface.from = -2 s: still air lies on the skin all the time, in balance with it: "
            "surface.outside says what is laid on\n"
            "FILE:3:27: surface.to = 1 s: still air lies on the skin all the time, in balance with it: "
            "surface.outside says what is laid on\n"
            "FILE:3:53: surface.outside_temperature = 5 degC: still air lies on the skin all the time, in balance with "
            "it: surface.outside says what is laid on\n");
    refused(TRAIN("") "surface: {index: 1.5, from: -2 s}\n",
            "FILE:3:29: surface.from = -2 s: index stands for what lies there all the time, in balance with the skin: "
            "give outside in its place (index stands in line 3)\n");
    refused(
        TRAIN("") "surface: {outside: forced_air}\n",
        "FILE:3:1: surface.outside_temperature is missing: temperature of what lies on the skin; without it a gel is "
        "in balance with the skin; forced_air and plate need it, -60 degC to 60 degC\n");
    refused(TRAIN("") "surface: {outside: gel, from: 2 s, to: 1 s}\n",
            "FILE:3:40: surface.to = 1 s: it would be taken away before it is laid on\n");
    refused(TRAIN("") "surface: {outside: gel, from: 60 s}\n",
            "FILE:3:31: surface.from = 60 s: it would be laid on when the curves have ended\n");
    refused(TRAIN("") "surface: {outside: gel, to: 61 s}\n",
            "FILE:3:29: surface.to = 61 s: it would be taken away when the curves have ended\n");
    refused(TRAIN(", rate: 1 Hz, count: 3") "surface: {outside: gel, from: 1.05 s, to: 2099 ms}\n",
            "FILE:3:31: surface.from = 1.05 s: it would be laid on while a pulse lasts\n"
            "FILE:3:43: surface.to = 2099 ms: it would be taken away while a pulse lasts\n");
    refused(TRAIN(", rate: 1 Hz, count: 3") "surface: {outside: gel, from: 0.5 s, to: 1.5 s}\n",
            "FILE:3:31: surface.from = 0.5 s: it must lie on the skin during all pulses or during none: the light is "
            "solved once for all of them\n");
    refused(TRAIN(", rate: 1 Hz, count: 3") "surface: {outside: gel, to: 1.5 s}\n",
            "FILE:3:29: surface.to = 1.5 s: it must lie on the skin during all pulses or during none: the light is "
            "solved once for all of them\n");
}

static void values_have_the_right_shape(void **state)
{
    (void)state;
    refused("light: {wavelength: [755 nm], pulse: , spot: {a: 1}, fluence: 1 J/cm2, shape: round, profile: }\n"
            "skin: [{layer: dermis, thickness: infinite}]\n"
            "watch: {depths: 1 mm}\n"
            "title: [a]\n",
            "FILE:1:21: light.wavelength: one value is wanted here, not a list\n"
            "FILE:1:31: light.pulse has no value; allowed 10 ps to 100 ms\n"
            "FILE:1:46: light.spot: one value is wanted here, not keys with values\n"
            "FILE:1:79: light.shape = round, allowed gaussian or square\n"
            "FILE:1:86: light.profile has no value; allowed flat or gaussian\n"
            "FILE:2:35: skin.dermis.thickness = infinite: a layer without end is written endless\n"
            "FILE:3:17: watch.depths = 1 mm: a list of 1 to 16 values is wanted, such as [0 um, 1 mm]\n"
            "FILE:4:8: title: a list stands here; one line of text is wanted, in quotes when it holds a colon\n");
    refused(LIGHT "skin: light\nwatch: {depths: [1, 1 mm, [2 mm], ]}\n",
            "FILE:3:18: watch.depths = 1: the unit is missing (nm, um, mm, cm, m); allowed 0 mm to 20 mm\n"
            "FILE:3:27: watch.depths: one value is wanted here, not a list\n");
    refused(LIGHT "skin: light\nwatch: {depths: []}\n",
            "FILE:3:17: watch.depths is empty: a list of 1 to 16 values is wanted, such as [0 um, 1 mm]\n");
}

static void titles_are_one_line(void **state)
{
    (void)state;
    char text[BRV_TITLE_SIZE + 400] = LIGHT "skin: light\ntitle: ";
    const size_t start = strlen(text);
    memset(text + start, 'a', BRV_TITLE_SIZE - 1);
    assert_int_equal(strlen(read_text(text).request.title), BRV_TITLE_SIZE - 1);
    text[start + BRV_TITLE_SIZE - 1] = 'a';
    refused(text, "FILE:3:8: title: 16385 bytes are too long, at most 16384 fit\n");
    refused(LIGHT "skin: light\ntitle: \"a\\nb\"\n",
            "FILE:3:8: title = a: the end of a line follows; one line of text is wanted\n");
    refused(LIGHT "skin: light\ntitle: \"a\\tb\"\n",
            "FILE:3:8: title = a: a tab follows; one line of text is wanted\n");
    refused(LIGHT "skin: light\ntitle: \"a\\e[31mb\"\n",
            "FILE:3:8: title = a: a control character follows; one line of text is wanted\n");
    refused(LIGHT "skin: light\ntitle: \"a\\u2028b\"\n", /* the end of a line to some */
            "FILE:3:8: title = a: a control character follows; one line of text is wanted\n");
    refused(LIGHT "skin: light\ntitle: \"a\\u202Eb\"\n", /* what follows would run backwards */
            "FILE:3:8: title = a: a control character follows; one line of text is wanted\n");
    refused(LIGHT "skin: light\ntitle:\n  a: b\n",
            "FILE:4:3: title: keys stand here; one line of text is wanted, in quotes when it holds a colon\n");
}

static void faults_of_the_document_come_with_the_others(void **state)
{
    (void)state;
    refused("light: {wavelength: 755 nm, pulse: *p, spot: 3.7, fluence: 1 J/cm2}\nskin: light\n---\nb: 1\n",
            "FILE:1:36: aliases (*name) are not taken: write the value out\n"
            "FILE:1:46: light.spot = 3.7: the unit is missing (nm, um, mm, cm, m); allowed 0.5 mm to 30 mm\n"
            "FILE:3:1: a second document begins here; a file holds one scenario\n");
    refused("light: *a\nskin: *b\nlesion: *c\n", "FILE:1:8: aliases (*name) are not taken: write the value out\n"
                                                 "FILE:2:7: aliases (*name) are not taken: write the value out\n"
                                                 "FILE:3:9: aliases (*name) are not taken: write the value out\n");
    /* what the rest would have held is not known */
    refused("light: {spot: 3}\nskin: [light\ngrain: x\n", "FILE:2:7: the list that begins here is not closed with ]\n");
}

static void shares_are_written_in_percent(void **state)
{
    (void)state;
    refused(LIGHT "skin: [{layer: dermis, blood: 0.29, melanosomes: 0.83, saturation: 1, water: 65}]\n",
            "FILE:2:31: skin.dermis.blood = 0.29: a share is written in %; did you mean 29 %? (allowed 0 % to 100 %)\n"
            "FILE:2:50: skin.dermis.melanosomes = 0.83: a share is written in % (allowed 0 % to 60 %)\n"
            "FILE:2:68: skin.dermis.saturation = 1: a share is written in % (allowed 0 % to 100 %)\n"
            "FILE:2:78: skin.dermis.water = 65: a share is written in %; did you mean 65 %? (allowed 0 % to 100 %)\n");
    refused(LIGHT "skin: [{layer: dermis, anisotropy: 83 %}]\n",
            "FILE:2:36: skin.dermis.anisotropy = 83 %: this is a plain number, without %; did you mean 0.83?\n");
}

static void words_come_with_the_nearest(void **state)
{
    (void)state;
    refused(LIGHT "skin: [{layer: epidermis}]\nbelow: {index: 1.4, returns: everything}\nsurface: {outside: gell}\n",
            "FILE:3:30: below.returns = everything: the only value is the word `nothing`\n"
            "FILE:4:20: surface.outside = gell, allowed air, gel, forced_air or plate; did you mean gel?\n");
    refused(LIGHT "skin: [{layer: epidermis}]\nbelow: {index: 1.4, returns: }\n",
            "FILE:3:21: below.returns has no value; the only value is the word `nothing`\n");
    refused(LIGHT "skin: [{layer: Dermis, thickness: endles}]\ngrain: {layer: }\n",
            "FILE:2:8: skin.Dermis: did you mean `layer: dermis`? A name of one's own needs a kind beside it: horny, "
            "epidermis, basal, dermis or fat\n"
            "FILE:2:35: skin.Dermis.thickness = endles: a layer without end is written endless\n"
            "FILE:3:9: grain.layer has no value; the name of a layer is wanted\n");
    refused("light: {wavelength: green, pulse: 7 ns, spot: 4 mm, fluence: 1 J/cm2}\nskin: light\n",
            "FILE:1:21: light.wavelength = green: a number and its unit are wanted; allowed 400 nm to 1100 nm\n");
}

/* One fault out of range is one fault: how values fit together is judged once each is in its range. */
static void nothing_follows_from_a_range(void **state)
{
    (void)state;
    refused(LIGHT "skin: [{layer: basal, melanosomes: 250 %}, {layer: dermis}]\n",
            "FILE:2:36: skin.basal.melanosomes = 250 %, allowed 0 % to 60 %\n");
    refused(LIGHT "skin: [{layer: dermis, blood: 130 %}]\n", "FILE:2:31: skin.dermis.blood = 130 %, allowed 0 % to "
                                                             "100 %\n");
    refused(LIGHT "skin: light\nlesion: {basal.melanosomes: 2500 %}\n",
            "FILE:3:29: lesion.basal.melanosomes = 2500 %, allowed 0 % to 60 %\n");
    refused(LIGHT "skin: light\nwatch: {until: 0 s}\n", "FILE:3:16: watch.until = 0 s, allowed 1 ns to 4000 s\n");
    refused("light: {wavelength: 755 nm, pulse: 100 s, spot: 3.7 mm, fluence: 1 J/cm2}\nskin: light\n",
            "FILE:1:36: light.pulse = 100 s, allowed 10 ps to 100 ms\n");
    refused(LIGHT "skin: [{layer: dermis, absorption: -3 /cm}]\n",
            "FILE:2:36: skin.dermis.absorption = -3 /cm, allowed 0 /cm to 100000 /cm\n");
    refused(LIGHT "skin: [{layer: dermis, thickness: -3 mm}]\nbelow: {index: 1.4}\nwatch: {depths: [1 mm]}\n",
            "FILE:2:35: skin.dermis.thickness = -3 mm, allowed 1 um to 100 mm, or endless\n");
    refused(LIGHT "skin: [{layer: basal, blood: 70 %, melanosomes: 250 %}, {layer: dermis, blood: 70 %, melanosomes: "
                  "40 %}]\n", /* another layer's sum is its own matter */
            "FILE:2:49: skin.basal.melanosomes = 250 %, allowed 0 % to 60 %\n"
            "FILE:2:80: skin.dermis.blood = 70 %: melanosomes and blood together exceed 100 %\n");
}

static void sections_stand_at_the_left_margin(void **state)
{
    (void)state;
    refused(LIGHT "skin:\n  - layer: epidermis\n    watch: {until: 1 s}\n  - layer: dermis\n",
            "FILE:4:5: skin.epidermis.watch is not a key: watch begins at the left margin, outside skin.epidermis\n");
    refused("light: {wavelength: 755 nm, pulse: 7 ns, spot: 3.7 mm, fluence: 1 J/cm2, skin: dark}\n",
            "FILE:1:74: light.skin is not a key: skin begins at the left margin, outside light\n");
    refused(LIGHT "skin: light\nwater: {until: 1 s}\n", "FILE:3:1: water is not a section; did you mean watch?\n");
    refused("light {spot: 3 mm}\n: 5\n", "FILE:2:1: this does not fit: check the indentation, brackets and quotes up "
                                         "to here\n");
    refused("light {spot: 3 mm}\nskin: light\n", "FILE:1:1: a colon and a blank are missing after light\n");
    refused(LIGHT "skin: light\nlesion: {skin.basal.blood: 1 %, light: {spot: 3 mm}, layer: basal}\n",
            "FILE:3:10: lesion.skin: a layer's name comes first, as in `basal.melanosomes: 14 %`\n"
            "FILE:3:33: lesion.light: only keys of skin and grain can differ in the lesion\n"
            "FILE:3:54: lesion.layer: a layer's name comes first, as in `basal.melanosomes: 14 %`\n");
}

static void what_stands_in_place_of_keys_is_shown(void **state)
{
    (void)state;
    refused(LIGHT "skin: light\nlesion: light\n", "FILE:3:9: lesion = light; what differs is wanted below it, one a "
                                                  "line, such as `basal.melanosomes: 14 %`\n");
    refused(LIGHT "skin: light\nlesion: [basal]\nbelow: [a]\nwatch: {depths: {a: 1}}\n",
            "FILE:3:9: lesion: a list stands here; what differs is wanted below it, one a line, such as "
            "`basal.melanosomes: 14 %`\n"
            "FILE:4:8: below: a list stands here; keys are wanted below it, indented, one a line, each with a colon "
            "and a blank: index, returns\n"
            "FILE:5:17: watch.depths has keys below it: a list of 1 to 16 values is wanted, such as [0 um, 1 mm]\n");
    refused(LIGHT "skin: [light]\n", "FILE:2:8: skin: light is a ready skin; it stands alone, as in `skin: light`\n");
    refused(LIGHT "skin:\n  - epidermis:\n      thickness: 50 um\n  - dermis:\n    blood: 1 %\n",
            "FILE:3:5: skin: epidermis: write `- layer: epidermis`, with its keys below, one a line\n"
            "FILE:5:5: skin: dermis: write `- layer: dermis`, with its keys below, one a line\n");
}

static void a_missing_file_is_trouble(void **state)
{
    (void)state;
    struct brv_request request;
    struct brv_faults faults = {0};
    static const char *const set[] = {"light.spot=6"};
    assert_int_equal(brv_request_read(&request, "/nowhere.yaml", set, 1, &faults), BRV_EXIT_FILE);
    assert_int_equal(faults.n, 1);
    brv_faults_free(&faults);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(everything_arrives),
        cmocka_unit_test(other_units_give_the_same_scenario),
        cmocka_unit_test(keys_are_known),
        cmocka_unit_test(what_is_needed_is_missed_once),
        cmocka_unit_test(ranges_are_kept),
        cmocka_unit_test(bounds_themselves_are_allowed),
        cmocka_unit_test(rivals_do_not_stand_together),
        cmocka_unit_test(trains_and_surfaces_arrive),
        cmocka_unit_test(trains_are_laid_out_in_time),
        cmocka_unit_test(what_follows_from_a_train_is_not_told),
        cmocka_unit_test(what_lies_on_the_skin_has_its_time),
        cmocka_unit_test(values_have_the_right_shape),
        cmocka_unit_test(titles_are_one_line),
        cmocka_unit_test(faults_of_the_document_come_with_the_others),
        cmocka_unit_test(shares_are_written_in_percent),
        cmocka_unit_test(words_come_with_the_nearest),
        cmocka_unit_test(nothing_follows_from_a_range),
        cmocka_unit_test(sections_stand_at_the_left_margin),
        cmocka_unit_test(what_stands_in_place_of_keys_is_shown),
        cmocka_unit_test(a_missing_file_is_trouble),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
