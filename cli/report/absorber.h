/* What absorbs in a scenario's skin, at every wavelength that the model knows, as CSV. */
#ifndef BRV_CLI_REPORT_ABSORBER_H
#define BRV_CLI_REPORT_ABSORBER_H

#include "scenario/scenario.h"

#include <stdio.h>

/* wavelength_m from 400 to 1100 nm, every nm; then absorption coefficients in 1/m:
 *     blood_oxygenated, blood_deoxygenated   whole blood of 150 g/L; blood_from_table is 0 where the last value is held
 *     water, rest                            pure water; skin without pigment and blood
 *     lesion_grain, _low, _high              inside a grain, and for grains 0.316 and 3.16 times as dark
 *     lesion_layer                           all of the layer that the grain sits in
 *     neighbour_...                          the same of the skin around
 * The numbers are those of brv_tissue_resolve at that wavelength. Checks: tests/unit/test_absorber.c.                  */
void brv_absorber_csv(FILE *to, const struct brv_scenario *ask);

#endif
