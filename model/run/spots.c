#include "run/spots.h"

#include "base/team.h"

#define DEEPEST 3e-3 /* [m] */

static const double diameters[BRV_N_SPOT] = {2e-3, 3e-3, 5e-3, 7e-3, 10e-3};

struct work {
    struct brv_spots *spots;
    const struct brv_tissue *tissue;
    const struct brv_beam *beam;
    const struct brv_control *control;
};

static brv_status solve_one(void *context, size_t i, struct brv_error *error)
{
    const struct work *work = context;
    struct brv_spots *spots = work->spots;
    struct brv_beam beam = *work->beam;
    struct brv_light light;
    beam.spot = diameters[i];
    beam.method = BRV_METHOD_SPOT;
    const brv_status status = brv_light_solve(&light, work->tissue, &beam, work->control, error);
    if (status) return status;

    const double own = work->beam->spot / beam.spot;
    spots->diameter[i] = beam.spot;
    for (size_t k = 0; k < BRV_N_SPOT_DEPTH; k++) {
        spots->ratio[i][k] = brv_light_fluence(&light, spots->depth[k]);
        spots->at_energy[i][k] = own * own * spots->ratio[i][k];
    }
    brv_light_free(&light);
    return BRV_OK;
}

brv_status brv_spots_solve(struct brv_spots *spots, const struct brv_scenario *ask, size_t which,
                           const struct brv_control *control, struct brv_error *error)
{
    struct brv_tissue tissue;
    brv_tissue_resolve(&tissue, ask, which);
    const double whole = brv_skin_thickness(&ask->skin[which]), end = whole < DEEPEST ? whole : DEEPEST;
    for (size_t k = 0; k < BRV_N_SPOT_DEPTH; k++) {
        const double share = (double)k / (BRV_N_SPOT_DEPTH - 1);
        spots->depth[k] = end * share * share;
    }
    struct work work = {spots, &tissue, &ask->beam, control};
    return brv_team_run(BRV_N_SPOT, control ? control->threads : 0, solve_one, &work, error);
}
