#include "effect/effect_crowd.h"

#include "base/array.h"
#include "tissue/grain.h"

#include <math.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>

#define NEVER  1e12 /* no fluence is asked for above this [J/m2] */
#define CLOSE  1e-7 /* of the logarithm of a threshold */
#define HALVES 64

/* What the shares are made of. */
struct crowd {
    const struct brv_tissue *tissue;
    const struct brv_history *history;
    const struct brv_scenario *ask;
    const double *left; /* [n_layer] of what the pigment of each layer takes up; NULL: all of it [1] */
    struct brv_thresholds all;
    double *nearness, *taken; /* [n_size][BRV_N_DARKNESS] 1 / threshold in one layer [m2/J]; uptake [1] */
    double *rise, *pigment;   /* [n_time] of one size */
};

double brv_effect_fluence(size_t i)
{
    return BRV_LEAST_FLUENCE * pow(10.0, (double)i / BRV_FLUENCE_DECADE);
}

/* ---- thresholds ---- */

/* How much more a grain takes up that is `darkness` times as dark, its own shading counted. */
static double uptake(const struct brv_grain *grain, double darkness)
{
    const double x = 2.0 * grain->radius * grain->absorption;
    return darkness * brv_grain_shading(darkness * x) / brv_grain_shading(x);
}

/* The curve of grains of one size: their layer's mean, what they are above it, and what grows with the darkness. Rows
 * that are no beat of a pulse, or so late that grains are their layer, have nothing more. A grain's warmth is what it
 * would have alone, `open`, and what comes from its neighbours; of that, with less pigment around, so much is gone.  */
static struct brv_curve curve_of(const struct crowd *crowd, size_t layer, size_t size)
{
    const struct brv_history *history = crowd->history;
    const struct brv_crowd *grains = &history->crowd;
    const size_t first = (layer * grains->n_size + size) * grains->n_beat;
    const size_t probe = grains->probe[layer], n = history->n_time;
    const double gone = crowd->left ? 1.0 - crowd->left[layer] : 0.0;
    for (size_t i = 0; i < n; i++) {
        const bool beat = history->beat[i] < grains->n_beat;
        const double closed = beat ? grains->closed[first + history->beat[i]] : 0.0;
        crowd->pigment[i] = beat ? grains->open[first + history->beat[i]] : 0.0;
        crowd->rise[i] = history->rise[probe * n + i] + closed -
                         gone * (history->pigment[probe * n + i] + closed - crowd->pigment[i]);
    }
    return (struct brv_curve){crowd->rise, crowd->pigment, history->start[probe],
                              history->cooled ? history->cooled + probe * n : NULL};
}

static void lay_nearness(struct crowd *crowd, size_t layer, size_t size)
{
    const struct brv_crowd *grains = &crowd->history->crowd;
    const double median = 2.0 * crowd->tissue->grain.radius;
    const struct brv_grain grain = brv_tissue_grain(
        crowd->tissue, grains->layer[layer], median * exp(crowd->tissue->grain.diameter_spread * grains->size[size]));
    const struct brv_curve curve = curve_of(crowd, layer, size);
    double *nearness = crowd->nearness + size * BRV_N_DARKNESS, *taken = crowd->taken + size * BRV_N_DARKNESS;
    double factor[BRV_N_DARKNESS];
    for (size_t k = 0; k < BRV_N_DARKNESS; k++) taken[k] = uptake(&grain, brv_population_darkness(k));
    brv_history_reach(factor, crowd->history, &curve, BRV_N_DARKNESS, taken, crowd->ask->watch.criterion);
    for (size_t k = 0; k < BRV_N_DARKNESS; k++)
        nearness[k] = factor[k] > 0.0 ? 1.0 / (factor[k] * crowd->ask->beam.fluence) : 0.0;
}

static void lay_layer(struct crowd *crowd, size_t layer)
{
    const size_t step = crowd->all.population.n_fine * BRV_N_DARKNESS;
    for (size_t size = 0; size < crowd->history->crowd.n_size; size++) lay_nearness(crowd, layer, size);
    brv_population_refine(crowd->all.near + layer * step, &crowd->all.population, crowd->nearness);
    brv_population_refine(crowd->all.uptake + layer * step, &crowd->all.population, crowd->taken);
}

/* ---- shares ---- */

/* Of an endless layer what lies within its diffusion depth counts: light that shows a sign comes from there. */
static void lay_columns(struct crowd *crowd)
{
    const struct brv_crowd *grains = &crowd->history->crowd;
    for (size_t i = 0; i < grains->n_layer; i++) {
        const struct brv_layer *layer = &crowd->tissue->layer[grains->layer[i]];
        const double thickness = isinf(layer->thickness) ? brv_tissue_diffusion_depth(layer) : layer->thickness;
        crowd->all.column[i] = layer->melanosomes > 0.0 ? thickness * layer->melanosomes : 0.0;
        crowd->all.whole += crowd->all.column[i];
    }
}

/* All layers with pigment; where there is none, the layer of the grain that is followed. */
static struct brv_disrupted disrupted_at(const struct crowd *crowd, double fluence, enum brv_shade shade)
{
    const struct brv_crowd *grains = &crowd->history->crowd;
    const size_t step = crowd->all.population.n_fine * BRV_N_DARKNESS;
    struct brv_disrupted sum = {.column = 0.0};
    for (size_t i = 0; i < grains->n_layer; i++) {
        const double weight =
            crowd->all.whole > 0.0 ? crowd->all.column[i] / crowd->all.whole : 1.0 / (double)grains->n_layer;
        const struct brv_shares here =
            brv_population_disrupted(&crowd->all.population, crowd->all.near + i * step, crowd->all.uptake + i * step,
                                     fluence * crowd->all.gain[shade][i]);
        sum.share.number += weight * here.number;
        sum.share.volume += weight * here.volume;
    }
    sum.column = crowd->all.whole * sum.share.volume;
    return sum;
}

/* The fluence at which the disrupted column reaches a given one, by halving: a share may stand still and jump. */
static double sign_at(const struct crowd *crowd, double column, enum brv_shade shade)
{
    double low = log(BRV_LEAST_FLUENCE) - 10.0, high = log(NEVER);
    if (!(disrupted_at(crowd, exp(high), shade).column >= column)) return (double)NAN;
    for (int i = 0; i < HALVES && high - low > CLOSE; i++) {
        const double middle = 0.5 * (low + high);
        if (disrupted_at(crowd, exp(middle), shade).column >= column)
            high = middle;
        else
            low = middle;
    }
    return exp(high);
}

static void lay_gains(struct crowd *crowd, const struct brv_light *light)
{
    const struct brv_sensitivity *sensitivity = &light->sensitivity;
    const struct brv_crowd *grains = &crowd->history->crowd;
    for (size_t i = 0; i < grains->n_layer; i++) {
        crowd->all.gain[BRV_AS_DARK][i] = crowd->all.gain[BRV_PALER][i] = crowd->all.gain[BRV_DARKER][i] = 1.0;
        if (!sensitivity->solved) continue;
        crowd->all.gain[BRV_PALER][i] = sensitivity->uptake[0] * sensitivity->mean[0][grains->layer[i]];
        crowd->all.gain[BRV_DARKER][i] = sensitivity->uptake[1] * sensitivity->mean[1][grains->layer[i]];
    }
}

double brv_crowd_otherwise(const struct brv_history *history, double own_criterion, double criterion)
{
    const size_t row = BRV_PROBE_LAYER * history->n_time + history->before[0];
    const double start = history->start[BRV_PROBE_LAYER] + (history->cooled ? history->cooled[row] : 0.0);
    return (own_criterion - start) / (criterion - start);
}

static void judge_range(struct brv_crowd_effect *effect, const struct crowd *crowd)
{
    const struct brv_watch *watch = &crowd->ask->watch;
    effect->least = effect->most = effect->here;
    for (size_t i = 0; i < BRV_N_CRITERION * BRV_N_SHADE; i++) {
        const double times =
            brv_crowd_otherwise(crowd->history, watch->criterion, brv_criteria[i / BRV_N_SHADE].temperature);
        const struct brv_disrupted other =
            disrupted_at(crowd, crowd->ask->beam.fluence * times, (enum brv_shade)(i % BRV_N_SHADE));
        if (other.share.number < effect->least.share.number) effect->least = other;
        if (other.share.number > effect->most.share.number) effect->most = other;
    }
}

/* Dark grains and a thin column for the low end, pale ones and a thick column for the high one; NAN, too little pigment,
 * is the same for all shades. */
static struct brv_spread judge_sign(const struct crowd *crowd)
{
    const double own = crowd->ask->watch.sign_column;
    const double thin = fmin(own, BRV_SIGN_LEAST), thick = fmax(own, BRV_SIGN_MOST);
    struct brv_spread sign = {sign_at(crowd, own, BRV_AS_DARK), sign_at(crowd, thin, BRV_AS_DARK),
                              sign_at(crowd, thick, BRV_AS_DARK)};
    for (enum brv_shade shade = BRV_PALER; shade < BRV_N_SHADE; shade++) {
        sign.low = fmin(sign.low, sign_at(crowd, thin, shade));
        sign.high = fmax(sign.high, sign_at(crowd, thick, shade));
    }
    return sign;
}

/* Where there is no pigment there is no share of it to tell. The curve is then of the one grain that is imagined, with
 * which the figures are drawn.                                                                                      */
static const struct brv_shares no_share = {(double)NAN, (double)NAN};

static void judge(struct brv_crowd_effect *effect, const struct crowd *crowd)
{
    effect->column = crowd->all.whole;
    effect->here = disrupted_at(crowd, crowd->ask->beam.fluence, BRV_AS_DARK);
    judge_range(effect, crowd);
    if (!(effect->column > 0.0)) effect->here.share = effect->least.share = effect->most.share = no_share;
    for (size_t i = 0; i < BRV_N_FLUENCE; i++)
        effect->curve[i] = disrupted_at(crowd, brv_effect_fluence(i), BRV_AS_DARK);
    effect->threshold_sign = judge_sign(crowd);
}

/* ---- all of it ---- */

static brv_status make_room(struct crowd *crowd, struct brv_error *error)
{
    const struct brv_crowd *grains = &crowd->history->crowd;
    const struct brv_grain *grain = &crowd->tissue->grain;
    crowd->nearness = brv_array_new(grains->n_size * BRV_N_DARKNESS);
    crowd->taken = brv_array_new(grains->n_size * BRV_N_DARKNESS);
    crowd->all.n_layer = grains->n_layer;
    memcpy(crowd->all.layer, grains->layer, sizeof grains->layer);
    crowd->all.near = brv_array_new(grains->n_layer * BRV_N_FINE * BRV_N_DARKNESS);
    crowd->all.uptake = brv_array_new(grains->n_layer * BRV_N_FINE * BRV_N_DARKNESS);
    crowd->rise = brv_array_new(crowd->history->n_time);
    crowd->pigment = brv_array_new(crowd->history->n_time);
    if (!crowd->nearness || !crowd->taken || !crowd->all.near || !crowd->all.uptake || !crowd->rise || !crowd->pigment)
        return brv_error_raise(error, BRV_MEMORY, "effect");
    return brv_population_build(&crowd->all.population, grain->darkness_spread, grain->diameter_spread, grains->n_size,
                                grains->size, error);
}

static void let_go_work(struct crowd *crowd)
{
    free(crowd->nearness);
    free(crowd->taken);
    free(crowd->rise);
    free(crowd->pigment);
}

static void let_go(struct crowd *crowd)
{
    let_go_work(crowd);
    brv_thresholds_free(&crowd->all);
}

/* From the rows of a history to the thresholds of all grains. */
static brv_status lay(struct crowd *crowd, const struct brv_light *light, struct brv_error *error)
{
    const brv_status status = make_room(crowd, error);
    if (status) return status;
    lay_gains(crowd, light);
    lay_columns(crowd);
    for (size_t layer = 0; layer < crowd->history->crowd.n_layer; layer++) lay_layer(crowd, layer);
    return BRV_OK;
}

brv_status brv_crowd_judge(struct brv_crowd_effect *effect, const struct brv_tissue *tissue,
                           const struct brv_light *light, const struct brv_history *history,
                           const struct brv_scenario *ask, struct brv_error *error)
{
    struct crowd crowd = {.tissue = tissue, .history = history, .ask = ask};
    const brv_status status = lay(&crowd, light, error);
    if (!status) judge(effect, &crowd);
    let_go(&crowd);
    return status;
}

brv_status brv_crowd_shares(double share[], size_t n, const double fluence[], const enum brv_shade shade[],
                            const struct brv_tissue *tissue, const struct brv_light *light,
                            const struct brv_history *history, const struct brv_scenario *ask, struct brv_error *error)
{
    struct crowd crowd = {.tissue = tissue, .history = history, .ask = ask};
    const brv_status status = lay(&crowd, light, error);
    for (size_t i = 0; i < n && !status; i++) share[i] = disrupted_at(&crowd, fluence[i], shade[i]).share.number;
    let_go(&crowd);
    return status;
}

brv_status brv_thresholds_lay(struct brv_thresholds *thresholds, const double left[], const struct brv_tissue *tissue,
                              const struct brv_light *light, const struct brv_history *history,
                              const struct brv_scenario *ask, struct brv_error *error)
{
    struct crowd crowd = {.tissue = tissue, .history = history, .ask = ask, .left = left};
    const brv_status status = lay(&crowd, light, error);
    let_go_work(&crowd);
    *thresholds = crowd.all;
    if (status) brv_thresholds_free(thresholds);
    return status;
}

void brv_thresholds_free(struct brv_thresholds *thresholds)
{
    free(thresholds->near);
    free(thresholds->uptake);
    *thresholds = (struct brv_thresholds){.n_layer = 0};
}
