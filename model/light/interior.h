/* The light inside one solved layer, as values of its modes at both faces and everything between in closed form:
 *     eta(t) = glow(t) + eta_above share(t) + eta_below share(depth - t),   zeta alike,
 * share(t) = sinh(k (depth - t)) / sinh(k depth). t is the optical depth below the upper face.                   */
#ifndef BRV_LIGHT_INTERIOR_H
#define BRV_LIGHT_INTERIOR_H

#include "base/status.h"
#include "light/basis.h"
#include "light/direct.h"
#include "light/glow.h"
#include "light/modes.h"
#include "light/rays.h"

#include <stddef.h>

struct brv_interior {
    size_t n;
    struct brv_direct_leg leg;
    struct brv_glow glow;
    double *fluence_of; /* [n] fluence of a mode per unit eta                    [1] */
    double *flux_of;    /* [n] net flux of a mode per unit zeta                  [1] */
    double *eta_above;  /* [n] at the upper face, without the glow; so below     [1] */
    double *eta_below;  /* [n]                                                   [1] */
    double *zeta_above; /* [n]                                                   [1] */
    double *zeta_below; /* [n]                                                   [1] */
};

/* Light on the rays at one face. */
struct brv_interior_face {
    const double *down, *up;
};

/* Takes over `glow` (left empty). BRV_MEMORY on failure, and then `interior` is empty. */
brv_status brv_interior_build(struct brv_interior *interior, const struct brv_rays *rays, const struct brv_basis *basis,
                              const struct brv_modes *modes, struct brv_glow *glow, const struct brv_direct_leg *leg,
                              const struct brv_interior_face *above, const struct brv_interior_face *below,
                              struct brv_error *error) BRV_MUST_CHECK;

/* At optical depth `t`, 0 to the depth of the layer; no allocation. */
double brv_interior_fluence(const struct brv_interior *interior, double t);
double brv_interior_net_flux(const struct brv_interior *interior, double t);

/* Integral of the fluence over the optical depth of the layer. */
double brv_interior_integral(const struct brv_interior *interior);

void brv_interior_free(struct brv_interior *interior);

#endif
