#include "study/headline.h"

#include "light/light_sensitivity.h"
#include "run/ratio.h"

#include <math.h>

#define DEEP 1e-3 /* [m] */

static struct brv_spread sharp(double value)
{
    return (struct brv_spread){value, value, value};
}

static struct brv_spread times(const struct brv_spread *spread, double factor)
{
    return (struct brv_spread){spread->value * factor, spread->low * factor, spread->high * factor};
}

/* Touching spots in rows, each row half a spot aside: one spot stands for sqrt(3)/2 D^2 of the skin. */
static double pulses_per_area(const struct brv_scenario *ask)
{
    return (double)brv_pulse_total(&ask->pulse) * 2.0 / (sqrt(3.0) * ask->beam.spot * ask->beam.spot);
}

static struct brv_spread share_of(const struct brv_crowd_effect *crowd)
{
    return (struct brv_spread){crowd->here.share.number, crowd->least.share.number, crowd->most.share.number};
}

static struct brv_spread dermis_peak(const struct brv_dermis_effect *dermis)
{
    if (!dermis->there) return sharp((double)NAN);
    return (struct brv_spread){fmax(dermis->first.value, dermis->last.value), fmax(dermis->first.low, dermis->last.low),
                               fmax(dermis->first.high, dermis->last.high)};
}

/* Of the depth 0, where that is watched. */
static struct brv_spread surface_peak(const struct brv_effect *effect, const struct brv_watch *watch)
{
    for (size_t i = 0; i < watch->n_depth; i++)
        if (!(watch->depth[i] > 0.0)) return effect->peak[BRV_N_GRAIN_PROBE + i];
    return sharp((double)NAN);
}

/* Darker grains leave less light. */
static struct brv_spread light_of(double value, double paler, double darker)
{
    return (struct brv_spread){value, fmin(value, fmin(value * paler, value * darker)),
                               fmax(value, fmax(value * paler, value * darker))};
}

static struct brv_spread light_at_grain(const struct brv_site *site, double incident)
{
    const size_t layer = site->tissue.grain.layer;
    const struct brv_sensitivity *sensitivity = &site->light.sensitivity;
    const double value = incident * site->light.mean_fluence[layer];
    if (!sensitivity->solved) return sharp(value);
    return light_of(value, sensitivity->mean[0][layer], sensitivity->mean[1][layer]);
}

static struct brv_spread light_deep(const struct brv_site *site, double incident)
{
    const size_t last = site->tissue.n_layer - 1;
    const bool reaches = site->light.top[last] + site->tissue.layer[last].thickness >= DEEP;
    const double value = reaches ? incident * brv_light_fluence(&site->light, DEEP) : (double)NAN;
    return light_of(value, brv_light_answer(&site->light, 0, DEEP), brv_light_answer(&site->light, 1, DEEP));
}

static void read_site(struct brv_spread at[BRV_N_HEADLINE], const struct brv_site *site, const struct brv_scenario *ask)
{
    const struct brv_effect *effect = &site->effect;
    const double incident = brv_beam_axis_fluence(&ask->beam);
    at[BRV_HEADLINE_ENERGY] = sharp(ask->beam.energy);
    at[BRV_HEADLINE_FLUENCE] = sharp(ask->beam.fluence);
    at[BRV_HEADLINE_PULSES] = sharp(pulses_per_area(ask));
    at[BRV_HEADLINE_LIGHT_GRAIN] = light_at_grain(site, incident);
    at[BRV_HEADLINE_LIGHT_DEEP] = light_deep(site, incident);
    at[BRV_HEADLINE_GRAIN_PEAK] = effect->peak[BRV_PROBE_MEAN];
    at[BRV_HEADLINE_THRESHOLD_GRAIN] = effect->threshold_grain;
    at[BRV_HEADLINE_THRESHOLD_SIGN] = effect->crowd.threshold_sign;
    at[BRV_HEADLINE_SHARE] = share_of(&effect->crowd);
    at[BRV_HEADLINE_LAYER_PEAK] = effect->peak[BRV_PROBE_LAYER];
    at[BRV_HEADLINE_DERMIS_PEAK] = dermis_peak(&effect->dermis[0]);
    at[BRV_HEADLINE_DEEP_PEAK] = dermis_peak(&effect->dermis[1]);
    at[BRV_HEADLINE_VESSEL] = effect->vessel.there ? effect->vessel.rise : sharp((double)NAN);
    at[BRV_HEADLINE_PRESSURE] = effect->pressure.value;
    at[BRV_HEADLINE_DAMAGE] = times(&effect->damage, 1.0 / log(10.0));
    at[BRV_HEADLINE_SURFACE_PEAK] = surface_peak(effect, &ask->watch);
    at[BRV_HEADLINE_FILM_PEAK] = effect->film.there ? effect->film.peak : sharp((double)NAN);
}

void brv_headlines_read(struct brv_headlines *headlines, const struct brv_result *result)
{
    for (size_t i = 0; i < BRV_N_SITE; i++) read_site(headlines->at[i], &result->site[i], &result->ask);
    const struct brv_spread ratio = brv_threshold_ratio(&headlines->at[BRV_NEIGHBOUR][BRV_HEADLINE_THRESHOLD_SIGN],
                                                        &headlines->at[BRV_LESION][BRV_HEADLINE_THRESHOLD_SIGN]);
    for (size_t i = 0; i < BRV_N_SITE; i++) headlines->at[i][BRV_HEADLINE_RATIO] = ratio;
}

static bool same(double one, double other)
{
    return !(one < other) && !(one > other) && !isnan(one) == !isnan(other);
}

bool brv_headlines_same(const struct brv_headlines *one, const struct brv_headlines *other)
{
    for (size_t site = 0; site < BRV_N_SITE; site++)
        for (size_t i = 0; i < BRV_N_HEADLINE; i++) {
            const struct brv_spread *a = &one->at[site][i], *b = &other->at[site][i];
            if (!same(a->value, b->value) || !same(a->low, b->low) || !same(a->high, b->high)) return false;
        }
    return true;
}
