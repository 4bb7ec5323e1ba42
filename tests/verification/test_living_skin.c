/* The assembled skin against what is known of living skin: reflectance by wavelength and pigment, the budget of white
 * light, what lies on the surface. Comparisons with people may miss and are shown with their miss; the table that was
 * computed from the same numbers by another solver is held to its digits.                                         */
#include "light/layered.h"
#include "support/check.h"
#include "support/sample.h"
#include "tissue/tissue.h"

#include <math.h>
#include <stdio.h>

static const char *const two_digits = "digits of the table, and its 2 cm of dermis for an endless one";

/* The table's form of the reduced scattering; the program's own is within 12 % of it. */
static double two_term_scattering(double nm)
{
    return 4800.0 * (0.41 * pow(nm / 500.0, -4.0) + 0.59 * pow(nm / 500.0, -0.702));
}

/* Two layers: 60 um of epidermis without water and blood, endless dermis; nearly unshaded grains. */
static void two_layer_skin(struct brv_tissue *tissue, double melanosomes, double nm)
{
    struct brv_scenario ask = sample_scenario();
    ask.beam.wavelength = nm * 1e-9;
    for (size_t site = 0; site < BRV_N_SITE; site++) {
        ask.skin[site].n_layer = 2;
        ask.skin[site].layer[1] = ask.skin[site].layer[2];
    }
    ask.lesion_given = 1;
    sample_set(&ask, BRV_SCOPE_LAYER, 0, "thickness", 60e-6);
    sample_set(&ask, BRV_SCOPE_LAYER, 0, "melanosomes", melanosomes);
    sample_set(&ask, BRV_SCOPE_LAYER, 0, "water", 0.0);
    sample_set(&ask, BRV_SCOPE_LAYER, 0, "reduced_scattering", two_term_scattering(nm));
    sample_set(&ask, BRV_SCOPE_LAYER, 1, "reduced_scattering", two_term_scattering(nm));
    sample_set(&ask, BRV_SCOPE_GRAIN, 0, "diameter", 0.05e-6);
    brv_scenario_fill(&ask);
    brv_tissue_resolve(tissue, &ask, BRV_NEIGHBOUR);
}

static void solve(struct brv_layered *light, const struct brv_tissue *tissue, double outside)
{
    struct brv_medium medium[BRV_MOST_LAYERS];
    for (size_t i = 0; i < tissue->n_layer; i++) {
        const struct brv_layer *layer = &tissue->layer[i];
        medium[i] = (struct brv_medium){layer->thickness, layer->absorption, layer->scattering, layer->anisotropy,
                                        layer->index};
    }
    const struct brv_layered_ask ask = {
        .n_medium = tissue->n_layer, .medium = medium, .outside_index = outside, .below_index = 1.0, .cosine = 1.0};
    assert_int_equal(brv_layered_solve(light, &ask, NULL), BRV_OK);
}

static double reflectance(double melanosomes, double nm)
{
    struct brv_tissue tissue;
    struct brv_layered light;
    two_layer_skin(&tissue, melanosomes, nm);
    solve(&light, &tissue, 1.0);
    const double total = light.reflected_specular + light.reflected_diffuse;
    brv_layered_free(&light);
    return total;
}

static void reflectance_as_computed_elsewhere(void **state)
{
    (void)state;
    static const double nm[] = {450, 540, 580, 650, 760, 850, 900, 960, 1060};
    static const struct {
        double melanosomes, value[9];
    } row[] = {{0.038, {0.18, 0.26, 0.29, 0.45, 0.50, 0.52, 0.51, 0.45, 0.51}},
               {0.135, {0.07, 0.12, 0.15, 0.26, 0.35, 0.39, 0.41, 0.37, 0.44}},
               {0.30, {0.04, 0.06, 0.07, 0.14, 0.22, 0.28, 0.30, 0.29, 0.36}}};
    for (size_t i = 0; i < 3; i++)
        for (size_t j = 0; j < 9; j++) {
            char what[100];
            snprintf(what, sizeof what, "reflectance of skin, %.3g %% pigment, %g nm", 100 * row[i].melanosomes, nm[j]);
            check_row(what, "living-skin-table (computed, regression)", reflectance(row[i].melanosomes, nm[j]),
                      row[i].value[j], 0.015, two_digits);
        }
}

/* Wavelength of the highest (sign 1) or lowest (sign -1) reflectance between two. */
static double extreme(double melanosomes, double from, double to, double sign)
{
    double best = from, value = sign * reflectance(melanosomes, from);
    for (double nm = from + 2.0; nm <= to; nm += 2.0) {
        const double here = sign * reflectance(melanosomes, nm);
        if (here > value) {
            value = here;
            best = nm;
        }
    }
    return best;
}

static void reflectance_of_people(void **state)
{
    (void)state;
    static const char *const source = "kuppenheim-1951 (abstract)";
    compare_row("light skin reflects most at [nm]", source, extreme(0.038, 600, 1000, 1), 770, 80,
                "720-820 nm, and 30 nm either way");
    compare_row("tanned skin reflects most at [nm]", source, extreme(0.09, 600, 1000, 1), 840, 40, "about 840 nm");
    compare_row("dark skin reflects most at [nm], up to 1000", source, extreme(0.14, 600, 1000, 1), 900, 50,
                "about 900 nm");
    compare_row("first reflectance minimum of light skin [nm]", source, extreme(0.013, 525, 558, -1), 542, 5,
                "the haemoglobin bands");
    compare_row("second reflectance minimum of light skin [nm]", source, extreme(0.013, 562, 590, -1), 577, 5,
                "the haemoglobin bands");
    assert_true(extreme(0.14, 600, 1000, 1) > extreme(0.038, 600, 1000, 1)); /* the shift with pigment itself */
    compare_row("light over dark skin at 1100 nm, difference of reflectance", "jacquez-1955 (abstract)",
                reflectance(0.038, 1100) - reflectance(0.14, 1100), 0.0, 0.05,
                "practically the same above 1200 nm; our spectra end at 1100 nm");
}

/* White light on light skin: mean over the visible. */
static void budget_of_white_light(void **state)
{
    (void)state;
    double mirrored = 0.0, returned = 0.0, absorbed = 0.0;
    int n = 0;
    for (double nm = 400; nm <= 700; nm += 10, n++) {
        struct brv_tissue tissue;
        struct brv_layered light;
        two_layer_skin(&tissue, 0.038, nm);
        solve(&light, &tissue, 1.0);
        mirrored += light.reflected_specular;
        returned += light.reflected_diffuse;
        absorbed += light.absorbed[0] + light.absorbed[1];
        brv_layered_free(&light);
    }
    static const char *const source = "jacques-saratov (seen)";
    compare_row("white light mirrored by light skin", source, mirrored / n, 0.05, 0.1, "as published");
    compare_row("white light coming back from light skin", source, returned / n, 0.42, 0.1,
                "0.02 shallow and 0.40 deep, 0.1 either way");
    compare_row("white light absorbed by light skin", source, absorbed / n, 0.53, 0.1, "as published");
}

/* What lies on the skin changes the light in the basal row by about a third at 1064 nm. */
static void air_gel_and_plate(void **state)
{
    (void)state;
    static const double index[] = {1.0, 1.34, 1.76};
    double basal[3];
    for (size_t i = 0; i < 3; i++) {
        struct brv_scenario ask = sample_scenario();
        struct brv_tissue tissue;
        struct brv_layered light;
        ask.beam.wavelength = 1064e-9;
        brv_scenario_fill(&ask);
        brv_tissue_resolve(&tissue, &ask, BRV_NEIGHBOUR);
        solve(&light, &tissue, index[i]);
        basal[i] = brv_layered_fluence(&light, 55e-6);
        brv_layered_free(&light);
    }
    check_row("basal light at 1064 nm, gel over air", "surface-outside (computed: a third)", basal[1] / basal[0], 0.67,
              0.07, "'differ by a third'");
    check_row("basal light at 1064 nm, plate over air", "surface-outside (computed: a third)", basal[2] / basal[0],
              0.67, 0.07, "'differ by a third'");
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(reflectance_as_computed_elsewhere),
                                       cmocka_unit_test(reflectance_of_people), cmocka_unit_test(budget_of_white_light),
                                       cmocka_unit_test(air_gel_and_plate)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
