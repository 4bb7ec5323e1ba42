/* Body sites: the table against what the papers print, skins that take its thicknesses, and what is drawn from it. */
#include "scenario/body.h"

#include "side/colour.h"
#include "study/draw.h"
#include "study/inputs.h"

#include "support/check.h"
#include "support/reading.h"
#include "support/sample.h"
#include "support/table.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#define NINETY 1.645 /* standard deviations on either side that hold 90 of 100 */
#define MEN    49.0
#define WOMEN  69.0

static const struct brv_measured *measured_of(const struct brv_body_site *site, const char *layer)
{
    if (!strcmp(layer, "epidermis")) return &site->epidermis;
    return strcmp(layer, "horny") ? &site->dermis : &site->horny;
}

/* Value, low and high from the numbers in print, by the kind of row. */
static void work_out(double range[3], const struct table_row *row)
{
    const char *kind = table_text(row, "kind");
    const double one = table_number(row, "first");
    range[0] = one;
    if (!strcmp(kind, "single")) {
        range[1] = one * 2.0 / 3.0;
        range[2] = one * 4.0 / 3.0;
    } else if (!strcmp(kind, "spread")) {
        range[1] = one - NINETY * table_number(row, "first_sd");
        range[2] = one + NINETY * table_number(row, "first_sd");
    } else if (!strcmp(kind, "regions")) {
        range[1] = one;
        range[2] = table_number(row, "second");
        range[0] = 0.5 * (range[1] + range[2]);
    } else {
        const double other = table_number(row, "second");
        const double reach = NINETY * table_number(row, "first_sd"), own = NINETY * table_number(row, "second_sd");
        range[0] = (MEN * one + WOMEN * other) / (MEN + WOMEN);
        range[1] = fmin(one - reach, other - own);
        range[2] = fmax(one + reach, other + own);
    }
}

static void check_site(const struct table_row *row, void *context)
{
    double range[3];
    char what[80], source[80];
    size_t *n = context;
    const int which = brv_body_find(table_text(row, "site"));
    if (which < 0) table_fail(row, "no such site", table_text(row, "site"));
    const struct brv_measured *measured = measured_of(&brv_body_sites[which], table_text(row, "layer"));
    const double step = 0.51 * (strcmp(table_text(row, "layer"), "dermis") ? 0.1e-6 : 1e-6); /* digits in the table */
    work_out(range, row);
    snprintf(what, sizeof what, "thickness, %s of %s, um", table_text(row, "layer"), table_text(row, "site"));
    snprintf(source, sizeof source, "%s (%s)", measured->source, measured->seen);
    check_row(what, source, 1e6 * measured->value, range[0], 1e6 * step, "rounding; groups are joined");
    check_close(measured->low, 1e-6 * range[1], 0.0, step);
    check_close(measured->high, 1e-6 * range[2], 0.0, step);
    assert_string_equal(measured->source, table_text(row, "source"));
    assert_int_equal(measured->chosen, !strcmp(table_text(row, "kind"), "single"));
    (*n)++;
}

static void the_table_is_what_the_papers_print(void **state)
{
    (void)state;
    size_t n = 0, there = 0;
    assert_int_equal(table_each("tests/verification/data/body_sites.csv", check_site, &n), 19);
    for (size_t i = 0; i < BRV_N_BODY_SITE; i++) {
        const struct brv_body_site *site = &brv_body_sites[i];
        there += (site->epidermis.value > 0.0) + (site->horny.value > 0.0) + (site->dermis.value > 0.0);
        assert_int_equal(brv_body_find(site->name), (int)i);
        /* ultrasound takes the echo at the entrance for epidermis: three times too much */
        assert_true(!site->epidermis.method || strcmp(site->epidermis.method, "ultrasound") != 0);
        assert_true(site->epidermis.value < 150e-6);
    }
    assert_int_equal(there, n);
    assert_int_equal(brv_body_find("elbow"), -1);
}

/* Pigment per area of one site. */
static double column(const struct brv_skin *skin)
{
    double sum = 0.0;
    for (size_t i = 0; i < skin->n_layer; i++)
        if (skin->layer[i].melanosomes > 0.0) sum += skin->layer[i].melanosomes * skin->layer[i].thickness;
    return sum;
}

/* Reflectance fixes pigment per area only, so a ready skin is as dark at one site as at another. */
static void pigment_per_area_stays(void **state)
{
    (void)state;
    char text[200];
    for (size_t i = 0; i < BRV_N_BODY_SITE; i++)
        for (size_t k = 0; k < BRV_N_PRESET; k++) {
            snprintf(text, sizeof text, LIGHT "skin: {ready: %s, site: %s}\n", brv_ready_skins[k].name,
                     brv_body_sites[i].name);
            const struct brv_scenario ask = sound(text);
            check_close(column(&ask.skin[BRV_NEIGHBOUR]), brv_ready_skins[k].melanosomes * 60e-6, 1e-12, 0.0);
        }
}

static void skins_take_the_thicknesses(void **state)
{
    (void)state;
    const struct outcome forearm = read_text(LIGHT "skin: {ready: light, site: dorsal_forearm}\n");
    const struct brv_skin *skin = &forearm.request.scenario.skin[BRV_LESION];
    assert_int_equal(forearm.code, 0);
    assert_int_equal(skin->n_layer, 4);
    assert_string_equal(forearm.request.layer_name[0], "horny");
    assert_string_equal(forearm.request.layer_name[2], "basal");
    check_close(skin->layer[0].thickness, 18.3e-6, 1e-12, 0.0);
    check_close(skin->layer[1].thickness, 46.6e-6, 1e-12, 0.0);
    check_close(skin->layer[2].thickness, 10e-6, 1e-12, 0.0);
    assert_true(isinf(skin->layer[3].thickness));

    const struct outcome neck = read_text(LIGHT "skin: {ready: dark, site: neck, epidermis.thickness: 61 um}\n");
    skin = &neck.request.scenario.skin[BRV_NEIGHBOUR];
    assert_int_equal(skin->n_layer, 4);
    assert_string_equal(neck.request.layer_name[3], "fat");
    check_close(skin->layer[0].thickness, 61e-6, 1e-12, 0.0);
    check_close(skin->layer[2].thickness, 986e-6, 1e-12, 0.0);
    assert_true(isinf(skin->layer[3].thickness));
    assert_int_equal(skin->body, 1 + brv_body_find("neck"));

    /* by --set on the word of a ready skin, and on a film as well */
    static const char *const set[] = {"skin.site=cheek", "film.thickness=2 um", "film.absorption=900 /cm"};
    const struct outcome cheek = read_with(LIGHT "skin: light\nlesion: {basal.melanosomes: 30 %}\n", set, 3);
    skin = &cheek.request.scenario.skin[BRV_LESION];
    assert_int_equal(cheek.code, 0);
    assert_string_equal(cheek.request.layer_name[0], "film");
    check_close(skin->layer[3].thickness, 982e-6, 1e-12, 0.0);
    check_close(skin->layer[2].melanosomes, 0.3, 1e-12, 0.0);
}

#define THERE                                                                                                          \
    "There are dorsal_forearm, shoulder, buttock, upper_lip, behind_ear, face, back_of_hand, forehead, glabella, "     \
    "temple, eyelid, nose, cheek, submandibular, neck\n"

static void what_is_no_site_is_refused(void **state)
{
    (void)state;
    refused(LIGHT "skin: {ready: light, site: nek}\n",
            "FILE:2:28: skin.site = nek: no such site; did you mean neck? " THERE);
    refused(LIGHT "skin: {ready: light, site: [neck]}\n",
            "FILE:2:28: skin.site: one word is wanted, such as neck; `brevis explain sites` lists them\n");
    refused(
        LIGHT "skin: {site: neck}\n",
        "FILE:2:8: skin.site: a site goes with a ready skin or a measured colour, as in {ready: light, site: neck}\n");
    refused(
        LIGHT "skin:\n  - site: neck\n  - layer: dermis\n",
        "FILE:3:5: skin.site: a site gives the thickness of layers, so it goes with a ready skin in place of a list, "
        "as in skin: {ready: light, site: neck}\n");
    static const char *const set[] = {"skin.site=neck"};
    refused_with(LIGHT "skin:\n  - layer: dermis\n", set, 1,
                 "--set skin.site:1:1: skin.site goes with a ready skin, not with a list of layers\n");
}

static const struct brv_input *drawn(const struct brv_inputs *inputs, size_t layer)
{
    const size_t row = (size_t)brv_key_find(BRV_SCOPE_LAYER, "thickness");
    for (size_t i = 0; i < inputs->n; i++)
        if (inputs->input[i].key == row && inputs->input[i].where[BRV_NEIGHBOUR] & 1u << layer)
            return &inputs->input[i];
    return NULL;
}

/* A site's own range takes the place of the key's; pigment per area stays through the draws. */
static void ranges_of_a_site_are_drawn(void **state)
{
    (void)state;
    struct brv_inputs inputs;
    struct brv_scenario draw, ask = sound(LIGHT "skin: {ready: light, site: buttock}\n"
                                                "film: {thickness: 2 um, absorption: 900 /cm}\n");
    brv_inputs_list(&inputs, &ask, NULL, 0);
    const struct brv_input *horny = drawn(&inputs, 1), *upper = drawn(&inputs, 2), *basal = drawn(&inputs, 3);
    assert_non_null(horny);
    check_close(horny->high, 20.5e-6, 1e-12, 0.0);
    check_close(upper->low, 45.7e-6, 1e-12, 0.0);
    check_close(upper->high, 97.3e-6, 1e-12, 0.0);
    assert_string_equal(upper->source, "sandby-moller-2003");
    check_close(basal->low, 7e-6, 1e-12, 0.0); /* that of the key */
    assert_null(drawn(&inputs, 4));
    assert_null(drawn(&inputs, 0)); /* a film is as thick as the user says */

    double u[BRV_MOST_INPUTS];
    for (size_t i = 0; i < inputs.n; i++) u[i] = 0.5;
    u[upper - inputs.input] = 1.0;
    brv_draw_apply(&draw, &ask, &inputs, u);
    assert_int_equal(brv_scenario_check(&draw, NULL, 0), 0);
    check_close(draw.skin[BRV_LESION].layer[2].thickness, 97.3e-6, 1e-12, 0.0);
    check_close(column(&draw.skin[BRV_NEIGHBOUR]), column(&ask.skin[BRV_NEIGHBOUR]), 1e-12, 0.0);

    ask = sound(LIGHT "skin: {ready: light, site: buttock, epidermis.thickness: 60 um}\n");
    brv_inputs_list(&inputs, &ask, NULL, 0);
    assert_null(drawn(&inputs, 1)); /* what the user wrote is held */
    ask = sound(LIGHT "skin: {ready: light, site: neck}\n");
    brv_inputs_list(&inputs, &ask, NULL, 0);
    check_close(drawn(&inputs, 0)->low, 30e-6, 1e-12, 0.0); /* no site value: the default's range */
    check_close(drawn(&inputs, 2)->high, 1342e-6, 1e-12, 0.0);
}

/* The share that a colour stands for is one of 60 um, so it is pigment per area wherever the epidermis is thicker; a film
 * is not on the skin when its colour is measured.                                                                    */
static void a_measured_colour_at_a_site(void **state)
{
    (void)state;
    static const char *const site[] = {"", ", site: buttock", ", site: behind_ear", ", site: neck"};
    for (size_t i = 0; i < sizeof site / sizeof *site; i++) {
        char text[512];
        snprintf(text, sizeof text,
                 LIGHT "skin: {colour: {L: 62, b: 17}%s}\nfilm: {thickness: 5 um, absorption: 900 /cm}\n", site[i]);
        const struct brv_scenario ask = sound(text);
        const struct brv_skin *skin = &ask.skin[BRV_NEIGHBOUR];
        check_close(column(skin), skin->colour.melanosomes * 60e-6, 1e-9, 0.0); /* shares are told to 1e-9 */
        struct brv_colour colour;
        assert_int_equal(brv_colour_solve(&colour, &ask, BRV_NEIGHBOUR, 1, NULL), BRV_OK);
        check_close(colour.ita, brv_cie_ita(62.0, 17.0), 0.0, 0.01); /* degrees; a share's last digit is 1e-6 */
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_table_is_what_the_papers_print), cmocka_unit_test(pigment_per_area_stays),
        cmocka_unit_test(skins_take_the_thicknesses),         cmocka_unit_test(what_is_no_site_is_refused),
        cmocka_unit_test(ranges_of_a_site_are_drawn),         cmocka_unit_test(a_measured_colour_at_a_site),
    };
    return cmocka_run_group_tests_name("body", tests, NULL, NULL);
}
