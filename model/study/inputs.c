#include "study/inputs.h"

#include "base/constants.h"
#include "scenario/body.h"
#include "scenario/film.h"
#include "scenario/keys.h"
#include "tissue/chromophore.h"

#include <assert.h>
#include <math.h>
#include <string.h>

#define IN_THE_LOGARITHM 4.0  /* high over low from which on draws are even in the logarithm */
#define ENERGY_TOLERANCE 0.20 /* of the output */
#define SPOT_TOLERANCE   0.05 /* of the diameter */

static const double level_low = 2700.0, level_high = 6000.0; /* [1/m] */
static const double power_low = 1.0, power_high = 1.6;

static size_t key_row(enum brv_scope scope, const char *name)
{
    const int row = brv_key_find(scope, name);
    assert(row >= 0);
    return (size_t)row;
}

static bool is_key(size_t row, enum brv_scope scope, const char *name)
{
    return brv_keys[row].scope == scope && !strcmp(brv_keys[row].name, name);
}

static void *scope_of(struct brv_scenario *ask, size_t row, size_t site, size_t layer)
{
    return brv_key_scope(ask, brv_keys[row].scope, site, layer);
}

/* The same to read from: brv_key_scope hands out pointers that may be written to. */
static const void *scope_seen(const struct brv_scenario *ask, size_t row, size_t site, size_t layer)
{
    const union {
        const struct brv_scenario *seen;
        struct brv_scenario *plain;
    } either = {.seen = ask};
    return scope_of(either.plain, row, site, layer);
}

static double field_of(const struct brv_scenario *ask, size_t row, size_t site, size_t layer)
{
    double value;
    memcpy(&value, (const char *)scope_seen(ask, row, site, layer) + brv_keys[row].offset, sizeof value);
    return value;
}

static bool layer_given(const struct brv_scenario *ask, size_t site, size_t layer, const char *name)
{
    return brv_key_given(&ask->skin[site].layer[layer], BRV_SCOPE_LAYER, name);
}

static bool key_is_given(const struct brv_scenario *ask, size_t row, size_t site, size_t layer)
{
    return brv_key_given(scope_seen(ask, row, site, layer), brv_keys[row].scope, brv_keys[row].name);
}

static bool equal(double one, double other)
{
    return !(one < other) && !(one > other);
}

/* ---- what may be opened ---- */

static bool is_number(const struct brv_key *key)
{
    return key->kind == BRV_QUANTITY || key->kind == BRV_NUMBER || key->kind == BRV_EXTENT;
}

bool brv_inputs_can_open(size_t key)
{
    static const struct {
        enum brv_scope scope;
        const char *name;
    } never[] = {{BRV_SCOPE_LIGHT, "photons"}, {BRV_SCOPE_LIGHT, "error"},  {BRV_SCOPE_LIGHT, "seed"},
                 {BRV_SCOPE_PULSE, "rate"},    {BRV_SCOPE_PULSE, "count"},  {BRV_SCOPE_PULSE, "passes"},
                 {BRV_SCOPE_PULSE, "pause"},   {BRV_SCOPE_SURFACE, "from"}, {BRV_SCOPE_SURFACE, "to"},
                 {BRV_SCOPE_WATCH, "until"},   {BRV_SCOPE_WATCH, "tan"},    {BRV_SCOPE_COLOUR, "L"},
                 {BRV_SCOPE_COLOUR, "b"}};
    if (!is_number(&brv_keys[key])) return false;
    for (size_t i = 0; i < sizeof never / sizeof *never; i++)
        if (is_key(key, never[i].scope, never[i].name)) return false;
    return true;
}

/* Filled in from elsewhere, so that it has a value without a default in the table. */
static bool is_filled(size_t key)
{
    return is_key(key, BRV_SCOPE_LIGHT, "fluence") || is_key(key, BRV_SCOPE_LIGHT, "energy") ||
           is_key(key, BRV_SCOPE_SURFACE, "transfer") || is_key(key, BRV_SCOPE_VESSEL, "depth");
}

static const char *const composition[] = {"melanosomes", "blood", "saturation", "water", "baseline"};

static bool is_composition(const char *name)
{
    for (size_t i = 0; i < sizeof composition / sizeof *composition; i++)
        if (!strcmp(name, composition[i])) return true;
    return false;
}

static size_t kind_of(const struct brv_scenario *ask, size_t row, size_t site, size_t layer)
{
    const int kind = ask->skin[site].layer[layer].kind;
    return brv_keys[row].scope == BRV_SCOPE_LAYER && kind < BRV_N_KIND ? (size_t)kind : 0;
}

/* What another key, or what is not there, makes meaningless. */
static bool says_nothing(const struct brv_scenario *ask, size_t row, size_t site, size_t layer)
{
    const struct brv_key *key = &brv_keys[row];
    if (key->scope == BRV_SCOPE_LAYER && is_composition(key->name) && layer_given(ask, site, layer, "absorption"))
        return true;
    if (is_key(row, BRV_SCOPE_GRAIN, "darkness"))
        return brv_key_given(&ask->skin[site].grain, BRV_SCOPE_GRAIN, "absorption");
    if (key->scope == BRV_SCOPE_LAYER && ask->skin[site].layer[layer].kind == BRV_FILM) return true;
    if (key->scope == BRV_SCOPE_FILM) return !ask->film.given;
    return key->scope == BRV_SCOPE_VESSEL && !(ask->vessel.depth > 0.0);
}

double brv_inputs_value(const struct brv_scenario *ask, size_t key, size_t site, size_t layer)
{
    if (!brv_inputs_can_open(key) || says_nothing(ask, key, site, layer)) return (double)NAN;
    const bool standard = !isnan(brv_keys[key].standard[kind_of(ask, key, site, layer)]);
    if (!key_is_given(ask, key, site, layer) && !standard && !is_filled(key)) return (double)NAN;
    const double value = field_of(ask, key, site, layer);
    return isfinite(value) ? value : (double)NAN;
}

/* ---- the list ---- */

static struct brv_input *add(struct brv_inputs *inputs, enum brv_input_id id, size_t key, double value, double low,
                             double high)
{
    assert(inputs->n < BRV_MOST_INPUTS);
    struct brv_input *input = &inputs->input[inputs->n++];
    *input = (struct brv_input){.id = id,
                                .key = key,
                                .value = value,
                                .low = low,
                                .high = high,
                                .ratio = low > 0.0 && high >= IN_THE_LOGARITHM * low,
                                .source = brv_keys[key].source,
                                .seen = brv_keys[key].seen};
    return input;
}

static struct brv_input *add_special(struct brv_inputs *inputs, enum brv_input_id id, enum brv_scope scope,
                                     const char *key, const double range[3], const char *source, const char *seen)
{
    struct brv_input *input = add(inputs, id, key_row(scope, key), range[0], range[1], range[2]);
    input->where[BRV_NEIGHBOUR] = input->where[BRV_LESION] = 1;
    input->source = source;
    input->seen = seen;
    return input;
}

static void add_opened(struct brv_inputs *inputs, const struct brv_scenario *ask, const struct brv_opened *opened)
{
    const bool derived = is_key(opened->key, BRV_SCOPE_LAYER, "melanosomes") && !ask->lesion_given;
    const double value = field_of(ask, opened->key, opened->site, opened->layer);
    struct brv_input *input = add(inputs, BRV_INPUT_KEY, opened->key, value, opened->low, opened->high);
    input->opened = true;
    input->source = "-";
    input->seen = "scenario";
    input->where[opened->site] = 1u << opened->layer;
    if (opened->site == BRV_NEIGHBOUR && !derived &&
        equal(value, field_of(ask, opened->key, BRV_LESION, opened->layer)))
        input->where[BRV_LESION] = 1u << opened->layer;
}

/* What is opened in the lesion is not drawn with its neighbour. */
static void part_sites(struct brv_inputs *inputs)
{
    for (size_t i = 0; i < inputs->n; i++)
        for (size_t j = 0; j < inputs->n; j++)
            if (inputs->input[i].where[BRV_NEIGHBOUR] && !inputs->input[j].where[BRV_NEIGHBOUR] &&
                inputs->input[i].key == inputs->input[j].key)
                inputs->input[i].where[BRV_LESION] &= ~inputs->input[j].where[BRV_LESION];
}

static bool is_opened(const struct brv_inputs *inputs, size_t key, size_t site, size_t layer)
{
    for (size_t i = 0; i < inputs->n; i++)
        if (inputs->input[i].opened && inputs->input[i].key == key && inputs->input[i].where[site] & 1u << layer)
            return true;
    return false;
}

bool brv_inputs_opened(const struct brv_inputs *inputs, enum brv_scope scope, const char *name)
{
    return is_opened(inputs, key_row(scope, name), BRV_NEIGHBOUR, 0);
}

/* ---- light ---- */

static void list_light(struct brv_inputs *inputs, const struct brv_scenario *ask)
{
    const double energy = ask->beam.energy, spot = ask->beam.spot;
    const double energies[] = {energy, (1.0 - ENERGY_TOLERANCE) * energy, (1.0 + ENERGY_TOLERANCE) * energy};
    const double spots[] = {spot, (1.0 - SPOT_TOLERANCE) * spot, (1.0 + SPOT_TOLERANCE) * spot};
    if (!brv_inputs_opened(inputs, BRV_SCOPE_LIGHT, "fluence") && !brv_inputs_opened(inputs, BRV_SCOPE_LIGHT, "energy"))
        add_special(inputs, BRV_INPUT_ENERGY, BRV_SCOPE_LIGHT, "energy", energies, "output-tolerance", "second-hand");
    if (!brv_inputs_opened(inputs, BRV_SCOPE_LIGHT, "spot"))
        add_special(inputs, BRV_INPUT_SPOT, BRV_SCOPE_LIGHT, "spot", spots, "-", "choice");
}

/* ---- pigment ---- */

static bool has_pigment(const struct brv_scenario *ask, size_t site, size_t layer)
{
    return ask->skin[site].layer[layer].melanosomes > 0.0 && !layer_given(ask, site, layer, "absorption");
}

static bool any_pigment(const struct brv_scenario *ask)
{
    for (size_t site = 0; site < BRV_N_SITE; site++)
        for (size_t i = 0; i < ask->skin[site].n_layer; i++)
            if (has_pigment(ask, site, i)) return true;
    return false;
}

/* A ready skin whose pigment nobody changed. */
static bool is_ready(const struct brv_inputs *inputs, const struct brv_scenario *ask)
{
    const struct brv_skin *skin = &ask->skin[BRV_NEIGHBOUR];
    if (!skin->ready) return false;
    const size_t row = key_row(BRV_SCOPE_LAYER, "melanosomes");
    struct brv_skin fresh = {.n_layer = 0};
    brv_skin_preset(&fresh, (enum brv_preset)(skin->ready - 1));
    if (skin->body) brv_body_place(&fresh, &brv_body_sites[skin->body - 1]);
    for (size_t i = 0; i < fresh.n_layer; i++) {
        const size_t here = i + brv_film_covers(skin);
        if (!equal(skin->layer[here].melanosomes, fresh.layer[i].melanosomes) ||
            is_opened(inputs, row, BRV_NEIGHBOUR, here) || layer_given(ask, BRV_NEIGHBOUR, here, "absorption"))
            return false;
    }
    return true;
}

/* A skin made from a measured colour: its pigment cannot be written beside the colour, but it may be opened. */
static bool is_coloured(const struct brv_inputs *inputs, const struct brv_scenario *ask)
{
    const struct brv_skin *skin = &ask->skin[BRV_NEIGHBOUR];
    const size_t row = key_row(BRV_SCOPE_LAYER, "melanosomes");
    for (size_t i = 0; i < skin->n_layer; i++)
        if (is_opened(inputs, row, BRV_NEIGHBOUR, i)) return false;
    return skin->colour.melanosomes > 0.0;
}

static bool has_lesion_factor(const struct brv_inputs *inputs, const struct brv_scenario *ask)
{
    const size_t row = key_row(BRV_SCOPE_LAYER, "melanosomes");
    for (size_t i = 0; i < ask->skin[BRV_LESION].n_layer && !ask->lesion_given; i++)
        if (ask->skin[BRV_LESION].layer[i].kind == BRV_BASAL && has_pigment(ask, BRV_LESION, i) &&
            !is_opened(inputs, row, BRV_LESION, i))
            return true;
    return false;
}

static void list_pigment(struct brv_inputs *inputs, const struct brv_scenario *ask)
{
    static const double shares[] = {BRV_BASAL_SHARE, 0.4, 0.9}, factors[] = {BRV_LESION_FACTOR, 1.5, 4.0};
    const bool coloured = is_coloured(inputs, ask);
    if (coloured) {
        const struct brv_skin_colour *colour = &ask->skin[BRV_NEIGHBOUR].colour;
        const double range[] = {colour->melanosomes, colour->low, colour->high};
        add_special(inputs, BRV_INPUT_SKIN_PIGMENT, BRV_SCOPE_LAYER, "melanosomes", range, "-", "computed");
    } else if (is_ready(inputs, ask)) {
        const struct brv_ready_skin *ready = &brv_ready_skins[ask->skin[BRV_NEIGHBOUR].ready - 1];
        const double range[] = {ready->melanosomes, ready->low, ready->high};
        add_special(inputs, BRV_INPUT_SKIN_PIGMENT, BRV_SCOPE_LAYER, "melanosomes", range, ready->source, ready->seen);
    }
    if (coloured || is_ready(inputs, ask))
        add_special(inputs, BRV_INPUT_BASAL_SHARE, BRV_SCOPE_LAYER, "melanosomes", shares, "-", "choice");
    if (has_lesion_factor(inputs, ask))
        add_special(inputs, BRV_INPUT_LESION_FACTOR, BRV_SCOPE_WATCH, "tan", factors, "-", "choice");
}

/* ---- keys ---- */

/* Does this key of this layer have any say? */
static bool matters(const struct brv_scenario *ask, size_t row, size_t site, size_t layer)
{
    if (says_nothing(ask, row, site, layer)) return false;
    if (is_key(row, BRV_SCOPE_LAYER, "saturation")) return ask->skin[site].layer[layer].blood > 0.0;
    if (is_key(row, BRV_SCOPE_WATCH, "sign_column") || is_key(row, BRV_SCOPE_GRAIN, "darkness_spread") ||
        is_key(row, BRV_SCOPE_GRAIN, "diameter_spread"))
        return any_pigment(ask);
    return !is_key(row, BRV_SCOPE_WATCH, "tan");
}

/* The lesion's pigment follows from its neighbour's when it was not described. */
static bool is_derived(const struct brv_scenario *ask, size_t row, size_t site)
{
    return site == BRV_LESION && !ask->lesion_given && is_key(row, BRV_SCOPE_LAYER, "melanosomes");
}

static void add_place(struct brv_input *input, const struct brv_inputs *inputs, const struct brv_scenario *ask,
                      size_t layer)
{
    for (size_t site = 0; site < BRV_N_SITE; site++)
        if (matters(ask, input->key, site, layer) && !is_opened(inputs, input->key, site, layer) &&
            !is_derived(ask, input->key, site) && equal(field_of(ask, input->key, site, layer), input->value))
            input->where[site] |= 1u << layer;
}

static bool is_uncertain(const struct brv_scenario *ask, size_t row, size_t layer)
{
    if (brv_keys[row].scope == BRV_SCOPE_LAYER && ask->skin[BRV_NEIGHBOUR].layer[layer].kind == BRV_FILM) return false;
    const size_t kind = kind_of(ask, row, BRV_NEIGHBOUR, layer);
    return !key_is_given(ask, row, BRV_NEIGHBOUR, layer) && !isnan(brv_keys[row].low[kind]) &&
           brv_keys[row].low[kind] < brv_keys[row].high[kind];
}

static bool same_range(const struct brv_key *key, size_t one, size_t other)
{
    return equal(key->standard[one], key->standard[other]) && equal(key->low[one], key->low[other]) &&
           equal(key->high[one], key->high[other]);
}

static void keep_if_anywhere(struct brv_inputs *inputs)
{
    const struct brv_input *last = &inputs->input[inputs->n - 1];
    if (!last->where[BRV_LESION] && !last->where[BRV_NEIGHBOUR]) inputs->n--;
}

/* A key of the layers: one input for all that share its range. */
static void list_layer_key(struct brv_inputs *inputs, const struct brv_scenario *ask, size_t row)
{
    const struct brv_key *key = &brv_keys[row];
    const size_t n = ask->skin[BRV_NEIGHBOUR].n_layer;
    unsigned seen = 0;
    for (size_t i = 0; i < n; i++) {
        const size_t kind = kind_of(ask, row, BRV_NEIGHBOUR, i);
        if (seen & 1u << i || !is_uncertain(ask, row, i)) continue;
        struct brv_input *input = add(inputs, BRV_INPUT_KEY, row, key->standard[kind], key->low[kind], key->high[kind]);
        for (size_t j = i; j < n; j++) {
            if (!is_uncertain(ask, row, j) || !same_range(key, kind, kind_of(ask, row, BRV_NEIGHBOUR, j))) continue;
            seen |= 1u << j;
            add_place(input, inputs, ask, j);
        }
        keep_if_anywhere(inputs);
    }
}

static void list_plain_key(struct brv_inputs *inputs, const struct brv_scenario *ask, size_t row)
{
    const struct brv_key *key = &brv_keys[row];
    if (!is_uncertain(ask, row, 0)) return;
    add_place(add(inputs, BRV_INPUT_KEY, row, key->standard[0], key->low[0], key->high[0]), inputs, ask, 0);
    keep_if_anywhere(inputs);
}

static void list_keys(struct brv_inputs *inputs, const struct brv_scenario *ask, enum brv_scope scope)
{
    for (size_t row = 0; row < brv_n_keys; row++) {
        if (brv_keys[row].scope != scope || !is_number(&brv_keys[row])) continue;
        if (scope == BRV_SCOPE_LAYER)
            list_layer_key(inputs, ask, row);
        else
            list_plain_key(inputs, ask, row);
    }
}

/* ---- a body site ---- */

/* A thickness that was measured there is drawn from its own range, as long as nobody wrote another one. */
static void add_measured(struct brv_inputs *inputs, const struct brv_scenario *ask, enum brv_layer_kind kind,
                         const struct brv_measured *measured, double less)
{
    const size_t layer = brv_skin_layer(&ask->skin[BRV_NEIGHBOUR], kind);
    if (!(measured->value > 0.0) || layer == ask->skin[BRV_NEIGHBOUR].n_layer) return;
    struct brv_input *input = add(inputs, BRV_INPUT_KEY, key_row(BRV_SCOPE_LAYER, "thickness"), measured->value - less,
                                  measured->low - less, measured->high - less);
    input->source = measured->source;
    input->seen = measured->seen;
    add_place(input, inputs, ask, layer);
    keep_if_anywhere(inputs);
}

static void list_body(struct brv_inputs *inputs, const struct brv_scenario *ask)
{
    const struct brv_skin *skin = &ask->skin[BRV_NEIGHBOUR];
    if (!skin->body) return;
    const struct brv_body_site *body = &brv_body_sites[skin->body - 1];
    add_measured(inputs, ask, BRV_HORNY, &body->horny, 0.0);
    add_measured(inputs, ask, BRV_EPIDERMIS, &body->epidermis, BRV_BODY_BASAL);
    add_measured(inputs, ask, BRV_DERMIS, &body->dermis, 0.0);
}

/* ---- scattering and surface ---- */

unsigned brv_inputs_scattering(const struct brv_scenario *ask, size_t site)
{
    unsigned layers = 0;
    for (size_t i = 0; i < ask->skin[site].n_layer; i++)
        if (!layer_given(ask, site, i, "scattering") && !layer_given(ask, site, i, "reduced_scattering"))
            layers |= 1u << i;
    return layers;
}

static void list_scattering(struct brv_inputs *inputs, const struct brv_scenario *ask)
{
    const double level[] = {BRV_SCATTERING_LEVEL, level_low, level_high},
                 power[] = {BRV_SCATTERING_POWER, power_low, power_high};
    const unsigned lesion = brv_inputs_scattering(ask, BRV_LESION),
                   neighbour = brv_inputs_scattering(ask, BRV_NEIGHBOUR);
    if (!lesion && !neighbour) return;
    for (int i = 0; i < 2; i++) {
        const bool at_level = fabs(ask->beam.wavelength - BRV_SCATTERING_AT) < 1e-12;
        if (i && at_level && !brv_inputs_opened(inputs, BRV_SCOPE_LIGHT, "wavelength"))
            return; /* the power says nothing */
        struct brv_input *input =
            add_special(inputs, i ? BRV_INPUT_SCATTERING_POWER : BRV_INPUT_SCATTERING, BRV_SCOPE_LAYER,
                        "reduced_scattering", i ? power : level, "jacques-2013", "memory");
        input->where[BRV_LESION] = lesion;
        input->where[BRV_NEIGHBOUR] = neighbour;
    }
}

/* Ranges of what is laid on, as told beside the values in model/scenario/surface.c; a gel's transfer has none. */
static const double transfer_low[BRV_N_OUTSIDE] = {[BRV_AIR] = 5.0, [BRV_FORCED_AIR] = 50.0, [BRV_PLATE] = 1000.0};
static const double transfer_high[BRV_N_OUTSIDE] = {[BRV_AIR] = 20.0, [BRV_FORCED_AIR] = 200.0, [BRV_PLATE] = 10000.0};
static const double index_low[BRV_N_OUTSIDE] = {[BRV_GEL] = 1.33, [BRV_PLATE] = 1.75};
static const double index_high[BRV_N_OUTSIDE] = {[BRV_GEL] = 1.38, [BRV_PLATE] = 1.77};

static void list_surface(struct brv_inputs *inputs, const struct brv_scenario *ask)
{
    const struct brv_surface *surface = &ask->surface;
    const bool changes = brv_surface_changes(ask);
    const int medium = changes ? surface->outside : BRV_AIR;
    const double transfer[] = {surface->transfer, transfer_low[medium], transfer_high[medium]};
    const double index[] = {surface->index, index_low[medium], index_high[medium]};
    list_keys(inputs, ask, BRV_SCOPE_SURFACE);
    if (!brv_key_given(surface, BRV_SCOPE_SURFACE, "transfer") && transfer[1] > 0.0 &&
        !brv_inputs_opened(inputs, BRV_SCOPE_SURFACE, "transfer"))
        add_special(inputs, BRV_INPUT_TRANSFER, BRV_SCOPE_SURFACE, "transfer", transfer, "surface-coefficients",
                    medium == BRV_FORCED_AIR ? "choice" : "memory");
    if (changes && brv_surface_covers(ask) && index[1] > 0.0)
        add_special(inputs, BRV_INPUT_OUTSIDE_INDEX, BRV_SCOPE_SURFACE, "index", index,
                    medium == BRV_GEL ? "gel-index" : "plate-index", "memory");
}

void brv_inputs_list(struct brv_inputs *inputs, const struct brv_scenario *ask, const struct brv_opened opened[],
                     size_t n_opened)
{
    assert(n_opened <= BRV_MOST_OPENED);
    inputs->n = 0;
    for (size_t i = 0; i < n_opened; i++) add_opened(inputs, ask, &opened[i]);
    part_sites(inputs);
    list_light(inputs, ask);
    list_pigment(inputs, ask);
    list_keys(inputs, ask, BRV_SCOPE_WATCH);
    list_keys(inputs, ask, BRV_SCOPE_GRAIN);
    list_scattering(inputs, ask);
    list_body(inputs, ask);
    list_keys(inputs, ask, BRV_SCOPE_LAYER);
    if (ask->film.given) list_keys(inputs, ask, BRV_SCOPE_FILM);
    list_surface(inputs, ask);
    list_keys(inputs, ask, BRV_SCOPE_VESSEL);
}
