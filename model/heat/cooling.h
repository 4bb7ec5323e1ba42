/* How fast one grain cools when it has been heated evenly at once: relaxation times measured, not by formula.
 * They depend on the conductivities and capacities of grain and surroundings and on the size of its cell. In like
 * surroundings, unbounded: centre to 1/2 at d^2/(18.93 alpha), mean to 1/e at d^2/(22.23 alpha)
 * (tests/unit/test_heat_parts.c).                                                                                  */
#ifndef BRV_HEAT_COOLING_H
#define BRV_HEAT_COOLING_H

#include "heat/sphere.h"

struct brv_cooling {
    double centre_half, centre_efold; /* time at which the centre's excess over its cell has fallen to 1/2, 1/e [s] */
    double mean_half, mean_efold;     /* the same for the mean of the grain [s] */
};

brv_status brv_cooling_measure(struct brv_cooling *cooling, const struct brv_sphere_ask *ask,
                               struct brv_error *error) BRV_MUST_CHECK;

#endif
