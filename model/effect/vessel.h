/* Blood in a vessel: a long round cylinder of blood in light from all sides.
 *     rise = mu_a F phi / (rho c),    F(x) = share of a thin vessel's absorption left after self-shading, x = mu_a d:
 *     F = (4 / pi x) int sin^2(theta) dtheta int cos(psi) [1 - exp(-x cos(psi) / sin(theta))] dpsi
 * over the angle theta to the axis and the angle psi around it, both from 0 to pi / 2: straight rays, all directions
 * alike, no scattering inside. The rise is what the blood would reach if it kept all heat: an upper bound when the pulse
 * outlasts the relaxation time d^2 / (16 alpha), the trade's formula for a cylinder (effect/relaxation.h).
 * It is a line to look at, no claim that a vessel is hurt. Source: [vessel-shading], [tissue-database].
 * Test: tests/unit/test_vessel.c, against chords drawn at random and the thin and the opaque limit.                 */
#ifndef BRV_EFFECT_VESSEL_H
#define BRV_EFFECT_VESSEL_H

#include "base/status.h"

#define BRV_VESSEL_KAPPA 16.0 /* of its relaxation time */

/* F(x) [1], x >= 0; good to 1e-6 up to x = 100. */
brv_status brv_vessel_shading(double *shading, double x, struct brv_error *error) BRV_MUST_CHECK;

#endif
