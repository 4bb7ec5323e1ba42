/* Closed forms for an endless cylinder of radius 1 in unbounded surroundings of the same material, warmed at once.
 * Time is diffusivity x time / radius^2. Source: [carslaw-jaeger], from memory. The model has no cylinder: these
 * forms tie the table of relaxation factors to their definitions.                                                */
#ifndef BRV_TESTS_SUPPORT_EXACT_CYLINDER_H
#define BRV_TESTS_SUPPORT_EXACT_CYLINDER_H

double exact_cylinder_centre(double time);     /* warmed evenly by 1: rise on the axis */
double exact_cylinder_mean(double time);       /* the same: mean of the cylinder */
double exact_cylinder_gaussian(double time);   /* warmed by exp(-r^2): rise on the axis */
double exact_cylinder_first_mode(double time); /* surface held cold, warmed by J0(2.4048 r): rise on the axis */

#endif
