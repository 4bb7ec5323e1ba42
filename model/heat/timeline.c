#include "heat/timeline.h"

#include "base/array.h"
#include "heat/clock.h"

#include <float.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#define ALL_FINE      10   /* up to so many pulses every beat of each is written */
#define COARSE_STEPS  6.0  /* else, between the first and the last: so many across the window ... */
#define PEAK_STEPS    32.0 /* ... or at this pitch between its middle and a pulse's end that comes before its own ... */
#define COARSE_DECADE 3.0  /* ... and so many per decade after it */
#define PAUSE_DECADE  12.0 /* ... where it is followed by a pause, from the time on at which the next would come */
#define SAME          1e-6 /* times closer than this are one */
#define QUIET_FIRST   1e-3 /* first row after a change of what lies on the skin [s] */
#define QUIET_DECADE  10.0 /* rows per decade from there */
#define ROUNDING      (8.0 * DBL_EPSILON) /* of a start that was computed */

/* ---- spells ---- */

/* A time written in decimals that means the start of a pulse, which was computed, is that start to the last bit: a
 * spell of one rounding between them would take the pulse's rows.                                                  */
static double same_moment(const struct brv_timeline_ask *ask, double time)
{
    for (size_t k = 0; k < ask->n_pulse; k++)
        if (fabs(time - ask->pulse[k]) <= ROUNDING * (fabs(time) + ask->window)) return ask->pulse[k];
    return time;
}

static bool is_covered(const struct brv_timeline_ask *ask, double start)
{
    return start >= ask->from && start < ask->to;
}

static int ascending(const void *a, const void *b)
{
    const double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

/* Starts of all spells, ascending, without twins; returns how many. The start of the first pulse is always one. */
static size_t lay_edges(double edge[], const struct brv_timeline_ask *ask)
{
    size_t n = 0, kept = 1;
    for (size_t k = 0; k < ask->n_pulse; k++) edge[n++] = ask->pulse[k];
    if (ask->from < ask->to) {
        edge[n++] = ask->from;
        if (ask->to < ask->until) edge[n++] = ask->to;
    }
    qsort(edge, n, sizeof *edge, ascending);
    for (size_t i = 1; i < n; i++)
        if (edge[i] > edge[kept - 1]) edge[kept++] = edge[i];
    return kept;
}

static void lay_spells(struct brv_timeline *timeline, const struct brv_timeline_ask *ask, const double edge[])
{
    size_t pulse = 0;
    for (size_t i = 0; i < timeline->n_spell; i++) {
        const double end = i + 1 < timeline->n_spell ? edge[i + 1] : ask->until;
        const bool fired = pulse < ask->n_pulse && edge[i] >= ask->pulse[pulse];
        if (fired) pulse++;
        timeline->spell[i] = (struct brv_spell){.start = edge[i],
                                                .length = end - edge[i],
                                                .since = pulse ? edge[i] - ask->pulse[pulse - 1] : edge[i],
                                                .pulse = pulse,
                                                .fired = fired,
                                                .covered = is_covered(ask, edge[i])};
    }
}

/* ---- beats and rows ---- */

/* How long it takes at most until the next pulse or the end. */
static double longest_wait(const struct brv_timeline *timeline)
{
    double most = 0.0;
    for (size_t i = 0; i < timeline->n_spell; i++) {
        const struct brv_spell *spell = &timeline->spell[i];
        if (spell->pulse > 0) most = fmax(most, spell->since + spell->length);
    }
    return most;
}

static size_t lay_beats(double beat[BRV_CLOCK_ROOM], const struct brv_timeline *timeline,
                        const struct brv_timeline_ask *ask)
{
    struct brv_clock_ask clock = {.window = ask->window,
                                  .end = ask->end,
                                  .grain = ask->grain,
                                  .until = longest_wait(timeline),
                                  .n_landmark = ask->n_landmark,
                                  .landmark = ask->landmark};
    return brv_clock_times(beat, &clock);
}

struct rows {
    struct brv_timeline *timeline;
    bool counting; /* the first of two passes: nothing is written */
};

static void add_row(struct rows *rows, struct brv_spell *spell, double time, size_t beat)
{
    struct brv_timeline *timeline = rows->timeline;
    if (!rows->counting) {
        timeline->time[timeline->n_row] = time;
        timeline->beat[timeline->n_row] = beat;
    }
    timeline->n_row++;
    spell->n_row++;
}

/* The shortest time between two pulses; beyond it a beat belongs to a pause. */
static double shortest_wait(const struct brv_timeline_ask *ask)
{
    double least = INFINITY;
    for (size_t k = 1; k < ask->n_pulse; k++) least = fmin(least, ask->pulse[k] - ask->pulse[k - 1]);
    return least;
}

/* A grain is hottest at the end of a pulse that stops at once, and before the end of one that fades. */
static bool is_at_peak(const struct brv_timeline_ask *ask, double beat)
{
    return ask->end < ask->window && beat > 0.5 * ask->window && beat < ask->end;
}

/* Is the beat far enough behind the one written last? */
static bool is_due(const struct brv_timeline_ask *ask, double beat, double last)
{
    if (fabs(beat - ask->window) <= SAME * beat || fabs(beat - ask->end) <= SAME * beat) return true;
    const double steps = is_at_peak(ask, beat) ? PEAK_STEPS : COARSE_STEPS;
    if (beat <= ask->window) return beat - last >= ask->window / steps * (1.0 - SAME);
    if (last < ask->window) return false;
    const double now = beat - ask->window, then = last - ask->window;
    const double per_decade = beat > shortest_wait(ask) ? PAUSE_DECADE : COARSE_DECADE;
    return now >= then * pow(10.0, 1.0 / per_decade) * (1.0 - SAME);
}

static void lay_fired(struct rows *rows, struct brv_spell *spell, const struct brv_timeline_ask *ask, bool fine)
{
    const struct brv_timeline *timeline = rows->timeline;
    double last = 0.0;
    for (size_t i = 1; i < timeline->n_beat; i++) {
        const double beat = timeline->beats[i];
        if (beat >= spell->length * (1.0 - SAME)) break;
        if (!fine && !is_due(ask, beat, last)) continue;
        add_row(rows, spell, beat, i);
        last = beat;
    }
    add_row(rows, spell, spell->length, BRV_NO_BEAT);
}

/* The next beat of the last pulse after `time` of a spell that it did not begin, within the spell [s]. */
static double next_beat(const struct brv_timeline *timeline, const struct brv_spell *spell,
                        const struct brv_timeline_ask *ask, bool fine, double time)
{
    const double last = spell->since + time;
    for (size_t i = 1; i < timeline->n_beat && spell->pulse > 0; i++) {
        const double beat = timeline->beats[i];
        if (beat > last * (1.0 + SAME) && (fine || is_due(ask, beat, last))) return beat - spell->since;
    }
    return INFINITY;
}

/* Begun by what is laid on or taken away: rows follow that, and go on following the pulse before it. */
static void lay_quiet(struct rows *rows, struct brv_spell *spell, const struct brv_timeline_ask *ask, bool fine)
{
    const double ratio = pow(10.0, 1.0 / QUIET_DECADE), end = spell->length * (1.0 - SAME);
    double quiet = QUIET_FIRST, beat = next_beat(rows->timeline, spell, ask, fine, 0.0);
    for (double time = fmin(quiet, beat); time < end; time = fmin(quiet, beat)) {
        add_row(rows, spell, time, BRV_NO_BEAT);
        while (quiet <= time * (1.0 + SAME)) quiet *= ratio;
        beat = next_beat(rows->timeline, spell, ask, fine, time);
    }
    add_row(rows, spell, spell->length, BRV_NO_BEAT);
}

static void lay_rows(struct rows *rows, const struct brv_timeline_ask *ask)
{
    struct brv_timeline *timeline = rows->timeline;
    timeline->n_row = 1;
    for (size_t i = 0; i < timeline->n_spell; i++) {
        struct brv_spell *spell = &timeline->spell[i];
        const bool fine = ask->n_pulse <= ALL_FINE || spell->pulse <= 1 || spell->pulse == ask->n_pulse;
        spell->first_row = timeline->n_row;
        spell->n_row = 0;
        if (spell->fired && !rows->counting) timeline->before[spell->pulse - 1] = timeline->n_row - 1;
        if (spell->fired)
            lay_fired(rows, spell, ask, fine);
        else
            lay_quiet(rows, spell, ask, fine);
    }
}

/* ---- the whole ---- */

static brv_status make_spells(struct brv_timeline *timeline, const struct brv_timeline_ask *ask,
                              struct brv_error *error)
{
    double *edge = brv_array_new(ask->n_pulse + 2);
    if (!edge) return brv_error_raise(error, BRV_MEMORY, "timeline");
    timeline->n_spell = lay_edges(edge, ask);
    timeline->spell = calloc(timeline->n_spell, sizeof *timeline->spell);
    if (timeline->spell) lay_spells(timeline, ask, edge);
    free(edge);
    return timeline->spell ? BRV_OK : brv_error_raise(error, BRV_MEMORY, "timeline");
}

static brv_status make_rows(struct brv_timeline *timeline, const struct brv_timeline_ask *ask, struct brv_error *error)
{
    double beat[BRV_CLOCK_ROOM];
    struct rows rows = {timeline, true};
    timeline->n_beat = lay_beats(beat, timeline, ask);
    timeline->beats = brv_array_new(timeline->n_beat);
    if (!timeline->beats) return brv_error_raise(error, BRV_MEMORY, "timeline");
    memcpy(timeline->beats, beat, timeline->n_beat * sizeof *beat);

    lay_rows(&rows, ask);
    timeline->n_pulse = ask->n_pulse;
    timeline->time = brv_array_new(timeline->n_row);
    timeline->beat = calloc(timeline->n_row, sizeof *timeline->beat);
    timeline->before = calloc(timeline->n_pulse, sizeof *timeline->before);
    if (!timeline->time || !timeline->beat || !timeline->before) return brv_error_raise(error, BRV_MEMORY, "timeline");
    timeline->beat[0] = BRV_NO_BEAT;
    rows.counting = false;
    lay_rows(&rows, ask);
    return BRV_OK;
}

brv_status brv_timeline_build(struct brv_timeline *timeline, const struct brv_timeline_ask *asked,
                              struct brv_error *error)
{
    struct brv_timeline_ask ask = *asked;
    ask.from = same_moment(asked, asked->from);
    ask.to = same_moment(asked, asked->to);
    *timeline = (struct brv_timeline){.n_spell = 0};
    brv_status status = make_spells(timeline, &ask, error);
    if (!status) status = make_rows(timeline, &ask, error);
    if (status) brv_timeline_free(timeline);
    return status;
}

size_t brv_timeline_row(const struct brv_timeline *timeline, size_t pulse, double since)
{
    for (size_t i = 0; i < timeline->n_spell; i++) {
        const struct brv_spell *spell = &timeline->spell[i];
        for (size_t row = spell->first_row; spell->pulse == pulse && row < spell->first_row + spell->n_row; row++)
            if (fabs(spell->since + timeline->time[row] - since) <= SAME * since) return row;
    }
    return BRV_NO_BEAT;
}

void brv_timeline_free(struct brv_timeline *timeline)
{
    free(timeline->spell);
    free(timeline->time);
    free(timeline->beat);
    free(timeline->beats);
    free(timeline->before);
    *timeline = (struct brv_timeline){.n_spell = 0};
}
