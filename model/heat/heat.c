#include "heat/heat.h"

#include "base/array.h"
#include "base/constants.h"
#include "heat/heat_answer.h"
#include "heat/heat_beside.h"
#include "heat/heat_crowd.h"
#include "heat/heat_grain.h"
#include "heat/heat_layers.h"
#include "scenario/keys.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define STEPS_PER_WIDTH 16.0 /* while the pulse lasts */
#define MAP_TIME        10.0 /* heat beside the axis is kept then, after the last pulse [s] */

/* ---- for the parts ---- */

static double pulse_delivered(const void *pulse, double time)
{
    return brv_pulse_delivered(pulse, time);
}

struct brv_source brv_heat_source(const double deposit[], const struct brv_pulse *pulse)
{
    return (struct brv_source){.deposit = deposit,
                               .delivered = pulse_delivered,
                               .pulse = pulse,
                               .end = brv_pulse_window(pulse),
                               .longest_step = pulse->width / STEPS_PER_WIDTH};
}

double brv_heat_adiabatic(const struct brv_chain *chain, const double deposit[])
{
    double most = 0.0;
    for (size_t i = 0; i < chain->n; i++) most = fmax(most, deposit[i] / chain->capacity[i]);
    return most;
}

double brv_heat_span(const struct brv_heat_ask *ask)
{
    return ask->scenario->watch.until - fmin(ask->timeline->spell[0].start, 0.0);
}

double brv_heat_thickness(const struct brv_tissue *tissue)
{
    double sum = 0.0;
    for (size_t i = tissue->layer[0].kind == BRV_FILM; i < tissue->n_layer; i++) sum += tissue->layer[i].thickness;
    return sum;
}

bool brv_heat_draws(const struct brv_scenario *ask)
{
    return brv_surface_changes(ask) && brv_key_given(&ask->surface, BRV_SCOPE_SURFACE, "outside_temperature");
}

brv_status brv_heat_relax(struct brv_cooling *cooling, const struct brv_tissue *tissue, struct brv_error *error)
{
    const struct brv_grain *grain = &tissue->grain;
    const double slower =
        fmax(grain->host_heat_capacity / grain->host_conductivity, grain->heat_capacity / grain->conductivity);
    const double scale = grain->radius * grain->radius * slower;
    const struct brv_sphere_ask cells = brv_grain_cells(grain, 0.0, 10.0 * scale);
    return brv_cooling_measure(cooling, &cells, error);
}

/* ---- when ---- */

/* Profiles of the grain are kept when the first pulse ends and a nanosecond to a millisecond later, by tens. */
static const double profile_after[BRV_MOST_PROFILES] = {0.0, 1e-9, 1e-8, 1e-7, 1e-6, 1e-5, 1e-4, 1e-3};

/* One list of times for lesion and neighbour, fine enough for the smaller of their grains. */
static brv_status lay_timeline(struct brv_timeline *timeline, const struct brv_scenario *ask, struct brv_error *error)
{
    const double diameter = fmin(ask->skin[BRV_LESION].grain.diameter, ask->skin[BRV_NEIGHBOUR].grain.diameter);
    const bool covered = brv_surface_changes(ask);
    double *start = brv_array_new(brv_pulse_total(&ask->pulse));
    if (!start) return brv_error_raise(error, BRV_MEMORY, "heat");
    struct brv_timeline_ask when = {.n_pulse = brv_pulse_total(&ask->pulse),
                                    .pulse = start,
                                    .window = brv_pulse_window(&ask->pulse),
                                    .end = brv_pulse_end(&ask->pulse),
                                    .grain = 0.25 * diameter * diameter / BRV_TRADE_DIFFUSIVITY,
                                    .from = covered ? ask->surface.from : 0.0,
                                    .to = covered ? ask->surface.to : 0.0,
                                    .until = ask->watch.until,
                                    .n_landmark = BRV_MOST_PROFILES + 1};
    for (size_t k = 0; k < when.n_pulse; k++) start[k] = brv_pulse_start(&ask->pulse, k);
    for (size_t k = 0; k < BRV_MOST_PROFILES; k++) when.landmark[k] = when.end + profile_after[k];
    when.landmark[BRV_MOST_PROFILES] = MAP_TIME;
    const brv_status status = brv_timeline_build(timeline, &when, error);
    free(start);
    return status;
}

/* Rows of the profiles that the first pulse lives to see; returns how many. */
static size_t lay_profiles(size_t row[BRV_MOST_PROFILES], const struct brv_timeline *timeline, double end)
{
    size_t n = 0;
    while (n < BRV_MOST_PROFILES && (row[n] = brv_timeline_row(timeline, 1, end + profile_after[n])) != BRV_NO_BEAT)
        n++;
    return n;
}

static void keep_times(struct brv_history *history, const struct brv_timeline *timeline)
{
    history->time[0] = timeline->spell[0].start;
    history->since[0] = timeline->spell[0].since;
    history->pulse[0] = timeline->spell[0].pulse;
    history->beat[0] = BRV_NO_BEAT;
    for (size_t i = 0; i < timeline->n_spell; i++) {
        const struct brv_spell *spell = &timeline->spell[i];
        for (size_t row = spell->first_row; row < spell->first_row + spell->n_row; row++) {
            history->time[row] = spell->start + timeline->time[row];
            history->since[row] = spell->since + timeline->time[row];
            history->pulse[row] = spell->pulse;
            history->beat[row] = spell->fired ? timeline->beat[row] : BRV_NO_BEAT;
        }
    }
    memcpy(history->before, timeline->before, timeline->n_pulse * sizeof *history->before);
}

static brv_status make_history(struct brv_history *history, const struct brv_heat_ask *ask,
                               const struct brv_layers *layers, size_t n_radius, size_t n_profile,
                               struct brv_error *error)
{
    const struct brv_scenario *scenario = ask->scenario;
    const struct brv_history_ask room = {.n_time = ask->timeline->n_row,
                                         .n_probe = brv_layers_probes(layers),
                                         .n_cell = layers->slab.chain.n,
                                         .n_pulse = ask->timeline->n_pulse,
                                         .n_profile = n_profile,
                                         .n_radius = n_radius,
                                         .cooled = brv_heat_draws(scenario),
                                         .other = ask->light->sensitivity.solved,
                                         .film = layers->above > 0.0};
    const brv_status status = brv_history_build(history, &room, error);
    if (status) return status;
    keep_times(history, ask->timeline);
    history->film = BRV_NO_PROBE;
    history->quarter = BRV_N_GRAIN_PROBE + scenario->watch.n_depth;
    brv_layers_name(history, layers);
    history->window = brv_pulse_window(&scenario->pulse);
    history->travelled = brv_beside_travelled(ask);
    history->from = brv_surface_changes(scenario) ? scenario->surface.from : 0.0;
    history->to = brv_surface_changes(scenario) ? scenario->surface.to : 0.0;
    history->sharp = scenario->pulse.shape == BRV_SHAPE_SQUARE;
    for (size_t k = 0; k < n_profile; k++) history->profile_time[k] = profile_after[k];
    return BRV_OK;
}

/* ---- what happens ---- */

static brv_status check_audit(const struct brv_audit *audit, struct brv_error *error)
{
    const double share[] = {audit->layers, audit->pulses, audit->beside, audit->grain, audit->join};
    static const char *const place[] = {"energy audit of the layers", "energy audit of the pulses",
                                        "energy audit of the disc", "energy audit of the grain",
                                        "energy of grains against their layer"};
    for (size_t i = 0; i < sizeof share / sizeof *share; i++)
        if (!(fabs(share[i]) <= BRV_AUDIT_TOLERANCE))
            return brv_error_raise_number(error, BRV_NUMERICS, place[i], share[i], BRV_AUDIT_TOLERANCE);
    return BRV_OK;
}

static brv_status run_parts(struct brv_history *history, struct brv_audit *audit, struct brv_layers *layers,
                            struct brv_sphere *sphere, const struct brv_heat_ask *ask, struct brv_error *error)
{
    const bool answers = ask->light->sensitivity.solved;
    brv_status status = brv_layers_run(history, audit, layers, ask, error);
    if (!status && answers) brv_answer_begin(history, layers);
    if (!status && brv_beside_wanted(ask)) status = brv_beside_run(history, audit, layers, ask, error);
    if (!status && answers) status = brv_answer_run(history, layers, ask, error);
    if (!status) status = brv_grain_run(history, audit, sphere, ask, error);
    if (!status) status = brv_crowd_run(&history->crowd, history->mean, ask, error);
    if (!status) status = check_audit(audit, error);
    return status;
}

brv_status brv_heat_run(struct brv_history *history, struct brv_audit *audit, const struct brv_tissue *tissue,
                        const struct brv_light *light, const struct brv_scenario *scenario, struct brv_error *error)
{
    struct brv_timeline timeline;
    struct brv_layers layers = {.n_probe = 0};
    struct brv_sphere sphere = {.n_grain = 0};
    size_t profile_row[BRV_MOST_PROFILES];
    const struct brv_heat_ask ask = {tissue, light, scenario, &timeline, profile_row};
    *history = (struct brv_history){.n_time = 0};
    *audit = (struct brv_audit){.beside_share = (double)NAN};

    brv_status status = lay_timeline(&timeline, scenario, error);
    if (status) return status;
    const struct brv_sphere_ask cells = brv_grain_cells(&tissue->grain, scenario->pulse.width, scenario->watch.until);
    const size_t n_profile = lay_profiles(profile_row, &timeline, brv_pulse_end(&scenario->pulse));
    status = brv_layers_build(&layers, &ask, error);
    if (!status) status = brv_sphere_build(&sphere, &cells, error);
    if (!status) status = make_history(history, &ask, &layers, sphere.chain.n, n_profile, error);
    if (!status) status = run_parts(history, audit, &layers, &sphere, &ask, error);

    brv_timeline_free(&timeline);
    brv_layers_free(&layers);
    brv_sphere_free(&sphere);
    if (status) brv_history_free(history);
    return status;
}
