#include "run/ratio.h"

#include <math.h>

static double ratio(double neighbour, double lesion)
{
    return neighbour / lesion; /* NAN where one of them is */
}

struct brv_spread brv_threshold_ratio(const struct brv_spread *neighbour, const struct brv_spread *lesion)
{
    const double value = ratio(neighbour->value, lesion->value);
    if (isnan(value)) return (struct brv_spread){value, value, value}; /* what is not there has no range */
    const double low = ratio(neighbour->low, lesion->low), high = ratio(neighbour->high, lesion->high);
    return (struct brv_spread){value, fmin(value, fmin(low, high)), fmax(value, fmax(low, high))};
}
