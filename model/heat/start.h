/* Layered skin at rest: its steady temperature between the surface and the core.
 *     k T'' = sink (T - core) in each layer,   T(0) = surface
 * with k T' the same on both sides of a face. What lies under a finite stack passes `below` x (core - T): 0 nothing,
 * INFINITY the core itself. An endless last layer tends to the core when it is perfused; without perfusion no heat
 * comes up from it.
 *
 * In closed form: the deficit core - T drives heat upwards, and each layer passes the admittance Y = flux / deficit
 * of what lies below it on to its upper face, as a line with losses does,
 *     Y_upper = (Y + sink d t) / (1 + Y d t / k),   t = tanh(m d) / (m d),   m = sqrt(sink / k),
 * from Y = sqrt(k sink) or `below` at the bottom. Positive numbers are added and divided, nothing cancels: thin
 * layers and such without blood keep their digits, thick ones do not overflow. Accuracy: a layer that is cut in two
 * changes nothing beyond 1e-13 (tests/unit/test_start.c). Source: [pennes], perfusion as a sink.                */
#ifndef BRV_HEAT_START_H
#define BRV_HEAT_START_H

#include <stddef.h>

enum { BRV_START_LAYERS = 32 };

struct brv_start {
    size_t n_layer;
    double surface, core;                  /* [K] */
    double flux;                           /* heat that comes up and leaves through the surface [W/m2] */
    double top[BRV_START_LAYERS];          /* depth of each layer's upper face [m] */
    double thickness[BRV_START_LAYERS];    /* INFINITY for an endless last layer [m] */
    double conductivity[BRV_START_LAYERS]; /* [W/m/K] */
    double decay[BRV_START_LAYERS];        /* m = sqrt(sink / conductivity) [1/m] */
    double below[BRV_START_LAYERS];        /* admittance Y at the lower face; INFINITY: the core [W/m2/K] */
    double deficit[BRV_START_LAYERS];      /* core - T at the upper face [K] */
};

/* `sink`: heat the blood takes per volume and kelvin, perfusion x density x heat capacity of blood [W/m3/K], 0 allowed.
 * At most BRV_START_LAYERS layers, from the surface inwards. With surface = core the profile is uniform to the bit.  */
void brv_start_build(struct brv_start *start, size_t n_layer, const double thickness[], const double conductivity[],
                     const double sink[], double below, double surface, double core);

/* Temperature at a depth; below a finite stack that of its lower face [K]. */
double brv_start_temperature(const struct brv_start *start, double depth);

/* Mean over a layer's thickness; of an endless layer, what its upper face has [K]. */
double brv_start_layer_mean(const struct brv_start *start, size_t layer);

#endif
