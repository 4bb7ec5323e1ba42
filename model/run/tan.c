#include "run/tan.h"

#include "scenario/keys.h"

#include <math.h>

#define ROUNDING   1e-12 /* of a factor */
#define AFTERWARDS 10e-3 /* from the end of the last pulse: grains and thin layers have long passed their peaks [s] */

/* Does sun reach it, and do its grains count? */
static bool tans(const struct brv_layer_ask *layer)
{
    return layer->kind != BRV_DERMIS && layer->kind != BRV_FAT && !brv_key_given(layer, BRV_SCOPE_LAYER, "absorption");
}

/* What became of the factor that was asked for. */
static void compare(struct brv_tan *tan, const struct brv_skin *before, const struct brv_skin *after)
{
    double had = 0.0, has = 0.0;
    for (size_t i = 0; i < before->n_layer; i++) {
        const double one = before->layer[i].melanosomes, other = after->layer[i].melanosomes;
        const double thickness = isinf(before->layer[i].thickness) ? 1.0 : before->layer[i].thickness;
        if (!tans(&before->layer[i])) continue;
        had += one * thickness;
        has += other * thickness;
        tan->cut |= other < tan->factor * one * (1.0 - ROUNDING);
    }
    tan->applied = had > 0.0 ? has / had : 1.0;
}

static struct brv_scenario tanned(const struct brv_scenario *ask)
{
    struct brv_scenario copy = *ask;
    struct brv_skin *skin = &copy.skin[BRV_NEIGHBOUR];
    for (size_t i = 0; i < skin->n_layer; i++) {
        if (!tans(&skin->layer[i])) continue;
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
    *tan = (struct brv_tan){.factor = ask->watch.tan, .applied = 1.0};
    if (!(ask->watch.tan > 1.0)) return BRV_OK;
    const struct brv_scenario copy = tanned(ask);
    compare(tan, &ask->skin[BRV_NEIGHBOUR], &copy.skin[BRV_NEIGHBOUR]);
    const brv_status status = brv_site_solve(&site, &copy, BRV_NEIGHBOUR, BRV_WITH_SPREADS, control, error);
    if (status) return status;
    tan->column = site.effect.crowd.column;
    tan->threshold_sign = site.effect.crowd.threshold_sign;
    brv_site_free(&site);
    return BRV_OK;
}
