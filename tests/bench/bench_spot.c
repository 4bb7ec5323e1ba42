/* Time of one spot solve in a three-layer skin: 60 depths, and 1, 10 and 40 distances from the axis. */
#define _DEFAULT_SOURCE
#include "light/spot.h"
#include "report/seconds.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

enum { RUNS = 40, N_DEPTH = 60, MOST_RADII = 40 };

static int time_spot(double diameter, size_t n_radius)
{
    const struct brv_medium skin[] = {
        {50e-6, 124.0, 1.05e4, 0.85, 1.40}, {10e-6, 710.0, 1.05e4, 0.85, 1.40}, {INFINITY, 36.0, 1.05e4, 0.85, 1.40}};
    double depth[N_DEPTH], radius[MOST_RADII];
    for (size_t i = 0; i < N_DEPTH; i++) depth[i] = 3e-3 * (double)i / (N_DEPTH - 1);
    for (size_t i = 0; i < n_radius; i++) radius[i] = 1.5 * diameter * (double)i / MOST_RADII;
    const struct brv_spot_ask ask = {.n_medium = 3,
                                     .medium = skin,
                                     .outside_index = 1.0,
                                     .below_index = 1.0,
                                     .diameter = diameter,
                                     .n_depth = N_DEPTH,
                                     .depth = depth,
                                     .n_radius = n_radius,
                                     .radius = radius};
    const double start = brv_seconds(CLOCK_MONOTONIC);
    for (int i = 0; i < RUNS; i++) {
        struct brv_spot spot;
        if (brv_spot_solve(&spot, &ask, NULL)) return EXIT_FAILURE;
        brv_spot_free(&spot);
    }
    printf("spot %4.1f mm, 60 depths, %2zu radii  mean %6.2f ms of %d (wanted: below 100 ms, aim 20 ms)\n",
           1e3 * diameter, n_radius, 1e3 * (brv_seconds(CLOCK_MONOTONIC) - start) / RUNS, RUNS);
    return EXIT_SUCCESS;
}

int main(void)
{
    static const double diameter[] = {1e-3, 4e-3, 20e-3};
    static const size_t n_radius[] = {1, 10, 40};
    int fault = EXIT_SUCCESS;
    for (size_t i = 0; i < 3; i++)
        for (size_t j = 0; j < 3; j++) fault |= time_spot(diameter[i], n_radius[j]);
    return fault;
}
