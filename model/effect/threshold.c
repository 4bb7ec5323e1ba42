#include "effect/threshold.h"

#include "base/constants.h"

#include <math.h>

const struct brv_criterion brv_criteria[BRV_N_CRITERION] = {
    {112.0 + BRV_ZERO_C, "jacques-mcauliffe-1991", "memory"},
    {136.0 + BRV_ZERO_C, "neumann-brinkmann", "abstract"},
    {150.0 + BRV_ZERO_C, "neumann-brinkmann", "abstract"},
};

double brv_threshold_fluence(double fluence, double criterion, double start, double highest_rise)
{
    return highest_rise > 0.0 ? fluence * (criterion - start) / highest_rise : (double)NAN;
}
