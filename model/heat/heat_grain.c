#include "heat/heat_grain.h"

#include "base/array.h"
#include "heat/march.h"

#include <math.h>
#include <stdlib.h>

/* Cells of the grain. */
#define GRAIN_GROWTH 0.06
#define GRAIN_WIDEST (1.0 / 40.0) /* of the radius */
#define CELL_WIDEST                                                                                                    \
    (1.0 / 2000.0)                /* of the radius of the cell, where that is more: pigment may be so rare that its cell
                                       holds millions of grains, and cells that narrow would not fit into memory */
#define GRAIN_FINEST (1.0 / 60.0) /* at the surface, when the pulse is long ... */
#define GRAIN_LEAST  (1.0 / 600.0) /* ... and when it is very short */
#define GRAIN_LAYER  0.3           /* of the distance heat travels in the pulse */
#define ROUNDING     1e-9          /* of the adiabatic rise: below this a step of the pulse is only rounding */

struct grain_work {
    struct brv_sphere *sphere;
    double *deposit, *pigment; /* [n] by one pulse, per steradian [J] */
    double *inner, *whole;     /* [n] weights of the means over grain and cell */
    double *curve;             /* [BRV_N_GRAIN_GAUGE][n_time] */
    double *state;             /* [n_profile][n] */
    bool closed;
};

struct brv_sphere_ask brv_grain_cells(const struct brv_grain *grain, double shortest, double longest)
{
    const double host = grain->host_conductivity / grain->host_heat_capacity;
    const double slower = fmin(grain->conductivity / grain->heat_capacity, host);
    const double travelled = GRAIN_LAYER * sqrt(slower * shortest);
    return (struct brv_sphere_ask){
        .radius = grain->radius,
        .cell_radius = grain->cell_radius,
        .reach = 2.0 * grain->radius + BRV_HEAT_REACH * sqrt(host * longest),
        .conductivity = grain->conductivity,
        .host_conductivity = grain->host_conductivity,
        .heat_capacity = grain->heat_capacity,
        .host_heat_capacity = grain->host_heat_capacity,
        .finest = fmax(GRAIN_LEAST * grain->radius, fmin(GRAIN_FINEST * grain->radius, travelled)),
        .growth = GRAIN_GROWTH,
        .most = GRAIN_WIDEST * grain->radius,
        .most_around = isfinite(grain->cell_radius) ? CELL_WIDEST * grain->cell_radius : 0.0};
}

/* ---- room ---- */

static brv_status make_room(struct grain_work *work, const struct brv_history *history, struct brv_error *error)
{
    const size_t n = work->sphere->chain.n;
    work->deposit = brv_array_new(n);
    work->pigment = brv_array_new(n);
    work->inner = brv_array_new(n);
    work->whole = brv_array_new(n);
    work->curve = brv_array_new(BRV_N_GRAIN_GAUGE * history->n_time);
    work->state = brv_array_new(history->n_profile * n);
    const bool complete = work->deposit && work->pigment && work->inner && work->whole && work->curve && work->state;
    return complete ? BRV_OK : brv_error_raise(error, BRV_MEMORY, "heat");
}

static void release(struct grain_work *work)
{
    double *const array[] = {work->deposit, work->pigment, work->inner, work->whole, work->curve, work->state};
    for (size_t i = 0; i < sizeof array / sizeof *array; i++) free(array[i]);
}

/* ---- what is given and what is read ---- */

void brv_grain_deposit(double all[], double pigment[], const struct brv_sphere *sphere, const struct brv_grain *grain,
                       double fluence)
{
    const double host = isfinite(grain->cell_radius) ? grain->host_absorption : 0.0;
    for (size_t i = 0; i < sphere->chain.n; i++) {
        const double shell = fluence > BRV_HEAT_NOTHING ? fluence * brv_sphere_shell(sphere, i) : 0.0;
        pigment[i] = i < sphere->n_grain ? shell * grain->absorption * grain->shading : 0.0;
        all[i] = i < sphere->n_grain ? pigment[i] : shell * host;
    }
}

static void lay_mean(double weight[], const struct brv_chain *chain, size_t n)
{
    double whole = 0.0;
    for (size_t i = 0; i < n; i++) whole += chain->capacity[i];
    for (size_t i = 0; i < n; i++) weight[i] = chain->capacity[i] / whole;
}

void brv_grain_gauge(struct brv_gauge gauge[BRV_N_GRAIN_GAUGE], double inner[], double whole[],
                     const struct brv_sphere *sphere)
{
    lay_mean(inner, &sphere->chain, sphere->n_grain);
    lay_mean(whole, &sphere->chain, sphere->chain.n);
    gauge[BRV_GRAIN_CENTRE] = brv_gauge_of(&sphere->centre);
    gauge[BRV_GRAIN_MEAN] = (struct brv_gauge){0, sphere->n_grain, inner};
    gauge[BRV_GRAIN_SURFACE] = brv_gauge_of(&sphere->surface);
    gauge[BRV_GRAIN_CELL] = (struct brv_gauge){0, sphere->chain.n, whole};
}

/* The rise a grain will reach: what it keeps of a short pulse, or the steady q a^2 / 3k of a long one [K]. */
static double rise_to_come(const struct brv_sphere *sphere, const struct brv_grain *grain, const double deposit[],
                           double pulse)
{
    const double adiabatic = brv_heat_adiabatic(&sphere->chain, deposit);
    const double power = adiabatic * grain->heat_capacity / pulse;
    return fmax(BRV_HEAT_NEGLIGIBLE *
                    fmin(adiabatic, power * grain->radius * grain->radius / (3.0 * grain->host_conductivity)),
                ROUNDING * adiabatic);
}

struct brv_march_ask brv_grain_march(const struct brv_sphere *sphere, const struct brv_grain *grain,
                                     const double deposit[], const struct brv_heat_ask *ask)
{
    const struct brv_pulse *pulse = &ask->scenario->pulse;
    return (struct brv_march_ask){.timeline = ask->timeline,
                                  .source = brv_heat_source(deposit, pulse),
                                  .step_tolerance = BRV_STEP_TOLERANCE,
                                  .tolerance = BRV_GLIDE_TOLERANCE,
                                  .least_rise = rise_to_come(sphere, grain, deposit, pulse->width)};
}

/* ---- what is written ---- */

/* A grain is its layer and the departure of the sphere from the mean of its cell. */
static void add_excess(double curves[], double *excess, const struct brv_history *history,
                       const struct grain_work *work)
{
    const size_t n = history->n_time;
    const double *layer = curves + BRV_PROBE_LAYER * n, *cell = work->curve + BRV_GRAIN_CELL * n;
    for (size_t probe = 0; probe < BRV_PROBE_LAYER; probe++)
        for (size_t i = 0; i < n; i++) {
            const double above = work->curve[probe * n + i] - (work->closed ? cell[i] : 0.0);
            curves[probe * n + i] = layer[i] + above;
            if (excess) excess[probe * n + i] = above;
        }
}

static double sum(const double value[], size_t n)
{
    double total = 0.0;
    for (size_t i = 0; i < n; i++) total += value[i];
    return total;
}

/* How far the grain is above its cell when the first pulse ends, over how far it would be had nothing been conducted. */
static double still_held(const struct grain_work *work, const struct brv_history *history,
                         const struct brv_heat_ask *ask)
{
    const struct brv_sphere *sphere = work->sphere;
    const double end = brv_pulse_end(&ask->scenario->pulse);
    const size_t row = brv_timeline_row(ask->timeline, 1, end);
    const double own = sum(work->deposit, sphere->n_grain) / sum(sphere->chain.capacity, sphere->n_grain);
    const double shared = sum(work->deposit, sphere->chain.n) / sum(sphere->chain.capacity, sphere->chain.n);
    const double whole = brv_pulse_delivered(&ask->scenario->pulse, end) * (own - (work->closed ? shared : 0.0));
    if (row == BRV_NO_BEAT || !(whole > 0.0)) return (double)NAN;
    return history->excess[BRV_GRAIN_MEAN * history->n_time + row] / whole;
}

/* The sphere about its cell's mean, on top of the layer. */
static void keep_profiles(struct brv_history *history, const struct grain_work *work, const size_t row[])
{
    const struct brv_sphere *sphere = work->sphere;
    const size_t n = sphere->chain.n, n_time = history->n_time;
    for (size_t i = 0; i < n; i++) history->radius[i] = 0.5 * (sphere->face[i] + sphere->face[i + 1]);
    for (size_t k = 0; k < history->n_profile; k++)
        for (size_t i = 0; i < n; i++) {
            const double cell = work->closed ? work->curve[BRV_GRAIN_CELL * n_time + row[k]] : 0.0;
            history->profile[k * n + i] =
                history->rise[BRV_PROBE_LAYER * n_time + row[k]] + work->state[k * n + i] - cell;
        }
}

static void audit_grain(struct brv_audit *audit, const struct brv_ledger *ledger, const struct grain_work *work,
                        const struct brv_heat_ask *ask)
{
    const struct brv_tissue *tissue = ask->tissue;
    const struct brv_layer *layer = &tissue->layer[tissue->grain.layer];
    if (ledger->absorbed < BRV_HEAT_NOTHING) return; /* deep in the dark heat has no digits left to count */
    audit->grain = brv_ledger_missing(ledger);
    if (!work->closed || isinf(layer->thickness)) return;
    const double top = ask->light->top[tissue->grain.layer];
    const double cell = pow(work->sphere->face[work->sphere->chain.n], 3.0) / 3.0;
    const double own = brv_beam_axis_fluence(&ask->scenario->beam) *
                       brv_light_absorbed(ask->light, top, top + layer->thickness) * (double)ask->timeline->n_pulse;
    audit->join = own > 0.0 ? ledger->absorbed / cell * layer->thickness / own - 1.0 : 0.0;
}

/* ---- running ---- */

static brv_status heat(struct brv_history *history, struct brv_audit *audit, struct grain_work *work,
                       const struct brv_heat_ask *ask, struct brv_error *error)
{
    struct brv_ledger ledger;
    struct brv_gauge gauge[BRV_N_GRAIN_GAUGE];
    struct brv_chain *chain = &work->sphere->chain;
    brv_grain_gauge(gauge, work->inner, work->whole, work->sphere);
    struct brv_march_ask march = brv_grain_march(work->sphere, &ask->tissue->grain, work->deposit, ask);
    march.n_gauge = BRV_N_GRAIN_GAUGE;
    march.gauge = gauge;
    march.source.deposit = work->pigment;
    brv_status status = brv_march_run(&ledger, work->curve, NULL, chain, &march, error);
    if (status) return status;
    add_excess(history->pigment, NULL, history, work);

    march.source.deposit = work->deposit;
    march.n_kept = history->n_profile;
    march.kept = ask->profile_row;
    status = brv_march_run(&ledger, work->curve, work->state, chain, &march, error);
    if (status) return status;
    add_excess(history->rise, history->excess, history, work);
    audit->held = still_held(work, history, ask);
    audit_grain(audit, &ledger, work, ask);
    keep_profiles(history, work, ask->profile_row);
    return BRV_OK;
}

/* Where the layer is cooled its grains are. */
static void cool(struct brv_history *history)
{
    const size_t n = history->n_time;
    for (size_t probe = 0; probe < BRV_PROBE_LAYER && history->cooled; probe++)
        for (size_t i = 0; i < n; i++) history->cooled[probe * n + i] = history->cooled[BRV_PROBE_LAYER * n + i];
}

brv_status brv_grain_run(struct brv_history *history, struct brv_audit *audit, struct brv_sphere *sphere,
                         const struct brv_heat_ask *ask, struct brv_error *error)
{
    const struct brv_grain *grain = &ask->tissue->grain;
    struct grain_work work = {.sphere = sphere, .closed = isfinite(grain->cell_radius)};
    brv_status status = make_room(&work, history, error);
    if (!status) {
        brv_grain_deposit(work.deposit, work.pigment, sphere, grain,
                          brv_beam_axis_fluence(&ask->scenario->beam) * ask->light->mean_fluence[grain->layer]);
        status = heat(history, audit, &work, ask, error);
    }
    if (!status) cool(history);
    release(&work);
    return status;
}
