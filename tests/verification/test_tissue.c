/* The skin at one wavelength against published tables, formulas and their check values. */
#include "support/check.h"
#include "support/sample.h"
#include "support/table.h"
#include "tissue/chromophore.h"
#include "tissue/grain.h"
#include "tissue/tissue.h"

#include <gsl/gsl_integration.h>
#include <math.h>
#include <stdio.h>

static const char *const exact = "exact: a formula or a node of the table";

static void blood_equals_its_table(void **state)
{
    (void)state;
    check_row("blood, oxygenated, 532 nm [/cm]", "prahl-1998 (seen)", 0.01 * brv_chromophore_blood(532e-9, 1.0), 234.99,
              0.01, "digits of the check value");
    check_row("blood, deoxygenated, 694 nm [/cm]", "prahl-1998 (seen)", 0.01 * brv_chromophore_blood(694e-9, 0.0),
              5.355814e-3 * 1949.04, 1e-5, exact);
    check_row("blood, oxygenated, 576 nm [/cm]", "prahl-1998 (seen)", 0.01 * brv_chromophore_blood(576e-9, 1.0),
              5.355814e-3 * 55540.0, 1e-4, exact);
    check_row("blood, 1064 nm, holds 1000 nm [/cm]", "prahl-1998 (seen)", 0.01 * brv_chromophore_blood(1064e-9, 1.0),
              5.4844, 1e-4, exact);
}

/* Every row of the printed tables, as they were copied from their sources: one slip of a digit is seen. The source's own
 * factor from 1/(cm M) to 1/cm for 150 g/L has seven digits.                                                          */
static void row_of_blood(const struct table_row *row, void *context)
{
    const double metres = 1e-9 * table_number(row, "wavelength_nm"), factor = 5.355814e-3;
    (void)context;
    check_close(0.01 * brv_chromophore_blood(metres, 1.0), factor * table_number(row, "eps_oxy"), 1e-6, 0.0);
    check_close(0.01 * brv_chromophore_blood(metres, 0.0), factor * table_number(row, "eps_deoxy"), 1e-6, 0.0);
}

static void row_of_water(const struct table_row *row, void *context)
{
    (void)context;
    check_close(0.01 * brv_chromophore_water(1e-9 * table_number(row, "wavelength_nm")),
                table_number(row, "mua_water_cm"), 1e-9, 0.0); /* rounding of the reading between two nodes */
}

static void spectra_are_those_of_their_sources(void **state)
{
    (void)state;
    assert_int_equal(table_each("tests/verification/data/haemoglobin_prahl.csv", row_of_blood, NULL), 301);
    assert_int_equal(table_each("tests/verification/data/water_rottgers2016.csv", row_of_water, NULL), 351);
}

/* Oxy- and deoxyhaemoglobin absorb alike near 797 nm. */
static void blood_has_its_isosbestic_point(void **state)
{
    (void)state;
    double nm = 780.0;
    while (brv_chromophore_blood(nm * 1e-9, 1.0) < brv_chromophore_blood(nm * 1e-9, 0.0)) nm += 0.1;
    check_row("isosbestic point of blood [nm]", "prahl-1998 (seen: between 796 and 798)", nm, 797.0, 1.0,
              "the table's own step");
}

static void pigment_follows_its_power_law(void **state)
{
    (void)state;
    check_row("melanosome interior, 532 nm [/cm]", "jacques-1998 (seen)",
              0.01 * brv_chromophore_melanosome(532e-9, 1.0), 554.98, 0.01, "digits of the table");
    check_row("melanosome interior, 1064 nm [/cm]", "jacques-1998 (seen)",
              0.01 * brv_chromophore_melanosome(1064e-9, 1.0), 49.738, 1e-3, "digits of the table");
    check_row("melanosome, 532 over 1064 nm", "jacques-1998 (seen)",
              brv_chromophore_melanosome(532e-9, 1.0) / brv_chromophore_melanosome(1064e-9, 1.0), pow(2.0, 3.48), 1e-9,
              exact);
}

static void water_and_rest(void **state)
{
    (void)state;
    check_row("water, 1100 nm [/cm]", "rottgers-2016 (seen)", 0.01 * brv_chromophore_water(1100e-9), 0.198863, 1e-9,
              exact);
    check_row("water, 970 nm, 65 % [/cm]", "water-check (seen)", 0.0065 * brv_chromophore_water(970e-9), 0.29, 0.009,
              "three data sets agree within 3 % here");
    check_row("skin without blood and pigment, 532 nm [/cm]", "jacques-baseline (seen)",
              0.01 * brv_chromophore_baseline(532e-9), 0.5265, 1e-4, "digits of the check value");
    check_row("skin without blood and pigment, 1064 nm [/cm]", "jacques-baseline (seen)",
              0.01 * brv_chromophore_baseline(1064e-9), 0.2441, 1e-4, "digits of the check value");
    check_row("reduced scattering, 633 nm [/cm]", "skin-measured (abstract): 27 +- 20 %",
              0.01 * brv_chromophore_reduced_scattering(633e-9), 27.0, 6.5, "spread between laboratories");
}

/* F by its definition: mean of 1 - exp(-mu chord) over the sphere's cross-section, over mu d 2/3. */
static double shaded(double y, void *x)
{
    const double chord = *(double *)x * sqrt(1.0 - y);
    return -expm1(-chord);
}

static void shading_is_the_mean_over_chords(void **state)
{
    (void)state;
    static const double x[] = {1e-9, 3e-4, 0.0199, 0.0201, 0.0278, 0.385, 2.385, 40.0, 500.0};
    gsl_integration_workspace *space = gsl_integration_workspace_alloc(200);
    for (size_t i = 0; i < sizeof x / sizeof *x; i++) {
        double value, error, at = x[i];
        gsl_function f = {shaded, &at};
        gsl_integration_qags(&f, 0.0, 1.0, 0.0, 1e-12, 200, space, &value, &error);
        check_close(brv_grain_shading(at), value / (2.0 / 3.0 * at), 1e-10, 0.0);
    }
    gsl_integration_workspace_free(space);
    check_row("grain shading, thin: (1 - F)/x", "van-de-hulst-absorption (memory)",
              (1.0 - brv_grain_shading(1e-4)) / 1e-4, 3.0 / 8.0, 1e-4, "F = 1 - 3x/8 near 0");
}

/* A bound of a key, from the one table of them; 0 as a lower bound of something that must be above it is near 0. */
static double bound(enum brv_scope scope, const char *name, int upper)
{
    const struct brv_key *key = &brv_keys[brv_key_find(scope, name)];
    return upper ? key->most : fmax(key->least, 1e-7 * key->most);
}

/* Even steps of the logarithm from the least to the most that a key allows. */
static double within(enum brv_scope scope, const char *name, size_t step, size_t last)
{
    const double least = bound(scope, name, 0), most = bound(scope, name, 1);
    return fmin(most, least * pow(most / least, (double)step / (double)last));
}

/* What one grain takes out of a beam: 1 - exp(-mu chord) over its cross-section, per unit fluence. */
static double taken_by_one(double radius, double absorption)
{
    double value, error, x = 2.0 * radius * absorption;
    gsl_integration_workspace *space = gsl_integration_workspace_alloc(400);
    gsl_function f = {shaded, &x};
    gsl_integration_qags(&f, 0.0, 1.0, 0.0, 1e-12, 400, space, &value, &error);
    gsl_integration_workspace_free(space);
    return 3.14159265358979323846 * radius * radius * value;
}

/* A layer full of grains absorbs what its grains take one by one. */
static void check_grains(struct brv_scenario ask, double share, double radius, double absorption)
{
    struct brv_tissue tissue;
    sample_set(&ask, BRV_SCOPE_LAYER, 1, "melanosomes", share);
    ask.lesion_given = 1;
    brv_scenario_fill(&ask);
    brv_tissue_resolve(&tissue, &ask, BRV_NEIGHBOUR);
    const double volume = 4.0 / 3.0 * 3.14159265358979323846 * radius * radius * radius;
    check_close(tissue.layer[1].absorption_pigment, share / volume * taken_by_one(radius, absorption), 2e-10, 0.0);
    check_close(tissue.grain.radius, radius, 1e-14, 0.0);
    check_close(tissue.grain.absorption, absorption, 1e-14, 0.0);
}

/* Over all wavelengths, darkness, diameters and shares that the keys allow, ends included. */
static void grains_and_layer_absorb_alike(void **state)
{
    (void)state;
    enum { LAST = 6 };
    for (size_t i = 0; i <= LAST; i++)
        for (size_t j = 0; j <= LAST; j++)
            for (size_t k = 0; k <= LAST; k++) {
                struct brv_scenario ask = sample_scenario();
                const double darkness = within(BRV_SCOPE_GRAIN, "darkness", i, LAST);
                const double diameter = within(BRV_SCOPE_GRAIN, "diameter", j, LAST);
                ask.beam.wavelength = within(BRV_SCOPE_LIGHT, "wavelength", (i + j + k) % (LAST + 1), LAST);
                sample_set(&ask, BRV_SCOPE_GRAIN, 0, "darkness", darkness);
                sample_set(&ask, BRV_SCOPE_GRAIN, 0, "diameter", diameter);
                check_grains(ask, within(BRV_SCOPE_LAYER, "melanosomes", k, LAST), 0.5 * diameter,
                             brv_chromophore_melanosome(ask.beam.wavelength, darkness));
            }
}

/* The same where the absorption of a grain is given outright: up to grains that let nothing through. */
static void given_grains_and_layer_absorb_alike(void **state)
{
    (void)state;
    enum { LAST = 6 };
    for (size_t i = 0; i <= LAST; i++)
        for (size_t j = 0; j <= LAST; j++) {
            struct brv_scenario ask = sample_scenario();
            const double absorption = within(BRV_SCOPE_GRAIN, "absorption", i, LAST);
            const double diameter = within(BRV_SCOPE_GRAIN, "diameter", j, LAST);
            sample_set(&ask, BRV_SCOPE_GRAIN, 0, "absorption", absorption);
            sample_set(&ask, BRV_SCOPE_GRAIN, 0, "diameter", diameter);
            check_grains(ask, bound(BRV_SCOPE_LAYER, "melanosomes", (i + j) % 2), 0.5 * diameter, absorption);
        }
}

static void no_grains_absorb_nothing(void **state)
{
    (void)state;
    struct brv_scenario ask = sample_scenario();
    struct brv_tissue tissue;
    sample_set(&ask, BRV_SCOPE_LAYER, 1, "melanosomes", 0.0);
    brv_scenario_fill(&ask);
    brv_tissue_resolve(&tissue, &ask, BRV_NEIGHBOUR);
    check_close(tissue.layer[1].absorption_pigment, 0.0, 0.0, 0.0);
    assert_true(isinf(tissue.grain.cell_radius) || tissue.grain.layer != 1);
}

/* A 60-um epidermis with 3.8 % grains passes 0.88 of 532-nm light by their absorption alone, without shading. */
static void pigment_shades_what_lies_below(void **state)
{
    (void)state;
    check_row("60 um epidermis, 3.8 % grains, 532 nm, passes", "epidermis-transmission (computed)",
              exp(-60e-6 * 0.038 * brv_chromophore_melanosome(532e-9, 1.0)), 0.88, 2e-3, "digits of the check value");
}

static void layer_is_the_sum_of_its_parts(void **state)
{
    (void)state;
    struct brv_scenario ask = sample_scenario();
    brv_scenario_fill(&ask);
    struct brv_tissue tissue;
    brv_tissue_resolve(&tissue, &ask, BRV_LESION);
    const struct brv_layer *dermis = &tissue.layer[2], *basal = &tissue.layer[1];
    const double blood = 0.005 * 100.0 * 5.3558e-3 * (0.7 * 43876.0 + 0.3 * 40584.0);
    check_close(dermis->absorption, blood + 0.65 * brv_chromophore_water(532e-9) + 0.995 * 52.65, 1e-3, 0.0);
    check_close(basal->heat_capacity, 0.342 * 1350.0 * 2550.0 + 0.658 * 1150.0 * 3590.0, 1e-12, 0.0);
    check_close(dermis->scattering * (1.0 - 0.85), 4600.0 * pow(532.0 / 500.0, -1.421), 1e-12, 0.0);
    check_close(dermis->perfusion, 1e-3 * 1050.0 * 3617.0, 1e-12, 0.0);
    assert_int_equal(tissue.grain.layer, 1);
    check_close(tissue.grain.cell_radius, 0.15e-6 * pow(0.342, -1.0 / 3.0), 1e-12, 0.0);
}

/* Depth at which light has diffused out, as tabulated. The table took the two-term form of the reduced scattering,
 * 48 [0.41 (nm/500)^-4 + 0.59 (nm/500)^-0.702] /cm, which lies within 12 % of the program's power form. Its row at
 * 1064 nm rests on another table of water (24 % less there) and is left out.                                      */
static double two_term_scattering(double nm)
{
    return 4800.0 * (0.41 * pow(nm / 500.0, -4.0) + 0.59 * pow(nm / 500.0, -0.702));
}

static void diffusion_depth_of_dermis(void **state)
{
    (void)state;
    static const struct {
        double nm, blood, mm;
    } row[] = {{532, 0.002, 0.88}, {532, 0.01, 0.51}, {694, 0.002, 2.06}, {755, 0.002, 2.17}};
    for (size_t i = 0; i < sizeof row / sizeof *row; i++) {
        struct brv_scenario ask = sample_scenario();
        ask.beam.wavelength = row[i].nm * 1e-9;
        sample_set(&ask, BRV_SCOPE_LAYER, 2, "blood", row[i].blood);
        sample_set(&ask, BRV_SCOPE_LAYER, 2, "reduced_scattering", two_term_scattering(row[i].nm));
        brv_scenario_fill(&ask);
        struct brv_tissue tissue;
        brv_tissue_resolve(&tissue, &ask, BRV_NEIGHBOUR);
        char what[80];
        snprintf(what, sizeof what, "diffusion depth of dermis, %g nm, %g %% blood [mm]", row[i].nm,
                 100 * row[i].blood);
        check_row(what, "diffusion-depth (computed)", 1e3 * brv_tissue_diffusion_depth(&tissue.layer[2]), row[i].mm,
                  0.006, "digits of the table");
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(blood_equals_its_table),
                                       cmocka_unit_test(blood_has_its_isosbestic_point),
                                       cmocka_unit_test(pigment_follows_its_power_law),
                                       cmocka_unit_test(water_and_rest),
                                       cmocka_unit_test(spectra_are_those_of_their_sources),
                                       cmocka_unit_test(shading_is_the_mean_over_chords),
                                       cmocka_unit_test(grains_and_layer_absorb_alike),
                                       cmocka_unit_test(given_grains_and_layer_absorb_alike),
                                       cmocka_unit_test(no_grains_absorb_nothing),
                                       cmocka_unit_test(pigment_shades_what_lies_below),
                                       cmocka_unit_test(layer_is_the_sum_of_its_parts),
                                       cmocka_unit_test(diffusion_depth_of_dermis)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
