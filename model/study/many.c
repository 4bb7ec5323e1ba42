#include "study/many.h"

#include "base/team.h"

struct work {
    struct brv_result *result;
    enum brv_detail detail;
    struct brv_control control; /* of one site: what runs beside others has one thread */
};

static brv_status solve_site(void *context, size_t item, struct brv_error *error)
{
    const struct work *work = context;
    struct brv_result *result = &work->result[item / BRV_N_SITE];
    const size_t which = item % BRV_N_SITE;
    const brv_status status =
        brv_site_solve(&result->site[which], &result->ask, which, work->detail, &work->control, error);
    if (status && error) error->index = (int)(item / BRV_N_SITE);
    return status;
}

/* A walk of photons shares its own threads; runs with one then come one after the other. */
static bool any_walk(size_t n, const struct brv_scenario ask[])
{
    for (size_t i = 0; i < n; i++)
        if (ask[i].beam.method == BRV_METHOD_SAMPLED) return true;
    return false;
}

brv_status brv_many_solve(struct brv_result result[], size_t n, const struct brv_scenario ask[], enum brv_detail detail,
                          const struct brv_control *control, struct brv_error *error)
{
    const unsigned threads = control ? control->threads : 0;
    const bool walk = any_walk(n, ask);
    struct work work = {result, detail, {.threads = walk ? threads : 1, .stop = control ? control->stop : NULL}};
    for (size_t i = 0; i < n; i++) result[i] = (struct brv_result){.ask = ask[i], .tan = {.factor = 1.0}};
    const brv_status status = brv_team_run(n * BRV_N_SITE, walk ? 1 : threads, solve_site, &work, error);
    for (size_t i = 0; i < n && status; i++) brv_run_free(&result[i]);
    return status;
}
