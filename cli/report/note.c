#include "report/note.h"

#include "base/constants.h"
#include "report/asked.h"
#include "report/number.h"
#include "scenario/body.h"
#include "tissue/chromophore.h"

#include <math.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stdio.h>
#include <string.h>

#define CHECKED_SPOT_MOST 20e-3 /* wider spots are accepted but no check covers them */
#define NEAR_INFRARED     800e-9
#define FIRST_DEGREE      0.53 /* Omega */
#define DARK_LAYER        0.5  /* absorption times thickness; thresholds of a sign are then off by some 10 % */
#define PEOPLE_RATIO      2.2  /* Source: [hruza-1991] */
#define LASTING           0.1  /* in which a layer is warm: what is told [s] */
#define TOLD_START        0.5  /* of some 80 K from the start to a criterion: less moves no threshold by 1 % [K] */
#define ROUNDED           1e-9 /* of the highest rise by one pulse: less may be the contour's rounding */
#define MAP_MISSES        0.05 /* of the light: what is said */

enum { MOST_PLACES = 4, PLACE_SIZE = 40, PLACES_SIZE = MOST_PLACES * PLACE_SIZE + 16 };

void brv_notes_add(struct brv_notes *notes, const char *format, ...)
{
    if (notes->n == BRV_MOST_NOTES) return;
    va_list list;
    va_start(list, format);
    vsnprintf(notes->text[notes->n++], BRV_NOTE_SIZE, format, list);
    va_end(list);
}

const char *brv_note_skins(bool lesion, bool neighbour)
{
    return lesion && neighbour ? "lesion and neighbour" : lesion ? "lesion" : "neighbour";
}

/* How an endless beam overstates the light of a spot, by the spot's width in diffusion depths. */
static const char *overstated(double spot_depths)
{
    if (spot_depths >= 10.0) return "Light overstated little down to 3 mm";
    if (spot_depths >= 4.5) return "Light overstated little near the surface, noticeably from 1 mm";
    return "Light overstated noticeably near the surface, strongly deeper (`light.method: spot` computes it)";
}

/* What the kernel for spots is not made for. */
static void note_narrow(struct brv_notes *notes, const struct brv_result *result)
{
    const struct brv_tissue *tissue = &result->site[BRV_LESION].tissue;
    const struct brv_layer *last = &tissue->layer[tissue->n_layer - 1];
    bool clear = false;
    for (size_t i = 0; i < tissue->n_layer; i++)
        clear |= tissue->layer[i].scattering <= 0.0 && tissue->layer[i].kind != BRV_FILM; /* too thin to matter */
    if (result->ask.beam.method != BRV_METHOD_SPOT) return;
    if (clear || result->ask.beam.spot * last->scattering * (1.0 - last->anisotropy) < 1.0)
        brv_notes_add(
            notes,
            "the spot is narrow for so little scattering: `light.method: sampled` is closer, by tens of %% at depth.");
}

static void note_beam(struct brv_notes *notes, const struct brv_result *result)
{
    const struct brv_light *light = &result->site[BRV_LESION].light;
    const double grain = light->top[result->site[BRV_LESION].tissue.grain.layer];
    if (light->method == BRV_METHOD_LAYERED) {
        brv_notes_add(notes, "beam: endless (spot: %.1f diffusion depths). %s.", light->spot_depths,
                      overstated(light->spot_depths));
        return;
    }
    char spot[BRV_NUMBER_SIZE], deep[BRV_NUMBER_SIZE];
    const double depth = fmin(1e-3, brv_skin_thickness(&result->ask.skin[BRV_LESION]));
    brv_notes_add(
        notes,
        "beam: figures hold on the axis of the %s spot; the lesion gets %.2f of an endless beam's light at its grain, "
        "%.2f at %s.",
        brv_number_unit(spot, result->ask.beam.spot, BRV_LENGTH), brv_light_ratio(light, grain),
        brv_light_ratio(light, depth), brv_number_unit(deep, depth, BRV_LENGTH));
    note_narrow(notes, result);
}

/* Largest relative standard error where a hundredth of the incident light is left. */
static double worst_error(const struct brv_light *light)
{
    double worst = 0.0;
    for (size_t i = 0; i < light->axis.n; i++)
        if (brv_light_fluence(light, light->axis.depth[i]) > 1e-2)
            worst = fmax(worst, light->axis.error[i] / light->axis.ratio[i]);
    return worst;
}

static void note_sampled(struct brv_notes *notes, const struct brv_result *result)
{
    const struct brv_light *light = &result->site[BRV_LESION].light, *other = &result->site[BRV_NEIGHBOUR].light;
    if (light->method != BRV_METHOD_SAMPLED) return;
    const double worst = fmax(worst_error(light), worst_error(other));
    char percent[BRV_NUMBER_SIZE];
    brv_notes_add(notes, "light sampled: %s%llu photons in the lesion, %llu beside it; standard error at most %s %%%s.",
                  light->stopped || other->stopped ? "stopped at " : "", (unsigned long long)light->photons,
                  (unsigned long long)other->photons, brv_number_two(percent, 100.0 * worst),
                  worst > result->ask.beam.error ? ", more than was asked" : "");
}

static bool above_criterion(const struct brv_result *result)
{
    return result->site[BRV_LESION].effect.above || result->site[BRV_NEIGHBOUR].effect.above;
}

static double most_damage(const struct brv_effect *effect)
{
    return effect->damage.value;
}

/* Told where Omega is more than an illustration, or has a reason to be looked at all the same. */
static void note_burn(struct brv_notes *notes, const struct brv_result *result)
{
    const struct brv_effect *lesion = &result->site[BRV_LESION].effect;
    const struct brv_effect *neighbour = &result->site[BRV_NEIGHBOUR].effect;
    if (fmax(most_damage(lesion), most_damage(neighbour)) < log(FIRST_DEGREE)) return;
    brv_notes_add(notes, "log10 Omega -0.3, 0, 4: published for burns of 1st, 2nd, 3rd degree%s.",
                  lesion->illustrative && neighbour->illustrative ? ", heated for 0.5 s or more" : "");
}

/* Hardly a grain is disrupted: what is published of less than a sign was seen closer to it. */
#define NO_GRAIN 1e-3

/* What is published of less than a sign in the lesion. Within the spread it may be either. */
static void note_below(struct brv_notes *notes, const struct brv_result *result)
{
    const double fluence = result->ask.beam.fluence;
    const struct brv_crowd_effect *lesion = &result->site[BRV_LESION].effect.crowd;
    const struct brv_spread *sign = &lesion->threshold_sign;
    if (isnan(sign->low) || fluence >= sign->high) return; /* there is no sign to be below of */
    if (lesion->most.share.number < NO_GRAIN)
        brv_notes_add(
            notes,
            "hardly a grain is disrupted. Nothing is published so far below a sign; that is not called harmless.");
    else if (fluence < sign->low)
        brv_notes_add(
            notes,
            "lesion BELOW its sign: there skin was DARKER at one week (694 nm, Hruza 1991). No reason to raise it.");
    else
        brv_notes_add(
            notes,
            "lesion within the spread of its sign: below a sign skin was DARKER at one week (694 nm, Hruza 1991).");
}

/* What is published of more whitening, where the skin around the lesion may show it. */
static void note_above(struct brv_notes *notes, const struct brv_result *result)
{
    const struct brv_spread *sign = &result->site[BRV_NEIGHBOUR].effect.crowd.threshold_sign;
    if (!(result->ask.beam.fluence > sign->low)) return;
    brv_notes_add(notes,
                  result->ask.beam.fluence > sign->high
                      ? "neighbour ABOVE its sign. More whitening cleared no better and darkened more (Negishi 2013)."
                      : "neighbour within the spread of its sign. More whitening cleared no better, darkened more "
                        "(Negishi 2013).");
}

/* Where the ratio of two signs, or what a tan does to it, goes the other way than in people. */
static void note_ratio(struct brv_notes *notes, const struct brv_result *result)
{
    const double lesion = result->site[BRV_LESION].effect.crowd.threshold_sign.value;
    const double neighbour = result->site[BRV_NEIGHBOUR].effect.crowd.threshold_sign.value;
    char ratio[BRV_NUMBER_SIZE];
    brv_number_short(ratio, neighbour / lesion);
    const bool below = neighbour < lesion && strcmp(ratio, "1") != 0; /* not beside a ratio that is printed as 1 */
    const struct brv_tan *tan = &result->tan;
    const bool widens = tan->factor > 1.0 && tan->threshold_sign.value >= neighbour;
    if (below)
        brv_notes_add(
            notes,
            "threshold ratio below 1: neighbour shows first. In people it is 2.2 (694 nm, Hruza 1991): not met.");
    if (tan->cut) /* then the ratio is no answer to the tan that was asked for */
        brv_notes_add(
            notes, "the tan of x %.3g is cut at 60 %% melanosomes, to x %.3g: its ratio says nothing of a whole one.",
            tan->factor, tan->applied);
    else if (widens)
        brv_notes_add(
            notes,
            "here a tan does NOT lower the threshold ratio; in people it does: trust the caution, not this figure.");
}

/* Of a body site physics knows a thickness and no more. */
static void note_body(struct brv_notes *notes, const struct brv_skin *skin)
{
    if (!skin->body) return;
    const struct brv_body_site *site = &brv_body_sites[skin->body - 1];
    brv_notes_add(notes, "%s: %s; healing, appendages and vessels there are not in the model.", site->name,
                  site->epidermis.value > 0.0 ? "thickness only" : "no site value for the epidermis");
}

/* A film is told of before anything else: it is not tissue, and above the criterion it is no longer there. */
static void note_film(struct brv_notes *notes, const struct brv_result *result)
{
    const struct brv_film_effect *film = &result->site[BRV_LESION].effect.film;
    if (!film->there) return;
    brv_notes_add(notes, film->above
                             ? "a film so hot may boil, burn or fly off: energy / heat capacity only. Less light below "
                               "it is NO protection: what it takes up heats the skin."
                             : "the film is heated first; what it is made of, and how it clings, is not modelled. "
                               "Less light below it is NO protection.");
}

static double most_pigment(const struct brv_site *site)
{
    double most = 0.0;
    for (size_t i = 0; i < site->tissue.n_layer; i++) most = fmax(most, site->tissue.layer[i].melanosomes);
    return most;
}

/* A layer with pigment is judged by its mean light: where that falls much within it the grains on top see more. */
static void note_dark(struct brv_notes *notes, const struct brv_result *result)
{
    bool dark = false, endless = false;
    for (size_t site = 0; site < BRV_N_SITE; site++)
        for (size_t i = 0; i < result->site[site].tissue.n_layer; i++) {
            const struct brv_layer *layer = &result->site[site].tissue.layer[i];
            if (!(layer->absorption_pigment > 0.0)) continue;
            dark |= isfinite(layer->thickness) && layer->absorption * layer->thickness > DARK_LAYER;
            endless |= isinf(layer->thickness) != 0;
        }
    if (dark)
        brv_notes_add(notes,
                      "a layer is so dark that its mean light misjudges its grains: write it as several layers.");
    if (endless)
        brv_notes_add(notes,
                      "pigment in an endless layer is judged by its top, so too much counts: write it as several.");
}

/* Two columns that say the same. */
static void note_same(struct brv_notes *notes, const struct brv_result *result)
{
    if (result->ask.lesion_given ||
        most_pigment(&result->site[BRV_LESION]) > most_pigment(&result->site[BRV_NEIGHBOUR]))
        return;
    brv_notes_add(notes, "no lesion was described, and no basal row can be darker: lesion and neighbour are the same.");
}

/* The most that what lies on the skin has changed the grain's layer, of all skins and all moments just before a pulse:
 * that is what a threshold is counted from [K].                                                                      */
static double changed_start(const struct brv_result *result)
{
    double most = 0.0;
    for (size_t i = 0; i < BRV_N_SITE; i++) {
        const struct brv_history *history = &result->site[i].history;
        for (size_t k = 0; history->cooled && k < history->n_pulse; k++) {
            const double here = history->cooled[BRV_PROBE_LAYER * history->n_time + history->before[k]];
            if (fabs(here) > fabs(most)) most = here;
        }
    }
    return most;
}

/* What is laid on after the pulses changes no threshold, and nothing is said of it here. */
static void note_start(struct brv_notes *notes, const struct brv_result *result)
{
    const double changed = changed_start(result);
    if (changed < -TOLD_START)
        brv_notes_add(notes,
                      "a cooler start raises a grain's figure: no room for more light. Cold can harm: not modelled.");
    if (changed > TOLD_START)
        brv_notes_add(notes,
                      "warm skin needs less light for everything, harm included; its warmth adds to the damage.");
}

/* Is a place of this skin warmest in the last row: by the pulses, or by what warms it from outside? */
static bool still_warming(const struct brv_site *site, size_t probe)
{
    const struct brv_history *history = &site->history;
    const struct brv_effect *effect = &site->effect;
    const size_t last = history->n_time - 1;
    const double end = history->time[last];
    const bool pulses = effect->peak_time[probe] >= end && effect->peak[probe].value > ROUNDED * history->adiabatic;
    const bool outside = history->cooled && history->cooled[probe * history->n_time + last] > TOLD_START &&
                         effect->hottest_time[probe] >= end;
    return pulses || outside;
}

/* Where it is, with its preposition. */
static const char *place_name(char out[PLACE_SIZE], const struct brv_result *result, size_t probe)
{
    const struct brv_history *history = &result->site[BRV_LESION].history;
    char deep[BRV_NUMBER_SIZE];
    bool mean = false;
    for (size_t i = 0; i < BRV_MOST_MEANS; i++) mean |= history->mean[i] == probe;
    if (probe == BRV_PROBE_LAYER)
        snprintf(out, PLACE_SIZE, "in the grain's layer");
    else if (mean)
        snprintf(out, PLACE_SIZE, "in another layer with pigment");
    else if (history->depth[probe] > 0.0)
        snprintf(out, PLACE_SIZE, "at %.20s", brv_number_unit(deep, history->depth[probe], BRV_LENGTH));
    else
        snprintf(out, PLACE_SIZE, "at the surface");
    return out;
}

/* Places by name, each once, a few at most. "at 1 mm" is no part of "at 1.1 mm". */
static void add_place(char out[PLACES_SIZE], size_t *n, const char *name)
{
    const size_t used = strlen(out);
    if (strstr(out, name)) return;
    if (*n < MOST_PLACES)
        snprintf(out + used, PLACES_SIZE - used, "%s%s", *n ? ", " : "", name);
    else if (*n == MOST_PLACES)
        snprintf(out + used, PLACES_SIZE - used, " and more");
    ++*n;
}

/* A run that ends before the peaks shows numbers that look like peaks. */
static void note_early(struct brv_notes *notes, const struct brv_result *result)
{
    char places[PLACES_SIZE] = "", name[PLACE_SIZE], end[BRV_NUMBER_SIZE];
    const struct brv_history *history = &result->site[BRV_LESION].history;
    size_t n = 0;
    for (size_t probe = BRV_PROBE_LAYER; probe < history->n_probe; probe++) {
        if (probe == history->film) continue;
        bool warming = false;
        for (size_t i = 0; i < BRV_N_SITE; i++)
            warming |= probe < result->site[i].history.n_probe && still_warming(&result->site[i], probe);
        if (warming) add_place(places, &n, place_name(name, result, probe));
    }
    if (n)
        brv_notes_add(
            notes,
            "the run ends at %s while heat is still arriving %s: highest values and damage are of that time only.",
            brv_number_unit(end, history->time[history->n_time - 1], BRV_TIME), places);
}

/* Rows of a grain stand there for both skins, of one that has none too. */
static void note_imagined(struct brv_notes *notes, const struct brv_result *result)
{
    const bool lesion = isinf(result->site[BRV_LESION].tissue.grain.cell_radius) != 0;
    const bool neighbour = isinf(result->site[BRV_NEIGHBOUR].tissue.grain.cell_radius) != 0;
    if (lesion || neighbour)
        brv_notes_add(notes,
                      "%s: no pigment share in that layer. Its grain is imagined: rise and threshold are of one put "
                      "there alone, its heat on top of the layer's.",
                      brv_note_skins(lesion, neighbour));
}

/* The densest pigment may lie elsewhere in the lesion, or a lesion may say where its grain is. */
static void note_two_layers(struct brv_notes *notes, const struct brv_result *result)
{
    if (result->site[BRV_LESION].tissue.grain.layer == result->site[BRV_NEIGHBOUR].tissue.grain.layer) return;
    brv_notes_add(notes,
                  "lesion / neighbour: grain and its layer are of two DIFFERENT layers; their figures do not compare.");
}

/* What may harm and is not in the model: told first. */
static void note_harm(struct brv_notes *notes, const struct brv_result *result)
{
    const struct brv_effect *lesion = &result->site[BRV_LESION].effect;
    const struct brv_effect *neighbour = &result->site[BRV_NEIGHBOUR].effect;
    const double warm = fmax(lesion->warm, neighbour->warm), coldest = fmin(lesion->coldest, neighbour->coldest);
    char time[BRV_NUMBER_SIZE];
    note_film(notes, result);
    note_two_layers(notes, result);
    if (above_criterion(result))
        brv_notes_add(notes,
                      "without vaporisation: above %.0f C, grain or layer, a figure is energy / heat capacity only.",
                      result->site[BRV_LESION].effect.ceiling - BRV_ZERO_C);
    if (warm > LASTING)
        brv_notes_add(notes, "a layer is above %.0f C for %s in all: healing and loss of blood flow are not modelled.",
                      BRV_WARM - BRV_ZERO_C, brv_number_unit(time, warm, BRV_TIME));
    note_below(notes, result);
    note_above(notes, result);
    note_ratio(notes, result);
    note_same(notes, result);
    note_imagined(notes, result);
    note_dark(notes, result);
    note_burn(notes, result);
    note_early(notes, result);
    note_body(notes, &result->ask.skin[BRV_NEIGHBOUR]);
    if (coldest < BRV_ZERO_C)
        brv_notes_add(notes, "below 0 C skin freezes: that is not in this model, which goes on counting.");
    note_start(notes, result);
}

static void note_grain(struct brv_notes *notes, const struct brv_result *result)
{
    const double lesion = result->site[BRV_LESION].effect.crowd.threshold_sign.value;
    const double neighbour = result->site[BRV_NEIGHBOUR].effect.crowd.threshold_sign.value;
    if (neighbour >= lesion && neighbour < PEOPLE_RATIO * lesion)
        brv_notes_add(notes,
                      "threshold ratio: in people the neighbour needs 2.2 times the lesion's (694 nm, Hruza 1991).");
    brv_notes_add(notes,
                  "a grain and a sign are two things: dark grains go first; the sign's 0.3 um column has no source.");
    if (brv_pulse_total(&result->ask.pulse) > 1)
        brv_notes_add(
            notes, "in a train a threshold is the fluence of EVERY pulse; grains disrupted before go on absorbing in "
                   "the model.");
}

/* What blood takes up itself is a line of its own; what the tissue around it does is not in it. */
static void note_vessel(struct brv_notes *notes, const struct brv_result *result)
{
    double blood = INFINITY, around = 0.0;
    char rise[BRV_NUMBER_SIZE];
    for (size_t i = 0; i < BRV_N_SITE; i++) {
        const struct brv_effect *effect = &result->site[i].effect;
        if (!effect->vessel.there || !effect->dermis[0].there) return;
        blood = fmin(blood, effect->vessel.rise.value);
        around = fmax(around, fmax(effect->dermis[0].first.value, effect->dermis[0].last.value));
    }
    if (brv_pulse_total(&result->ask.pulse) == 1 && around <= blood) return;
    if (around > result->site[BRV_LESION].effect.ceiling - result->site[BRV_LESION].history.start[BRV_PROBE_LAYER])
        brv_notes_add(notes, "blood: the light of ONE pulse alone; the tissue around it is far hotter besides.");
    else
        brv_notes_add(notes, "blood: the light of ONE pulse alone; the tissue at 300 um rises by %s K besides.",
                      brv_number_short(rise, around));
}

static void note_pulse(struct brv_notes *notes, const struct brv_effect *effect)
{
    char sound[BRV_NUMBER_SIZE];
    brv_number_unit(sound, effect->stress_time, BRV_TIME);
    if (isfinite(effect->cooling.mean_efold) && effect->pulse > effect->cooling.mean_efold)
        brv_notes_add(notes,
                      "the pulse outlasts the grain's relaxation: heat leaves it while it is still being heated.");
    else if (effect->pulse > effect->stress_time)
        brv_notes_add(notes,
                      "the pulse is short against heat, not against sound (%s): %.2g %% of the pressure builds up.",
                      sound, 100.0 * effect->pressure.confined);
    else
        brv_notes_add(
            notes,
            "the pulse is SHORTER than sound needs across the grain (%s): pressure builds up, and may disrupt a "
            "grain below every threshold by heat.",
            sound);
}

static void note_lesion(struct brv_notes *notes, const struct brv_result *result)
{
    if (most_pigment(&result->site[BRV_LESION]) < most_pigment(&result->site[BRV_NEIGHBOUR]))
        brv_notes_add(notes, "the lesion has LESS pigment than the skin around it.");
    if (result->ask.lesion_given) return;
    if (most_pigment(&result->site[BRV_LESION]) > most_pigment(&result->site[BRV_NEIGHBOUR]))
        brv_notes_add(
            notes, "no lesion was described: taken as the neighbour with 2.5 times its basal pigment, 60 %% at most.");
}

/* A sign is a column of pigment, wherever that lies. */
static void note_deep(struct brv_notes *notes, const struct brv_result *result)
{
    const struct brv_tissue *tissue = &result->site[BRV_LESION].tissue;
    bool deep = false;
    for (size_t i = 0; i < tissue->n_layer; i++)
        deep |= (tissue->layer[i].kind == BRV_DERMIS || tissue->layer[i].kind == BRV_FAT) &&
                tissue->layer[i].absorption_pigment > 0.0;
    if (deep)
        brv_notes_add(
            notes,
            "pigment in the dermis counts for a sign as if nothing lay above it: how much is seen is not asked.");
}

static void note_sideways(struct brv_notes *notes, const struct brv_result *result)
{
    const double sideways = result->site[BRV_NEIGHBOUR].effect.sideways;
    char time[BRV_NUMBER_SIZE];
    if (sideways < result->ask.watch.until)
        brv_notes_add(notes, "after %s heat also leaves sideways: later peaks, marked ~, are upper bounds.",
                      brv_number_unit(time, sideways, BRV_TIME));
}

/* The light that the map of the spot does not hold is missing from the heat sideways. */
static void note_map(struct brv_notes *notes, const struct brv_result *result)
{
    double worst = 0.0, share = 1.0;
    for (size_t i = 0; i < BRV_N_SITE; i++) {
        const double here = result->site[i].audit.beside_share;
        if (!(fabs(here - 1.0) > worst)) continue;
        worst = fabs(here - 1.0);
        share = here;
    }
    if (worst > MAP_MISSES)
        brv_notes_add(
            notes, "heat sideways is rough: its map of light holds %.0f %% of what the whole beam leaves in the skin.",
            100.0 * share);
}

static void note_inputs(struct brv_notes *notes, const struct brv_scenario *ask)
{
    if (ask->beam.wavelength > BRV_BLOOD_TABLE_END)
        brv_notes_add(notes, "blood above 1000 nm: the last value of the table is held.");
    if (ask->beam.wavelength > NEAR_INFRARED)
        brv_notes_add(notes,
                      "baseline absorption is the weakest input here: in living skin it was up to 5 times lower.");
    if (ask->beam.spot > CHECKED_SPOT_MOST) brv_notes_add(notes, "spots above 20 mm are not checked.");
}

void brv_notes_make(struct brv_notes *notes, const struct brv_result *result)
{
    char column[BRV_ASKED_SIZE];
    notes->n = 0;
    note_harm(notes, result);
    note_sampled(notes, result);
    if (result->site[BRV_LESION].light.method == BRV_METHOD_LAYERED) note_beam(notes, result);
    notes->n_grave = notes->n;
    note_vessel(notes, result);
    note_pulse(notes, &result->site[BRV_LESION].effect);
    brv_notes_add(notes,
                  "brackets: grains 0.316-3.16 x dark; grains disrupted also 112-150 C; sign %s um; pressure x 3; "
                  "blood: O2.",
                  brv_asked_sign(column, &result->ask.watch));
    note_grain(notes, result);
    note_lesion(notes, result);
    if (result->site[BRV_LESION].light.method != BRV_METHOD_LAYERED) note_beam(notes, result);
    if (result->ask.beam.profile == BRV_PROFILE_GAUSSIAN)
        brv_notes_add(notes,
                      "gaussian beam: all but the threshold is on the axis, where the fluence is twice energy / area.");
    note_deep(notes, result);
    note_sideways(notes, result);
    note_map(notes, result);
    note_inputs(notes, &result->ask);
    brv_notes_add(notes, "lesion and neighbour are two separate runs, each as wide as the beam.");
}
