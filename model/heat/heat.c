#include "heat/heat.h"

#include "base/constants.h"
#include "heat/clock.h"
#include "heat/slab.h"
#include "heat/source.h"
#include "heat/sphere.h"
#include "heat/stepper.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define STEP_TOLERANCE 1e-6 /* estimated error of one step over the largest rise; see tests/verification/test_run.c */

/* Cells of the layered skin: a tenth of a micrometre at faces, thinner in thin or very dark layers. */
#define SLAB_FINEST  0.1e-6
#define SLAB_LEAST   2e-9
#define SLAB_GROWTH  0.06
#define THIN_LAYER   16.0 /* cells at the least in the thinnest layer */
#define DARK_LAYER   4.0  /* cells at the least in an absorption length */
#define DARK_FLUENCE 1e-6 /* the endless layer is cut where the fluence is below this */
#define HEAT_REACH   6.0  /* and beyond this many diffusion lengths */

/* Cells of the grain. */
#define GRAIN_GROWTH 0.06
#define GRAIN_WIDEST (1.0 / 40.0)  /* of the radius */
#define GRAIN_FINEST (1.0 / 60.0)  /* at the surface, when the pulse is long ... */
#define GRAIN_LEAST  (1.0 / 600.0) /* ... and when it is very short */
#define GRAIN_LAYER  0.3           /* of the distance heat travels in the pulse */

#define STEPS_PER_WIDTH 16.0   /* while the pulse lasts */
#define NEGLIGIBLE      1e-3   /* of the rise to come: not resolved on the way up */
#define ROUNDING        1e-9   /* of the adiabatic rise: below this a step of the pulse is only rounding */
#define NOTHING         1e-250 /* heat of a cell, so deep in the dark that numbers lose their digits [J] */

static double pulse_delivered(const void *pulse, double time)
{
    return brv_pulse_delivered(pulse, time);
}

static struct brv_source source_of(const double deposit[], const struct brv_pulse *pulse)
{
    return (struct brv_source){.deposit = deposit,
                               .delivered = pulse_delivered,
                               .pulse = pulse,
                               .end = brv_pulse_window(pulse),
                               .longest_step = pulse->width / STEPS_PER_WIDTH};
}

/* ---- the layered skin ---- */

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
static double endless_reach(const struct brv_tissue *tissue, const struct brv_light *light, double until)
{
    const struct brv_layer *last = &tissue->layer[tissue->n_layer - 1];
    const double top = light->top[tissue->n_layer - 1];
    double reach = fmax(1e-3, HEAT_REACH * sqrt(last->conductivity / last->heat_capacity * until));
    while (brv_light_fluence(light, top + reach) > DARK_FLUENCE && reach < 1.0) reach *= 1.25;
    return reach;
}

static brv_status build_slab(struct brv_slab *slab, const struct brv_tissue *tissue, const struct brv_light *light,
                             double until, struct brv_error *error)
{
    struct brv_slab_layer layer[BRV_MOST_LAYERS];
    for (size_t i = 0; i < tissue->n_layer; i++)
        layer[i] = (struct brv_slab_layer){.thickness = tissue->layer[i].thickness,
                                           .conductivity = tissue->layer[i].conductivity,
                                           .heat_capacity = tissue->layer[i].heat_capacity,
                                           .perfusion = tissue->layer[i].perfusion};
    struct brv_slab_layer *last = &layer[tissue->n_layer - 1];
    if (isinf(last->thickness)) last->thickness = endless_reach(tissue, light, until);
    const struct brv_slab_grid grid = slab_grid(tissue);
    return brv_slab_build(slab, layer, tissue->n_layer, &grid, 0.0, 0.0, error);
}

/* Energy absorbed by every cell, all of it and the pigment's part. What still goes down at the end of an endless
 * stack is absorbed in its last cell.                                                                           */
static void lay_deposit(double all[], double pigment[], const struct brv_slab *slab, const struct brv_tissue *tissue,
                        const struct brv_light *light, double fluence)
{
    const bool endless = isinf(tissue->layer[tissue->n_layer - 1].thickness);
    for (size_t layer = 0; layer < slab->n_layer; layer++) {
        const struct brv_layer *here = &tissue->layer[layer];
        const double share = here->absorption > 0.0 ? here->absorption_pigment / here->absorption : 0.0;
        for (size_t i = slab->first_cell[layer]; i < slab->first_cell[layer + 1]; i++) {
            const double below = endless && i + 1 == slab->chain.n ? (double)INFINITY : slab->face[i + 1];
            const double taken = fluence * brv_light_absorbed(light, slab->face[i], below);
            all[i] = here->absorption > 0.0 && taken > NOTHING ? taken : 0.0;
            pigment[i] = share * all[i];
        }
    }
}

/* What one probe of the layered skin shows now. */
static double read_layer(const struct brv_slab *slab, const struct brv_tissue *tissue)
{
    const size_t layer = tissue->grain.layer;
    if (isfinite(tissue->layer[layer].thickness)) return brv_slab_layer_mean(slab, layer);
    return slab->chain.rise[slab->first_cell[layer]]; /* the top of an endless layer */
}

static void record_slab(double curve[], size_t n_time, size_t i, const struct brv_slab *slab,
                        const struct brv_tissue *tissue, const struct brv_watch *watch)
{
    const double layer = read_layer(slab, tissue);
    for (size_t probe = 0; probe < BRV_N_GRAIN_PROBE; probe++) curve[probe * n_time + i] = layer;
    for (size_t d = 0; d < watch->n_depth; d++) {
        const struct brv_reading reading = brv_slab_reading(slab, watch->depth[d]);
        curve[(BRV_N_GRAIN_PROBE + d) * n_time + i] = brv_chain_read(&slab->chain, &reading);
    }
}

static void start_cold(struct brv_stepper *stepper, struct brv_chain *chain)
{
    memset(chain->rise, 0, chain->n * sizeof *chain->rise);
    memset(chain->peak, 0, chain->n * sizeof *chain->peak);
    stepper->carried = stepper->lost = stepper->suggested_step = 0.0;
}

/* The highest rise of any cell if nothing were conducted away [K]. */
static double adiabatic_rise(const struct brv_chain *chain, const double deposit[])
{
    double most = 0.0;
    for (size_t i = 0; i < chain->n; i++) most = fmax(most, deposit[i] / chain->capacity[i]);
    return most;
}

/* Heats the slab with one deposit and writes every probe into curve[n_probe][n_time]. */
static brv_status heat_slab(double curve[], struct brv_stepper *stepper, struct brv_slab *slab, const double deposit[],
                            const struct brv_history *history, const struct brv_tissue *tissue,
                            const struct brv_scenario *ask, struct brv_error *error)
{
    const struct brv_source source = source_of(deposit, &ask->pulse);
    start_cold(stepper, &slab->chain);

    for (size_t i = 1; i < history->n_time; i++) {
        const brv_status status = brv_stepper_advance(stepper, &slab->chain, &source, history->time[i - 1],
                                                      history->time[i], STEP_TOLERANCE, error);
        if (status) return status;
        record_slab(curve, history->n_time, i, slab, tissue, &ask->watch);
    }
    return BRV_OK;
}

static double sum(const double value[], size_t n)
{
    double total = 0.0;
    for (size_t i = 0; i < n; i++) total += value[i];
    return total;
}

static void audit_slab(struct brv_audit *audit, const struct brv_stepper *stepper, const struct brv_slab *slab,
                       const double deposit[])
{
    audit->absorbed = sum(deposit, slab->chain.n);
    audit->stored = brv_chain_stored(&slab->chain);
    audit->carried = stepper->carried;
    audit->lost = stepper->lost;
    const double missing = audit->absorbed - audit->stored - audit->carried - audit->lost;
    audit->layers = audit->absorbed > 0.0 ? missing / audit->absorbed : 0.0;
}

static void keep_profile(struct brv_history *history, const struct brv_slab *slab, const double deposit[])
{
    memcpy(history->face, slab->face, (slab->chain.n + 1) * sizeof *slab->face);
    memcpy(history->peak, slab->chain.peak, slab->chain.n * sizeof *slab->chain.peak);
    for (size_t i = 0; i < slab->chain.n; i++) history->absorbed[i] = deposit[i] / (slab->face[i + 1] - slab->face[i]);
}

static brv_status run_slab(struct brv_history *history, struct brv_audit *audit, struct brv_slab *slab,
                           const struct brv_tissue *tissue, const struct brv_light *light,
                           const struct brv_scenario *ask, struct brv_error *error)
{
    struct brv_stepper stepper;
    brv_status status = brv_stepper_build(&stepper, slab->chain.n, error);
    if (status) return status;
    double *deposit = calloc(2 * slab->chain.n, sizeof *deposit);
    if (!deposit) {
        brv_stepper_free(&stepper);
        return brv_error_raise(error, BRV_MEMORY, "heat");
    }
    double *pigment = deposit + slab->chain.n;
    lay_deposit(deposit, pigment, slab, tissue, light, brv_beam_axis_fluence(&ask->beam));

    /* for both: the pigment's part matters only beside the whole */
    stepper.least_rise = NEGLIGIBLE * adiabatic_rise(&slab->chain, deposit);
    status = heat_slab(history->pigment, &stepper, slab, pigment, history, tissue, ask, error);
    if (!status) status = heat_slab(history->rise, &stepper, slab, deposit, history, tissue, ask, error);
    if (!status) {
        audit_slab(audit, &stepper, slab, deposit);
        keep_profile(history, slab, deposit);
    }
    free(deposit);
    brv_stepper_free(&stepper);
    return status;
}

/* ---- the grain ---- */

/* Cells fine enough for heat that travels for `shortest`; an unbounded grid reaches as far as heat until `longest`. */
static struct brv_sphere_ask sphere_cells(const struct brv_grain *grain, double shortest, double longest)
{
    const double host = grain->host_conductivity / grain->host_heat_capacity;
    const double slower = fmin(grain->conductivity / grain->heat_capacity, host);
    const double travelled = GRAIN_LAYER * sqrt(slower * shortest);
    return (struct brv_sphere_ask){.radius = grain->radius,
                                   .cell_radius = grain->cell_radius,
                                   .reach = 2.0 * grain->radius + HEAT_REACH * sqrt(host * longest),
                                   .conductivity = grain->conductivity,
                                   .host_conductivity = grain->host_conductivity,
                                   .heat_capacity = grain->heat_capacity,
                                   .host_heat_capacity = grain->host_heat_capacity,
                                   .finest =
                                       fmax(GRAIN_LEAST * grain->radius, fmin(GRAIN_FINEST * grain->radius, travelled)),
                                   .growth = GRAIN_GROWTH,
                                   .most = GRAIN_WIDEST * grain->radius};
}

/* Energy of the pulse in every shell, per steradian: all[] is the grain's own and what its surroundings absorb when
 * they are a cell of the layer (far from a grain that is alone the slab already holds that heat); pigment[] is the
 * grain's own.                                                                                                    */
static void lay_sphere_deposit(double all[], double pigment[], const struct brv_sphere *sphere,
                               const struct brv_grain *grain, double fluence)
{
    const double host = isfinite(grain->cell_radius) ? grain->host_absorption : 0.0;
    for (size_t i = 0; i < sphere->chain.n; i++) {
        const double shell = fluence > NOTHING ? fluence * brv_sphere_shell(sphere, i) : 0.0;
        pigment[i] = i < sphere->n_grain ? shell * grain->absorption * grain->shading : 0.0;
        all[i] = i < sphere->n_grain ? pigment[i] : shell * host;
    }
}

/* Adds the sphere's departure from the mean of its cell to the curves of centre, mean and surface; keeps it apart in
 * excess[3][n_time] when that is wanted.                                                                         */
static void record_sphere(double curve[], double *excess, size_t n_time, size_t i, const struct brv_sphere *sphere,
                          bool closed)
{
    const double base = closed ? brv_sphere_cell_mean(sphere) : 0.0;
    const double value[] = {brv_chain_read(&sphere->chain, &sphere->centre), brv_sphere_grain_mean(sphere),
                            brv_chain_read(&sphere->chain, &sphere->surface)};
    for (size_t probe = 0; probe < BRV_PROBE_LAYER; probe++) {
        curve[probe * n_time + i] += value[probe] - base;
        if (excess) excess[probe * n_time + i] = value[probe] - base;
    }
}

static void audit_grain(struct brv_audit *audit, const struct brv_stepper *stepper, const struct brv_sphere *sphere,
                        const double deposit[], const struct brv_tissue *tissue, const struct brv_light *light,
                        double fluence)
{
    const double in = sum(deposit, sphere->chain.n);
    if (in < NOTHING) return; /* deep in the dark heat has no digits left to count */
    audit->grain = (in - brv_chain_stored(&sphere->chain) - stepper->lost) / in;

    const struct brv_layer *layer = &tissue->layer[tissue->grain.layer];
    if (isinf(tissue->grain.cell_radius) || isinf(layer->thickness)) return;
    const double top = light->top[tissue->grain.layer];
    const double cell = pow(sphere->face[sphere->chain.n], 3.0) / 3.0;
    const double own = fluence * brv_light_absorbed(light, top, top + layer->thickness);
    audit->join = own > 0.0 ? in / cell * layer->thickness / own - 1.0 : 0.0;
}

/* The rise a grain will reach: what it keeps of a short pulse, or the steady q a^2 / 3k of a long one [K]. */
static double rise_to_come(const struct brv_chain *chain, const double deposit[], const struct brv_grain *grain,
                           double pulse)
{
    const double adiabatic = adiabatic_rise(chain, deposit);
    const double power = adiabatic * grain->heat_capacity / pulse;
    return fmin(adiabatic, power * grain->radius * grain->radius / (3.0 * grain->host_conductivity));
}

/* How far the grain still is above its cell, over how far it would be had nothing been conducted. */
static double still_held(const struct brv_sphere *sphere, const double deposit[], double delivered, bool closed)
{
    const struct brv_chain *chain = &sphere->chain;
    const double own = sum(deposit, sphere->n_grain) / sum(chain->capacity, sphere->n_grain);
    const double shared = closed ? sum(deposit, chain->n) / sum(chain->capacity, chain->n) : 0.0;
    const double base = closed ? brv_sphere_cell_mean(sphere) : 0.0;
    const double whole = delivered * (own - shared);
    return whole > 0.0 ? (brv_sphere_grain_mean(sphere) - base) / whole : (double)NAN;
}

/* Heats the sphere with one deposit and adds its departure to the curves. `held`: NULL, or where to put the share of
 * the grain's heat that has not left it at the end of the pulse.                                                 */
static brv_status heat_sphere(double curve[], double *excess, double *held, struct brv_stepper *stepper,
                              struct brv_sphere *sphere, const double deposit[], const struct brv_history *history,
                              const struct brv_pulse *pulse, bool closed, struct brv_error *error)
{
    const struct brv_source source = source_of(deposit, pulse);
    const double end = brv_pulse_end(pulse);
    start_cold(stepper, &sphere->chain);
    for (size_t i = 1; i < history->n_time; i++) {
        const brv_status status = brv_stepper_advance(stepper, &sphere->chain, &source, history->time[i - 1],
                                                      history->time[i], STEP_TOLERANCE, error);
        if (status) return status;
        record_sphere(curve, excess, history->n_time, i, sphere, closed);
        if (held && history->time[i - 1] < end && history->time[i] >= end)
            *held = still_held(sphere, deposit, brv_pulse_delivered(pulse, history->time[i]), closed);
    }
    return BRV_OK;
}

static brv_status run_sphere(struct brv_history *history, struct brv_audit *audit, struct brv_sphere *sphere,
                             const struct brv_tissue *tissue, const struct brv_light *light,
                             const struct brv_scenario *ask, struct brv_error *error)
{
    struct brv_stepper stepper;
    brv_status status = brv_stepper_build(&stepper, sphere->chain.n, error);
    if (status) return status;
    double *deposit = calloc(2 * sphere->chain.n, sizeof *deposit);
    if (!deposit) {
        brv_stepper_free(&stepper);
        return brv_error_raise(error, BRV_MEMORY, "heat");
    }
    double *pigment = deposit + sphere->chain.n;
    const double axis = brv_beam_axis_fluence(&ask->beam);
    const bool closed = isfinite(tissue->grain.cell_radius);
    lay_sphere_deposit(deposit, pigment, sphere, &tissue->grain, axis * light->mean_fluence[tissue->grain.layer]);

    stepper.least_rise = fmax(NEGLIGIBLE * rise_to_come(&sphere->chain, deposit, &tissue->grain, ask->pulse.width),
                              ROUNDING * adiabatic_rise(&sphere->chain, deposit));
    status = heat_sphere(history->pigment, NULL, NULL, &stepper, sphere, pigment, history, &ask->pulse, closed, error);
    if (!status)
        status = heat_sphere(history->rise, history->excess, &audit->held, &stepper, sphere, deposit, history,
                             &ask->pulse, closed, error);
    if (!status) audit_grain(audit, &stepper, sphere, deposit, tissue, light, axis);
    free(deposit);
    brv_stepper_free(&stepper);
    return status;
}

brv_status brv_heat_relax(struct brv_cooling *cooling, const struct brv_tissue *tissue, struct brv_error *error)
{
    const struct brv_grain *grain = &tissue->grain;
    const double slower =
        fmax(grain->host_heat_capacity / grain->host_conductivity, grain->heat_capacity / grain->conductivity);
    const double scale = grain->radius * grain->radius * slower;
    const struct brv_sphere_ask cells = sphere_cells(grain, 0.0, 10.0 * scale);
    return brv_cooling_measure(cooling, &cells, error);
}

/* ---- both ---- */

/* One list of times for lesion and neighbour, fine enough for the smaller of their grains. */
static size_t lay_times(double time[BRV_CLOCK_ROOM], const struct brv_scenario *ask)
{
    const double diameter = fmin(ask->skin[BRV_LESION].grain.diameter, ask->skin[BRV_NEIGHBOUR].grain.diameter);
    const struct brv_clock_ask clock = {.window = brv_pulse_window(&ask->pulse),
                                        .end = brv_pulse_end(&ask->pulse),
                                        .grain = 0.25 * diameter * diameter / BRV_TRADE_DIFFUSIVITY,
                                        .until = ask->watch.until};
    return brv_clock_times(time, &clock);
}

static brv_status check_audit(const struct brv_audit *audit, struct brv_error *error)
{
    const double share[] = {audit->layers, audit->grain, audit->join};
    static const char *const place[] = {"energy audit of the layers", "energy audit of the grain",
                                        "energy of grains against their layer"};
    for (size_t i = 0; i < 3; i++)
        if (!(fabs(share[i]) <= BRV_AUDIT_TOLERANCE))
            return brv_error_raise_number(error, BRV_NUMERICS, place[i], share[i], BRV_AUDIT_TOLERANCE);
    return BRV_OK;
}

brv_status brv_heat_run(struct brv_history *history, struct brv_audit *audit, const struct brv_tissue *tissue,
                        const struct brv_light *light, const struct brv_scenario *ask, struct brv_error *error)
{
    struct brv_slab slab = {.n_layer = 0};
    struct brv_sphere sphere = {.n_grain = 0};
    double time[BRV_CLOCK_ROOM];
    const size_t n_time = lay_times(time, ask);
    *history = (struct brv_history){.n_time = 0};
    *audit = (struct brv_audit){.absorbed = 0.0};

    brv_status status = build_slab(&slab, tissue, light, ask->watch.until, error);
    const struct brv_sphere_ask cells = sphere_cells(&tissue->grain, ask->pulse.width, ask->watch.until);
    if (!status) status = brv_sphere_build(&sphere, &cells, error);
    if (!status)
        status = brv_history_build(history, n_time, BRV_N_GRAIN_PROBE + ask->watch.n_depth, slab.chain.n, error);
    if (!status) {
        memcpy(history->time, time, n_time * sizeof *time);
        history->kink = ask->pulse.shape == BRV_SHAPE_SQUARE ? brv_pulse_window(&ask->pulse) : 0.0;
        status = run_slab(history, audit, &slab, tissue, light, ask, error);
    }
    if (!status) status = run_sphere(history, audit, &sphere, tissue, light, ask, error);
    if (!status) status = check_audit(audit, error);

    brv_slab_free(&slab);
    brv_sphere_free(&sphere);
    if (status) brv_history_free(history);
    return status;
}
