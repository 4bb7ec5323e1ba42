/* Where the light of a wide beam goes on one skin, for pigment `darkness` times as dark as the scenario's. */
#ifndef BRV_SIDE_SHARES_H
#define BRV_SIDE_SHARES_H

#include "base/status.h"
#include "scenario/scenario.h"

struct brv_light_shares {
    double mirrored; /* sent on by the surface as a beam [1] */
    double back;     /* scattered back out of the skin [1] */
    double through;  /* out of the bottom of a finite stack [1] */
};

/* Of the lesion's neighbour; exact for plane layers, and the same for every width of the beam. */
brv_status brv_shares_solve(struct brv_light_shares *shares, const struct brv_scenario *ask, double darkness,
                            struct brv_error *error) BRV_MUST_CHECK;

#endif
