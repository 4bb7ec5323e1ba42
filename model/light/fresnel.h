/* What a step of the refractive index does to one ray of unpolarised light.
 *     n_from sin(from) = n_to sin(to),  R = (|r_s|^2 + |r_p|^2) / 2
 * The reflectance is the same from either side, so one number serves both. Source: [born-wolf]              */
#ifndef BRV_LIGHT_FRESNEL_H
#define BRV_LIGHT_FRESNEL_H

/* Cosine of the refracted ray; 0 when the ray is totally reflected. */
double brv_fresnel_cosine(double index_from, double cosine_from, double index_to);

/* Reflectance of the step, from the cosines on both sides; 1 when one of them is 0. */
double brv_fresnel_reflectance(double index_from, double cosine_from, double index_to, double cosine_to);

#endif
