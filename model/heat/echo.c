#include "heat/echo.h"

#include <math.h>
#include <stdlib.h>

/* One contour serves the times from `from` to OVERLAP * to. A spell that lies whole in there belongs to it if it begins
 * before `to`; of one that does not, every row belongs to one contour, whose times end where those of the next begin.  */
#define OVERLAP 2.0

struct window {
    double from, to; /* since the origin of a pulse [s] */
    bool first;      /* of all */
};

struct echo {
    const struct brv_echo_ask *ask;
    const struct brv_contour *contour;
    const struct brv_octet *projected;
    struct window window;
    double *curve;
};

static const struct brv_spell *spell_of(const struct brv_echo_ask *ask, size_t i)
{
    return &ask->timeline->spell[i];
}

/* From the origin of pulse `of` to the start of spell `i`. */
static double since(const struct brv_echo_ask *ask, size_t i, size_t of)
{
    return spell_of(ask, i)->start - spell_of(ask, of)->start - ask->origin;
}

static double shortest(const struct brv_echo_ask *ask)
{
    double least = INFINITY;
    for (size_t i = ask->first; i < ask->last; i++) least = fmin(least, since(ask, i + 1, i));
    return least;
}

bool brv_echo_serves(const struct brv_echo_ask *ask)
{
    if (ask->last < ask->first + 2 || ask->n_gauge + 2 > BRV_CONTOUR_GAUGES) return false;
    return shortest(ask) > 0.0;
}

/* ---- rows ---- */

static void add_row(struct echo *echo, const struct brv_contour_sum *sum, size_t row, double time)
{
    brv_contour_add(echo->curve + row, echo->ask->timeline->n_row, echo->contour, echo->projected, echo->ask->n_gauge,
                    sum, time);
}

/* Is this time the window's where the spell has none of its own? `home`: the spell begins in it. */
static bool is_row_of(const struct window *window, bool home, double time)
{
    return time <= OVERLAP * window->to && (home || time > OVERLAP * window->from);
}

static void add_single_rows(struct echo *echo, size_t i, size_t of, bool home)
{
    const struct brv_timeline *timeline = echo->ask->timeline;
    const struct brv_spell *spell = spell_of(echo->ask, i);
    const double start = since(echo->ask, i, of);
    for (size_t row = spell->first_row; row < spell->first_row + spell->n_row; row++) {
        const double time = start + timeline->time[row];
        if (of == i && timeline->beat[row] != BRV_NO_BEAT) continue;
        if (!is_row_of(&echo->window, home, time)) continue;
        struct brv_contour_sum sum = brv_contour_no_sum();
        brv_contour_join(&sum, echo->contour, time);
        add_row(echo, &sum, row, 0.0);
    }
}

static bool begins_in(const struct window *window, double start)
{
    return start >= window->from && start < window->to;
}

static void add_spell(struct echo *echo, size_t i)
{
    const struct brv_echo_ask *ask = echo->ask;
    const struct brv_spell *spell = spell_of(ask, i);
    struct brv_contour_sum sum = brv_contour_no_sum();
    for (size_t of = ask->first; of < i; of++) {
        const double start = since(ask, i, of);
        const bool home = begins_in(&echo->window, start);
        if (home && start + spell->length <= OVERLAP * echo->window.to)
            brv_contour_join(&sum, echo->contour, start);
        else if (home || start < echo->window.from)
            add_single_rows(echo, i, of, home);
    }
    add_single_rows(echo, i, i, echo->window.first);
    if (isinf(sum.least)) return;
    for (size_t row = spell->first_row; row < spell->first_row + spell->n_row; row++)
        add_row(echo, &sum, row, ask->timeline->time[row]);
}

/* ---- what there is at the end ---- */

static void add_end(double rise[], double *carried, double *lost, const struct echo *echo)
{
    const struct brv_echo_ask *ask = echo->ask;
    const struct brv_octet *flow = echo->projected + ask->n_gauge * BRV_CONTOUR_MOST_OCTETS;
    struct brv_contour_sum left = brv_contour_no_sum(), gathered = brv_contour_no_sum();
    for (size_t of = ask->first; of < ask->last; of++) {
        const double start = since(ask, ask->last, of);
        if (!begins_in(&echo->window, start)) continue;
        brv_contour_join(&left, echo->contour, start);
        brv_contour_join_gathered(&gathered, echo->contour, start);
    }
    if (isinf(left.least)) return;
    double sum[2] = {0.0, 0.0};
    brv_contour_add_state(rise, echo->contour, &left);
    brv_contour_add(sum, 1, echo->contour, flow, 2, &gathered, 0.0);
    *carried += sum[0];
    *lost += sum[1];
}

/* ---- all windows ---- */

static void project_all(struct brv_octet projected[], const struct echo *echo)
{
    const struct brv_echo_ask *ask = echo->ask;
    const struct brv_gauge flow[2] = {ask->carried, ask->lost};
    brv_contour_project(projected, echo->contour, ask->n_gauge, ask->gauge);
    brv_contour_project(projected + ask->n_gauge * BRV_CONTOUR_MOST_OCTETS, echo->contour, 2, flow);
}

brv_status brv_echo_add(double curve[], double rise[], double *carried, double *lost, struct brv_contour *contour,
                        const struct brv_chain *chain, const struct brv_echo_ask *ask, struct brv_error *error)
{
    const double ratio = brv_contour_ratio(ask->tolerance, false) / OVERLAP, end = since(ask, ask->last, ask->first);
    struct brv_octet *projected = calloc((ask->n_gauge + 2) * BRV_CONTOUR_MOST_OCTETS, sizeof *projected);
    if (!projected) return brv_error_raise(error, BRV_MEMORY, "echo");
    struct echo echo = {.ask = ask, .contour = contour, .projected = projected, .curve = curve};
    const double least = shortest(ask);
    for (double from = least; from <= end; from *= ratio) {
        echo.window = (struct window){from, ratio * from, !(from > least)};
        brv_contour_aim(contour, chain, from, OVERLAP * echo.window.to, ask->tolerance, ask->heat, NULL);
        project_all(projected, &echo);
        for (size_t i = ask->first; i < ask->last; i++) add_spell(&echo, i);
        add_end(rise, carried, lost, &echo);
    }
    free(projected);
    return BRV_OK;
}
