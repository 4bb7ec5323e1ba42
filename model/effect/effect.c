#include "effect/effect.h"

#include "base/array.h"
#include "base/constants.h"
#include "effect/confinement.h"
#include "effect/effect_crowd.h"
#include "effect/pressure.h"
#include "effect/vessel.h"
#include "scenario/keys.h"
#include "tissue/chromophore.h"

#include <math.h>
#include <stdlib.h>

#define BRIEF        1e-3  /* no lasting warmth; the rates were fitted to heating of half a second and more [s] */
#define FIRST_DEGREE 0.53  /* Omega published for it. Source: [burn-standards] */
#define HALF         0.5   /* of Omega */
#define NOISE        1e-11 /* of the highest rise by one pulse: the contour is good to a tenth of it */

/* ---- spreads ---- */

static const struct brv_scaling as_it_is = {1.0, 1.0, NULL};

/* Which layer a probe lies in. */
static size_t layer_of(size_t probe, const struct brv_history *history, const struct brv_light *light)
{
    if (probe == history->film) return 0;
    for (size_t i = 0; i < BRV_MOST_MEANS; i++)
        if (history->mean[i] == probe) return i;
    size_t layer = light->n_layer - 1;
    while (layer > 0 && history->depth[probe] < light->top[layer]) layer--;
    return layer;
}

/* How the light in all layers with pigment changes, by what each of them takes up. */
static double pigment_light(const struct brv_tissue *tissue, const struct brv_light *light, size_t k)
{
    double sum = 0.0, changed = 0.0;
    for (size_t i = 0; i < tissue->n_layer; i++) {
        const struct brv_layer *layer = &tissue->layer[i];
        const double thickness = isinf(layer->thickness) ? brv_tissue_diffusion_depth(layer) : layer->thickness;
        if (!(layer->absorption_pigment > 0.0)) continue;
        const double taken = layer->absorption_pigment * thickness * light->mean_fluence[i];
        sum += taken;
        changed += taken * light->sensitivity.mean[k][i];
    }
    return sum > 0.0 ? changed / sum : 1.0;
}

struct brv_scaling brv_effect_scaling(const struct brv_tissue *tissue, const struct brv_light *light,
                                      const struct brv_history *history, size_t probe, size_t k)
{
    const struct brv_sensitivity *sensitivity = &light->sensitivity;
    if (!sensitivity->solved) return (struct brv_scaling){1.0, k ? BRV_DARKNESS_HIGH : BRV_DARKNESS_LOW, NULL};
    if (probe >= BRV_N_GRAIN_PROBE) return (struct brv_scaling){1.0, 1.0, history->other[k] + probe * history->n_time};
    const size_t layer = tissue->grain.layer;
    const bool own = tissue->layer[layer].absorption_pigment > 0.0;
    const double here = sensitivity->mean[k][layer], source = own ? here : pigment_light(tissue, light, k);
    return (struct brv_scaling){here, sensitivity->uptake[k] * source, NULL};
}

/* Everything that is judged of one site. */
struct site {
    const struct brv_tissue *tissue;
    const struct brv_light *light;
    const struct brv_history *history;
    const struct brv_scenario *ask;
};

static struct brv_scaling paler(const struct site *site, size_t probe)
{
    return brv_effect_scaling(site->tissue, site->light, site->history, probe, 0);
}

static struct brv_scaling darker(const struct site *site, size_t probe)
{
    return brv_effect_scaling(site->tissue, site->light, site->history, probe, 1);
}

/* A value with the least and the most of it and two others: warmth in the dermis can be least between paler pigment, which
 * leaves it more light, and darker, which warms it from above.                                                      */
static struct brv_spread between(double value, double one, double other)
{
    return (struct brv_spread){value, fmin(value, fmin(one, other)), fmax(value, fmax(one, other))};
}

static void judge_peaks(struct brv_effect *effect, const struct site *site)
{
    const struct brv_history *history = site->history;
    for (size_t probe = 0; probe < history->n_probe; probe++) {
        const struct brv_scaling low = paler(site, probe), high = darker(site, probe);
        const struct brv_summit own = brv_history_summit(history, probe, as_it_is);
        const struct brv_summit hottest = brv_history_hottest(history, probe, as_it_is);
        effect->peak[probe] = between(own.value, brv_history_summit(history, probe, low).value,
                                      brv_history_summit(history, probe, high).value);
        effect->peak_time[probe] = own.time;
        effect->hottest[probe] = between(hottest.value, brv_history_hottest(history, probe, low).value,
                                         brv_history_hottest(history, probe, high).value);
        effect->hottest_time[probe] = hottest.time;
    }
}

static void judge_cold(struct brv_effect *effect, const struct brv_history *history)
{
    effect->coldest = INFINITY;
    for (size_t probe = BRV_PROBE_LAYER; probe < history->n_probe; probe++) {
        if (probe == history->film) continue;
        for (size_t i = 0; i < history->n_time; i++) {
            const double cooled = history->cooled ? history->cooled[probe * history->n_time + i] : 0.0;
            effect->coldest = fmin(effect->coldest, history->start[probe] + cooled);
        }
    }
}

static double warmest_cell(const struct brv_history *history)
{
    double most = 0.0;
    for (size_t i = 0; i < history->n_cell; i++)
        if (history->face[i] >= 0.0) most = fmax(most, history->peak[i]); /* of the skin, not of a film on it */
    return most;
}

static double temperature_of(const struct brv_history *history, size_t probe, size_t row, struct brv_scaling scaling)
{
    const double cooled = history->cooled ? history->cooled[probe * history->n_time + row] : 0.0;
    return history->start[probe] + brv_history_scaled(history, probe, row, scaling) + cooled;
}

/* ---- damage ---- */

const struct brv_damage_pair *brv_effect_rates(const struct brv_tissue *tissue, const struct brv_light *light,
                                               const struct brv_history *history, size_t probe, int set)
{
    const int kind = tissue->layer[layer_of(probe, history, light)].kind;
    const bool deep = kind == BRV_DERMIS || kind == BRV_FAT;
    return &brv_damage_pairs[set][deep ? BRV_DAMAGE_DERMIS : BRV_DAMAGE_EPIDERMIS];
}

/* ln Omega of a probe; kelvin[n_time] is room, and holds its temperatures afterwards. */
static double damage_of(const struct brv_history *history, size_t probe, const struct brv_damage_pair *pair,
                        struct brv_scaling scaling, double kelvin[])
{
    for (size_t i = 0; i < history->n_time; i++) kelvin[i] = temperature_of(history, probe, i, scaling);
    return brv_damage_log(pair, history->n_time, history->time, history->since, kelvin);
}

double brv_effect_brief(const struct brv_scenario *ask)
{
    return brv_pulse_window(&ask->pulse) + BRIEF;
}

bool brv_effect_illustrates(const struct brv_scenario *ask, double log_all, double log_lasting)
{
    return ask->pulse.width < BRIEF && !(log_lasting > log_all + log(HALF)) && log_lasting < log(FIRST_DEGREE);
}

struct brv_spread brv_spread_higher(const struct brv_spread *one, const struct brv_spread *other)
{
    return (struct brv_spread){fmax(one->value, other->value), fmax(one->low, other->low),
                               fmax(one->high, other->high)};
}

static brv_status judge_damage(struct brv_effect *effect, const struct site *site, struct brv_error *error)
{
    const struct brv_history *history = site->history;
    double *kelvin = brv_array_new(history->n_time);
    if (!kelvin) return brv_error_raise(error, BRV_MEMORY, "effect");
    effect->most_damaged = BRV_PROBE_LAYER;
    const double none = -(double)INFINITY;
    double lasting = none, most_lasting = none; /* at the most damaged place; at any */
    effect->damage = (struct brv_spread){none, none, none};
    for (size_t probe = BRV_PROBE_LAYER; probe < history->n_probe; probe++) {
        effect->log_damage[probe] = (struct brv_spread){none, none, none};
        if (probe == history->film) continue; /* it is no tissue */
        const struct brv_damage_pair *pair =
            brv_effect_rates(site->tissue, site->light, history, probe, site->ask->watch.damage);
        struct brv_spread *damage = &effect->log_damage[probe];
        const double low = damage_of(history, probe, pair, paler(site, probe), kelvin);
        const double high = damage_of(history, probe, pair, darker(site, probe), kelvin);
        *damage = between(damage_of(history, probe, pair, as_it_is, kelvin), low, high);
        effect->minutes[probe] = brv_damage_minutes(history->n_time, history->time, kelvin);
        const double here = brv_damage_lasting(pair, history->n_time, history->time, history->since, kelvin,
                                               brv_effect_brief(site->ask));
        most_lasting = fmax(most_lasting, here);
        if (damage->value > effect->log_damage[effect->most_damaged].value) effect->most_damaged = probe;
        if (effect->most_damaged == probe) lasting = here;
        effect->damage = brv_spread_higher(&effect->damage, damage);
    }
    effect->illustrative = brv_effect_illustrates(site->ask, effect->damage.value, lasting) &&
                           brv_effect_illustrates(site->ask, (double)INFINITY, most_lasting);
    free(kelvin);
    return BRV_OK;
}

/* ---- how long it is warm ---- */

/* Between two rows the part of the time that a straight line spends above. */
static double part_above(double one, double two)
{
    if (one > BRV_WARM && two > BRV_WARM) return 1.0;
    if (one <= BRV_WARM && two <= BRV_WARM) return 0.0;
    return fmax(one, two) > BRV_WARM ? (fmax(one, two) - BRV_WARM) / fabs(one - two) : 0.0;
}

static double time_warm(const struct brv_history *history, size_t probe)
{
    double sum = 0.0;
    for (size_t i = 1; i < history->n_time; i++)
        sum += (history->time[i] - history->time[i - 1]) *
               part_above(temperature_of(history, probe, i - 1, as_it_is), temperature_of(history, probe, i, as_it_is));
    return sum;
}

static void judge_warmth(struct brv_effect *effect, const struct brv_history *history)
{
    for (size_t probe = BRV_PROBE_LAYER; probe < history->n_probe; probe++)
        if (probe != history->film) effect->warm = fmax(effect->warm, time_warm(history, probe));
}

/* Fluence of every pulse at which a place of the grain just reaches a temperature. Darker grains need less: the spread
 * of the threshold runs against that of the rise.                                                                   */
static struct brv_spread threshold_of(const struct site *site, int place, double criterion)
{
    const size_t probe = (size_t)place;
    const double fluence = site->ask->beam.fluence;
    return between(fluence * brv_history_factor(site->history, probe, as_it_is, criterion),
                   fluence * brv_history_factor(site->history, probe, darker(site, probe), criterion),
                   fluence * brv_history_factor(site->history, probe, paler(site, probe), criterion));
}

static void judge_thresholds(struct brv_effect *effect, const struct site *site)
{
    const double unknown = (double)NAN;
    const bool dark =
        effect->peak[BRV_PROBE_MEAN].value < NOISE * site->history->adiabatic; /* no light arrives there */
    effect->threshold_grain = (struct brv_spread){unknown, unknown, unknown};
    for (size_t i = 0; i < BRV_N_CRITERION; i++) {
        effect->threshold[i] = (struct brv_spread){unknown, unknown, unknown};
        if (!dark) effect->threshold[i] = threshold_of(site, effect->place, brv_criteria[i].temperature);
    }
    if (!dark) effect->threshold_grain = threshold_of(site, effect->place, effect->criterion);
}

/* ---- dermis, vessel, pressure ---- */

static double highest_between(const struct brv_history *history, size_t probe, struct brv_scaling scaling, size_t from,
                              size_t to)
{
    double most = 0.0;
    for (size_t i = from; i < to; i++) most = fmax(most, brv_history_scaled(history, probe, i, scaling));
    return most;
}

static struct brv_spread highest_of(const struct site *site, size_t probe, size_t from, size_t to)
{
    return between(highest_between(site->history, probe, as_it_is, from, to),
                   highest_between(site->history, probe, paler(site, probe), from, to),
                   highest_between(site->history, probe, darker(site, probe), from, to));
}

static void judge_dermis(struct brv_effect *effect, const struct site *site)
{
    const struct brv_history *history = site->history;
    for (size_t k = 0; k < BRV_N_MARK; k++) {
        const size_t probe = history->mark[k], n = history->n_pulse;
        struct brv_dermis_effect *dermis = &effect->dermis[k];
        dermis->there = probe != BRV_NO_PROBE;
        if (!dermis->there) continue;
        const size_t first_end = n > 1 ? history->before[1] + 1 : history->n_time;
        dermis->first = highest_of(site, probe, history->before[0], first_end);
        dermis->last = highest_of(site, probe, history->before[n - 1], history->n_time);
        dermis->warm = time_warm(history, probe);
    }
}

static brv_status judge_vessel(struct brv_vessel_effect *effect, const struct brv_tissue *tissue,
                               const struct brv_light *light, const struct brv_scenario *ask, struct brv_error *error)
{
    const struct brv_vessel_ask *vessel = &ask->vessel;
    const struct brv_key *key = &brv_keys[brv_key_find(BRV_SCOPE_VESSEL, "saturation")];
    const double saturation[] = {vessel->saturation, key->low[0], key->high[0]};
    double rise[3], shading[3];
    effect->there = vessel->depth > 0.0;
    if (!effect->there) return BRV_OK;
    effect->fluence_ratio = brv_light_fluence(light, vessel->depth);
    effect->relaxation = brv_relaxation_time(BRV_VESSEL_KAPPA, vessel->diameter, BRV_TRADE_DIFFUSIVITY);
    for (size_t i = 0; i < 3; i++) {
        const double absorption = brv_chromophore_blood(tissue->wavelength, saturation[i]);
        const brv_status status = brv_vessel_shading(&shading[i], absorption * vessel->diameter, error);
        if (status) return status;
        rise[i] = absorption * shading[i] * effect->fluence_ratio * brv_beam_axis_fluence(&ask->beam) /
                  (BRV_BLOOD_DENSITY * BRV_BLOOD_HEAT_CAPACITY);
    }
    effect->shading = shading[0];
    effect->rise =
        (struct brv_spread){rise[0], fmin(rise[0], fmin(rise[1], rise[2])), fmax(rise[0], fmax(rise[1], rise[2]))};
    return BRV_OK;
}

/* Highest temperature of the mean of the grain after one pulse and before the next. */
static double hottest_by(const struct brv_history *history, size_t pulse)
{
    const size_t first = history->before[pulse];
    const size_t end = pulse + 1 < history->n_pulse ? history->before[pulse + 1] + 1 : history->n_time;
    double most = temperature_of(history, BRV_PROBE_MEAN, first, as_it_is);
    for (size_t i = first; i < end; i++) most = fmax(most, temperature_of(history, BRV_PROBE_MEAN, i, as_it_is));
    return most;
}

/* Each pulse from what the ones before have left to its hottest moment, the criterion at most. The last of a train finds
 * warmer grains, which swell more; the first has more left up to the criterion.                                     */
static void judge_pressure(struct brv_effect *effect, const struct brv_tissue *tissue,
                           const struct brv_history *history)
{
    struct brv_pressure_effect *pressure = &effect->pressure;
    double at_once = 0.0;
    pressure->at_criterion = false;
    for (size_t pulse = 0; pulse < history->n_pulse; pulse++) {
        const double from = temperature_of(history, BRV_PROBE_MEAN, history->before[pulse], as_it_is);
        const double hottest = hottest_by(history, pulse), to = fmin(hottest, effect->criterion);
        at_once = fmax(at_once, brv_pressure_at_once(from, to, tissue->grain.heat_capacity));
        pressure->at_criterion |= hottest > effect->criterion;
    }
    pressure->theta = effect->pulse / effect->stress_time;
    pressure->confined = brv_pressure_confined(pressure->theta);
    const double value = pressure->confined * at_once;
    pressure->value = (struct brv_spread){value, value / BRV_PRESSURE_FACTOR, value * BRV_PRESSURE_FACTOR};
}

/* ---- where it is hottest, and how it falls ---- */

/* Highest temperature of any cell. Over many pulses the cells know nothing of what goes sideways: then the probes. */
static double warmest_place(const struct brv_effect *effect, const struct brv_history *history)
{
    double start = 0.0, most = 0.0;
    for (size_t probe = 0; probe < history->n_probe; probe++) {
        if (probe == history->film) continue;
        start = fmax(start, history->start[probe]);
        most = fmax(most, effect->hottest[probe].value);
    }
    return history->n_pulse > 1 && history->field.n_depth ? most : fmax(most, start + warmest_cell(history));
}

/* Above it a figure is no temperature. Water around a grain is first seen to turn to vapour at 112 degC, the least of the
 * criteria in print, and a higher criterion does not keep it liquid. A lower one of the mean may say that it does so
 * earlier, but not below 100 degC, where it boils at normal pressure at the soonest: what such a criterion is asked
 * for, warmth that hurts, is warmth, and its figures are temperatures.                                             */
double brv_effect_ceiling(const struct brv_watch *watch)
{
    const double least = brv_criteria[0].temperature;
    return watch->place == BRV_PLACE_MEAN ? fmin(least, fmax(watch->criterion, BRV_BOILING)) : least;
}

static void judge_film(struct brv_effect *effect, const struct site *site)
{
    const struct brv_history *history = site->history;
    struct brv_film_effect *film = &effect->film;
    film->there = history->film != BRV_NO_PROBE;
    if (!film->there) return;
    film->absorbed = brv_light_absorbed(site->light, -site->tissue->layer[0].thickness, 0.0);
    film->peak = effect->peak[history->film];
    film->warmest = film->peak.value + history->film_over;
    const double *curve = history->from_film + BRV_PROBE_LAYER * history->n_time;
    for (size_t i = 0; i < history->n_time; i++) {
        if (!(curve[i] > film->gives)) continue;
        film->gives = curve[i];
        film->gives_time = history->time[i];
    }
    film->above = history->start[history->film] + film->warmest > effect->ceiling;
}

/* The first pulse's row at a time after its start. */
static size_t at_time(const struct brv_history *history, double since)
{
    size_t i = 0;
    while (i + 1 < history->n_time && (history->pulse[i] < 1 || history->since[i] < since * (1.0 - 1e-5))) i++;
    return i;
}

static void judge_falls(struct brv_effect *effect, const struct brv_history *history, double end)
{
    const size_t from = at_time(history, end);
    for (size_t probe = 0; probe < 3; probe++) {
        const double *excess = history->excess + probe * history->n_time;
        const double start = history->since[from];
        effect->fall_half[probe] = effect->fall_efold[probe] = (double)NAN;
        if (!(excess[from] > 0.0)) continue; /* in dense pigment the surface can be cooler than the mean of its cell */
        effect->fall_half[probe] = brv_history_fall(history, excess, start, 0.5 * excess[from]) - start;
        effect->fall_efold[probe] = brv_history_fall(history, excess, start, exp(-1.0) * excess[from]) - start;
    }
}

static double adiabatic_rise(const struct brv_tissue *tissue, const struct brv_light *light, double fluence)
{
    const struct brv_grain *grain = &tissue->grain;
    return grain->absorption * grain->shading * fluence * light->mean_fluence[grain->layer] / grain->heat_capacity;
}

static double leaves_sideways(const struct brv_tissue *tissue, double spot)
{
    const struct brv_layer *deepest = &tissue->layer[tissue->n_layer - 1];
    return spot * spot * deepest->heat_capacity / (16.0 * deepest->conductivity);
}

brv_status brv_effect_judge(struct brv_effect *effect, const struct brv_tissue *tissue, const struct brv_light *light,
                            const struct brv_history *history, const struct brv_audit *audit,
                            const struct brv_scenario *ask, struct brv_error *error)
{
    *effect = (struct brv_effect){.pulse = ask->pulse.width,
                                  .diameter = 2.0 * tissue->grain.radius,
                                  .held = audit->held,
                                  .criterion = ask->watch.criterion,
                                  .place = ask->watch.place,
                                  .stress_time = brv_confinement_time(2.0 * tissue->grain.radius, BRV_SOUND_SPEED),
                                  .adiabatic_rise = adiabatic_rise(tissue, light, brv_beam_axis_fluence(&ask->beam)),
                                  .sideways = history->field.n_depth ? (double)INFINITY
                                                                     : leaves_sideways(tissue, ask->beam.spot)};
    const struct site site = {tissue, light, history, ask};
    judge_peaks(effect, &site);
    judge_cold(effect, history);
    judge_warmth(effect, history);
    judge_thresholds(effect, &site);
    effect->ceiling = brv_effect_ceiling(&ask->watch);
    effect->above = warmest_place(effect, history) > effect->ceiling;
    judge_film(effect, &site);
    judge_falls(effect, history, brv_pulse_end(&ask->pulse));
    judge_dermis(effect, &site);
    judge_pressure(effect, tissue, history);
    brv_status status = judge_damage(effect, &site, error);
    if (!status) status = judge_vessel(&effect->vessel, tissue, light, ask, error);
    if (!status) status = brv_crowd_judge(&effect->crowd, tissue, light, history, ask, error);
    return status ? status : brv_heat_relax(&effect->cooling, tissue, error);
}

brv_status brv_effect_times(struct brv_effect *effect, const struct brv_tissue *tissue, const struct brv_light *light,
                            const struct brv_history *history, const struct brv_scenario *ask, double factor,
                            struct brv_error *error)
{
    struct brv_history more;
    *effect = (struct brv_effect){.pulse = ask->pulse.width};
    brv_status status = brv_history_times(&more, history, factor, error);
    if (status) return status;
    const struct site site = {tissue, light, &more, ask};
    judge_peaks(effect, &site);
    judge_warmth(effect, &more);
    status = judge_damage(effect, &site, error);
    brv_history_times_free(&more);
    return status;
}
