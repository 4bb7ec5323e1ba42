#include "run/bare.h"

#include "scenario/film.h"

brv_status brv_bare_solve(struct brv_bare *bare, const struct brv_scenario *ask, size_t which,
                          const struct brv_control *control, struct brv_error *error)
{
    *bare = (struct brv_bare){.there = false};
    if (!brv_film_covers(&ask->skin[which])) return BRV_OK;
    const struct brv_scenario copy = brv_film_removed(ask);
    struct brv_tissue tissue;
    struct brv_light light;
    brv_tissue_resolve(&tissue, &copy, which);
    const brv_status status = brv_light_solve(&light, &tissue, &copy.beam, control, error);
    if (status) return status;
    bare->there = true;
    bare->fluence = light.mean_fluence[tissue.grain.layer];
    brv_light_free(&light);
    return BRV_OK;
}
