#include "study/compare.h"

#include "study/many.h"

#include <math.h>
#include <stdlib.h>

static double beyond(double value)
{
    return isnan(value) ? (double)INFINITY : value;
}

static bool holds(const struct brv_spread *spread, double value)
{
    const double low = fmin(beyond(spread->low), beyond(spread->high));
    const double high = fmax(beyond(spread->low), beyond(spread->high));
    return beyond(value) >= low && beyond(value) <= high;
}

bool brv_spread_hides(const struct brv_spread *one, const struct brv_spread *other)
{
    return holds(one, other->value) && holds(other, one->value);
}

static double per_fluence(const struct brv_headlines *headlines, size_t site, enum brv_headline light)
{
    return headlines->at[site][light].value / headlines->at[site][BRV_HEADLINE_FLUENCE].value;
}

static double equal(const struct brv_headlines *first, const struct brv_headlines *own, size_t site,
                    enum brv_headline light)
{
    const double there = per_fluence(own, site, light);
    return there > 0.0 ? per_fluence(first, site, light) / there : (double)NAN;
}

static void hold_against_first(struct brv_beside_first beside[BRV_N_SITE], const struct brv_headlines *first,
                               const struct brv_headlines *own)
{
    for (size_t site = 0; site < BRV_N_SITE; site++) {
        beside[site].equal_grain = equal(first, own, site, BRV_HEADLINE_LIGHT_GRAIN);
        beside[site].equal_deep = equal(first, own, site, BRV_HEADLINE_LIGHT_DEEP);
        for (size_t i = 0; i < BRV_N_HEADLINE; i++)
            beside[site].within[i] = brv_spread_hides(&first->at[site][i], &own->at[site][i]);
    }
}

brv_status brv_compare_solve(struct brv_comparison *comparison, size_t n, const struct brv_scenario ask[],
                             const struct brv_control *control, struct brv_error *error)
{
    *comparison = (struct brv_comparison){.result = calloc(n, sizeof *comparison->result),
                                          .headline = calloc(n, sizeof *comparison->headline),
                                          .beside = calloc(n, sizeof *comparison->beside)};
    brv_status status = BRV_OK;
    if (!comparison->result || !comparison->headline || !comparison->beside)
        status = brv_error_raise(error, BRV_MEMORY, "compare");
    if (!status) status = brv_many_solve(comparison->result, n, ask, BRV_WITH_SPREADS, control, error);
    if (!status) comparison->n = n;
    for (size_t i = 0; i < comparison->n; i++) {
        brv_headlines_read(&comparison->headline[i], &comparison->result[i]);
        hold_against_first(comparison->beside[i], &comparison->headline[0], &comparison->headline[i]);
    }
    if (status) brv_comparison_free(comparison);
    return status;
}

void brv_comparison_free(struct brv_comparison *comparison)
{
    for (size_t i = 0; i < comparison->n; i++) brv_run_free(&comparison->result[i]);
    free(comparison->result);
    free(comparison->headline);
    free(comparison->beside);
    *comparison = (struct brv_comparison){.n = 0};
}
