/* The walk of one batch of photons: lanes.h takes the common step, here is what photons do one by one: enter, cross
 * faces, score, lose weight, end.                                                                                */
#ifndef BRV_LIGHT_WALK_H
#define BRV_LIGHT_WALK_H

#include "light/bins.h"
#include "light/lanes.h"
#include "light/sampled.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

enum { BRV_WALK_MOST_MEDIA = 16, BRV_WALK_BLOCKS = 2 };

struct brv_walk_layer {
    struct brv_lane_medium lane;
    double top, bottom;       /* true faces [m] */
    double extinction;        /* [1/m] */
    double free_path, albedo; /* 0 both where the layer is clear */
    double index;
};

/* What all photons share; not changed by walking. */
struct brv_walk {
    size_t n_layer;
    struct brv_walk_layer layer[BRV_WALK_MOST_MEDIA];
    double outside_index, below_index;
    double mirrored; /* share of the beam that the surface throws back at once [1] */
    double spread;   /* of the beam to start from, diameter [m] */
    bool gaussian;
    struct brv_bins depth, ring;   /* ring: squares of the radii */
    struct brv_lane_scales scales; /* of depth and ring; holds the key of the random numbers */
    struct brv_lanes_steps steps;
    const volatile sig_atomic_t *stop;
};

/* What a batch has counted. */
struct brv_walk_tally {
    double *map; /* [n_depth + 1][n_ring + 1] weight times way, last row: below the last cell [m] */
    double reflected, transmitted;
    double roulette; /* weight taken less weight given */
    double absorbed[BRV_WALK_MOST_MEDIA];
    uint64_t events;
};

/* Values of `ask` are checked before. BRV_MEMORY on failure, and then `walk` is empty. */
brv_status brv_walk_build(struct brv_walk *walk, const struct brv_sampled_ask *ask,
                          struct brv_error *error) BRV_MUST_CHECK;

/* Walks photons first ... first + count - 1 into an emptied tally. False when the stop flag ended it half way.
 * `block` is room for BRV_WALK_BLOCKS.                                                                       */
bool brv_walk_batch(const struct brv_walk *walk, struct brv_walk_tally *tally, struct brv_lanes *block, uint64_t first,
                    uint64_t count);

/* The next random number of one step of one photon; moves counter[3] on. */
double brv_walk_draw(const struct brv_walk *walk, uint32_t counter[4]);

void brv_walk_free(struct brv_walk *walk);

#endif
