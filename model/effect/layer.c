#include "effect/layer.h"

#include "base/constants.h"

#include <math.h>

double brv_layer_surface(double times)
{
    return erf(1.0 / sqrt(times));
}

double brv_layer_mean(double times)
{
    const double x = 1.0 / sqrt(times);
    return erf(2.0 * x) + expm1(-4.0 * x * x) / (2.0 * x * sqrt(BRV_PI));
}
