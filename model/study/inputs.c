#include "study/inputs.h"

#include "base/constants.h"
#include "scenario/keys.h"
#include "tissue/chromophore.h"

#include <assert.h>
#include <math.h>
#include <string.h>

#define IN_THE_LOGARITHM 4.0  /* high over low from which on draws are even in the logarithm */
#define ENERGY_TOLERANCE 0.20 /* of the output */
#define SPOT_TOLERANCE   0.05 /* of the diameter */
#define NINETY           1.645
#define MOST_HALVINGS    64

static const double level_value = 4600.0, level_low = 2700.0, level_high = 6000.0; /* [1/m] */
static const double power_value = 1.421, power_low = 1.0, power_high = 1.6;
static const double level_wavelength = 500e-9; /* [m] */

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

static void write_field(struct brv_scenario *ask, size_t row, size_t site, size_t layer, double value)
{
    memcpy((char *)scope_of(ask, row, site, layer) + brv_keys[row].offset, &value, sizeof value);
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
                 {BRV_SCOPE_WATCH, "until"},   {BRV_SCOPE_WATCH, "tan"}};
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
    return brv_keys[row].scope == BRV_SCOPE_LAYER ? (size_t)ask->skin[site].layer[layer].kind : 0;
}

/* What another key, or what is not there, makes meaningless. */
static bool says_nothing(const struct brv_scenario *ask, size_t row, size_t site, size_t layer)
{
    const struct brv_key *key = &brv_keys[row];
    if (key->scope == BRV_SCOPE_LAYER && is_composition(key->name) && layer_given(ask, site, layer, "absorption"))
        return true;
    if (is_key(row, BRV_SCOPE_GRAIN, "darkness"))
        return brv_key_given(&ask->skin[site].grain, BRV_SCOPE_GRAIN, "absorption");
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

static bool scope_opened(const struct brv_inputs *inputs, enum brv_scope scope, const char *name)
{
    return is_opened(inputs, key_row(scope, name), BRV_NEIGHBOUR, 0);
}

/* ---- light ---- */

static void list_light(struct brv_inputs *inputs, const struct brv_scenario *ask)
{
    const double energy = ask->beam.energy, spot = ask->beam.spot;
    const double energies[] = {energy, (1.0 - ENERGY_TOLERANCE) * energy, (1.0 + ENERGY_TOLERANCE) * energy};
    const double spots[] = {spot, (1.0 - SPOT_TOLERANCE) * spot, (1.0 + SPOT_TOLERANCE) * spot};
    if (!scope_opened(inputs, BRV_SCOPE_LIGHT, "fluence") && !scope_opened(inputs, BRV_SCOPE_LIGHT, "energy"))
        add_special(inputs, BRV_INPUT_ENERGY, BRV_SCOPE_LIGHT, "energy", energies, "output-tolerance", "second-hand");
    if (!scope_opened(inputs, BRV_SCOPE_LIGHT, "spot"))
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
    for (size_t i = 0; i < fresh.n_layer; i++)
        if (!equal(skin->layer[i].melanosomes, fresh.layer[i].melanosomes) ||
            is_opened(inputs, row, BRV_NEIGHBOUR, i) || layer_given(ask, BRV_NEIGHBOUR, i, "absorption"))
            return false;
    return true;
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
    if (is_ready(inputs, ask)) {
        const struct brv_ready_skin *ready = &brv_ready_skins[ask->skin[BRV_NEIGHBOUR].ready - 1];
        const double range[] = {ready->melanosomes, ready->low, ready->high};
        add_special(inputs, BRV_INPUT_SKIN_PIGMENT, BRV_SCOPE_LAYER, "melanosomes", range, ready->source, ready->seen);
        add_special(inputs, BRV_INPUT_BASAL_SHARE, BRV_SCOPE_LAYER, "melanosomes", shares, "-", "choice");
    }
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

/* ---- scattering and surface ---- */

static unsigned scattering_layers(const struct brv_scenario *ask, size_t site)
{
    unsigned layers = 0;
    for (size_t i = 0; i < ask->skin[site].n_layer; i++)
        if (!layer_given(ask, site, i, "scattering") && !layer_given(ask, site, i, "reduced_scattering"))
            layers |= 1u << i;
    return layers;
}

static void list_scattering(struct brv_inputs *inputs, const struct brv_scenario *ask)
{
    const double level[] = {level_value, level_low, level_high}, power[] = {power_value, power_low, power_high};
    const unsigned lesion = scattering_layers(ask, BRV_LESION), neighbour = scattering_layers(ask, BRV_NEIGHBOUR);
    if (!lesion && !neighbour) return;
    for (int i = 0; i < 2; i++) {
        const bool at_level = fabs(ask->beam.wavelength - level_wavelength) < 1e-12;
        if (i && at_level && !scope_opened(inputs, BRV_SCOPE_LIGHT, "wavelength")) return; /* the power says nothing */
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
        !scope_opened(inputs, BRV_SCOPE_SURFACE, "transfer"))
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
    list_keys(inputs, ask, BRV_SCOPE_LAYER);
    list_surface(inputs, ask);
    list_keys(inputs, ask, BRV_SCOPE_VESSEL);
}

/* ---- one draw ---- */

static double between(double from, double to, double share, bool ratio)
{
    return ratio ? from * pow(to / from, share) : from + (to - from) * share;
}

double brv_input_at(const struct brv_input *input, double u)
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
        if (draw->inputs->input[i].id == id) return brv_input_at(&draw->inputs->input[i], draw->u[i]);
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
            write_key(draw, input, brv_input_at(input, draw->u[i]));
    }
}

/* Pigment of a ready skin: shares of the volume of 10 and of 50 um, as brv_skin_preset lays them. A lesion that was described
 * keeps its ratio to them: held, it would be paler than darker skins around it. */
static void write_ready_skin(const struct draw *draw)
{
    const struct brv_skin *asked = &draw->asked->skin[BRV_NEIGHBOUR];
    const double whole = special(draw, BRV_INPUT_SKIN_PIGMENT, -1.0);
    if (whole < 0.0) return;
    const double wanted = 6.0 * whole * special(draw, BRV_INPUT_BASAL_SHARE, BRV_BASAL_SHARE);
    const double packed = brv_melanosomes_times(wanted, 1.0);
    const double share[] = {brv_melanosomes_times((6.0 * whole - packed) / 5.0, 1.0), packed};
    for (size_t i = 0; i < 2; i++) {
        const double before = asked->layer[i].melanosomes;
        const double lesion = draw->asked->skin[BRV_LESION].layer[i].melanosomes;
        draw->ask->skin[BRV_NEIGHBOUR].layer[i].melanosomes = share[i];
        if (draw->asked->lesion_given && before > 0.0)
            draw->ask->skin[BRV_LESION].layer[i].melanosomes = brv_melanosomes_times(share[i], lesion / before);
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
    const double power = special(draw, BRV_INPUT_SCATTERING_POWER, power_value);
    const double wavelength = draw->ask->beam.wavelength;
    const double reduced = brv_chromophore_reduced_scattering(wavelength) * (level / level_value) *
                           pow(wavelength / level_wavelength, power_value - power);
    const size_t row = key_row(BRV_SCOPE_LAYER, "reduced_scattering");
    for (size_t site = 0; site < BRV_N_SITE; site++)
        for (size_t i = 0; i < draw->asked->skin[site].n_layer; i++) {
            if (!(scattering_layers(draw->asked, site) & 1u << i)) continue;
            draw->ask->skin[site].layer[i].reduced_scattering = reduced;
            draw->ask->skin[site].layer[i].given |= brv_key_bit(row);
        }
}

static double within(enum brv_scope scope, const char *name, double value)
{
    const struct brv_key *key = &brv_keys[key_row(scope, name)];
    return fmin(fmax(value, key->least), key->most);
}

/* Only the one of energy and fluence that was given has a range; the other follows from it, wherever that leads. */
static double as_given(const struct brv_beam *beam, const char *name, double value)
{
    return brv_key_given(beam, BRV_SCOPE_LIGHT, name) ? within(BRV_SCOPE_LIGHT, name, value) : value;
}

/* The device gives energy, and the fluence follows; where the fluence was opened it is the other way round. */
static void write_light(const struct draw *draw)
{
    struct brv_beam *beam = &draw->ask->beam;
    beam->spot = within(BRV_SCOPE_LIGHT, "spot", special(draw, BRV_INPUT_SPOT, beam->spot));
    const double area = brv_beam_area(beam);
    if (scope_opened(draw->inputs, BRV_SCOPE_LIGHT, "fluence")) {
        const double needed = beam->fluence * area;
        beam->energy = as_given(beam, "energy", needed);
        if (!equal(beam->energy, needed)) beam->fluence = beam->energy / area;
        return;
    }
    beam->energy = as_given(beam, "energy", special(draw, BRV_INPUT_ENERGY, beam->energy));
    const double wanted = beam->energy / area;
    beam->fluence = as_given(beam, "fluence", wanted);
    if (!equal(beam->fluence, wanted)) beam->energy = beam->fluence * area;
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
    const struct brv_key *diameter = &brv_keys[key_row(BRV_SCOPE_GRAIN, "diameter")];
    const double most_dark = brv_keys[key_row(BRV_SCOPE_GRAIN, "darkness")].most;
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
    if (!scope_opened(draw->inputs, BRV_SCOPE_PULSE, "pulse")) return;
    for (int i = 0; i < MOST_HALVINGS && brv_scenario_check(draw->ask, NULL, 0) > 0; i++)
        *width = i + 1 < MOST_HALVINGS ? 0.5 * (*width + asked) : asked;
}

void brv_inputs_apply(struct brv_scenario *draw, const struct brv_scenario *ask, const struct brv_inputs *inputs,
                      const double u[])
{
    *draw = *ask;
    const struct draw all = {draw, ask, inputs, u};
    write_keys(&all, false);
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
