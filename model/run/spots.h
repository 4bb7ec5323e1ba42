/* The same skin under spots of other widths: light on the axis against depth.
 * At the same fluence a wider spot has more light at depth; at the same energy a narrower one has the higher fluence,
 * by area. Both follow from one solve for each width.                                                            */
#ifndef BRV_RUN_SPOTS_H
#define BRV_RUN_SPOTS_H

#include "run/site.h"

enum { BRV_N_SPOT = 5, BRV_N_SPOT_DEPTH = 61 };

struct brv_spots {
    double diameter[BRV_N_SPOT];                    /* 2, 3, 5, 7, 10 mm [m] */
    double depth[BRV_N_SPOT_DEPTH];                 /* 0 to 3 mm, even in the square root [m] */
    double ratio[BRV_N_SPOT][BRV_N_SPOT_DEPTH];     /* fluence on the axis over that spot's own incident fluence [1] */
    double at_energy[BRV_N_SPOT][BRV_N_SPOT_DEPTH]; /* ... over the incident fluence that the scenario's energy gives
                                                      in the scenario's own spot [1] */
};

/* Solves for the skin of one site with the kernel for spots. */
brv_status brv_spots_solve(struct brv_spots *spots, const struct brv_scenario *ask, size_t which,
                           const struct brv_control *control, struct brv_error *error) BRV_MUST_CHECK;

#endif
