#include "effect/threshold.h"

#include "base/constants.h"

const struct brv_criterion brv_criteria[BRV_N_CRITERION] = {
    {112.0 + BRV_ZERO_C, "jacques-mcauliffe-1991", "memory"},
    {136.0 + BRV_ZERO_C, "neumann-brinkmann", "abstract"},
    {150.0 + BRV_ZERO_C, "neumann-brinkmann", "abstract"},
};
