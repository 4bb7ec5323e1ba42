#include "heat/start.h"

#include <assert.h>
#include <math.h>

/* tanh(x) / x, 1 at x = 0. */
static double tanh_over(double x)
{
    return x > 0.0 ? tanh(x) / x : 1.0;
}

/* d t / k: what a layer's lower `distance` resists, with the heat it takes up itself [m2 K/W]. */
static double resistance(const struct brv_start *start, size_t layer, double distance)
{
    return distance / start->conductivity[layer] * tanh_over(start->decay[layer] * distance);
}

/* Admittance at the upper face of a layer. */
static double admittance(const struct brv_start *start, size_t layer)
{
    const double k = start->conductivity[layer], m = start->decay[layer], below = start->below[layer];
    if (isinf(start->thickness[layer])) return k * m;
    const double r = resistance(start, layer, start->thickness[layer]);
    if (isinf(below)) return 1.0 / r;
    return (below + k * m * k * m * r) / (1.0 + below * r);
}

/* The deficit at depth `into` of a finite layer, as a share of that at its upper face. cosh(m distance) / cosh(m d)
 * is written with exponentials that only fall.                                                                  */
static double share_left(const struct brv_start *start, size_t layer, double into)
{
    const double d = start->thickness[layer], m = start->decay[layer], below = start->below[layer];
    const double distance = fmax(d - into, 0.0); /* to the lower face */
    const double here = resistance(start, layer, distance), whole = resistance(start, layer, d);
    const double bend = exp(-m * into) * (1.0 + exp(-2.0 * m * distance)) / (1.0 + exp(-2.0 * m * d));
    return isinf(below) ? bend * here / whole : bend * (1.0 + below * here) / (1.0 + below * whole);
}

/* Mean deficit of a finite layer as a share of that at its upper face: the integral of share_left, with
 * (cosh x - 1) / (x^2 cosh x) = t(x) t(x/2) / 2.                                                              */
static double mean_share(const struct brv_start *start, size_t layer)
{
    const double d = start->thickness[layer], m = start->decay[layer], below = start->below[layer];
    const double whole = resistance(start, layer, d);
    const double half = 0.5 * d / start->conductivity[layer] * tanh_over(0.5 * m * d);
    if (isinf(below)) return half * tanh_over(m * d) / whole;
    return tanh_over(m * d) * (1.0 + below * half) / (1.0 + below * whole);
}

/* Places and, from below upwards, the admittances. Returns that of the surface. */
static double lay_layers(struct brv_start *start, const double thickness[], const double conductivity[],
                         const double sink[], double below)
{
    double top = 0.0, upper = below; /* an endless layer does not look */
    for (size_t i = 0; i < start->n_layer; i++) {
        assert(thickness[i] > 0.0 && conductivity[i] > 0.0 && sink[i] >= 0.0);
        assert(isfinite(thickness[i]) || i + 1 == start->n_layer);
        start->top[i] = top;
        start->thickness[i] = thickness[i];
        start->conductivity[i] = conductivity[i];
        start->decay[i] = sqrt(sink[i] / conductivity[i]);
        top += thickness[i];
    }
    for (size_t i = start->n_layer; i-- > 0;) {
        start->below[i] = upper;
        upper = admittance(start, i);
    }
    return upper;
}

void brv_start_build(struct brv_start *start, size_t n_layer, const double thickness[], const double conductivity[],
                     const double sink[], double below, double surface, double core)
{
    assert(n_layer > 0 && n_layer <= BRV_START_LAYERS);
    *start = (struct brv_start){.n_layer = n_layer, .surface = surface, .core = core};
    start->flux = lay_layers(start, thickness, conductivity, sink, below) * (core - surface);
    start->deficit[0] = core - surface;
    for (size_t i = 0; i + 1 < n_layer; i++)
        start->deficit[i + 1] = start->deficit[i] * share_left(start, i, start->thickness[i]);
}

double brv_start_temperature(const struct brv_start *start, double depth)
{
    size_t layer = start->n_layer - 1;
    while (layer > 0 && depth < start->top[layer]) layer--;
    const double into = depth - start->top[layer], thickness = start->thickness[layer];
    if (depth <= 0.0) return start->surface;
    if (isinf(thickness)) return start->core - start->deficit[layer] * exp(-start->decay[layer] * into);
    return start->core - start->deficit[layer] * share_left(start, layer, fmin(into, thickness));
}

double brv_start_layer_mean(const struct brv_start *start, size_t layer)
{
    const double share = isinf(start->thickness[layer]) ? 1.0 : mean_share(start, layer);
    return start->core - start->deficit[layer] * share;
}
