/* brv_scenario_check: every fault of a filled scenario. */
#include "base/constants.h"
#include "scenario/film.h"
#include "scenario/keys.h"
#include "scenario/scenario.h"

#include <math.h>
#include <string.h>

#define MOST_REDUCED   6500.0 /* default reduced scattering at 400 nm [1/m] */
#define LEAST_ABSORBED 2e-5   /* of the scattering, in an endless layer under a walk of photons */
#define MOST_PULSES    200.0  /* in all passes together: each one is followed */
#define LEAST_MISSING  1.0    /* of a criterion above the warmest place before any pulse [K] */
#define ROUNDING       1e-12  /* relative, of a product of three numbers: a few times 2e-16, with room */
#define NINETY         1.645  /* standard deviations on either side that hold 90 % of all grains */

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
    if (brv_key_allows(row, found)) return;
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

static double most_of(enum brv_scope scope, const char *name)
{
    return brv_keys[brv_key_find(scope, name)].most;
}

static void check_whole(struct fault_list *list, double value, enum brv_scope scope, const char *name)
{
    if (value > floor(value)) add_bound(list, scope, name, "a whole number is wanted", 0.0, most_of(scope, name));
}

static bool in_range(double value, enum brv_scope scope, const char *name)
{
    const struct brv_key *row = &brv_keys[brv_key_find(scope, name)];
    return value >= row->least && value <= row->most;
}

/* Fluence and energy say each other over a spot, so what follows from the given one lies where the other may. */
static void check_derived(struct fault_list *list, const struct brv_beam *beam, const char *given, double value,
                          const char *other, double times, const char *const text[2])
{
    const struct brv_key *row = &brv_keys[brv_key_find(BRV_SCOPE_LIGHT, other)];
    if (!in_range(value, BRV_SCOPE_LIGHT, given) || !in_range(beam->spot, BRV_SCOPE_LIGHT, "spot")) return;
    if (value * times > row->most * (1.0 + ROUNDING))
        add_bound(list, BRV_SCOPE_LIGHT, given, text[0], 0.0, row->most / times);
    else if (value * times < row->least * (1.0 - ROUNDING))
        add_bound(list, BRV_SCOPE_LIGHT, given, text[1], row->least / times, 0.0);
}

static void check_dose(struct fault_list *list, const struct brv_beam *beam, bool fluence, bool energy)
{
    static const char *const of_energy[2] = {"over this spot that is more than light.energy may be",
                                             "over this spot that is less than light.energy may be"};
    static const char *const of_fluence[2] = {"over this spot that is more than light.fluence may be",
                                              "over this spot that is less than light.fluence may be"};
    const double area = brv_beam_area(beam);
    if (fluence && !energy) check_derived(list, beam, "fluence", beam->fluence, "energy", area, of_energy);
    if (energy && !fluence && area > 0.0)
        check_derived(list, beam, "energy", beam->energy, "fluence", 1.0 / area, of_fluence);
}

static void check_beam(struct fault_list *list, const struct brv_scenario *ask)
{
    const struct brv_beam *beam = &ask->beam;
    static const char *const needed[] = {"wavelength", "spot"};
    for (size_t i = 0; i < 2; i++)
        if (!brv_key_given(beam, BRV_SCOPE_LIGHT, needed[i]))
            add_key(list, BRV_MISSING, BRV_SCOPE_LIGHT, 0, needed[i], "");

    const bool fluence = brv_key_given(beam, BRV_SCOPE_LIGHT, "fluence");
    const bool energy = brv_key_given(beam, BRV_SCOPE_LIGHT, "energy");
    if (fluence && energy)
        add_key(list, BRV_CONFLICT, BRV_SCOPE_LIGHT, 0, "energy", "give fluence or energy, not both");
    if (!fluence && !energy && !brv_key_given(&ask->ladder, BRV_SCOPE_LADDER, "first"))
        add_key(list, BRV_MISSING, BRV_SCOPE_LIGHT, 0, "fluence", "give fluence or energy");
    check_ranges(list, beam, BRV_SCOPE_LIGHT, 0);
    check_dose(list, beam, fluence, energy);
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

/* `gap` parts several pulses, or several passes: it must be given then, and means nothing otherwise. Of a number that is
 * refused itself neither is known.                                                                                  */
static void check_gap(struct fault_list *list, const struct brv_pulse *pulse, const char *gap, const char *number,
                      double n, const char *alone)
{
    const bool given = brv_key_given(pulse, BRV_SCOPE_PULSE, gap), several = n > 1.0;
    if (!in_range(n, BRV_SCOPE_PULSE, number) || n > floor(n)) return;
    if (several && !given) add_key(list, BRV_MISSING, BRV_SCOPE_PULSE, 0, gap, "");
    if (!several && given) add_key(list, BRV_ORDER, BRV_SCOPE_PULSE, 0, gap, alone);
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
    if (brv_pulse_last(pulse) + window >= brv_scenario_longest())
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
    check_gap(list, pulse, "rate", "count", pulse->count,
              "there is only one pulse in a pass: a rate needs light.count, above 1");
    check_gap(list, pulse, "pause", "passes", pulse->passes,
              "there is only one pass: a pause needs light.passes, above 1");
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

/* Nine tenths of all grains must lie where a single grain may; a spread that nobody asked for is let be. */
static void check_grain_spread(struct fault_list *list, const struct brv_grain_ask *grain, int site)
{
    const double least = brv_keys[brv_key_find(BRV_SCOPE_GRAIN, "diameter")].least;
    const double down = log(grain->diameter / least), up = log(most_of(BRV_SCOPE_GRAIN, "diameter") / grain->diameter);
    const double room = fmin(down, up) / NINETY;
    const double sigma = grain->darkness_spread, darkest = exp(NINETY * sigma - 0.5 * sigma * sigma);
    if (brv_key_given(grain, BRV_SCOPE_GRAIN, "diameter_spread") && grain->diameter_spread > room && room >= 0.0)
        add(list, (struct brv_error){.status = BRV_ORDER,
                                     .scope = BRV_SCOPE_GRAIN,
                                     .index = site,
                                     .key = brv_key_find(BRV_SCOPE_GRAIN, "diameter_spread"),
                                     .most = room,
                                     .place = "more than a tenth of the grains would leave 0.05 um to 5 um"});
    if (brv_key_given(grain, BRV_SCOPE_GRAIN, "darkness_spread") &&
        !brv_key_given(grain, BRV_SCOPE_GRAIN, "absorption") &&
        grain->darkness * darkest > most_of(BRV_SCOPE_GRAIN, "darkness"))
        add(list, (struct brv_error){.status = BRV_ORDER,
                                     .scope = BRV_SCOPE_GRAIN,
                                     .index = site,
                                     .key = brv_key_find(BRV_SCOPE_GRAIN, "darkness_spread"),
                                     .place = "the darkest grains would exceed the most that grain.darkness may be"});
}

static void check_grain(struct fault_list *list, const struct brv_skin *skin, int site)
{
    const struct brv_grain_ask *grain = &skin->grain;
    check_ranges(list, grain, BRV_SCOPE_GRAIN, site);
    if (brv_key_given(grain, BRV_SCOPE_GRAIN, "darkness") && brv_key_given(grain, BRV_SCOPE_GRAIN, "absorption"))
        add_key(list, BRV_CONFLICT, BRV_SCOPE_GRAIN, site, "absorption", "give darkness or absorption, not both");
    check_grain_spread(list, grain, site);
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
        check_ranges(list, &skin->grain, BRV_SCOPE_GRAIN, site);
        return;
    }
    for (size_t i = brv_film_covers(skin); i < skin->n_layer; i++) /* a film has its own section */
        check_layer(list, &skin->layer[i], site * BRV_MOST_LAYERS + (int)i, i + 1 == skin->n_layer);
    check_grain(list, skin, site);
}

static void check_below(struct fault_list *list, const struct brv_scenario *ask)
{
    const bool ends = isfinite(brv_skin_thickness(&ask->skin[BRV_NEIGHBOUR]));
    const bool lesion_ends = isfinite(brv_skin_thickness(&ask->skin[BRV_LESION]));
    const size_t last = ask->skin[BRV_LESION].n_layer - 1;
    check_ranges(list, &ask->below, BRV_SCOPE_BELOW, 0);
    if (ask->skin[BRV_NEIGHBOUR].n_layer == 0) return;
    if (ends != lesion_ends)
        add_key(list, BRV_ORDER, BRV_SCOPE_LAYER, BRV_LESION * BRV_MOST_LAYERS + (int)last, "thickness",
                "the last layer is endless in one of lesion and neighbour only");
    else if (ends && !brv_key_given(&ask->below, BRV_SCOPE_BELOW, "index"))
        add_key(list, BRV_MISSING, BRV_SCOPE_BELOW, 0, "index",
                "the last layer is not endless, so say what lies below it");
    else if (!ends && ask->below.given)
        add_key(list, BRV_CONFLICT, BRV_SCOPE_BELOW, 0, "index", "nothing lies below an endless layer");
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

/* ---- what is judged ---- */

/* What is that warm without a pulse cannot be brought there by one. */
static void check_criterion(struct fault_list *list, const struct brv_scenario *ask)
{
    const struct brv_surface *surface = &ask->surface;
    double warmest = fmax(surface->temperature, surface->core);
    if (brv_surface_changes(ask)) warmest = fmax(warmest, surface->outside_temperature);
    if (ask->watch.criterion <= warmest)
        add_bound(list, BRV_SCOPE_WATCH, "criterion", "the skin is that warm before any pulse", warmest + LEAST_MISSING,
                  0.0);
}

static void check_vessel(struct fault_list *list, const struct brv_scenario *ask)
{
    const struct brv_vessel_ask *vessel = &ask->vessel;
    check_ranges(list, vessel, BRV_SCOPE_VESSEL, 0);
    if (!(vessel->depth > 0.0) || brv_vessel_fits(ask, vessel->depth)) return;
    double from = 0.0, to = 0.0, lesion_from = 0.0, lesion_to = 0.0;
    const bool room =
        brv_vessel_room(&ask->skin[BRV_NEIGHBOUR], vessel->depth, vessel->diameter, &from, &to) &&
        brv_vessel_room(&ask->skin[BRV_LESION], vessel->depth, vessel->diameter, &lesion_from, &lesion_to);
    if (room)
        add_bound(list, BRV_SCOPE_VESSEL, "depth",
                  "the vessel, half its diameter above and below, must lie within one layer of dermis or fat",
                  fmax(from, lesion_from), fmin(to, lesion_to));
    else
        add_key(list, BRV_ORDER, BRV_SCOPE_VESSEL, 0, "depth",
                "no layer of dermis or fat is thick enough to hold the vessel");
}

/* A section that is there holds what it cannot do without. */
static void check_needed(struct fault_list *list, const void *section, enum brv_scope scope, const char *const needed[],
                         size_t n)
{
    for (size_t i = 0; i < n; i++)
        if (!brv_key_given(section, scope, needed[i])) add_key(list, BRV_MISSING, scope, 0, needed[i], "");
    check_ranges(list, section, scope, 0);
}

/* All steps are pulses that a scenario may have, so the last one must be. Without first, ratio and count there is none. */
static void check_ladder(struct fault_list *list, const struct brv_scenario *ask)
{
    static const char *const needed[] = {"first", "ratio", "count"};
    const struct brv_test_spots_ask *ladder = &ask->ladder;
    const size_t before = list->n;
    if (!ladder->given) return;
    check_needed(list, ladder, BRV_SCOPE_LADDER, needed, 3);
    check_whole(list, ladder->count, BRV_SCOPE_LADDER, "count");
    if (list->n > before || !(ask->beam.spot > 0.0)) return;
    const double most =
        fmin(most_of(BRV_SCOPE_LIGHT, "fluence"), most_of(BRV_SCOPE_LIGHT, "energy") / brv_beam_area(&ask->beam));
    if (brv_test_spot_fluence(ladder, (size_t)ladder->count - 1) > most)
        add_bound(list, BRV_SCOPE_LADDER, "count", "the last step leaves what light.fluence or light.energy may be",
                  0.0, floor(1.0 + log(most / ladder->first) / log(ladder->ratio)));
}

/* A rate of spots or of exposures: of the pulse that is asked for, with `pulses` a sound one. */
static void check_rate(struct fault_list *list, const struct brv_scenario *ask, enum brv_scope scope, double rate,
                       bool pulses)
{
    const double window = brv_pulse_window(&ask->pulse);
    if (pulses && window * rate > 1.0)
        add_bound(list, scope, "rate", "one pulse has not ended when the next begins", 0.0, 1.0 / window);
}

/* Spots with an area to lie on, and pulses one after the other as in a train. */
static void check_cover(struct fault_list *list, const struct brv_scenario *ask, bool pulses)
{
    static const char *const needed[] = {"overlap", "area", "rate"};
    const struct brv_cover_ask *cover = &ask->cover;
    const size_t before = list->n;
    if (!cover->given) return;
    check_needed(list, cover, BRV_SCOPE_COVER, needed, 3);
    check_whole(list, cover->passes, BRV_SCOPE_COVER, "passes");
    if (list->n > before) return;
    if (ask->beam.spot > 0.0 && cover->area < brv_beam_area(&ask->beam))
        add_bound(list, BRV_SCOPE_COVER, "area", "one spot is larger", brv_beam_area(&ask->beam), 0.0);
    check_rate(list, ask, BRV_SCOPE_COVER, cover->rate, pulses);
}

/* How a beam spreads is said by its width together with one more number. */
static void check_room_beam(struct fault_list *list, const struct brv_room_ask *room)
{
    const bool beam = brv_key_given(room, BRV_SCOPE_ROOM, "beam");
    const bool divergence = brv_key_given(room, BRV_SCOPE_ROOM, "divergence");
    const bool lens = brv_key_given(room, BRV_SCOPE_ROOM, "lens");
    if (divergence && lens) add_key(list, BRV_CONFLICT, BRV_SCOPE_ROOM, 0, "lens", "give divergence or lens, not both");
    if ((divergence || lens) && !beam)
        add_key(list, BRV_ORDER, BRV_SCOPE_ROOM, 0, divergence ? "divergence" : "lens",
                "room.beam is missing, the 1/e2 diameter of the beam: without it no distance follows");
    if (beam && !divergence && !lens)
        add_key(list, BRV_ORDER, BRV_SCOPE_ROOM, 0, "beam",
                "how it spreads is missing: give room.divergence, or room.lens, too");
}

/* An edition is asked for by name, so it has to say something of the pulse; of both, the other one does. */
static void check_room(struct fault_list *list, const struct brv_scenario *ask, bool pulses)
{
    const struct brv_room_ask *room = &ask->room;
    if (!room->given) return;
    check_ranges(list, room, BRV_SCOPE_ROOM, 0);
    check_room_beam(list, room);
    if (brv_key_given(room, BRV_SCOPE_ROOM, "rate") && in_range(room->rate, BRV_SCOPE_ROOM, "rate"))
        check_rate(list, ask, BRV_SCOPE_ROOM, room->rate, pulses);
    if (room->edition == BRV_EDITION_ICNIRP_2013 && ask->pulse.width < BRV_ICNIRP_SHORTEST)
        add_key(list, BRV_ORDER, BRV_SCOPE_PULSE, 0, "pulse",
                "room.edition = icnirp_2013 has no limits below 1 ns, its rows hold 1 ns to 30000 s; eu_2006 covers "
                "such a pulse");
}

static void check_visits(struct fault_list *list, const struct brv_visits_ask *visits)
{
    static const char *const needed[] = {"count", "returns"};
    if (!visits->given) return;
    check_needed(list, visits, BRV_SCOPE_VISITS, needed, 2);
    check_whole(list, visits->count, BRV_SCOPE_VISITS, "count");
}

/* Whether any skin of the model has this colour is for side/colour.h to say. */
static void check_colour(struct fault_list *list, const struct brv_skin_colour *colour)
{
    static const char *const needed[] = {"L", "b"};
    if (colour->given) check_needed(list, colour, BRV_SCOPE_COLOUR, needed, 2);
}

static void check_film(struct fault_list *list, const struct brv_film_ask *film)
{
    static const char *const needed[] = {"thickness", "absorption"};
    if (film->given) check_needed(list, film, BRV_SCOPE_FILM, needed, 2);
}

size_t brv_scenario_check(const struct brv_scenario *ask, struct brv_error fault[], size_t room)
{
    struct fault_list list = {fault, room, 0};
    check_beam(&list, ask);
    const bool pulses = check_pulse(&list, &ask->pulse);
    check_skin(&list, &ask->skin[BRV_NEIGHBOUR], BRV_NEIGHBOUR);
    check_skin(&list, &ask->skin[BRV_LESION], BRV_LESION);
    for (size_t site = 0; site < BRV_N_SITE && ask->skin[site].n_layer; site++) check_walk(&list, ask, site);
    check_below(&list, ask);
    check_watch(&list, ask);
    check_surface(&list, ask, pulses && check_until(&list, ask));
    check_criterion(&list, ask);
    check_ladder(&list, ask);
    check_cover(&list, ask, pulses);
    check_room(&list, ask, pulses);
    check_visits(&list, &ask->visits);
    check_colour(&list, &ask->skin[BRV_NEIGHBOUR].colour);
    check_film(&list, &ask->film);
    if (ask->skin[BRV_NEIGHBOUR].n_layer && ask->skin[BRV_LESION].n_layer) check_vessel(&list, ask);
    return list.n;
}
