#include "heat/march.h"

#include "base/array.h"
#include "heat/contour.h"
#include "heat/echo.h"
#include "heat/stepper.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

/* What has been left alone for a while changes slowly: over this part of the while a parabola through three of its
 * states is exact to 1e-11 of it, because its third derivative is at most (3 / (e age))^3. (A Taylor series would not
 * do: A times a state is rounding times the stiffest rate.)                                                         */
#define EARLY_PART 1e-3

/* The errors of a sum over up to 200 pulses add up, so the curve of one is read more finely, down to what a contour can. */
#define ECHO_FINER 1e-2
#define FINEST     1e-12

/* What one pulse does to a cold chain. */
struct response {
    double *value; /* [n_gauge][n_beat] [K] */
    double *state; /* [n_beat][n]; NULL when no whole state is wanted [K] */
    bool later;    /* state[] holds the beats after the window too */
    double *after; /* [n] when the last energy has arrived [K] */
    double *heat;  /* [n] the same in joules */
    double origin; /* time since the start of the pulse to which `after` belongs [s] */
    double carried, lost;
    double *end;        /* [n] at the end of a spell ... [K] */
    double length;      /* ... of this length; below 0: of none yet [s] */
    double end_carried; /* by then [J] */
    double end_lost;
};

struct march {
    const struct brv_march_ask *ask;
    struct brv_chain *chain;    /* its rise is what there was when the spell began */
    struct brv_contour contour; /* aimed at a window of rows */
    struct brv_contour alone;   /* aimed at single times of one pulse */
    struct brv_stepper stepper;
    struct response response;
    struct brv_echo echo;  /* of a train, when the caller has none */
    double ratio[2];       /* cheapest windows of the contour, without and with an inflow [1] */
    double *heat, *inflow; /* [n] right sides of the contour [J], [W] */
    double *half, *whole;  /* [n] state at half the early part of a spell, and at its end [K] */
    double *row_state;     /* [n] */
    double *weight;        /* [2 n] of the two gauges below */
    struct brv_gauge carried, lost;
    double *value; /* [n_gauge][n_row or n_beat] of one window */
    double *time;  /* times of one window */
    struct brv_ledger *ledger;
    double *curve, *state; /* the caller's */
};

/* ---- room ---- */

static size_t most(size_t a, size_t b)
{
    return a > b ? a : b;
}

static brv_status make_room(struct march *march, struct brv_error *error)
{
    const struct brv_march_ask *ask = march->ask;
    const size_t n = march->chain->n, n_beat = ask->timeline->n_beat;
    const size_t n_time = most(n_beat, ask->timeline->n_row);
    struct response *response = &march->response;
    const bool states = ask->peaks || ask->n_kept > 0;
    brv_status status = brv_contour_build(&march->contour, n, error);
    if (!status) status = brv_contour_build(&march->alone, n, error);
    if (!status) status = brv_stepper_build(&march->stepper, n, error);
    if (status) return status;

    response->value = brv_array_new(ask->n_gauge * n_beat);
    response->state = states ? brv_array_new(n_beat * n) : NULL;
    response->after = brv_array_new(n);
    response->heat = brv_array_new(n);
    response->end = brv_array_new(n);
    march->heat = brv_array_new(n);
    march->inflow = brv_array_new(n);
    march->half = brv_array_new(n);
    march->whole = brv_array_new(n);
    march->row_state = brv_array_new(n);
    march->weight = brv_array_new(2 * n);
    march->value = brv_array_new(ask->n_gauge * n_time);
    march->time = brv_array_new(n_time);
    const bool complete = response->value && (response->state || !states) && response->after && response->heat &&
                          response->end && march->heat && march->inflow && march->half && march->whole &&
                          march->row_state && march->weight && march->value && march->time;
    return complete ? BRV_OK : brv_error_raise(error, BRV_MEMORY, "march");
}

static void release(struct march *march)
{
    struct response *response = &march->response;
    double *const array[] = {response->value, response->state, response->after, response->heat, response->end,
                             march->heat,     march->inflow,   march->half,     march->whole,   march->row_state,
                             march->weight,   march->value,    march->time};
    for (size_t i = 0; i < sizeof array / sizeof *array; i++) free(array[i]);
    brv_contour_free(&march->contour);
    brv_contour_free(&march->alone);
    brv_stepper_free(&march->stepper);
    brv_echo_free(&march->echo);
}

/* ---- the surface of a spell ---- */

/* Sets the face of the first cell and with it what measures the energy that leaves the chain. */
static void cover(struct march *march, bool covered)
{
    const struct brv_march_ask *ask = march->ask;
    struct brv_chain *chain = march->chain;
    const size_t n = chain->n;
    chain->link[0] = covered ? ask->top_covered : ask->top_bare;
    march->inflow[0] = covered ? ask->inflow_covered : ask->inflow_bare;
    double *sink = march->weight, *ends = march->weight + n;
    memcpy(sink, chain->sink, n * sizeof *sink);
    memset(ends, 0, n * sizeof *ends);
    ends[0] += chain->link[0];
    ends[n - 1] += chain->link[n];
    march->carried = (struct brv_gauge){0, n, sink};
    march->lost = (struct brv_gauge){0, n, ends};
}

/* NULL where none flows: the contour is then cheaper. */
static const double *inflow_of(const struct march *march)
{
    return march->inflow[0] != 0.0 ? march->inflow : NULL;
}

static const struct brv_spell *first_fired(const struct brv_timeline *timeline)
{
    for (size_t i = 0; i < timeline->n_spell; i++)
        if (timeline->spell[i].fired) return &timeline->spell[i];
    return NULL;
}

/* ---- what one pulse does ---- */

static void note_beat(struct march *march, size_t beat, const double state[])
{
    struct response *response = &march->response;
    const struct brv_march_ask *ask = march->ask;
    for (size_t g = 0; g < ask->n_gauge; g++)
        response->value[g * ask->timeline->n_beat + beat] = brv_gauge_read(&ask->gauge[g], state);
    if (response->state) memcpy(response->state + beat * march->chain->n, state, march->chain->n * sizeof *state);
}

/* Through the pulse in steps, from cold. */
static brv_status step_through(struct march *march, struct brv_error *error)
{
    const struct brv_march_ask *ask = march->ask;
    const struct brv_timeline *timeline = ask->timeline;
    struct brv_chain *chain = march->chain;
    struct response *response = &march->response;
    double now = 0.0;
    march->stepper.least_rise = ask->least_rise;
    for (size_t i = 1; i < timeline->n_beat && timeline->beats[i] <= ask->source.end; i++) {
        const brv_status status = brv_stepper_advance(&march->stepper, chain, &ask->source, now, timeline->beats[i],
                                                      ask->step_tolerance, error);
        if (status) return status;
        now = timeline->beats[i];
        note_beat(march, i, chain->rise);
    }
    const brv_status status =
        brv_stepper_advance(&march->stepper, chain, &ask->source, now, ask->source.end, ask->step_tolerance, error);
    if (status) return status;
    response->carried = march->stepper.carried;
    response->lost = march->stepper.lost;
    response->origin = ask->source.end;
    memcpy(response->after, chain->rise, chain->n * sizeof *chain->rise);
    return BRV_OK;
}

static void give_at_once(struct march *march)
{
    const struct brv_march_ask *ask = march->ask;
    struct response *response = &march->response;
    for (size_t i = 0; i < march->chain->n; i++)
        response->after[i] = ask->source.deposit[i] / march->chain->capacity[i];
    response->origin = ask->centre;
}

/* One window of beats after the pulse. */
static void glide_beats(struct march *march, size_t from, size_t to)
{
    const struct brv_march_ask *ask = march->ask;
    struct response *response = &march->response;
    const size_t n = march->chain->n, n_beat = ask->timeline->n_beat, n_time = to - from;
    for (size_t i = from; i < to; i++) march->time[i - from] = ask->timeline->beats[i] - response->origin;
    brv_contour_aim(&march->contour, march->chain, march->time[0], march->time[n_time - 1], ask->tolerance,
                    response->heat, NULL);
    brv_contour_read(&march->contour, ask->n_gauge, ask->gauge, n_time, march->time, march->value);
    for (size_t g = 0; g < ask->n_gauge; g++)
        memcpy(response->value + g * n_beat + from, march->value + g * n_time, n_time * sizeof *march->value);
    for (size_t i = from; i < to && response->later; i++)
        brv_contour_state(&march->contour, march->time[i - from], response->state + i * n);
}

static void glide_after(struct march *march)
{
    const struct brv_timeline *timeline = march->ask->timeline;
    const double ratio = march->ratio[0], origin = march->response.origin;
    size_t from = 0;
    while (from < timeline->n_beat && timeline->beats[from] <= march->ask->source.end) from++;
    while (from < timeline->n_beat) {
        size_t to = from + 1;
        while (to < timeline->n_beat && timeline->beats[to] - origin <= ratio * (timeline->beats[from] - origin)) to++;
        glide_beats(march, from, to);
        from = to;
    }
}

static brv_status respond(struct march *march, struct brv_error *error)
{
    const struct brv_spell *fired = first_fired(march->ask->timeline);
    struct response *response = &march->response;
    struct brv_chain *chain = march->chain;
    response->length = -1.0;
    response->later = march->ask->peaks;
    if (!fired || !march->ask->source.deposit) return BRV_OK;

    cover(march, fired->covered);
    memset(chain->rise, 0, chain->n * sizeof *chain->rise);
    if (march->ask->sudden) {
        give_at_once(march);
    } else {
        const brv_status status = step_through(march, error);
        if (status) return status;
    }
    for (size_t i = 0; i < chain->n; i++) response->heat[i] = chain->capacity[i] * response->after[i];
    glide_after(march);
    return BRV_OK;
}

/* What the pulse has become when its spell ends: state and energies. Equal spells ask once. */
static void respond_until(struct march *march, double length)
{
    struct response *response = &march->response;
    if (response->length == length) return;
    const double since = length - response->origin;
    response->length = length;
    response->end_carried = response->carried;
    response->end_lost = response->lost;
    if (!(since > 0.0)) {
        memcpy(response->end, response->after, march->chain->n * sizeof *response->end);
        return;
    }
    brv_contour_aim(&march->alone, march->chain, since, since, march->ask->tolerance, response->heat, NULL);
    brv_contour_state(&march->alone, since, response->end);
    response->end_carried += brv_contour_gathered(&march->alone, &march->carried, since);
    response->end_lost += brv_contour_gathered(&march->alone, &march->lost, since);
}

/* The whole state of a beat; stored, or asked for alone. */
static const double *response_state(struct march *march, size_t beat)
{
    struct response *response = &march->response;
    const size_t n = march->chain->n;
    double *state = response->state + beat * n;
    const double since = march->ask->timeline->beats[beat] - response->origin;
    if (!response->later && march->ask->timeline->beats[beat] > march->ask->source.end) {
        brv_contour_aim(&march->alone, march->chain, since, since, march->ask->tolerance, response->heat, NULL);
        brv_contour_state(&march->alone, since, state);
    }
    return state;
}

/* ---- what there was ---- */

static bool is_cold(const struct march *march)
{
    for (size_t i = 0; i < march->chain->n; i++)
        if (march->chain->rise[i] != 0.0) return false;
    return !inflow_of(march);
}

/* How long what is there has been left alone when spell i begins [s]. */
static double age_of(const struct march *march, size_t i)
{
    const struct brv_spell *spell = &march->ask->timeline->spell[i];
    if (i == 0 || spell[-1].covered != spell->covered) return 0.0;
    return spell[-1].length - (spell[-1].fired ? march->ask->source.end : 0.0);
}

static void aim_early(struct march *march, double early)
{
    brv_contour_aim(&march->contour, march->chain, 0.5 * early, early, march->ask->tolerance, march->heat,
                    inflow_of(march));
    brv_contour_state(&march->contour, 0.5 * early, march->half);
    brv_contour_state(&march->contour, early, march->whole);
}

/* The parabola through the states at 0, half and the whole of the early part; `share` of it has gone by. */
static void lay_parabola(double state[], const struct march *march, double share)
{
    const double *rise = march->chain->rise;
    const double half = 4.0 * share * (1.0 - share), whole = share * (2.0 * share - 1.0);
    for (size_t i = 0; i < march->chain->n; i++)
        state[i] = rise[i] + half * (march->half[i] - rise[i]) + whole * (march->whole[i] - rise[i]);
}

/* ---- rows ---- */

static void add_gauges(struct march *march, size_t row, const double state[])
{
    const struct brv_march_ask *ask = march->ask;
    for (size_t g = 0; g < ask->n_gauge; g++)
        march->curve[g * ask->timeline->n_row + row] += brv_gauge_read(&ask->gauge[g], state);
}

static bool wants_state(const struct march *march, size_t row)
{
    if (march->ask->peaks) return true;
    for (size_t k = 0; k < march->ask->n_kept; k++)
        if (march->ask->kept[k] == row) return true;
    return false;
}

/* Adds to what is kept of a row, or looks whether it is the highest. */
static void keep(struct march *march, size_t row, const double before[], const double pulse[])
{
    const size_t n = march->chain->n;
    for (size_t i = 0; i < n && march->ask->peaks; i++) {
        const double rise = (before ? before[i] : 0.0) + (pulse ? pulse[i] : 0.0);
        if (rise > march->chain->peak[i]) march->chain->peak[i] = rise;
    }
    for (size_t k = 0; k < march->ask->n_kept; k++)
        for (size_t i = 0; i < n && march->ask->kept[k] == row; i++)
            march->state[k * n + i] = (before ? before[i] : 0.0) + (pulse ? pulse[i] : 0.0);
}

/* The pulse's part of a row. */
static const double *add_pulse(struct march *march, const struct brv_spell *spell, size_t row)
{
    const struct brv_march_ask *ask = march->ask;
    const struct brv_timeline *timeline = ask->timeline;
    const size_t beat = timeline->beat[row];
    if (!spell->fired || !ask->source.deposit) return NULL;
    if (beat == BRV_NO_BEAT) {
        add_gauges(march, row, march->response.end);
        return march->response.end;
    }
    for (size_t g = 0; g < ask->n_gauge; g++)
        march->curve[g * timeline->n_row + row] += march->response.value[g * timeline->n_beat + beat];
    return wants_state(march, row) ? response_state(march, beat) : NULL;
}

/* Rows soon after the start of the spell. Returns the first that is later. */
static size_t lay_early(struct march *march, const struct brv_spell *spell, double early)
{
    const double *time = march->ask->timeline->time;
    const size_t end = spell->first_row + spell->n_row;
    size_t row = spell->first_row;
    if (row + 1 >= end || time[row] > early) return row;
    aim_early(march, early);
    for (; row + 1 < end && time[row] <= early; row++) {
        lay_parabola(march->row_state, march, time[row] / early);
        add_gauges(march, row, march->row_state);
        keep(march, row, march->row_state, add_pulse(march, spell, row));
    }
    return row;
}

/* One window of rows [from, to) of what there was. */
static void glide_rows(struct march *march, const struct brv_spell *spell, size_t from, size_t to)
{
    const struct brv_march_ask *ask = march->ask;
    const double *time = ask->timeline->time + from;
    const size_t n_time = to - from, n_row = ask->timeline->n_row;
    brv_contour_aim(&march->contour, march->chain, time[0], time[n_time - 1], ask->tolerance, march->heat,
                    inflow_of(march));
    brv_contour_read(&march->contour, ask->n_gauge, ask->gauge, n_time, time, march->value);
    for (size_t g = 0; g < ask->n_gauge; g++)
        for (size_t i = 0; i < n_time; i++) march->curve[g * n_row + from + i] += march->value[g * n_time + i];
    for (size_t row = from; row < to; row++) {
        const double *pulse = add_pulse(march, spell, row);
        if (!wants_state(march, row)) continue;
        brv_contour_state(&march->contour, time[row - from], march->row_state);
        keep(march, row, march->row_state, pulse);
    }
}

static void lay_late(struct march *march, const struct brv_spell *spell, size_t row)
{
    const double ratio = march->ratio[inflow_of(march) != NULL];
    const double *time = march->ask->timeline->time;
    const size_t end = spell->first_row + spell->n_row;
    while (row < end) {
        size_t to = row + 1;
        while (to < end && time[to] <= ratio * time[row]) to++;
        glide_rows(march, spell, row, to);
        row = to;
    }
}

/* ---- a spell ---- */

/* Nothing was there: only the pulse. */
static void lay_cold(struct march *march, const struct brv_spell *spell)
{
    for (size_t row = spell->first_row; row < spell->first_row + spell->n_row; row++) {
        const double *pulse = add_pulse(march, spell, row);
        if (pulse) keep(march, row, NULL, pulse);
    }
}

/* At the end of a spell the contour still holds its last window, whose last time is the end. */
static void finish_warm(struct march *march, const struct brv_spell *spell)
{
    const double length = spell->length;
    march->ledger->carried += brv_contour_gathered(&march->contour, &march->carried, length);
    march->ledger->lost += brv_contour_gathered(&march->contour, &march->lost, length);
    march->ledger->given += march->inflow[0] * length;
    brv_contour_state(&march->contour, length, march->chain->rise);
}

static void finish_pulse(struct march *march)
{
    const struct response *response = &march->response;
    march->ledger->carried += response->end_carried;
    march->ledger->lost += response->end_lost;
    for (size_t i = 0; i < march->chain->n; i++) {
        march->chain->rise[i] += response->end[i];
        march->ledger->absorbed += march->ask->source.deposit[i];
    }
}

static void run_spell(struct march *march, size_t i)
{
    const struct brv_spell *spell = &march->ask->timeline->spell[i];
    const bool pulse = spell->fired && march->ask->source.deposit;
    assert(!pulse || spell->covered == first_fired(march->ask->timeline)->covered);
    cover(march, spell->covered);
    if (pulse) respond_until(march, spell->length);
    if (is_cold(march)) {
        lay_cold(march, spell);
    } else {
        for (size_t k = 0; k < march->chain->n; k++) march->heat[k] = march->chain->capacity[k] * march->chain->rise[k];
        lay_late(march, spell, lay_early(march, spell, EARLY_PART * age_of(march, i)));
        finish_warm(march, spell);
    }
    if (pulse) finish_pulse(march);
}

/* ---- a train at once ---- */

static size_t last_fired(const struct brv_timeline *timeline)
{
    size_t i = timeline->n_spell - 1;
    while (i > 0 && !timeline->spell[i].fired) i--;
    return i;
}

static bool is_steady(const struct brv_timeline *timeline, size_t first, size_t last)
{
    for (size_t i = first; i < last; i++)
        if (!timeline->spell[i + 1].fired || timeline->spell[i + 1].covered != timeline->spell[i].covered) return false;
    return true;
}

static bool wants_states(const struct march *march, size_t first, size_t last)
{
    const struct brv_spell *spell = march->ask->timeline->spell;
    for (size_t row = spell[first].first_row; row < spell[last].first_row; row++)
        if (wants_state(march, row)) return true;
    return false;
}

/* The pulses from spell `first` to before the last one, all from cold, in an unchanging chain. */
static struct brv_echo_train train_of(const struct march *march, size_t first)
{
    const struct brv_march_ask *ask = march->ask;
    return (struct brv_echo_train){.timeline = ask->timeline,
                                   .first = first,
                                   .last = last_fired(ask->timeline),
                                   .origin = march->response.origin,
                                   .tolerance = fmax(ECHO_FINER * ask->tolerance, FINEST),
                                   .n_gauge = ask->n_gauge};
}

static bool is_train(const struct march *march, size_t i)
{
    const struct brv_timeline *timeline = march->ask->timeline;
    if (!timeline->spell[i].fired || !march->ask->source.deposit || !is_cold(march)) return false;
    const struct brv_echo_train train = train_of(march, i);
    return brv_echo_serves(&train) && is_steady(timeline, i, train.last) && !wants_states(march, i, train.last);
}

static void add_own_beats(struct march *march, const struct brv_spell *spell)
{
    for (size_t row = spell->first_row; row < spell->first_row + spell->n_row; row++)
        if (march->ask->timeline->beat[row] != BRV_NO_BEAT) add_pulse(march, spell, row);
}

/* The pulses of a train left to those after them; with an echo of the caller's, the rows are the caller's too. */
static brv_status add_echo(struct march *march, const struct brv_echo_train *train, struct brv_error *error)
{
    const struct brv_march_ask *ask = march->ask;
    struct brv_echo *echo = ask->echo ? ask->echo : &march->echo;
    const struct brv_echo_chain one = {.chain = march->chain,
                                       .heat = march->response.heat,
                                       .gauge = ask->gauge,
                                       .carried = march->carried,
                                       .lost = march->lost,
                                       .factor = ask->echo ? ask->echo_factor : 1.0};
    const brv_status status = brv_echo_begin(echo, train, error);
    if (status) return status;
    brv_echo_add(echo, march->chain->rise, &march->ledger->carried, &march->ledger->lost, &march->contour, &one);
    if (ask->echo) return BRV_OK;
    brv_echo_read(march->curve, echo, &march->contour);
    brv_echo_free(echo);
    return BRV_OK;
}

/* Returns the spell of the last pulse, which what is left of the others waits for. */
static size_t run_train(struct march *march, size_t first, brv_status *status, struct brv_error *error)
{
    const struct brv_echo_train train = train_of(march, first);
    const double number = (double)(train.last - first);
    struct brv_ledger *ledger = march->ledger;
    for (size_t i = first; i < train.last; i++) add_own_beats(march, &march->ask->timeline->spell[i]);
    ledger->carried += number * march->response.carried;
    ledger->lost += number * march->response.lost;
    for (size_t i = 0; i < march->chain->n; i++) ledger->absorbed += number * march->ask->source.deposit[i];
    *status = add_echo(march, &train, error);
    return train.last;
}

static brv_status run_all(struct march *march, struct brv_error *error)
{
    struct brv_chain *chain = march->chain;
    brv_status status = respond(march, error);
    if (status) return status;
    memset(chain->rise, 0, chain->n * sizeof *chain->rise);
    memset(chain->peak, 0, chain->n * sizeof *chain->peak);
    for (size_t i = 0; i < march->ask->timeline->n_spell; i++) {
        cover(march, march->ask->timeline->spell[i].covered);
        if (is_train(march, i)) i = run_train(march, i, &status, error);
        if (status) return status;
        run_spell(march, i);
    }
    march->ledger->stored = brv_chain_stored(chain);
    chain->link[0] = march->ask->top_bare;
    return BRV_OK;
}

static struct march march_of(const struct brv_march_ask *ask, struct brv_chain *chain)
{
    return (struct march){.ask = ask,
                          .chain = chain,
                          .ratio = {brv_contour_ratio(ask->tolerance, false), brv_contour_ratio(ask->tolerance, true)}};
}

brv_status brv_march_pulse(double value[], struct brv_chain *chain, const struct brv_march_ask *ask,
                           struct brv_error *error)
{
    struct march march = march_of(ask, chain);
    brv_status status = make_room(&march, error);
    if (!status) status = respond(&march, error);
    if (!status) memcpy(value, march.response.value, ask->n_gauge * ask->timeline->n_beat * sizeof *value);
    release(&march);
    return status;
}

brv_status brv_march_run(struct brv_ledger *ledger, double curve[], double state[], struct brv_chain *chain,
                         const struct brv_march_ask *ask, struct brv_error *error)
{
    struct march march = march_of(ask, chain);
    march.ledger = ledger;
    march.curve = curve;
    march.state = state;
    *ledger = (struct brv_ledger){.absorbed = 0.0};
    memset(curve, 0, ask->n_gauge * ask->timeline->n_row * sizeof *curve);
    if (ask->n_kept) memset(state, 0, ask->n_kept * chain->n * sizeof *state);
    brv_status status = make_room(&march, error);
    if (!status) status = run_all(&march, error);
    release(&march);
    return status;
}

double brv_ledger_missing(const struct brv_ledger *ledger)
{
    const double in = ledger->absorbed + fabs(ledger->given);
    const double missing = ledger->absorbed + ledger->given - ledger->stored - ledger->carried - ledger->lost;
    return in > 0.0 ? missing / in : 0.0;
}
