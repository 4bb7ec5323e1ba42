/* Grains of other sizes: part of the front of this folder.
 * One grain of each size stands for those of its size in its layer: among others like it, in a closed cell of that
 * layer's mixture, and for what a darker one takes up beyond them, in unbounded surroundings. A grain
 * keeps nothing of its own departure until the next pulse, so one pulse is enough; what a train adds is its layer's. */
#ifndef BRV_HEAT_HEAT_CROWD_H
#define BRV_HEAT_HEAT_CROWD_H

#include "heat/heat.h"

/* Fills `crowd` at the place asked.watch.place; mean[layer] is the probe of each layer's mean. */
brv_status brv_crowd_run(struct brv_crowd *crowd, const size_t mean[BRV_MOST_MEANS], const struct brv_heat_ask *ask,
                         struct brv_error *error) BRV_MUST_CHECK;

#endif
