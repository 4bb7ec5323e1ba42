/* Time of the photon walk: a three-layer skin at 532 nm. Nanoseconds per interaction, figure of merit, threads. */
#define _DEFAULT_SOURCE
#include "light/lanes.h"
#include "light/sampled.h"
#include "report/seconds.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

enum { RINGS = 120, DEPTHS = 60, PHOTONS = 400000 };

struct timed {
    double wall, processor, error;
    unsigned long long events;
};

/* Depths: 10 cells in each of the upper layers, then 50 um down to 2 mm. */
static void fill_depths(double *depth)
{
    for (size_t i = 0; i <= 10; i++) depth[i] = 5e-6 * (double)i;
    for (size_t i = 1; i <= 10; i++) depth[10 + i] = 50e-6 + 1e-6 * (double)i;
    for (size_t i = 1; i <= DEPTHS - 20; i++) depth[20 + i] = 60e-6 + 50e-6 * (double)i;
}

static struct timed run(unsigned threads, unsigned variant)
{
    const struct brv_medium skin[] = {
        {50e-6, 1.05e3, 2.8e4, 0.85, 1.40}, {10e-6, 7.5e3, 2.8e4, 0.85, 1.40}, {INFINITY, 1.9e2, 2.8e4, 0.85, 1.40}};
    double depth[DEPTHS + 1], ring[RINGS + 1];
    fill_depths(depth);
    brv_sampled_rings(ring, RINGS);
    const struct brv_sampled_ask ask = {.n_medium = 3,
                                        .medium = skin,
                                        .outside_index = 1.0,
                                        .below_index = 1.0,
                                        .n_depth = DEPTHS,
                                        .depth = depth,
                                        .n_ring = RINGS,
                                        .ring = ring,
                                        .seed = 1,
                                        .photons = PHOTONS,
                                        .threads = threads,
                                        .variant = variant};
    struct brv_sampled light;
    struct timed timed = {.wall = -brv_seconds(CLOCK_MONOTONIC), .processor = -brv_seconds(CLOCK_PROCESS_CPUTIME_ID)};
    if (brv_sampled_solve(&light, &ask, NULL)) exit(EXIT_FAILURE);
    timed.wall += brv_seconds(CLOCK_MONOTONIC);
    timed.processor += brv_seconds(CLOCK_PROCESS_CPUTIME_ID);
    const struct brv_mean deep = brv_sampled_axis(&light, 4e-3, false, 39); /* about 1 mm */
    timed.error = deep.error / deep.value;
    timed.events = light.events;
    brv_sampled_free(&light);
    return timed;
}

/* The quickest of three: other work on the machine only ever adds. */
static struct timed best(unsigned threads, unsigned variant)
{
    struct timed least = run(threads, variant);
    for (int i = 0; i < 2; i++) {
        const struct timed again = run(threads, variant);
        if (again.wall < least.wall) least = again;
    }
    return least;
}

int main(void)
{
    for (unsigned variant = 1; variant <= brv_lanes_variants(); variant++) {
        const struct timed one = best(1, variant);
        printf("photon walk, variant %u of %zu      %6.1f ns per interaction, %5.1f million/s, "
               "1/(sigma^2 s) %.3g at 1 mm under 4 mm (wanted: below 20 ns, aim 7.5)\n",
               variant - 1, brv_lanes_variants(), 1e9 * one.processor / (double)one.events,
               1e-6 * (double)one.events / one.wall, 1.0 / (one.error * one.error * one.processor));
    }
    const struct timed one = best(1, 0), two = best(2, 0);
    printf(
        "photon walk, two threads          %6.2f times one (wanted: 1.9); by processor time %.2f, which is the fairer "
        "one when the machine has other work\n",
        one.wall / two.wall, 2.0 * one.processor / two.processor);
    return EXIT_SUCCESS;
}
