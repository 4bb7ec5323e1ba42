#include "support/exact_cylinder.h"

#include <gsl/gsl_sf_bessel.h>
#include <math.h>

double exact_cylinder_centre(double time)
{
    return -expm1(-0.25 / time);
}

/* 1 - exp(-x) [I0(x) + I1(x)], x = 1/(2 time) */
double exact_cylinder_mean(double time)
{
    const double x = 0.5 / time;
    return 1.0 - gsl_sf_bessel_I0_scaled(x) - gsl_sf_bessel_I1_scaled(x);
}

double exact_cylinder_gaussian(double time)
{
    return 1.0 / (1.0 + 4.0 * time);
}

double exact_cylinder_first_mode(double time)
{
    const double zero = gsl_sf_bessel_zero_J0(1);
    return exp(-zero * zero * time);
}
