#include "support/exact_sphere.h"

#include <gsl/gsl_integration.h>
#include <math.h>

static const double pi = 3.14159265358979323846;

static double at_centre(double time)
{
    return erf(0.5 / sqrt(time)) - exp(-0.25 / time) / sqrt(pi * time);
}

double exact_sphere_rise(double time, double radius)
{
    const double spread = 2.0 * sqrt(time), inward = (1.0 - radius) / spread, outward = (1.0 + radius) / spread;
    if (radius < 1e-9) return at_centre(time);
    return 0.5 * (erf(inward) + erf(outward)) -
           sqrt(time / pi) / radius * (exp(-inward * inward) - exp(-outward * outward));
}

static double integral(double (*f)(double, void *), void *with, double end)
{
    double value, error;
    gsl_integration_workspace *space = gsl_integration_workspace_alloc(400);
    gsl_function function = {f, with};
    gsl_integration_qags(&function, 0.0, end, 0.0, 1e-9, 400, space, &value, &error);
    gsl_integration_workspace_free(space);
    return value;
}

/* The mean is the heat kernel averaged over the distances s between two points of the sphere, whose density is
 * 3 s^2 (1 - 3 s/4 + s^3/16).                                                                                  */
static double pair(double s, void *time)
{
    return s * s * (1.0 - 0.75 * s + s * s * s / 16.0) * exp(-0.25 * s * s / *(double *)time);
}

double exact_sphere_mean(double time)
{
    return integral(pair, &time, 2.0) * 4.0 * pi / pow(4.0 * pi * time, 1.5);
}

/* An even pulse is a train of instants: the mean over their ages. With age = pulse u^2 the start is smooth. */
struct ages {
    double pulse, radius;
};

static double rise_at_age(double u, void *with)
{
    const struct ages *ages = with;
    return u > 0.0 ? 2.0 * u * exact_sphere_rise(ages->pulse * u * u, ages->radius) : 0.0;
}

static double mean_at_age(double u, void *pulse)
{
    return u > 0.0 ? 2.0 * u * exact_sphere_mean(*(double *)pulse * u * u) : 0.0;
}

double exact_sphere_pulse_rise(double pulse, double radius)
{
    struct ages ages = {pulse, radius};
    return integral(rise_at_age, &ages, 1.0);
}

double exact_sphere_pulse_mean(double pulse)
{
    return integral(mean_at_age, &pulse, 1.0);
}
