#include "scenario/scenario.h"

#include "base/constants.h"
#include "scenario/keys.h"

#include <assert.h>
#include <math.h>
#include <string.h>

#define LESION_FACTOR   2.5    /* pigment of a lesion's basal row over its neighbour's; 1.5-4, this project's choice */
#define MOST_MELANOSOME 0.6    /* the key's own bound: grains cannot be packed much closer                          */
#define MOST_REDUCED    6500.0 /* default reduced scattering at 400 nm [1/m] */
#define LEAST_ABSORBED  2e-5   /* of the scattering, in an endless layer under a walk of photons */
#define PRESET_BASAL    3.6    /* basal fraction / whole-epidermis fraction: 60 % of it in 10 of 60 um               */
#define PRESET_UPPER    0.48
#define MOST_PULSES     200.0 /* in all passes together: each one is followed */

double brv_skin_thickness(const struct brv_skin *skin)
{
    double sum = 0.0;
    for (size_t i = 0; i < skin->n_layer; i++) sum += skin->layer[i].thickness;
    return sum;
}

/* ---- ready skins ---- */

static void preset_layer(struct brv_layer_ask *layer, enum brv_layer_kind kind, double melanosomes)
{
    *layer = (struct brv_layer_ask){.kind = (int)kind, .melanosomes = melanosomes};
    layer->given = brv_key_bit((size_t)brv_key_find(BRV_SCOPE_LAYER, "kind"));
    if (melanosomes > 0.0) layer->given |= brv_key_bit((size_t)brv_key_find(BRV_SCOPE_LAYER, "melanosomes"));
}

void brv_skin_preset(struct brv_skin *skin, enum brv_preset preset)
{
    static const double whole_epidermis[BRV_N_PRESET] = {0.038, 0.09, 0.14};
    assert(preset < BRV_N_PRESET);

    const double share = whole_epidermis[preset];
    skin->n_layer = 3;
    preset_layer(&skin->layer[0], BRV_EPIDERMIS, PRESET_UPPER * share);
    preset_layer(&skin->layer[1], BRV_BASAL, PRESET_BASAL * share);
    preset_layer(&skin->layer[2], BRV_DERMIS, 0.0);
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

static void fill_beam(struct brv_beam *beam)
{
    const bool fluence = brv_key_given(beam, BRV_SCOPE_LIGHT, "fluence");
    const bool energy = brv_key_given(beam, BRV_SCOPE_LIGHT, "energy");
    const double area = brv_beam_area(beam);
    if (fluence && !energy) beam->energy = beam->fluence * area;
    if (energy && !fluence && area > 0.0) beam->fluence = beam->energy / area;
}

static double most_until(void)
{
    return brv_keys[brv_key_find(BRV_SCOPE_WATCH, "until")].most;
}

/* The curves of a train run on past its last pulse as long as those of a single pulse do. */
static void fill_until(struct brv_scenario *ask)
{
    if (brv_key_given(&ask->watch, BRV_SCOPE_WATCH, "until")) return;
    ask->watch.until = fmin(ask->watch.until + brv_pulse_last(&ask->pulse), most_until());
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

/* No lesion described: the neighbour with more pigment in its basal rows. */
static void fill_lesion(struct brv_scenario *ask)
{
    struct brv_skin *lesion = &ask->skin[BRV_LESION];
    *lesion = ask->skin[BRV_NEIGHBOUR];
    for (size_t i = 0; i < lesion->n_layer; i++)
        if (lesion->layer[i].kind == BRV_BASAL && lesion->layer[i].melanosomes < MOST_MELANOSOME)
            lesion->layer[i].melanosomes = fmin(LESION_FACTOR * lesion->layer[i].melanosomes, MOST_MELANOSOME);
}

/* Surface, the middle of the first basal row, 0.3 mm and 1 mm; what a finite stack does not reach is left out. */
static void fill_depths(struct brv_watch *watch, const struct brv_skin *skin)
{
    const double whole = brv_skin_thickness(skin);
    double top = 0.0, basal = 0.0;
    for (size_t i = 0; i < skin->n_layer && basal <= 0.0; i++) {
        if (skin->layer[i].kind == BRV_BASAL) basal = top + 0.5 * skin->layer[i].thickness;
        top += skin->layer[i].thickness;
    }

    const double wanted[] = {0.0, basal, 0.3e-3, 1e-3};
    watch->n_depth = 0;
    for (size_t i = 0; i < sizeof wanted / sizeof *wanted; i++)
        if (wanted[i] < whole && (i == 0 || (wanted[i] > 0.0 && isfinite(wanted[i]))))
            watch->depth[watch->n_depth++] = wanted[i];
}

void brv_scenario_fill(struct brv_scenario *ask)
{
    fill_scope(&ask->beam, BRV_SCOPE_LIGHT, 0);
    fill_scope(&ask->pulse, BRV_SCOPE_PULSE, 0);
    fill_scope(&ask->surface, BRV_SCOPE_SURFACE, 0);
    fill_scope(&ask->below, BRV_SCOPE_BELOW, 0);
    fill_scope(&ask->watch, BRV_SCOPE_WATCH, 0);
    fill_skin(&ask->skin[BRV_NEIGHBOUR]);
    fill_skin(&ask->skin[BRV_LESION]);

    fill_beam(&ask->beam);
    fill_until(ask);
    fill_surface(ask);
    if (!ask->lesion_given) fill_lesion(ask);
    if (brv_key_given(&ask->watch, BRV_SCOPE_WATCH, "depths")) return;
    const struct brv_skin *skin = ask->skin;
    const bool lesion = brv_skin_thickness(&skin[BRV_LESION]) < brv_skin_thickness(&skin[BRV_NEIGHBOUR]);
    fill_depths(&ask->watch, &skin[lesion ? BRV_LESION : BRV_NEIGHBOUR]);
}

/* ---- the check ---- */

struct fault_list {
    struct brv_error *fault;
    size_t room, n;
};

static void add(struct fault_list *list, struct brv_error fault)
{
    if (list->n < list->room) list->fault[list->n] = fault;
    list->n++;
}

static void add_key(struct fault_list *list, brv_status status, enum brv_scope scope, int index, const char *name,
                    const char *place)
{
    add(list,
        (struct brv_error){
            .status = status, .scope = (int)scope, .index = index, .key = brv_key_find(scope, name), .place = place});
}

static void check_value(struct fault_list *list, size_t key, int index, double found)
{
    const struct brv_key *row = &brv_keys[key];
    const bool endless = row->kind == BRV_EXTENT && isinf(found) && found > 0.0;
    const bool low = row->above ? !(found > row->least) : !(found >= row->least);
    if (endless || (!low && found <= row->most)) return;
    add(list, (struct brv_error){.status = BRV_RANGE,
                                 .scope = (int)row->scope,
                                 .index = index,
                                 .key = (int)key,
                                 .found = found,
                                 .least = row->least,
                                 .most = row->most,
                                 .place = ""});
}

static void check_list(struct fault_list *list, size_t key, int index, const char *field)
{
    size_t n;
    memcpy(&n, field - sizeof n, sizeof n);
    for (size_t i = 0; i < n; i++) check_value(list, key, index, ((const double *)(const void *)field)[i]);
}

/* Ranges of everything that was given; what was not given is a default, and those are in range. */
static void check_ranges(struct fault_list *list, const void *scope_struct, enum brv_scope scope, int index)
{
    unsigned given;
    memcpy(&given, scope_struct, sizeof given);
    for (size_t i = 0; i < brv_n_keys; i++) {
        const struct brv_key *key = &brv_keys[i];
        if (key->scope != scope || !(given & brv_key_bit(i))) continue;

        const char *field = (const char *)scope_struct + key->offset;
        if (key->kind == BRV_LIST)
            check_list(list, i, index, field);
        else if (key->kind == BRV_WORD || key->kind == BRV_LAYER_REF)
            check_value(list, i, index, *(const int *)(const void *)field);
        else
            check_value(list, i, index, *(const double *)(const void *)field);
    }
}

static void check_whole(struct fault_list *list, double value, enum brv_scope scope, const char *name)
{
    if (value > floor(value)) add_key(list, BRV_ORDER, scope, 0, name, "a whole number is wanted");
}

static void check_beam(struct fault_list *list, const struct brv_beam *beam)
{
    static const char *const needed[] = {"wavelength", "spot"};
    for (size_t i = 0; i < 2; i++)
        if (!brv_key_given(beam, BRV_SCOPE_LIGHT, needed[i]))
            add_key(list, BRV_MISSING, BRV_SCOPE_LIGHT, 0, needed[i], "");

    const bool fluence = brv_key_given(beam, BRV_SCOPE_LIGHT, "fluence");
    const bool energy = brv_key_given(beam, BRV_SCOPE_LIGHT, "energy");
    if (fluence && energy)
        add_key(list, BRV_CONFLICT, BRV_SCOPE_LIGHT, 0, "energy", "give fluence or energy, not both");
    if (!fluence && !energy) add_key(list, BRV_MISSING, BRV_SCOPE_LIGHT, 0, "fluence", "give fluence or energy");
    check_ranges(list, beam, BRV_SCOPE_LIGHT, 0);
    check_whole(list, beam->photons, BRV_SCOPE_LIGHT, "photons");
    check_whole(list, beam->seed, BRV_SCOPE_LIGHT, "seed");
}

/* A photon in an endless layer is absorbed some time, or its walk has no end; the kernel takes albedos to 0.99999. */
static void check_walk(struct fault_list *list, const struct brv_scenario *ask, size_t site)
{
    const struct brv_skin *skin = &ask->skin[site];
    const struct brv_layer_ask *last = &skin->layer[skin->n_layer - 1];
    if (ask->beam.method != BRV_METHOD_SAMPLED || !isinf(last->thickness)) return;
    if (!brv_key_given(last, BRV_SCOPE_LAYER, "absorption")) return;
    double scattering = MOST_REDUCED / (1.0 - last->anisotropy);
    if (brv_key_given(last, BRV_SCOPE_LAYER, "reduced_scattering"))
        scattering = last->reduced_scattering / (1.0 - last->anisotropy);
    if (brv_key_given(last, BRV_SCOPE_LAYER, "scattering")) scattering = last->scattering;
    if (last->absorption < LEAST_ABSORBED * scattering)
        add_key(list, BRV_ORDER, BRV_SCOPE_LAYER, (int)(site * BRV_MOST_LAYERS + skin->n_layer - 1), "absorption",
                "a walk of photons needs more absorption in an endless layer, 2e-5 of its scattering");
}

/* `gap` parts several pulses, or several passes: it must be given then, and means nothing otherwise. */
static void check_gap(struct fault_list *list, const struct brv_pulse *pulse, const char *gap, bool several,
                      const char *alone)
{
    const bool given = brv_key_given(pulse, BRV_SCOPE_PULSE, gap);
    if (several && !given) add_key(list, BRV_MISSING, BRV_SCOPE_PULSE, 0, gap, "");
    if (!several && given) add_key(list, BRV_ORDER, BRV_SCOPE_PULSE, 0, gap, alone);
}

/* The same with what would fit: from `least` on, up to `most`; 0: nothing is said. */
static void add_bound(struct fault_list *list, enum brv_scope scope, const char *name, const char *place, double least,
                      double most)
{
    add(list, (struct brv_error){.status = BRV_ORDER,
                                 .scope = (int)scope,
                                 .key = brv_key_find(scope, name),
                                 .least = least,
                                 .most = most,
                                 .place = place});
}

/* Pulses one after the other, the last of them before the longest curves end. */
static void check_spacing(struct fault_list *list, const struct brv_pulse *pulse)
{
    const bool several = pulse->count > 1.0, again = pulse->passes > 1.0;
    const char *text = pulse->shape == BRV_SHAPE_GAUSSIAN
                           ? "one pulse has not ended when the next begins: with its tails a gaussian pulse lasts 5 "
                             "times its width"
                           : "one pulse has not ended when the next begins";
    const double window = brv_pulse_window(pulse);
    if (several && window * pulse->rate > 1.0) add_bound(list, BRV_SCOPE_PULSE, "rate", text, 0.0, 1.0 / window);
    if (again && window > pulse->pause) add_bound(list, BRV_SCOPE_PULSE, "pause", text, window, 0.0);
    if (brv_pulse_last(pulse) + window >= most_until())
        add_key(list, BRV_ORDER, BRV_SCOPE_PULSE, 0, again ? "pause" : "rate",
                "the last pulse would end later than any curve can");
}

/* Whether the pulses can be laid out in time. */
static bool check_pulse(struct fault_list *list, const struct brv_pulse *pulse)
{
    const size_t before = list->n;
    if (!brv_key_given(pulse, BRV_SCOPE_PULSE, "pulse")) add_key(list, BRV_MISSING, BRV_SCOPE_PULSE, 0, "pulse", "");
    check_ranges(list, pulse, BRV_SCOPE_PULSE, 0);
    check_whole(list, pulse->count, BRV_SCOPE_PULSE, "count");
    check_whole(list, pulse->passes, BRV_SCOPE_PULSE, "passes");
    check_gap(list, pulse, "rate", pulse->count > 1.0,
              "there is only one pulse in a pass: a rate needs light.count, above 1");
    check_gap(list, pulse, "pause", pulse->passes > 1.0, "there is only one pass: a pause needs light.passes, above 1");
    if (pulse->count * pulse->passes > MOST_PULSES)
        add_key(list, BRV_ORDER, BRV_SCOPE_PULSE, 0, "passes", "light.count times this makes more than 200 pulses");
    if (list->n == before) check_spacing(list, pulse);
    return list->n == before;
}

/* `absorption` stands for the whole composition, so none of its parts may be given beside it. */
static void check_composition(struct fault_list *list, const struct brv_layer_ask *layer, int index)
{
    static const char *const part[] = {"melanosomes", "blood", "saturation", "water", "baseline"};
    if (!brv_key_given(layer, BRV_SCOPE_LAYER, "absorption")) {
        if (layer->melanosomes + layer->blood > 1.0)
            add_key(list, BRV_ORDER, BRV_SCOPE_LAYER, index, "blood", "melanosomes and blood together exceed 100 %");
        return;
    }
    for (size_t i = 0; i < sizeof part / sizeof *part; i++)
        if (brv_key_given(layer, BRV_SCOPE_LAYER, part[i]))
            add_key(list, BRV_CONFLICT, BRV_SCOPE_LAYER, index, part[i],
                    "absorption replaces the composition: give one or the other");
}

static void check_layer(struct fault_list *list, const struct brv_layer_ask *layer, int index, bool last)
{
    check_ranges(list, layer, BRV_SCOPE_LAYER, index);
    check_composition(list, layer, index);
    if (brv_key_given(layer, BRV_SCOPE_LAYER, "scattering") &&
        brv_key_given(layer, BRV_SCOPE_LAYER, "reduced_scattering"))
        add_key(list, BRV_CONFLICT, BRV_SCOPE_LAYER, index, "scattering",
                "give scattering or reduced_scattering, not both");
    if (last && isinf(layer->thickness) && brv_key_given(layer, BRV_SCOPE_LAYER, "absorption") &&
        layer->absorption <= 0.0)
        add_key(list, BRV_ORDER, BRV_SCOPE_LAYER, index, "absorption", "an endless layer must absorb");
    if (!last && isinf(layer->thickness))
        add_key(list, BRV_ORDER, BRV_SCOPE_LAYER, index, "thickness", "only the last layer can be endless");
}

static void check_grain(struct fault_list *list, const struct brv_skin *skin, int site)
{
    const struct brv_grain_ask *grain = &skin->grain;
    check_ranges(list, grain, BRV_SCOPE_GRAIN, site);
    if (brv_key_given(grain, BRV_SCOPE_GRAIN, "darkness") && brv_key_given(grain, BRV_SCOPE_GRAIN, "absorption"))
        add_key(list, BRV_CONFLICT, BRV_SCOPE_GRAIN, site, "absorption", "give darkness or absorption, not both");
    if (grain->layer >= (int)skin->n_layer)
        add_key(list, BRV_ORDER, BRV_SCOPE_GRAIN, site, "layer", "the skin has no such layer");
}

static void check_skin(struct fault_list *list, const struct brv_skin *skin, int site)
{
    if (skin->n_layer == 0) {
        add(list, (struct brv_error){.status = BRV_MISSING,
                                     .scope = BRV_SCOPE_LAYER,
                                     .index = site * BRV_MOST_LAYERS,
                                     .key = -1,
                                     .place = "a list of layers, or light, intermediate or dark"});
        return;
    }
    for (size_t i = 0; i < skin->n_layer; i++)
        check_layer(list, &skin->layer[i], site * BRV_MOST_LAYERS + (int)i, i + 1 == skin->n_layer);
    check_grain(list, skin, site);
}

static void check_below(struct fault_list *list, const struct brv_scenario *ask)
{
    const bool ends = isfinite(brv_skin_thickness(&ask->skin[BRV_NEIGHBOUR]));
    const bool lesion_ends = isfinite(brv_skin_thickness(&ask->skin[BRV_LESION]));
    const size_t last = ask->skin[BRV_LESION].n_layer - 1;
    if (ask->skin[BRV_NEIGHBOUR].n_layer == 0) return;
    if (ends != lesion_ends)
        add_key(list, BRV_ORDER, BRV_SCOPE_LAYER, BRV_LESION * BRV_MOST_LAYERS + (int)last, "thickness",
                "the last layer is endless in one of lesion and neighbour only");
    else if (ends && !brv_key_given(&ask->below, BRV_SCOPE_BELOW, "index"))
        add_key(list, BRV_MISSING, BRV_SCOPE_BELOW, 0, "index",
                "the last layer is not endless, so say what lies below it");
    else if (!ends && ask->below.given)
        add_key(list, BRV_CONFLICT, BRV_SCOPE_BELOW, 0, "index", "nothing lies below an endless layer");
    check_ranges(list, &ask->below, BRV_SCOPE_BELOW, 0);
}

static void check_watch(struct fault_list *list, const struct brv_scenario *ask)
{
    const struct brv_watch *watch = &ask->watch;
    const double whole =
        fmin(brv_skin_thickness(&ask->skin[BRV_NEIGHBOUR]), brv_skin_thickness(&ask->skin[BRV_LESION]));
    check_ranges(list, watch, BRV_SCOPE_WATCH, 0);
    for (size_t i = 0; i < watch->n_depth && ask->skin[BRV_NEIGHBOUR].n_layer; i++)
        if (watch->depth[i] > whole)
            add_key(list, BRV_ORDER, BRV_SCOPE_WATCH, 0, "depths", "a watched depth lies below the last layer");
}

static bool check_until(struct fault_list *list, const struct brv_scenario *ask)
{
    const struct brv_pulse *pulse = &ask->pulse;
    if (ask->watch.until > brv_pulse_last(pulse) + brv_pulse_window(pulse)) return true;
    add_bound(list, BRV_SCOPE_WATCH, "until",
              brv_pulse_total(pulse) > 1 ? "the curves must run on past the end of the last pulse"
                                         : "the curves must run on past the end of the pulse",
              brv_pulse_last(pulse) + brv_pulse_window(pulse), 0.0);
    return false;
}

/* ---- the surface ---- */

/* What would say when something is laid on, and how cold it is, while nothing is. */
static void refuse_laying(struct fault_list *list, const struct brv_surface *surface, brv_status status,
                          const char *text)
{
    static const char *const key[] = {"from", "to", "outside_temperature"};
    for (size_t i = 0; i < sizeof key / sizeof *key; i++)
        if (brv_key_given(surface, BRV_SCOPE_SURFACE, key[i]))
            add_key(list, status, BRV_SCOPE_SURFACE, 0, key[i], text);
}

/* The light is solved once, with one medium on the skin. */
static void check_edges(struct fault_list *list, const struct brv_scenario *ask)
{
    const size_t before = list->n, covered = brv_surface_covered_pulses(ask);
    if (brv_surface_within_pulse(ask, ask->surface.from))
        add_key(list, BRV_ORDER, BRV_SCOPE_SURFACE, 0, "from", "it would be laid on while a pulse lasts");
    if (brv_surface_within_pulse(ask, ask->surface.to))
        add_key(list, BRV_ORDER, BRV_SCOPE_SURFACE, 0, "to", "it would be taken away while a pulse lasts");
    if (list->n == before && covered > 0 && covered < brv_pulse_total(&ask->pulse))
        add_key(list, BRV_ORDER, BRV_SCOPE_SURFACE, 0, ask->surface.from > 0.0 ? "from" : "to",
                "it must lie on the skin during all pulses or during none: the light is solved once for all of them");
}

/* `timed`: the pulses and the end of the curves are sound. */
static void check_laying(struct fault_list *list, const struct brv_scenario *ask, bool timed)
{
    const struct brv_surface *surface = &ask->surface;
    const size_t before = list->n;
    if (surface->outside != BRV_GEL && !brv_key_given(surface, BRV_SCOPE_SURFACE, "outside_temperature"))
        add_key(list, BRV_MISSING, BRV_SCOPE_SURFACE, 0, "outside_temperature", "");
    if (surface->from >= ask->watch.until)
        add_key(list, BRV_ORDER, BRV_SCOPE_SURFACE, 0, "from", "it would be laid on when the curves have ended");
    else if (surface->from >= surface->to)
        add_key(list, BRV_ORDER, BRV_SCOPE_SURFACE, 0, "to", "it would be taken away before it is laid on");
    if (surface->to > ask->watch.until)
        add_key(list, BRV_ORDER, BRV_SCOPE_SURFACE, 0, "to", "it would be taken away when the curves have ended");
    if (timed && list->n == before) check_edges(list, ask);
}

static void check_surface(struct fault_list *list, const struct brv_scenario *ask, bool timed)
{
    const struct brv_surface *surface = &ask->surface;
    const bool outside = brv_key_given(surface, BRV_SCOPE_SURFACE, "outside");
    const bool index = brv_key_given(surface, BRV_SCOPE_SURFACE, "index");
    check_ranges(list, surface, BRV_SCOPE_SURFACE, 0);
    if (outside && index) add_key(list, BRV_CONFLICT, BRV_SCOPE_SURFACE, 0, "index", "give outside or index, not both");
    if (index)
        refuse_laying(list, surface, BRV_CONFLICT,
                      "index stands for what lies there all the time, in balance with the skin: give outside in its "
                      "place");
    else if (surface->outside == BRV_AIR)
        refuse_laying(list, surface, BRV_ORDER,
                      "still air lies on the skin all the time, in balance with it: surface.outside says what is laid "
                      "on");
    else
        check_laying(list, ask, timed);
}

size_t brv_scenario_check(const struct brv_scenario *ask, struct brv_error fault[], size_t room)
{
    struct fault_list list = {fault, room, 0};
    check_beam(&list, &ask->beam);
    const bool pulses = check_pulse(&list, &ask->pulse);
    check_skin(&list, &ask->skin[BRV_NEIGHBOUR], BRV_NEIGHBOUR);
    check_skin(&list, &ask->skin[BRV_LESION], BRV_LESION);
    for (size_t site = 0; site < BRV_N_SITE && ask->skin[site].n_layer; site++) check_walk(&list, ask, site);
    check_below(&list, ask);
    check_watch(&list, ask);
    check_surface(&list, ask, pulses && check_until(&list, ask));
    return list.n;
}
