#include "heat/disc_run.h"

#include "base/array.h"
#include "base/team.h"
#include "heat/stepper.h"

#include <math.h>
#include <stdbool.h>
#include <stdlib.h>

#define PLACE "brv_disc_run"

/* What one mode hands over to the sums. */
struct share {
    double carried, lost;
    size_t n_step;
};

struct run {
    const struct brv_disc_ask *ask;
    struct brv_disc_field *field;
    struct brv_reading *reading; /* [n_depth] */
    double *floor;               /* [n_time] mean rise over the disc: need not be resolved finer [K] */
    double *seen;                /* [n modes][n_depth][n_time] amplitude at the depths read */
    struct share *share;         /* [n modes] */
};

struct mode {
    size_t number;
    struct brv_chain chain;
    struct brv_stepper stepper;
    double *deposit; /* [n depth cells] */
    double height;   /* highest value of its shape [1/m^((p+1)/2)] */
};

/* ---- one mode ---- */

static bool is_dark(const double value[], size_t n)
{
    for (size_t i = 0; i < n; i++)
        if (value[i] != 0.0) return false;
    return true;
}

static double largest(const double value[], size_t n)
{
    double most = 0.0;
    for (size_t i = 0; i < n; i++) most = fmax(most, fabs(value[i]));
    return most;
}

static brv_status build_mode(struct mode *mode, const struct brv_disc_ask *ask, struct brv_error *error)
{
    const size_t n = ask->slab->chain.n;
    brv_status status = brv_chain_build(&mode->chain, n, error);
    if (!status) status = brv_stepper_build(&mode->stepper, n, error);
    mode->deposit = brv_array_new(n);
    if (!status && !mode->deposit) status = brv_error_raise(error, BRV_MEMORY, PLACE);
    if (status) return status;

    brv_disc_mode(&mode->chain, ask->slab, ask->radial, mode->number);
    if (ask->start) brv_disc_amplitude(mode->chain.rise, ask->radial, mode->number, ask->start, n);
    if (ask->source.deposit) brv_disc_amplitude(mode->deposit, ask->radial, mode->number, ask->source.deposit, n);
    const double *shape = ask->radial->shape + mode->number * ask->radial->n;
    mode->height = fmax(largest(shape, ask->radial->n), ask->radial->axis[mode->number]);
    return BRV_OK;
}

static void free_mode(struct mode *mode)
{
    brv_chain_free(&mode->chain);
    brv_stepper_free(&mode->stepper);
    free(mode->deposit);
}

static brv_status move(struct mode *mode, const struct run *run, size_t time, struct brv_error *error)
{
    const struct brv_disc_ask *ask = run->ask;
    struct brv_source source = ask->source;
    const double from = time ? ask->time[time - 1] : 0.0, to = ask->time[time];
    if (source.deposit) source.deposit = mode->deposit;
    if (ask->even_steps && to > from) {
        brv_stepper_march(&mode->stepper, &mode->chain, &source, from, to, ask->even_steps);
        return BRV_OK;
    }
    mode->stepper.least_rise = run->floor[time] / mode->height;
    return brv_stepper_advance(&mode->stepper, &mode->chain, &source, from, to, ask->tolerance, error);
}

static void note(const struct mode *mode, struct run *run, size_t time)
{
    const size_t n_time = run->ask->n_time, n_depth = run->ask->n_depth;
    double *seen = run->seen + mode->number * n_depth * n_time;
    for (size_t i = 0; i < n_depth; i++) seen[i * n_time + time] = brv_chain_read(&mode->chain, run->reading + i);
    if (mode->number == 0) run->floor[time] = mode->height * largest(mode->chain.rise, mode->chain.n);
}

static brv_status move_mode(struct mode *mode, struct run *run, struct brv_error *error)
{
    const size_t n = mode->chain.n;
    if (is_dark(mode->chain.rise, n) && is_dark(mode->deposit, n)) return BRV_OK;
    for (size_t time = 0; time < run->ask->n_time; time++) {
        const brv_status status = move(mode, run, time, error);
        if (status) return status;
        note(mode, run, time);
    }
    for (size_t i = 0; i < n; i++) run->field->amplitude[mode->number * n + i] = mode->chain.rise[i];
    run->share[mode->number] = (struct share){mode->stepper.carried, mode->stepper.lost, mode->stepper.n_step};
    return BRV_OK;
}

static brv_status run_mode(struct run *run, size_t number, struct brv_error *error)
{
    struct mode mode = {.number = number};
    brv_status status = build_mode(&mode, run->ask, error);
    if (!status) status = move_mode(&mode, run, error);
    free_mode(&mode);
    return status;
}

static brv_status run_later_mode(void *run, size_t item, struct brv_error *error)
{
    return run_mode(run, item + 1, error);
}

/* ---- all of them ---- */

static void sum_axis(struct brv_disc_course *course, const struct run *run)
{
    const struct brv_radial *radial = run->ask->radial;
    const size_t count = course->n_depth * course->n_time;
    for (size_t mode = 0; mode < radial->n; mode++)
        for (size_t i = 0; i < count; i++) course->axis[i] += radial->axis[mode] * run->seen[mode * count + i];
}

/* Heat given to the disc until the last time. */
static double heat_in(const struct brv_disc_ask *ask)
{
    const size_t n = ask->slab->chain.n;
    const double arrived = ask->n_time ? brv_source_share(&ask->source, 0.0, ask->time[ask->n_time - 1]) : 0.0;
    double sum = 0.0;
    for (size_t cell = 0; cell < ask->radial->n; cell++) {
        double column = 0.0;
        for (size_t i = 0; i < n; i++) {
            if (ask->source.deposit) column += arrived * ask->source.deposit[cell * n + i];
            if (ask->start) column += ask->slab->chain.capacity[i] * ask->start[cell * n + i];
        }
        sum += ask->radial->area[cell] * column;
    }
    return sum;
}

static void audit(struct brv_disc_course *course, const struct run *run)
{
    const struct brv_radial *radial = run->ask->radial;
    struct brv_disc_audit *sums = &course->audit;
    *sums = (struct brv_disc_audit){.in = heat_in(run->ask)};
    sums->stored = brv_disc_stored(&course->field, radial, run->ask->slab);
    for (size_t mode = 0; mode < radial->n; mode++) {
        sums->carried += radial->total[mode] * run->share[mode].carried;
        sums->lost += radial->total[mode] * run->share[mode].lost;
        course->n_step += run->share[mode].n_step;
    }
    sums->missing = (sums->in - sums->stored - sums->carried - sums->lost) / (sums->in > 0.0 ? sums->in : 1.0);
}

static brv_status make_room(struct brv_disc_course *course, struct run *run, struct brv_error *error)
{
    const struct brv_disc_ask *ask = run->ask;
    const size_t n = ask->radial->n, count = ask->n_depth * ask->n_time;
    *course = (struct brv_disc_course){.n_time = ask->n_time, .n_depth = ask->n_depth, .axis = brv_array_new(count)};
    run->reading = calloc(ask->n_depth + 1, sizeof *run->reading);
    run->floor = brv_array_new(ask->n_time);
    run->seen = brv_array_new(n * count);
    run->share = calloc(n, sizeof *run->share);
    if (course->axis && run->reading && run->floor && run->seen && run->share)
        return brv_disc_field_build(&course->field, n, ask->slab->chain.n, error);
    return brv_error_raise(error, BRV_MEMORY, PLACE);
}

static void free_run(struct run *run)
{
    free(run->reading);
    free(run->floor);
    free(run->seen);
    free(run->share);
}

/* The first mode goes ahead: the others ask it how warm the disc is. */
static brv_status run_modes(struct run *run, struct brv_error *error)
{
    for (size_t i = 0; i < run->ask->n_depth; i++)
        run->reading[i] = brv_slab_reading(run->ask->slab, run->ask->depth[i]);
    const brv_status status = run_mode(run, 0, error);
    if (status) return status;
    return brv_team_run(run->ask->radial->n - 1, run->ask->threads, run_later_mode, run, error);
}

brv_status brv_disc_run(struct brv_disc_course *course, const struct brv_disc_ask *ask, struct brv_error *error)
{
    struct run run = {.ask = ask, .field = &course->field};
    brv_status status = make_room(course, &run, error);
    if (!status) status = run_modes(&run, error);
    if (!status) {
        sum_axis(course, &run);
        audit(course, &run);
    }
    free_run(&run);
    if (status) brv_disc_course_free(course);
    return status;
}

void brv_disc_course_free(struct brv_disc_course *course)
{
    free(course->axis);
    brv_disc_field_free(&course->field);
    *course = (struct brv_disc_course){.n_time = 0};
}
