#include "tissue/chromophore.h"

#include "tissue/spectrum.h"

#include <math.h>

#define PER_CM          100.0                     /* 1/cm in 1/m */
#define BLOOD_PER_MOLAR (2.303 * 150.0 / 64500.0) /* 2.303 as in the source; ln 10 is 0.02 % less */

static double nanometres(double wavelength)
{
    return wavelength * 1e9;
}

double brv_chromophore_blood(double wavelength, double saturation)
{
    const double nm = nanometres(wavelength);
    const double oxy = brv_table_at(&brv_spectrum_oxyhaemoglobin, nm);
    const double deoxy = brv_table_at(&brv_spectrum_deoxyhaemoglobin, nm);
    return PER_CM * BLOOD_PER_MOLAR * (saturation * oxy + (1.0 - saturation) * deoxy);
}

double brv_chromophore_water(double wavelength)
{
    return PER_CM * brv_table_at(&brv_spectrum_water, nanometres(wavelength));
}

double brv_chromophore_melanosome(double wavelength, double darkness)
{
    return PER_CM * darkness * 1.70e12 * pow(nanometres(wavelength), -3.48);
}

double brv_chromophore_baseline(double wavelength)
{
    return PER_CM * (0.244 + 85.3 * exp(-(nanometres(wavelength) - 154.0) / 66.2));
}

double brv_chromophore_reduced_scattering(double wavelength)
{
    return BRV_SCATTERING_LEVEL * pow(nanometres(wavelength) / nanometres(BRV_SCATTERING_AT), -BRV_SCATTERING_POWER);
}
