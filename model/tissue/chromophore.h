/* What absorbs and scatters in skin, at one wavelength [m]. Coefficients in 1/m.
 *     blood       2.303 x 150 g/L / 64,500 g/mol x molar extinction   Source: [prahl-1998], seen
 *     melanosome  darkness x 1.70e12 (wavelength/nm)^-3.48 /cm        Source: [jacques-1998], seen
 *     baseline    0.244 + 85.3 exp(-(nm - 154)/66.2) /cm              Source: [jacques-baseline], seen
 *     scattering  46.0 (nm/500)^-1.421 /cm, reduced                   Source: [jacques-2013], from memory
 * The baseline was fitted to moist skin, so water is partly counted twice; in living skin it was about five times
 * lower near 850 nm. Blood above 1000 nm holds its last value: no table was seen there.
 * Checks: tests/verification/test_tissue.c.                                                                  */
#ifndef BRV_TISSUE_CHROMOPHORE_H
#define BRV_TISSUE_CHROMOPHORE_H

/* Of reduced scattering: at 500 nm, and the power of its fall with wavelength. Source: [jacques-2013], from memory. */
#define BRV_SCATTERING_LEVEL 4600.0 /* [1/m] */
#define BRV_SCATTERING_AT    500e-9 /* [m] */
#define BRV_SCATTERING_POWER 1.421

#define BRV_BLOOD_TABLE_END 1000e-9 /* [m] */

double brv_chromophore_blood(double wavelength, double saturation);
double brv_chromophore_water(double wavelength);
double brv_chromophore_melanosome(double wavelength, double darkness);
double brv_chromophore_baseline(double wavelength);
double brv_chromophore_reduced_scattering(double wavelength);

#endif
