#include "report/absorber.h"

#include "base/constants.h"
#include "report/csv.h"
#include "report/number.h"
#include "tissue/chromophore.h"
#include "tissue/tissue.h"

enum { FIRST_NM = 400, LAST_NM = 1100, N_SITE_COLUMN = 4 };

static void write_header(FILE *to)
{
    fputs("wavelength_m,blood_oxygenated_1_m,blood_deoxygenated_1_m,blood_from_table,water_1_m,rest_1_m", to);
    for (size_t site = 0; site < BRV_N_SITE; site++) {
        const char *name = brv_site_name[site];
        fprintf(to, ",%s_grain_1_m,%s_grain_low_1_m,%s_grain_high_1_m,%s_layer_1_m", name, name, name, name);
    }
    fputs("\r\n", to);
}

static void write_number(FILE *to, double value)
{
    char text[BRV_NUMBER_SIZE];
    fprintf(to, ",%s", brv_number_exact(text, value));
}

static void write_site(FILE *to, const struct brv_scenario *ask, size_t site)
{
    struct brv_tissue tissue;
    brv_tissue_resolve(&tissue, ask, site);
    const double grain = tissue.grain.absorption;
    const double column[N_SITE_COLUMN] = {grain, BRV_DARKNESS_LOW * grain, BRV_DARKNESS_HIGH * grain,
                                          tissue.layer[tissue.grain.layer].absorption};
    for (size_t i = 0; i < N_SITE_COLUMN; i++) write_number(to, column[i]);
}

void brv_absorber_csv(FILE *to, const struct brv_scenario *ask)
{
    struct brv_scenario at = *ask;
    char text[BRV_NUMBER_SIZE];
    write_header(to);
    for (int nm = FIRST_NM; nm <= LAST_NM; nm++) {
        const double wavelength = nm / 1e9; /* reads back as the same number as "532 nm" in a scenario */
        at.beam.wavelength = wavelength;
        fputs(brv_number_exact(text, wavelength), to);
        write_number(to, brv_chromophore_blood(wavelength, 1.0));
        write_number(to, brv_chromophore_blood(wavelength, 0.0));
        fputs(wavelength > BRV_BLOOD_TABLE_END ? ",0" : ",1", to);
        write_number(to, brv_chromophore_water(wavelength));
        write_number(to, brv_chromophore_baseline(wavelength));
        for (size_t site = 0; site < BRV_N_SITE; site++) write_site(to, &at, site);
        fputs("\r\n", to);
    }
}
