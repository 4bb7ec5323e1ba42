#include "heat/stepper.h"

#include "base/array.h"
#include "base/ladder.h"

#include <math.h>
#include <stdbool.h>
#include <stdlib.h>

/* Constants of the scheme, all from g = 2 - sqrt 2. */
#define G       BRV_STEP_FIRST_PART
#define THETA   (0.5 * G) /* share of the step inside the solve */
#define C1      (1.0 / (G * (2.0 - G)))
#define C0      (C1 - 1.0)
#define WEIGHT  (0.5 / (2.0 - G))                                     /* of F_0 and F_g in the whole step */
#define K_ERROR ((-3.0 * G * G + 4.0 * G - 2.0) / (12.0 * (2.0 - G))) /* leading error coefficient */

/* Step control: aim a little below the tolerance, never change the step by more than these factors. */
#define SAFETY      0.9
#define MOST_GROW   3.0
#define MOST_SHRINK 0.2
#define MOST_STEPS  2000000

brv_status brv_stepper_build(struct brv_stepper *stepper, size_t n, struct brv_error *error)
{
    *stepper = (struct brv_stepper){.n = n,
                                    .own = brv_array_new(n),
                                    .pivot = brv_array_new(n),
                                    .pass = brv_array_new(n),
                                    .middle = brv_array_new(n),
                                    .next = brv_array_new(n),
                                    .error = brv_array_new(n),
                                    .first = brv_array_new(n),
                                    .all = brv_array_new(n),
                                    .flow = brv_array_new(3 * n),
                                    .link = brv_array_new(n + 1)};
    if (stepper->own && stepper->pivot && stepper->pass && stepper->middle && stepper->next && stepper->error &&
        stepper->first && stepper->all && stepper->flow && stepper->link)
        return BRV_OK;
    brv_stepper_free(stepper);
    return brv_error_raise(error, BRV_MEMORY, "stepper");
}

void brv_stepper_free(struct brv_stepper *stepper)
{
    double *const array[] = {stepper->own,   stepper->pivot, stepper->pass, stepper->middle, stepper->next,
                             stepper->error, stepper->first, stepper->all,  stepper->flow,   stepper->link};
    for (size_t i = 0; i < sizeof array / sizeof *array; i++) free(array[i]);
    *stepper = (struct brv_stepper){.n = 0};
}

/* ---- one step ---- */

static void factor(struct brv_stepper *stepper, const struct brv_chain *chain, double step)
{
    if (step == stepper->factored_step) return;
    const size_t n = chain->n;
    const double inside = THETA * step;
    for (size_t i = 0; i <= n; i++) stepper->link[i] = inside * chain->link[i];
    for (size_t i = 0; i < n; i++) stepper->own[i] = chain->capacity[i] + inside * chain->sink[i];
    stepper->own[0] += stepper->link[0];
    stepper->own[n - 1] += stepper->link[n];
    brv_ladder_factor(n, stepper->own, stepper->link, stepper->pivot, stepper->pass);
    stepper->factored_step = step;
}

static void solve(const struct brv_stepper *stepper, double right[])
{
    brv_ladder_solve(stepper->n, stepper->pivot, stepper->pass, right);
}

/* Heat flowing into each cell [W]. */
static void flow_into(double flow[], const struct brv_chain *chain, const double rise[], double top, double bottom)
{
    const size_t n = chain->n;
    double above = chain->link[0] * (top - rise[0]);
    for (size_t i = 0; i < n; i++) {
        const double deeper = i + 1 < n ? rise[i + 1] : bottom;
        const double below = chain->link[i + 1] * (deeper - rise[i]);
        flow[i] = above + below - chain->sink[i] * rise[i];
        above = -below;
    }
}

static void first_part(struct brv_stepper *stepper, const struct brv_chain *chain,
                       const struct brv_outside_rise *outside)
{
    const size_t n = chain->n;
    double *mean = stepper->middle; /* (y_0 + y_g) / 2 solves the trapezoidal part without forming F_0 */
    for (size_t i = 0; i < n; i++) mean[i] = chain->capacity[i] * chain->rise[i] + 0.5 * stepper->first[i];
    mean[0] += stepper->link[0] * 0.5 * (outside->top[0] + outside->top[1]);
    mean[n - 1] += stepper->link[n] * 0.5 * (outside->bottom[0] + outside->bottom[1]);
    solve(stepper, mean);
    for (size_t i = 0; i < n; i++) mean[i] = 2.0 * mean[i] - chain->rise[i];
}

static void second_part(struct brv_stepper *stepper, const struct brv_chain *chain,
                        const struct brv_outside_rise *outside)
{
    const size_t n = chain->n;
    double *next = stepper->next;
    for (size_t i = 0; i < n; i++)
        next[i] = chain->capacity[i] * (C1 * stepper->middle[i] - C0 * chain->rise[i]) +
                  (stepper->all[i] - C1 * stepper->first[i]);
    next[0] += stepper->link[0] * outside->top[2];
    next[n - 1] += stepper->link[n] * outside->bottom[2];
    solve(stepper, next);
}

/* Third-order estimate from the three flows, passed once more through the solve so that stiff cells, whose error
 * is damped anyway, do not dictate the step.                                                                   */
static void estimate(struct brv_stepper *stepper, const struct brv_chain *chain, double step,
                     const struct brv_outside_rise *outside)
{
    const size_t n = chain->n;
    double *flow0 = stepper->flow, *flow1 = flow0 + n, *flow2 = flow1 + n;
    flow_into(flow0, chain, chain->rise, outside->top[0], outside->bottom[0]);
    flow_into(flow1, chain, stepper->middle, outside->top[1], outside->bottom[1]);
    flow_into(flow2, chain, stepper->next, outside->top[2], outside->bottom[2]);

    const double scale = 2.0 * K_ERROR * step;
    for (size_t i = 0; i < n; i++)
        stepper->error[i] = scale * (flow0[i] / G - flow1[i] / (G * (1.0 - G)) + flow2[i] / (1.0 - G));
    solve(stepper, stepper->error);
}

void brv_stepper_try(struct brv_stepper *stepper, const struct brv_chain *chain, double step,
                     const struct brv_outside_rise *outside)
{
    stepper->outside = *outside;
    factor(stepper, chain, step);
    first_part(stepper, chain, outside);
    second_part(stepper, chain, outside);
    estimate(stepper, chain, step, outside);
}

/* What the scheme takes as the mean of a quantity over the step. */
static double step_mean(double start, double middle, double end)
{
    return WEIGHT * (start + middle) + THETA * end;
}

/* Heat out through one end: its conductance times the mean excess of the end cell over what lies outside. */
static double lost_through(const struct brv_stepper *stepper, const struct brv_chain *chain, size_t cell, size_t face,
                           const double outside[3])
{
    return chain->link[face] * step_mean(chain->rise[cell] - outside[0], stepper->middle[cell] - outside[1],
                                         stepper->next[cell] - outside[2]);
}

void brv_stepper_accept(struct brv_stepper *stepper, struct brv_chain *chain)
{
    const size_t n = chain->n;
    const double step = stepper->factored_step;
    stepper->lost += step * (lost_through(stepper, chain, 0, 0, stepper->outside.top) +
                             lost_through(stepper, chain, n - 1, n, stepper->outside.bottom));

    double carried = 0.0;
    for (size_t i = 0; i < n; i++) {
        carried += chain->sink[i] * step_mean(chain->rise[i], stepper->middle[i], stepper->next[i]);
        chain->rise[i] = stepper->next[i];
        if (chain->rise[i] > chain->peak[i]) chain->peak[i] = chain->rise[i];
    }
    stepper->carried += step * carried;
    stepper->n_step++;
}

/* ---- many steps ---- */

static double largest(const double value[], size_t n)
{
    double most = 0.0;
    for (size_t i = 0; i < n; i++) {
        const double size = value[i] < 0.0 ? -value[i] : value[i];
        if (size > most) most = size;
    }
    return most;
}

static void load_energy(struct brv_stepper *stepper, const struct brv_source *source, double from, double to)
{
    const double all = brv_source_share(source, from, to);
    const double first = brv_source_share(source, from, from + G * (to - from));
    for (size_t i = 0; i < stepper->n; i++) {
        stepper->first[i] = all > 0.0 ? first * source->deposit[i] : 0.0;
        stepper->all[i] = all > 0.0 ? all * source->deposit[i] : 0.0;
    }
}

/* Factor by which the next step may grow, or this one must shrink (< 1), for a local error of third order. */
static double step_factor(const struct brv_stepper *stepper, double tolerance)
{
    const double error = largest(stepper->error, stepper->n);
    const double allowed = tolerance * fmax(largest(stepper->next, stepper->n), stepper->least_rise);
    if (error <= 0.0) return MOST_GROW;
    return fmin(MOST_GROW, fmax(MOST_SHRINK, SAFETY * cbrt(allowed / error)));
}

/* The suggested step, cut to what is left and to what follows the source's shape. */
static double next_step(const struct brv_stepper *stepper, const struct brv_source *source, double now, double left)
{
    double step = stepper->suggested_step > 0.0 ? stepper->suggested_step : left;
    if (source->deposit && now < source->end) step = fmin(step, source->longest_step);
    return step >= left ? left : step > 0.5 * left ? 0.5 * left : step;
}

brv_status brv_stepper_advance(struct brv_stepper *stepper, struct brv_chain *chain, const struct brv_source *source,
                               double from, double to, double tolerance, struct brv_error *error)
{
    static const struct brv_outside_rise cold = {{0.0}, {0.0}};
    double now = from;
    for (size_t tries = 0; now < to; tries++) {
        if (tries > MOST_STEPS) return brv_error_raise_number(error, BRV_NUMERICS, "heat steps", now, to);

        const double step = next_step(stepper, source, now, to - now);
        const double end = step >= to - now ? to : now + step;
        load_energy(stepper, source, now, end);
        brv_stepper_try(stepper, chain, step, &cold);

        const double change = step_factor(stepper, tolerance);
        if (change < SAFETY) { /* the error was above the tolerance: try again with less */
            stepper->suggested_step = step * change;
            continue;
        }
        /* a step that was cut short says nothing against longer ones */
        const bool cut = step < stepper->suggested_step;
        stepper->suggested_step = cut ? fmax(stepper->suggested_step, step * change) : step * change;
        brv_stepper_accept(stepper, chain);
        now = end;
    }
    return BRV_OK;
}

void brv_stepper_march(struct brv_stepper *stepper, struct brv_chain *chain, const struct brv_source *source,
                       double from, double to, size_t steps)
{
    static const struct brv_outside_rise cold = {{0.0}, {0.0}};
    const double step = (to - from) / (double)steps;
    double now = from;
    for (size_t i = 1; i <= steps; i++) {
        const double end = i < steps ? from + step * (double)i : to;
        load_energy(stepper, source, now, end);
        brv_stepper_try(stepper, chain, step, &cold);
        brv_stepper_accept(stepper, chain);
        now = end;
    }
}
