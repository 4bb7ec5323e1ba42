#include "study/test_spots.h"

#include "effect/effect_crowd.h"
#include "study/many.h"

#include <math.h>

enum brv_sign brv_sign_at(const struct brv_spread *threshold, double fluence)
{
    if (!(fluence >= threshold->low)) return BRV_SIGN_NONE; /* NAN: none at any fluence */
    return fluence > threshold->high ? BRV_SIGN_SEEN : BRV_SIGN_UNSURE;
}

static struct brv_spread times(const struct brv_spread *spread, double factor)
{
    return (struct brv_spread){spread->value * factor, spread->low * factor, spread->high * factor};
}

/* With another criterion less or more must be added to the layer, and darker grains add more. */
static brv_status read_share(struct brv_spread *share, const struct brv_site *site, const struct brv_scenario *ask,
                             double fluence, struct brv_error *error)
{
    enum { OTHERS = BRV_N_CRITERION * BRV_N_SHADE };
    double asked[OTHERS + 1] = {fluence}, found[OTHERS + 1];
    enum brv_shade shade[OTHERS + 1] = {BRV_AS_DARK};
    for (size_t i = 0; i < OTHERS; i++) {
        shade[i + 1] = (enum brv_shade)(i % BRV_N_SHADE);
        asked[i + 1] = fluence * brv_crowd_otherwise(&site->history, site->effect.criterion,
                                                     brv_criteria[i / BRV_N_SHADE].temperature);
    }
    const brv_status status =
        brv_crowd_shares(found, OTHERS + 1, asked, shade, &site->tissue, &site->light, &site->history, ask, error);
    if (status) return status;
    *share = (struct brv_spread){found[0], found[0], found[0]};
    for (size_t i = 1; i <= OTHERS; i++) {
        share->low = fmin(share->low, found[i]);
        share->high = fmax(share->high, found[i]);
    }
    return BRV_OK;
}

static void read_site(struct brv_test_spot_site *at, const struct brv_site *site, double fluence, double factor)
{
    const struct brv_effect *effect = &site->effect;
    const double none = (double)NAN;
    at->sign = brv_sign_at(&effect->crowd.threshold_sign, fluence);
    at->grain = times(&effect->peak[BRV_PROBE_MEAN], factor);
    at->layer = times(&effect->peak[BRV_PROBE_LAYER], factor);
    at->vessel = effect->vessel.there ? times(&effect->vessel.rise, factor) : (struct brv_spread){none, none, none};
}

static brv_status read_step(struct brv_test_spot *step, const struct brv_result *result, double fluence,
                            struct brv_error *error)
{
    brv_status status = BRV_OK;
    step->fluence = fluence;
    step->energy = fluence * brv_beam_area(&result->ask.beam);
    for (size_t site = 0; site < BRV_N_SITE && !status; site++) {
        read_site(&step->site[site], &result->site[site], fluence, fluence / result->ask.beam.fluence);
        status = read_share(&step->site[site].share, &result->site[site], &result->ask, fluence, error);
    }
    return status;
}

brv_status brv_test_spots_solve(struct brv_test_spots *spots, const struct brv_scenario *ask,
                                const struct brv_control *control, struct brv_error *error)
{
    struct brv_scenario first = *ask;
    *spots = (struct brv_test_spots){.n = 0};
    first.beam.fluence = ask->ladder.first;
    first.beam.energy = ask->ladder.first * brv_beam_area(&ask->beam);
    brv_status status = brv_many_solve(&spots->result, 1, &first, BRV_WITH_SPREADS, control, error);
    if (status) return status;
    spots->n = (size_t)ask->ladder.count;
    for (size_t k = 0; k < spots->n && !status; k++)
        status = read_step(&spots->step[k], &spots->result, brv_test_spot_fluence(&ask->ladder, k), error);
    if (status) brv_test_spots_free(spots);
    return status;
}

void brv_test_spots_free(struct brv_test_spots *spots)
{
    brv_run_free(&spots->result);
    spots->n = 0;
}
