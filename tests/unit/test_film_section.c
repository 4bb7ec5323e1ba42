/* The section `film`: every way to write it, wrongly too, and what choices, --set and spread make of it. */
#include "scenario/film.h"
#include "study/draw.h"
#include "study/inputs.h"

#include "support/check.h"
#include "support/reading.h"

#include <stdio.h>
#include <string.h>

#define SKIN "skin: light\n"
#define FILM "film: {thickness: 5 um, absorption: 2000 /cm}\n"

static void a_film_lies_on_both_skins(void **state)
{
    (void)state;
    const struct outcome outcome = read_text(LIGHT SKIN "lesion: {basal.melanosomes: 30 %}\n" FILM);
    assert_int_equal(outcome.code, 0);
    assert_string_equal(outcome.request.layer_name[0], "film");
    assert_string_equal(outcome.request.layer_name[2], "basal");
    for (size_t site = 0; site < BRV_N_SITE; site++) {
        const struct brv_skin *skin = &outcome.request.scenario.skin[site];
        assert_int_equal(skin->n_layer, 4);
        check_close(skin->layer[0].thickness, 5e-6, 1e-12, 0.0);
        check_close(skin->layer[0].absorption, 2e5, 1e-12, 0.0);
        check_close(skin->layer[0].index, 1.40, 1e-12, 0.0);
        check_close(skin->layer[0].density, 900.0, 1e-12, 0.0);
        assert_true(skin->layer[0].melanosomes == 0.0 && skin->layer[0].blood == 0.0);
    }
    assert_true(outcome.request.scenario.skin[BRV_LESION].layer[2].melanosomes == 0.3);
    const struct brv_scenario named = sound(LIGHT "skin: [{layer: dermis}]\n" FILM "grain: {layer: dermis}\n");
    assert_int_equal(named.skin[BRV_NEIGHBOUR].grain.layer, 1); /* moved along */
}

static void none_takes_it_away(void **state)
{
    (void)state;
    static const char *const none[] = {"film=none"};
    static const char *const back[] = {"film.thickness=1 um", "film.absorption=70 /cm"};
    assert_int_equal(sound(LIGHT SKIN "film: none\n").skin[0].n_layer, 3);
    assert_int_equal(sound_with(LIGHT SKIN FILM, none, 1).skin[0].n_layer, 3);
    const struct brv_scenario again = sound_with(LIGHT SKIN "film: none\n", back, 2);
    check_close(again.skin[0].layer[0].absorption, 7e3, 1e-12, 0.0);
    check_close(sound_with(LIGHT SKIN FILM, back, 1).skin[1].layer[0].thickness, 1e-6, 1e-12, 0.0);
}

static void what_is_no_film_is_refused(void **state)
{
    (void)state;
    refused(LIGHT SKIN "film: {thickness: 50 um, absorption: 2000 /cm}\n",
            "FILE:3:19: film.thickness = 50 um, allowed 0.1 um to 20 um\n");
    refused(
        LIGHT SKIN "film: {thickness: 5 um}\n",
        "FILE:3:1: film.absorption is missing: absorption coefficient of the film at this wavelength, measured by the "
        "user or supposed, 0 /cm to 100000 /cm\n");
    refused(LIGHT SKIN "film: {thickness: 5 um, absorption: 3 mm}\n",
            "FILE:3:37: film.absorption = 3 mm: mm is a length; 1/length is wanted, such as /cm\n");
    refused(
        LIGHT SKIN "film: {}\n",
        "FILE:3:7: film is empty; thickness and absorption are wanted below it, as in {thickness: 5 um, absorption: "
        "2000 /cm}, or the word none\n");
    refused(LIGHT SKIN "film: soot\n",
            "FILE:3:7: film = soot; thickness and absorption are wanted below it, as in {thickness: 5 um, absorption: "
            "2000 /cm}, or the word none\n");
    refused(LIGHT SKIN FILM "lesion: {film.absorption: 3 /cm}\n",
            "FILE:4:10: lesion.film: only keys of skin and grain can differ in the lesion\n");
    refused(
        LIGHT "skin:\n  - layer: film\n    kind: horny\n  - layer: dermis\n",
        "FILE:3:12: skin: layer: film: a film lies on the skin and has a section of its own: film: {thickness: 5 um, "
        "absorption: 2000 /cm}\n");
    refused(LIGHT SKIN FILM "grain: {layer: film}\n",
            "FILE:4:16: grain.layer = film: the skin has no such layer, only epidermis, basal, dermis\n");
    refused(LIGHT SKIN FILM "spread: {skin.film.thickness: 4 um to 6 um}\n",
            "FILE:4:10: spread: skin.film.thickness is no path: a film has a section of its own, as in "
            "film.absorption\n");
}

/* Faults of layers below a film still stand where they were written. */
static void faults_of_layers_keep_their_places(void **state)
{
    (void)state;
    refused(LIGHT "skin:\n  - layer: basal\n    blood: 70 %\n    melanosomes: 50 %\n  - layer: dermis\n" FILM
                  "lesion: {dermis.absorption: 1e9 /cm}\n",
            "FILE:4:12: skin.basal.blood = 70 %: melanosomes and blood together exceed 100 %\n"
            "FILE:8:29: lesion.dermis.absorption = 1e9 /cm, allowed 0 /cm to 100000 /cm\n");
}

static void sixteen_layers_leave_no_room(void **state)
{
    (void)state;
    char text[1024] = LIGHT FILM "skin:\n";
    for (int i = 0; i < BRV_MOST_LAYERS; i++) {
        char line[64];
        snprintf(line, sizeof line, "  - {layer: l%d, kind: dermis, thickness: %s}\n", i,
                 i + 1 < BRV_MOST_LAYERS ? "1 mm" : "endless");
        strcat(text, line);
    }
    refused(text, "FILE:2:1: film: at most 15 layers fit below a film\n");
}

/* Its defaults are uncertain, what the user says is not; what is opened is drawn into the layer. */
static void a_film_is_drawn(void **state)
{
    (void)state;
    const struct outcome outcome = read_text(LIGHT SKIN FILM "spread: {film.absorption: 1000 /cm to 3000 /cm}\n");
    struct brv_inputs inputs;
    struct brv_scenario draw;
    double u[BRV_MOST_INPUTS];
    size_t n_film = 0;
    assert_int_equal(outcome.code, 0);
    brv_inputs_list(&inputs, &outcome.request.scenario, outcome.request.opened, outcome.request.n_opened);
    for (size_t i = 0; i < inputs.n; i++) {
        n_film += brv_keys[inputs.input[i].key].scope == BRV_SCOPE_FILM;
        u[i] = 1.0;
        for (size_t site = 0; site < BRV_N_SITE; site++) /* no key of a layer is drawn in the film */
            assert_true(brv_keys[inputs.input[i].key].scope != BRV_SCOPE_LAYER || inputs.input[i].id != BRV_INPUT_KEY ||
                        !(inputs.input[i].where[site] & 1u));
    }
    assert_int_equal(n_film, 5); /* absorption, and index, conductivity, density, heat capacity by default */
    brv_draw_apply(&draw, &outcome.request.scenario, &inputs, u);
    assert_int_equal(brv_scenario_check(&draw, NULL, 0), 0);
    for (size_t site = 0; site < BRV_N_SITE; site++) {
        check_close(draw.skin[site].layer[0].absorption, 3e5, 1e-12, 0.0);
        check_close(draw.skin[site].layer[0].density, 1300.0, 1e-12, 0.0);
        check_close(draw.skin[site].layer[0].thickness, 5e-6, 1e-12, 0.0);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_film_lies_on_both_skins),    cmocka_unit_test(none_takes_it_away),
        cmocka_unit_test(what_is_no_film_is_refused),   cmocka_unit_test(faults_of_layers_keep_their_places),
        cmocka_unit_test(sixteen_layers_leave_no_room), cmocka_unit_test(a_film_is_drawn),
    };
    return cmocka_run_group_tests_name("film_section", tests, NULL, NULL);
}
