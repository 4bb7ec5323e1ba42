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

/* One place and its rates. */
struct place {
    const struct brv_history *history;
    const struct brv_damage_pair *pair;
    size_t probe;
    double *kelvin; /* [n_time] room */
};

static double temperature_of(const struct place *place, size_t row, double factor)
{
    const struct brv_history *history = place->history;
    const size_t here = place->probe * history->n_time + row;
    return history->start[place->probe] + factor * history->rise[here] +
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
    const double guess = brv_history_factor(place->history, place->probe, (struct brv_scaling){1.0, 1.0}, GUESS);
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
        const struct place place = {.history = history, .probe = probe};
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

brv_status brv_warmth_judge(struct brv_warmth *warmth, const struct brv_tissue *tissue, const struct brv_light *light,
                            const struct brv_history *history, const struct brv_scenario *ask, double until,
                            struct brv_error *error)
{
    struct place place = {.history = history, .kelvin = brv_array_new(history->n_time)};
    brv_status status = BRV_OK;
    *warmth = (struct brv_warmth){(double)NAN, BRV_NO_PROBE, -(double)INFINITY};
    if (!place.kelvin) return brv_error_raise(error, BRV_MEMORY, "effect");
    for (place.probe = BRV_PROBE_LAYER; place.probe < history->n_probe && !status; place.probe++) {
        double factor;
        place.pair = brv_effect_rates(tissue, light, history, place.probe, ask->watch.damage);
        if (warmth->factor > 0.0 && log_omega(log(warmth->factor), &place) <= CLOSE) continue; /* another is worse */
        if (warmth->factor <= 0.0) break;
        status = find(&factor, &place, error);
        if (status || !(factor >= 0.0)) continue;
        warmth->factor = factor;
        warmth->probe = factor > 0.0 ? place.probe : BRV_NO_PROBE;
    }
    free(place.kelvin);
    if (warmth->factor > 0.0) warmth->rest = rest_of(history, ask, warmth->factor, until);
    return status;
}
