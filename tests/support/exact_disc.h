/* Closed forms for heat in a half-space under a disc on its insulated face, in plates and in endless cylinders.
 * Written without the model and never linked into it. Source: [carslaw-jaeger], from memory; test_disc.c proves them
 * by their limits before it uses them.                                                                            */
#ifndef BRV_TESTS_SUPPORT_EXACT_DISC_H
#define BRV_TESTS_SUPPORT_EXACT_DISC_H

/* Half-space of conductivity and heat capacity 1, on the axis at a depth. The disc has radius `radius`; INFINITY is the
 * whole face.                                                                                                      */
double exact_disc_at_once(double time, double depth, double radius);     /* heat 1 per area, laid on the face at 0 */
double exact_disc_flux(double time, double depth, double radius);        /* flux 1 from 0 on */
double exact_disc_flux_steady(double depth, double radius);              /* the same for ever */
double exact_disc_gaussian(double time, double depth, double e2_radius); /* at once, exp(-2 r^2 / e2_radius^2) */
double exact_disc_gaussian_by_rings(double time, double depth, double e2_radius); /* the same as an integral */

/* Diffusivity 1, warmed evenly by 1 at the start. `biot` is transfer x half-width (or radius) / conductivity; INFINITY:
 * surface held cold. Plate from -1 to 1 and cylinder of radius 1, at a distance from the middle.                   */
double exact_plate_cooling(double time, double place, double biot);
double exact_cylinder_cooling(double time, double radius, double biot);

/* The same plate and cylinder, `length` long and steady: one end held at 1, the other and the sides lose to 0 by `biot`;
 * on the side, at a distance from the held end.                                                                    */
double exact_plate_held(double depth, double length, double biot);
double exact_cylinder_held(double depth, double length, double biot);

#endif
