#include "study/visits.h"

#include "base/constants.h"
#include "base/team.h"
#include "effect/effect_crowd.h"
#include "study/many.h"
#include "tissue/grain.h"

#include <math.h>
#include <stdbool.h>
#include <stdlib.h>

#define ALIKE  1e-13 /* of a share of pigment: nothing has changed, the light is that of the visit before */
#define HALVES 60    /* of a threshold */
#define REACH  12.0  /* a threshold is looked for so far about the fluence, in its logarithm */

enum { MOST_WAYS = (1 + BRV_N_CRITERION) * BRV_N_SHADE };

/* ---- the ways in which the visits are followed: as asked, and those that make low and high ---- */

struct way {
    enum brv_shade shade;
    double criterion; /* [K] */
    bool own;         /* the criterion asked for: it decides the sign */
    bool ranged;      /* it counts in low and high of what is not the sign, as in test spots */
};

static bool same(double one, double other)
{
    return !(one < other) && !(one > other);
}

static size_t lay_ways(struct way way[MOST_WAYS], double own)
{
    size_t n = 0;
    way[n++] = (struct way){BRV_AS_DARK, own, true, true};
    for (size_t i = 0; i < BRV_N_CRITERION; i++)
        for (enum brv_shade shade = BRV_AS_DARK; shade < BRV_N_SHADE; shade++) {
            const bool is_own = same(brv_criteria[i].temperature, own);
            if (!is_own || shade != BRV_AS_DARK)
                way[n++] = (struct way){shade, brv_criteria[i].temperature, is_own, true};
        }
    if (n == BRV_N_CRITERION * BRV_N_SHADE) return n;
    for (enum brv_shade shade = BRV_PALER; shade < BRV_N_SHADE; shade++)
        way[n++] = (struct way){shade, own, true, false};
    return n;
}

/* ---- one way through all visits ---- */

struct told {
    double share, before, after, darkness, column, light, threshold;
};

/* What is followed. Layers are counted as those that have grains, in `thresholds`. */
struct path {
    const struct brv_site *site;   /* the run of the first visit */
    const struct brv_scenario *as; /* the scenario with grains as dark as on this way */
    size_t which;
    double fluence;                /* with which the own criterion does what this way's does [J/m2] */
    struct brv_tissue tissue;      /* before the first visit, as dark as here */
    double uptake;                 /* of its grains, over the run's in the same light [1] */
    double first[BRV_MOST_LAYERS]; /* mean fluence by the kernel that follows, in the run's own skin [1] */
    double begin;                  /* light in the grain's layer at the first visit [1] */
    double away[BRV_MOST_VISITS + 1];
    struct brv_thresholds thresholds;
    struct brv_remains *remains;   /* [n_layer][n_fine] */
    double left[BRV_MOST_MEANS];   /* volume of the grains there, over that before the first visit [1] */
    double dark[BRV_MOST_MEANS];   /* their mean darkness [1] */
    double number[BRV_MOST_MEANS]; /* how many they are, likewise [1] */
    double gain[BRV_MOST_MEANS];   /* what a grain takes up, over the run [1] */
    double light;                  /* in the grain's layer, over the first visit [1] */
    bool solved;                   /* left[] and dark[] are those that light and thresholds were laid for */
};

/* Where there is no pigment, the followed grain's layer stands for itself. */
static double weight_of(const struct path *path, size_t layer)
{
    const struct brv_thresholds *all = &path->thresholds;
    return all->whole > 0.0 ? all->column[layer] / all->whole : 1.0 / (double)all->n_layer;
}

static struct brv_remains *remains_of(const struct path *path, size_t layer)
{
    return path->remains + layer * path->thresholds.population.n_fine;
}

/* What is there at visit `now`, of each layer. */
static void count_left(struct path *path, size_t now)
{
    const struct brv_population *grains = &path->thresholds.population;
    for (size_t i = 0; i < path->thresholds.n_layer; i++) {
        double number = 0.0, volume = 0.0, blackness = 0.0;
        for (size_t j = 0; j < grains->n_fine; j++) {
            const struct brv_missing missing =
                brv_remains_missing(remains_of(path, i) + j, grains, path->away, now, -(double)INFINITY);
            number += grains->number[j] * missing.grains;
            volume += grains->volume[j] * missing.grains;
            blackness += grains->volume[j] * missing.blackness;
        }
        const double left = fmax(1.0 - volume, 0.0), black = fmax(1.0 - blackness, 0.0);
        const double dark = left > 0.0 ? black / left : 1.0;
        path->solved &= fabs(left - path->left[i]) < ALIKE && fabs(left * (dark - path->dark[i])) < ALIKE;
        path->left[i] = left;
        path->dark[i] = dark;
        path->number[i] = fmax(1.0 - number, 0.0);
    }
}

/* What grains `dark` times as dark as this way's take up, over those [1]. */
static double taken_up(const struct path *path, double dark)
{
    const struct brv_grain *grain = &path->tissue.grain;
    return dark * brv_grain_shading(grain->absorption * dark * 2.0 * grain->radius) / grain->shading;
}

/* The skin that is there now: fewer and paler melanosomes, and the rest of the tissue in their place. */
static struct brv_tissue tissue_now(const struct path *path)
{
    struct brv_tissue tissue = path->tissue;
    for (size_t i = 0; i < path->thresholds.n_layer; i++) {
        struct brv_layer *layer = &tissue.layer[path->thresholds.layer[i]];
        const double blood = path->as->skin[path->which].layer[path->thresholds.layer[i]].blood;
        const double bloodless = 1.0 - layer->melanosomes - blood;
        if (!(layer->melanosomes > 0.0)) continue;
        layer->melanosomes *= path->left[i];
        layer->absorption_pigment *= path->left[i] * taken_up(path, path->dark[i]);
        if (bloodless > 0.0) layer->absorption_baseline *= (1.0 - layer->melanosomes - blood) / bloodless;
        layer->absorption =
            layer->absorption_pigment + layer->absorption_blood + layer->absorption_water + layer->absorption_baseline;
    }
    return tissue;
}

static brv_status solve_light(struct path *path, const struct brv_control *control, struct brv_error *error)
{
    const struct brv_tissue tissue = tissue_now(path);
    struct brv_light light;
    const brv_status status = brv_light_solve(&light, &tissue, &path->as->beam, control, error);
    if (status) return status;
    const double here = light.mean_fluence[tissue.grain.layer];
    if (!(path->begin > 0.0)) path->begin = here;
    path->light = path->begin > 0.0 ? here / path->begin : 1.0;
    for (size_t i = 0; i < path->thresholds.n_layer; i++) {
        const size_t layer = path->thresholds.layer[i];
        const double first = path->first[layer];
        path->gain[i] = path->uptake * (first > 0.0 ? light.mean_fluence[layer] / first : 1.0);
    }
    brv_light_free(&light);
    return BRV_OK;
}

/* Light and thresholds for what is there now. */
static brv_status lay(struct path *path, const struct brv_control *control, struct brv_error *error)
{
    double left[BRV_MOST_MEANS];
    if (path->solved) return BRV_OK;
    const brv_status status = solve_light(path, control, error);
    if (status) return status;
    for (size_t i = 0; i < path->thresholds.n_layer; i++) left[i] = path->left[i] * taken_up(path, path->dark[i]);
    brv_thresholds_free(&path->thresholds);
    path->solved = true;
    return brv_thresholds_lay(&path->thresholds, left, &path->site->tissue, &path->site->light, &path->site->history,
                              path->as, error);
}

static double edge_of(const struct path *path, size_t layer, size_t size, double fluence)
{
    const struct brv_thresholds *all = &path->thresholds;
    const size_t place = (layer * all->population.n_fine + size) * BRV_N_DARKNESS;
    return brv_population_critical(all->near + place, all->uptake + place, fluence * path->gain[layer]);
}

/* What a pulse of any fluence takes, by number and by volume, over what was there before the first visit. */
static struct brv_shares taken_at(const struct path *path, size_t now, double fluence)
{
    const struct brv_population *grains = &path->thresholds.population;
    struct brv_shares sum = {0.0, 0.0};
    for (size_t i = 0; i < path->thresholds.n_layer; i++)
        for (size_t j = 0; j < grains->n_fine; j++) {
            const double taken =
                brv_remains_taken(remains_of(path, i) + j, grains, path->away, now, edge_of(path, i, j, fluence));
            sum.number += weight_of(path, i) * grains->number[j] * taken;
            sum.volume += weight_of(path, i) * grains->volume[j] * taken;
        }
    return sum;
}

/* The fluence that takes the darkest of `there`. */
static double darkest_at(const struct path *path, size_t now, double there)
{
    double low = log(path->fluence) - REACH, high = log(path->fluence) + REACH;
    if (!(there > 0.0) || taken_at(path, now, exp(high)).number < BRV_DARKEST * there) return (double)NAN;
    for (int i = 0; i < HALVES; i++) {
        const double middle = 0.5 * (low + high);
        if (taken_at(path, now, exp(middle)).number >= BRV_DARKEST * there)
            high = middle;
        else
            low = middle;
    }
    return exp(high) * path->as->beam.fluence / path->fluence;
}

static brv_status visit(struct told *told, struct path *path, size_t now, const struct brv_control *control,
                        struct brv_error *error)
{
    double there = 0.0, blackness = 0.0;
    count_left(path, now);
    const brv_status status = lay(path, control, error);
    if (status) return status;
    *told = (struct told){.light = path->light};
    for (size_t i = 0; i < path->thresholds.n_layer; i++) {
        there += weight_of(path, i) * path->number[i];
        told->before += weight_of(path, i) * path->left[i];
        blackness += weight_of(path, i) * path->left[i] * path->dark[i];
    }
    const struct brv_shares taken = taken_at(path, now, path->fluence);
    told->share = there > 0.0 ? fmin(taken.number / there, 1.0) : 0.0;
    told->after = fmax(told->before - taken.volume, 0.0);
    told->darkness = told->before > 0.0 ? blackness / told->before : (double)NAN;
    told->column = path->thresholds.whole * taken.volume;
    told->threshold = darkest_at(path, now, there);
    if (!(path->thresholds.whole > 0.0)) /* there is nothing to be a share of */
        told->share = told->before = told->after = told->darkness = told->threshold = (double)NAN;
    for (size_t i = 0; i < path->thresholds.n_layer; i++)
        for (size_t j = 0; j < path->thresholds.population.n_fine; j++)
            brv_remains_take(remains_of(path, i) + j, now, edge_of(path, i, j, path->fluence));
    return BRV_OK;
}

/* The run's own light; of a walk of photons, that of the kernel for spots in the same skin. */
static brv_status find_first(struct path *path, const struct brv_scenario *ask, const struct brv_control *control,
                             struct brv_error *error)
{
    struct brv_light light;
    for (size_t i = 0; i < path->tissue.n_layer; i++) path->first[i] = path->site->light.mean_fluence[i];
    if (ask->beam.method != BRV_METHOD_SAMPLED) return BRV_OK;
    const brv_status status = brv_light_solve(&light, &path->site->tissue, &path->as->beam, control, error);
    if (status) return status;
    for (size_t i = 0; i < path->tissue.n_layer; i++) path->first[i] = light.mean_fluence[i];
    brv_light_free(&light);
    return BRV_OK;
}

static struct brv_scenario as_dark(const struct brv_scenario *ask, size_t which, enum brv_shade shade)
{
    const double times = shade == BRV_PALER ? BRV_DARKNESS_LOW : shade == BRV_DARKER ? BRV_DARKNESS_HIGH : 1.0;
    struct brv_scenario copy = *ask;
    copy.skin[which].grain.darkness *= times;
    copy.skin[which].grain.absorption *= times;
    if (copy.beam.method == BRV_METHOD_SAMPLED) copy.beam.method = BRV_METHOD_SPOT;
    return copy;
}

static brv_status begin(struct path *path, const struct way *way, const struct brv_scenario *ask,
                        const struct brv_control *control, struct brv_error *error)
{
    const struct brv_grain *own = &path->site->tissue.grain, *grain = &path->tissue.grain;
    brv_tissue_resolve(&path->tissue, path->as, path->which);
    path->uptake = grain->absorption * grain->shading / (own->absorption * own->shading);
    path->fluence =
        ask->beam.fluence * brv_crowd_otherwise(&path->site->history, path->site->effect.criterion, way->criterion);
    brv_remains_away(path->away, ask->visits.returns);
    brv_status status = find_first(path, ask, control, error);
    if (!status)
        status = brv_thresholds_lay(&path->thresholds, NULL, &path->site->tissue, &path->site->light,
                                    &path->site->history, path->as, error);
    if (status) return status;
    path->remains = calloc(path->thresholds.n_layer * path->thresholds.population.n_fine, sizeof *path->remains);
    return path->remains ? BRV_OK : brv_error_raise(error, BRV_MEMORY, "visits");
}

struct work {
    const struct brv_result *result;
    size_t n_way;
    struct way way[MOST_WAYS];
    struct told *told; /* [BRV_N_SITE][n_way][BRV_MOST_VISITS] */
    const struct brv_control *control;
};

static brv_status follow(void *context, size_t item, struct brv_error *error)
{
    const struct work *work = context;
    const struct way *way = &work->way[item % work->n_way];
    const size_t which = item / work->n_way, n = (size_t)work->result->ask.visits.count;
    const struct brv_control alone = {.threads = 1, .stop = work->control ? work->control->stop : NULL};
    const struct brv_scenario as = as_dark(&work->result->ask, which, way->shade);
    struct path path = {.site = &work->result->site[which], .as = &as, .which = which};
    brv_status status = begin(&path, way, &work->result->ask, &alone, error);
    for (size_t k = 0; k < n && !status; k++)
        status = visit(&work->told[item * BRV_MOST_VISITS + k], &path, k + 1, &alone, error);
    free(path.remains);
    brv_thresholds_free(&path.thresholds);
    return status;
}

/* ---- low and high ---- */

static struct brv_spread sharp(double value)
{
    return (struct brv_spread){value, value, value};
}

static void widen(struct brv_spread *spread, double value)
{
    spread->low = fmin(spread->low, value);
    spread->high = fmax(spread->high, value);
}

/* In the way of test spots: none where not even the thin column is reached on any way by the own criterion, a sign where
 * the thick one is on all of them.                                                                                   */
static enum brv_sign sign_of(const struct work *work, const struct told *told, double own)
{
    double least = INFINITY, most = 0.0;
    for (size_t i = 0; i < work->n_way; i++) {
        if (!work->way[i].own) continue;
        least = fmin(least, told[i * BRV_MOST_VISITS].column);
        most = fmax(most, told[i * BRV_MOST_VISITS].column);
    }
    if (most < fmin(own, BRV_SIGN_LEAST)) return BRV_SIGN_NONE;
    return least >= fmax(own, BRV_SIGN_MOST) ? BRV_SIGN_SEEN : BRV_SIGN_UNSURE;
}

/* told[way] of one site and visit, BRV_MOST_VISITS apart. */
static void read_site(struct brv_visit_site *at, const struct work *work, const struct told *told)
{
    *at = (struct brv_visit_site){sharp(told->share),  sharp(told->before),
                                  sharp(told->after),  sharp(told->darkness),
                                  sharp(told->column), sign_of(work, told, work->result->ask.watch.sign_column),
                                  sharp(told->light),  sharp(told->threshold)};
    for (size_t i = 0; i < work->n_way; i++) {
        const struct told *other = &told[i * BRV_MOST_VISITS];
        if (!work->way[i].ranged) continue;
        widen(&at->share, other->share);
        widen(&at->before, other->before);
        widen(&at->after, other->after);
        widen(&at->darkness, other->darkness);
        widen(&at->column, other->column);
        widen(&at->light, other->light);
        widen(&at->threshold, other->threshold);
    }
}

static void read_all(struct brv_visits *visits, const struct work *work)
{
    const struct brv_scenario *ask = &visits->result.ask;
    visits->n = (size_t)ask->visits.count;
    for (size_t k = 0; k < visits->n; k++) {
        struct brv_visit *at = &visits->visit[k];
        at->pulses = (double)((k + 1) * brv_pulse_total(&ask->pulse));
        at->fluence = at->pulses * ask->beam.fluence;
        for (size_t site = 0; site < BRV_N_SITE; site++)
            read_site(&at->site[site], work, &work->told[site * work->n_way * BRV_MOST_VISITS + k]);
    }
}

brv_status brv_visits_solve(struct brv_visits *visits, const struct brv_scenario *ask,
                            const struct brv_control *control, struct brv_error *error)
{
    struct work work = {.result = &visits->result, .control = control};
    *visits = (struct brv_visits){.n = 0};
    brv_status status = brv_many_solve(&visits->result, 1, ask, BRV_WITH_SPREADS, control, error);
    if (status) return status;
    work.n_way = lay_ways(work.way, visits->result.site[BRV_LESION].effect.criterion);
    work.told = calloc(BRV_N_SITE * work.n_way * BRV_MOST_VISITS, sizeof *work.told);
    if (work.told)
        status = brv_team_run(BRV_N_SITE * work.n_way, control ? control->threads : 0, follow, &work, error);
    else
        status = brv_error_raise(error, BRV_MEMORY, "visits");
    if (!status) read_all(visits, &work);
    free(work.told);
    if (status) brv_visits_free(visits);
    return status;
}

void brv_visits_free(struct brv_visits *visits)
{
    brv_run_free(&visits->result);
    visits->n = 0;
}
