/* One skin under the pulse, from tissue to meaning. */
#ifndef BRV_RUN_SITE_H
#define BRV_RUN_SITE_H

#include "effect/effect.h"
#include "heat/heat.h"
#include "light/light.h"
#include "scenario/scenario.h"
#include "tissue/tissue.h"

struct brv_site {
    struct brv_tissue tissue;
    struct brv_light light;
    struct brv_history history;
    struct brv_audit audit;
    struct brv_effect effect;
};

/* Are low and high asked for? They take two more solves of the light; without them the light is held fixed. */
enum brv_detail { BRV_WITH_SPREADS, BRV_VALUES_ONLY };

/* Solves one site (enum brv_site_index) of a checked scenario; `control` may be NULL. On failure `site` comes back empty. */
brv_status brv_site_solve(struct brv_site *site, const struct brv_scenario *ask, size_t which, enum brv_detail detail,
                          const struct brv_control *control, struct brv_error *error) BRV_MUST_CHECK;

void brv_site_free(struct brv_site *site);

#endif
