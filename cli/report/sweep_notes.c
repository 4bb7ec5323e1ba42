#include "report/sweep_notes.h"

#include "base/constants.h"
#include "report/number.h"
#include "scenario/path.h"

#include <math.h>
#include <stdbool.h>
#include <stdio.h>
#include <string.h>

#define WIDE_SPOT 20e-3 /* no check covers wider ones [m] */

/* What may hold for a point, at either site. */
static bool burns(const struct brv_headlines *row, size_t site)
{
    return row->at[site][BRV_HEADLINE_DAMAGE].value >= 0.0;
}

static bool may_burn(const struct brv_headlines *row, size_t site)
{
    return row->at[site][BRV_HEADLINE_DAMAGE].high >= 0.0;
}

static bool bare(const struct brv_headlines *row, size_t site)
{
    return isnan(row->at[site][BRV_HEADLINE_SHARE].value);
}

static bool filmed(const struct brv_headlines *row, size_t site)
{
    return !isnan(row->at[site][BRV_HEADLINE_FILM_PEAK].value);
}

static bool signless(const struct brv_headlines *row, size_t site)
{
    return isnan(row->at[site][BRV_HEADLINE_THRESHOLD_SIGN].value);
}

static bool neighbour_first(const struct brv_headlines *row, size_t site)
{
    return row->at[site][BRV_HEADLINE_RATIO].value < 1.0;
}

static size_t count_points(const struct brv_sweep *sweep, bool (*holds)(const struct brv_headlines *, size_t))
{
    size_t n = 0;
    for (size_t i = 0; i < sweep->points->n; i++)
        n += holds(&sweep->rows[i], BRV_LESION) || holds(&sweep->rows[i], BRV_NEIGHBOUR);
    return n;
}

/* The largest value that a key of the beam has at any point. */
static double widest_spot(const struct brv_sweep *sweep)
{
    double widest = sweep->points->base.scenario.beam.spot;
    for (size_t i = 0; i < sweep->points->n_vary; i++)
        if (!strcmp(sweep->points->vary[i].path, "light.spot")) widest = fmax(widest, sweep->points->vary[i].to);
    return widest;
}

static void note_light(struct brv_notes *notes, const struct brv_sweep *sweep)
{
    const int method = sweep->points->base.scenario.beam.method;
    if (method == BRV_METHOD_LAYERED)
        brv_notes_add(notes, "beam: endless; the light of a spot is less, most of all deep down.");
    if (method == BRV_METHOD_SAMPLED)
        brv_notes_add(notes, "light by a walk of photons: every point has its own standard error, see light.error.");
    if (method == BRV_METHOD_SPOT && widest_spot(sweep) > WIDE_SPOT)
        brv_notes_add(notes, "spots above 20 mm are covered by no check of this program.");
}

/* Is every point the same as the one before it in this key? */
static bool changes_nothing(const struct brv_sweep *sweep, size_t key)
{
    const struct brv_points *points = sweep->points;
    const size_t step = key == 0 && points->n_vary > 1 ? points->vary[1].n : 1;
    for (size_t i = step; i < points->n; i++)
        if (brv_points_at(points, i, key) > 0 && !brv_headlines_same(&sweep->rows[i], &sweep->rows[i - step]))
            return false;
    return true;
}

/* What a key does that nothing reads here. */
static void note_unread(struct brv_notes *notes, const struct brv_sweep *sweep)
{
    for (size_t i = 0; i < sweep->points->n_vary; i++) {
        const char *path = sweep->points->vary[i].path;
        const bool walk = brv_path_is_of_walk(path);
        const bool sampled = sweep->points->base.scenario.beam.method == BRV_METHOD_SAMPLED;
        if (changes_nothing(sweep, i))
            brv_notes_add(notes, "%s changes nothing: all its values give the same numbers to the last digit%s.", path,
                          walk && !sampled ? "; it is read with `light.method: sampled` only" : "");
    }
}

/* The layer of the lesion that a point's grain sits in; the neighbour's is the same one, or was named. BRV_MOST_LAYERS:
 * the point cannot be read again.                                                                                   */
static size_t layer_at(const struct brv_points *points, struct brv_request *request, size_t point)
{
    struct brv_tissue tissue;
    if (brv_points_request(request, points, point)) return BRV_MOST_LAYERS;
    brv_tissue_resolve(&tissue, &request->scenario, BRV_LESION);
    return tissue.grain.layer;
}

/* Pigment that is varied may make another layer the densest: its figures are then of another place. */
static void note_layer(struct brv_notes *notes, const struct brv_sweep *sweep)
{
    const struct brv_points *points = sweep->points;
    bool of_layers = false;
    for (size_t i = 0; i < points->n_vary; i++) of_layers |= points->vary[i].key->scope == BRV_SCOPE_LAYER;
    if (!of_layers) return;
    struct brv_request request;
    const size_t first = layer_at(points, &request, 0);
    char name[BRV_LAYER_NAME_SIZE] = "another";
    size_t n = 0;
    if (first < BRV_MOST_LAYERS) snprintf(name, sizeof name, "%s", request.layer_name[first]);
    for (size_t i = 1; i < points->n; i++) n += layer_at(points, &request, i) != first;
    if (n)
        brv_notes_add(notes,
                      "at %zu of %zu points the grain that is followed sits in another layer than at the first one, "
                      "%s: figures of grains and of their layer do not compare.",
                      n, points->n, name);
}

/* Does what a point is judged by change from point to point? */
static bool varies_judgement(const struct brv_points *points)
{
    bool varies = false;
    for (size_t i = 0; i < points->n_vary; i++)
        varies |= points->vary[i].key->scope == BRV_SCOPE_WATCH || points->vary[i].key->scope == BRV_SCOPE_SURFACE;
    return varies;
}

/* The highest of a row in either skin, of a film aside: with the high ends of the spreads, or without [K]. */
static double highest(const struct brv_headlines *row, bool high)
{
    static const enum brv_headline place[] = {BRV_HEADLINE_LAYER_PEAK, BRV_HEADLINE_DERMIS_PEAK,
                                              BRV_HEADLINE_SURFACE_PEAK, BRV_HEADLINE_GRAIN_PEAK};
    double most = 0.0;
    for (size_t site = 0; site < BRV_N_SITE; site++)
        for (size_t i = 0; i < sizeof place / sizeof *place; i++) {
            const struct brv_spread *one = &row->at[site][place[i]];
            if (place[i] == BRV_HEADLINE_GRAIN_PEAK && bare(row, site))
                continue; /* no grain is that hot: there is none */
            most = fmax(most, high ? one->high : one->value);
        }
    return most;
}

/* Where a figure is no temperature. */
static void note_ceiling(struct brv_notes *notes, const struct brv_sweep *sweep)
{
    const struct brv_points *points = sweep->points;
    const bool varies = varies_judgement(points);
    struct brv_request request = points->base;
    size_t n = 0, n_high = 0;
    for (size_t i = 0; i < points->n; i++) {
        if (varies && brv_points_request(&request, points, i)) continue;
        const double room = brv_effect_ceiling(&request.scenario.watch) - request.scenario.surface.temperature;
        n += highest(&sweep->rows[i], false) > room;
        n_high += highest(&sweep->rows[i], true) > room;
    }
    if (n_high == 0) return;
    char ceiling[BRV_NUMBER_SIZE] = "112 C or a lower criterion";
    if (!varies) snprintf(ceiling, sizeof ceiling, "%.0f C", brv_effect_ceiling(&request.scenario.watch) - BRV_ZERO_C);
    brv_notes_add(
        notes,
        "at %zu of %zu points a grain, its layer or a depth passes %s, with the high end of its spread at %zu: "
        "above it a rise is absorbed energy over heat capacity, not a temperature.",
        n, points->n, ceiling, n_high);
}

void brv_sweep_notes_make(struct brv_notes *notes, const struct brv_sweep *sweep)
{
    const size_t n = sweep->points->n;
    const size_t burnt = count_points(sweep, burns), may = count_points(sweep, may_burn),
                 film = count_points(sweep, filmed), empty = count_points(sweep, bare),
                 first = count_points(sweep, neighbour_first), none = count_points(sweep, signless);
    notes->n = 0;
    note_unread(notes, sweep);
    note_layer(notes, sweep);
    if (may)
        brv_notes_add(
            notes,
            "at %zu of %zu points damage by published rates of lasting warmth reaches a burn of the 2nd degree; with "
            "the "
            "high end of its spread at %zu.",
            burnt, n, may);
    if (first)
        brv_notes_add(
            notes,
            "at %zu of %zu points the threshold of a sign is lower in the neighbour than in the lesion: the neighbour "
            "shows first.",
            first, n);
    note_ceiling(notes, sweep);
    if (film)
        brv_notes_add(notes,
                      "at %zu of %zu points a film lies on the skin. Less light below it is NO protection: what it "
                      "takes up heats "
                      "the skin's surface, which stands in sweep.csv where depth 0 is watched.",
                      film, n);
    if (empty)
        brv_notes_add(
            notes,
            "at %zu of %zu points lesion or neighbour has no pigment: figures of a grain are there of an imagined one.",
            empty, n);
    if (none)
        brv_notes_add(
            notes, "at %zu of %zu points no fluence makes a sign, in lesion or neighbour; its threshold is then empty.",
            none, n);
    note_light(notes, sweep);
    brv_notes_add(notes, "damage is by published rates of lasting warmth; where a pulse under 1 ms gathers most of it "
                         "within 1 ms, an illustration.");
    brv_notes_add(notes,
                  "what limits a single point stands in the notes of `brevis run` with its values behind --set.");
}
