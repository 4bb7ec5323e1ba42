#include "light/profile.h"

#include <gsl/gsl_sf_bessel.h>
#include <math.h>

double brv_profile_height(const struct brv_profile *profile, double radius)
{
    const double share = radius / profile->radius;
    if (profile->gaussian) return exp(-2.0 * share * share);
    return share < 1.0 ? 1.0 : share > 1.0 ? 0.0 : 0.5;
}

double brv_profile_spectrum(const struct brv_profile *profile, double frequency)
{
    const double wave = frequency * profile->radius;
    if (profile->gaussian) return 0.25 * wave * profile->radius * exp(-0.125 * wave * wave);
    return profile->radius * gsl_sf_bessel_J1(wave);
}
