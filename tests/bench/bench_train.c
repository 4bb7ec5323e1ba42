/* How long trains take: fifty pulses at 5 Hz in a slab of 400 cells; ten in a disc of 120 x 160 cells. One thread. */
#define _DEFAULT_SOURCE
#include "heat/disc.h"
#include "heat/march.h"
#include "heat/slab.h"
#include "report/seconds.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

enum { MOST_PULSES = 50, MOST_CELLS = 2000, N_ACROSS = 120 };

static const double width = 8e-9, spot = 4e-3;

static double even_share(const void *end, double time)
{
    return fmin(fmax(time / *(const double *)end, 0.0), 1.0);
}

static void must(brv_status status)
{
    if (status) {
        fprintf(stderr, "bench_train: %s\n", brv_status_text(status));
        exit(EXIT_FAILURE);
    }
}

static void lay_timeline(struct brv_timeline *timeline, size_t n, double rate, double rest)
{
    double start[MOST_PULSES];
    for (size_t k = 0; k < n; k++) start[k] = (double)k / rate;
    const struct brv_timeline_ask when = {
        .n_pulse = n, .pulse = start, .window = width, .end = width, .grain = 1e-7, .until = start[n - 1] + rest};
    must(brv_timeline_build(timeline, &when, NULL));
}

/* The finest cell that makes about `wanted` of them. */
static void build_slab(struct brv_slab *slab, size_t wanted, double finest)
{
    const struct brv_slab_layer layer[] = {{60e-6, 0.23, 4.1e6, 0.0}, {0.03, 0.37, 3.7e6, 3.8e3}};
    double growth = 0.5;
    for (int i = 0; i < 200; i++, growth *= 0.98) {
        const struct brv_slab_grid grid = {finest, growth, INFINITY, 0.0};
        must(brv_slab_build(slab, layer, 2, &grid, 10.0, 0.0, NULL));
        if (slab->chain.n >= wanted) return;
        brv_slab_free(slab);
    }
}

static void lay_deposit(double deposit[], const struct brv_slab *slab)
{
    for (size_t i = 0; i < slab->chain.n; i++)
        deposit[i] = 6e3 * (exp(-slab->face[i] / 3e-4) - exp(-slab->face[i + 1] / 3e-4));
}

static struct brv_march_ask march_of(const struct brv_timeline *timeline, const double deposit[],
                                     const struct brv_slab *slab, const struct brv_gauge gauge[], size_t n)
{
    return (struct brv_march_ask){.timeline = timeline,
                                  .top_bare = slab->chain.link[0],
                                  .top_covered = slab->chain.link[0],
                                  .source = {deposit, even_share, &width, width, width / 16.0},
                                  .centre = 0.5 * width,
                                  .step_tolerance = 1e-6,
                                  .tolerance = 1e-12,
                                  .n_gauge = n,
                                  .gauge = gauge};
}

static void bench_slab(void)
{
    static double deposit[MOST_CELLS];
    struct brv_slab slab;
    struct brv_timeline timeline;
    struct brv_ledger ledger;
    struct brv_reading reading[3];
    struct brv_gauge gauge[3];
    build_slab(&slab, 400, 0.1e-6);
    lay_deposit(deposit, &slab);
    for (size_t i = 0; i < 3; i++) {
        reading[i] = brv_slab_reading(&slab, 1e-4 * (double)i);
        gauge[i] = brv_gauge_of(&reading[i]);
    }
    lay_timeline(&timeline, 50, 5.0, 10.0);
    double *curve = calloc(3 * timeline.n_row, sizeof *curve), best = INFINITY;
    const struct brv_march_ask ask = march_of(&timeline, deposit, &slab, gauge, 3);
    for (int i = 0; i < 7; i++) {
        const double start = brv_seconds(CLOCK_MONOTONIC);
        must(brv_march_run(&ledger, curve, NULL, &slab.chain, &ask, NULL));
        best = fmin(best, brv_seconds(CLOCK_MONOTONIC) - start);
    }
    printf("train: 50 pulses at 5 Hz, slab of %zu cells, %zu rows: %.1f ms, energy missing %.1e (wanted 100 ms, goal "
           "20)\n",
           slab.chain.n, timeline.n_row, 1e3 * best, brv_ledger_missing(&ledger));
    free(curve);
    brv_timeline_free(&timeline);
    brv_slab_free(&slab);
}

/* ---- the disc ---- */

static void lay_across(struct brv_radial *radial)
{
    double face[2 * N_ACROSS];
    double fineness = 4.0;
    size_t n = 0;
    for (; fineness > 0.5; fineness *= 0.98) {
        const struct brv_disc_grid grid = brv_disc_grid_for(spot, 12e-3, fineness);
        if (brv_disc_count(&grid) > N_ACROSS) continue;
        n = brv_disc_faces(&grid, face);
        break;
    }
    must(brv_radial_build(radial, n, face, 1, 0.0, NULL));
}

static double axis_now(const struct brv_slab *slab, const struct brv_radial *radial,
                       const struct brv_timeline *timeline, struct brv_chain *chain, double curve[])
{
    static double all[MOST_CELLS], deposit[MOST_CELLS];
    const struct brv_reading surface = brv_slab_reading(slab, 0.0);
    const struct brv_gauge gauge = brv_gauge_of(&surface);
    struct brv_ledger ledger;
    double inside[N_ACROSS], axis = 0.0;
    lay_deposit(all, slab);
    for (size_t j = 0; j < radial->n; j++) inside[j] = radial->face[j] < 0.4999 * spot;
    for (size_t mode = 0; mode < radial->n; mode++) {
        const double share = brv_radial_amplitude(radial, mode, inside, 1);
        for (size_t i = 0; i < slab->chain.n; i++) deposit[i] = share * all[i];
        brv_disc_mode(chain, slab, radial, mode);
        struct brv_march_ask ask = march_of(timeline, deposit, slab, &gauge, 1);
        ask.sudden = true;
        ask.tolerance = 1e-7;
        must(brv_march_run(&ledger, curve, NULL, chain, &ask, NULL));
        axis += radial->axis[mode] * curve[timeline->n_row - 1];
    }
    return axis;
}

static void bench_disc(void)
{
    struct brv_slab slab;
    struct brv_radial radial;
    struct brv_timeline timeline;
    struct brv_chain chain;
    build_slab(&slab, 160, 1e-6);
    lay_across(&radial);
    lay_timeline(&timeline, 10, 3.0, 10.0);
    must(brv_chain_build(&chain, slab.chain.n, NULL));
    double *curve = calloc(timeline.n_row, sizeof *curve), best = INFINITY, axis = 0.0;
    for (int i = 0; i < 3; i++) {
        const double start = brv_seconds(CLOCK_MONOTONIC);
        brv_radial_free(&radial);
        lay_across(&radial); /* the modes are part of the price */
        axis = axis_now(&slab, &radial, &timeline, &chain, curve);
        best = fmin(best, brv_seconds(CLOCK_MONOTONIC) - start);
    }
    printf("train: 10 pulses at 3 Hz, disc of %zu x %zu cells, %zu rows: %.0f ms, surface at the end %.4f K "
           "(wanted 3000 ms, goal 300)\n",
           radial.n, slab.chain.n, timeline.n_row, 1e3 * best, axis);
    free(curve);
    brv_chain_free(&chain);
    brv_timeline_free(&timeline);
    brv_radial_free(&radial);
    brv_slab_free(&slab);
}

int main(void)
{
    bench_slab();
    bench_disc();
    return 0;
}
