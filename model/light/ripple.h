/* Diffuse light of a beam whose strength goes as exp(i k x) over the surface, for any lateral frequency k:
 *     mu dL/dz + i k sin(theta) cos(azimuth) L + mu_t L = scattering + what the unscattered beam scatters
 * in plane layers, in spherical harmonics (harmonics, tilt) with Fresnel conditions at every face (face). The share g^8
 * of the scattering is counted as unscattered (delta-M), so the beam fades at mu_a + mu_s (1 - g^8).
 * Layers are joined from the bottom up: what comes back up in a layer is a reflection of what goes down in it.
 * Fluence over the incident fluence, before the mirror reflection, like layered.h; depth [m].                   */
#ifndef BRV_LIGHT_RIPPLE_H
#define BRV_LIGHT_RIPPLE_H

#include "base/status.h"
#include "light/layered.h"

#include <stddef.h>

struct brv_ripple_stack; /* layers, faces and the amplitudes for the k solved last; see ripple.c */

struct brv_ripple {
    size_t n_medium;
    struct brv_ripple_stack *stack;
};

/* What does not depend on k. BRV_MEMORY or BRV_NUMERICS on failure, and then `ripple` is empty. */
brv_status brv_ripple_build(struct brv_ripple *ripple, const struct brv_medium *medium, size_t n_medium,
                            double outside_index, double below_index, struct brv_error *error) BRV_MUST_CHECK;

/* Solves for one k [1/m]. BRV_MEMORY or BRV_NUMERICS on failure. */
brv_status brv_ripple_solve(struct brv_ripple *ripple, double frequency, struct brv_error *error) BRV_MUST_CHECK;

/* Diffuse fluence at `depth` for the k solved last. */
double brv_ripple_fluence(const struct brv_ripple *ripple, double depth);

/* Fluence of the unscattered beam at `depth`; does not depend on k. */
double brv_ripple_direct(const struct brv_ripple *ripple, double depth);

/* How slowly diffuse light fades in the layer where it lasts longest, and how fast the unscattered beam fades in the
 * layer that takes most of it [1/m]. */
double brv_ripple_slowest(const struct brv_ripple *ripple);
double brv_ripple_fastest(const struct brv_ripple *ripple);

void brv_ripple_free(struct brv_ripple *ripple);

#endif
