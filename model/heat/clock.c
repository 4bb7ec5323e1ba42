#include "heat/clock.h"

#include <gsl/gsl_sort.h>
#include <math.h>
#include <stdbool.h>

#define IN_PULSE      60   /* even steps across the window */
#define PER_DECADE    20   /* after the pulse */
#define BEFORE_DECADE 8    /* on the way into the pulse */
#define FIRST_SHARE   1e-3 /* of the window: where the logarithmic way in begins */
#define SAME          1e-6 /* times closer than this are one */

struct list {
    double *time;
    size_t n;
};

static void add(struct list *list, double time)
{
    if (list->n < BRV_CLOCK_ROOM) list->time[list->n++] = time;
}

/* start + first, ..., end: even in log(time - start). */
static void add_decades(struct list *list, double start, double first, double end, int per_decade)
{
    const double ratio = pow(10.0, 1.0 / per_decade);
    for (double since = first; start + since < end; since *= ratio) add(list, start + since);
}

static size_t drop_twins(double time[], size_t n, double same)
{
    size_t kept = 1;
    for (size_t i = 1; i < n; i++)
        if (time[i] > time[kept - 1] * (1.0 + same)) time[kept++] = time[i];
    return kept;
}

static bool is_same(double one, double other)
{
    return fabs(one - other) <= SAME * other;
}

/* A landmark that lost to its twin takes the place back, to the last bit; not that of the pulse's own ends, from which it
 * would carry the time away a step at a time: their twins follow each other by tens of nanoseconds.                */
static void snap(double time[], size_t n, double landmark, const struct brv_clock_ask *ask)
{
    for (size_t i = 0; i < n; i++)
        if (is_same(time[i], landmark) && !is_same(time[i], ask->window) && !is_same(time[i], ask->end))
            time[i] = landmark;
}

static void snap_to_pulse(double time[], size_t n, double end)
{
    for (size_t i = 0; i < n; i++)
        if (is_same(time[i], end)) time[i] = end;
}

size_t brv_clock_times(double time[BRV_CLOCK_ROOM], const struct brv_clock_ask *ask)
{
    struct list list = {time, 0};
    add(&list, 0.0);
    for (int i = 1; i < IN_PULSE; i++) add(&list, ask->window * i / IN_PULSE);
    add(&list, ask->window);
    add(&list, ask->end);
    add(&list, ask->until);
    for (size_t i = 0; i < ask->n_landmark; i++)
        if (ask->landmark[i] < ask->until) add(&list, ask->landmark[i]);
    add_decades(&list, 0.0, FIRST_SHARE * ask->window, ask->window, BEFORE_DECADE);
    add_decades(&list, ask->window, 0.02 * fmin(ask->window, ask->grain), ask->until, PER_DECADE);
    gsl_sort(time, 1, list.n);
    const size_t n = drop_twins(time, list.n, SAME);
    snap_to_pulse(time, n, ask->window);
    snap_to_pulse(time, n, ask->end);
    for (size_t i = 0; i < ask->n_landmark; i++) snap(time, n, ask->landmark[i], ask);
    return drop_twins(time, n, 0.0); /* times on both sides of a landmark may have become the same */
}
