#include "study/test_spots.h"

#include "effect/effect_crowd.h"
#include "study/headline.h"
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
    *share = (struct brv_spread){(double)NAN, (double)NAN, (double)NAN};
    if (!(site->effect.crowd.column > 0.0)) return BRV_OK;
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

/* What is in proportion to the light; of each the headline of the run is multiplied. */
static void read_rises(struct brv_test_spot_site *at, const struct brv_spread headline[BRV_N_HEADLINE], double factor)
{
    at->grain = times(&headline[BRV_HEADLINE_GRAIN_PEAK], factor);
    at->layer = times(&headline[BRV_HEADLINE_LAYER_PEAK], factor);
    at->vessel = times(&headline[BRV_HEADLINE_VESSEL], factor);
    at->film = times(&headline[BRV_HEADLINE_FILM_PEAK], factor);
    at->surface = times(&headline[BRV_HEADLINE_SURFACE_PEAK], factor);
}

/* Of all places of the skin: a film on it is none. */
static struct brv_spread hottest_of(const struct brv_effect *effect, const struct brv_history *history)
{
    struct brv_spread hottest = effect->hottest[BRV_PROBE_LAYER];
    for (size_t probe = BRV_PROBE_LAYER; probe < history->n_probe; probe++)
        if (probe != history->film) hottest = brv_spread_higher(&hottest, &effect->hottest[probe]);
    return hottest;
}

static brv_status read_places(struct brv_test_spot_site *at, const struct brv_site *site,
                              const struct brv_scenario *ask, double factor, struct brv_error *error)
{
    struct brv_effect effect;
    const brv_status status =
        brv_effect_times(&effect, &site->tissue, &site->light, &site->history, ask, factor, error);
    if (status) return status;
    at->hottest = hottest_of(&effect, &site->history);
    at->damage = times(&effect.damage, 1.0 / log(10.0));
    at->illustrative = effect.illustrative;
    return BRV_OK;
}

static brv_status read_step(struct brv_test_spot *step, const struct brv_result *result, double fluence,
                            struct brv_error *error)
{
    const double factor = fluence / result->ask.beam.fluence;
    struct brv_headlines headlines;
    brv_status status = BRV_OK;
    brv_headlines_read(&headlines, result);
    step->fluence = fluence;
    step->energy = fluence * brv_beam_area(&result->ask.beam);
    for (size_t i = 0; i < BRV_N_SITE && !status; i++) {
        const struct brv_site *site = &result->site[i];
        struct brv_test_spot_site *at = &step->site[i];
        at->sign = brv_sign_at(&site->effect.crowd.threshold_sign, fluence);
        read_rises(at, headlines.at[i], factor);
        status = read_places(at, site, &result->ask, factor, error);
        if (!status) status = read_share(&at->share, site, &result->ask, fluence, error);
    }
    return status;
}

brv_status brv_test_spots_solve(struct brv_test_spots *spots, const struct brv_scenario *ask,
                                const struct brv_control *control, struct brv_error *error)
{
    struct brv_scenario last = *ask;
    *spots = (struct brv_test_spots){.n = 0};
    last.beam.fluence = brv_test_spot_fluence(&ask->ladder, (size_t)ask->ladder.count - 1);
    last.beam.energy = last.beam.fluence * brv_beam_area(&ask->beam);
    brv_status status = brv_many_solve(&spots->result, 1, &last, BRV_WITH_SPREADS, control, error);
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
