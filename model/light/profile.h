/* A round beam across its axis, height 1 there, and its lateral frequencies:
 *     profile(r) = integral of spectrum(k) J0(k r) dk
 * flat of radius R:                1 inside, 1/2 on the edge;   spectrum R J1(k R)
 * gaussian of 1/e2 radius w:       exp(-2 r^2 / w^2);           spectrum k w^2/4 exp(-k^2 w^2 / 8)               */
#ifndef BRV_LIGHT_PROFILE_H
#define BRV_LIGHT_PROFILE_H

#include <stdbool.h>

struct brv_profile {
    double radius; /* R or w [m] */
    bool gaussian;
};

double brv_profile_height(const struct brv_profile *profile, double radius);

/* [m], for k [1/m]. */
double brv_profile_spectrum(const struct brv_profile *profile, double frequency);

#endif
