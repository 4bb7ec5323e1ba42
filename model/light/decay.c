#include "light/decay.h"

#include <math.h>
#include <stddef.h>

/* Relative distance below which two decay constants are treated as close. At this distance three Gauss points are
 * exact to 1e-16 and the plain difference has lost two digits.                                                  */
static const double CLOSE = 0.01;

double brv_decay_share(double decay, double near, double far)
{
    const double whole = expm1(-2.0 * decay * (near + far));
    if (whole == 0.0) return near + far > 0.0 ? far / (near + far) : 0.5;
    return exp(-decay * near) * expm1(-2.0 * decay * far) / whole;
}

double brv_decay_share_integral(double decay, double depth)
{
    return decay > 0.0 ? tanh(0.5 * decay * depth) / decay : 0.5 * depth;
}

/* (1 - exp(-decay depth)) / decay: integral of the exponential from 0 to `depth`. */
static double integral(double decay, double depth)
{
    return decay > 0.0 ? -expm1(-decay * depth) / decay : depth;
}

double brv_decay_between(double first, double second, double depth)
{
    if (isinf(depth)) return 0.0;
    return exp(-fmin(first, second) * depth) * integral(fabs(second - first), depth);
}

/* Integral of t exp(-decay t) from 0 to `depth`. */
static double first_moment(double decay, double depth)
{
    return (integral(decay, depth) - (isinf(depth) ? 0.0 : depth * exp(-decay * depth))) / decay;
}

/* The mean of first_moment over all decay constants between two close ones. */
static double mean_first_moment(double first, double second, double depth)
{
    static const double node[] = {-0.77459666924148337704, 0.0, 0.77459666924148337704};
    static const double weight[] = {5.0 / 18.0, 8.0 / 18.0, 5.0 / 18.0};
    double mean = 0.0;
    for (size_t i = 0; i < 3; i++)
        mean += weight[i] * first_moment(0.5 * (first + second) + 0.5 * node[i] * (second - first), depth);
    return mean;
}

double brv_decay_between_integral(double first, double second, double depth)
{
    if (fabs(second - first) < CLOSE * first) return mean_first_moment(first, second, depth);
    return (integral(first, depth) - integral(second, depth)) / (second - first);
}
