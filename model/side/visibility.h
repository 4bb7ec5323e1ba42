/* How well a thin pigmented layer in the dermis is seen against the same skin without it, by its depth.
 *     contrast(wavelength, depth) = (R_without - R_with)/R_without,   R diffuse reflectance under a wide beam
 * and the change of L*, a* and b*. Short wavelengths hardly come down to deep pigment and back, so it takes less from them:
 * what comes back of deep pigment lacks red rather than blue, and it looks bluish grey beside its surroundings.
 * Exact for plane layers that reach as far as light spreads; a small spot of pigment is blurred, which is not in this.
 * Tests: tests/verification/test_colour.c. Theory: docs/theory/colour.md.                                            */
#ifndef BRV_SIDE_VISIBILITY_H
#define BRV_SIDE_VISIBILITY_H

#include "scenario/scenario.h"

#include <stdbool.h>

enum { BRV_N_SEEN = 4, BRV_MOST_SEEN_DEPTH = 25 };

extern const double brv_seen_wavelengths[BRV_N_SEEN]; /* 400, 450, 550, 650 nm [m] */

/* What is laid into the dermis. Where nothing is asked for: 20 um with 5 % melanosomes, this project's choice. */
#define BRV_SEEN_THICKNESS   20e-6
#define BRV_SEEN_MELANOSOMES 0.05

struct brv_seen_layer {
    double thickness;   /* [m] */
    double melanosomes; /* volume share of pigment grains, beside what the dermis has [1] */
    bool own;           /* it is that of the scenario's lesion */
};

struct brv_visibility {
    bool
        possible; /* false: there is no dermis without a given absorption between 50 um and 1.5 mm, or no room for layers */
    struct brv_seen_layer layer;
    size_t n;
    double depth[BRV_MOST_SEEN_DEPTH];                /* of its upper face below the surface of the skin [m] */
    double contrast[BRV_MOST_SEEN_DEPTH][BRV_N_SEEN]; /* at brv_seen_wavelengths [1] */
    double lightness[BRV_MOST_SEEN_DEPTH], red[BRV_MOST_SEEN_DEPTH],
        yellow[BRV_MOST_SEEN_DEPTH]; /* change of L*, a*, b* */
};

/* The layer that belongs to a scenario: where its lesion differs from the neighbour by more melanosomes in one finite
 * layer of dermis and nothing else, that one; else the standard one. */
struct brv_seen_layer brv_visibility_layer(const struct brv_scenario *ask);

/* Cuts a skin at `depth` and lays the pigment into it from there on; false when that would make too many layers, or when a
 * layer it meets has its absorption given outright. */
bool brv_visibility_insert(struct brv_skin *skin, const struct brv_seen_layer *layer, double depth);

/* In the neighbour's skin of a filled scenario, from 50 um, or where the dermis begins, to 1.5 mm. */
brv_status brv_visibility_solve(struct brv_visibility *seen, const struct brv_scenario *ask,
                                const struct brv_seen_layer *layer, unsigned threads,
                                struct brv_error *error) BRV_MUST_CHECK;

#endif
