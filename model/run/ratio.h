/* The threshold ratio: how far the threshold of a sign in the neighbour lies above that in the lesion. */
#ifndef BRV_RUN_RATIO_H
#define BRV_RUN_RATIO_H

#include "effect/effect.h"

/* Ratio of two thresholds of a sign, each pair for one and the same column: value, least, most; NAN where one is. */
struct brv_spread brv_threshold_ratio(const struct brv_spread *neighbour, const struct brv_spread *lesion);

#endif
