/* One photon on its way across faces: the part of the walk that differs from photon to photon. At a face light is
 * mirrored or refracted by chance with Fresnel's shares; the optical way that is left goes on behind the face, or back.
 * Tests: the mismatched rows and stacks of tests/verification/test_sampled.c.                                     */
#ifndef BRV_LIGHT_CROSSING_H
#define BRV_LIGHT_CROSSING_H

#include "light/walk.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

struct brv_crossing {
    double x, y, z, to_x, to_y, to_z; /* place [m] and direction [1] */
    double weight;
    double optical; /* still to go [free path] */
    size_t layer;
    double spare;        /* one random number already drawn, or 0 */
    uint32_t counter[4]; /* of further ones */
};

/* From face to face until the drawn way is used up. False when the photon has left: out of the top, the bottom, or
 * for good into an endless clear layer, whose way within the depth cells still counts.                            */
bool brv_crossing_run(struct brv_crossing *photon, const struct brv_walk *walk, struct brv_walk_tally *tally);

#endif
