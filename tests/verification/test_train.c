/* Trains of pulses and what is laid on the skin: the march of model/heat/march.h over whole timelines, against closed
 * forms, against its own steps taken one after the other, and against sums of single pulses.                       */
#include "base/constants.h"
#include "heat/echo.h"
#include "heat/march.h"
#include "heat/slab.h"
#include "heat/sphere.h"
#include "heat/stepper.h"
#include "support/check.h"
#include "support/table.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define DATA "tests/verification/data/"

static double even_share(const void *end, double time)
{
    return fmin(fmax(time / *(const double *)end, 0.0), 1.0);
}

static struct brv_source square(const double deposit[], const double *width)
{
    return (struct brv_source){deposit, even_share, width, *width, *width / 16.0};
}

/* ---- one timeline and its curves ---- */

struct walk {
    struct brv_timeline timeline;
    double *curve; /* [n_gauge][n_row] */
    struct brv_ledger ledger;
};

static void walk_through(struct walk *walk, struct brv_chain *chain, const struct brv_timeline_ask *when,
                         struct brv_march_ask ask)
{
    assert_int_equal(brv_timeline_build(&walk->timeline, when, NULL), BRV_OK);
    walk->curve = calloc(ask.n_gauge * walk->timeline.n_row, sizeof *walk->curve);
    ask.timeline = &walk->timeline;
    ask.step_tolerance = ask.step_tolerance > 0.0 ? ask.step_tolerance : 1e-8;
    ask.tolerance = ask.tolerance > 0.0 ? ask.tolerance : 1e-12; /* as the program asks */
    assert_int_equal(brv_march_run(&walk->ledger, walk->curve, NULL, chain, &ask, NULL), BRV_OK);
}

static void forget(struct walk *walk)
{
    brv_timeline_free(&walk->timeline);
    free(walk->curve);
}

static double at_end(const struct walk *walk, size_t gauge)
{
    return walk->curve[(gauge + 1) * walk->timeline.n_row - 1];
}

/* What is missing is a share of all that moved, whichever way it went: 0.04 J of 4 J. */
static void a_ledger_says_what_is_missing(void **state)
{
    (void)state;
    const struct brv_ledger drawn = {.absorbed = 1.0, .given = -3.0, .stored = -2.5, .carried = 0.25, .lost = 0.21};
    const struct brv_ledger warmed = {.absorbed = 1.0, .given = 3.0, .stored = 3.5, .carried = 0.25, .lost = 0.21};
    check_close(brv_ledger_missing(&drawn), 0.01, 1e-12, 0.0);
    check_close(brv_ledger_missing(&warmed), 0.01, 1e-12, 0.0);
    check_close(brv_ledger_missing(&(struct brv_ledger){.stored = 0.0}), 0.0, 0.0, 0.0);
}

/* ---- what earlier pulses leave ---- */

enum { MOST_TRAIN = 100 };

/* An epidermis of 60 um warmed evenly by every pulse, insulated, the same medium below. */
static void check_residuals(const struct table_row *row, void *context)
{
    (void)context;
    static const char *const column[] = {"N=2", "N=5", "N=10", "N=20", "N=50", "N=100"};
    static const size_t number[] = {2, 5, 10, 20, 50, 100};
    static const double thick = 60e-6, diffusivity = 1.1e-7, width = 1e-9;
    const double rate = table_number(row, "f_Hz");
    const double until = MOST_TRAIN / rate;
    const struct brv_slab_layer layer[] = {{thick, diffusivity, 1.0, 0.0},
                                           {8.0 * sqrt(diffusivity * until), diffusivity, 1.0, 0.0}};
    const struct brv_slab_grid grid = {0.25e-6, 0.02, INFINITY, 0.0};
    struct brv_slab slab;
    assert_int_equal(brv_slab_build(&slab, layer, 2, &grid, 0.0, 0.0, NULL), BRV_OK);
    double *deposit = calloc(slab.chain.n, sizeof *deposit), start[MOST_TRAIN];
    for (size_t i = 0; i < slab.first_cell[1]; i++) deposit[i] = slab.chain.capacity[i];
    for (size_t k = 0; k < MOST_TRAIN; k++) start[k] = (double)k / rate;

    const struct brv_reading surface = brv_slab_reading(&slab, 0.0);
    const struct brv_gauge gauge = brv_gauge_of(&surface);
    const struct brv_timeline_ask when = {
        .n_pulse = MOST_TRAIN, .pulse = start, .window = width, .end = width, .grain = 1e-7, .until = until};
    struct walk walk;
    walk_through(&walk, &slab.chain, &when,
                 (struct brv_march_ask){.source = square(deposit, &width), .n_gauge = 1, .gauge = &gauge});
    for (size_t i = 0; i < sizeof number / sizeof *number; i++) {
        char what[120];
        snprintf(what, sizeof what, "train at %g Hz: surface before pulse %zu, in jumps of one pulse", rate, number[i]);
        check_row(what, "carslaw-jaeger (closed form, computed)", walk.curve[walk.timeline.before[number[i] - 1]],
                  table_number(row, column[i]), 1e-4 * table_number(row, column[i]),
                  "cells of 0.25 um that widen by 2 % of the distance; sum of error functions");
    }
    forget(&walk);
    free(deposit);
    brv_slab_free(&slab);
}

static void residual_heat_of_a_train(void **state)
{
    (void)state;
    assert_int_equal(table_each(DATA "multipulse_slab_computed.csv", check_residuals, NULL), 2);
}

/* ---- skin with all that can happen to it ---- */

struct skin {
    struct brv_slab slab;
    double *deposit;
    struct brv_reading reading[3];
    struct brv_gauge gauge[3];
};

static void build_skin(struct skin *skin, double transfer)
{
    const struct brv_slab_layer layer[] = {{60e-6, 0.23, 4.1e6, 0.0}, {0.03, 0.37, 3.7e6, 3.8e3}};
    const struct brv_slab_grid grid = {0.25e-6, 0.08, INFINITY, 0.0};
    static const double depth[3] = {0.0, 55e-6, 0.7e-3};
    assert_int_equal(brv_slab_build(&skin->slab, layer, 2, &grid, transfer, 0.0, NULL), BRV_OK);
    skin->deposit = calloc(skin->slab.chain.n, sizeof *skin->deposit);
    for (size_t i = 0; i < skin->slab.chain.n; i++)
        skin->deposit[i] = 6e3 * (exp(-skin->slab.face[i] / 3e-4) - exp(-skin->slab.face[i + 1] / 3e-4));
    for (size_t i = 0; i < 3; i++) {
        skin->reading[i] = brv_slab_reading(&skin->slab, depth[i]);
        skin->gauge[i] = brv_gauge_of(&skin->reading[i]);
    }
}

static void free_skin(struct skin *skin)
{
    brv_slab_free(&skin->slab);
    free(skin->deposit);
}

static struct brv_march_ask march_over(const struct skin *skin, const double *width)
{
    const double top = skin->slab.chain.link[0];
    return (struct brv_march_ask){.top_bare = top,
                                  .top_covered = top,
                                  .source = square(skin->deposit, width),
                                  .n_gauge = 3,
                                  .gauge = skin->gauge};
}

/* Rows of a train against the sum of one pulse's rows at the times that have gone by: superposition to the tolerance
 * of the contour and the early parabola, 1e-11 of the largest rise for every term.                                                       */
static void a_train_is_the_sum_of_its_pulses(void **state)
{
    (void)state;
    static const double start[] = {0.0, 0.137, 0.4, 0.41, 1.9}, until = 2.385, width = 3e-3;
    struct skin skin;
    struct walk train, single;
    build_skin(&skin, 10.0);
    struct brv_timeline_ask when = {
        .n_pulse = 5, .pulse = start, .window = width, .end = width, .grain = 1e-7, .until = until};
    walk_through(&train, &skin.slab.chain, &when, march_over(&skin, &width));

    for (size_t k = 1; k < 6; k++) {
        const double now = k < 5 ? start[k] : until;
        when.n_pulse = 1;
        when.until = now + 1e-3;
        when.n_landmark = 0;
        for (size_t j = k; j-- > 0;) when.landmark[when.n_landmark++] = now - start[j];
        walk_through(&single, &skin.slab.chain, &when, march_over(&skin, &width));
        const size_t row = k < 5 ? train.timeline.before[k] : train.timeline.n_row - 1;
        for (size_t g = 0; g < 3; g++) {
            double sum = 0.0;
            for (size_t j = 0; j < k; j++) {
                const size_t at = brv_timeline_row(&single.timeline, 1, now - start[j]);
                assert_true(at != BRV_NO_BEAT);
                sum += single.curve[g * single.timeline.n_row + at];
            }
            check_close(train.curve[g * train.timeline.n_row + row], sum, 0.0, 1e-9 * 5.0); /* of 5 K */
        }
        forget(&single);
    }
    forget(&train);
    free_skin(&skin);
}

/* Soon after a pulse has begun what there was is drawn as a parabola: a millisecond into the last pulse, 1.49 s after
 * the one before.                                                                                                */
static void early_rows_are_sums_too(void **state)
{
    (void)state;
    static const double start[] = {0.0, 0.4, 1.9}, width = 3e-3, early = 1e-3;
    struct skin skin;
    struct walk train, single;
    build_skin(&skin, 10.0);
    struct brv_timeline_ask when = {
        .n_pulse = 3, .pulse = start, .window = width, .end = width, .grain = 1e-7, .until = 2.385};
    walk_through(&train, &skin.slab.chain, &when, march_over(&skin, &width));
    when.n_pulse = 1;
    when.n_landmark = 2;
    when.landmark[0] = start[2] - start[1] + early;
    when.landmark[1] = start[2] - start[0] + early;
    walk_through(&single, &skin.slab.chain, &when, march_over(&skin, &width));

    const size_t row = brv_timeline_row(&train.timeline, 3, early);
    assert_true(row != BRV_NO_BEAT);
    for (size_t g = 0; g < 3; g++) {
        double sum = single.curve[g * single.timeline.n_row + brv_timeline_row(&single.timeline, 1, early)];
        for (size_t k = 0; k < 2; k++)
            sum += single.curve[g * single.timeline.n_row + brv_timeline_row(&single.timeline, 1, when.landmark[k])];
        /* the parabola is good to 1e-11 of what there was, some kelvin; in this millisecond that fell by 1e-3 of itself */
        check_close(train.curve[g * train.timeline.n_row + row], sum, 0.0, 1e-9);
    }
    forget(&single);
    forget(&train);
    free_skin(&skin);
}

/* The same train taken in steps one after the other, pulses included. */
static double shifted_share(const void *context, double time)
{
    const double *at = context; /* start, width */
    return fmin(fmax((time - at[0]) / at[1], 0.0), 1.0);
}

static void step_along(struct skin *skin, const double start[], size_t n_pulse, double width, double until)
{
    struct brv_stepper stepper;
    struct brv_chain *chain = &skin->slab.chain;
    memset(chain->rise, 0, chain->n * sizeof *chain->rise);
    assert_int_equal(brv_stepper_build(&stepper, chain->n, NULL), BRV_OK);
    for (size_t k = 0; k < n_pulse; k++) {
        const double at[2] = {start[k], width}, end = k + 1 < n_pulse ? start[k + 1] : until;
        const struct brv_source source = {skin->deposit, shifted_share, at, start[k] + width, width / 32.0};
        stepper.suggested_step = 0.0;
        assert_int_equal(brv_stepper_advance(&stepper, chain, &source, start[k], start[k] + width, 1e-9, NULL), BRV_OK);
        assert_int_equal(brv_stepper_advance(&stepper, chain, &source, start[k] + width, end, 1e-9, NULL), BRV_OK);
    }
    brv_stepper_free(&stepper);
}

static void a_train_is_what_steps_make_of_it(void **state)
{
    (void)state;
    static const double start[] = {0.0, 0.2, 0.5}, width = 2e-3, until = 1.3;
    struct skin skin;
    struct walk train;
    build_skin(&skin, 10.0);
    const struct brv_timeline_ask when = {
        .n_pulse = 3, .pulse = start, .window = width, .end = width, .grain = 1e-7, .until = until};
    walk_through(&train, &skin.slab.chain, &when, march_over(&skin, &width));
    step_along(&skin, start, 3, width, until);
    /* 1e-9 of the largest rise per step, a few hundred steps */
    for (size_t g = 0; g < 3; g++)
        check_close(brv_gauge_read(&skin.gauge[g], skin.slab.chain.rise), at_end(&train, g), 2e-6, 0.0);
    forget(&train);
    free_skin(&skin);
}

/* Asked for the highest rise of every cell, the march goes from spell to spell; else it sums the curves of the pulses:
 * two ways to the same rows. Bursts with pauses between them, some ten thousand times as long as what is between the
 * pulses of one, and pulses that touch each other.                                                                 */
static void check_at_once(const double start[], size_t n_pulse, double width, double until)
{
    struct skin skin;
    struct walk summed, stepped;
    build_skin(&skin, 10.0);
    const size_t n = skin.slab.chain.n;
    struct brv_march_ask ask = march_over(&skin, &width);
    const struct brv_timeline_ask when = {
        .n_pulse = n_pulse, .pulse = start, .window = width, .end = width, .grain = 1e-7, .until = until};
    double *end = calloc(n, sizeof *end);
    walk_through(&summed, &skin.slab.chain, &when, ask);
    memcpy(end, skin.slab.chain.rise, n * sizeof *end);
    ask.peaks = true;
    walk_through(&stepped, &skin.slab.chain, &when, ask);
    /* 1e-12 of the 5 K of a pulse from either way, for each of 60 pulses, and the early parabolas' 1e-11 of what is
     * there; of the energies, the same share of all that came in */
    for (size_t i = 0; i < 3 * summed.timeline.n_row; i++) check_close(summed.curve[i], stepped.curve[i], 0.0, 1.5e-9);
    for (size_t i = 0; i < n; i++) check_close(end[i], skin.slab.chain.rise[i], 0.0, 1.5e-9);
    check_close(summed.ledger.absorbed, stepped.ledger.absorbed, 1e-13, 0.0);
    check_close(summed.ledger.carried, stepped.ledger.carried, 0.0, 1e-9 * stepped.ledger.absorbed);
    check_close(summed.ledger.lost, stepped.ledger.lost, 0.0, 1e-9 * stepped.ledger.absorbed);
    check_close(brv_ledger_missing(&summed.ledger), 0.0, 0.0, 1e-10);
    forget(&summed);
    forget(&stepped);
    free(end);
    free_skin(&skin);
}

static void a_train_at_once_is_a_train_from_spell_to_spell(void **state)
{
    (void)state;
    enum { N = 60 };
    double start[N];
    for (size_t k = 0; k < N; k++) start[k] = 40.0 * (double)(k / 6) + 1.3e-3 * (double)(k % 6);
    check_at_once(start, N, 1e-3, start[N - 1] + 100.0);
    for (size_t k = 0; k < N; k++) start[k] = 1e-3 * (double)k;
    check_at_once(start, N, 1e-3, start[N - 1] + 0.5);
    for (size_t k = 0; k < N; k++) start[k] = 0.1 * (double)k;
    check_at_once(start, N, 8e-9, start[N - 1] + 60.0);
}

/* Of chains whose curves are added anyway, as those of the modes of a disc, the poles are added and read once. */
static void chains_of_a_train_are_added_before_they_are_read(void **state)
{
    (void)state;
    enum { N = 40, CHAINS = 2 };
    static const double factor[CHAINS] = {0.7, -0.4}, width = 8e-9;
    double start[N];
    struct skin skin[CHAINS];
    struct walk alone[CHAINS], shared[CHAINS];
    struct brv_echo echo = {.n_window = 0};
    struct brv_contour contour;
    for (size_t k = 0; k < N; k++) start[k] = 30.0 * (double)(k / 8) + 2e-3 * (double)(k % 8);
    const struct brv_timeline_ask when = {
        .n_pulse = N, .pulse = start, .window = width, .end = width, .grain = 1e-7, .until = start[N - 1] + 50.0};
    for (size_t c = 0; c < CHAINS; c++) {
        build_skin(&skin[c], 10.0);
        for (size_t i = 0; i < skin[c].slab.chain.n && c; i++) skin[c].slab.chain.sink[i] *= 300.0; /* fades sooner */
        struct brv_march_ask ask = march_over(&skin[c], &width);
        walk_through(&alone[c], &skin[c].slab.chain, &when, ask);
        ask.echo = &echo;
        ask.echo_factor = factor[c];
        walk_through(&shared[c], &skin[c].slab.chain, &when, ask);
        check_close(shared[c].ledger.carried, alone[c].ledger.carried, 1e-13, 0.0);
        echo.train.timeline = &shared[0].timeline; /* every walk has its own, with the same rows */
    }
    const size_t n = 3 * alone[0].timeline.n_row;
    double *read = calloc(n, sizeof *read);
    assert_int_equal(brv_contour_build(&contour, 0, NULL), BRV_OK);
    brv_echo_read(read, &echo, &contour);
    size_t moved = 0;
    for (size_t i = 0; i < n; i++) {
        double expected = 0.0, found = read[i];
        for (size_t c = 0; c < CHAINS; c++) expected += factor[c] * alone[c].curve[i];
        for (size_t c = 0; c < CHAINS; c++) found += factor[c] * shared[c].curve[i];
        check_close(found, expected, 0.0, 1e-12); /* rounding of some forty pulses of 5 K */
        moved += fabs(read[i]) > 0.1;
    }
    assert_true(moved > 1000); /* most rows of a train are what others have left */
    for (size_t c = 0; c < CHAINS; c++) {
        forget(&alone[c]);
        forget(&shared[c]);
        free_skin(&skin[c]);
    }
    free(read);
    brv_contour_free(&contour);
    brv_echo_free(&echo);
}

/* What goes in stays, is carried away by blood or lost through the surface, over two hundred pulses. */
static void a_train_keeps_its_energy(void **state)
{
    (void)state;
    enum { N = 200 };
    static const double width = 8e-9;
    double start[N], in = 0.0;
    struct skin skin;
    struct walk train;
    build_skin(&skin, 10.0);
    for (size_t k = 0; k < N; k++) start[k] = 0.1 * (double)k + (k < 100 ? 0.0 : 7.0);
    const struct brv_timeline_ask when = {
        .n_pulse = N, .pulse = start, .window = width, .end = width, .grain = 1e-7, .until = 60.0};
    walk_through(&train, &skin.slab.chain, &when, march_over(&skin, &width));
    for (size_t i = 0; i < skin.slab.chain.n; i++) in += skin.deposit[i];
    check_close(train.ledger.absorbed, N * in, 1e-12, 0.0);
    assert_true(train.ledger.carried > 0.02 * train.ledger.absorbed &&
                train.ledger.lost > 1e-3 * train.ledger.absorbed);
    check_close(brv_ledger_missing(&train.ledger), 0.0, 0.0, 1e-10); /* what the model promises */
    assert_true(train.timeline.n_row < 9000);                        /* thousands, not millions */
    forget(&train);
    free_skin(&skin);
}

/* ---- a grain ---- */

/* A 1-um grain in like surroundings without end, ten pulses a second: what is left before the second is
 * a^3 / (6 sqrt(pi) (alpha t)^1.5) of its jump, below 1e-8; grains keep nothing of their own from pulse to pulse.     */
static void a_grain_keeps_nothing(void **state)
{
    (void)state;
    static const double radius = 0.5e-6, alpha = 1.3e-7, width = 1e-9, start[] = {0.0, 0.1, 0.2, 0.3};
    const struct brv_sphere_ask cells = {.radius = radius,
                                         .cell_radius = INFINITY,
                                         .reach = 6.0 * sqrt(alpha * 10.0),
                                         .conductivity = alpha,
                                         .host_conductivity = alpha,
                                         .heat_capacity = 1.0,
                                         .host_heat_capacity = 1.0,
                                         .finest = radius / 200.0,
                                         .growth = 0.03,
                                         .most = radius / 40.0};
    struct brv_sphere sphere;
    struct walk walk;
    assert_int_equal(brv_sphere_build(&sphere, &cells, NULL), BRV_OK);
    double *deposit = calloc(sphere.chain.n, sizeof *deposit);
    for (size_t i = 0; i < sphere.n_grain; i++) deposit[i] = sphere.chain.capacity[i];
    const struct brv_gauge centre = brv_gauge_of(&sphere.centre);
    const struct brv_timeline_ask when = {
        .n_pulse = 4, .pulse = start, .window = width, .end = width, .grain = 1e-7, .until = 1.0};
    walk_through(&walk, &sphere.chain, &when,
                 (struct brv_march_ask){.source = square(deposit, &width), .n_gauge = 1, .gauge = &centre});
    const double left = radius * radius * radius / (6.0 * sqrt(BRV_PI) * pow(alpha * 0.1, 1.5));
    /* contour: 1e-12 of the jump */
    check_row("1-um grain in like surroundings, 0.1 s after a pulse: share of its jump", "multipulse (computed)",
              walk.curve[walk.timeline.before[1]], left, 2e-3 * left,
              "first term of the tail; contour 1e-12 of the jump");
    check_row("the same before the fourth pulse, upper bound 1e-8 per pulse", "multipulse (computed)",
              walk.curve[walk.timeline.before[3]], left * (1.0 + pow(0.5, 1.5) + pow(1.0 / 3.0, 1.5)), 3e-3 * left,
              "three tails");
    assert_true(left < 1e-8);
    forget(&walk);
    free(deposit);
    brv_sphere_free(&sphere);
}

/* ---- something on the skin ---- */

/* A half-space touched by something cold: T(z,t) / (outside) = erfc(u) - exp(h z/k + h^2 a t / k^2) erfc(u + h sqrt(a t)
 * / k), u = z / (2 sqrt(a t)).                                                                                     */
static double touched(double z, double t, double k, double a, double h)
{
    const double u = z / (2.0 * sqrt(a * t)), v = h * sqrt(a * t) / k;
    return erfc(u) - exp(h * z / k + v * v) * erfc(u + v);
}

static void a_cold_touch_in_a_half_space(void **state)
{
    (void)state;
    static const double k = 0.37, c = 3.7e6, h = 900.0, outside = -25.0, time = 2.385, never = 1.0;
    const struct brv_slab_layer medium = {0.02, k, c, 0.0};
    const struct brv_slab_grid grid = {0.5e-6, 0.02, INFINITY, 0.0};
    struct brv_slab slab;
    struct walk walk;
    assert_int_equal(brv_slab_build(&slab, &medium, 1, &grid, h, 0.0, NULL), BRV_OK);
    const double touch = slab.chain.link[0], depth[3] = {0.0, 0.2e-3, 1e-3}, start = 0.0;
    struct brv_reading reading[3];
    struct brv_gauge gauge[3];
    for (size_t i = 0; i < 3; i++) {
        reading[i] = brv_slab_reading(&slab, depth[i]);
        gauge[i] = brv_gauge_of(&reading[i]);
    }
    const struct brv_timeline_ask when = {.n_pulse = 1,
                                          .pulse = &start,
                                          .window = 1e-9,
                                          .end = 1e-9,
                                          .grain = 1e-9,
                                          .from = -time,
                                          .to = 100.0,
                                          .until = 5.0};
    walk_through(&walk, &slab.chain, &when,
                 (struct brv_march_ask){.top_bare = 0.0,
                                        .top_covered = touch,
                                        .inflow_covered = touch * outside,
                                        .source = square(NULL, &never),
                                        .n_gauge = 3,
                                        .gauge = gauge});
    const double alpha = k / c;
    for (size_t g = 0; g < 3; g++)
        for (int last = 0; last < 2; last++) {
            char what[120];
            const double t = last ? time + 5.0 : time;
            const size_t row = last ? walk.timeline.n_row - 1 : walk.timeline.before[0];
            snprintf(what, sizeof what, "half-space touched for %g s, %g mm deep: share of the difference", t,
                     1e3 * depth[g]);
            check_row(what, "carslaw-jaeger (closed form)", walk.curve[g * walk.timeline.n_row + row] / outside,
                      touched(depth[g], t, k, alpha, h), 1e-4, "cells of 0.5 um that widen by 2 % of the depth");
        }
    forget(&walk);
    brv_slab_free(&slab);
}

/* Taken away again: the chain goes on as steps without it would. */
static void what_is_taken_away_acts_no_longer(void **state)
{
    (void)state;
    static const double start[] = {0.0, 0.3}, width = 8e-9, touch = 4000.0;
    struct skin skin;
    struct walk walk;
    struct brv_stepper stepper;
    build_skin(&skin, 10.0);
    struct brv_march_ask ask = march_over(&skin, &width);
    ask.top_covered = touch;
    ask.inflow_covered = -touch * 25.0;
    const struct brv_timeline_ask when = {.n_pulse = 2,
                                          .pulse = start,
                                          .window = width,
                                          .end = width,
                                          .grain = 1e-7,
                                          .from = -0.5,
                                          .to = 0.8,
                                          .until = 0.8};
    walk_through(&walk, &skin.slab.chain, &when, ask);
    double *rise = calloc(skin.slab.chain.n, sizeof *rise);
    memcpy(rise, skin.slab.chain.rise, skin.slab.chain.n * sizeof *rise);
    forget(&walk);

    struct brv_timeline_ask longer = when;
    longer.until = 2.0;
    walk_through(&walk, &skin.slab.chain, &longer, ask);
    memcpy(skin.slab.chain.rise, rise, skin.slab.chain.n * sizeof *rise);
    assert_int_equal(brv_stepper_build(&stepper, skin.slab.chain.n, NULL), BRV_OK);
    const struct brv_source none = {0};
    assert_int_equal(brv_stepper_advance(&stepper, &skin.slab.chain, &none, 0.0, 1.2, 1e-9, NULL), BRV_OK);
    for (size_t g = 0; g < 3; g++) /* as above; of some ten kelvin */
        check_close(at_end(&walk, g), brv_gauge_read(&skin.gauge[g], skin.slab.chain.rise), 0.0, 2e-5);
    check_close(brv_ledger_missing(&walk.ledger), 0.0, 0.0, 1e-10);
    brv_stepper_free(&stepper);
    forget(&walk);
    free(rise);
    free_skin(&skin);
}

/* Pulses and cooling together are pulses and cooling apart, added. */
static void cooling_is_a_second_problem_added(void **state)
{
    (void)state;
    static const double start[] = {0.0, 0.3, 0.6}, width = 8e-9, touch = 4000.0;
    struct skin skin;
    struct walk both, pulses, cooling;
    build_skin(&skin, 10.0);
    struct brv_march_ask ask = march_over(&skin, &width);
    ask.top_covered = touch;
    const struct brv_timeline_ask when = {.n_pulse = 3,
                                          .pulse = start,
                                          .window = width,
                                          .end = width,
                                          .grain = 1e-7,
                                          .from = -0.5,
                                          .to = 1.1,
                                          .until = 4.0};
    walk_through(&pulses, &skin.slab.chain, &when, ask);
    ask.inflow_covered = -touch * 25.0;
    walk_through(&both, &skin.slab.chain, &when, ask);
    ask.source.deposit = NULL;
    walk_through(&cooling, &skin.slab.chain, &when, ask);
    /* 1e-11 of a hundred kelvin over seven spells, early parabolas included */
    for (size_t i = 0; i < 3 * both.timeline.n_row; i++)
        check_close(both.curve[i], pulses.curve[i] + cooling.curve[i], 0.0, 1e-8);
    assert_true(cooling.curve[cooling.timeline.before[0]] < -3.0); /* it does cool */
    forget(&both);
    forget(&pulses);
    forget(&cooling);
    free_skin(&skin);
}

/* Nothing laid on, no pulse: nothing moves, to the last bit. */
static void nothing_drifts_by_itself(void **state)
{
    (void)state;
    static const double start[] = {0.0, 0.3}, width = 8e-9;
    struct skin skin;
    struct walk walk;
    build_skin(&skin, 10.0);
    struct brv_march_ask ask = march_over(&skin, &width);
    ask.source.deposit = NULL;
    const struct brv_timeline_ask when = {.n_pulse = 2,
                                          .pulse = start,
                                          .window = width,
                                          .end = width,
                                          .grain = 1e-7,
                                          .from = -0.5,
                                          .to = 1.1,
                                          .until = 40.0};
    walk_through(&walk, &skin.slab.chain, &when, ask);
    for (size_t i = 0; i < 3 * walk.timeline.n_row; i++) assert_true(walk.curve[i] == 0.0);
    forget(&walk);
    free_skin(&skin);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(residual_heat_of_a_train),
        cmocka_unit_test(a_train_is_the_sum_of_its_pulses),
        cmocka_unit_test(early_rows_are_sums_too),
        cmocka_unit_test(a_train_is_what_steps_make_of_it),
        cmocka_unit_test(chains_of_a_train_are_added_before_they_are_read),
        cmocka_unit_test(a_train_keeps_its_energy),
        cmocka_unit_test(a_grain_keeps_nothing),
        cmocka_unit_test(a_cold_touch_in_a_half_space),
        cmocka_unit_test(what_is_taken_away_acts_no_longer),
        cmocka_unit_test(a_ledger_says_what_is_missing),
        cmocka_unit_test(cooling_is_a_second_problem_added),
        cmocka_unit_test(nothing_drifts_by_itself),
        cmocka_unit_test(a_train_at_once_is_a_train_from_spell_to_spell),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
