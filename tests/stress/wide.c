/* Scenarios at random over the whole ranges of the key table. */
#include "stress/draw.h"

#include "scenario/body.h"
#include "support/random.h"
#include "support/sample.h"

#include <math.h>
#include <string.h>

#define END_SHARE  0.125 /* of the values stand on an end of their range */
#define FEW_TENTHS 1e-7  /* where a range begins at 0: the least that is drawn but for the 0 itself, over the most */
#define AGAIN      1000003UL

static bool chance(gsl_rng *random, double share)
{
    return gsl_rng_uniform(random) < share;
}

static int one_of(gsl_rng *random, size_t n)
{
    return (int)gsl_rng_uniform_int(random, (unsigned long)n);
}

static int words_of(const struct brv_key *key)
{
    int n = 0;
    while (key->words[n]) n++;
    return n;
}

/* ---- one value ---- */

/* Anywhere from `least` to `most`, which may be narrower than the key's own. */
static double within(gsl_rng *random, const struct brv_key *key, double least, double most)
{
    if (chance(random, END_SHARE)) return chance(random, 0.5) || (key->above && least <= key->least) ? most : least;
    if (least < 0.0 && most > 0.0) /* times: either side of 0 has its decades */
        return chance(random, 0.5) ? -random_decades(random, 1e-6 * -least, -least)
                                   : random_decades(random, FEW_TENTHS * most, most);
    const double floor = fmax(least, FEW_TENTHS * most);
    if (key->dimension == BRV_TEMPERATURE || most < 10.0 * floor) return random_even(random, least, most);
    return random_decades(random, floor, most);
}

static double anywhere(gsl_rng *random, const struct brv_key *key)
{
    if (key->kind == BRV_WORD) return one_of(random, (size_t)words_of(key));
    return within(random, key, key->least, key->most);
}

static void draw_within(gsl_rng *random, void *scope_struct, enum brv_scope scope, const char *name, double least,
                        double most)
{
    const struct brv_key *key = &brv_keys[brv_key_find(scope, name)];
    stress_set(scope_struct, scope, name, within(random, key, fmax(least, key->least), fmin(most, key->most)));
}

static void draw(gsl_rng *random, void *scope_struct, enum brv_scope scope, const char *name)
{
    stress_set(scope_struct, scope, name, anywhere(random, &brv_keys[brv_key_find(scope, name)]));
}

/* Each of these with a chance of its own. */
static void draw_some(gsl_rng *random, void *scope_struct, enum brv_scope scope, const char *const name[], double share)
{
    for (size_t i = 0; name[i]; i++)
        if (chance(random, share)) draw(random, scope_struct, scope, name[i]);
}

/* ---- light and pulses ---- */

static void draw_light(gsl_rng *random, struct brv_beam *beam)
{
    static const int method[] = {BRV_METHOD_SPOT, BRV_METHOD_SPOT, BRV_METHOD_SPOT, BRV_METHOD_LAYERED,
                                 BRV_METHOD_SAMPLED};
    draw(random, beam, BRV_SCOPE_LIGHT, "wavelength");
    draw(random, beam, BRV_SCOPE_LIGHT, "spot");
    draw(random, beam, BRV_SCOPE_LIGHT, "profile");
    draw(random, beam, BRV_SCOPE_LIGHT, chance(random, 0.6) ? "fluence" : "energy");
    stress_set(beam, BRV_SCOPE_LIGHT, "method", method[one_of(random, 5)]);
    if (beam->method != BRV_METHOD_SAMPLED) return;
    stress_set(beam, BRV_SCOPE_LIGHT, "photons", round(random_decades(random, 1e3, STRESS_MOST_PHOTONS)));
    if (chance(random, 0.5)) draw(random, beam, BRV_SCOPE_LIGHT, "error");
    if (chance(random, 0.5)) stress_set(beam, BRV_SCOPE_LIGHT, "seed", round(random_decades(random, 1.0, 9e4)));
}

/* Whole, and 200 in all. */
static void draw_number_of_pulses(gsl_rng *random, struct brv_pulse *pulse)
{
    const double in_all = floor(random_decades(random, 1.0, 200.0));
    const double count = chance(random, 0.6) ? in_all : floor(random_decades(random, 1.0, in_all));
    if (chance(random, 0.6)) return;
    stress_set(pulse, BRV_SCOPE_PULSE, "count", count);
    stress_set(pulse, BRV_SCOPE_PULSE, "passes", floor(in_all / count));
}

static void draw_pulses(gsl_rng *random, struct brv_pulse *pulse)
{
    draw(random, pulse, BRV_SCOPE_PULSE, "pulse");
    draw(random, pulse, BRV_SCOPE_PULSE, "shape");
    draw_number_of_pulses(random, pulse);
    const double window = brv_pulse_window(pulse);
    if (pulse->count > 1.0) draw_within(random, pulse, BRV_SCOPE_PULSE, "rate", 0.0, 0.999 / window);
    const double pass = pulse->count > 1.0 ? (pulse->count - 1.0) / pulse->rate : 0.0;
    if (pulse->passes > 1.0)
        draw_within(random, pulse, BRV_SCOPE_PULSE, "pause", 1.001 * window,
                    fmax(0.2, 3990.0 / (pulse->passes - 1.0) - pass));
}

/* ---- skin ---- */

static void draw_composition(gsl_rng *random, struct brv_layer_ask *layer)
{
    static const char *const rest[] = {"saturation", "water", "baseline", NULL};
    if (chance(random, 0.25)) {
        draw(random, layer, BRV_SCOPE_LAYER, "absorption");
        return;
    }
    if (chance(random, 0.6)) draw(random, layer, BRV_SCOPE_LAYER, "melanosomes");
    if (chance(random, 0.5)) draw_within(random, layer, BRV_SCOPE_LAYER, "blood", 0.0, 1.0 - layer->melanosomes);
    draw_some(random, layer, BRV_SCOPE_LAYER, rest, 0.5);
}

static void draw_layer(gsl_rng *random, struct brv_layer_ask *layer, bool last)
{
    static const char *const warmth[] = {"conductivity", "density", "heat_capacity", "perfusion", NULL};
    draw(random, layer, BRV_SCOPE_LAYER, "kind");
    draw(random, layer, BRV_SCOPE_LAYER, "thickness");
    if (last && chance(random, 0.6)) stress_set(layer, BRV_SCOPE_LAYER, "thickness", INFINITY);
    draw_composition(random, layer);
    if (chance(random, 0.5))
        draw(random, layer, BRV_SCOPE_LAYER, chance(random, 0.5) ? "scattering" : "reduced_scattering");
    if (chance(random, 0.5)) draw(random, layer, BRV_SCOPE_LAYER, "anisotropy");
    if (chance(random, 0.3)) draw(random, layer, BRV_SCOPE_LAYER, "index");
    draw_some(random, layer, BRV_SCOPE_LAYER, warmth, 0.4);
}

static void draw_grain(gsl_rng *random, struct brv_grain_ask *grain, size_t n_layer)
{
    static const char *const name[] = {"diameter",      "conductivity",      "density",
                                       "heat_capacity", "host_conductivity", NULL};
    static const char *const spread[] = {"darkness_spread", "diameter_spread", NULL};
    draw_some(random, grain, BRV_SCOPE_GRAIN, name, 0.5);
    if (chance(random, 0.7)) draw(random, grain, BRV_SCOPE_GRAIN, chance(random, 0.7) ? "darkness" : "absorption");
    draw_some(random, grain, BRV_SCOPE_GRAIN, spread, 0.3);
    if (chance(random, 0.3)) stress_set(grain, BRV_SCOPE_GRAIN, "layer", one_of(random, n_layer));
}

static void draw_skin(gsl_rng *random, struct brv_skin *skin, bool film)
{
    if (chance(random, 0.15)) {
        brv_skin_preset(skin, (enum brv_preset)one_of(random, BRV_N_PRESET));
        const int site = one_of(random, BRV_N_BODY_SITE + 1);
        if (site < BRV_N_BODY_SITE) {
            brv_body_place(skin, &brv_body_sites[site]);
            skin->body = 1 + site;
        }
    } else {
        skin->n_layer = 1 + (size_t)one_of(random, (size_t)(film ? BRV_MOST_LAYERS - 1 : BRV_MOST_LAYERS));
        for (size_t i = 0; i < skin->n_layer; i++) draw_layer(random, &skin->layer[i], i + 1 == skin->n_layer);
    }
    draw_grain(random, &skin->grain, skin->n_layer);
    if (skin->ready) stress_take_back(&skin->grain, BRV_SCOPE_GRAIN, "layer"); /* its layers have other names */
}

/* What differs in the lesion: any values of some layers, thicknesses too, and its grain. */
static void draw_lesion(gsl_rng *random, struct brv_scenario *ask)
{
    static const char *const any[] = {"conductivity", "density", "index", "perfusion", NULL};
    static const char *const part[] = {"melanosomes", "blood", "water", "saturation", NULL};
    struct brv_skin *lesion = &ask->skin[BRV_LESION];
    *lesion = ask->skin[BRV_NEIGHBOUR];
    if (lesion->ready || chance(random, 0.4)) return;
    ask->lesion_given = 1;
    draw(random, &lesion->grain, BRV_SCOPE_GRAIN, "diameter");
    for (size_t i = 0; i < lesion->n_layer; i++) {
        struct brv_layer_ask *layer = &lesion->layer[i];
        if (chance(random, 0.5)) continue;
        if (isfinite(layer->thickness) && chance(random, 0.3)) draw(random, layer, BRV_SCOPE_LAYER, "thickness");
        if (!brv_key_given(layer, BRV_SCOPE_LAYER, "absorption")) draw_some(random, layer, BRV_SCOPE_LAYER, part, 0.4);
        draw_some(random, layer, BRV_SCOPE_LAYER, any, 0.2);
    }
}

/* ---- around it ---- */

static double past_pulses(const struct brv_pulse *pulse)
{
    struct brv_pulse whole = *pulse;
    if (!(whole.count > 0.0)) whole.count = 1.0;
    if (!(whole.passes > 0.0)) whole.passes = 1.0;
    return 1.001 * (brv_pulse_last(&whole) + brv_pulse_window(&whole));
}

static void draw_watch(gsl_rng *random, struct brv_scenario *ask)
{
    static const char *const name[] = {"damage", "place", "sign_column", "tan", NULL};
    struct brv_watch *watch = &ask->watch;
    const double least = fmax(1e-9, past_pulses(&ask->pulse));
    if (chance(random, 0.6)) draw_within(random, watch, BRV_SCOPE_WATCH, "until", least, 4000.0);
    draw_some(random, watch, BRV_SCOPE_WATCH, name, 0.4);
    if (chance(random, 0.4)) draw_within(random, watch, BRV_SCOPE_WATCH, "criterion", 320.0, 673.15);
    if (chance(random, 0.6)) return;
    const double deepest =
        fmin(0.02, fmin(brv_skin_thickness(&ask->skin[BRV_NEIGHBOUR]), /* the lesion may be thinner */
                        brv_skin_thickness(&ask->skin[BRV_LESION])));
    watch->n_depth = 1 + (size_t)one_of(random, BRV_MOST_DEPTHS);
    for (size_t i = 0; i < watch->n_depth; i++)
        watch->depth[i] = chance(random, 0.2) ? 0.0 : random_decades(random, 1e-5 * deepest, deepest);
    sample_give(watch, BRV_SCOPE_WATCH, "depths");
}

/* Before, during or after all pulses, or as it comes. */
static void draw_times(gsl_rng *random, struct brv_surface *surface, double past, double until)
{
    const int when = one_of(random, 4);
    if (when == 0) {
        draw_within(random, surface, BRV_SCOPE_SURFACE, "from", -600.0, 0.0);
        draw_within(random, surface, BRV_SCOPE_SURFACE, "to", past, until);
    } else if (when == 1) {
        stress_set(surface, BRV_SCOPE_SURFACE, "from", -random_decades(random, 1e-3, 600.0));
        stress_set(surface, BRV_SCOPE_SURFACE, "to", surface->from * random_even(random, 0.0, 0.99));
    } else if (when == 2 && past < fmin(until, 1000.0)) {
        draw_within(random, surface, BRV_SCOPE_SURFACE, "from", past, fmin(until, 1000.0));
    }
}

static void draw_surface(gsl_rng *random, struct brv_scenario *ask)
{
    static const char *const name[] = {"temperature", "core", "transfer", NULL};
    struct brv_surface *surface = &ask->surface;
    draw_some(random, surface, BRV_SCOPE_SURFACE, name, 0.4);
    if (chance(random, 0.2)) {
        draw(random, surface, BRV_SCOPE_SURFACE, "index");
        return;
    }
    if (chance(random, 0.3)) return;
    draw(random, surface, BRV_SCOPE_SURFACE, "outside");
    if (surface->outside == BRV_AIR) return;
    if (surface->outside != BRV_GEL || chance(random, 0.5))
        draw(random, surface, BRV_SCOPE_SURFACE, "outside_temperature");
    struct brv_scenario filled = *ask;
    brv_scenario_fill(&filled);
    draw_times(random, surface, past_pulses(&ask->pulse), filled.watch.until);
}

static void draw_vessel(gsl_rng *random, struct brv_scenario *ask)
{
    static const char *const name[] = {"diameter", "saturation", NULL};
    double from = 0.0, to = 0.0;
    struct brv_scenario filled = *ask;
    brv_scenario_fill(&filled);
    if (!chance(random, 0.4)) return;
    draw_some(random, &ask->vessel, BRV_SCOPE_VESSEL, name, 0.7);
    const double diameter = ask->vessel.diameter > 0.0 ? ask->vessel.diameter : 50e-6;
    if (!brv_vessel_room(&filled.skin[BRV_NEIGHBOUR], 0.02, diameter, &from, &to) || from > 0.02) {
        ask->vessel = (struct brv_vessel_ask){.given = 0};
        return;
    }
    draw_within(random, &ask->vessel, BRV_SCOPE_VESSEL, "depth", 1.00001 * from, fmin(0.99999 * to, 0.02));
}

static void draw_film(gsl_rng *random, struct brv_film_ask *film)
{
    static const char *const name[] = {"reduced_scattering", "index", "conductivity", "density", "heat_capacity", NULL};
    draw(random, film, BRV_SCOPE_FILM, "thickness");
    draw(random, film, BRV_SCOPE_FILM, "absorption");
    draw_some(random, film, BRV_SCOPE_FILM, name, 0.4);
}

struct brv_scenario stress_wide(unsigned long seed, size_t number, size_t again)
{
    struct brv_scenario ask;
    gsl_rng *random = random_stream(seed + AGAIN * (unsigned long)again, number);
    memset(&ask, 0, sizeof ask);
    const bool film = chance(random, 0.25);
    draw_light(random, &ask.beam);
    draw_pulses(random, &ask.pulse);
    draw_skin(random, &ask.skin[BRV_NEIGHBOUR], film);
    draw_lesion(random, &ask);
    if (film) draw_film(random, &ask.film);
    draw_watch(random, &ask);
    draw_surface(random, &ask);
    draw_vessel(random, &ask);
    if (isfinite(brv_skin_thickness(&ask.skin[BRV_NEIGHBOUR]))) draw(random, &ask.below, BRV_SCOPE_BELOW, "index");
    gsl_rng_free(random);
    return ask;
}
