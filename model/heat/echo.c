#include "heat/echo.h"

#include "base/array.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>

/* One contour serves the times from `from` to OVERLAP * to. A spell that lies whole in there belongs to it if it begins
 * before `to`; of one that does not, every row belongs to one contour, whose times end where those of the next begin.  */
#define OVERLAP 2.0

struct window {
    double from, to; /* since the origin of a pulse [s] */
    bool first;      /* of all */
};

struct reader {
    const struct brv_echo_train *train;
    const struct brv_contour *contour;
    const struct brv_octet *projected; /* of this window */
    struct window window;
    double *curve;
};

static const struct brv_spell *spell_of(const struct brv_echo_train *train, size_t i)
{
    return &train->timeline->spell[i];
}

/* From the origin of pulse `of` to the start of spell `i`. */
static double since(const struct brv_echo_train *train, size_t i, size_t of)
{
    return spell_of(train, i)->start - spell_of(train, of)->start - train->origin;
}

static double shortest(const struct brv_echo_train *train)
{
    double least = INFINITY;
    for (size_t i = train->first; i < train->last; i++) least = fmin(least, since(train, i + 1, i));
    return least;
}

bool brv_echo_serves(const struct brv_echo_train *train)
{
    if (train->last < train->first + 2 || train->n_gauge + 2 > BRV_CONTOUR_GAUGES) return false;
    return shortest(train) > 0.0;
}

/* ---- room ---- */

/* Writes where windows begin, the last entry past the oldest pulse's age; `from` NULL: only counts. */
static size_t lay_windows(double from[], const struct brv_echo_train *train)
{
    const double ratio = brv_contour_ratio(train->tolerance, false) / OVERLAP;
    const double end = since(train, train->last, train->first);
    size_t n = 0;
    double start = shortest(train);
    for (; start <= end; start *= ratio, n++)
        if (from) from[n] = start;
    if (from) from[n] = start;
    return n;
}

/* But for the timeline, which only has to have the same rows. */
static bool is_same(const struct brv_echo_train *a, const struct brv_echo_train *b)
{
    return a->first == b->first && a->last == b->last && a->n_gauge == b->n_gauge && a->origin == b->origin &&
           a->tolerance == b->tolerance;
}

brv_status brv_echo_begin(struct brv_echo *echo, const struct brv_echo_train *train, struct brv_error *error)
{
    assert(!echo->n_window || is_same(&echo->train, train));
    if (echo->n_window) return BRV_OK;
    const size_t n_window = lay_windows(NULL, train);
    *echo = (struct brv_echo){.train = *train,
                              .n_window = n_window,
                              .from = brv_array_new(n_window + 1),
                              .projected =
                                  calloc(n_window * train->n_gauge * BRV_CONTOUR_MOST_OCTETS, sizeof *echo->projected),
                              .scratch = calloc((train->n_gauge + 2) * BRV_CONTOUR_MOST_OCTETS, sizeof *echo->scratch)};
    if (!echo->from || !echo->projected || !echo->scratch) {
        brv_echo_free(echo);
        return brv_error_raise(error, BRV_MEMORY, "echo");
    }
    lay_windows(echo->from, train);
    return BRV_OK;
}

void brv_echo_free(struct brv_echo *echo)
{
    free(echo->from);
    free(echo->projected);
    free(echo->scratch);
    *echo = (struct brv_echo){.n_window = 0};
}

static struct brv_octet *projected_in(const struct brv_echo *echo, size_t number)
{
    return echo->projected + number * echo->train.n_gauge * BRV_CONTOUR_MOST_OCTETS;
}

static struct window window_of(const struct brv_echo *echo, size_t number)
{
    return (struct window){echo->from[number], echo->from[number + 1], number == 0};
}

static bool begins_in(const struct window *window, double start)
{
    return start >= window->from && start < window->to;
}

/* ---- a chain ---- */

static void add_octet(struct brv_octet *sum, const struct brv_octet *x, double factor)
{
    for (size_t l = 0; l < BRV_OCTET; l++) {
        sum->re[l] += factor * x->re[l];
        sum->im[l] += factor * x->im[l];
    }
}

static void add_gauges(struct brv_octet sum[], struct brv_octet scratch[], const struct brv_contour *contour,
                       const struct brv_echo_chain *one, size_t n_gauge)
{
    brv_contour_project(scratch, contour, n_gauge, one->gauge);
    for (size_t g = 0; g < n_gauge; g++)
        for (size_t o = 0; o < contour->n_octet; o++) {
            const size_t i = g * BRV_CONTOUR_MOST_OCTETS + o;
            add_octet(&sum[i], &scratch[i], one->factor);
        }
}

/* What there is at the end. */
static void add_end(double rise[], double *carried, double *lost, struct brv_octet scratch[],
                    const struct brv_echo_train *train, const struct brv_contour *contour, const struct window *window,
                    const struct brv_echo_chain *one)
{
    const struct brv_gauge flow[2] = {one->carried, one->lost};
    struct brv_contour_sum left = brv_contour_no_sum(), gathered = brv_contour_no_sum();
    for (size_t of = train->first; of < train->last; of++) {
        const double start = since(train, train->last, of);
        if (!begins_in(window, start)) continue;
        brv_contour_join(&left, contour, start);
        brv_contour_join_gathered(&gathered, contour, start);
    }
    if (isinf(left.least)) return;
    double sum[2] = {0.0, 0.0};
    brv_contour_add_state(rise, contour, &left);
    brv_contour_project(scratch, contour, 2, flow);
    brv_contour_add(sum, 1, contour, scratch, 2, &gathered, 0.0);
    *carried += sum[0];
    *lost += sum[1];
}

void brv_echo_add(struct brv_echo *echo, double rise[], double *carried, double *lost, struct brv_contour *contour,
                  const struct brv_echo_chain *one)
{
    const struct brv_echo_train *train = &echo->train;
    for (size_t i = 0; i < echo->n_window; i++) {
        const struct window window = window_of(echo, i);
        brv_contour_aim(contour, one->chain, window.from, OVERLAP * window.to, train->tolerance, one->heat, NULL);
        add_gauges(projected_in(echo, i), echo->scratch, contour, one, train->n_gauge);
        add_end(rise, carried, lost, echo->scratch, train, contour, &window, one);
    }
}

/* ---- rows ---- */

static void add_row(struct reader *reader, const struct brv_contour_sum *sum, size_t row, double time)
{
    const struct brv_echo_train *train = reader->train;
    brv_contour_add(reader->curve + row, train->timeline->n_row, reader->contour, reader->projected, train->n_gauge,
                    sum, time);
}

/* Is this time the window's where the spell has none of its own? `home`: the spell begins in it. */
static bool is_row_of(const struct window *window, bool home, double time)
{
    return time <= OVERLAP * window->to && (home || time > OVERLAP * window->from);
}

static void add_single_rows(struct reader *reader, size_t i, size_t of, bool home)
{
    const struct brv_timeline *timeline = reader->train->timeline;
    const struct brv_spell *spell = spell_of(reader->train, i);
    const double start = since(reader->train, i, of);
    for (size_t row = spell->first_row; row < spell->first_row + spell->n_row; row++) {
        const double time = start + timeline->time[row];
        if (of == i && timeline->beat[row] != BRV_NO_BEAT) continue;
        if (!is_row_of(&reader->window, home, time)) continue;
        struct brv_contour_sum sum = brv_contour_no_sum();
        brv_contour_join(&sum, reader->contour, time);
        add_row(reader, &sum, row, 0.0);
    }
}

static void add_spell(struct reader *reader, size_t i)
{
    const struct brv_echo_train *train = reader->train;
    const struct brv_spell *spell = spell_of(train, i);
    struct brv_contour_sum sum = brv_contour_no_sum();
    for (size_t of = train->first; of < i; of++) {
        const double start = since(train, i, of);
        const bool home = begins_in(&reader->window, start);
        if (home && start + spell->length <= OVERLAP * reader->window.to)
            brv_contour_join(&sum, reader->contour, start);
        else if (home || start < reader->window.from)
            add_single_rows(reader, i, of, home);
    }
    add_single_rows(reader, i, i, reader->window.first);
    if (isinf(sum.least)) return;
    for (size_t row = spell->first_row; row < spell->first_row + spell->n_row; row++)
        add_row(reader, &sum, row, train->timeline->time[row]);
}

void brv_echo_read(double curve[], const struct brv_echo *echo, struct brv_contour *contour)
{
    const struct brv_echo_train *train = &echo->train;
    for (size_t number = 0; number < echo->n_window; number++) {
        struct reader reader = {.train = train,
                                .contour = contour,
                                .projected = projected_in(echo, number),
                                .window = window_of(echo, number),
                                .curve = curve};
        brv_contour_lay(contour, reader.window.from, OVERLAP * reader.window.to, train->tolerance, false);
        for (size_t i = train->first; i < train->last; i++) add_spell(&reader, i);
    }
}
