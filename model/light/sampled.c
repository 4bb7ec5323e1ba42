#include "light/sampled.h"

#include "base/array.h"
#include "light/walk.h"

#include <assert.h>
#include <math.h>
#include <stdatomic.h>
#include <stdlib.h>
#include <string.h>

#ifdef _OPENMP
#include <omp.h>
#endif

enum {
    LEAST_BATCH = 256,
    MOST_BATCH = 16384, /* small against a run, large against filling and emptying the lanes */
    SHORT_BATCH = 2048, /* so that an asked error is looked at every 131,072 photons */
    STRETCH = 256,      /* batches between two meetings of the threads */
    REFLECTED = 0,      /* places in the totals of a group; absorbed from ABSORBED on */
    TRANSMITTED = 1,
    ROULETTE = 2,
    ABSORBED = 3
};

static const double MOST_RING_RATIO = 1e9; /* last radius over first */
static const double USUAL_WATCHED = 4e-3;  /* [m] */
static const double WATCHED_ABOVE = 1e-2;  /* relative fluence */
static const double SAME_FACE = 1e-9;      /* relative: faces are sums of thicknesses, rounded on the way */

/* One thread's room; kept apart from the next one's, or the processors would wrangle over a line of memory. */
struct worker {
    struct brv_walk_tally tally;
    struct brv_lanes *block;
    char apart[128];
};

/* A run under way. */
struct run {
    const struct brv_sampled_ask *ask;
    struct brv_sampled *light;
    struct brv_walk walk;
    uint64_t batch, n_batch; /* photons in each but the last; batches in all */
    size_t map;              /* cells of one group's map, without the row below the last depth */
    double *total;           /* [groups][ABSORBED + n_medium] */
    size_t n_worker;
    struct worker *worker;
    atomic_bool finished; /* asked for between batches by threads that do not hold the order, so it is atomic */
};

/* What is allowed */

static brv_status check_numbers(const struct brv_sampled_ask *ask, struct brv_error *error)
{
    const char *place = "brv_sampled_solve";
    const size_t cells = (ask->n_depth + 1) * (ask->n_ring + 1);
    if (ask->photons < 1 || ask->photons > BRV_SAMPLED_MOST_PHOTONS)
        return brv_error_raise_number(error, BRV_RANGE, place, (double)ask->photons, (double)BRV_SAMPLED_MOST_PHOTONS);
    if (!(ask->error >= 0.0 && ask->error <= 1.0))
        return brv_error_raise_number(error, BRV_RANGE, place, ask->error, 1.0);
    if (ask->n_depth < 1 || ask->n_ring < 1 || ask->n_depth > BRV_SAMPLED_MOST_CELLS ||
        ask->n_ring > BRV_SAMPLED_MOST_CELLS || cells > BRV_SAMPLED_MOST_CELLS)
        return brv_error_raise_number(error, BRV_RANGE, place, (double)cells, BRV_SAMPLED_MOST_CELLS);
    if (ask->threads > BRV_SAMPLED_MOST_THREADS)
        return brv_error_raise_number(error, BRV_RANGE, place, ask->threads, BRV_SAMPLED_MOST_THREADS);
    return BRV_OK;
}

static bool ascending(const double *face, size_t n)
{
    if (face[0] != 0.0 || !isfinite(face[n])) return false;
    for (size_t i = 0; i < n; i++)
        if (!(face[i] < face[i + 1])) return false;
    return true;
}

static bool among(const double *face, size_t n, double depth)
{
    const size_t i = brv_array_interval(face, n, depth);
    return fabs(face[i] - depth) <= SAME_FACE * depth || fabs(face[i + 1] - depth) <= SAME_FACE * depth;
}

static brv_status check_faces(const struct brv_sampled_ask *ask, struct brv_error *error)
{
    const char *place = "brv_sampled_solve";
    if (!ascending(ask->depth, ask->n_depth)) return brv_error_raise(error, BRV_ORDER, place);
    if (!ascending(ask->ring, ask->n_ring)) return brv_error_raise(error, BRV_ORDER, place);
    const double ratio = ask->ring[ask->n_ring] / ask->ring[1];
    if (ratio > MOST_RING_RATIO) return brv_error_raise_number(error, BRV_RANGE, place, ratio, MOST_RING_RATIO);
    double top = 0.0;
    for (size_t i = 0; i + 1 < ask->n_medium; i++) {
        top += ask->medium[i].thickness;
        if (top < ask->depth[ask->n_depth] && !among(ask->depth, ask->n_depth, top))
            return brv_error_raise_number(error, BRV_ORDER, place, top, ask->depth[ask->n_depth]);
    }
    return BRV_OK;
}

static brv_status check(const struct brv_sampled_ask *ask, struct brv_error *error)
{
    assert(ask->n_medium >= 1 && ask->n_medium <= BRV_WALK_MOST_MEDIA);
    const struct brv_medium *last = &ask->medium[ask->n_medium - 1];
    const double extinction = last->absorption + last->scattering;
    const double albedo = extinction > 0.0 ? last->scattering / extinction : 0.0;
    if (isinf(last->thickness) && albedo > BRV_SAMPLED_MOST_ALBEDO)
        return brv_error_raise_number(error, BRV_RANGE, "brv_sampled_solve", albedo, BRV_SAMPLED_MOST_ALBEDO);
    const brv_status status = check_numbers(ask, error);
    return status ? status : check_faces(ask, error);
}

/* Memory */

static size_t thread_count(const struct brv_sampled_ask *ask)
{
#ifdef _OPENMP
    const size_t offered = ask->threads ? ask->threads : (size_t)omp_get_max_threads();
    return offered < BRV_SAMPLED_MOST_THREADS ? offered : BRV_SAMPLED_MOST_THREADS;
#else
    (void)ask;
    return 1;
#endif
}

static double *copy(const double *from, size_t n)
{
    double *to = brv_array_new(n);
    if (to) memcpy(to, from, n * sizeof *to);
    return to;
}

static bool hire(struct run *run)
{
    const size_t cells = (run->ask->n_depth + 1) * (run->ask->n_ring + 1);
    run->worker = calloc(run->n_worker, sizeof *run->worker);
    if (!run->worker) return false;
    for (size_t i = 0; i < run->n_worker; i++) {
        struct worker *worker = &run->worker[i];
        worker->tally.map = brv_array_new(cells);
        worker->block = calloc(BRV_WALK_BLOCKS, sizeof *worker->block);
        if (!worker->tally.map || !worker->block) return false;
    }
    return true;
}

static brv_status allocate(struct run *run, struct brv_error *error)
{
    const struct brv_sampled_ask *ask = run->ask;
    struct brv_sampled *light = run->light;
    *light = (struct brv_sampled){.n_depth = ask->n_depth, .n_ring = ask->n_ring, .n_medium = ask->n_medium};
    light->depth = copy(ask->depth, ask->n_depth + 1);
    light->ring = copy(ask->ring, ask->n_ring + 1);
    light->share = brv_array_new(BRV_SAMPLED_GROUPS);
    light->response = brv_array_new(BRV_SAMPLED_GROUPS * run->map);
    light->absorbed = calloc(ask->n_medium, sizeof *light->absorbed);
    run->total = brv_array_new(BRV_SAMPLED_GROUPS * (ABSORBED + ask->n_medium));
    if (light->depth && light->ring && light->share && light->response && light->absorbed && run->total && hire(run))
        return BRV_OK;
    return brv_error_raise(error, BRV_MEMORY, "brv_sampled_solve");
}

static void empty(struct run *run)
{
    for (size_t i = 0; run->worker && i < run->n_worker; i++) {
        free(run->worker[i].tally.map);
        free(run->worker[i].block);
    }
    free(run->worker);
    free(run->total);
    brv_walk_free(&run->walk);
}

/* Walking and adding up */

static void add_map(struct run *run, const double *map, size_t group)
{
    const size_t columns = run->ask->n_ring + 1;
    double *response = run->light->response + group * run->map;
    for (size_t row = 0; row < run->ask->n_depth; row++) {
        const double per_depth = 1.0 / (run->ask->depth[row + 1] - run->ask->depth[row]);
        for (size_t i = row * columns; i < (row + 1) * columns; i++) response[i] += per_depth * map[i];
    }
}

static void add(struct run *run, const struct brv_walk_tally *tally, uint64_t batch, uint64_t count)
{
    const size_t group = batch % BRV_SAMPLED_GROUPS, n_medium = run->ask->n_medium;
    double *total = run->total + group * (ABSORBED + n_medium);
    add_map(run, tally->map, group);
    total[REFLECTED] += tally->reflected;
    total[TRANSMITTED] += tally->transmitted;
    total[ROULETTE] += tally->roulette;
    for (size_t i = 0; i < n_medium; i++) total[ABSORBED + i] += tally->absorbed[i];
    run->light->share[group] += (double)count;
    if (run->light->n_group <= group) run->light->n_group = group + 1;
    run->light->photons += count;
    run->light->events += tally->events;
}

/* Largest relative standard error of the watched beam's axis fluence; looked at when all groups have filled evenly. */
static double worst_error(const struct run *run, uint64_t batch)
{
    const struct brv_sampled_ask *ask = run->ask;
    if (ask->error == 0.0 || (batch + 1) % BRV_SAMPLED_GROUPS != 0) return INFINITY;
    double worst = 0.0;
    for (size_t cell = 0; cell < ask->n_depth; cell++) {
        const double diameter = ask->watched > 0.0 ? ask->watched : USUAL_WATCHED;
        const struct brv_mean axis = brv_sampled_axis(run->light, diameter, false, cell);
        if (axis.value > WATCHED_ABOVE) worst = fmax(worst, axis.error / axis.value);
    }
    return worst > 0.0 ? worst : HUGE_VAL;
}

static uint64_t batch_size(const struct run *run, uint64_t batch)
{
    const uint64_t first = batch * run->batch, left = run->ask->photons - first;
    return left < run->batch ? left : run->batch;
}

static bool walk(const struct run *run, struct worker *worker, uint64_t batch)
{
    const size_t cells = (run->ask->n_depth + 1) * (run->ask->n_ring + 1);
    double *map = worker->tally.map;
    memset(map, 0, cells * sizeof *map);
    worker->tally = (struct brv_walk_tally){.map = map};
    return brv_walk_batch(&run->walk, &worker->tally, worker->block, batch * run->batch, batch_size(run, batch));
}

/* One thread at a time, batch after batch. A batch that was broken off, and all after it, do not count. */
static void close_batch(struct run *run, const struct worker *worker, uint64_t batch, bool whole)
{
    if (run->finished) return;
    if (!whole) {
        run->light->stopped = true;
        run->finished = true;
        return;
    }
    add(run, &worker->tally, batch, batch_size(run, batch));
    const double worst = worst_error(run, batch);
    if (run->ask->progress) run->ask->progress(run->ask->context, run->light->photons, run->ask->photons, worst);
    if (worst < run->ask->error || batch + 1 == run->n_batch) run->finished = true;
}

static size_t who(void)
{
#ifdef _OPENMP
    return (size_t)omp_get_thread_num();
#else
    return 0;
#endif
}

static void walk_stretch(struct run *run, uint64_t from, uint64_t to)
{
    const int count = (int)run->n_worker;
    (void)count; /* used by the pragma only, when there is OpenMP */
#pragma omp parallel for ordered schedule(dynamic, 1) num_threads(count)
    for (uint64_t batch = from; batch < to; batch++) {
        struct worker *worker = &run->worker[who()];
        const bool whole = !run->finished && walk(run, worker, batch);
#pragma omp ordered
        close_batch(run, worker, batch, whole);
    }
}

static void walk_all(struct run *run)
{
    for (uint64_t from = 0; from < run->n_batch && !run->finished; from += STRETCH) {
        const uint64_t left = run->n_batch - from;
        walk_stretch(run, from, from + (left < STRETCH ? left : STRETCH));
    }
}

/* Means and their errors */

static struct brv_mean mean_total(const struct run *run, size_t place)
{
    double sum[BRV_SAMPLED_GROUPS];
    const size_t stride = ABSORBED + run->ask->n_medium;
    for (size_t group = 0; group < BRV_SAMPLED_GROUPS; group++) sum[group] = run->total[group * stride + place];
    return brv_sampled_mean(run->light, sum);
}

static void keep(struct run *run)
{
    struct brv_sampled *light = run->light;
    light->reflected_specular = (struct brv_mean){run->walk.mirrored, 0.0};
    light->reflected_diffuse = mean_total(run, REFLECTED);
    light->transmitted = mean_total(run, TRANSMITTED);
    light->roulette = mean_total(run, ROULETTE);
    for (size_t i = 0; i < light->n_medium; i++) light->absorbed[i] = mean_total(run, ABSORBED + i);
}

/* When an error is asked for it is looked at after every round of the groups, so rounds are then kept short. */
static uint64_t choose_batch(const struct brv_sampled_ask *ask)
{
    const uint64_t even = (ask->photons + BRV_SAMPLED_GROUPS - 1) / BRV_SAMPLED_GROUPS;
    const uint64_t most = ask->error > 0.0 ? SHORT_BATCH : MOST_BATCH;
    return even < LEAST_BATCH ? LEAST_BATCH : even > most ? most : even;
}

brv_status brv_sampled_solve(struct brv_sampled *light, const struct brv_sampled_ask *ask, struct brv_error *error)
{
    *light = (struct brv_sampled){.n_depth = 0};
    brv_status status = check(ask, error);
    if (status) return status;

    struct run run = {
        .ask = ask, .light = light, .n_worker = thread_count(ask), .map = ask->n_depth * (ask->n_ring + 1)};
    run.batch = choose_batch(ask);
    run.n_batch = (ask->photons + run.batch - 1) / run.batch;
    status = allocate(&run, error);
    if (!status) status = brv_walk_build(&run.walk, ask, error);
    if (!status) {
        walk_all(&run);
        keep(&run);
    }
    empty(&run);
    if (status) brv_sampled_free(light);
    return status;
}

void brv_sampled_free(struct brv_sampled *light)
{
    free(light->depth);
    free(light->ring);
    free(light->share);
    free(light->response);
    free(light->absorbed);
    *light = (struct brv_sampled){.n_depth = 0};
}
