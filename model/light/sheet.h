/* What one plane element of the stack, a layer or a step of the index, does to the diffuse light on the rays.
 * Light on a ray is J = I sqrt(w mu) / n, so a step of the index hands J on unchanged but for Fresnel's share, and
 * the flux is the sum of strength J. All elements are square in all rays; a ray that a layer lacks stays dark.
 * Both kinds are the same seen from below, so one reflection and one transmission matrix are enough.             */
#ifndef BRV_LIGHT_SHEET_H
#define BRV_LIGHT_SHEET_H

#include "base/status.h"
#include "light/glow.h"
#include "light/modes.h"
#include "light/rays.h"

#include <stddef.h>

struct brv_sheet {
    size_t n;             /* rays                                                  */
    double *reflection;   /* [n * n] symmetric                                 [1] */
    double *transmission; /* [n * n] symmetric                                 [1] */
    double *rising;       /* [n] kindled by the beam, out of the upper face    [1] */
    double *falling;      /* [n] kindled by the beam, out of the lower face    [1] */
};

/* A step of the index. BRV_MEMORY on failure, and then `sheet` is empty; so for the next one too. */
brv_status brv_sheet_build_step(struct brv_sheet *sheet, const struct brv_rays *rays, double upper_index,
                                double lower_index, struct brv_error *error) BRV_MUST_CHECK;

/* A layer of `n` rays in all, from its modes and from what the beam kindles in it. Also BRV_NUMERICS. */
brv_status brv_sheet_build_layer(struct brv_sheet *sheet, size_t n, const struct brv_modes *modes,
                                 const struct brv_glow *glow, struct brv_error *error) BRV_MUST_CHECK;

void brv_sheet_free(struct brv_sheet *sheet);

#endif
