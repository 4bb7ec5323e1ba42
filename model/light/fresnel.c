#include "light/fresnel.h"

#include <math.h>

double brv_fresnel_cosine(double index_from, double cosine_from, double index_to)
{
    const double ratio = index_from / index_to;
    /* 1 - ratio^2 (1 - cosine^2), ordered so that a grazing ray keeps its digits. */
    const double square = (1.0 - ratio) * (1.0 + ratio) + ratio * ratio * cosine_from * cosine_from;
    return square > 0.0 ? sqrt(square) : 0.0;
}

double brv_fresnel_reflectance(double index_from, double cosine_from, double index_to, double cosine_to)
{
    if (cosine_from <= 0.0 || cosine_to <= 0.0) return 1.0;
    const double across =
        (index_from * cosine_from - index_to * cosine_to) / (index_from * cosine_from + index_to * cosine_to);
    const double along =
        (index_to * cosine_from - index_from * cosine_to) / (index_to * cosine_from + index_from * cosine_to);
    return 0.5 * (across * across + along * along);
}
