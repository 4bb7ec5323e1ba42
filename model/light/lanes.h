/* Photons side by side: the part of the walk that every photon does alike, written so that the compiler takes
 * several at a time. Draw the way to the next interaction and go there; turn into a new direction.
 *     optical way = -ln u,   cos(turn) = start + slope u - bend / (offset + spread u)^2   (Henyey-Greenstein)
 * The arithmetic is + - x / and square roots on IEEE doubles and integers, nothing contracted or reordered, so every
 * variant gives the same bytes: tests/unit/test_sampled.c. Logarithm within 2e-15, sine within 2e-13 of the library's
 * (the same test); what the library's calls would cost is more than half of a walk.                               */
#ifndef BRV_LIGHT_LANES_H
#define BRV_LIGHT_LANES_H

#include <stddef.h>
#include <stdint.h>

enum { BRV_LANES = 32 };

/* What a photon must know of the layer it is in. */
struct brv_lane_medium {
    double top, bottom; /* a clear layer has its top for its bottom, so that every way leads out [m] */
    double free_path;   /* huge but finite in a clear layer [m] */
    double loss;        /* share of the weight that an interaction absorbs [1] */
    double start, slope, bend, offset, spread; /* of the turn */
};

/* A scale of leading bits (bins.h): numbers are first taken into low ... high. */
struct brv_lane_scale {
    double low, high;
    uint64_t first, shift;
};

struct brv_lane_scales {
    struct brv_lane_scale depth, ring; /* ring: of the square of the radius */
    uint32_t key[2];                   /* of the random numbers */
};

/* All arrays: one number for each lane. */
struct brv_lanes {
    double x[BRV_LANES], y[BRV_LANES], z[BRV_LANES];          /* place; z is the depth               [m]         */
    double square[BRV_LANES];                                 /* x^2 + y^2                           [m2]        */
    double to_x[BRV_LANES], to_y[BRV_LANES], to_z[BRV_LANES]; /* direction                           [1]         */
    double weight[BRV_LANES];                                 /*                                     [1]         */
    double absorbed[BRV_LANES];                               /* since it entered the layer          [1]         */
    double scored[BRV_LANES];                                 /* weight times free path              [m]         */
    double optical[BRV_LANES];                                /* drawn way to the next interaction   [free path] */
    uint64_t photon[BRV_LANES], step[BRV_LANES];              /* counter of the random numbers                   */
    uint64_t out[BRV_LANES]; /* 1: the way leads out of the layer; then nothing has happened */
    uint64_t depth_place[BRV_LANES], ring_place[BRV_LANES];       /* on the scales                                   */
    double turn[BRV_LANES], azimuth[BRV_LANES], spare[BRV_LANES]; /* random numbers of this step   [1]         */
    double top[BRV_LANES], bottom[BRV_LANES], free_path[BRV_LANES]; /* struct brv_lane_medium by lane            */
    double loss[BRV_LANES];
    double start[BRV_LANES], slope[BRV_LANES], bend[BRV_LANES], offset[BRV_LANES], spread[BRV_LANES];
    uint64_t layer[BRV_LANES];
};

/* The two common steps on `n` blocks. `go`: draw a way, go, interact: score, lose weight. `turn`: a new direction. */
struct brv_lanes_steps {
    void (*go)(struct brv_lanes *block, size_t n, const struct brv_lane_scales *scales);
    void (*turn)(struct brv_lanes *block, size_t n);
};

/* Variants for processors with wider registers; 0, the plain one, runs anywhere. The best one is the last. */
size_t brv_lanes_variants(void);
struct brv_lanes_steps brv_lanes_variant(size_t variant);

/* Constants of the turn for anisotropy g; below 1e-6 it is taken as 0, where the formula is 0/0. */
void brv_lanes_anisotropy(struct brv_lane_medium *medium, double g);

/* The functions inside the steps, one number at a time: -ln u for 0 < u < 1, and sin(pi h) for |h| <= 1/2. */
double brv_lanes_minus_log(double u);
double brv_lanes_sine(double h);

#endif
