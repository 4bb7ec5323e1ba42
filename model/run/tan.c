#include "run/tan.h"

#include <math.h>

#define AFTERWARDS 10e-3 /* from the end of the last pulse: grains and thin layers have long passed their peaks [s] */

static struct brv_scenario tanned(const struct brv_scenario *ask)
{
    struct brv_scenario copy = *ask;
    struct brv_skin *skin = &copy.skin[BRV_NEIGHBOUR];
    for (size_t i = 0; i < skin->n_layer; i++) {
        if (skin->layer[i].kind == BRV_DERMIS || skin->layer[i].kind == BRV_FAT) continue; /* sun does not reach it */
        skin->layer[i].melanosomes =
            fmin(brv_melanosomes_times(skin->layer[i].melanosomes, copy.watch.tan), 1.0 - skin->layer[i].blood);
    }
    const double over = brv_pulse_last(&copy.pulse) + brv_pulse_window(&copy.pulse) + AFTERWARDS;
    copy.watch.until = fmin(copy.watch.until, over);
    copy.surface.to = fmin(copy.surface.to, copy.watch.until);
    copy.watch.n_depth = 0;
    return copy;
}

brv_status brv_tan_solve(struct brv_tan *tan, const struct brv_scenario *ask, const struct brv_control *control,
                         struct brv_error *error)
{
    struct brv_site site;
    *tan = (struct brv_tan){.factor = ask->watch.tan};
    if (!(ask->watch.tan > 1.0)) return BRV_OK;
    const struct brv_scenario copy = tanned(ask);
    const brv_status status = brv_site_solve(&site, &copy, BRV_NEIGHBOUR, BRV_WITH_SPREADS, control, error);
    if (status) return status;
    tan->column = site.effect.crowd.column;
    tan->threshold_sign = site.effect.crowd.threshold_sign;
    brv_site_free(&site);
    return BRV_OK;
}
