/* Where the light goes in one skin, per unit incident fluence on the axis of the beam.
 * The front of this folder: it knows tissue and beam and chooses the kernel. Today every answer is the one for an
 * endless beam (light/layered.h); brv_light_wide says how far the spot is from being one.                      */
#ifndef BRV_LIGHT_LIGHT_H
#define BRV_LIGHT_LIGHT_H

#include "light/layered.h"
#include "scenario/beam.h"
#include "tissue/tissue.h"

/* How much an endless beam overstates the light of a spot, by the spot's width in diffusion depths. */
enum brv_wide {
    BRV_WIDE_ALL,     /* little down to 3 mm: spot of 10 diffusion depths or more       */
    BRV_WIDE_SHALLOW, /* little at the basal row, noticeably deeper: 4.5 to 10          */
    BRV_WIDE_NOT      /* noticeably at the basal row and strongly deeper: below 4.5     */
};

struct brv_light {
    struct brv_layered layered; /* reflected, transmitted, absorbed, residual */
    size_t n_layer;
    double top[BRV_MOST_LAYERS];          /* where each layer starts [m] */
    double mean_fluence[BRV_MOST_LAYERS]; /* over the layer; the top's value if endless [1] */
    double spot_depths;                   /* spot / diffusion depth of the deepest layer [1] */
    enum brv_wide wide;
};

/* Solves for `tissue`. On failure `light` is empty. */
brv_status brv_light_solve(struct brv_light *light, const struct brv_tissue *tissue, const struct brv_beam *beam,
                           struct brv_error *error) BRV_MUST_CHECK;

/* Fluence over incident fluence at a depth [1]; on a face the deeper side. */
double brv_light_fluence(const struct brv_light *light, double depth);

/* Share of the incident fluence absorbed between two depths [1]: the difference of the net flux. `to` may be
 * INFINITY in an endless stack.                                                                            */
double brv_light_absorbed(const struct brv_light *light, double from, double to);

void brv_light_free(struct brv_light *light);

#endif
