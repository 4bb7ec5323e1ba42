#include "effect/effect_warmth.h"

#include "base/array.h"
#include "base/constants.h"

#include <gsl/gsl_errno.h>
#include <gsl/gsl_roots.h>
#include <math.h>
#include <stdlib.h>

#define GUESS    (70.0 + BRV_ZERO_C) /* the search begins where a place gets this warm [K] */
#define STRIDE   0.5                 /* of the logarithm of the factor, until the root is between two */
#define STRIDES  80
#define LEAST    (-1e3) /* stands for no damage at all: a root finder cannot use -INFINITY */
#define CLOSE    1e-9   /* of ln Omega */
#define CLOSEST  1e-15  /* of the logarithm of the factor: no two numbers are closer */
#define TOO_MANY 200

enum { AS_IT_IS = 2 };

static const struct brv_scaling as_it_is = {1.0, 1.0, NULL};

/* What the places have in common. */
struct site {
    const struct brv_tissue *tissue;
    const struct brv_light *light;
    const struct brv_scenario *ask;
};

/* One place and its rates. */
struct place {
    const struct brv_history *history;
    const struct brv_damage_pair *pair;
    size_t probe;
    struct brv_scaling scaling;
    double *kelvin; /* [n_time] room */
};

static double temperature_of(const struct place *place, size_t row, double factor)
{
    const struct brv_history *history = place->history;
    const size_t here = place->probe * history->n_time + row;
    return history->start[place->probe] + factor * brv_history_scaled(history, place->probe, row, place->scaling) +
           (history->cooled ? history->cooled[here] : 0.0);
}

static double log_omega(double log_factor, void *context)
{
    const struct place *place = context;
    const struct brv_history *history = place->history;
    const double factor = exp(log_factor);
    for (size_t i = 0; i < history->n_time; i++) place->kelvin[i] = temperature_of(place, i, factor);
    return fmax(brv_damage_log(place->pair, history->n_time, history->time, history->since, place->kelvin), LEAST);
}

/* The root between `low` and `high`, whose values have different signs. Pieces of a history come in whole numbers, so
 * ln Omega has leaps of a millionth; the side above 0 is taken should the root lie in one.                           */
static brv_status close_in(double *root, double low, double high, struct place *place, struct brv_error *error)
{
    gsl_function function = {log_omega, place};
    gsl_root_fsolver *solver = gsl_root_fsolver_alloc(gsl_root_fsolver_brent);
    if (!solver) return brv_error_raise(error, BRV_MEMORY, "effect");
    int trouble = gsl_root_fsolver_set(solver, &function, low, high);
    for (int i = 0; i < TOO_MANY && !trouble; i++) {
        trouble = gsl_root_fsolver_iterate(solver);
        *root = gsl_root_fsolver_root(solver);
        const double from = gsl_root_fsolver_x_lower(solver), to = gsl_root_fsolver_x_upper(solver);
        if (fabs(log_omega(*root, place)) < CLOSE) break;
        *root = to;
        if (to - from < CLOSEST * fmax(fabs(to), 1.0)) break;
    }
    gsl_root_fsolver_free(solver);
    return trouble ? brv_error_raise(error, BRV_NUMERICS, "fluence of damage by warmth") : BRV_OK;
}

/* The factor of one place: see struct brv_warmth. */
static brv_status find(double *factor, struct place *place, struct brv_error *error)
{
    const double guess = brv_history_factor(place->history, place->probe, place->scaling, GUESS);
    *factor = guess > 0.0 ? (double)NAN : guess;
    if (!(guess > 0.0)) return BRV_OK;
    double low = log(guess), high = low;
    const bool above = log_omega(low, place) > 0.0;
    for (int i = 0; i < STRIDES; i++) {
        if (above)
            low = high - STRIDE;
        else
            high = low + STRIDE;
        if ((log_omega(above ? low : high, place) > 0.0) != above) {
            const brv_status status = close_in(factor, low, high, place, error);
            *factor = exp(*factor);
            return status;
        }
        if (above)
            high = low;
        else
            low = high;
    }
    if (above) *factor = 0.0;
    return BRV_OK;
}

static double hottest_at_end(const struct brv_history *history, double factor)
{
    double most = 0.0;
    for (size_t probe = BRV_PROBE_LAYER; probe < history->n_probe; probe++) {
        const struct place place = {.history = history, .probe = probe, .scaling = as_it_is};
        most = fmax(most, temperature_of(&place, history->n_time - 1, factor));
    }
    return most;
}

/* Nothing gets hotter than the hottest there is and than what it touches. */
static double rest_of(const struct brv_history *history, const struct brv_scenario *ask, double factor, double until)
{
    const double end = history->time[history->n_time - 1];
    double kelvin = fmax(hottest_at_end(history, factor), ask->surface.core), most = -(double)INFINITY;
    if (brv_heat_draws(ask)) kelvin = fmax(kelvin, ask->surface.outside_temperature);
    const double time[] = {0.0, fmax(until - end, 0.0)}, same[] = {kelvin, kelvin};
    for (size_t i = 0; i < BRV_N_DAMAGE_TISSUE; i++)
        most = fmax(most, brv_damage_log(&brv_damage_pairs[ask->watch.damage][i], 2, time, time, same));
    return most;
}

/* The least factor of all places, and where; `k` as in brv_effect_scaling, or AS_IT_IS. */
static brv_status least_of(double *least, size_t *where, struct place *place, const struct site *site, size_t k,
                           struct brv_error *error)
{
    const struct brv_history *history = place->history;
    brv_status status = BRV_OK;
    *least = (double)NAN;
    *where = BRV_NO_PROBE;
    for (place->probe = BRV_PROBE_LAYER; place->probe < history->n_probe && !status; place->probe++) {
        double factor;
        if (place->probe == history->film) continue; /* it is no tissue */
        place->pair = brv_effect_rates(site->tissue, site->light, history, place->probe, site->ask->watch.damage);
        place->scaling =
            k == AS_IT_IS ? as_it_is : brv_effect_scaling(site->tissue, site->light, history, place->probe, k);
        if (*least > 0.0 && log_omega(log(*least), place) <= CLOSE) continue; /* another is worse */
        if (*least <= 0.0) break;
        status = find(&factor, place, error);
        if (status || !(factor >= 0.0)) continue;
        *least = factor;
        *where = factor > 0.0 ? place->probe : BRV_NO_PROBE;
    }
    return status;
}

/* Of the place that is found, with its factor. */
static bool illustrates(const struct brv_warmth *warmth, struct place *place, const struct site *site)
{
    const struct brv_history *history = place->history;
    const double none = -(double)INFINITY;
    if (isnan(warmth->factor)) return brv_effect_illustrates(site->ask, none, none);
    if (!(warmth->factor > 0.0)) return false;
    place->probe = warmth->probe;
    place->scaling = as_it_is;
    place->pair = brv_effect_rates(site->tissue, site->light, history, place->probe, site->ask->watch.damage);
    const double all = log_omega(log(warmth->factor), place); /* lays the temperatures, too */
    return brv_effect_illustrates(site->ask, all,
                                  brv_damage_lasting(place->pair, history->n_time, history->time, history->since,
                                                     place->kelvin, brv_effect_brief(site->ask)));
}

brv_status brv_warmth_judge(struct brv_warmth *warmth, const struct brv_tissue *tissue, const struct brv_light *light,
                            const struct brv_history *history, const struct brv_scenario *ask, double until,
                            struct brv_error *error)
{
    const struct site site = {tissue, light, ask};
    struct place place = {.history = history, .kelvin = brv_array_new(history->n_time)};
    double paler, darker;
    size_t elsewhere;
    *warmth = (struct brv_warmth){.factor = (double)NAN, .probe = BRV_NO_PROBE, .rest = -(double)INFINITY};
    if (!place.kelvin) return brv_error_raise(error, BRV_MEMORY, "effect");
    brv_status status = least_of(&warmth->factor, &warmth->probe, &place, &site, AS_IT_IS, error);
    if (!status) status = least_of(&paler, &elsewhere, &place, &site, 0, error);
    if (!status) status = least_of(&darker, &elsewhere, &place, &site, 1, error);
    if (!status) warmth->illustrative = illustrates(warmth, &place, &site);
    free(place.kelvin);
    if (status) return status;
    warmth->low = fmin(warmth->factor, fmin(paler, darker));
    warmth->high = fmax(warmth->factor, fmax(paler, darker));
    if (warmth->factor > 0.0) warmth->rest = rest_of(history, ask, warmth->factor, until);
    return BRV_OK;
}
