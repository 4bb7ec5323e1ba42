#include "heat/heat_layers.h"

#include "base/array.h"
#include "base/constants.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Cells of the layered skin: a tenth of a micrometre at faces, thinner in thin or very dark layers. */
#define SLAB_FINEST  0.1e-6
#define SLAB_LEAST   2e-9
#define SLAB_GROWTH  0.06
#define THIN_LAYER   32.0 /* cells at the least in the thinnest layer */
#define DARK_LAYER   4.0  /* cells at the least in an absorption length */
#define DARK_FLUENCE 1e-6 /* the endless layer is cut where the fluence is below this */

#define SPOT_SHARE 0.25 /* the last probe lies this much of the spot deep */

/* ---- building ---- */

static double darkest(const struct brv_tissue *tissue)
{
    double most = 0.0;
    for (size_t i = 0; i < tissue->n_layer; i++) most = fmax(most, tissue->layer[i].absorption);
    return most;
}

static struct brv_slab_grid slab_grid(const struct brv_tissue *tissue)
{
    double finest = SLAB_FINEST;
    for (size_t i = 0; i < tissue->n_layer; i++) finest = fmin(finest, tissue->layer[i].thickness / THIN_LAYER);
    if (darkest(tissue) > 0.0) finest = fmin(finest, 1.0 / (DARK_LAYER * darkest(tissue)));
    return (struct brv_slab_grid){.finest = fmax(finest, SLAB_LEAST), .growth = SLAB_GROWTH, .most = INFINITY};
}

/* How much of the endless layer to keep: light has died out and heat has not arrived. */
static double endless_reach(const struct brv_heat_ask *ask)
{
    const struct brv_tissue *tissue = ask->tissue;
    const struct brv_layer *last = &tissue->layer[tissue->n_layer - 1];
    const double top = ask->light->top[tissue->n_layer - 1], span = brv_heat_span(ask);
    double reach = fmax(1e-3, BRV_HEAT_REACH * sqrt(last->conductivity / last->heat_capacity * span));
    while (brv_light_fluence(ask->light, top + reach) > DARK_FLUENCE && reach < 1.0) reach *= 1.25;
    return reach;
}

/* What the skin loses per kelvin while nothing is laid on it [W/m2/K]. */
static double bare_transfer(const struct brv_scenario *ask)
{
    return brv_surface_changes(ask) ? ask->surface.air_transfer : ask->surface.transfer;
}

brv_status brv_heat_slab(struct brv_slab *slab, const struct brv_heat_ask *ask, const struct brv_slab_grid *grid,
                         struct brv_error *error)
{
    const struct brv_tissue *tissue = ask->tissue;
    struct brv_slab_layer layer[BRV_MOST_LAYERS];
    for (size_t i = 0; i < tissue->n_layer; i++)
        layer[i] = (struct brv_slab_layer){.thickness = tissue->layer[i].thickness,
                                           .conductivity = tissue->layer[i].conductivity,
                                           .heat_capacity = tissue->layer[i].heat_capacity,
                                           .perfusion = tissue->layer[i].perfusion};
    struct brv_slab_layer *last = &layer[tissue->n_layer - 1];
    if (isinf(last->thickness)) last->thickness = endless_reach(ask);
    return brv_slab_build(slab, layer, tissue->n_layer, grid, bare_transfer(ask->scenario), 0.0, error);
}

static void build_start(struct brv_start *start, const struct brv_heat_ask *ask)
{
    const struct brv_tissue *tissue = ask->tissue;
    double thickness[BRV_MOST_LAYERS], conductivity[BRV_MOST_LAYERS], sink[BRV_MOST_LAYERS];
    for (size_t i = 0; i < tissue->n_layer; i++) {
        thickness[i] = tissue->layer[i].thickness;
        conductivity[i] = tissue->layer[i].conductivity;
        sink[i] = tissue->layer[i].perfusion;
    }
    brv_start_build(start, tissue->n_layer, thickness, conductivity, sink, 0.0, ask->scenario->surface.temperature,
                    ask->scenario->surface.core);
}

/* Energy absorbed by every cell, all of it and the pigment's part. What still goes down at the end of an endless
 * stack is absorbed in its last cell.                                                                           */
void brv_heat_deposit(double all[], double pigment[], const struct brv_slab *slab, const struct brv_heat_ask *ask)
{
    const struct brv_tissue *tissue = ask->tissue;
    const double fluence = brv_beam_axis_fluence(&ask->scenario->beam);
    const double above = brv_tissue_above(tissue);
    const bool endless = isinf(tissue->layer[tissue->n_layer - 1].thickness);
    for (size_t layer = 0; layer < slab->n_layer; layer++) {
        const struct brv_layer *here = &tissue->layer[layer];
        const double share = here->absorption > 0.0 ? here->absorption_pigment / here->absorption : 0.0;
        for (size_t i = slab->first_cell[layer]; i < slab->first_cell[layer + 1]; i++) {
            const double below = endless && i + 1 == slab->chain.n ? (double)INFINITY : slab->face[i + 1] - above;
            const double taken = fluence * brv_light_absorbed(ask->light, slab->face[i] - above, below);
            all[i] = here->absorption > 0.0 && taken > BRV_HEAT_NOTHING ? taken : 0.0;
            pigment[i] = share * all[i];
        }
    }
}

/* ---- probes ---- */

static const double mark_depth[BRV_N_MARK] = {0.3e-3, 1e-3}; /* where the dermis is looked at [m] */

static void add_probe(struct brv_layers *layers, double depth, size_t layer)
{
    layers->depth[layers->n_probe] = depth;
    layers->layer[layers->n_probe++] = layer;
}

static bool is_mean_wanted(const struct brv_tissue *tissue, size_t layer)
{
    if (tissue->layer[layer].kind == BRV_FILM) return true;
    return layer != tissue->grain.layer && tissue->layer[layer].absorption_pigment > 0.0;
}

static void lay_probes(struct brv_layers *layers, const struct brv_heat_ask *ask)
{
    const struct brv_watch *watch = &ask->scenario->watch;
    const struct brv_tissue *tissue = ask->tissue;
    const double whole = brv_heat_thickness(tissue);
    layers->above = brv_tissue_above(tissue);
    add_probe(layers, ask->light->top[tissue->grain.layer], tissue->grain.layer);
    for (size_t d = 0; d < watch->n_depth; d++) add_probe(layers, watch->depth[d], BRV_NO_LAYER);
    add_probe(layers, fmin(SPOT_SHARE * ask->scenario->beam.spot, whole), BRV_NO_LAYER);
    for (size_t k = 0; k < BRV_N_MARK; k++)
        if (mark_depth[k] <= whole) add_probe(layers, mark_depth[k], BRV_NO_LAYER);
    for (size_t i = 0; i < tissue->n_layer; i++)
        if (is_mean_wanted(tissue, i)) add_probe(layers, ask->light->top[i], i);
}

size_t brv_layers_probes(const struct brv_layers *layers)
{
    return BRV_PROBE_LAYER + layers->n_probe;
}

void brv_layers_name(struct brv_history *history, const struct brv_layers *layers)
{
    for (size_t i = 0; i < BRV_MOST_MEANS; i++) history->mean[i] = BRV_NO_PROBE;
    for (size_t i = 0; i < BRV_PROBE_LAYER; i++) history->depth[i] = layers->depth[0];
    for (size_t i = 0; i < layers->n_probe; i++) history->depth[BRV_PROBE_LAYER + i] = layers->depth[i];
    for (size_t i = 0; i < layers->n_probe; i++)
        if (layers->layer[i] != BRV_NO_LAYER) {
            const bool film = layers->above > 0.0 && layers->layer[i] == 0;
            *(film ? &history->film : &history->mean[layers->layer[i]]) = BRV_PROBE_LAYER + i;
        }

    size_t next = history->quarter + 1;
    for (size_t k = 0; k < BRV_N_MARK; k++) {
        const size_t own = next - BRV_PROBE_LAYER;
        const bool there = own < layers->n_probe && layers->layer[own] == BRV_NO_LAYER;
        history->mark[k] = there ? next++ : BRV_NO_PROBE;
    }
}

/* The top of an endless layer, by a straight line through its first two cells: what is above the face may be another
 * temperature while light has just come.                                                                          */
static struct brv_gauge top_gauge(double weight[], const struct brv_slab *slab, size_t first)
{
    const double *face = slab->face + first;
    const double above =
        (face[1] - face[0]) / (face[2] - face[0]); /* from the first centre up, over centre to centre */
    weight[0] = 1.0 + above;
    weight[1] = -above;
    return (struct brv_gauge){first, 2, weight};
}

/* The mean over a layer; of an endless layer, its top. */
static struct brv_gauge mean_gauge(double weight[], const struct brv_slab *slab, const struct brv_tissue *tissue,
                                   size_t layer)
{
    const size_t first = slab->first_cell[layer];
    if (isinf(tissue->layer[layer].thickness)) return top_gauge(weight, slab, first);
    const size_t n = slab->first_cell[layer + 1] - first;
    double whole = 0.0;
    for (size_t i = 0; i < n; i++) whole += slab->chain.capacity[first + i];
    for (size_t i = 0; i < n; i++) weight[i] = slab->chain.capacity[first + i] / whole;
    return (struct brv_gauge){first, n, weight};
}

void brv_layers_gauge(struct brv_gauge gauge[], double mean[], struct brv_reading reading[],
                      const struct brv_layers *layers, const struct brv_slab *slab, const struct brv_tissue *tissue)
{
    for (size_t i = 0; i < layers->n_probe; i++) {
        const size_t layer = layers->layer[i];
        if (layer != BRV_NO_LAYER) {
            gauge[i] = mean_gauge(mean + slab->first_cell[layer], slab, tissue, layer);
            continue;
        }
        reading[i] = brv_slab_reading(slab, layers->depth[i] + layers->above);
        gauge[i] = brv_gauge_of(&reading[i]);
    }
}

/* ---- what lies on the skin ---- */

/* Taken from skin at its start temperature, beyond what the steady flux brings: h (T_skin - T_outside) - flux. The
 * first half cell stands between: of a draw g the cell gives G / (G + h) g.                                         */
static void lay_surface(struct brv_layers *layers, const struct brv_heat_ask *ask)
{
    const struct brv_surface *surface = &ask->scenario->surface;
    const double half = brv_slab_half_conductance(&layers->slab, 0);
    const double wanted = surface->transfer * (surface->temperature - surface->outside_temperature);
    layers->top_covered = half * surface->transfer / (half + surface->transfer);
    layers->draw =
        brv_heat_draws(ask->scenario) ? (wanted - layers->start.flux) * half / (half + surface->transfer) : 0.0;
}

brv_status brv_layers_build(struct brv_layers *layers, const struct brv_heat_ask *ask, struct brv_error *error)
{
    *layers = (struct brv_layers){.n_probe = 0};
    const struct brv_slab_grid grid = slab_grid(ask->tissue);
    brv_status status = brv_heat_slab(&layers->slab, ask, &grid, error);
    build_start(&layers->start, ask);
    if (!status) {
        layers->deposit = brv_array_new(layers->slab.chain.n);
        layers->pigment = brv_array_new(layers->slab.chain.n);
        layers->mean = brv_array_new(layers->slab.chain.n);
        if (!layers->deposit || !layers->pigment || !layers->mean) status = brv_error_raise(error, BRV_MEMORY, "heat");
    }
    if (status) {
        brv_layers_free(layers);
        return status;
    }
    lay_probes(layers, ask);
    brv_layers_gauge(layers->gauge, layers->mean, layers->reading, layers, &layers->slab, ask->tissue);
    lay_surface(layers, ask);
    brv_heat_deposit(layers->deposit, layers->pigment, &layers->slab, ask);
    return BRV_OK;
}

void brv_layers_free(struct brv_layers *layers)
{
    brv_slab_free(&layers->slab);
    free(layers->deposit);
    free(layers->pigment);
    free(layers->mean);
    *layers = (struct brv_layers){.n_probe = 0};
}

/* ---- running ---- */

struct brv_march_ask brv_layers_march(const struct brv_layers *layers, const struct brv_heat_ask *ask)
{
    const struct brv_slab *slab = &layers->slab;
    return (struct brv_march_ask){.timeline = ask->timeline,
                                  .top_bare = slab->chain.link[0],
                                  .top_covered = layers->top_covered,
                                  .source = brv_heat_source(NULL, &ask->scenario->pulse),
                                  .step_tolerance = BRV_STEP_TOLERANCE,
                                  .tolerance = BRV_GLIDE_TOLERANCE,
                                  .least_rise = BRV_HEAT_NEGLIGIBLE * brv_heat_adiabatic(&slab->chain, layers->deposit),
                                  .n_gauge = layers->n_probe,
                                  .gauge = layers->gauge};
}

static double *curve_of(double curves[], const struct brv_history *history)
{
    return curves + BRV_PROBE_LAYER * history->n_time;
}

/* Pulses and cooling as one problem: the highest rise of every cell and the energy account. Without cooling it is that
 * of the pulses alone, so their curves come along.                                                                  */
static brv_status run_whole(struct brv_history *history, struct brv_audit *audit, struct brv_layers *layers,
                            const struct brv_march_ask *march, struct brv_error *error)
{
    struct brv_march_ask whole = *march;
    whole.source.deposit = layers->deposit;
    whole.inflow_covered = -layers->draw;
    whole.peaks = true;
    const brv_status status =
        brv_march_run(&audit->skin, curve_of(history->rise, history), NULL, &layers->slab.chain, &whole, error);
    if (status) return status;
    audit->layers = brv_ledger_missing(&audit->skin);
    history->adiabatic = brv_heat_adiabatic(&layers->slab.chain, layers->deposit);
    for (size_t i = 0; i <= layers->slab.chain.n; i++) history->face[i] = layers->slab.face[i] - layers->above;
    memcpy(history->peak, layers->slab.chain.peak, layers->slab.chain.n * sizeof *history->peak);
    for (size_t i = 0; i < layers->slab.chain.n; i++)
        history->absorbed[i] = layers->deposit[i] / (layers->slab.face[i + 1] - layers->slab.face[i]);
    return BRV_OK;
}

/* What the light that the film took up warms, of all that the pulses warm. */
static brv_status run_film(struct brv_history *history, struct brv_layers *layers, const struct brv_march_ask *march,
                           struct brv_error *error)
{
    struct brv_ledger ledger;
    struct brv_march_ask film = *march;
    const size_t n = layers->slab.chain.n;
    double *deposit = brv_array_new(n);
    if (!deposit) return brv_error_raise(error, BRV_MEMORY, "heat");
    memcpy(deposit, layers->deposit, layers->slab.first_cell[1] * sizeof *deposit);
    film.source.deposit = deposit;
    const brv_status status =
        brv_march_run(&ledger, curve_of(history->from_film, history), NULL, &layers->slab.chain, &film, error);
    free(deposit);
    return status;
}

/* Of its cells only the highest rise is kept, and that in depth only. What they differ in is settled across the film
 * long before heat goes sideways, so it is kept by itself and counts on top of a mean that knows both ways.      */
static void keep_over(struct brv_history *history, const struct brv_layers *layers)
{
    double most = 0.0;
    for (size_t i = 0; i < layers->slab.first_cell[1]; i++) most = fmax(most, history->peak[i]);
    const struct brv_summit mean = brv_history_summit(history, history->film, (struct brv_scaling){1.0, 1.0, NULL});
    history->film_over = fmax(most - mean.value, 0.0);
}

/* The two apart: what cools alone, then the pulses alone. */
static brv_status run_apart(struct brv_history *history, struct brv_audit *audit, struct brv_layers *layers,
                            const struct brv_march_ask *march, struct brv_error *error)
{
    struct brv_ledger ledger;
    struct brv_march_ask cooling = *march, pulses = *march;
    cooling.inflow_covered = -layers->draw;
    pulses.source.deposit = layers->deposit;
    brv_status status =
        brv_march_run(&ledger, curve_of(history->cooled, history), NULL, &layers->slab.chain, &cooling, error);
    if (!status)
        status = brv_march_run(&ledger, curve_of(history->rise, history), NULL, &layers->slab.chain, &pulses, error);
    if (!status) audit->pulses = brv_ledger_missing(&ledger);
    return status;
}

static void keep_start(struct brv_history *history, const struct brv_layers *layers, const struct brv_tissue *tissue)
{
    const double mean = brv_start_layer_mean(&layers->start, tissue->grain.layer);
    for (size_t probe = 0; probe <= BRV_PROBE_LAYER; probe++) history->start[probe] = mean;
    for (size_t i = 1; i < layers->n_probe; i++)
        history->start[BRV_PROBE_LAYER + i] =
            layers->layer[i] == BRV_NO_LAYER ? brv_start_temperature(&layers->start, layers->depth[i] + layers->above)
                                             : brv_start_layer_mean(&layers->start, layers->layer[i]);
    history->steady_flux = layers->start.flux;
}

brv_status brv_layers_run(struct brv_history *history, struct brv_audit *audit, struct brv_layers *layers,
                          const struct brv_heat_ask *ask, struct brv_error *error)
{
    struct brv_ledger ledger;
    const struct brv_march_ask march = brv_layers_march(layers, ask);
    struct brv_march_ask pigment = march;
    pigment.source.deposit = layers->pigment;
    keep_start(history, layers, ask->tissue);
    brv_status status =
        brv_march_run(&ledger, curve_of(history->pigment, history), NULL, &layers->slab.chain, &pigment, error);
    if (!status && layers->above > 0.0) status = run_film(history, layers, &march, error);
    if (!status) status = run_whole(history, audit, layers, &march, error);
    if (!status && layers->above > 0.0) keep_over(history, layers);
    if (!status && history->cooled) status = run_apart(history, audit, layers, &march, error);
    return status;
}
