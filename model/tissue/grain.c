#include "tissue/grain.h"

#include <math.h>

#define SERIES_BELOW 0.02 /* where the closed form loses digits; the next series term is then below 1e-9 */

double brv_grain_shading(double x)
{
    if (x < SERIES_BELOW) return 1.0 - x * (3.0 / 8.0 - x * (1.0 / 10.0 - x * (1.0 / 48.0 - x / 280.0)));
    return 1.5 / x * (1.0 - 2.0 / (x * x) * (1.0 - (1.0 + x) * exp(-x)));
}

double brv_grain_cell_radius(double radius, double fraction)
{
    return fraction > 0.0 ? radius / cbrt(fraction) : (double)INFINITY;
}
