/* One pigment grain: a uniform sphere that shades itself.
 *     absorbed energy = mu_a V phi F(x),  x = mu_a d,  F = (3/2x) {1 - (2/x^2) [1 - (1 + x) e^-x]}
 * F is geometric (rays through a sphere). Grains are near or below the wavelength and clusters act as larger
 * grains, so F is an approximation. Source: [van-de-hulst-absorption], from memory; F = 1 - 3x/8 near x = 0.
 * Test: tests/verification/test_tissue.c against direct quadrature over the sphere's chords.                          */
#ifndef BRV_TISSUE_GRAIN_H
#define BRV_TISSUE_GRAIN_H

/* Share of a thin grain's absorption that is left after self-shading [1]; x = mu_a x diameter >= 0. */
double brv_grain_shading(double x);

/* Radius of the round cell that belongs to one grain at a volume fraction; INFINITY at 0 [m]. */
double brv_grain_cell_radius(double radius, double fraction);

#endif
