/* The collimated beam on its way through the stack: refraction, attenuation, and the mirror reflections between
 * all steps of the index, summed to all orders. One ray, so plain geometric series.                             */
#ifndef BRV_LIGHT_DIRECT_H
#define BRV_LIGHT_DIRECT_H

#include <stddef.h>

/* The beam in one layer. Flux is across the layer's faces, over the flux that meets the surface. */
struct brv_direct_leg {
    double index;  /* given: refractive index                                            [1] */
    double depth;  /* given: optical thickness of the layer for the beam, or INFINITY    [1] */
    double cosine; /* found: with the depth axis; 0 when the beam does not get here      [1] */
    double down;   /* found: downward flux just below the upper face                     [1] */
    double up;     /* found: upward flux just above the lower face                       [1] */
};

struct brv_direct {
    double mirrored;    /* reflected by the surface itself             [1] */
    double returned;    /* reflected deeper and gone out again         [1] */
    double transmitted; /* out of the bottom                           [1] */
};

/* Follows a beam of unit flux from outside through `leg`[n_leg], filling in the found fields. */
struct brv_direct brv_direct_trace(struct brv_direct_leg *leg, size_t n_leg, double outside_index, double below_index,
                                   double cosine);

/* Flux of the downward and of the upward beam at `depth` below the upper face of a leg. */
double brv_direct_down(const struct brv_direct_leg *leg, double depth);
double brv_direct_up(const struct brv_direct_leg *leg, double depth);

#endif
