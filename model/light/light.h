/* Where the light goes in one skin, over the incident fluence on the axis of the beam.
 * The front of this folder: it knows tissue and beam and chooses the kernel.
 *     layered   exact, for an endless beam
 *     spot      on the axis of a flat or gaussian spot, deterministic (the default)
 *     sampled   the same by a walk of photons, with standard errors
 * For the last two the endless beam's exact answer is multiplied by the kernel's ratio of spot to endless beam
 * (light/axis.h); reflected, transmitted and absorbed shares of the whole beam are exact in every case, because they
 * do not depend on its width.                                                                                 */
#ifndef BRV_LIGHT_LIGHT_H
#define BRV_LIGHT_LIGHT_H

#include "base/control.h"
#include "light/axis.h"
#include "light/layered.h"
#include "scenario/beam.h"
#include "tissue/tissue.h"

#include <stdint.h>

enum { BRV_N_ANSWER = 33 };

/* Of the light to the darkness of the pigment; see light/light_sensitivity.h. First paler, then darker grains. */
struct brv_sensitivity {
    bool solved;                     /* false: light is held fixed, the rest is empty */
    double uptake[2];                /* of a grain in the same light, over that of the scenario's own [1] */
    double mean[2][BRV_MOST_LAYERS]; /* mean fluence of every layer, likewise [1] */
    double deepest;                  /* of the depths that follow, which are even in the square root [m] */
    double at[2][BRV_N_ANSWER];      /* fluence on the axis, likewise [1] */
};

struct brv_light {
    int method;                 /* enum brv_method that answered */
    struct brv_layered layered; /* the whole beam: reflected, transmitted, absorbed, residual */
    struct brv_axis axis;       /* empty when the answer is that of an endless beam */
    size_t n_layer;
    double above;                /* of a film on the skin; kernels count from its outside [m] */
    double top[BRV_MOST_LAYERS]; /* where each layer starts, below the skin's surface; of a film above it [m] */
    double mean_fluence[BRV_MOST_LAYERS]; /* on the axis, over the layer; the top's value if endless [1] */
    double spot_depths;                   /* spot / diffusion depth of the deepest layer [1] */

    size_t n_map_depth, n_map_radius; /* map of fluence over incident axis fluence; 0 for an endless beam */
    double *map_depth, *map_radius;   /* from the skin's surface, above it in a film; from the axis [m] */
    double *map;                      /* [n_map_depth][n_map_radius] [1] */

    struct brv_sensitivity sensitivity;

    uint64_t photons; /* sampled only: walked */
    bool stopped;     /* sampled only: interrupted before it was done */
};

/* Solves for `tissue`. On failure `light` is empty. */
brv_status brv_light_solve(struct brv_light *light, const struct brv_tissue *tissue, const struct brv_beam *beam,
                           const struct brv_control *control, struct brv_error *error) BRV_MUST_CHECK;

/* Fluence on the axis over incident axis fluence at a depth [1]; on a face the deeper side. All depths count from the
 * skin's surface; in a film they are negative.                                                                  */
double brv_light_fluence(const struct brv_light *light, double depth);

/* Its standard error; 0 when nothing was sampled. */
double brv_light_error(const struct brv_light *light, double depth);

/* Fluence on the axis over that of an endless beam [1]. */
double brv_light_ratio(const struct brv_light *light, double depth);

/* Taken up on the axis between two depths, over the incident axis fluence [1]. `to` may be INFINITY in an endless
 * stack.                                                                                                       */
double brv_light_absorbed(const struct brv_light *light, double from, double to);

void brv_light_free(struct brv_light *light);

#endif
