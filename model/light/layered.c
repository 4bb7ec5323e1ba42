#include "light/layered.h"

#include "base/array.h"
#include "light/basis.h"
#include "light/direct.h"
#include "light/fresnel.h"
#include "light/glow.h"
#include "light/interior.h"
#include "light/modes.h"
#include "light/rays.h"
#include "light/sheet.h"
#include "light/stack.h"

#include <assert.h>
#include <math.h>
#include <stdbool.h>
#include <stdlib.h>

enum {
    MOST_MEDIA = 16,
    MOST_SHEETS = 2 * MOST_MEDIA + 1, /* every layer, and a step above each and at the bottom */
    DEFAULT_RAYS = 24                 /* tests/verification/test_layered.c says what this is enough for */
};

static const double BUDGET_TOLERANCE = 1e-8; /* of unit incident flux */

/* What stays after the solve: where the layers begin and the light inside each. */
struct brv_layered_solution {
    double *top;                   /* [n_medium + 1] depth of the upper face of each layer, then the bottom [m]   */
    double *extinction;            /* [n_medium] optical depth per depth                                    [1/m] */
    struct brv_interior *interior; /* [n_medium]                                                       */
};

/* What is needed on the way there. */
struct solve {
    const struct brv_layered_ask *ask;
    struct brv_rays rays;
    size_t n_basis;
    struct brv_basis basis[MOST_MEDIA];
    const struct brv_basis *basis_of[MOST_MEDIA];
    struct brv_modes modes[MOST_MEDIA];
    struct brv_direct_leg leg[MOST_MEDIA];
    struct brv_direct direct;
    struct brv_glow glow[MOST_MEDIA];
    size_t n_sheet;
    struct brv_sheet sheet[MOST_SHEETS];
    size_t sheet_of[MOST_MEDIA];
    double *falling; /* [rays] diffuse light from outside */
    struct brv_stack stack;
};

static bool endless(const struct brv_layered_ask *ask)
{
    return isinf(ask->medium[ask->n_medium - 1].thickness);
}

static bool diffuse(const struct brv_layered_ask *ask)
{
    return ask->cosine == BRV_DIFFUSE_INCIDENCE;
}

static void empty(struct solve *solve)
{
    for (size_t i = 0; i < MOST_MEDIA; i++) {
        brv_basis_free(&solve->basis[i]);
        brv_modes_free(&solve->modes[i]);
        brv_glow_free(&solve->glow[i]);
    }
    for (size_t i = 0; i < MOST_SHEETS; i++) brv_sheet_free(&solve->sheet[i]);
    brv_rays_free(&solve->rays);
    brv_stack_free(&solve->stack);
    free(solve->falling);
}

/* Rays for all indices of the layers; outside and below matter only where they cannot hold all of these rays. */
static brv_status choose_rays(struct solve *solve, struct brv_error *error)
{
    const struct brv_layered_ask *ask = solve->ask;
    double index[MOST_MEDIA + 2], densest = 0.0;
    size_t n = 0;
    for (; n < ask->n_medium; n++) {
        index[n] = ask->medium[n].index;
        densest = fmax(densest, index[n]);
    }
    if (ask->outside_index < densest) index[n++] = ask->outside_index;
    if (!endless(ask) && ask->below_index < densest) index[n++] = ask->below_index;
    return brv_rays_build(&solve->rays, index, n, ask->n_ray ? ask->n_ray : DEFAULT_RAYS, error);
}

/* The basis of a layer; layers of one index share it. */
static brv_status find_basis(struct solve *solve, size_t i, struct brv_error *error)
{
    const double index = solve->ask->medium[i].index;
    size_t j = 0;
    while (j < solve->n_basis && solve->basis[j].index != index) j++;
    solve->basis_of[i] = &solve->basis[j];
    if (j < solve->n_basis) return BRV_OK;
    solve->n_basis++;
    return brv_basis_build(&solve->basis[j], &solve->rays, index, error);
}

static brv_status find_modes(struct solve *solve, struct brv_error *error)
{
    brv_status status = BRV_OK;
    for (size_t i = 0; i < solve->ask->n_medium && !status; i++) {
        const struct brv_medium *medium = &solve->ask->medium[i];
        status = find_basis(solve, i, error);
        if (!status)
            status = brv_modes_build(&solve->modes[i], solve->basis_of[i], medium->absorption, medium->scattering,
                                     medium->anisotropy, error);
        if (status) break;
        const double extinction = solve->modes[i].extinction;
        solve->leg[i].index = medium->index;
        solve->leg[i].depth = extinction > 0.0 ? extinction * medium->thickness : 0.0;
    }
    return status;
}

static brv_status trace_beam(struct solve *solve, struct brv_error *error)
{
    const struct brv_layered_ask *ask = solve->ask;
    if (!diffuse(ask))
        solve->direct = brv_direct_trace(solve->leg, ask->n_medium, ask->outside_index, ask->below_index, ask->cosine);
    brv_status status = BRV_OK;
    for (size_t i = 0; i < ask->n_medium && !status; i++)
        status = brv_glow_build(&solve->glow[i], solve->basis_of[i], &solve->modes[i], &solve->leg[i], error);
    return status;
}

static brv_status add_step(struct solve *solve, double upper_index, double lower_index, struct brv_error *error)
{
    if (upper_index == lower_index) return BRV_OK;
    return brv_sheet_build_step(&solve->sheet[solve->n_sheet++], &solve->rays, upper_index, lower_index, error);
}

static brv_status build_sheets(struct solve *solve, struct brv_error *error)
{
    const struct brv_layered_ask *ask = solve->ask;
    double above = ask->outside_index;
    for (size_t i = 0; i < ask->n_medium; i++) {
        brv_status status = add_step(solve, above, ask->medium[i].index, error);
        if (status) return status;
        solve->sheet_of[i] = solve->n_sheet++;
        status = brv_sheet_build_layer(&solve->sheet[solve->sheet_of[i]], solve->rays.n, &solve->modes[i],
                                       &solve->glow[i], error);
        if (status) return status;
        above = ask->medium[i].index;
    }
    return endless(ask) ? BRV_OK : add_step(solve, above, ask->below_index, error);
}

/* Uniform light of unit flux: radiance over all azimuths 2, so 2 strength / n^2 on each ray that exists outside. */
static brv_status let_in(struct solve *solve, struct brv_error *error)
{
    const double index = solve->ask->outside_index;
    solve->falling = brv_array_new(solve->rays.n);
    if (!solve->falling) return brv_error_raise(error, BRV_MEMORY, "brv_layered_solve");
    if (!diffuse(solve->ask)) return BRV_OK;
    for (size_t ray = 0; ray < brv_rays_present(&solve->rays, index); ray++)
        solve->falling[ray] = 2.0 * solve->rays.strength[ray] / (index * index);
    return BRV_OK;
}

static double flux(const struct solve *solve, const double *light)
{
    double sum = 0.0;
    for (size_t ray = 0; ray < solve->rays.n; ray++) sum += solve->rays.strength[ray] * light[ray];
    return sum;
}

/* Mirror part of diffuse light; rays too oblique for any layer are not followed and are wholly reflected. */
static double diffuse_mirrored(const struct solve *solve)
{
    const double outside = solve->ask->outside_index, inside = solve->ask->medium[0].index;
    double passed = 0.0;
    for (size_t ray = 0; ray < solve->rays.n; ray++) {
        const double share = brv_fresnel_reflectance(outside, brv_rays_cosine(&solve->rays, ray, outside), inside,
                                                     brv_rays_cosine(&solve->rays, ray, inside));
        passed += (1.0 - share) * solve->rays.strength[ray] * solve->falling[ray];
    }
    return 1.0 - passed;
}

static void sum_outgoing(struct brv_layered *light, const struct solve *solve)
{
    const struct brv_stack *stack = &solve->stack;
    light->reflected_specular = solve->direct.mirrored;
    light->reflected_diffuse = flux(solve, stack->up) + solve->direct.returned;
    light->transmitted = flux(solve, stack->down + stack->n_sheet * stack->n) + solve->direct.transmitted;
    if (!diffuse(solve->ask)) return;
    const double unfollowed = 1.0 - flux(solve, solve->falling);
    light->reflected_specular = diffuse_mirrored(solve);
    light->reflected_diffuse += unfollowed - light->reflected_specular;
}

static brv_status allocate(struct brv_layered *light, const struct brv_layered_ask *ask, struct brv_error *error)
{
    *light = (struct brv_layered){.n_medium = ask->n_medium};
    light->absorbed = brv_array_new(ask->n_medium);
    light->solution = calloc(1, sizeof *light->solution);
    if (light->solution) {
        light->solution->top = brv_array_new(ask->n_medium + 1);
        light->solution->extinction = brv_array_new(ask->n_medium);
        light->solution->interior = calloc(ask->n_medium, sizeof *light->solution->interior);
        if (light->absorbed && light->solution->top && light->solution->extinction && light->solution->interior)
            return BRV_OK;
    }
    return brv_error_raise(error, BRV_MEMORY, "brv_layered_solve");
}

static brv_status keep_interior(struct brv_layered *light, struct solve *solve, size_t i, struct brv_error *error)
{
    const struct brv_stack *stack = &solve->stack;
    const size_t at = solve->sheet_of[i] * stack->n;
    const struct brv_interior_face above = {stack->down + at, stack->up + at};
    const struct brv_interior_face below = {above.down + stack->n, above.up + stack->n};
    light->solution->top[i + 1] = light->solution->top[i] + solve->ask->medium[i].thickness;
    light->solution->extinction[i] = solve->modes[i].extinction;
    return brv_interior_build(&light->solution->interior[i], &solve->rays, solve->basis_of[i], &solve->modes[i],
                              &solve->glow[i], &solve->leg[i], &above, &below, error);
}

static double absorbed_in(const struct brv_layered *light, const struct brv_medium *medium, size_t i)
{
    if (medium->absorption == 0.0) return 0.0;
    return medium->absorption / light->solution->extinction[i] * brv_interior_integral(&light->solution->interior[i]);
}

static brv_status keep(struct brv_layered *light, struct solve *solve, struct brv_error *error)
{
    sum_outgoing(light, solve);
    light->residual = 1.0 - light->reflected_specular - light->reflected_diffuse - light->transmitted;
    for (size_t i = 0; i < light->n_medium; i++) {
        const brv_status status = keep_interior(light, solve, i, error);
        if (status) return status;
        light->absorbed[i] = absorbed_in(light, &solve->ask->medium[i], i);
        light->residual -= light->absorbed[i];
    }
    if (fabs(light->residual) <= BUDGET_TOLERANCE) return BRV_OK;
    return brv_error_raise_number(error, BRV_NUMERICS, "brv_layered_solve", light->residual, BUDGET_TOLERANCE);
}

brv_status brv_layered_solve(struct brv_layered *light, const struct brv_layered_ask *ask, struct brv_error *error)
{
    assert(ask->n_medium >= 1 && ask->n_medium <= MOST_MEDIA);
    struct solve solve = {.ask = ask};
    brv_status status = allocate(light, ask, error);
    if (!status) status = choose_rays(&solve, error);
    if (!status) status = find_modes(&solve, error);
    if (!status) status = trace_beam(&solve, error);
    if (!status) status = build_sheets(&solve, error);
    if (!status) status = let_in(&solve, error);
    if (!status) status = brv_stack_solve(&solve.stack, solve.sheet, solve.n_sheet, solve.falling, error);
    if (!status) status = keep(light, &solve, error);

    empty(&solve);
    if (status) brv_layered_free(light);
    return status;
}

/* The layer that holds `depth`, and its optical depth there, kept inside the layer. */
static const struct brv_interior *locate(const struct brv_layered *light, double depth, double *t)
{
    const struct brv_layered_solution *solution = light->solution;
    const size_t i = brv_array_interval(solution->top, light->n_medium, depth);
    const double optical = solution->extinction[i] * (depth - solution->top[i]);
    *t = fmin(fmax(optical, 0.0), solution->interior[i].leg.depth);
    return &solution->interior[i];
}

double brv_layered_fluence(const struct brv_layered *light, double depth)
{
    double t;
    const struct brv_interior *interior = locate(light, depth, &t);
    return brv_interior_fluence(interior, t);
}

double brv_layered_net_flux(const struct brv_layered *light, double depth)
{
    double t;
    const struct brv_interior *interior = locate(light, depth, &t);
    return brv_interior_net_flux(interior, t);
}

void brv_layered_free(struct brv_layered *light)
{
    if (light->solution) {
        for (size_t i = 0; i < light->n_medium && light->solution->interior; i++)
            brv_interior_free(&light->solution->interior[i]);
        free(light->solution->top);
        free(light->solution->extinction);
        free(light->solution->interior);
    }
    free(light->solution);
    free(light->absorbed);
    *light = (struct brv_layered){0};
}
