#include "study/window.h"

#include "base/array.h"
#include "base/constants.h"
#include "base/team.h"
#include "effect/confinement.h"
#include "effect/effect_crowd.h"
#include "effect/effect_warmth.h"
#include "heat/heat_beside.h"
#include "light/light_sensitivity.h"
#include "scenario/keys.h"

#include <math.h>
#include <stdatomic.h>
#include <stdlib.h>
#include <string.h>

#define AFTERWARDS 10e-3 /* from the end of the pulse: grains and thin layers have long passed their peaks [s] */
#define LASTING    10.0  /* likewise, for what stays warm [s] */
#define ALMOST     0.999 /* of the time at which heat begins to leave sideways */
#define LONG_PART  0.1   /* of that time: longer pulses leave warmth that lasts */
#define LEAST_REST 1e-3  /* of Omega: growth that is let go; a threshold then lies 1e-4 too high at most */

#define BESIDE 1.4 /* so much room is left beside the outermost of the map */

enum { FINE = 4, N_CURVE = FINE * (BRV_N_FLUENCE - 1) + 1 }; /* parts of a step of the curve of shares ... */
#define LEAP 0.05                                            /* ... where more grains than this share a step */

const double brv_window_shares[BRV_N_WINDOW_SHARE] = {0.05, 0.5, 0.95};

struct work {
    const struct brv_scenario *ask;
    const struct brv_control *control;
    struct brv_window *window;
    struct brv_tissue tissue[BRV_N_SITE];
    struct brv_light light[BRV_N_SITE];
    atomic_uint_fast64_t done; /* runs */
    double *curve;             /* [n_width][BRV_N_SITE][N_CURVE] shares by number, as finely as contours are read [1] */
};

/* ---- widths and their scenarios ---- */

void brv_window_widths(double width[], size_t n)
{
    const struct brv_key *key = &brv_keys[brv_key_find(BRV_SCOPE_PULSE, "pulse")];
    const double decades = log10(key->most / key->least);
    for (size_t i = 0; i < n; i++)
        width[i] = i + 1 < n ? key->least * pow(10.0, decades * (double)i / (double)(n - 1)) : key->most;
}

struct brv_scenario brv_window_scenario(const struct brv_scenario *ask, double width, double until)
{
    struct brv_scenario copy = *ask;
    copy.pulse.width = width;
    copy.pulse.count = copy.pulse.passes = 1.0;
    copy.pulse.given &= ~brv_key_bit((size_t)brv_key_find(BRV_SCOPE_PULSE, "rate"));
    copy.pulse.given &= ~brv_key_bit((size_t)brv_key_find(BRV_SCOPE_PULSE, "pause"));
    copy.watch.until = until;
    /* Without a word of its own it lies there until the curves end. */
    const bool stays = !brv_key_given(&ask->surface, BRV_SCOPE_SURFACE, "to");
    copy.surface.to = stays ? until : fmin(ask->surface.to, until);
    return copy;
}

static double window_of(const struct brv_scenario *ask, double width)
{
    const struct brv_pulse pulse = {.shape = ask->pulse.shape, .width = width};
    return brv_pulse_window(&pulse);
}

/* To the end. */
static double late(const struct brv_scenario *ask, double width)
{
    return fmin(fmax(ask->watch.until, window_of(ask, width) + LASTING), brv_scenario_longest());
}

/* When heat begins to leave sideways, which takes a disc to follow: heat/heat_beside.h [s]. */
static double sideways(const struct brv_scenario *ask, const struct brv_tissue *tissue)
{
    const struct brv_layer *deepest = &tissue->layer[tissue->n_layer - 1];
    const double way = brv_beside_part(&ask->beam) * ask->beam.spot;
    return way * way * deepest->heat_capacity / (4.0 * deepest->conductivity);
}

/* Briefly: as long as nothing leaves sideways. To the end for pulses that take up much of this time, and when something
 * is laid on the skin after it.                                                                                      */
static double brief(const struct brv_scenario *ask, const struct brv_tissue *tissue, double width)
{
    const double pulse = window_of(ask, width), free = ALMOST * sideways(ask, tissue), end = late(ask, width);
    const bool laid_on_later = brv_surface_changes(ask) && ask->surface.from >= free;
    return pulse > LONG_PART * free || pulse + AFTERWARDS > free || laid_on_later ? end : fmin(free, end);
}

/* ---- one width in one skin ---- */

/* What one width means in one skin. */
struct meaning {
    struct brv_effect effect;
    struct brv_warmth warmth;
    double between[FINE][BRV_N_FLUENCE]; /* [part] shares at fluences so many parts of a step further [1] */
};

/* Does the curve leap where it is to be read? */
static bool leaps(const struct brv_crowd_effect *crowd)
{
    for (size_t k = 0; k < BRV_N_WINDOW_SHARE; k++)
        for (size_t i = 1; i < BRV_N_FLUENCE; i++) {
            const double one = crowd->curve[i - 1].share.number, two = crowd->curve[i].share.number;
            if (one < brv_window_shares[k] && two >= brv_window_shares[k] && two - one > LEAP) return true;
        }
    return false;
}

/* Shares between the fluences of the curve: with thresholds counted in a smaller unit, the same fluences are others. */
static brv_status refine(struct meaning *meaning, const struct brv_tissue *tissue, const struct brv_light *light,
                         const struct brv_history *history, const struct brv_scenario *copy, struct brv_error *error)
{
    const struct brv_crowd_effect *own = &meaning->effect.crowd;
    const bool wanted = leaps(own);
    for (size_t part = 0; part < FINE; part++) {
        const double further = pow(brv_effect_fluence(1) / brv_effect_fluence(0), (double)part / FINE);
        struct brv_crowd_effect crowd = *own;
        struct brv_scenario other = *copy;
        other.beam.fluence /= further;
        if (wanted && part > 0) {
            const brv_status status = brv_crowd_judge(&crowd, tissue, light, history, &other, error);
            if (status) return status;
        }
        for (size_t i = 0; i < BRV_N_FLUENCE; i++) {
            const double two = own->curve[i + 1 < BRV_N_FLUENCE ? i + 1 : i].share.number,
                         one = own->curve[i].share.number;
            meaning->between[part][i] = wanted ? crowd.curve[i].share.number : one + (two - one) * (double)part / FINE;
        }
    }
    return BRV_OK;
}

static brv_status judge(struct work *work, struct meaning *meaning, const struct brv_scenario *copy, size_t site,
                        double until, struct brv_error *error)
{
    const struct brv_tissue *tissue = &work->tissue[site];
    const struct brv_light *light = &work->light[site];
    struct brv_history history;
    struct brv_audit audit;
    brv_status status = brv_heat_run(&history, &audit, tissue, light, copy, error);
    if (status) return status;
    status = brv_effect_judge(&meaning->effect, tissue, light, &history, &audit, copy, error);
    if (!status) status = brv_warmth_judge(&meaning->warmth, tissue, light, &history, copy, until, error);
    if (!status) status = refine(meaning, tissue, light, &history, copy, error);
    brv_history_free(&history);
    return status;
}

/* Briefly, and to the end where that is not enough. */
static brv_status answer(struct work *work, struct meaning *meaning, double width, size_t site, struct brv_error *error)
{
    const double end = late(work->ask, width);
    double until = brief(work->ask, &work->tissue[site], width);
    for (;; until = end) {
        const struct brv_scenario copy = brv_window_scenario(work->ask, width, until);
        const brv_status status = judge(work, meaning, &copy, site, end, error);
        if (status || until >= end || !(meaning->warmth.rest > log(LEAST_REST))) return status;
    }
}

/* Without it the curve is of the one grain that is imagined, and no share of any. */
static bool has_pigment(const struct brv_effect *effect)
{
    return effect->crowd.column > 0.0;
}

/* The fluence at which a share of the grains is disrupted; the curve never falls. */
static double contour(const struct meaning *meaning, double share)
{
    const size_t end = (BRV_N_FLUENCE - 1) * FINE;
    size_t i = 0;
    while (i <= end && meaning->between[i % FINE][i / FINE] < share) i++;
    if (i == 0 || i > end) return (double)NAN;
    const double one = meaning->between[(i - 1) % FINE][(i - 1) / FINE], two = meaning->between[i % FINE][i / FINE];
    const double place = (double)(i - 1) + (share - one) / (two - one);
    return BRV_LEAST_FLUENCE * pow(10.0, place / (FINE * BRV_FLUENCE_DECADE));
}

static struct brv_window_point point_of(const struct meaning *meaning, double fluence)
{
    const struct brv_effect *effect = &meaning->effect;
    struct brv_window_point point = {
        .there = true,
        .grain = effect->threshold_grain,
        .sign = effect->crowd.threshold_sign,
        .damage = {fluence * meaning->warmth.factor, fluence * meaning->warmth.low, fluence * meaning->warmth.high},
        .illustrative = meaning->warmth.illustrative};
    for (size_t k = 0; k < BRV_N_WINDOW_SHARE; k++)
        point.share[k] = has_pigment(effect) ? contour(meaning, brv_window_shares[k]) : (double)NAN;
    return point;
}

static struct brv_window_point nowhere(void)
{
    const double none = (double)NAN;
    struct brv_window_point point = {
        .there = false, .grain = {none, none, none}, .sign = {none, none, none}, .damage = {none, none, none}};
    for (size_t k = 0; k < BRV_N_WINDOW_SHARE; k++) point.share[k] = none;
    return point;
}

/* A walk of photons was told already, and in photons. */
static void tell(struct work *work)
{
    const struct brv_control *control = work->control;
    const uint64_t done = atomic_fetch_add(&work->done, 1) + 1;
    if (control && control->progress && work->ask->beam.method != BRV_METHOD_SAMPLED)
        control->progress(control->context, done, work->window->n_width * BRV_N_SITE, (double)NAN);
}

/* Long pulses take longest: they come first. */
static brv_status solve_one(void *context, size_t item, struct brv_error *error)
{
    struct work *work = context;
    struct brv_window *window = work->window;
    const size_t i = window->n_width - 1 - item / BRV_N_SITE, site = item % BRV_N_SITE;
    double *curve = work->curve + (i * BRV_N_SITE + site) * N_CURVE;
    struct brv_window_point *point = &window->point[i * BRV_N_SITE + site];
    struct meaning meaning;
    if (!point->there) return BRV_OK;
    const brv_status status = answer(work, &meaning, window->width[i], site, error);
    if (status) return status;
    for (size_t k = 0; k < N_CURVE; k++)
        curve[k] = has_pigment(&meaning.effect) ? meaning.between[k % FINE][k / FINE] : (double)NAN;
    *point = point_of(&meaning, work->ask->beam.fluence);
    tell(work);
    return BRV_OK;
}

/* ---- before and after ---- */

static brv_status make_room(struct work *work, size_t n_width, const double width[], size_t n_fluence,
                            struct brv_error *error)
{
    struct brv_window *window = work->window;
    *window = (struct brv_window){.n_width = n_width,
                                  .n_fluence = n_fluence,
                                  .width = brv_array_new(n_width),
                                  .point = calloc(n_width * BRV_N_SITE + 1, sizeof *window->point),
                                  .fluence = brv_array_new(n_fluence),
                                  .share = brv_array_new(n_width * n_fluence * BRV_N_SITE)};
    work->curve = brv_array_new(n_width * BRV_N_SITE * N_CURVE);
    if (!window->width || !window->point || !window->fluence || !window->share || !work->curve)
        return brv_error_raise(error, BRV_MEMORY, "window");
    memcpy(window->width, width, n_width * sizeof *width);
    return BRV_OK;
}

/* Which widths can be asked; nothing is solved for the others. */
static void check_widths(struct work *work)
{
    struct brv_window *window = work->window;
    for (size_t i = 0; i < window->n_width; i++) {
        const double width = window->width[i];
        const struct brv_scenario copy = brv_window_scenario(work->ask, width, late(work->ask, width));
        struct brv_error fault = {.place = ""};
        const bool sound = brv_scenario_check(&copy, &fault, 1) == 0;
        for (size_t site = 0; site < BRV_N_SITE; site++) {
            window->point[i * BRV_N_SITE + site] = nowhere();
            window->point[i * BRV_N_SITE + site].there = sound;
        }
        if (!sound && window->n_left_out++ == 0) window->fault = fault;
    }
}

static brv_status solve_light(void *context, size_t site, struct brv_error *error)
{
    struct work *work = context;
    const bool walk = work->ask->beam.method == BRV_METHOD_SAMPLED;
    const struct brv_control alone = {.threads = 1};
    const struct brv_control *control = walk ? work->control : &alone;
    brv_tissue_resolve(&work->tissue[site], work->ask, site);
    const brv_status status =
        brv_light_solve(&work->light[site], &work->tissue[site], &work->ask->beam, control, error);
    return status ? status : brv_light_sense(&work->light[site], work->ask, site, control, error);
}

/* Marks that do not depend on the pulse. */
static brv_status mark(struct work *work, struct brv_error *error)
{
    for (size_t site = 0; site < BRV_N_SITE; site++) {
        const double diameter = 2.0 * work->tissue[site].grain.radius;
        struct brv_cooling cooling;
        const brv_status status = brv_heat_relax(&cooling, &work->tissue[site], error);
        if (status) return status;
        work->window->site[site] =
            (struct brv_window_site){diameter, cooling.mean_efold, brv_confinement_time(diameter, BRV_SOUND_SPEED),
                                     isinf(work->tissue[site].grain.cell_radius) != 0};
    }
    return BRV_OK;
}

static double share_at(const double curve[N_CURVE], double fluence)
{
    const double place = FINE * BRV_FLUENCE_DECADE * log10(fluence / BRV_LEAST_FLUENCE);
    const double inside = fmin(fmax(place, 0.0), N_CURVE - 1.0);
    const size_t i = (size_t)fmin(inside, N_CURVE - 2.0);
    return curve[i] + (inside - (double)i) * (curve[i + 1] - curve[i]);
}

/* Whole decades around all shares and the scenario's own fluence, within those of the curves. */
static void lay_fluences(struct brv_window *window, double own)
{
    double least = own, most = own;
    for (size_t i = 0; i < window->n_width * BRV_N_SITE; i++) {
        const struct brv_window_point *point = &window->point[i];
        const bool bare =
            isnan(point->share[BRV_WINDOW_HALF]) && point->damage.value > 0.0; /* no pigment: harm is left */
        least = fmin(least, bare ? point->damage.value : point->share[0]);     /* fmin and fmax leave NAN aside */
        most = fmax(most, bare ? point->damage.value : point->share[BRV_N_WINDOW_SHARE - 1]);
    }
    const double end = brv_effect_fluence(BRV_N_FLUENCE - 1);
    const double from = fmin(fmax(pow(10.0, floor(log10(least / BESIDE))), BRV_LEAST_FLUENCE), 0.1 * end);
    const double to = fmin(fmax(pow(10.0, ceil(log10(BESIDE * most))), 10.0 * from), end);
    for (size_t k = 0; k < window->n_fluence; k++)
        window->fluence[k] =
            k + 1 < window->n_fluence ? from * pow(to / from, (double)k / (double)(window->n_fluence - 1)) : to;
}

static void lay_map(struct work *work)
{
    struct brv_window *window = work->window;
    for (size_t i = 0; i < window->n_width; i++)
        for (size_t k = 0; k < window->n_fluence; k++)
            for (size_t site = 0; site < BRV_N_SITE; site++) {
                const size_t place = i * BRV_N_SITE + site;
                window->share[(i * window->n_fluence + k) * BRV_N_SITE + site] =
                    window->point[place].there ? share_at(work->curve + place * N_CURVE, window->fluence[k])
                                               : (double)NAN;
            }
}

/* ---- all of it ---- */

brv_status brv_window_solve(struct brv_window *window, const struct brv_scenario *ask, size_t n_width,
                            const double width[], size_t n_fluence, const struct brv_control *control,
                            struct brv_error *error)
{
    const unsigned threads = control ? control->threads : 0;
    const bool walk = ask->beam.method == BRV_METHOD_SAMPLED; /* which shares its own threads */
    struct work work = {.ask = ask, .control = control, .window = window};
    brv_status status = make_room(&work, n_width, width, n_fluence, error);
    if (!status) status = brv_team_run(BRV_N_SITE, walk ? 1 : threads, solve_light, &work, error);
    if (!status) status = mark(&work, error);
    if (!status) {
        check_widths(&work);
        status = brv_team_run(n_width * BRV_N_SITE, threads, solve_one, &work, error);
    }
    if (!status) {
        lay_fluences(window, ask->beam.fluence);
        lay_map(&work);
    }
    for (size_t site = 0; site < BRV_N_SITE; site++) brv_light_free(&work.light[site]);
    free(work.curve);
    if (status) brv_window_free(window);
    return status;
}

/* ---- reading ---- */

/* A 0 has no logarithm: it stands for skin that is burnt without a pulse, and holds up to the next width that is not. */
static double between(double one, double two, double part)
{
    if (one <= 0.0 || two <= 0.0) return 0.0;
    return one * pow(two / one, part); /* NAN where one of them is */
}

static struct brv_spread spread_between(const struct brv_spread *one, const struct brv_spread *two, double part)
{
    return (struct brv_spread){between(one->value, two->value, part), between(one->low, two->low, part),
                               between(one->high, two->high, part)};
}

struct brv_window_point brv_window_at(const struct brv_window *window, size_t site, double width)
{
    if (window->n_width == 1) return window->point[site];
    const size_t i = brv_array_interval(window->width, window->n_width - 1, width);
    const struct brv_window_point *one = &window->point[i * BRV_N_SITE + site], *two = one + BRV_N_SITE;
    const double part = log(width / window->width[i]) / log(window->width[i + 1] / window->width[i]);
    if (part <= 0.0) return *one; /* neither is asked for a value that it has */
    if (part >= 1.0) return *two;
    struct brv_window_point point = {.there = one->there && two->there,
                                     .grain = spread_between(&one->grain, &two->grain, part),
                                     .sign = spread_between(&one->sign, &two->sign, part),
                                     .damage = {between(one->damage.value, two->damage.value, part),
                                                between(one->damage.low, two->damage.low, part),
                                                between(one->damage.high, two->damage.high, part)},
                                     .illustrative = one->illustrative && two->illustrative};
    for (size_t k = 0; k < BRV_N_WINDOW_SHARE; k++) point.share[k] = between(one->share[k], two->share[k], part);
    return point;
}

void brv_window_free(struct brv_window *window)
{
    free(window->width);
    free(window->point);
    free(window->fluence);
    free(window->share);
    *window = (struct brv_window){.n_width = 0};
}
