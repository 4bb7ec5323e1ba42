#include "run/site.h"

#include "light/light_sensitivity.h"

/* One skin under the pulse, in the order of the physics. */
brv_status brv_site_solve(struct brv_site *site, const struct brv_scenario *ask, size_t which, enum brv_detail detail,
                          const struct brv_control *control, struct brv_error *error)
{
    *site = (struct brv_site){.tissue = {.n_layer = 0}};
    brv_tissue_resolve(&site->tissue, ask, which);
    brv_status status = brv_light_solve(&site->light, &site->tissue, &ask->beam, control, error);
    if (!status && detail == BRV_WITH_SPREADS) status = brv_light_sense(&site->light, ask, which, control, error);
    if (!status) status = brv_heat_run(&site->history, &site->audit, &site->tissue, &site->light, ask, error);
    if (!status)
        status = brv_effect_judge(&site->effect, &site->tissue, &site->light, &site->history, &site->audit, ask, error);

    if (status) brv_site_free(site);
    return status;
}

void brv_site_free(struct brv_site *site)
{
    brv_light_free(&site->light);
    brv_history_free(&site->history);
}
