#include "heat/heat_crowd.h"

#include "base/array.h"
#include "base/constants.h"
#include "heat/heat_grain.h"

#include <math.h>
#include <stdbool.h>
#include <stdlib.h>

_Static_assert((int)BRV_MOST_MEANS >= (int)BRV_MOST_LAYERS, "every layer may have a mean");
_Static_assert((int)BRV_PLACE_CENTRE == (int)BRV_GRAIN_CENTRE && (int)BRV_PLACE_MEAN == (int)BRV_GRAIN_MEAN &&
                   (int)BRV_PLACE_SURFACE == (int)BRV_GRAIN_SURFACE,
               "places of a grain are its first gauges");

#define EXTREME 4.0 /* standard deviations; 6 grains in 100 000 lie further out */
#define COOLED  4.0 /* d^2 / alpha after a pulse: by then a grain has long passed its peak, at its surface too */

/* Shares of grains ask for less than the one grain that is shown: thresholds good to 3e-4 of themselves. */
#define TOLERANCE 1e-6 /* of the contour, over the largest rise */
#define STEP      1e-4 /* of a step, likewise */

/* z from -4 to 4, and as far beyond as the volume leans: by volume z is normal about 3 sigma. */
static size_t lay_sizes(double z[BRV_MOST_SIZES], double sigma)
{
    if (!(sigma > 0.0)) {
        z[0] = 0.0;
        return 1;
    }
    const double step = (2.0 * EXTREME + 3.0 * sigma) / (BRV_MOST_SIZES - 1);
    for (size_t i = 0; i < BRV_MOST_SIZES; i++) z[i] = -EXTREME + step * (double)i;
    return BRV_MOST_SIZES;
}

static double diameter_of(const struct brv_crowd *crowd, size_t size, const struct brv_grain *median)
{
    return 2.0 * median->radius * exp(median->diameter_spread * crowd->size[size]);
}

/* Diffusivity of what conducts worst around here, grain or surroundings. */
static double slowest(const struct brv_tissue *tissue)
{
    const struct brv_grain *grain = &tissue->grain;
    return fmin(BRV_TRADE_DIFFUSIVITY,
                fmin(grain->conductivity / grain->heat_capacity, grain->host_conductivity / grain->host_heat_capacity));
}

/* Later, every grain is its layer. */
static size_t beats_wanted(const struct brv_heat_ask *ask, double largest)
{
    const struct brv_timeline *timeline = ask->timeline;
    const double end = brv_pulse_window(&ask->scenario->pulse) + COOLED * largest * largest / slowest(ask->tissue);
    size_t n = 1;
    while (n < timeline->n_beat && timeline->beats[n] <= end) n++;
    return n;
}

static brv_status make_room(struct brv_crowd *crowd, const size_t mean[], const struct brv_heat_ask *ask,
                            struct brv_error *error)
{
    const struct brv_tissue *tissue = ask->tissue;
    *crowd = (struct brv_crowd){.n_beat = 0};
    crowd->n_size = lay_sizes(crowd->size, tissue->grain.diameter_spread);
    crowd->n_beat = beats_wanted(ask, diameter_of(crowd, crowd->n_size - 1, &tissue->grain));
    for (size_t i = 0; i < tissue->n_layer; i++) {
        if (mean[i] == BRV_NO_PROBE) continue; /* a film is none of them */
        crowd->layer[crowd->n_layer] = i;
        crowd->probe[crowd->n_layer++] = mean[i];
    }
    const size_t n = crowd->n_layer * crowd->n_size * crowd->n_beat;
    crowd->closed = brv_array_new(n);
    crowd->open = brv_array_new(n);
    return crowd->closed && crowd->open ? BRV_OK : brv_error_raise(error, BRV_MEMORY, "crowd");
}

/* Grain at one temperature and host at another, less the mean of both: there is but one such shape, so heat left around
 * a grain does just what heat left in it does, times this.                                                          */
static double host_share(const struct brv_grain *grain, const struct brv_layer *layer)
{
    if (!isfinite(grain->cell_radius)) return 0.0;
    const double share = layer->melanosomes, own = grain->absorption * grain->shading;
    return -(1.0 - share) * grain->host_absorption / layer->heat_capacity /
           (own * (1.0 / grain->heat_capacity - share / layer->heat_capacity));
}

/* Room for one sphere. */
struct sphere_work {
    struct brv_sphere sphere;
    double *deposit, *weight; /* [2][n]; of the deposit the second is the grain's own */
    double *curve;            /* [2][n_beat] */
};

static brv_status make_sphere(struct sphere_work *work, const struct brv_grain *grain, size_t n_beat,
                              const struct brv_heat_ask *ask, struct brv_error *error)
{
    const double longest = ask->timeline->beats[n_beat - 1];
    const struct brv_sphere_ask cells = brv_grain_cells(grain, ask->scenario->pulse.width, longest);
    *work = (struct sphere_work){.curve = brv_array_new(2 * n_beat)};
    const brv_status status = brv_sphere_build(&work->sphere, &cells, error);
    if (status) return status;
    work->deposit = brv_array_new(2 * work->sphere.chain.n);
    work->weight = brv_array_new(2 * work->sphere.chain.n);
    return work->deposit && work->weight && work->curve ? BRV_OK : brv_error_raise(error, BRV_MEMORY, "crowd");
}

static void free_sphere(struct sphere_work *work)
{
    brv_sphere_free(&work->sphere);
    free(work->deposit);
    free(work->weight);
    free(work->curve);
}

/* What one pulse does at the place that is asked for, above the mean of the cell where there is one: rise[n_beat]. */
static brv_status respond(double rise[], size_t n_beat, struct sphere_work *work, const struct brv_grain *grain,
                          const struct brv_heat_ask *ask, struct brv_error *error)
{
    const size_t n = work->sphere.chain.n;
    struct brv_gauge all[BRV_N_GRAIN_GAUGE];
    double *own = work->deposit + n;
    brv_grain_gauge(all, work->weight, work->weight + n, &work->sphere);
    brv_grain_deposit(work->deposit, own, &work->sphere, grain,
                      brv_beam_axis_fluence(&ask->scenario->beam) * ask->light->mean_fluence[grain->layer]);

    const struct brv_gauge gauge[] = {all[ask->scenario->watch.place], all[BRV_GRAIN_CELL]};
    struct brv_timeline beats = *ask->timeline;
    struct brv_march_ask march = brv_grain_march(&work->sphere, grain, own, ask);
    beats.n_beat = n_beat;
    march.timeline = &beats;
    march.tolerance = TOLERANCE;
    march.step_tolerance = STEP;
    march.n_gauge = 2;
    march.gauge = gauge;
    const brv_status status = brv_march_pulse(work->curve, &work->sphere.chain, &march, error);
    const double cell = isfinite(grain->cell_radius) ? 1.0 : 0.0;
    for (size_t i = 0; i < n_beat && !status; i++) rise[i] = work->curve[i] - cell * work->curve[n_beat + i];
    return status;
}

static brv_status run_sphere(double rise[], size_t n_beat, const struct brv_grain *grain,
                             const struct brv_heat_ask *ask, struct brv_error *error)
{
    struct sphere_work work;
    brv_status status = make_sphere(&work, grain, n_beat, ask, error);
    if (!status) status = respond(rise, n_beat, &work, grain, ask, error);
    free_sphere(&work);
    return status;
}

/* An earlier layer in which a grain alone has the same around it; only the light differs then. Or `layer` itself. */
static size_t like_layer(const struct brv_crowd *crowd, size_t layer, const struct brv_heat_ask *ask)
{
    const struct brv_layer *own = &ask->tissue->layer[crowd->layer[layer]];
    for (size_t i = 0; i < layer; i++) {
        const double there = ask->tissue->layer[crowd->layer[i]].host_heat_capacity;
        const bool lit = ask->light->mean_fluence[crowd->layer[i]] > 0.0;
        if (lit && !(there < own->host_heat_capacity) && !(there > own->host_heat_capacity)) return i;
    }
    return layer;
}

/* Light is linear: what was found there, with the light of here. */
static void copy_open(struct brv_crowd *crowd, size_t layer, size_t like, size_t size, const struct brv_heat_ask *ask)
{
    const double *light = ask->light->mean_fluence;
    const double more = light[crowd->layer[layer]] / light[crowd->layer[like]];
    const double *from = crowd->open + (like * crowd->n_size + size) * crowd->n_beat;
    double *to = crowd->open + (layer * crowd->n_size + size) * crowd->n_beat;
    for (size_t i = 0; i < crowd->n_beat; i++) to[i] = more * from[i];
}

static brv_status run_one(struct brv_crowd *crowd, size_t layer, size_t size, const struct brv_heat_ask *ask,
                          struct brv_error *error)
{
    const struct brv_tissue *tissue = ask->tissue;
    const size_t place = (layer * crowd->n_size + size) * crowd->n_beat, like = like_layer(crowd, layer, ask);
    const struct brv_grain grain =
        brv_tissue_grain(tissue, crowd->layer[layer], diameter_of(crowd, size, &tissue->grain));
    struct brv_grain alone = grain;
    alone.cell_radius = INFINITY;
    brv_status status = run_sphere(crowd->closed + place, crowd->n_beat, &grain, ask, error);
    if (!status && like == layer) status = run_sphere(crowd->open + place, crowd->n_beat, &alone, ask, error);
    if (!status && like != layer) copy_open(crowd, layer, like, size, ask);
    const double around = 1.0 + host_share(&grain, &tissue->layer[grain.layer]);
    for (size_t i = 0; i < crowd->n_beat && !status; i++) crowd->closed[place + i] *= around;
    return status;
}

brv_status brv_crowd_run(struct brv_crowd *crowd, const size_t mean[BRV_MOST_MEANS], const struct brv_heat_ask *ask,
                         struct brv_error *error)
{
    brv_status status = make_room(crowd, mean, ask, error);
    for (size_t layer = 0; layer < crowd->n_layer; layer++)
        for (size_t size = 0; size < crowd->n_size && !status; size++) status = run_one(crowd, layer, size, ask, error);
    return status; /* the history frees what was begun */
}
