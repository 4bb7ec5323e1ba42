/* Diffuse light that the beam kindles in one layer: the particular solution, mode by mode. For a downward beam of
 * unit fluence at the upper face, exp(-slope t),
 *     eta' = -zeta + odd exp(-slope t),   zeta' = -k^2 eta + even exp(-slope t)
 * is solved, with eta(0) = 0 and without any trouble at slope = k, by
 *     eta = rise D(t),   zeta = k eta + start exp(-slope t),   D = (exp(-slope t) - exp(-k t)) / (k - slope),
 *     rise = (even + slope odd) / (k + slope),   start = (k odd - even) / (k + slope).
 * The upward beam gives the same picture upside down; eta and zeta are the sum of both.                         */
#ifndef BRV_LIGHT_GLOW_H
#define BRV_LIGHT_GLOW_H

#include "base/status.h"
#include "light/basis.h"
#include "light/direct.h"
#include "light/modes.h"

#include <stddef.h>

struct brv_glow {
    size_t n;
    double depth;  /* optical thickness of the layer, or INFINITY         [1] */
    double down;   /* fluence of the downward beam at the upper face      [1] */
    double up;     /* fluence of the upward beam at the lower face        [1] */
    double slope;  /* decay of the beam per unit t: 1 / its cosine        [1] */
    double *decay; /* [n] k of each mode                                  [1] */
    double *rise;  /* [n]                                                 [1] */
    double *start; /* [n]                                                 [1] */
};

/* All zero where the beam does not get to. BRV_MEMORY on failure, and then `glow` is empty. */
brv_status brv_glow_build(struct brv_glow *glow, const struct brv_basis *basis, const struct brv_modes *modes,
                          const struct brv_direct_leg *leg, struct brv_error *error) BRV_MUST_CHECK;

/* eta and zeta of one mode at optical depth `t` below the upper face. */
double brv_glow_eta(const struct brv_glow *glow, size_t mode, double t);
double brv_glow_zeta(const struct brv_glow *glow, size_t mode, double t);

/* Integral of eta over the layer. */
double brv_glow_integral(const struct brv_glow *glow, size_t mode);

void brv_glow_free(struct brv_glow *glow);

#endif
