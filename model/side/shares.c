#include "side/shares.h"

#include "light/light.h"

brv_status brv_shares_solve(struct brv_light_shares *shares, const struct brv_scenario *ask, double darkness,
                            struct brv_error *error)
{
    struct brv_scenario copy = *ask;
    struct brv_tissue tissue;
    struct brv_light light;
    *shares = (struct brv_light_shares){.back = 0.0};
    copy.beam.method = BRV_METHOD_LAYERED;
    copy.skin[BRV_NEIGHBOUR].grain.darkness *= darkness;
    copy.skin[BRV_NEIGHBOUR].grain.absorption *= darkness;
    brv_tissue_resolve(&tissue, &copy, BRV_NEIGHBOUR);
    const brv_status status = brv_light_solve(&light, &tissue, &copy.beam, NULL, error);
    if (status) return status;
    *shares = (struct brv_light_shares){.mirrored = light.layered.reflected_specular,
                                        .back = light.layered.reflected_diffuse,
                                        .through = light.layered.transmitted};
    brv_light_free(&light);
    return BRV_OK;
}
