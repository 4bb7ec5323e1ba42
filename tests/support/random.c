#include "support/random.h"

#include "base/constants.h"
#include "scenario/body.h"
#include "scenario/unit.h"
#include "support/check.h"
#include "support/sample.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define ONE_STREAM 7919UL /* between the seeds of two scenarios */
#define LONGEST    1e3    /* curves; those of the longest trains run on to four times that [s] */

enum { MOST_RANDOM_LAYERS = 6, MOST_RANDOM_DEPTHS = 4, NUMBER_SIZE = 32 };

/* ---- numbers ---- */

unsigned long random_seed(void)
{
    const char *text = getenv("BREVIS_SEED");
    return text ? strtoul(text, NULL, 10) : RANDOM_FIXED_SEED;
}

gsl_rng *random_stream(unsigned long seed, size_t number)
{
    gsl_rng *random = gsl_rng_alloc(gsl_rng_mt19937);
    gsl_rng_set(random, seed + ONE_STREAM * (unsigned long)number);
    return random;
}

static double six_digits(double value)
{
    char text[NUMBER_SIZE];
    snprintf(text, sizeof text, "%.5e", value);
    return strtod(text, NULL);
}

double random_even(gsl_rng *random, double least, double most)
{
    return six_digits(least + (most - least) * gsl_rng_uniform(random));
}

double random_decades(gsl_rng *random, double least, double most)
{
    const double value = exp(log(least) + log(most / least) * gsl_rng_uniform(random));
    return fmin(fmax(six_digits(value), least), most);
}

static bool chance(gsl_rng *random, double share)
{
    return gsl_rng_uniform(random) < share;
}

static int one_of(gsl_rng *random, int n)
{
    return (int)gsl_rng_uniform_int(random, (unsigned long)n);
}

/* ---- keys ---- */

static void set_number(void *scope_struct, enum brv_scope scope, const char *name, double value)
{
    const struct brv_key *key = &brv_keys[brv_key_find(scope, name)];
    memcpy((char *)scope_struct + key->offset, &value, sizeof value);
    sample_give(scope_struct, scope, name);
}

static void set_word(void *scope_struct, enum brv_scope scope, const char *name, int value)
{
    const struct brv_key *key = &brv_keys[brv_key_find(scope, name)];
    memcpy((char *)scope_struct + key->offset, &value, sizeof value);
    sample_give(scope_struct, scope, name);
}

/* Over the whole range of the key; where it begins at 0, `floor` is the least but for now and then the 0 itself. */
static double drawn(gsl_rng *random, enum brv_scope scope, const char *name, double floor)
{
    const struct brv_key *key = &brv_keys[brv_key_find(scope, name)];
    if (!key->above && key->least <= 0.0 && chance(random, 0.15)) return 0.0;
    return random_decades(random, fmax(key->least, floor), key->most);
}

static void draw_number(gsl_rng *random, void *scope_struct, enum brv_scope scope, const char *name, double floor)
{
    set_number(scope_struct, scope, name, drawn(random, scope, name, floor));
}

static void draw_even(gsl_rng *random, void *scope_struct, enum brv_scope scope, const char *name)
{
    const struct brv_key *key = &brv_keys[brv_key_find(scope, name)];
    set_number(scope_struct, scope, name, random_even(random, key->least, key->most));
}

/* ---- a scenario ---- */

/* Fluence or energy, so that the other one lies in its range too: 1e-4 within the ends, for values have six digits. */
static void draw_dose(gsl_rng *random, struct brv_beam *beam, const char *name, const char *other, double times)
{
    const struct brv_key *key = &brv_keys[brv_key_find(BRV_SCOPE_LIGHT, name)];
    const struct brv_key *that = &brv_keys[brv_key_find(BRV_SCOPE_LIGHT, other)];
    const double least = fmax(key->least, (1.0 + 1e-4) * that->least / times);
    const double most = fmin(key->most, (1.0 - 1e-4) * that->most / times);
    set_number(beam, BRV_SCOPE_LIGHT, name, random_decades(random, least, most));
}

static void draw_light(gsl_rng *random, struct brv_scenario *ask)
{
    draw_even(random, &ask->beam, BRV_SCOPE_LIGHT, "wavelength");
    draw_number(random, &ask->beam, BRV_SCOPE_LIGHT, "spot", 0.0);
    set_word(&ask->beam, BRV_SCOPE_LIGHT, "profile", one_of(random, 2));
    set_word(&ask->beam, BRV_SCOPE_LIGHT, "method", BRV_METHOD_LAYERED); /* spots have tests of their own */
    if (chance(random, 0.5))
        draw_dose(random, &ask->beam, "fluence", "energy", brv_beam_area(&ask->beam));
    else
        draw_dose(random, &ask->beam, "energy", "fluence", 1.0 / brv_beam_area(&ask->beam));
    draw_number(random, &ask->pulse, BRV_SCOPE_PULSE, "pulse", 0.0);
    set_word(&ask->pulse, BRV_SCOPE_PULSE, "shape", one_of(random, 2));
}

static void draw_composition(gsl_rng *random, struct brv_layer_ask *layer)
{
    if (chance(random, 0.25)) {
        draw_number(random, layer, BRV_SCOPE_LAYER, "absorption", 1e-2);
        return;
    }
    if (chance(random, 0.1)) { /* nearly all blood */
        set_number(layer, BRV_SCOPE_LAYER, "melanosomes", 0.0);
        set_number(layer, BRV_SCOPE_LAYER, "blood", random_decades(random, 0.4, 1.0));
    } else { /* blood leaves room for the pigment, that of a lesion and of a basal row too */
        if (chance(random, 0.7)) draw_number(random, layer, BRV_SCOPE_LAYER, "melanosomes", 1e-4);
        if (chance(random, 0.5)) set_number(layer, BRV_SCOPE_LAYER, "blood", random_decades(random, 1e-4, 0.4));
    }
    if (chance(random, 0.5)) draw_even(random, layer, BRV_SCOPE_LAYER, "saturation");
    if (chance(random, 0.5)) draw_even(random, layer, BRV_SCOPE_LAYER, "water");
    if (chance(random, 0.5)) draw_even(random, layer, BRV_SCOPE_LAYER, "baseline");
}

static void draw_scattering(gsl_rng *random, struct brv_layer_ask *layer)
{
    switch (one_of(random, 3)) {
    case 0:
        draw_number(random, layer, BRV_SCOPE_LAYER, "scattering", 1.0);
        break;
    case 1:
        draw_number(random, layer, BRV_SCOPE_LAYER, "reduced_scattering", 1.0);
        break;
    default:
        break;
    }
    if (chance(random, 0.7)) draw_even(random, layer, BRV_SCOPE_LAYER, "anisotropy");
}

static void draw_warmth(gsl_rng *random, struct brv_layer_ask *layer)
{
    static const char *const name[] = {"conductivity", "density", "heat_capacity"};
    for (size_t i = 0; i < 3; i++)
        if (chance(random, 0.4)) draw_number(random, layer, BRV_SCOPE_LAYER, name[i], 0.0);
    if (chance(random, 0.5)) draw_number(random, layer, BRV_SCOPE_LAYER, "perfusion", 1e-6);
}

static void draw_layer(gsl_rng *random, struct brv_layer_ask *layer, double index, bool last)
{
    set_word(layer, BRV_SCOPE_LAYER, "kind", one_of(random, BRV_N_KIND));
    draw_number(random, layer, BRV_SCOPE_LAYER, "thickness", 0.0);
    if (last && chance(random, 0.5)) set_number(layer, BRV_SCOPE_LAYER, "thickness", INFINITY);
    draw_composition(random, layer);
    if (isinf(layer->thickness) && brv_key_given(layer, BRV_SCOPE_LAYER, "absorption") && layer->absorption <= 0.0)
        set_number(layer, BRV_SCOPE_LAYER, "absorption", 1e-2); /* an endless layer must absorb */
    draw_scattering(random, layer);
    draw_warmth(random, layer);
    if (index > 0.0) set_number(layer, BRV_SCOPE_LAYER, "index", index);
    if (index < 0.0) set_number(layer, BRV_SCOPE_LAYER, "index", random_even(random, 1.33, 1.5));
}

static void draw_grain(gsl_rng *random, struct brv_grain_ask *grain, size_t n_layer)
{
    static const char *const name[] = {"conductivity", "density", "heat_capacity", "host_conductivity"};
    draw_number(random, grain, BRV_SCOPE_GRAIN, "diameter", 0.0);
    if (chance(random, 0.8))
        draw_number(random, grain, BRV_SCOPE_GRAIN, "darkness", 0.01);
    else
        draw_number(random, grain, BRV_SCOPE_GRAIN, "absorption", 0.0);
    for (size_t i = 0; i < 4; i++)
        if (chance(random, 0.4)) draw_number(random, grain, BRV_SCOPE_GRAIN, name[i], 0.0);
    if (chance(random, 0.3)) set_word(grain, BRV_SCOPE_GRAIN, "layer", one_of(random, (int)n_layer));
}

/* All indices the default, all another one, or each its own. */
static void draw_skin(gsl_rng *random, struct brv_skin *skin)
{
    const int indices = one_of(random, 3);
    const double index = indices == 0 ? 0.0 : indices == 1 ? random_even(random, 1.33, 1.5) : -1.0;
    skin->n_layer = 1 + (size_t)one_of(random, MOST_RANDOM_LAYERS);
    for (size_t i = 0; i < skin->n_layer; i++) draw_layer(random, &skin->layer[i], index, i + 1 == skin->n_layer);
    draw_grain(random, &skin->grain, skin->n_layer);
}

/* A lesion that differs in the pigment and blood of one layer and in its grain. */
static void draw_lesion(gsl_rng *random, struct brv_scenario *ask)
{
    struct brv_skin *lesion = &ask->skin[BRV_LESION];
    *lesion = ask->skin[BRV_NEIGHBOUR];
    if (!chance(random, 0.5)) return;
    ask->lesion_given = 1;
    struct brv_layer_ask *layer = &lesion->layer[one_of(random, (int)lesion->n_layer)];
    if (!brv_key_given(layer, BRV_SCOPE_LAYER, "absorption")) {
        draw_number(random, layer, BRV_SCOPE_LAYER, "melanosomes", 1e-4);
        set_number(layer, BRV_SCOPE_LAYER, "blood", random_decades(random, 1e-4, 0.4));
    }
    draw_number(random, &lesion->grain, BRV_SCOPE_GRAIN, "diameter", 0.0);
}

/* Up to 60 degC, in hundredths of a degree, so that degC and K can both be written. */
static void draw_temperature(gsl_rng *random, struct brv_surface *surface, const char *name, double coldest)
{
    const double hundredths = 27315.0 + 100.0 * coldest + round(100.0 * (60.0 - coldest) * gsl_rng_uniform(random));
    set_number(surface, BRV_SCOPE_SURFACE, name, hundredths / 100.0);
}

static void draw_surface(gsl_rng *random, struct brv_scenario *ask)
{
    if (chance(random, 0.4))
        set_word(&ask->surface, BRV_SCOPE_SURFACE, "outside", one_of(random, 2));
    else if (chance(random, 0.5))
        draw_even(random, &ask->surface, BRV_SCOPE_SURFACE, "index");
    else if (chance(random, 0.5)) /* the index of the first layer: no mirror at all */
        set_number(&ask->surface, BRV_SCOPE_SURFACE, "index",
                   ask->skin[0].layer[0].index > 0.0 ? ask->skin[0].layer[0].index : 1.4);
    if (chance(random, 0.7)) draw_temperature(random, &ask->surface, "temperature", 0.0);
    if (!isfinite(brv_skin_thickness(&ask->skin[BRV_NEIGHBOUR]))) return;
    if (chance(random, 0.5))
        draw_even(random, &ask->below, BRV_SCOPE_BELOW, "index");
    else
        set_number(&ask->below, BRV_SCOPE_BELOW, "index", 1.4);
}

static void draw_watch(gsl_rng *random, struct brv_scenario *ask)
{
    const double past = 1.01 * brv_pulse_window(&ask->pulse);
    set_number(&ask->watch, BRV_SCOPE_WATCH, "until", random_decades(random, fmax(1e-6, past), LONGEST));
    if (chance(random, 0.5)) return;
    const double deepest = fmin(0.02, brv_skin_thickness(&ask->skin[BRV_NEIGHBOUR]));
    ask->watch.n_depth = 1 + (size_t)one_of(random, MOST_RANDOM_DEPTHS);
    for (size_t i = 0; i < ask->watch.n_depth; i++)
        ask->watch.depth[i] = chance(random, 0.2) ? 0.0 : random_decades(random, fmin(1e-7, deepest), deepest);
    sample_give(&ask->watch, BRV_SCOPE_WATCH, "depths");
}

/* When the last energy has arrived, and a little more. */
static double past_pulses(const struct brv_scenario *ask)
{
    return 1.001 * (brv_pulse_last(&ask->pulse) + brv_pulse_window(&ask->pulse));
}

/* Few pulses, each followed by the next within seconds: what is asked of a train holds for two as for two hundred. */
static void draw_train(gsl_rng *random, struct brv_scenario *ask)
{
    const double window = brv_pulse_window(&ask->pulse);
    const int count = 1 + one_of(random, 4), passes = 1 + one_of(random, 3);
    if (!chance(random, 0.3)) return;
    set_number(&ask->pulse, BRV_SCOPE_PULSE, "count", count);
    set_number(&ask->pulse, BRV_SCOPE_PULSE, "passes", passes);
    if (count > 1)
        set_number(&ask->pulse, BRV_SCOPE_PULSE, "rate", random_decades(random, 0.2, fmin(10.0, 0.99 / window)));
    if (passes > 1)
        set_number(&ask->pulse, BRV_SCOPE_PULSE, "pause", random_decades(random, fmax(0.1, 1.01 * window), 20.0));
    const double past = 1.01 * past_pulses(ask);
    if (ask->watch.until < past)
        set_number(&ask->watch, BRV_SCOPE_WATCH, "until", random_decades(random, past, LONGEST));
}

/* Before, during or after all pulses. */
static void draw_times(gsl_rng *random, struct brv_scenario *ask)
{
    const double past = past_pulses(ask), until = ask->watch.until;
    switch (one_of(random, 4)) {
    case 0:
        set_number(&ask->surface, BRV_SCOPE_SURFACE, "from", random_even(random, -100.0, 0.0));
        set_number(&ask->surface, BRV_SCOPE_SURFACE, "to", random_decades(random, past, until));
        break;
    case 1:
        set_number(&ask->surface, BRV_SCOPE_SURFACE, "from", random_even(random, -600.0, -10.0));
        set_number(&ask->surface, BRV_SCOPE_SURFACE, "to", random_even(random, -9.0, 0.0));
        break;
    case 2:
        if (past < 900.0)
            set_number(&ask->surface, BRV_SCOPE_SURFACE, "from",
                       random_decades(random, past, fmin(1000.0, sqrt(past * until))));
        break;
    default: /* as it comes: from a second before the pulses to the end */
        break;
    }
}

/* Something laid on for a time, unless an index says that nothing ever changes. */
static void draw_laying(gsl_rng *random, struct brv_scenario *ask)
{
    struct brv_surface *surface = &ask->surface;
    if (chance(random, 0.5)) draw_temperature(random, surface, "core", 0.0);
    if (chance(random, 0.3)) draw_number(random, surface, BRV_SCOPE_SURFACE, "transfer", 1.0);
    if (brv_key_given(surface, BRV_SCOPE_SURFACE, "index")) return;
    if (chance(random, 0.4)) set_word(surface, BRV_SCOPE_SURFACE, "outside", BRV_FORCED_AIR + one_of(random, 2));
    if (surface->outside == BRV_AIR) return;
    if (surface->outside != BRV_GEL || chance(random, 0.5))
        draw_temperature(random, surface, "outside_temperature", -60.0);
    draw_times(random, ask);
}

/* The lesion's are its neighbour's, as they are in a file that says nothing else. */
static void draw_spreads(gsl_rng *random, struct brv_grain_ask *grain, struct brv_grain_ask *lesion)
{
    const bool small = fmin(grain->diameter, lesion->diameter) > 0.12e-6;
    const bool large = fmax(grain->diameter, lesion->diameter) > 2e-6;
    if (chance(random, 0.3) && fmax(grain->darkness, lesion->darkness) < 20.0) {
        draw_even(random, grain, BRV_SCOPE_GRAIN, "darkness_spread");
        set_number(lesion, BRV_SCOPE_GRAIN, "darkness_spread", grain->darkness_spread);
    }
    if (chance(random, 0.3) && small && !large) {
        draw_even(random, grain, BRV_SCOPE_GRAIN, "diameter_spread");
        set_number(lesion, BRV_SCOPE_GRAIN, "diameter_spread", grain->diameter_spread);
    }
}

/* By what grains are judged, and a vessel where one fits. */
static void draw_judgement(gsl_rng *random, struct brv_scenario *ask)
{
    const double warmest = fmax(fmax(ask->surface.temperature, ask->surface.core), ask->surface.outside_temperature);
    draw_spreads(random, &ask->skin[BRV_NEIGHBOUR].grain, &ask->skin[BRV_LESION].grain);
    if (chance(random, 0.3))
        set_number(&ask->watch, BRV_SCOPE_WATCH, "criterion",
                   round(100.0 * random_even(random, fmax(warmest, 333.15) + 2.0, 673.0)) / 100.0);
    if (chance(random, 0.3)) set_word(&ask->watch, BRV_SCOPE_WATCH, "place", one_of(random, BRV_N_PLACE));
    if (chance(random, 0.3))
        set_number(&ask->watch, BRV_SCOPE_WATCH, "sign_column", random_decades(random, 1e-9, 10e-6));
    if (chance(random, 0.3)) draw_even(random, &ask->watch, BRV_SCOPE_WATCH, "tan");
    struct brv_scenario filled = *ask;
    brv_scenario_fill(&filled);
    if (chance(random, 0.3) && filled.vessel.depth > 0.0)
        draw_even(random, &ask->vessel, BRV_SCOPE_VESSEL, "saturation");
}

/* Train and laying come last, so that the scenarios without them are those of a table of keys without them. */
struct brv_scenario random_scenario(gsl_rng *random)
{
    struct brv_scenario ask;
    memset(&ask, 0, sizeof ask);
    draw_light(random, &ask);
    draw_skin(random, &ask.skin[BRV_NEIGHBOUR]);
    draw_lesion(random, &ask);
    draw_surface(random, &ask);
    draw_watch(random, &ask);
    draw_train(random, &ask);
    draw_laying(random, &ask);
    draw_judgement(random, &ask);
    return ask;
}

/* ---- one of many ---- */

struct random_case random_case_draw(size_t number)
{
    struct random_case one = {.seed = random_seed(), .number = number};
    struct brv_error fault = {.place = ""};
    gsl_rng *random = random_stream(one.seed, number);
    one.drawn = one.ask = random_scenario(random);
    gsl_rng_free(random);
    brv_scenario_fill(&one.ask);
    const size_t n = brv_scenario_check(&one.ask, &fault, 1);
    random_case_hold(&one, n == 0, fault.key >= 0 ? brv_keys[fault.key].name : fault.place, fault.found, fault.most);
    return one;
}

void random_case_hold(const struct random_case *one, bool holds, const char *what, double found, double bound)
{
    if (holds) return;
    print_error("BREVIS_SEED=%lu scenario %zu: %s: found %.17g, bound or expected %.17g\n", one->seed, one->number,
                what, found, bound);
    random_write(stderr, &one->drawn, 0);
    fail();
}

/* ---- out of range ---- */

static bool given(const void *scope_struct, size_t key)
{
    unsigned bits;
    memcpy(&bits, scope_struct, sizeof bits);
    return bits & brv_key_bit(key);
}

static double outside(gsl_rng *random, const struct brv_key *key)
{
    switch (one_of(random, 5)) {
    case 0:
        return key->most + fmax(fabs(key->most), 1.0) * random_decades(random, 1e-3, 1e9);
    case 1:
        return key->least - fmax(fabs(key->most), 1.0) * random_decades(random, 1e-3, 1e9);
    case 2:
        return -INFINITY;
    case 3:
        return key->kind == BRV_EXTENT ? -1.0 : (double)INFINITY;
    default:
        return NAN;
    }
}

static void spoil_key(gsl_rng *random, char *field, const struct brv_key *key)
{
    static const int words[] = {-2147483647 - 1, -1000, -2, 16, 17, 1000, 2147483647};
    const int word = words[one_of(random, 7)];
    const double value = outside(random, key);
    if (key->kind == BRV_WORD || key->kind == BRV_LAYER_REF)
        memcpy(field, &word, sizeof word);
    else
        memcpy(field, &value, sizeof value); /* of a list, the first */
}

void random_spoil(gsl_rng *random, struct brv_scenario *ask)
{
    int left = 1 + one_of(random, 3);
    while (left > 0) {
        const size_t key = gsl_rng_uniform_int(random, (unsigned long)brv_n_keys);
        const size_t layer = gsl_rng_uniform_int(random, (unsigned long)ask->skin[BRV_NEIGHBOUR].n_layer);
        char *target = brv_key_scope(ask, brv_keys[key].scope, BRV_NEIGHBOUR, layer);
        if (!given(target, key)) continue;
        spoil_key(random, target + brv_keys[key].offset, &brv_keys[key]);
        left--;
    }
}

/* ---- as text ---- */

static const char *unit_name(enum brv_dimension dimension, int units)
{
    static const char *const name[BRV_N_DIMENSION][2] = {
        [BRV_PURE] = {"", ""},
        [BRV_SHARE] = {"%", "%"},
        [BRV_LENGTH] = {"m", "um"},
        [BRV_TIME] = {"s", "ns"},
        [BRV_ENERGY] = {"J", "mJ"},
        [BRV_FLUENCE] = {"J/m2", "J/cm2"},
        [BRV_PER_LENGTH] = {"1/m", "/cm"},
        [BRV_PER_TIME] = {"/s", "Hz"},
        [BRV_TEMPERATURE] = {"K", "degC"},
        [BRV_CONDUCTIVITY] = {"W/m/K", "W/m/K"},
        [BRV_TRANSFER] = {"W/m2/K", "W/m\xC2\xB2/K"},
        [BRV_DENSITY] = {"kg/m3", "g/cm3"},
        [BRV_HEAT_CAPACITY] = {"J/kg/K", "kJ/kg/K"},
    };
    return name[dimension][units];
}

/* The decimal point is moved in the text, so that no unit costs a digit. */
static void write_number(FILE *file, double value, enum brv_dimension dimension, int units)
{
    const struct brv_unit *unit = brv_unit_find(unit_name(dimension, units));
    char text[NUMBER_SIZE];
    if (isinf(value)) {
        fprintf(file, "endless");
        return;
    }
    if (dimension == BRV_TEMPERATURE) {
        fprintf(file, "%.2f %s", units ? value - BRV_ZERO_C : value, unit_name(dimension, units));
        return;
    }
    snprintf(text, sizeof text, "%.5e", value);
    char *exponent = strchr(text, 'e');
    const int power = exponent ? atoi(exponent + 1) : 0;
    if (exponent) *exponent = '\0';
    fprintf(file, "%se%d %s", text, power - (unit ? unit->power : 0), unit_name(dimension, units));
}

static void write_list(FILE *file, const char *field, const struct brv_key *key, int units)
{
    size_t n;
    memcpy(&n, field - sizeof n, sizeof n);
    for (size_t i = 0; i < n; i++) {
        double value;
        memcpy(&value, field + i * sizeof value, sizeof value);
        fprintf(file, i ? ", " : "[");
        write_number(file, value, key->dimension, units);
    }
    fprintf(file, "]");
}

static void write_value(FILE *file, const char *field, const struct brv_key *key, int units)
{
    int word;
    double value;
    memcpy(&word, field, sizeof word);
    memcpy(&value, field, key->kind == BRV_WORD || key->kind == BRV_LAYER_REF ? 0 : sizeof value);
    if (key->kind == BRV_WORD)
        fprintf(file, "%s", key->words[word]);
    else if (key->kind == BRV_LAYER_REF)
        fprintf(file, "layer%d", word);
    else if (key->kind == BRV_LIST)
        write_list(file, field, key, units);
    else
        write_number(file, value, key->dimension, units);
}

/* Every given key of one scope whose value is not that of `same` (NULL: every one). */
static void write_scope(FILE *file, const char *scope_struct, const char *same, enum brv_scope scope,
                        const char *prefix, int units)
{
    for (size_t i = 0; i < brv_n_keys; i++) {
        const size_t at = brv_keys[i].offset;
        if (brv_keys[i].scope != scope || !given(scope_struct, i)) continue;
        if (same && given(same, i) && !memcmp(scope_struct + at, same + at, sizeof(int)) &&
            (brv_keys[i].kind == BRV_WORD || brv_keys[i].kind == BRV_LAYER_REF ||
             !memcmp(scope_struct + at, same + at, sizeof(double))))
            continue;
        fprintf(file, "%s%s: ", prefix, brv_keys[i].name);
        write_value(file, scope_struct + at, &brv_keys[i], units);
        fputc('\n', file);
    }
}

static void write_section(FILE *file, struct brv_scenario *ask, const char *name, enum brv_scope scope, int units)
{
    const char *target = brv_key_scope(ask, scope, BRV_NEIGHBOUR, 0);
    unsigned bits;
    memcpy(&bits, target, sizeof bits);
    if (!bits) return;
    if (name) fprintf(file, "%s:\n", name);
    write_scope(file, target, NULL, scope, "  ", units);
}

static void write_lesion(FILE *file, const struct brv_scenario *ask, int units)
{
    const struct brv_skin *skin = &ask->skin[BRV_NEIGHBOUR], *lesion = &ask->skin[BRV_LESION];
    if (!ask->lesion_given) return;
    fprintf(file, "lesion:\n");
    for (size_t i = 0; i < lesion->n_layer; i++) {
        char prefix[NUMBER_SIZE];
        snprintf(prefix, sizeof prefix, "  layer%zu.", i);
        write_scope(file, (const char *)&lesion->layer[i], (const char *)&skin->layer[i], BRV_SCOPE_LAYER, prefix,
                    units);
    }
    write_scope(file, (const char *)&lesion->grain, (const char *)&skin->grain, BRV_SCOPE_GRAIN, "  grain.", units);
}

/* A ready skin by its name, and where on the body; otherwise its layers. */
static void write_skin(FILE *file, const struct brv_skin *skin, int units)
{
    if (skin->ready) {
        fprintf(file, "skin: {ready: %s", brv_ready_skins[skin->ready - 1].name);
        if (skin->body) fprintf(file, ", site: %s", brv_body_sites[skin->body - 1].name);
        fprintf(file, "}\n");
        return;
    }
    fprintf(file, "skin:\n");
    for (size_t i = 0; i < skin->n_layer; i++) {
        fprintf(file, "  - layer: layer%zu\n", i);
        write_scope(file, (const char *)&skin->layer[i], NULL, BRV_SCOPE_LAYER, "    ", units);
    }
}

void random_write(FILE *file, const struct brv_scenario *ask, int units)
{
    struct brv_scenario copy = *ask; /* brv_key_scope hands out pointers that may be written to */
    write_section(file, &copy, "light", BRV_SCOPE_LIGHT, units);
    write_section(file, &copy, NULL, BRV_SCOPE_PULSE, units);
    write_skin(file, &ask->skin[BRV_NEIGHBOUR], units);
    write_lesion(file, ask, units);
    write_section(file, &copy, "grain", BRV_SCOPE_GRAIN, units);
    write_section(file, &copy, "surface", BRV_SCOPE_SURFACE, units);
    write_section(file, &copy, "below", BRV_SCOPE_BELOW, units);
    write_section(file, &copy, "watch", BRV_SCOPE_WATCH, units);
    write_section(file, &copy, "vessel", BRV_SCOPE_VESSEL, units);
    write_section(file, &copy, "film", BRV_SCOPE_FILM, units);
}
