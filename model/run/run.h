/* The whole answer: lesion and neighbour under the same pulse. */
#ifndef BRV_RUN_RUN_H
#define BRV_RUN_RUN_H

#include "run/bare.h"
#include "run/site.h"
#include "run/tan.h"

struct brv_result {
    struct brv_scenario ask;          /* what was answered */
    struct brv_site site[BRV_N_SITE]; /* lesion, neighbour; each computed as if it filled the beam */
    struct brv_tan tan;               /* the neighbour, tanned */
    struct brv_bare bare[BRV_N_SITE]; /* lesion, neighbour, without the film on them */
};

/* Answers a checked scenario. `control` may be NULL; the numbers are the same for any count of threads. On failure
 * `result` comes back empty and error->index names the site; BRV_N_SITE is the tanned neighbour,
 * those above are the sites without a film. */
brv_status brv_run_solve(struct brv_result *result, const struct brv_scenario *ask, const struct brv_control *control,
                         struct brv_error *error) BRV_MUST_CHECK;

void brv_run_free(struct brv_result *result);

#endif
