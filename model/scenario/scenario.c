#include "scenario/scenario.h"

#include "base/constants.h"
#include "scenario/film.h"
#include "scenario/body.h"
#include "scenario/keys.h"

#include <assert.h>
#include <math.h>
#include <string.h>

#define MOST_MELANOSOME 0.6 /* the key's own bound: grains cannot be packed much closer                          */
#define PRESET_BASAL    (BRV_BASAL_SHARE * 60.0 / 10.0) /* fraction in the basal row, 10 of 60 um, over that of all */
#define PRESET_UPPER    ((1.0 - BRV_BASAL_SHARE) * 60.0 / 50.0)
#define VESSEL_DEPTH    0.3e-3 /* where a vessel is looked at when nothing is said, if one fits there [m] */

double brv_skin_thickness(const struct brv_skin *skin)
{
    double sum = 0.0;
    for (size_t i = brv_film_covers(skin); i < skin->n_layer; i++) sum += skin->layer[i].thickness;
    return sum;
}

size_t brv_skin_layer(const struct brv_skin *skin, enum brv_layer_kind kind)
{
    size_t i = 0;
    while (i < skin->n_layer && skin->layer[i].kind != (int)kind) i++;
    return i;
}

/* ---- ready skins ---- */

const struct brv_ready_skin brv_ready_skins[BRV_N_PRESET] = {
    {"light", 0.038, 0.013, 0.063, "melanin-fraction", "memory"},
    {"intermediate", 0.09, 0.06, 0.13, "-", "choice"},
    {"dark", 0.14, 0.11, 0.30, "melanin-fraction", "memory"},
};

static void preset_layer(struct brv_layer_ask *layer, enum brv_layer_kind kind, double melanosomes)
{
    *layer = (struct brv_layer_ask){.kind = (int)kind, .melanosomes = melanosomes};
    layer->given = brv_key_bit((size_t)brv_key_find(BRV_SCOPE_LAYER, "kind"));
    if (melanosomes > 0.0) layer->given |= brv_key_bit((size_t)brv_key_find(BRV_SCOPE_LAYER, "melanosomes"));
}

void brv_skin_preset(struct brv_skin *skin, enum brv_preset preset)
{
    assert(preset < BRV_N_PRESET);
    const double share = brv_ready_skins[preset].melanosomes;
    skin->n_layer = 3;
    skin->ready = 1 + (int)preset;
    preset_layer(&skin->layer[0], BRV_EPIDERMIS, PRESET_UPPER * share);
    preset_layer(&skin->layer[1], BRV_BASAL, PRESET_BASAL * share);
    preset_layer(&skin->layer[2], BRV_DERMIS, 0.0);
}

void brv_skin_pigment(struct brv_skin *skin, double melanosomes, double basal_share)
{
    const double packed = brv_melanosomes_times(6.0 * melanosomes * basal_share, 1.0);
    const double upper = (6.0 * melanosomes - packed) / 5.0;
    for (size_t i = 0; i < skin->n_layer; i++) {
        struct brv_layer_ask *layer = &skin->layer[i];
        const bool measured = skin->body && layer->thickness > 0.0; /* else it has its default, and nothing to spread */
        const double thicker = measured ? layer->thickness / BRV_BODY_UPPER : 1.0;
        if (layer->kind == BRV_EPIDERMIS) layer->melanosomes = brv_melanosomes_times(upper / thicker, 1.0);
        if (layer->kind == BRV_BASAL) layer->melanosomes = packed;
    }
}

/* ---- defaults ---- */

/* The default of one key goes into every scope struct that was not given it. */
static void fill_scope(void *scope_struct, enum brv_scope scope, size_t kind)
{
    unsigned given;
    memcpy(&given, scope_struct, sizeof given);
    for (size_t i = 0; i < brv_n_keys; i++) {
        const struct brv_key *key = &brv_keys[i];
        if (key->scope != scope || given & brv_key_bit(i) || isnan(key->standard[kind])) continue;

        char *field = (char *)scope_struct + key->offset;
        if (key->kind == BRV_WORD || key->kind == BRV_LAYER_REF)
            *(int *)(void *)field = (int)key->standard[kind];
        else
            *(double *)(void *)field = key->standard[kind];
    }
}

static size_t layer_kind(const struct brv_layer_ask *layer)
{
    return layer->kind >= 0 && layer->kind < BRV_N_KIND ? (size_t)layer->kind : BRV_DERMIS;
}

static void fill_skin(struct brv_skin *skin)
{
    for (size_t i = 0; i < skin->n_layer; i++)
        fill_scope(&skin->layer[i], BRV_SCOPE_LAYER, layer_kind(&skin->layer[i]));
    fill_scope(&skin->grain, BRV_SCOPE_GRAIN, 0);
}

/* Test spots bring their own fluences; the first of them stands where none is given. */
static void fill_beam(struct brv_beam *beam, const struct brv_test_spots_ask *ladder)
{
    const bool fluence = brv_key_given(beam, BRV_SCOPE_LIGHT, "fluence");
    const bool energy = brv_key_given(beam, BRV_SCOPE_LIGHT, "energy");
    const double area = brv_beam_area(beam);
    if (!fluence && !energy && brv_key_given(ladder, BRV_SCOPE_LADDER, "first")) {
        beam->fluence = ladder->first;
        beam->energy = ladder->first * area;
    }
    if (fluence && !energy) beam->energy = beam->fluence * area;
    if (energy && !fluence && area > 0.0) beam->fluence = beam->energy / area;
}

double brv_scenario_longest(void)
{
    return brv_keys[brv_key_find(BRV_SCOPE_WATCH, "until")].most;
}

/* The curves of a train run on past its last pulse as long as those of a single pulse do. */
static void fill_until(struct brv_scenario *ask)
{
    if (brv_key_given(&ask->watch, BRV_SCOPE_WATCH, "until")) return;
    ask->watch.until = fmin(ask->watch.until + brv_pulse_last(&ask->pulse), brv_scenario_longest());
}

/* What follows from the medium, from the skin's own temperature and from the end of the curves. */
static void fill_surface(struct brv_scenario *ask)
{
    struct brv_surface *surface = &ask->surface;
    const bool changes = brv_surface_changes(ask);
    const bool known = surface->outside >= 0 && surface->outside < BRV_N_OUTSIDE;
    const enum brv_outside medium = known && changes ? (enum brv_outside)surface->outside : BRV_AIR;
    if (!brv_key_given(surface, BRV_SCOPE_SURFACE, "outside_temperature"))
        surface->outside_temperature = surface->temperature;
    if (!brv_key_given(surface, BRV_SCOPE_SURFACE, "transfer")) surface->transfer = brv_outside_transfer(medium);
    if (!brv_key_given(surface, BRV_SCOPE_SURFACE, "to")) surface->to = ask->watch.until;
    surface->air_transfer = changes ? BRV_AIR_TRANSFER : surface->transfer;
    if (!brv_key_given(surface, BRV_SCOPE_SURFACE, "index"))
        surface->index = brv_outside_index(brv_surface_covers(ask) ? medium : BRV_AIR);
}

double brv_melanosomes_times(double share, double factor)
{
    return fmin(factor * share, MOST_MELANOSOME);
}

/* No lesion described: the neighbour with more pigment in its basal rows. */
static void fill_lesion(struct brv_scenario *ask)
{
    struct brv_skin *lesion = &ask->skin[BRV_LESION];
    *lesion = ask->skin[BRV_NEIGHBOUR];
    for (size_t i = 0; i < lesion->n_layer; i++)
        if (lesion->layer[i].kind == BRV_BASAL && lesion->layer[i].melanosomes < MOST_MELANOSOME)
            lesion->layer[i].melanosomes = brv_melanosomes_times(lesion->layer[i].melanosomes, BRV_LESION_FACTOR);
}

/* Surface, the middle of the first basal row, 0.3 mm and 1 mm; what a finite stack does not reach is left out. */
static void fill_depths(struct brv_watch *watch, const struct brv_skin *skin)
{
    const double whole = brv_skin_thickness(skin);
    double top = 0.0, basal = 0.0;
    for (size_t i = brv_film_covers(skin); i < skin->n_layer && basal <= 0.0; i++) {
        if (skin->layer[i].kind == BRV_BASAL) basal = top + 0.5 * skin->layer[i].thickness;
        top += skin->layer[i].thickness;
    }

    const double wanted[] = {0.0, basal, 0.3e-3, 1e-3};
    watch->n_depth = 0;
    for (size_t i = 0; i < sizeof wanted / sizeof *wanted; i++)
        if (wanted[i] < whole && (i == 0 || (wanted[i] > 0.0 && isfinite(wanted[i]))))
            watch->depth[watch->n_depth++] = wanted[i];
}

/* ---- a vessel ---- */

bool brv_vessel_room(const struct brv_skin *skin, double depth, double diameter, double *from, double *to)
{
    bool found = false;
    double top = 0.0;
    for (size_t i = brv_film_covers(skin); i < skin->n_layer; i++) {
        const struct brv_layer_ask *layer = &skin->layer[i];
        const double first = top + 0.5 * diameter, last = top + layer->thickness - 0.5 * diameter;
        top += layer->thickness;
        if ((layer->kind != BRV_DERMIS && layer->kind != BRV_FAT) || first > last) continue;
        const bool here = depth >= first && depth <= last;
        if (found && !here) continue;
        *from = first;
        *to = last;
        found = true;
        if (here) break;
    }
    return found;
}

bool brv_vessel_fits(const struct brv_scenario *ask, double depth)
{
    for (size_t site = 0; site < BRV_N_SITE; site++) {
        double from, to;
        if (!brv_vessel_room(&ask->skin[site], depth, ask->vessel.diameter, &from, &to) || depth < from || depth > to)
            return false;
    }
    return true;
}

/* Nothing said of a vessel: one at the usual depth where it fits, else none. */
static void fill_vessel(struct brv_scenario *ask)
{
    if (brv_key_given(&ask->vessel, BRV_SCOPE_VESSEL, "depth")) return;
    ask->vessel.depth = ask->vessel.given || brv_vessel_fits(ask, VESSEL_DEPTH) ? VESSEL_DEPTH : 0.0;
}

double brv_test_spot_fluence(const struct brv_test_spots_ask *ladder, size_t k)
{
    return ladder->first * pow(ladder->ratio, (double)k);
}

void brv_scenario_fill(struct brv_scenario *ask)
{
    fill_scope(&ask->beam, BRV_SCOPE_LIGHT, 0);
    fill_scope(&ask->pulse, BRV_SCOPE_PULSE, 0);
    fill_scope(&ask->surface, BRV_SCOPE_SURFACE, 0);
    fill_scope(&ask->below, BRV_SCOPE_BELOW, 0);
    fill_scope(&ask->watch, BRV_SCOPE_WATCH, 0);
    fill_scope(&ask->vessel, BRV_SCOPE_VESSEL, 0);
    fill_scope(&ask->ladder, BRV_SCOPE_LADDER, 0);
    fill_scope(&ask->cover, BRV_SCOPE_COVER, 0);
    fill_scope(&ask->room, BRV_SCOPE_ROOM, 0);
    fill_scope(&ask->visits, BRV_SCOPE_VISITS, 0);
    fill_scope(&ask->film, BRV_SCOPE_FILM, 0);
    brv_film_cover(ask);
    fill_skin(&ask->skin[BRV_NEIGHBOUR]);
    fill_skin(&ask->skin[BRV_LESION]);
    brv_film_lay(ask);

    fill_beam(&ask->beam, &ask->ladder);
    fill_until(ask);
    fill_surface(ask);
    if (!ask->lesion_given) fill_lesion(ask);
    fill_vessel(ask);
    if (brv_key_given(&ask->watch, BRV_SCOPE_WATCH, "depths")) return;
    const struct brv_skin *skin = ask->skin;
    const bool lesion = brv_skin_thickness(&skin[BRV_LESION]) < brv_skin_thickness(&skin[BRV_NEIGHBOUR]);
    fill_depths(&ask->watch, &skin[lesion ? BRV_LESION : BRV_NEIGHBOUR]);
}
