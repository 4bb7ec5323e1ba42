#include "run/run.h"

#include "base/team.h"

static brv_status solve_site(void *context, size_t which, struct brv_error *error)
{
    struct brv_result *result = context;
    const brv_status status = brv_site_solve(&result->site[which], &result->ask, which, error);
    if (status) error->index = (int)which;
    return status;
}

brv_status brv_run_solve(struct brv_result *result, const struct brv_scenario *ask, unsigned threads,
                         struct brv_error *error)
{
    *result = (struct brv_result){.ask = *ask};
    const brv_status status = brv_team_run(BRV_N_SITE, threads, solve_site, result, error);
    if (status) brv_run_free(result);
    return status;
}

void brv_run_free(struct brv_result *result)
{
    for (size_t i = 0; i < BRV_N_SITE; i++) brv_site_free(&result->site[i]);
}
