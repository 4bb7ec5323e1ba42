/* What light in harmonics has to obey at a face between two layers, as rows of linear conditions
 *     upper_even E_u + upper_odd O_u + lower_even E_l + lower_odd O_l = 0,
 * E, O the coefficients of the even and the odd shapes above and below (harmonics.h).
 * At a step of the index the light that leaves the face downwards is R times the light that came up to it and
 * (1 - R) (n_l / n_u)^2 times the light that came down on it; the difference, weighed with every odd shape over
 * the downward directions, vanishes (rows 0 ...). The same for the light that leaves upwards (rows BRV_N_ODD ...).
 * R is exact Fresnel reflection with total reflection. The net flux goes through the face unchanged.
 * Source: [born-wolf], [marshak-1947]                                                                                            */
#ifndef BRV_LIGHT_FACE_H
#define BRV_LIGHT_FACE_H

#include "base/status.h"
#include "light/harmonics.h"

enum { BRV_N_CONDITION = 2 * BRV_N_ODD };

/* Matrices are row-major; columns are shapes. */
struct brv_face {
    double upper_even[BRV_N_CONDITION * BRV_N_EVEN];
    double upper_odd[BRV_N_CONDITION * BRV_N_ODD];
    double lower_even[BRV_N_CONDITION * BRV_N_EVEN];
    double lower_odd[BRV_N_CONDITION * BRV_N_ODD];
};

/* Between two layers of one index: what the moments carry across is the same on both sides. */
void brv_face_join(struct brv_face *face, const struct brv_harmonics *shapes);

/* Any two indices, equal ones included. At the surface only the first half of the rows and the lower side matter, at
 * the bottom only the second half and the upper side. BRV_MEMORY on failure.                                     */
brv_status brv_face_step(struct brv_face *face, const struct brv_harmonics *shapes, double upper_index,
                         double lower_index, struct brv_error *error) BRV_MUST_CHECK;

#endif
