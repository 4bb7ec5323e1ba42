/* What absorbs over wavelength: the table of `brevis tissue --spectrum`, against published check values and the tissue of a run. */
#include "report/absorber.h"

#include "scenario/scenario.h"
#include "support/check.h"
#include "support/sample.h"
#include "tissue/tissue.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { N_ROW = 701, N_COLUMN = 14, LINE = 1024 };
enum { WAVELENGTH, OXY, DEOXY, FROM_TABLE, WATER, REST, GRAIN, LOW, HIGH, LAYER, NEIGHBOUR };

static double table[N_ROW][N_COLUMN];
static char header[LINE];

/* Light skin with twice its pigment in the basal row of the lesion. */
static struct brv_scenario some_skin(void)
{
    struct brv_scenario ask = sample_scenario();
    brv_scenario_fill(&ask);
    ask.skin[BRV_LESION].layer[1].melanosomes *= 2.0;
    return ask;
}

static int read_table(void **state)
{
    const struct brv_scenario ask = some_skin();
    char line[LINE];
    FILE *file = tmpfile();
    size_t row = 0;
    (void)state;
    if (!file) return 1;
    brv_absorber_csv(file, &ask);
    rewind(file);
    if (!fgets(header, sizeof header, file)) return 1;
    for (; fgets(line, sizeof line, file); row++) {
        char *at = line;
        for (size_t i = 0; row < N_ROW && i < N_COLUMN; i++, at += *at == ',') table[row][i] = strtod(at, &at);
        if (strcmp(at, "\r\n") != 0) return 1;
    }
    fclose(file);
    return row != N_ROW;
}

static const double *at(int nm)
{
    return table[nm - 400];
}

static void every_nanometre_has_its_row(void **state)
{
    (void)state;
    assert_string_equal(header, "wavelength_m,blood_oxygenated_1_m,blood_deoxygenated_1_m,blood_from_table,water_1_m,"
                                "rest_1_m,lesion_grain_1_m,lesion_grain_low_1_m,lesion_grain_high_1_m,lesion_layer_1_m,"
                                "neighbour_grain_1_m,neighbour_grain_low_1_m,neighbour_grain_high_1_m,"
                                "neighbour_layer_1_m\r\n");
    for (int nm = 400; nm <= 1100; nm++) {
        check_close(at(nm)[WAVELENGTH], nm * 1e-9, 1e-15, 0.0); /* rounding of the product */
        assert_true(at(nm)[FROM_TABLE] == (nm <= 1000 ? 1.0 : 0.0));
        for (size_t i = 1; i < N_COLUMN; i++) assert_true(isfinite(at(nm)[i]) && at(nm)[i] >= 0.0);
    }
}

/* The columns are not swapped, and in 1/m: check values of their sources. */
static void columns_are_those_of_their_sources(void **state)
{
    (void)state;
    check_close(at(532)[OXY], 23499.0, 0.0, 1.0);        /* 234.99 /cm, digits of the value  Source: [prahl-1998] */
    check_close(at(694)[DEOXY], 1043.87, 0.0, 0.01);     /* 10.4387 /cm                      Source: [prahl-1998] */
    check_close(at(1064)[OXY], at(1000)[OXY], 0.0, 0.0); /* held */
    check_close(at(1064)[WATER], 15.1, 0.0, 0.1);        /* 0.151 /cm                        Source: [rottgers-2016] */
    check_close(at(532)[REST], 52.65, 0.0, 0.01); /* 0.5265 /cm                       Source: [jacques-baseline] */
    check_close(at(532)[GRAIN] / at(1064)[GRAIN], pow(2.0, 3.48), 1e-12, 0.0); /*         Source: [jacques-1998] */
    check_close(at(755)[HIGH] / at(755)[LOW], 10.0, 1e-12, 0.0);               /* ten-fold in all */
}

/* Three features that a teacher points at. The tables have a row every 2 nm, or less. */
static void features_lie_where_they_are_published(void **state)
{
    int crossing = 0, peak = 900, valley = 1000;
    (void)state;
    for (int nm = 700; nm < 900; nm++)
        if (at(nm)[OXY] < at(nm)[DEOXY] && at(nm + 1)[OXY] >= at(nm + 1)[DEOXY]) crossing = nm;
    for (int nm = 900; nm <= 1000; nm++)
        if (at(nm)[WATER] > at(peak)[WATER]) peak = nm;
    for (int nm = 1000; nm <= 1100; nm++)
        if (at(nm)[WATER] < at(valley)[WATER]) valley = nm;
    assert_true(crossing == 796 || crossing == 797); /* Source: [prahl-1998]: between 796 and 798 */
    check_row("figure of absorbers: peak of water [nm]", "rottgers-2016 (seen)", peak, 972.5, 3.0,
              "970 to 975 in three tables");
    check_row("figure of absorbers: valley of water behind it [nm]", "rottgers-2016 (seen)", valley, 1065.0, 5.0,
              "1060 to 1070 in three tables");
}

/* The same numbers as a run at that wavelength has. */
static void a_run_has_the_same_numbers(void **state)
{
    struct brv_scenario ask = some_skin();
    (void)state;
    ask.beam.wavelength = 694e-9;
    for (size_t site = 0; site < BRV_N_SITE; site++) {
        struct brv_tissue tissue;
        brv_tissue_resolve(&tissue, &ask, site);
        const double *found = at(694) + (site == BRV_LESION ? GRAIN : NEIGHBOUR);
        check_close(found[0], tissue.grain.absorption, 0.0, 0.0);
        check_close(found[LAYER - GRAIN], tissue.layer[tissue.grain.layer].absorption, 0.0, 0.0);
    }
    assert_true(at(694)[LAYER] > 1.5 * at(694)[NEIGHBOUR + LAYER - GRAIN]); /* a lesion has more pigment */
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_nanometre_has_its_row), cmocka_unit_test(columns_are_those_of_their_sources),
        cmocka_unit_test(features_lie_where_they_are_published), cmocka_unit_test(a_run_has_the_same_numbers)};
    return cmocka_run_group_tests(tests, read_table, NULL);
}
