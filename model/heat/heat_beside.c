#include "heat/heat_beside.h"

#include "base/array.h"
#include "base/constants.h"
#include "heat/disc.h"
#include "heat/echo.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Cells of the disc in depth: what is finer has long gone when heat begins to leave sideways. */
#define FINEST_PART 0.025 /* of the way heat has gone by then */
#define GROWTH      0.10  /* of cells away from a face ... */
#define GROWTH_PER  25.0  /* ... and less under narrow spots, whose heat soon leaves: per metre of the spot [1/m] */
#define GROWTH_MIN  0.03
#define FINENESS    1.0
#define DARK        1e-6 /* of the highest rise by one pulse: cells below the last that has so much may be coarse */

#define SUDDEN_PART    1e-2 /* a pulse this much shorter than that time counts as given at once, at its centre */
#define MODE_TOLERANCE 1e-7 /* of the contour, for modes that hold no energy on the whole */
#define ENDS           2.0  /* the disc ends so many times sqrt(4 alpha t) beyond the light */
#define FIELD_TIME     10.0 /* the second map is of this time after the last pulse [s] */
#define FIELD_DEEPEST  5e-3 /* maps show no more than this [m] */

struct beside {
    const struct brv_heat_ask *ask;
    const struct brv_layers *layers;
    struct brv_slab slab; /* coarse */
    size_t skin;          /* its first cell that is not of a film: maps show skin */
    struct brv_radial radial;
    struct brv_chain chain; /* of the mode in hand */
    double *all, *pigment;  /* [n_depth] axis deposit by one pulse [J/m2] */
    double *share;          /* [n_radial][n_depth] light there over light on the axis [1] */
    double *density;        /* [n_radial][n_depth] deposit [J/m2] */
    double *amplitude;      /* [n_depth] of one mode */
    double *curve;          /* [n_probe][n_time] of one mode */
    double *state;          /* [2][n_depth] of one mode */
    double *mean;           /* [n_depth] weights of the mean over the grain's layer */
    struct brv_reading reading[BRV_MOST_LAYER_PROBES];
    struct brv_gauge gauge[BRV_MOST_LAYER_PROBES];
    size_t kept[2];
    struct brv_echo echo; /* trains of all modes but the even one, to be read once */
};

/* ---- is it wanted? ---- */

static double diffusivity(const struct brv_tissue *tissue)
{
    const struct brv_layer *deepest = &tissue->layer[tissue->n_layer - 1];
    return deepest->conductivity / deepest->heat_capacity;
}

double brv_beside_travelled(const struct brv_heat_ask *ask)
{
    return sqrt(4.0 * diffusivity(ask->tissue) * ask->scenario->watch.until);
}

double brv_beside_part(const struct brv_beam *beam)
{
    return beam->profile == BRV_PROFILE_GAUSSIAN ? BRV_BESIDE_GAUSSIAN : BRV_BESIDE_FLAT;
}

/* The way heat has gone when it begins to matter [m], and when that is [s]. */
static double first_way(const struct brv_heat_ask *ask)
{
    return brv_beside_part(&ask->scenario->beam) * ask->scenario->beam.spot;
}

static double first_time(const struct brv_heat_ask *ask)
{
    return first_way(ask) * first_way(ask) / (4.0 * diffusivity(ask->tissue));
}

bool brv_beside_wanted(const struct brv_heat_ask *ask)
{
    return ask->light->n_map_depth > 0 && brv_beside_travelled(ask) > first_way(ask);
}

/* ---- cells ---- */

/* Lower face of the deepest cell that light warms, in the slab's own depth [m]. */
static double light_ends(const struct brv_layers *layers)
{
    const struct brv_chain *chain = &layers->slab.chain;
    const double least = DARK * brv_heat_adiabatic(chain, layers->deposit);
    size_t n = chain->n;
    while (n > 1 && layers->deposit[n - 1] < least * chain->capacity[n - 1]) n--;
    return layers->slab.face[n];
}

static brv_status build_cells(struct beside *beside, struct brv_error *error)
{
    const struct brv_heat_ask *ask = beside->ask;
    const double growth = fmax(fmin(GROWTH, GROWTH_PER * ask->scenario->beam.spot), GROWTH_MIN);
    const struct brv_slab_grid depth = {FINEST_PART * first_way(ask), growth, INFINITY, light_ends(beside->layers)};
    const double light_end = ask->light->map_radius[ask->light->n_map_radius - 1];
    const struct brv_disc_grid across =
        brv_disc_grid_for(ask->scenario->beam.spot, light_end + ENDS * brv_beside_travelled(ask), FINENESS);
    brv_status status = brv_heat_slab(&beside->slab, ask, &depth, error);
    if (status) return status;
    beside->skin = beside->layers->above > 0.0 ? beside->slab.first_cell[1] : 0;
    double *face = brv_array_new(brv_disc_count(&across) + 1);
    if (!face) return brv_error_raise(error, BRV_MEMORY, "heat");
    const size_t n = brv_disc_faces(&across, face);
    status = brv_radial_build(&beside->radial, n, face, 1, 0.0, error);
    free(face);
    return status ? status : brv_chain_build(&beside->chain, beside->slab.chain.n, error);
}

static brv_status make_room(struct beside *beside, size_t n_time, struct brv_error *error)
{
    const size_t n = beside->radial.n, n_depth = beside->slab.chain.n;
    beside->all = brv_array_new(n_depth);
    beside->pigment = brv_array_new(n_depth);
    beside->mean = brv_array_new(n_depth);
    beside->amplitude = brv_array_new(n_depth);
    beside->state = brv_array_new(2 * n_depth);
    beside->share = brv_array_new(n * n_depth);
    beside->density = brv_array_new(n * n_depth);
    beside->curve = brv_array_new(beside->layers->n_probe * n_time);
    const bool complete = beside->all && beside->pigment && beside->mean && beside->amplitude && beside->state &&
                          beside->share && beside->density && beside->curve;
    return complete ? BRV_OK : brv_error_raise(error, BRV_MEMORY, "heat");
}

static void release(struct beside *beside)
{
    double *const array[] = {beside->all,   beside->pigment, beside->mean,    beside->amplitude,
                             beside->state, beside->share,   beside->density, beside->curve};
    for (size_t i = 0; i < sizeof array / sizeof *array; i++) free(array[i]);
    brv_slab_free(&beside->slab);
    brv_radial_free(&beside->radial);
    brv_chain_free(&beside->chain);
    brv_echo_free(&beside->echo);
}

/* ---- the source ---- */

/* Light at a depth and radius over that on the axis: straight lines in depth and in the square of the radius, which
 * meets the cap of a round beam; beyond the map's end as it last fell.                                              */
static double light_share(const struct brv_light *light, double depth, double radius)
{
    const size_t nr = light->n_map_radius;
    const size_t i = brv_array_interval(light->map_depth, light->n_map_depth - 1, depth);
    const size_t j = brv_array_interval(light->map_radius, nr - 1, radius);
    const double z0 = light->map_depth[i], z1 = light->map_depth[i + 1];
    const double r0 = light->map_radius[j], r1 = light->map_radius[j + 1];
    const double down = fmin(fmax((depth - z0) / (z1 - z0), 0.0), 1.0);
    const double out = (radius - r0) * (radius + r0) / ((r1 - r0) * (r1 + r0)), steps = (radius - r0) / (r1 - r0);
    double at[2][2];
    for (size_t a = 0; a < 2; a++)
        for (size_t b = 0; b < 2; b++) {
            const double *row = light->map + (i + a) * nr;
            at[a][b] = row[0] > 0.0 ? row[j + b] / row[0] : 0.0;
        }
    const double near = at[0][0] + down * (at[1][0] - at[0][0]), far = at[0][1] + down * (at[1][1] - at[0][1]);
    if (out <= 1.0) return fmax(near + out * (far - near), 0.0);
    return near > far && far > 0.0 ? far * pow(far / near, steps - 1.0) : 0.0;
}

static void lay_source(struct beside *beside)
{
    const size_t n_depth = beside->slab.chain.n;
    brv_heat_deposit(beside->all, beside->pigment, &beside->slab, beside->ask);
    for (size_t j = 0; j < beside->radial.n; j++) {
        const double inner = beside->radial.face[j], outer = beside->radial.face[j + 1];
        const double radius =
            sqrt(0.5 * (inner * inner + outer * outer)); /* what is straight in r^2 has its mean there */
        for (size_t i = 0; i < n_depth; i++) {
            const double depth = 0.5 * (beside->slab.face[i] + beside->slab.face[i + 1]) - beside->layers->above;
            beside->share[j * n_depth + i] = light_share(beside->ask->light, depth, radius);
        }
    }
}

static void lay_density(struct beside *beside, const double axis[])
{
    const size_t n_depth = beside->slab.chain.n;
    for (size_t j = 0; j < beside->radial.n; j++)
        for (size_t i = 0; i < n_depth; i++)
            beside->density[j * n_depth + i] = axis[i] * beside->share[j * n_depth + i];
}

/* Energy given to the disc over what the layers take up of all the beam's energy. */
static double given_share(const struct beside *beside)
{
    const struct brv_layered *whole = &beside->ask->light->layered;
    double given = 0.0, taken = 0.0;
    for (size_t j = 0; j < beside->radial.n; j++)
        for (size_t i = 0; i < beside->slab.chain.n; i++)
            given += 2.0 * BRV_PI * beside->radial.area[j] * beside->density[j * beside->slab.chain.n + i];
    for (size_t i = 0; i < whole->n_medium; i++) taken += whole->absorbed[i] * beside->ask->scenario->beam.energy;
    return taken > 0.0 ? given / taken : (double)NAN;
}

/* ---- probes and maps ---- */

/* Just past the last pulse, and FIELD_TIME after its start; BRV_NO_BEAT where the run is over. The row at the end of
 * its window still counts as within it when the pulse is given at once.                                              */
static void lay_kept(struct beside *beside)
{
    const struct brv_timeline *timeline = beside->ask->timeline;
    const size_t end = brv_timeline_row(timeline, timeline->n_pulse, brv_pulse_window(&beside->ask->scenario->pulse));
    beside->kept[0] = end != BRV_NO_BEAT && end + 1 < timeline->n_row ? end + 1 : BRV_NO_BEAT;
    beside->kept[1] = brv_timeline_row(timeline, timeline->n_pulse, FIELD_TIME);
}

/* Maps leave out what lies deeper, or farther out than the light was solved. */
static size_t shown(const double face[], size_t n, double end)
{
    size_t count = 0;
    while (count < n && 0.5 * (face[count] + face[count + 1]) <= end) count++;
    return count;
}

static brv_status build_field(struct brv_field *field, const struct beside *beside, const struct brv_history *history,
                              struct brv_error *error)
{
    const struct brv_light *light = beside->ask->light;
    const double *face = beside->slab.face + beside->skin;
    const double above = beside->layers->above;
    const size_t n_depth = shown(face, beside->slab.chain.n - beside->skin, FIELD_DEEPEST);
    const size_t n_radius = shown(beside->radial.face, beside->radial.n, light->map_radius[light->n_map_radius - 1]);
    const brv_status status = brv_field_build(field, n_depth, n_radius, error);
    if (status) return status;
    for (size_t i = 0; i < n_depth; i++) field->depth[i] = 0.5 * (face[i] + face[i + 1]) - above;
    for (size_t j = 0; j < n_radius; j++)
        field->radius[j] = 0.5 * (beside->radial.face[j] + beside->radial.face[j + 1]);
    for (size_t k = 0; k < 2; k++)
        field->time[k] = beside->kept[k] == BRV_NO_BEAT ? (double)NAN : history->since[beside->kept[k]];
    return BRV_OK;
}

static void add_field(struct brv_field *field, const struct beside *beside, size_t mode)
{
    const size_t n_depth = beside->slab.chain.n;
    const double *shape = beside->radial.shape + mode * beside->radial.n;
    for (size_t k = 0; k < 2; k++)
        for (size_t i = 0; i < field->n_depth; i++)
            for (size_t j = 0; j < field->n_radius; j++)
                field->rise[k][i * field->n_radius + j] += shape[j] * beside->state[k * n_depth + beside->skin + i];
}

/* ---- modes ---- */

/* The layers' least rise stands for amplitudes in K m: an error of a step then shows as the step's tolerance of the highest
 * rise in a mode whose shape is 1000 1/m high, in others in proportion to their height.                             */
static struct brv_march_ask march_of(const struct beside *beside, bool holds)
{
    const struct brv_pulse *pulse = &beside->ask->scenario->pulse;
    struct brv_march_ask march = brv_layers_march(beside->layers, beside->ask);
    const double half = brv_slab_half_conductance(&beside->slab, 0);
    const double transfer = beside->ask->scenario->surface.transfer;
    march.top_bare = beside->slab.chain.link[0];
    march.top_covered = half * transfer / (half + transfer);
    march.source = brv_heat_source(beside->amplitude, pulse);
    march.sudden = brv_pulse_window(pulse) < SUDDEN_PART * first_time(beside->ask);
    march.centre = brv_pulse_centre(pulse);
    march.tolerance = holds ? BRV_GLIDE_TOLERANCE : MODE_TOLERANCE;
    march.gauge = beside->gauge;
    return march;
}

static bool is_nothing(const double value[], size_t n)
{
    for (size_t i = 0; i < n; i++)
        if (value[i] != 0.0) return false;
    return true;
}

static void add_curves(double curves[], const struct beside *beside, size_t n_time, double factor)
{
    for (size_t i = 0; i < beside->layers->n_probe * n_time; i++)
        curves[BRV_PROBE_LAYER * n_time + i] += factor * beside->curve[i];
}

/* The coarse cells with the axis's light everywhere: what the disc's axis would be in an endless beam. */
static brv_status subtract_wide(double curves[], const double axis[], struct beside *beside, size_t n_time,
                                struct brv_error *error)
{
    struct brv_ledger ledger;
    const struct brv_march_ask march = march_of(beside, true);
    struct brv_chain *chain = &beside->slab.chain;
    memcpy(beside->amplitude, axis, chain->n * sizeof *axis);
    const brv_status status = brv_march_run(&ledger, beside->curve, NULL, chain, &march, error);
    if (!status) add_curves(curves, beside, n_time, -1.0);
    return status;
}

/* `audit` and `field`: NULL when not wanted. */
static brv_status add_mode(double curves[], struct brv_audit *audit, struct brv_field *field, struct beside *beside,
                           size_t mode, size_t n_time, struct brv_error *error)
{
    struct brv_ledger ledger;
    const bool holds = mode == 0; /* the even one: a closed end leaves all energy to it */
    brv_disc_amplitude(beside->amplitude, &beside->radial, mode, beside->density, beside->chain.n);
    if (is_nothing(beside->amplitude, beside->chain.n)) return BRV_OK;
    brv_disc_mode(&beside->chain, &beside->slab, &beside->radial, mode);
    struct brv_march_ask march = march_of(beside, holds);
    march.n_kept = field ? 2 : 0;
    march.kept = beside->kept;
    march.echo = holds ? NULL : &beside->echo;
    march.echo_factor = beside->radial.axis[mode];
    const brv_status status = brv_march_run(&ledger, beside->curve, beside->state, &beside->chain, &march, error);
    if (status) return status;
    add_curves(curves, beside, n_time, beside->radial.axis[mode]);
    if (field) add_field(field, beside, mode);
    if (audit && holds) audit->beside = brv_ledger_missing(&ledger);
    return BRV_OK;
}

/* The trains of all modes added so far. */
static brv_status read_echo(double curves[], struct beside *beside, size_t n_time, struct brv_error *error)
{
    struct brv_contour contour;
    const brv_status status = brv_contour_build(&contour, 0, error);
    if (status) return status;
    brv_echo_read(curves + BRV_PROBE_LAYER * n_time, &beside->echo, &contour);
    brv_echo_free(&beside->echo);
    brv_contour_free(&contour);
    return BRV_OK;
}

static brv_status add_bracket(double curves[], const double axis[], struct brv_audit *audit, struct brv_field *field,
                              struct beside *beside, size_t n_time, struct brv_error *error)
{
    lay_density(beside, axis);
    if (audit) audit->beside_share = given_share(beside);
    brv_status status = subtract_wide(curves, axis, beside, n_time, error);
    for (size_t mode = 0; mode < beside->radial.n && !status; mode++)
        status = add_mode(curves, audit, field, beside, mode, n_time, error);
    return status ? status : read_echo(curves, beside, n_time, error);
}

/* The same for what the film alone took up: nothing goes into the skin. */
static brv_status add_film(struct brv_history *history, struct beside *beside, struct brv_error *error)
{
    for (size_t i = beside->skin; i < beside->slab.chain.n; i++) beside->all[i] = 0.0;
    return add_bracket(history->from_film, beside->all, NULL, NULL, beside, history->n_time, error);
}

brv_status brv_beside_run(struct brv_history *history, struct brv_audit *audit, const struct brv_layers *layers,
                          const struct brv_heat_ask *ask, struct brv_error *error)
{
    struct beside beside = {.ask = ask, .layers = layers};
    const size_t n_time = history->n_time;
    brv_status status = build_cells(&beside, error);
    if (!status) status = make_room(&beside, n_time, error);
    if (!status) {
        lay_source(&beside);
        brv_layers_gauge(beside.gauge, beside.mean, beside.reading, layers, &beside.slab, ask->tissue);
        lay_kept(&beside);
        status = build_field(&history->field, &beside, history, error);
    }
    if (!status) status = add_bracket(history->pigment, beside.pigment, NULL, NULL, &beside, n_time, error);
    if (!status) status = add_bracket(history->rise, beside.all, audit, &history->field, &beside, n_time, error);
    if (!status && history->from_film) status = add_film(history, &beside, error);
    release(&beside);
    return status;
}
