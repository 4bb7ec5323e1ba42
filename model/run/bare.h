/* What a film on the skin takes away: the light of the same skin once more without it. Light only, no heat. */
#ifndef BRV_RUN_BARE_H
#define BRV_RUN_BARE_H

#include "run/site.h"

struct brv_bare {
    bool there;     /* false: no film lies on the skin, the rest is empty */
    double fluence; /* mean over the grain's layer under bare skin, over the incident fluence [1] */
};

/* One site (enum brv_site_index) of a filled and checked scenario; `control` may be NULL. */
brv_status brv_bare_solve(struct brv_bare *bare, const struct brv_scenario *ask, size_t which,
                          const struct brv_control *control, struct brv_error *error) BRV_MUST_CHECK;

#endif
