/* Skins and lesions in a scenario's text: ready skins, lists of layers, measured colours, what differs in the lesion. */
#include "support/check.h"
#include "support/reading.h"

#include "command/command.h"
#include "scenario/keys.h"

#include <math.h>
#include <string.h>

static void ready_skins_are_taken(void **state)
{
    (void)state;
    static const char *const name[] = {"light", "intermediate", "dark"};
    char text[200];
    double before = 0.0;
    for (size_t i = 0; i < 3; i++) {
        snprintf(text, sizeof text, LIGHT "skin: %s\n", name[i]);
        const struct outcome outcome = read_text(text);
        assert_int_equal(outcome.code, BRV_EXIT_DONE);
        assert_string_equal(outcome.request.layer_name[1], "basal");
        const double pigment = outcome.request.scenario.skin[BRV_NEIGHBOUR].layer[1].melanosomes;
        assert_true(pigment > before);
        before = pigment;
    }
    refused(LIGHT "skin: drak\n",
            "FILE:2:7: skin = drak: a ready skin is light, intermediate or dark; did you mean dark?\n");
    refused(LIGHT "skin: lite\n",
            "FILE:2:7: skin = lite: a ready skin is light, intermediate or dark; did you mean light?\n");
    refused(LIGHT "skin: striped\n", "FILE:2:7: skin = striped: a ready skin is light, intermediate or dark; else a "
                                     "list of layers is wanted\n");
    refused(LIGHT "skin: []\n", "FILE:2:7: skin: the list is empty: at least one layer is wanted, which begins with "
                                "`- layer: NAME`, or in place of a list a ready skin: light, intermediate or "
                                "dark\n");
}

static void lesions_start_as_their_neighbour(void **state)
{
    (void)state;
    const struct brv_scenario none = sound(LIGHT "skin: light\nlesion: {}\n");
    assert_true(none.skin[BRV_LESION].layer[1].melanosomes == none.skin[BRV_NEIGHBOUR].layer[1].melanosomes);
    const struct brv_scenario usual = sound(LIGHT "skin: light\n");
    check_close(usual.skin[BRV_LESION].layer[1].melanosomes, 2.5 * usual.skin[BRV_NEIGHBOUR].layer[1].melanosomes,
                1e-15, 0.0);
    refused(LIGHT "skin: light\nlesion:\n", "FILE:3:1: lesion is empty: leave it out for a spot with 2.5 times the "
                                            "pigment in its basal row (60 % at most), "
                                            "or write {} for the same skin as around it\n");
    refused(LIGHT "skin: light\nlesion: {basal.kind: fat, dermis.blood: 1 %, dermis: 5 %, grain: 0.5 um}\n",
            "FILE:3:10: lesion.basal.kind: a layer keeps its kind here; change its values instead\n"
            "FILE:3:54: lesion.dermis: the key that differs is missing, as in dermis.melanosomes: 14 %\n"
            "FILE:3:66: lesion.grain: the key that differs is missing, as in grain.diameter: 0.5 um\n");
}

static void dotted_and_nested_lesion_keys_are_the_same_key(void **state)
{
    (void)state;
    refused(LIGHT "skin: light\nlesion:\n  basal.melanosomes: 20 %\n  basal: {melanosomes: 21 %}\n",
            "FILE:5:11: basal.melanosomes stands here a second time, first in line 4\n");
    const struct brv_scenario ask =
        sound(LIGHT "skin: light\nlesion:\n  basal.melanosomes: 20.3 %\n  basal: {blood: 0.9 %}\n");
    assert_true(ask.skin[BRV_LESION].layer[1].melanosomes == 0.203 && ask.skin[BRV_LESION].layer[1].blood == 0.009);
}

static void layers_fit_together(void **state)
{
    (void)state;
    refused(LIGHT "skin: [{layer: dermis}, {layer: fat}]\n",
            "FILE:2:8: skin.dermis.thickness: only the last layer can be endless\n");
    refused(LIGHT "skin: [{layer: basal}]\n", "FILE:2:8: below.index is missing: the last layer is not endless, so "
                                              "say what lies below it (1 to 2.5)\n");
    refused(LIGHT "skin: light\nbelow: {index: 1.4}\n",
            "FILE:3:16: below.index = 1.4: nothing lies below an endless layer\n");
    refused(LIGHT "skin: [{layer: basal, thickness: 3 parsec}]\n", /* and nothing on what lies below */
            "FILE:2:34: skin.basal.thickness = 3 parsec: no unit is called parsec; here it can be nm, um, mm, cm, "
            "m\n");
    refused(LIGHT "skin: [{layer: basal, thicknes: 3 mm}]\n",
            "FILE:2:23: skin.basal.thicknes is not a key; did you mean skin.basal.thickness?\n");
    refused(LIGHT "skin: [{layer: dermis, blood: 70 %, melanosomes: 40 %}]\n",
            "FILE:2:31: skin.dermis.blood = 70 %: melanosomes and blood together exceed 100 %\n");
    refused(LIGHT "skin: [{layer: basal, thickness: 1 mm}]\nbelow: {index: 1.4}\n"
                  "watch: {depths: [0.5 mm, 1.5 mm, 2.5 mm], until: 5 ns}\n",
            "FILE:4:26: watch.depths = 1.5 mm: a watched depth lies below the last layer\n"
            "FILE:4:34: watch.depths = 2.5 mm: a watched depth lies below the last layer\n"
            "FILE:4:50: watch.until = 5 ns: the curves must run on past the end of the pulse, here from 31.6 ns on\n");
}

static void layers_have_names(void **state)
{
    (void)state;
    refused(LIGHT "skin:\n  - thickness: 10 um\n  - layer: grain\n  - layer: caf\xC3\xA9\n  - layer: basal\n"
                  "  - layer: basal\n  - layer: rete\n  - layer: [a]\n  - word\n  - layer: -2\n  - layer: dermis\n",
            "FILE:3:5: skin: this layer has no name: begin it with `- layer: NAME`\n"
            "FILE:4:12: skin: layer: grain: a layer needs another name, since lesion.grain is the grain\n"
            "FILE:5:12: skin: layer: caf\xC3\xA9: a name has 1 to 32 letters, digits, blanks or hyphens (a to z, "
            "without accents), a letter or digit first\n"
            "FILE:7:12: skin: layer: basal: a layer above has this name already; give another name, and its kind\n"
            "FILE:8:5: skin.rete.kind is missing: it says which defaults this layer takes, horny, epidermis, basal, "
            "dermis or fat\n"
            "FILE:9:12: skin: layer: a name is wanted here\n"
            "FILE:10:5: skin: word: write `- layer: word`, with its keys below, one a line\n"
            "FILE:11:12: skin: layer: -2: a name has 1 to 32 letters, digits, blanks or hyphens (a to z, without "
            "accents), a letter or digit first\n");
    refused(
        LIGHT "skin: {basal: {thickness: 10 um}}\n",
        "FILE:2:7: skin: keys stand here; a list is wanted, each layer begins with `- layer: NAME`, or in place of a "
        "list `ready: light` (light, intermediate or dark), or `colour: {L: 62, b: 17}`, and what differs from it\n");
}

/* A measured colour in place of the pigment. What is refused by the model itself (no skin has this colour) says the range. */
static void colours_make_skins(void **state)
{
    (void)state;
    refused(
        LIGHT "skin: {colour: {L: 62}}\n",
        "FILE:2:8: skin.colour.b is missing: b* measured with it; the pigment follows from ITA = arctan((L* - 50)/b*), "
        "above 0, at most 100\n");
    refused(LIGHT "skin: {colour: {L: 62, b: -4}}\n", "FILE:2:27: skin.colour.b = -4, allowed above 0, at most 100\n");
    refused(LIGHT "skin: {colour: {L: 101, b: 17}}\n", "FILE:2:20: skin.colour.L = 101, allowed 0 to 100\n");
    refused(LIGHT "skin: {colour: {L: 62 mm, b: 17}}\n",
            "FILE:2:20: skin.colour.L = 62 mm: this is a plain number, without mm or any unit\n");
    refused(
        LIGHT "skin: {colour: {L: 62, b: 17, a: 8}}\n",
        "FILE:2:31: skin.colour.a is not a key: ITA is made of L and b alone; a* is what the model gives for them, see "
        "`brevis colour`\n");
    refused(LIGHT "skin: {ready: light, colour: {L: 62, b: 17}}\n",
            "FILE:2:22: skin.colour: a ready skin has its own pigment; give ready or colour\n");
    refused(LIGHT "skin: {color: {L: 62, b: 17}, site: neck}\n",
            "FILE:2:8: skin.color is not a key; did you mean colour?\n");
    refused(LIGHT "skin: {colour: light}\n",
            "FILE:2:16: skin.colour: the measured L* and b* are wanted here, as in {L: 62, b: 17}\n");
    refused(LIGHT "skin:\n  colour: {L: 62, b: 17}\n  basal: {melanosomes: 14 %}\n",
            "FILE:4:24: skin.basal.melanosomes: skin.colour says how much pigment there is; give one or the other (the "
            "lesion "
            "may differ)\n");
    refused(LIGHT "skin: {colour: {L: 93, b: 17}}\n",
            "FILE:2:20: skin.colour.L = 93: with 60 % to no melanosomes this skin can have L* from 7.3 to 78.6\n");
    refused(
        LIGHT "skin: {colour: {L: 77, b: 5}}\n",
        "FILE:2:20: skin.colour.L = 77 with b = 5 is an ITA of 79.5 degrees: with 60 % to no melanosomes this skin can "
        "have ITA from -73.4 to 61.0\n");
}

static void layers_are_not_too_many(void **state)
{
    (void)state;
    char text[1024] = LIGHT "skin:\n";
    for (int i = 0; i < 17; i++)
        snprintf(text + strlen(text), sizeof text - strlen(text), "  - {layer: L%d, kind: basal}\n", i);
    refused(text, "FILE:19:5: skin: at most 16 layers are taken\n");
}

static void layers_are_named_where_they_are_meant(void **state)
{
    (void)state;
    refused(LIGHT "skin: light\nlesion:\n  basl.blood: 1 %\n  blood: 2 %\n  fascia.blood: 1 %\n  dermis: 3 %\n"
                  "grain: {layer: hypodermis}\n",
            "FILE:4:3: lesion.basl: the skin has no such layer; did you mean basal?\n"
            "FILE:5:3: lesion.blood: the layer is missing in front of it, as in basal.blood\n"
            "FILE:6:3: lesion.fascia: the skin has no such layer, only epidermis, basal, dermis\n"
            "FILE:7:11: lesion.dermis: the key that differs is missing, as in dermis.melanosomes: 14 %\n"
            "FILE:8:16: grain.layer = hypodermis: the skin has no such layer, only epidermis, basal, dermis\n");
}

static void what_fails_in_the_lesion_alone_is_said_so(void **state)
{
    (void)state;
    refused(LIGHT "skin: [{layer: dermis, blood: 70 %}]\nlesion: {dermis.melanosomes: 40 %}\n",
            "FILE:2:31: skin.dermis.blood = 70 %: melanosomes and blood together exceed 100 % in the lesion\n");
    refused(LIGHT "skin: [{layer: basal, blood: 60 %, melanosomes: 30 %}, {layer: dermis}]\n",
            "FILE:2:30: skin.basal.blood = 60 %: melanosomes and blood together exceed 100 % in the lesion, which has "
            "2.5 times the pigment here\n");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(ready_skins_are_taken),
        cmocka_unit_test(lesions_start_as_their_neighbour),
        cmocka_unit_test(dotted_and_nested_lesion_keys_are_the_same_key),
        cmocka_unit_test(layers_fit_together),
        cmocka_unit_test(layers_have_names),
        cmocka_unit_test(colours_make_skins),
        cmocka_unit_test(layers_are_not_too_many),
        cmocka_unit_test(layers_are_named_where_they_are_meant),
        cmocka_unit_test(what_fails_in_the_lesion_alone_is_said_so),
    };
    return cmocka_run_group_tests_name("layers", tests, NULL, NULL);
}
