#include "study/test_spots.h"

#include "effect/effect_crowd.h"
#include "study/many.h"

#include <math.h>

double brv_crowd_share(const struct brv_crowd_effect *crowd, double fluence)
{
    const double place = BRV_FLUENCE_DECADE * log10(fluence / BRV_LEAST_FLUENCE);
    if (!(place > 0.0)) return crowd->curve[0].share.number;
    if (place >= BRV_N_FLUENCE - 1) return crowd->curve[BRV_N_FLUENCE - 1].share.number;
    const size_t i = (size_t)place;
    const double part = place - (double)i;
    return (1.0 - part) * crowd->curve[i].share.number + part * crowd->curve[i + 1].share.number;
}

enum brv_sign brv_sign_at(const struct brv_spread *threshold, double fluence)
{
    if (!(fluence >= threshold->low)) return BRV_SIGN_NONE; /* NAN: none at any fluence */
    return fluence > threshold->high ? BRV_SIGN_SEEN : BRV_SIGN_UNSURE;
}

static struct brv_spread times(const struct brv_spread *spread, double factor)
{
    return (struct brv_spread){spread->value * factor, spread->low * factor, spread->high * factor};
}

/* With another criterion less or more must be added to the layer at rest, and darker grains add more. */
static struct brv_spread shares_at(const struct brv_site *site, double fluence)
{
    const double start = site->history.start[BRV_PROBE_LAYER], own = site->effect.criterion - start;
    const double value = brv_crowd_share(&site->effect.crowd, fluence);
    struct brv_spread share = {value, value, value};
    double gain[2];
    brv_crowd_gain(gain, &site->tissue, &site->light);
    for (size_t i = 0; i < BRV_N_CRITERION * 2; i++) {
        const double other = brv_criteria[i / 2].temperature - start;
        const double there = brv_crowd_share(&site->effect.crowd, fluence * gain[i % 2] * own / other);
        share.low = fmin(share.low, there);
        share.high = fmax(share.high, there);
    }
    return share;
}

static void read_site(struct brv_test_spot_site *at, const struct brv_site *site, double fluence, double factor)
{
    const struct brv_effect *effect = &site->effect;
    const double none = (double)NAN;
    at->share = shares_at(site, fluence);
    at->sign = brv_sign_at(&effect->crowd.threshold_sign, fluence);
    at->grain = times(&effect->peak[BRV_PROBE_MEAN], factor);
    at->layer = times(&effect->peak[BRV_PROBE_LAYER], factor);
    at->vessel = effect->vessel.there ? times(&effect->vessel.rise, factor) : (struct brv_spread){none, none, none};
}

static void read_step(struct brv_test_spot *step, const struct brv_result *result, double fluence)
{
    step->fluence = fluence;
    step->energy = fluence * brv_beam_area(&result->ask.beam);
    for (size_t site = 0; site < BRV_N_SITE; site++)
        read_site(&step->site[site], &result->site[site], fluence, fluence / result->ask.beam.fluence);
}

brv_status brv_test_spots_solve(struct brv_test_spots *spots, const struct brv_scenario *ask,
                                const struct brv_control *control, struct brv_error *error)
{
    struct brv_scenario first = *ask;
    *spots = (struct brv_test_spots){.n = 0};
    first.beam.fluence = ask->ladder.first;
    first.beam.energy = ask->ladder.first * brv_beam_area(&ask->beam);
    const brv_status status = brv_many_solve(&spots->result, 1, &first, BRV_WITH_SPREADS, control, error);
    if (status) return status;
    spots->n = (size_t)ask->ladder.count;
    for (size_t k = 0; k < spots->n; k++)
        read_step(&spots->step[k], &spots->result, brv_test_spot_fluence(&ask->ladder, k));
    return BRV_OK;
}

void brv_test_spots_free(struct brv_test_spots *spots)
{
    brv_run_free(&spots->result);
    spots->n = 0;
}
