/* Pressure in a grain that is heated faster than it can swell: an estimate, no more.
 *     p = S(theta) x integral of Gamma(T) rho c dT over the rise of the grain's mean
 *     S = (1 - e^-theta) / theta,   theta = pulse x speed of sound / diameter
 * Gamma is the Grueneisen parameter of water, which grows with temperature; a grain is not water, so the estimate is good
 * to a factor of 3. Above 90 C the last value of the table is held, below 4 C it is 0. With a pulse of 5 to 10 ns a grain keeps its heat
 * but not its pressure: theta is 10 and more. Source: [photoacoustic].                                              */
#ifndef BRV_EFFECT_PRESSURE_H
#define BRV_EFFECT_PRESSURE_H

#define BRV_PRESSURE_FACTOR 3.0 /* low and high are this much less and more */

double brv_pressure_confined(double theta);         /* S [1] */
double brv_pressure_grueneisen(double temperature); /* Gamma of water at a temperature [K] */

/* Integral of Gamma rho c dT from one temperature to another [K], rho c [J/m3/K]: what would build up at once [Pa]. */
double brv_pressure_at_once(double from, double to, double heat_capacity);

#endif
