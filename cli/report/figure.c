#include "report/figure.h"

#include "report/digest_effect.h"
#include "report/grain_layer.h"
#include "report/hash.h"
#include "report/number.h"

#include "base/constants.h"
#include "effect/effect_crowd.h"
#include "scenario/keys.h"
#include "scenario/body.h"
#include "scenario/film.h"

#include <math.h>
#include <stdbool.h>
#include <stdio.h>
#include <string.h>

#ifndef BRV_VERSION
#define BRV_VERSION "0.1.0"
#endif

#define MAP_DEEPEST   3e-3   /* [m] */
#define DEPTH_TO_DRAW 0.3e-3 /* the watched depth nearest to this is drawn [m] */
#define SHALLOWEST    2e-3   /* depth.gp goes down at least so far, [m] */
#define DEEPEST       5e-3   /* and at most so far [m] */
#define NEAR_DEPTH    0.1    /* a watched depth within this of a quarter of the spot stands for it [1] */
#define KEEPS_NOTHING 0.01   /* what is said to be nothing [K] */
#define TOGETHER      1.1    /* below this ratio grain and layer are one curve to the eye */
#define FEW           0.1    /* percent of grains: fewer, or all but fewer, are not told more closely */

enum { WORDS_ROOM = BRV_FIGURE_TEXT };

/* ---- words ---- */

static const char *quantity(char out[BRV_NUMBER_SIZE], double value, enum brv_dimension dimension)
{
    brv_number_unit(out, value, dimension);
    return brv_number_print(out);
}

/* "7 ns", or "3 passes of 5 pulses of 7 ns at 2 a second, 10 s apart" */
static void say_pulses(char out[WORDS_ROOM], const struct brv_pulse *pulse)
{
    char width[BRV_NUMBER_SIZE], rate[BRV_NUMBER_SIZE], pause[BRV_NUMBER_SIZE];
    size_t n = 0;
    quantity(width, pulse->width, BRV_TIME);
    if (pulse->passes > 1.0) n += (size_t)snprintf(out, WORDS_ROOM, "%.0f passes of ", pulse->passes);
    if (pulse->count > 1.0)
        n += (size_t)snprintf(out + n, WORDS_ROOM - n, "%.0f pulses of %s at %s a second", pulse->count, width,
                              brv_number_short(rate, pulse->rate));
    else
        n += (size_t)snprintf(out + n, WORDS_ROOM - n, "%s%s", pulse->passes > 1.0 ? "one pulse of " : "", width);
    if (pulse->passes > 1.0) snprintf(out + n, WORDS_ROOM - n, ", %s apart", quantity(pause, pulse->pause, BRV_TIME));
}

/* "plate at 5 °C"; "" where nothing is laid on the skin */
static void say_cover(char out[WORDS_ROOM], const struct brv_scenario *ask)
{
    static const char *const name[BRV_N_OUTSIDE] = {"air", "gel", "forced air", "plate"};
    char degrees[BRV_NUMBER_SIZE];
    *out = '\0';
    if (brv_surface_changes(ask))
        snprintf(out, WORDS_ROOM, "%s at %s °C", name[ask->surface.outside],
                 brv_number_short(degrees, ask->surface.outside_temperature - BRV_ZERO_C));
}

static int say_film(char *out, size_t room, const struct brv_film_ask *film)
{
    char thickness[BRV_NUMBER_SIZE], absorption[BRV_NUMBER_SIZE];
    if (!film->given) return 0;
    return snprintf(out, room, "; film of %s, %s", quantity(thickness, film->thickness, BRV_LENGTH),
                    quantity(absorption, film->absorption, BRV_PER_LENGTH));
}

static void say_body(char *out, size_t room, const struct brv_skin *skin)
{
    if (!skin->body) return;
    const struct brv_body_site *site = &brv_body_sites[skin->body - 1];
    snprintf(out, room, "; %s%s", site->name, site->epidermis.value > 0.0 ? "" : ", epidermis: no site value");
}

void brv_figure_asked(char out[BRV_FIGURE_TEXT], const struct brv_scenario *ask)
{
    char pulses[WORDS_ROOM], cover[WORDS_ROOM];
    char spot[BRV_NUMBER_SIZE], fluence[BRV_NUMBER_SIZE], from[BRV_NUMBER_SIZE], to[BRV_NUMBER_SIZE];
    say_pulses(pulses, &ask->pulse);
    say_cover(cover, ask);
    int n = snprintf(out, WORDS_ROOM, "%.4g nm, %.100s, %s %sspot, %s%s, %s", 1e9 * ask->beam.wavelength, pulses,
                     quantity(spot, ask->beam.spot, BRV_LENGTH),
                     ask->beam.profile == BRV_PROFILE_GAUSSIAN ? "Gaussian " : "",
                     quantity(fluence, ask->beam.fluence, BRV_FLUENCE), brv_pulse_total(&ask->pulse) > 1 ? " each" : "",
                     ask->beam.method == BRV_METHOD_LAYERED      ? "endless beam"
                     : ask->beam.profile == BRV_PROFILE_GAUSSIAN ? "on the axis, where it is twice that"
                                                                 : "on the axis");
    if (*cover)
        n += snprintf(out + n, WORDS_ROOM - (size_t)n, "; %.60s from %s to %s", cover,
                      quantity(from, ask->surface.from, BRV_TIME), quantity(to, ask->surface.to, BRV_TIME));
    n += say_film(out + n, WORDS_ROOM - (size_t)n, &ask->film);
    say_body(out + n, WORDS_ROOM - (size_t)n, &ask->skin[BRV_NEIGHBOUR]);
}

static size_t depth_to_draw(const struct brv_watch *watch)
{
    size_t nearest = 0;
    for (size_t i = 1; i < watch->n_depth; i++)
        if (fabs(watch->depth[i] - DEPTH_TO_DRAW) < fabs(watch->depth[nearest] - DEPTH_TO_DRAW)) nearest = i;
    return nearest;
}

/* What a script places its curves and marks by, and the words it writes beside them. */
struct marks {
    char number[WORDS_ROOM], word[2 * WORDS_ROOM];
    size_t n_number, n_word;
};

/* gnuplot takes a number without a point, such as 7e-9, for a broken whole one: hence %e throughout. */
static void add_number(struct marks *marks, double value)
{
    marks->n_number += (size_t)snprintf(marks->number + marks->n_number, sizeof marks->number - marks->n_number,
                                        "%.9e ", isfinite(value) ? value : 0.0);
}

static void add_word(struct marks *marks, const char *word)
{
    marks->n_word += (size_t)snprintf(marks->word + marks->n_word, sizeof marks->word - marks->n_word, "'%s' ", word);
}

static void add_quantity(struct marks *marks, double value, enum brv_dimension dimension)
{
    char text[BRV_NUMBER_SIZE];
    add_number(marks, value);
    add_word(marks, quantity(text, value, dimension));
}

static void add_temperature(struct marks *marks, double value)
{
    char text[BRV_NUMBER_SIZE], degrees[BRV_NUMBER_SIZE + 8];
    add_number(marks, value - BRV_ZERO_C);
    snprintf(degrees, sizeof degrees, "%s °C", brv_number_short(text, value - BRV_ZERO_C));
    add_word(marks, degrees);
}

/* How many times as much as its layer the grain warms. */
static double standing_out(const struct brv_effect *effect)
{
    return effect->peak[BRV_PROBE_MEAN].value / effect->peak[BRV_PROBE_LAYER].value;
}

static bool warms_together(const struct brv_effect *effect)
{
    return standing_out(effect) < TOGETHER;
}

static void say_site(char out[WORDS_ROOM], const struct brv_effect *effect)
{
    char times[BRV_NUMBER_SIZE];
    const double ratio = standing_out(effect);
    if (warms_together(effect))
        snprintf(out, WORDS_ROOM, "grain and layer warm together");
    else if (ratio < 1e6)
        snprintf(out, WORDS_ROOM, "the grain warms %s times as much as its layer", brv_number_short(times, ratio));
    else
        snprintf(out, WORDS_ROOM, "the grain warms and its layer does not");
}

/* The figure in one line. */
static void add_headline(struct marks *marks, const struct brv_effect *lesion, const struct brv_effect *neighbour)
{
    char one[WORDS_ROOM], two[WORDS_ROOM], line[2 * WORDS_ROOM + 64];
    say_site(one, lesion);
    say_site(two, neighbour);
    if (!strcmp(one, two))
        snprintf(line, sizeof line, "in lesion and neighbour: %s", one);
    else
        snprintf(line, sizeof line, "in the lesion: %s; in the neighbour: %s", one, two);
    add_word(marks, line);
}

static void add_grain(struct marks *marks, const struct brv_effect *effect)
{
    add_quantity(marks, effect->diameter, BRV_LENGTH);
    add_quantity(marks, effect->cooling.mean_efold, BRV_TIME);
    add_temperature(marks, effect->hottest[BRV_PROBE_MEAN].value);
    add_temperature(marks, effect->hottest[BRV_PROBE_LAYER].value);
    add_number(marks, warms_together(effect));
    add_word(marks, "");
}

static void add_spread(struct marks *marks, const struct brv_effect *lesion, double last_pulse)
{
    add_temperature(marks, lesion->hottest[BRV_PROBE_MEAN].low);
    add_temperature(marks, lesion->hottest[BRV_PROBE_MEAN].high);
    add_quantity(marks, lesion->peak_time[BRV_PROBE_MEAN] - last_pulse,
                 BRV_TIME); /* the curve drawn is the last pulse's */
}

/* The watched depth that is drawn: its number in the CSV (0: none), where it is, how warm it gets. */
static void add_watched(struct marks *marks, const struct brv_watch *watch, const struct brv_site *lesion)
{
    const size_t i = depth_to_draw(watch);
    add_number(marks, watch->n_depth ? (double)(i + 1) : 0.0);
    add_word(marks, "");
    add_quantity(marks, watch->n_depth ? watch->depth[i] : 0.0, BRV_LENGTH);
    const size_t probe = watch->n_depth ? BRV_N_GRAIN_PROBE + i : BRV_PROBE_LAYER;
    add_temperature(marks, lesion->effect.hottest[probe].value);
    add_temperature(marks, lesion->history.start[probe]);
}

/* Is the line above which nothing is a temperature the criterion that was asked for? */
static bool is_criterion(const struct brv_effect *effect)
{
    return !(fabs(effect->ceiling - effect->criterion) > 0.0);
}

/* Every number has its words at the same place; the order is told at the top of temperature.gp. */
static void mark_temperature(struct marks *marks, const struct brv_result *result)
{
    const struct brv_scenario *ask = &result->ask;
    const struct brv_effect *lesion = &result->site[BRV_LESION].effect;
    const struct brv_effect *neighbour = &result->site[BRV_NEIGHBOUR].effect;
    const struct brv_site *site = &result->site[BRV_LESION];
    *marks = (struct marks){.n_number = 0};
    add_temperature(marks, site->history.start[BRV_PROBE_LAYER]);
    add_temperature(marks, result->site[BRV_LESION].effect.ceiling);
    add_quantity(marks, ask->pulse.width, BRV_TIME);
    add_quantity(marks, brv_pulse_centre(&ask->pulse), BRV_TIME);
    add_number(marks, ask->pulse.shape == BRV_SHAPE_GAUSSIAN);
    add_headline(marks, lesion, neighbour);
    add_quantity(marks, lesion->sideways, BRV_TIME);
    add_grain(marks, lesion);
    add_grain(marks, neighbour);
    add_spread(marks, lesion, brv_pulse_last(&ask->pulse));
    add_watched(marks, &ask->watch, site);
    add_temperature(marks, fmin(lesion->coldest, neighbour->coldest));
    add_number(marks, (double)brv_pulse_total(&ask->pulse));
    add_word(marks, "");
    add_temperature(marks, result->site[BRV_NEIGHBOUR].history.start[BRV_PROBE_LAYER]);
    add_number(marks, is_criterion(lesion));
    add_word(marks, "");
}

/* ---- a train on three scales ---- */

/* The watched depth that stands for a quarter of the spot; n_depth where none lies near it. */
static size_t depth_near(const struct brv_watch *watch, double depth)
{
    size_t nearest = watch->n_depth;
    double least = NEAR_DEPTH * depth;
    for (size_t i = 0; i < watch->n_depth; i++)
        if (fabs(watch->depth[i] - depth) <= least) {
            least = fabs(watch->depth[i] - depth);
            nearest = i;
        }
    return nearest;
}

/* "left in the lesion by the first 9 pulses, before the last: in the grain nothing of its own, in its layer 12.8 K, 1 mm
 * deep 3.34 K": by the pulses, whatever has cooled it. */
static void add_train_headline(struct marks *marks, const struct brv_history *history, double depth)
{
    const size_t n = history->n_time, row = history->before[history->n_pulse - 1];
    const double own = history->excess[BRV_PROBE_MEAN * n + row];
    char grain[BRV_NUMBER_SIZE], layer[BRV_NUMBER_SIZE], deep[BRV_NUMBER_SIZE], where[BRV_NUMBER_SIZE];
    char line[2 * WORDS_ROOM], left[WORDS_ROOM], before[BRV_NUMBER_SIZE];
    if (fabs(own) < KEEPS_NOTHING)
        snprintf(left, sizeof left, "nothing of its own");
    else
        snprintf(left, sizeof left, "%s K of its own", brv_number_short(grain, own));
    if (history->n_pulse > 2)
        snprintf(before, sizeof before, "%zu pulses", history->n_pulse - 1);
    else
        snprintf(before, sizeof before, "pulse");
    snprintf(line, sizeof line,
             "left in the lesion by the first %s, before the last: in the grain %.80s, in its layer %s K, %s deep %s K",
             before, left, brv_number_short(layer, history->rise[BRV_PROBE_LAYER * n + row]),
             quantity(where, depth, BRV_LENGTH), brv_number_short(deep, history->rise[history->quarter * n + row]));
    add_word(marks, line);
}

/* Every number has its words at the same place; the order is told at the top of train.gp. */
static void mark_train(struct marks *marks, const struct brv_result *result)
{
    const struct brv_scenario *ask = &result->ask;
    const struct brv_history *lesion = &result->site[BRV_LESION].history;
    const struct brv_history *neighbour = &result->site[BRV_NEIGHBOUR].history;
    const double quarter = 0.25 * ask->beam.spot, last = brv_pulse_last(&ask->pulse);
    const double sideways = result->site[BRV_LESION].effect.sideways;
    const size_t watched = depth_near(&ask->watch, quarter);
    const bool near = watched < ask->watch.n_depth, covered = brv_surface_changes(ask);
    const size_t probe = near ? BRV_N_GRAIN_PROBE + watched : lesion->quarter;
    char cover[WORDS_ROOM];
    say_cover(cover, ask);
    *marks = (struct marks){.n_number = 0};
    add_number(marks, (double)lesion->n_pulse);
    add_train_headline(marks, lesion, quarter);
    add_quantity(marks, last, BRV_TIME);
    add_quantity(marks, ask->pulse.count > 1.0 ? 1.0 / ask->pulse.rate : ask->pulse.pause, BRV_TIME);
    add_quantity(marks, ask->watch.until, BRV_TIME);
    add_temperature(marks, result->site[BRV_LESION].effect.ceiling);
    add_temperature(marks, lesion->start[BRV_PROBE_LAYER]);
    add_temperature(marks, neighbour->start[BRV_PROBE_LAYER]);
    add_number(marks, near ? (double)(watched + 1) : 0.0);
    add_word(marks, "");
    add_quantity(marks, near ? ask->watch.depth[watched] : quarter, BRV_LENGTH);
    add_temperature(marks, lesion->start[probe]);
    add_temperature(marks, neighbour->start[probe]);
    add_number(marks, covered ? ask->surface.from : 0.0);
    add_word(marks, cover);
    add_number(marks, covered ? ask->surface.to : 0.0);
    add_word(marks, "");
    add_quantity(marks, sideways, BRV_TIME);
    add_quantity(marks, result->site[BRV_LESION].effect.diameter, BRV_LENGTH);
    add_number(marks, ask->pulse.count > 1.0 ? ask->pulse.count : (double)lesion->n_pulse);
    add_word(marks, "");
    for (size_t site = 0; site < BRV_N_SITE; site++)
        add_temperature(marks, result->site[site].effect.hottest[BRV_PROBE_LAYER].value);
    add_number(marks, is_criterion(&result->site[BRV_LESION].effect));
    add_word(marks, "");
}

/* ---- the grain ---- */

/* Radius and whether it is alone, of both grains. */
static void say_grains(char out[WORDS_ROOM], const struct brv_result *result)
{
    size_t n = 0;
    for (size_t i = 0; i < BRV_N_SITE; i++)
        n += (size_t)snprintf(out + n, WORDS_ROOM - n, "%.9e %d ", 0.5 * result->site[i].effect.diameter,
                              isinf(result->site[i].tissue.grain.cell_radius) != 0);
}

/* The columns of grain.csv, separated by blanks, and their times in words, each in single quotes. */
static void say_profiles(char columns[WORDS_ROOM], char words[WORDS_ROOM], const struct brv_history *history)
{
    char text[BRV_NUMBER_SIZE];
    size_t n = (size_t)snprintf(columns, WORDS_ROOM, "at_pulse_end_rise_K ");
    size_t m = (size_t)snprintf(words, WORDS_ROOM, "'pulse end' ");
    for (size_t k = 1; k < history->n_profile; k++) {
        n += (size_t)snprintf(columns + n, WORDS_ROOM - n, "after_%s_s_rise_K ",
                              brv_number_exact(text, history->profile_time[k]));
        m += (size_t)snprintf(words + m, WORDS_ROOM - m, "'%s' ", quantity(text, history->profile_time[k], BRV_TIME));
    }
}

/* ---- grains that differ ---- */

/* "90.4 % of the grains", "under 0.1 % of the grains"; "no pigment" */
static void say_share(char out[BRV_NUMBER_SIZE], const struct brv_site *site, const char *what)
{
    const double percent = 100.0 * site->effect.crowd.here.share.number;
    if (isnan(percent))
        snprintf(out, BRV_NUMBER_SIZE, "no pigment");
    else if (percent < FEW)
        snprintf(out, BRV_NUMBER_SIZE, "under %g %%%s", FEW, what);
    else if (percent > 100.0 - FEW)
        snprintf(out, BRV_NUMBER_SIZE, "over %g %%%s", 100.0 - FEW, what);
    else
        snprintf(out, BRV_NUMBER_SIZE, percent < 9.95 ? "%.2g %%%s" : "%.0f %%%s", percent, what);
}

static bool has_pigment(const struct brv_site *site)
{
    return site->effect.crowd.column > 0.0;
}

/* "in the model 10 pulses of 0.6 J/cm² disrupt 79 % of the grains in the lesion, 87 % in the neighbour" */
static void add_shares_headline(struct marks *marks, const struct brv_result *result)
{
    const struct brv_site *site = result->site;
    const size_t n_pulse = brv_pulse_total(&result->ask.pulse);
    char line[WORDS_ROOM], pulses[BRV_NUMBER_SIZE], fluence[BRV_NUMBER_SIZE];
    char lesion[BRV_NUMBER_SIZE], neighbour[BRV_NUMBER_SIZE];
    if (!has_pigment(&site[BRV_LESION]) && !has_pigment(&site[BRV_NEIGHBOUR])) {
        add_word(marks, "there is no pigment to disrupt: the curves are of single grains put into the skin");
        return;
    }
    if (n_pulse > 1)
        snprintf(pulses, sizeof pulses, "%zu pulses of ", n_pulse);
    else
        *pulses = '\0';
    say_share(lesion, &site[BRV_LESION], " of the grains");
    say_share(neighbour, &site[BRV_NEIGHBOUR], has_pigment(&site[BRV_LESION]) ? "" : " of the grains");
    snprintf(line, sizeof line, "in the model %s%s disrupt %s in the lesion, %s in the neighbour", pulses,
             quantity(fluence, result->ask.beam.fluence, BRV_FLUENCE), lesion, neighbour);
    add_word(marks, line);
}

/* In words it is in J/cm², without the unit. */
static void add_fluence(struct marks *marks, double value)
{
    char text[BRV_NUMBER_SIZE];
    add_number(marks, value);
    add_word(marks, brv_number_short(text, 1e-4 * value));
}

static void add_sign(struct marks *marks, const struct brv_spread *sign, double grain, double column)
{
    add_fluence(marks, sign->value);
    add_fluence(marks, sign->low);
    add_fluence(marks, sign->high);
    add_fluence(marks, grain);
    add_quantity(marks, column, BRV_LENGTH);
}

/* Every number has its words at the same place; the order is told at the top of disrupted.gp. */
static void mark_disrupted(struct marks *marks, const struct brv_result *result)
{
    const struct brv_watch *watch = &result->ask.watch;
    char text[BRV_NUMBER_SIZE];
    *marks = (struct marks){.n_number = 0};
    add_quantity(marks, result->ask.beam.fluence, BRV_FLUENCE);
    add_temperature(marks, result->site[BRV_LESION].effect.criterion);
    add_number(marks, (double)brv_pulse_total(&result->ask.pulse));
    add_shares_headline(marks, result);
    add_quantity(marks, watch->sign_column, BRV_LENGTH);
    add_quantity(marks, fmin(watch->sign_column, BRV_SIGN_LEAST), BRV_LENGTH);
    add_quantity(marks, fmax(watch->sign_column, BRV_SIGN_MOST), BRV_LENGTH);
    add_number(marks, result->tan.applied);
    add_word(marks, brv_number_short(text, result->tan.applied));
    for (size_t i = 0; i < BRV_N_SITE; i++) {
        const struct brv_effect *effect = &result->site[i].effect;
        add_sign(marks, &effect->crowd.threshold_sign, effect->threshold_grain.value, effect->crowd.column);
    }
    add_sign(marks, &result->tan.threshold_sign, 0.0, result->tan.column);
}

/* ---- beside the axis ---- */

/* The two times in words, each in single quotes; the second is empty where the run is over before. */
static void say_moments(char out[WORDS_ROOM], const struct brv_result *result)
{
    const struct brv_field *field = &result->site[BRV_LESION].history.field;
    const char *which = brv_pulse_total(&result->ask.pulse) > 1 ? "the last pulse" : "the pulse";
    char first[BRV_NUMBER_SIZE], later[BRV_NUMBER_SIZE];
    const bool seen = isfinite(field->time[0]);
    int n = snprintf(out, WORDS_ROOM, "'%s%s %s%s' ", seen ? quantity(first, field->time[0], BRV_TIME) : "",
                     seen ? " after" : "after", which, seen ? " began" : "");
    if (isfinite(field->time[1]))
        snprintf(out + n, WORDS_ROOM - (size_t)n, "'%s after %s began'", quantity(later, field->time[1], BRV_TIME),
                 which);
    else
        snprintf(out + n, WORDS_ROOM - (size_t)n, "''");
}

/* How far down depth.gp goes: to the deepest watched depth, within limits, never beyond the skin. */
static double deepest_to_draw(const struct brv_scenario *ask)
{
    double deepest = SHALLOWEST;
    for (size_t i = 0; i < ask->watch.n_depth; i++) deepest = fmax(deepest, ask->watch.depth[i]);
    return fmin(fmin(deepest, DEEPEST), brv_skin_thickness(&ask->skin[BRV_LESION]));
}

/* How far down to draw, then the depths between layers. */
static void say_layers(char boundaries[WORDS_ROOM], char names[BRV_MOST_LAYERS * BRV_LAYER_NAME_SIZE],
                       const struct brv_request *request)
{
    const struct brv_skin *skin = &request->scenario.skin[BRV_LESION];
    size_t n_boundary = (size_t)snprintf(boundaries, WORDS_ROOM, "%.9e ", deepest_to_draw(&request->scenario));
    size_t n_name = 0;
    double depth = 0.0;
    names[0] = '\0';
    for (size_t i = brv_film_covers(skin); i < skin->n_layer; i++) { /* a film lies above the picture */
        n_name += (size_t)snprintf(names + n_name, BRV_MOST_LAYERS * BRV_LAYER_NAME_SIZE - n_name, "%s%s",
                                   *names ? "|" : "", request->layer_name[i]);
        depth += skin->layer[i].thickness;
        if (i + 1 < skin->n_layer)
            n_boundary += (size_t)snprintf(boundaries + n_boundary, WORDS_ROOM - n_boundary, "%.9e ", depth);
    }
}

void brv_figure_corner(char out[BRV_FIGURE_TEXT], const struct brv_scenario *ask)
{
    char hash[BRV_HASH_SIZE];
    snprintf(out, BRV_FIGURE_TEXT,
             "brevis %s, scenario %s – teaching model, not a medical device; not for choosing settings for a person",
             BRV_VERSION, brv_hash_scenario(hash, ask));
}

int brv_figure_draw(const char *folder, const struct brv_request *request, const struct brv_result *result,
                    unsigned threads, char pictures[BRV_PICTURES_SIZE], char *reason, size_t room)
{
    char asked[BRV_FIGURE_TEXT], boundaries[WORDS_ROOM], corner[BRV_FIGURE_TEXT];
    char names[BRV_MOST_LAYERS * BRV_LAYER_NAME_SIZE];
    struct marks marks, train, disrupted;
    brv_figure_asked(asked, &result->ask);
    mark_temperature(&marks, result);
    mark_train(&train, result);
    mark_disrupted(&disrupted, result);
    say_layers(boundaries, names, request);
    brv_figure_corner(corner, &request->scenario);
    char grain_layer[BRV_GRAIN_LAYER_SIZE];
    snprintf(grain_layer, sizeof grain_layer, "%s|%s", brv_grain_layer(request, result, BRV_LESION),
             brv_grain_layer(request, result, BRV_NEIGHBOUR));
    const char *place = brv_place_name(result->site[BRV_LESION].effect.place);
    const char *heading = *request->title ? request->title : asked;
    const char *below = *request->title ? asked : "";
    char own[WORDS_ROOM], spot[BRV_NUMBER_SIZE], span[WORDS_ROOM];
    char without_spot[WORDS_ROOM], beside[WORDS_ROOM];
    char grains[WORDS_ROOM], columns[WORDS_ROOM], profiles[WORDS_ROOM], moments[WORDS_ROOM];
    say_grains(grains, result);
    say_profiles(columns, profiles, &result->site[BRV_LESION].history);
    say_moments(moments, result);
    snprintf(without_spot, sizeof without_spot, "%.4g nm, on the axis, in the skin around the lesion",
             1e9 * result->ask.beam.wavelength);
    snprintf(own, sizeof own, "the %s spot", quantity(spot, result->ask.beam.spot, BRV_LENGTH));
    snprintf(beside, sizeof beside, "%.4g nm, %s spot, in the lesion", 1e9 * result->ask.beam.wavelength, spot);
    snprintf(span, sizeof span, "%.9e %.9e", result->ask.beam.spot, MAP_DEEPEST);
    const struct brv_figure figures[] = {
        {"temperature", {marks.number, heading, below, corner, grain_layer, marks.word, NULL}},
        {"train", {train.number, heading, below, corner, grain_layer, train.word, NULL}},
        {"grain", {grains, heading, below, corner, columns, profiles, NULL}},
        {"disrupted", {disrupted.number, heading, below, corner, place, disrupted.word, NULL}},
        {"depth", {boundaries, heading, below, corner, names, NULL}},
        {"spots", {own, heading, without_spot, corner, NULL}},
        {"map", {span, heading, beside, corner, NULL}},
        {"beside", {span, heading, beside, corner, moments, NULL}},
    };
    return brv_gnuplot_draw(figures, sizeof figures / sizeof *figures, folder, threads, pictures, reason, room);
}
