#include "study/draw.h"

#include "base/constants.h"
#include "scenario/body.h"
#include "scenario/film.h"
#include "tissue/chromophore.h"

#include <math.h>
#include <string.h>

#define NINETY        1.645
#define MOST_HALVINGS 64

static void write_field(struct brv_scenario *ask, size_t row, size_t site, size_t layer, double value)
{
    memcpy((char *)brv_key_scope(ask, brv_keys[row].scope, site, layer) + brv_keys[row].offset, &value, sizeof value);
}

static double between(double from, double to, double share, bool ratio)
{
    return ratio ? from * pow(to / from, share) : from + (to - from) * share;
}

double brv_draw_at(const struct brv_input *input, double u)
{
    const double value = input->value;
    if (!(input->low < value && value < input->high)) return between(input->low, input->high, u, input->ratio);
    if (u < 0.5) return between(input->low, value, 2.0 * u, input->ratio);
    return between(value, input->high, 2.0 * u - 1.0, input->ratio);
}

struct draw {
    struct brv_scenario *ask; /* what becomes of it */
    const struct brv_scenario *asked;
    const struct brv_inputs *inputs;
    const double *u;
};

/* The value drawn for a special input, or `otherwise` where it is not drawn. */
static double special(const struct draw *draw, enum brv_input_id id, double otherwise)
{
    for (size_t i = 0; i < draw->inputs->n; i++)
        if (draw->inputs->input[i].id == id) return brv_draw_at(&draw->inputs->input[i], draw->u[i]);
    return otherwise;
}

static void write_key(const struct draw *draw, const struct brv_input *input, double value)
{
    const struct brv_key *key = &brv_keys[input->key];
    value = fmin(fmax(value, key->least), key->most);
    for (size_t site = 0; site < BRV_N_SITE; site++)
        for (size_t i = 0; i < BRV_MOST_LAYERS; i++)
            if (input->where[site] & 1u << i) write_field(draw->ask, input->key, site, i, value);
}

/* Those of the lesion alone come after what follows from its neighbour. */
static void write_keys(const struct draw *draw, bool lesion_alone)
{
    for (size_t i = 0; i < draw->inputs->n; i++) {
        const struct brv_input *input = &draw->inputs->input[i];
        if (input->id == BRV_INPUT_KEY && (input->where[BRV_NEIGHBOUR] == 0) == lesion_alone)
            write_key(draw, input, brv_draw_at(input, draw->u[i]));
    }
}

/* Pigment of a ready skin or of a measured colour. A lesion that was described keeps its ratio to it: held, it would be
 * paler than darker skins around it.                                                                                */
static void write_ready_skin(const struct draw *draw)
{
    const struct brv_skin *asked = &draw->asked->skin[BRV_NEIGHBOUR];
    const double whole = special(draw, BRV_INPUT_SKIN_PIGMENT, -1.0);
    if (whole < 0.0) return;
    struct brv_skin *skin = &draw->ask->skin[BRV_NEIGHBOUR];
    brv_skin_pigment(skin, whole, special(draw, BRV_INPUT_BASAL_SHARE, BRV_BASAL_SHARE));
    for (size_t i = 0; i < skin->n_layer && draw->asked->lesion_given; i++) {
        const bool laid = skin->layer[i].kind == BRV_EPIDERMIS || skin->layer[i].kind == BRV_BASAL;
        const double before = asked->layer[i].melanosomes;
        const double lesion = draw->asked->skin[BRV_LESION].layer[i].melanosomes;
        if (laid && before > 0.0)
            draw->ask->skin[BRV_LESION].layer[i].melanosomes =
                brv_melanosomes_times(skin->layer[i].melanosomes, lesion / before);
    }
}

static void derive_lesion(const struct draw *draw)
{
    if (draw->asked->lesion_given) return;
    const double factor = special(draw, BRV_INPUT_LESION_FACTOR, BRV_LESION_FACTOR);
    const struct brv_skin *skin = &draw->ask->skin[BRV_NEIGHBOUR];
    for (size_t i = 0; i < skin->n_layer; i++) {
        const bool basal = skin->layer[i].kind == BRV_BASAL;
        draw->ask->skin[BRV_LESION].layer[i].melanosomes =
            basal ? brv_melanosomes_times(skin->layer[i].melanosomes, factor) : skin->layer[i].melanosomes;
    }
}

static void write_scattering(const struct draw *draw)
{
    const double level = special(draw, BRV_INPUT_SCATTERING, -1.0);
    if (level < 0.0) return;
    const double power = special(draw, BRV_INPUT_SCATTERING_POWER, BRV_SCATTERING_POWER);
    const double wavelength = draw->ask->beam.wavelength;
    const double reduced = brv_chromophore_reduced_scattering(wavelength) * (level / BRV_SCATTERING_LEVEL) *
                           pow(wavelength / BRV_SCATTERING_AT, BRV_SCATTERING_POWER - power);
    const size_t row = (size_t)brv_key_find(BRV_SCOPE_LAYER, "reduced_scattering");
    for (size_t site = 0; site < BRV_N_SITE; site++)
        for (size_t i = 0; i < draw->asked->skin[site].n_layer; i++) {
            if (!(brv_inputs_scattering(draw->asked, site) & 1u << i)) continue;
            draw->ask->skin[site].layer[i].reduced_scattering = reduced;
            draw->ask->skin[site].layer[i].given |= brv_key_bit(row);
        }
}

static double within(enum brv_scope scope, const char *name, double value)
{
    const struct brv_key *key = &brv_keys[brv_key_find(scope, name)];
    return fmin(fmax(value, key->least), key->most);
}

/* The device gives energy, and the fluence follows; where the fluence was opened it is the other way round. Where what
 * follows would leave its range, what it follows from gives way.                                                    */
static void write_light(const struct draw *draw)
{
    struct brv_beam *beam = &draw->ask->beam;
    beam->spot = within(BRV_SCOPE_LIGHT, "spot", special(draw, BRV_INPUT_SPOT, beam->spot));
    const double area = brv_beam_area(beam);
    if (brv_inputs_opened(draw->inputs, BRV_SCOPE_LIGHT, "fluence")) {
        const double needed = beam->fluence * area;
        beam->energy = within(BRV_SCOPE_LIGHT, "energy", needed);
        if (fabs(beam->energy - needed) > 0.0) beam->fluence = beam->energy / area;
        return;
    }
    beam->energy = within(BRV_SCOPE_LIGHT, "energy", special(draw, BRV_INPUT_ENERGY, beam->energy));
    const double wanted = beam->energy / area;
    beam->fluence = within(BRV_SCOPE_LIGHT, "fluence", wanted);
    if (fabs(beam->fluence - wanted) > 0.0) beam->energy = beam->fluence * area;
}

static void write_surface(const struct draw *draw)
{
    struct brv_surface *surface = &draw->ask->surface;
    surface->transfer = special(draw, BRV_INPUT_TRANSFER, surface->transfer);
    surface->index = special(draw, BRV_INPUT_OUTSIDE_INDEX, surface->index);
    if (!brv_surface_changes(draw->ask)) surface->air_transfer = surface->transfer;
    if (!brv_key_given(surface, BRV_SCOPE_SURFACE, "outside_temperature"))
        surface->outside_temperature = surface->temperature;
}

/* ---- what has to fit ---- */

/* Nothing may be as warm as the criterion before a pulse; what was asked for is not. */
static double cooler(double drawn, double asked, double criterion)
{
    return drawn < criterion ? drawn : fmin(asked, fmax(criterion - 1.0, 0.0));
}

static void fit_warmth(const struct draw *draw)
{
    struct brv_surface *surface = &draw->ask->surface;
    const struct brv_surface *asked = &draw->asked->surface;
    const double criterion = draw->ask->watch.criterion;
    surface->temperature = cooler(surface->temperature, asked->temperature, criterion);
    surface->core = cooler(surface->core, asked->core, criterion);
    surface->outside_temperature = cooler(surface->outside_temperature, asked->outside_temperature, criterion);
}

/* Pigment first makes room for the blood that was asked for, then blood for the pigment. */
static void fit_composition(struct brv_layer_ask *layer, const struct brv_layer_ask *asked)
{
    layer->melanosomes = fmax(fmin(layer->melanosomes, 1.0 - asked->blood), 0.0);
    layer->blood = fmax(fmin(layer->blood, 1.0 - layer->melanosomes), 0.0);
}

/* Nine tenths of the grains where a single grain may be, when the scenario says how much they differ: see check.c. */
static void fit_grain(struct brv_grain_ask *grain, const struct brv_grain_ask *asked)
{
    const struct brv_key *diameter = &brv_keys[(size_t)brv_key_find(BRV_SCOPE_GRAIN, "diameter")];
    const double most_dark = brv_keys[(size_t)brv_key_find(BRV_SCOPE_GRAIN, "darkness")].most;
    if (brv_key_given(grain, BRV_SCOPE_GRAIN, "diameter_spread")) {
        const double reach = exp(NINETY * asked->diameter_spread);
        const double least = fmin(diameter->least * reach * (1.0 + 1e-9), asked->diameter);
        const double most = fmax(diameter->most / reach * (1.0 - 1e-9), asked->diameter);
        grain->diameter = fmin(fmax(grain->diameter, least), most);
        const double room = fmin(log(grain->diameter / diameter->least), log(diameter->most / grain->diameter));
        if (room >= 0.0) grain->diameter_spread = fmin(grain->diameter_spread, room / NINETY);
    }
    if (brv_key_given(grain, BRV_SCOPE_GRAIN, "darkness_spread")) {
        const double sigma = grain->darkness_spread, darkest = exp(NINETY * sigma - 0.5 * sigma * sigma);
        grain->darkness = fmin(grain->darkness, most_dark / darkest * (1.0 - 1e-9));
    }
}

static void fit_depths(struct brv_scenario *ask)
{
    const double whole =
        fmin(brv_skin_thickness(&ask->skin[BRV_LESION]), brv_skin_thickness(&ask->skin[BRV_NEIGHBOUR]));
    struct brv_watch *watch = &ask->watch;
    size_t n = 0;
    for (size_t i = 0; i < watch->n_depth; i++)
        if (watch->depth[i] <= whole) watch->depth[n++] = watch->depth[i];
    watch->n_depth = n;
}

/* To the nearest depth that holds all of it, in lesion and neighbour; none where there is no such depth. */
static void fit_vessel(struct brv_scenario *ask)
{
    struct brv_vessel_ask *vessel = &ask->vessel;
    double from = 0.0, to = 0.0, lesion_from = 0.0, lesion_to = 0.0;
    if (!(vessel->depth > 0.0) || brv_vessel_fits(ask, vessel->depth)) return;
    const bool room =
        brv_vessel_room(&ask->skin[BRV_NEIGHBOUR], vessel->depth, vessel->diameter, &from, &to) &&
        brv_vessel_room(&ask->skin[BRV_LESION], vessel->depth, vessel->diameter, &lesion_from, &lesion_to);
    vessel->depth = fmin(fmax(vessel->depth, fmax(from, lesion_from)), fmin(to, lesion_to));
    if (!room || !brv_vessel_fits(ask, vessel->depth)) vessel->depth = 0.0;
}

/* A pulse must leave room for the next, for the end of the curves and for what is laid on: towards the width asked for,
 * which does.                                                                                                      */
static void fit_pulse(const struct draw *draw)
{
    const double asked = draw->asked->pulse.width;
    double *width = &draw->ask->pulse.width;
    if (!brv_inputs_opened(draw->inputs, BRV_SCOPE_PULSE, "pulse")) return;
    for (int i = 0; i < MOST_HALVINGS && brv_scenario_check(draw->ask, NULL, 0) > 0; i++)
        *width = i + 1 < MOST_HALVINGS ? 0.5 * (*width + asked) : asked;
}

void brv_draw_apply(struct brv_scenario *draw, const struct brv_scenario *ask, const struct brv_inputs *inputs,
                    const double u[])
{
    *draw = *ask;
    const struct draw all = {draw, ask, inputs, u};
    write_keys(&all, false);
    brv_film_lay(draw);
    write_ready_skin(&all);
    derive_lesion(&all);
    write_keys(&all, true);
    write_scattering(&all);
    write_light(&all);
    write_surface(&all);
    fit_warmth(&all);
    for (size_t site = 0; site < BRV_N_SITE; site++) {
        for (size_t i = 0; i < ask->skin[site].n_layer; i++)
            fit_composition(&draw->skin[site].layer[i], &ask->skin[site].layer[i]);
        fit_grain(&draw->skin[site].grain, &ask->skin[site].grain);
    }
    fit_depths(draw);
    fit_vessel(draw);
    fit_pulse(&all);
}
