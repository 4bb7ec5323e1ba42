/* Closed forms for a sphere of radius 1 in unbounded surroundings of the same material, warmed evenly by 1.
 * Time is diffusivity x time / radius^2. Source: [carslaw-jaeger], from memory; proved by the tables they are
 * compared with.                                                                                               */
#ifndef BRV_TESTS_SUPPORT_EXACT_SPHERE_H
#define BRV_TESTS_SUPPORT_EXACT_SPHERE_H

/* Warmed at once: rise at a radius, and mean of the sphere. */
double exact_sphere_rise(double time, double radius);
double exact_sphere_mean(double time);

/* Warmed at an even rate for `pulse` by 1 in all, at the end of the pulse. */
double exact_sphere_pulse_rise(double pulse, double radius);
double exact_sphere_pulse_mean(double pulse);

#endif
