#include "run/run.h"

#include "base/team.h"

enum { TANNED = BRV_N_SITE, BARE, N_PART = BARE + BRV_N_SITE };

struct work {
    struct brv_result *result;
    const struct brv_control *control;
};

static brv_status solve_site(void *context, size_t which, struct brv_error *error)
{
    const struct work *work = context;
    struct brv_result *result = work->result;
    brv_status status;
    if (which < BRV_N_SITE)
        status = brv_site_solve(&result->site[which], &result->ask, which, BRV_WITH_SPREADS, work->control, error);
    else if (which == TANNED)
        status = brv_tan_solve(&result->tan, &result->ask, work->control, error);
    else
        status = brv_bare_solve(&result->bare[which - BARE], &result->ask, which - BARE, work->control, error);
    if (status) error->index = (int)which;
    return status;
}

/* A walk of photons shares its own threads, so the sites then come one after the other. */
static unsigned threads_for_sites(const struct brv_scenario *ask, const struct brv_control *control)
{
    if (ask->beam.method == BRV_METHOD_SAMPLED) return 1;
    return control ? control->threads : 0;
}

brv_status brv_run_solve(struct brv_result *result, const struct brv_scenario *ask, const struct brv_control *control,
                         struct brv_error *error)
{
    *result = (struct brv_result){.ask = *ask};
    struct work work = {result, control};
    const brv_status status = brv_team_run(N_PART, threads_for_sites(ask, control), solve_site, &work, error);
    if (status) brv_run_free(result);
    return status;
}

void brv_run_free(struct brv_result *result)
{
    for (size_t i = 0; i < BRV_N_SITE; i++) brv_site_free(&result->site[i]);
}
