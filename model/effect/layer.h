/* How long the heat of a layer at the surface stays there: an evenly heated layer of thickness d, nothing lost through the
 * surface, the same skin below without an end. Time in units of d^2/(4 k), n; image sources, integrated:
 *     surface   erf(x),   x = 1/sqrt(n)
 *     mean      erf(2 x) - (1 - exp(-4 x^2)) / (2 x sqrt(pi))
 * Shares of the rise at the end of the pulse. Heat leaves on one side only, so both fall as 1/sqrt(n), by no exponential:
 * n = 1 is no time after which it is gone. Blood flow, air and another dermis are left out; they change little in a second.
 * Accuracy: exact; tests/unit/test_layer.c by the slab kernel, test_problems.c by quadrature of image sources.
 * Source: [carslaw-jaeger]                                                                                            */
#ifndef BRV_EFFECT_LAYER_H
#define BRV_EFFECT_LAYER_H

double brv_layer_surface(double times); /* left at the surface; times > 0 [1] */
double brv_layer_mean(double times);    /* left in the layer, mean; times > 0 [1] */

#endif
