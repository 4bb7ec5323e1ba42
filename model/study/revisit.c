#include "study/revisit.h"

#include "base/constants.h"
#include "scenario/keys.h"
#include "study/many.h"

#include <math.h>
#include <stdlib.h>

#define BEYOND 1.02 /* curves end a little after the last time that is read, */
#define RISEN  2.0  /* and not before 0.3 mm have been at their highest: (0.3 mm)^2 / (2 alpha) is 0.4 s [s] */

static unsigned bit_of(enum brv_scope scope, const char *name)
{
    return brv_key_bit((size_t)brv_key_find(scope, name));
}

struct brv_scenario brv_revisit_scenario(const struct brv_scenario *ask, const struct brv_revisit_ask *how)
{
    struct brv_scenario made = *ask;
    const unsigned count = bit_of(BRV_SCOPE_PULSE, "count"), rate = bit_of(BRV_SCOPE_PULSE, "rate"),
                   again = bit_of(BRV_SCOPE_PULSE, "passes") | bit_of(BRV_SCOPE_PULSE, "pause");
    made.pulse.count = (double)how->hits;
    made.pulse.rate = how->rate;
    made.pulse.passes = 1.0;
    made.pulse.given = (made.pulse.given & ~(rate | again)) | count | (how->hits > 1 ? rate : 0);
    made.watch.until =
        brv_pulse_last(&made.pulse) + BEYOND * fmax(fmax(1.0 / how->rate, RISEN), isnan(how->next) ? 0.0 : how->next);
    made.watch.given |= bit_of(BRV_SCOPE_WATCH, "until");
    if (made.surface.given & bit_of(BRV_SCOPE_SURFACE, "to"))
        made.watch.until = fmax(made.watch.until, made.surface.to);
    else
        made.surface.to = made.watch.until; /* to the end, wherever that is */
    return made;
}

/* Rise of a probe so long after the start of the last pulse: straight in the logarithm of time between two rows. */
static double rise_at(const struct brv_history *history, size_t probe, struct brv_scaling scaling, double since)
{
    size_t i = history->before[history->n_pulse - 1] + 1;
    while (i + 1 < history->n_time && history->since[i] < since) i++;
    const double here = brv_history_scaled(history, probe, i, scaling);
    if (!(history->since[i - 1] > 0.0) || !(history->since[i] > since)) return here;
    const double before = brv_history_scaled(history, probe, i - 1, scaling);
    const double part = log(since / history->since[i - 1]) / log(history->since[i] / history->since[i - 1]);
    return before + part * (here - before);
}

/* With the least and the most of grains 0.316 and 3.16 times as dark. */
static struct brv_spread rest_at(const struct brv_site *site, double since)
{
    const size_t probe = site->history.quarter;
    const double value = rise_at(&site->history, probe, (struct brv_scaling){1.0, 1.0, NULL}, since);
    struct brv_spread spread = {value, value, value};
    for (size_t k = 0; k < 2; k++) {
        const struct brv_scaling scaling = brv_effect_scaling(&site->tissue, &site->light, &site->history, probe, k);
        const double other = rise_at(&site->history, probe, scaling, since);
        spread.low = fmin(spread.low, other);
        spread.high = fmax(spread.high, other);
    }
    return spread;
}

static void read_site(struct brv_revisit_site *to, const struct brv_site *site, const struct brv_revisit_ask *how)
{
    const struct brv_dermis_effect *dermis = &site->effect.dermis[0];
    const struct brv_spread none = {(double)NAN, (double)NAN, (double)NAN};
    to->highest = dermis->there ? brv_spread_higher(&dermis->first, &dermis->last) : none;
    to->rest = rest_at(site, 1.0 / how->rate);
    to->later = isnan(how->next) ? none : rest_at(site, how->next);
}

brv_status brv_revisit_solve(struct brv_revisit revisit[], size_t n, const struct brv_scenario *ask,
                             const struct brv_revisit_ask how[], const struct brv_control *control,
                             struct brv_error *error)
{
    struct brv_scenario *made = calloc(n, sizeof *made);
    struct brv_result *result = calloc(n, sizeof *result);
    brv_status status = made && result ? BRV_OK : brv_error_raise(error, BRV_MEMORY, "brv_revisit_solve");
    for (size_t i = 0; i < n && !status; i++) made[i] = brv_revisit_scenario(ask, &how[i]);
    if (!status) status = brv_many_solve(result, n, made, BRV_WITH_SPREADS, control, error);
    for (size_t i = 0; i < n && !status; i++) {
        revisit[i] = (struct brv_revisit){.ask = how[i], .deep = 0.25 * ask->beam.spot};
        for (size_t site = 0; site < BRV_N_SITE; site++)
            read_site(&revisit[i].site[site], &result[i].site[site], &how[i]);
        brv_run_free(&result[i]);
    }
    for (size_t i = 0; i < n && status; i++) revisit[i] = (struct brv_revisit){.deep = 0.0};
    free(made);
    free(result);
    return status;
}
