#include "light/light.h"

#include "base/array.h"
#include "light/sampled.h"
#include "light/spot.h"

#include <math.h>
#include <stdlib.h>

enum {
    N_DEPTH = 56,                           /* depths of the ratio, even in the square root */
    MOST_DEPTH = N_DEPTH + BRV_MOST_LAYERS, /* and the faces of layers */
    N_RADIUS = 33,
    N_RING = 160,
    SHORT_WALK = 8192 /* photons that even an interrupted run has */
};

#define DEEPEST     20e-3 /* beyond this the ratio is held [m] */
#define FAINT       1e-5  /* ... or where an endless beam is fainter than this */
#define BESIDE      2.0   /* the map reaches about this many beam radii ... */
#define BESIDE_MORE 2e-3  /* ... and this much farther [m] */

static void copy_media(struct brv_medium medium[], const struct brv_tissue *tissue)
{
    for (size_t i = 0; i < tissue->n_layer; i++) {
        const struct brv_layer *layer = &tissue->layer[i];
        medium[i] = (struct brv_medium){.thickness = layer->thickness,
                                        .absorption = layer->absorption,
                                        .scattering = layer->scattering,
                                        .anisotropy = layer->anisotropy,
                                        .index = layer->index};
    }
}

/* ---- where the ratio is wanted ---- */

static double deepest(const struct brv_layered *layered, double whole)
{
    double depth = 1e-3;
    while (depth < DEEPEST && depth < whole && brv_layered_fluence(layered, depth) > FAINT) depth *= 1.25;
    return fmin(fmin(depth, DEEPEST), whole);
}

static int ascending(const void *a, const void *b)
{
    const double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

/* 0, the faces of layers and a grid that is even in the square root of the depth in the skin; returns how many. */
static size_t lay_depths(double depth[MOST_DEPTH], const struct brv_light *light, double end)
{
    size_t n = 0, kept = 1;
    for (size_t i = 0; i < N_DEPTH; i++) {
        const double share = (double)i / (N_DEPTH - 1);
        depth[n++] = light->above + (end - light->above) * share * share;
    }
    if (light->above > 0.0) depth[n++] = 0.0;
    for (size_t i = 1; i < light->n_layer; i++)
        if (light->top[i] + light->above < end) depth[n++] = light->top[i] + light->above;
    qsort(depth, n, sizeof *depth, ascending);
    for (size_t i = 1; i < n; i++)
        if (depth[i] > depth[kept - 1] * (1.0 + 1e-9)) depth[kept++] = depth[i];
    return kept;
}

/* Distance of the map's radii. The rim of a flat spot, where the light jumps, falls midway between two of them: straight
 * lines between the radii then have as much light outside the rim as they lack inside.                               */
static double map_spacing(double spot)
{
    const double rim = 0.5 * spot, wanted = (BESIDE * rim + BESIDE_MORE) / (N_RADIUS - 1);
    return rim / (floor(rim / wanted) + 0.5);
}

static brv_status make_map(struct brv_light *light, size_t n_depth, const double depth[], double spot,
                           struct brv_error *error)
{
    light->map_depth = brv_array_new(n_depth);
    light->map_radius = brv_array_new(N_RADIUS);
    light->map = brv_array_new(n_depth * N_RADIUS);
    if (!light->map_depth || !light->map_radius || !light->map) return brv_error_raise(error, BRV_MEMORY, "light");
    light->n_map_depth = n_depth;
    light->n_map_radius = N_RADIUS;
    const double spacing = map_spacing(spot);
    for (size_t i = 0; i < n_depth; i++) light->map_depth[i] = depth[i];
    for (size_t i = 0; i < N_RADIUS; i++) light->map_radius[i] = spacing * (double)i;
    return BRV_OK;
}

/* The map's axis over the endless beam is the ratio. */
static brv_status keep_ratio(struct brv_light *light, const double axis_error[], struct brv_error *error)
{
    double ratio[MOST_DEPTH], ratio_error[MOST_DEPTH];
    for (size_t i = 0; i < light->n_map_depth; i++) {
        const double wide = brv_layered_fluence(&light->layered, light->map_depth[i]);
        ratio[i] = wide > 0.0 ? light->map[i * light->n_map_radius] / wide : 1.0;
        ratio_error[i] = wide > 0.0 && axis_error ? axis_error[i] / wide : 0.0;
    }
    return brv_axis_build(&light->axis, &light->layered, light->n_map_depth, light->map_depth, ratio, ratio_error,
                          error);
}

/* ---- the kernels for spots ---- */

static brv_status solve_spot(struct brv_light *light, const struct brv_layered_ask *wide, const struct brv_beam *beam,
                             struct brv_error *error)
{
    struct brv_spot spot = {.n_depth = 0};
    const struct brv_spot_ask ask = {.n_medium = wide->n_medium,
                                     .medium = wide->medium,
                                     .outside_index = wide->outside_index,
                                     .below_index = wide->below_index,
                                     .diameter = beam->spot,
                                     .gaussian = beam->profile == BRV_PROFILE_GAUSSIAN,
                                     .n_depth = light->n_map_depth,
                                     .depth = light->map_depth,
                                     .n_radius = light->n_map_radius,
                                     .radius = light->map_radius};
    brv_status status = brv_spot_solve(&spot, &ask, error);
    if (status) return status;
    for (size_t i = 0; i < light->n_map_depth * light->n_map_radius; i++) light->map[i] = spot.fluence[i];
    brv_spot_free(&spot);
    return keep_ratio(light, NULL, error);
}

/* Cells about the wanted depths: their faces lie half way between, but never across the face of a layer. */
static void lay_cells(double face[MOST_DEPTH + 1], struct brv_light *light, const double depth[], size_t n)
{
    for (size_t i = 0; i < n; i++) face[i] = depth[i];
    light->n_map_depth = n - 1;
    for (size_t i = 0; i + 1 < n; i++) light->map_depth[i] = 0.5 * (face[i] + face[i + 1]);
}

/* The walk gives shares of its own endless beam, which carries the same noise; the exact one gives the size. */
static brv_status read_walk(struct brv_light *light, const struct brv_sampled *walk, const struct brv_beam *beam,
                            struct brv_error *error)
{
    const bool gaussian = beam->profile == BRV_PROFILE_GAUSSIAN;
    double axis_error[MOST_DEPTH], scale[MOST_DEPTH] = {0.0}, weight[N_RING];
    for (size_t i = 0; i < light->n_map_depth; i++) {
        const struct brv_mean axis = brv_sampled_axis(walk, beam->spot, gaussian, i);
        const double wide = brv_sampled_wide(walk, i).value;
        scale[i] = wide > 0.0 ? brv_layered_fluence(&light->layered, light->map_depth[i]) / wide : 1.0;
        axis_error[i] = scale[i] * (isfinite(axis.error) ? axis.error : axis.value);
        light->map[i * light->n_map_radius] = scale[i] * axis.value;
    }
    for (size_t j = 1; j < light->n_map_radius; j++) {
        brv_sampled_weigh(weight, walk, beam->spot, gaussian, light->map_radius[j]);
        for (size_t i = 0; i < light->n_map_depth; i++)
            light->map[i * light->n_map_radius + j] = scale[i] * brv_sampled_weighed(walk, weight, i).value;
    }
    light->photons = walk->photons;
    return keep_ratio(light, axis_error, error);
}

/* A mixture may absorb so little that no walk in it would end; whether it does is known only now. */
static brv_status check_end(const struct brv_layered_ask *wide, struct brv_error *error)
{
    const struct brv_medium *last = &wide->medium[wide->n_medium - 1];
    const double extinction = last->absorption + last->scattering;
    const double albedo = extinction > 0.0 ? last->scattering / extinction : 0.0;
    if (!isinf(last->thickness) || albedo <= BRV_SAMPLED_MOST_ALBEDO) return BRV_OK;
    return brv_error_raise_number(
        error, BRV_NUMERICS, "a walk of photons in an endless layer that scatters and hardly absorbs (share scattered)",
        albedo, BRV_SAMPLED_MOST_ALBEDO);
}

static brv_status solve_sampled(struct brv_light *light, const struct brv_layered_ask *wide,
                                const struct brv_beam *beam, const struct brv_control *control, struct brv_error *error)
{
    double ring[N_RING + 1], face[MOST_DEPTH + 1];
    struct brv_sampled walk = {.n_depth = 0};
    brv_status status = check_end(wide, error);
    if (status) return status;
    lay_cells(face, light, light->map_depth, light->n_map_depth);
    brv_sampled_rings(ring, N_RING);
    struct brv_sampled_ask ask = {.n_medium = wide->n_medium,
                                  .medium = wide->medium,
                                  .outside_index = wide->outside_index,
                                  .below_index = wide->below_index,
                                  .n_depth = light->n_map_depth,
                                  .depth = face,
                                  .n_ring = N_RING,
                                  .ring = ring,
                                  .seed = (uint64_t)beam->seed,
                                  .photons = (uint64_t)beam->photons,
                                  .error = beam->error,
                                  .watched = beam->spot,
                                  .threads = control ? control->threads : 0,
                                  .stop = control ? control->stop : NULL,
                                  .progress = control ? control->progress : NULL,
                                  .context = control ? control->context : NULL};
    status = brv_sampled_solve(&walk, &ask, error);
    const bool stopped = !status && walk.stopped;
    if (stopped && walk.photons == 0) { /* stopped before anything was counted: a short walk all the same */
        brv_sampled_free(&walk);
        ask.stop = NULL;
        ask.photons = SHORT_WALK;
        status = brv_sampled_solve(&walk, &ask, error);
    }
    if (!status) status = read_walk(light, &walk, beam, error);
    light->stopped = stopped;
    brv_sampled_free(&walk);
    return status;
}

/* ---- the front ---- */

static void place_layers(struct brv_light *light, const struct brv_tissue *tissue)
{
    light->above = brv_tissue_above(tissue);
    double top = 0.0 - light->above;
    light->n_layer = tissue->n_layer;
    for (size_t i = 0; i < tissue->n_layer; i++) {
        light->top[i] = top;
        top = i == 0 && light->above > 0.0 ? 0.0 : top + tissue->layer[i].thickness;
    }
}

/* Mean over a layer. It follows from what the layer absorbs, so that grains and layer hold the same energy; a clear
 * layer has no such measure and takes Simpson's rule, an endless one the value at its top.                       */
static double mean_fluence(const struct brv_light *light, const struct brv_layer *layer, double top)
{
    const double bottom = top + layer->thickness;
    if (isinf(layer->thickness)) return brv_light_fluence(light, top);
    if (layer->absorption > 0.0) return brv_light_absorbed(light, top, bottom) / (layer->absorption * layer->thickness);
    const double last = nextafter(bottom, top); /* still inside: on the face itself the deeper side is meant */
    return (brv_light_fluence(light, top) + 4.0 * brv_light_fluence(light, 0.5 * (top + bottom)) +
            brv_light_fluence(light, last)) /
           6.0;
}

static brv_status solve_beam(struct brv_light *light, const struct brv_layered_ask *wide,
                             const struct brv_tissue *tissue, const struct brv_beam *beam,
                             const struct brv_control *control, struct brv_error *error)
{
    if (beam->method == BRV_METHOD_LAYERED) return BRV_OK;
    double depth[MOST_DEPTH];
    const size_t last = tissue->n_layer - 1;
    const double whole = light->above + light->top[last] + tissue->layer[last].thickness;
    const size_t n = lay_depths(depth, light, deepest(&light->layered, whole));
    brv_status status = make_map(light, n, depth, beam->spot, error);
    if (status) return status;
    status = beam->method == BRV_METHOD_SPOT ? solve_spot(light, wide, beam, error)
                                             : solve_sampled(light, wide, beam, control, error);
    for (size_t i = 0; i < light->n_map_depth; i++) light->map_depth[i] -= light->above;
    return status;
}

brv_status brv_light_solve(struct brv_light *light, const struct brv_tissue *tissue, const struct brv_beam *beam,
                           const struct brv_control *control, struct brv_error *error)
{
    struct brv_medium medium[BRV_MOST_LAYERS];
    copy_media(medium, tissue);
    const struct brv_layered_ask wide = {.n_medium = tissue->n_layer,
                                         .medium = medium,
                                         .outside_index = tissue->outside_index,
                                         .below_index = tissue->below_index,
                                         .cosine = 1.0};
    *light = (struct brv_light){.method = beam->method};
    brv_status status = brv_layered_solve(&light->layered, &wide, error);
    if (status) return status;

    place_layers(light, tissue);
    light->spot_depths = beam->spot / brv_tissue_diffusion_depth(&tissue->layer[tissue->n_layer - 1]);
    status = solve_beam(light, &wide, tissue, beam, control, error);
    for (size_t i = 0; i < tissue->n_layer && !status; i++)
        light->mean_fluence[i] = mean_fluence(light, &tissue->layer[i], light->top[i]);
    if (status) brv_light_free(light);
    return status;
}

double brv_light_ratio(const struct brv_light *light, double depth)
{
    return light->axis.n ? brv_axis_ratio(&light->axis, depth + light->above) : 1.0;
}

double brv_light_error(const struct brv_light *light, double depth)
{
    const double below = depth + light->above;
    return light->axis.n ? brv_axis_error(&light->axis, below) * brv_layered_fluence(&light->layered, below) : 0.0;
}

double brv_light_fluence(const struct brv_light *light, double depth)
{
    return brv_light_ratio(light, depth) * brv_layered_fluence(&light->layered, depth + light->above);
}

/* Taken up above a depth that counts from the outside of all layers. */
static double taken(const struct brv_light *light, double depth)
{
    if (light->axis.n) return brv_axis_taken(&light->axis, &light->layered, depth);
    return isinf(depth) ? 0.0 : -brv_layered_net_flux(&light->layered, depth);
}

double brv_light_absorbed(const struct brv_light *light, double from, double to)
{
    return taken(light, to + light->above) - taken(light, from + light->above);
}

void brv_light_free(struct brv_light *light)
{
    brv_layered_free(&light->layered);
    brv_axis_free(&light->axis);
    free(light->map_depth);
    free(light->map_radius);
    free(light->map);
    *light = (struct brv_light){.n_layer = 0};
}
