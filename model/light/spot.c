#include "light/spot.h"

#include "base/array.h"
#include "light/lateral.h"
#include "light/profile.h"
#include "light/ripple.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

/* The highest lateral frequency solved, in units of the extinction of the unscattered beam: beyond it light is lost
 * within its first free path. Between 2.5 and 3.5 nothing moves by more than 0.5 % for the narrowest spot. */
static const double FASTEST = 3.0;

/* Frequencies are not told apart much below this one: a 30-mm spot resolves 70 [1/m]. */
static const double SLOWEST = 10.0;

/* The frequencies span at least this factor, also where the beam is hardly weakened. */
static const double LEAST_RANGE = 10.0;

/* The harmonics have to find at least this share of the exact diffuse light, or there is nothing to take a ratio of:
 * deep in media that absorb more than they scatter. */
static const double LEAST_AGREEMENT = 0.1;

struct solve {
    const struct brv_spot_ask *ask;
    struct brv_profile profile;
    struct brv_ripple ripple;
    struct brv_lateral lateral;
    double *direct; /* [n_depth] unscattered fluence of the wide beam */
    double *share;  /* [n_depth][n_frequency] diffuse fluence over that of frequency 0 */
};

static brv_status allocate(struct brv_spot *spot, const struct brv_spot_ask *ask, struct brv_error *error)
{
    *spot = (struct brv_spot){.n_depth = ask->n_depth, .n_radius = ask->n_radius};
    spot->depth = brv_array_new(ask->n_depth);
    spot->radius = brv_array_new(ask->n_radius);
    spot->wide = brv_array_new(ask->n_depth);
    spot->fluence = brv_array_new(ask->n_depth * ask->n_radius);
    if (!spot->depth || !spot->radius || !spot->wide || !spot->fluence)
        return brv_error_raise(error, BRV_MEMORY, "brv_spot_solve");
    memcpy(spot->depth, ask->depth, ask->n_depth * sizeof *spot->depth);
    memcpy(spot->radius, ask->radius, ask->n_radius * sizeof *spot->radius);
    return BRV_OK;
}

static brv_status solve_wide(struct brv_spot *spot, const struct brv_spot_ask *ask, struct brv_error *error)
{
    const struct brv_layered_ask wide = {.n_medium = ask->n_medium,
                                         .medium = ask->medium,
                                         .outside_index = ask->outside_index,
                                         .below_index = ask->below_index,
                                         .cosine = 1.0};
    struct brv_layered light;
    const brv_status status = brv_layered_solve(&light, &wide, error);
    if (status) return status;
    for (size_t i = 0; i < ask->n_depth; i++) spot->wide[i] = brv_layered_fluence(&light, ask->depth[i]);
    brv_layered_free(&light);
    return BRV_OK;
}

static brv_status choose_frequencies(struct solve *solve, struct brv_error *error)
{
    const double slowest = fmax(brv_ripple_slowest(&solve->ripple), SLOWEST);
    const double fastest = fmax(FASTEST * brv_ripple_fastest(&solve->ripple), LEAST_RANGE * slowest);
    return brv_lateral_build(&solve->lateral, &solve->profile, slowest, fastest, solve->ask->radius,
                             solve->ask->n_radius, error);
}

static brv_status solve_frequencies(struct solve *solve, struct brv_error *error)
{
    const size_t n = solve->lateral.n_frequency;
    solve->direct = brv_array_new(solve->ask->n_depth);
    solve->share = brv_array_new(solve->ask->n_depth * n);
    if (!solve->direct || !solve->share) return brv_error_raise(error, BRV_MEMORY, "brv_spot_solve");
    for (size_t i = 0; i < n; i++) {
        const brv_status status = brv_ripple_solve(&solve->ripple, solve->lateral.frequency[i], error);
        if (status) return status;
        for (size_t j = 0; j < solve->ask->n_depth; j++)
            solve->share[j * n + i] = brv_ripple_fluence(&solve->ripple, solve->ask->depth[j]);
    }
    for (size_t j = 0; j < solve->ask->n_depth; j++)
        solve->direct[j] = brv_ripple_direct(&solve->ripple, solve->ask->depth[j]);
    return BRV_OK;
}

/* Without diffuse light to compare with, what there is keeps to the beam. */
static void take_shares(struct solve *solve, const double *wide)
{
    const size_t n = solve->lateral.n_frequency;
    for (size_t j = 0; j < solve->ask->n_depth; j++) {
        double *share = solve->share + j * n;
        const double still = share[0];
        const bool agrees = still > LEAST_AGREEMENT * fabs(wide[j] - solve->direct[j]);
        for (size_t i = 0; i < n; i++) share[i] = agrees ? share[i] / still : 1.0;
    }
}

static void sum_up(struct brv_spot *spot, const struct solve *solve)
{
    const size_t n = solve->lateral.n_frequency;
    for (size_t j = 0; j < spot->n_depth; j++)
        for (size_t r = 0; r < spot->n_radius; r++) {
            double share = 0.0;
            for (size_t i = 0; i < n; i++) share += solve->lateral.weight[r * n + i] * solve->share[j * n + i];
            spot->fluence[j * spot->n_radius + r] =
                solve->direct[j] * brv_profile_height(&solve->profile, spot->radius[r]) +
                (spot->wide[j] - solve->direct[j]) * share;
        }
}

static void empty(struct solve *solve)
{
    brv_ripple_free(&solve->ripple);
    brv_lateral_free(&solve->lateral);
    free(solve->direct);
    free(solve->share);
}

brv_status brv_spot_solve(struct brv_spot *spot, const struct brv_spot_ask *ask, struct brv_error *error)
{
    struct solve solve = {.ask = ask, .profile = {0.5 * ask->diameter, ask->gaussian}};
    assert(ask->n_depth > 0 && ask->n_radius > 0 && ask->diameter > 0.0);
    brv_status status = allocate(spot, ask, error);
    if (!status) status = solve_wide(spot, ask, error);
    if (!status)
        status =
            brv_ripple_build(&solve.ripple, ask->medium, ask->n_medium, ask->outside_index, ask->below_index, error);
    if (!status) status = choose_frequencies(&solve, error);
    if (!status) status = solve_frequencies(&solve, error);
    if (!status) {
        take_shares(&solve, spot->wide);
        sum_up(spot, &solve);
    }
    empty(&solve);
    if (status) brv_spot_free(spot);
    return status;
}

void brv_spot_free(struct brv_spot *spot)
{
    free(spot->depth);
    free(spot->radius);
    free(spot->fluence);
    free(spot->wide);
    *spot = (struct brv_spot){0};
}
