/* The slip table: what small slips of the hand and of the device do to the light on the skin, and to the headlines.
 *     tilt        footprint D / cos, so fluence x cos x T(tilt) / T(0), T = 1 - R by Fresnel into the first layer
 *     stand-off   10 mm wrong in a cone of 100 mrad, full angle: D +- 2 x 10 mm x tan(50 mrad), at the same energy
 *     spot        5 and 10 % too small or too large, at the same energy: fluence / (1 + s)^2
 *     output      20 % too much or too little
 *     together    (dF/F)^2 = (dE/E)^2 + (2 dD/D)^2 for slips that do not know of each other
 * A spot that slips is run with that spot, unless the cone closes before the skin; tilt and output are runs with their fluence, in the spot asked for.
 * Own geometry, checked against tests/verification/data/error_budget.csv and spatial_angle.csv by
 * tests/verification/test_spread.c.                                                                               */
#ifndef BRV_STUDY_SLIP_H
#define BRV_STUDY_SLIP_H

#include "base/control.h"
#include "study/headline.h"

enum brv_slip_kind { BRV_SLIP_NONE, BRV_SLIP_TILT, BRV_SLIP_STAND_OFF, BRV_SLIP_SPOT, BRV_SLIP_OUTPUT, BRV_SLIP_BOTH };

enum { BRV_N_SLIP = 16 };

struct brv_slip {
    enum brv_slip_kind kind;
    double size;      /* tilt [rad]; stand-off [m], above 0 where it makes the spot larger; of spot or output [1] */
    double spot_size; /* of both together: of the spot, `size` being of the output [1] */
    double fluence;   /* local fluence over that asked for; NAN: no such spot [1] */
    double spot;      /* its diameter [m] */
    struct brv_headlines headlines; /* followed as in study/spread.h; NAN where there is no such spot */
};

/* What a slip does to fluence and spot, no runs: slip[BRV_N_SLIP], the first is none. */
void brv_slips_list(struct brv_slip slip[BRV_N_SLIP], const struct brv_scenario *ask);

/* Fluence that enters a tilted surface over that which enters it straight on [1]. */
double brv_slip_tilt(double angle, double index_outside, double index_inside);

/* Lists and runs them. `control` may be NULL. */
brv_status brv_slips_solve(struct brv_slip slip[BRV_N_SLIP], const struct brv_scenario *ask,
                           const struct brv_control *control, struct brv_error *error) BRV_MUST_CHECK;

#endif
