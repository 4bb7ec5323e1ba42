/* Exponentials in one layer, written so that nothing overflows, cancels or divides by zero: weak or no absorption
 * (decay -> 0), two equal decay constants, thin and thick layers are ordinary values. `decay` is per unit depth.  */
#ifndef BRV_LIGHT_DECAY_H
#define BRV_LIGHT_DECAY_H

/* sinh(decay far) / sinh(decay (near + far)): the solution of y'' = decay^2 y that is 1 on the near face and 0 on
 * the far one, at these distances from both; one half when the faces coincide, where both hold the same value.
 * Either distance may be INFINITY when decay > 0.                                                                */
double brv_decay_share(double decay, double near, double far);

/* Its integral through a layer of `depth`: tanh(decay depth / 2) / decay. */
double brv_decay_share_integral(double decay, double depth);

/* (exp(-first depth) - exp(-second depth)) / (second - first); symmetric; depth exp(-first depth) when equal. */
double brv_decay_between(double first, double second, double depth);

/* Integral of brv_decay_between from 0 to `depth`. `first` must not be 0. */
double brv_decay_between_integral(double first, double second, double depth);

#endif
