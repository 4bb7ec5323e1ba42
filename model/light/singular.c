#include "light/singular.h"

#include <float.h>
#include <math.h>
#include <stdbool.h>

enum { MOST_SWEEPS = 60 }; /* ten are usual */

static double dot(const double *a, const double *b, size_t n)
{
    double sum = 0.0;
    for (size_t i = 0; i < n; i++) sum += a[i] * b[i];
    return sum;
}

static void rotate(double *a, double *b, double cosine, double sine, size_t n)
{
    for (size_t i = 0; i < n; i++) {
        const double first = a[i], second = b[i];
        a[i] = cosine * first - sine * second;
        b[i] = sine * first + cosine * second;
    }
}

/* Puts two columns at right angles; false when they already are, or when one is a zero but for rounding (its length
 * squared below `nothing`), which has no direction to turn.                                                      */
static bool straighten(double *a, double *b, double *turn_a, double *turn_b, size_t n, double nothing)
{
    const double aa = dot(a, a, n), bb = dot(b, b, n), ab = dot(a, b, n);
    if (fmin(aa, bb) <= nothing || fabs(ab) <= DBL_EPSILON * (double)n * sqrt(aa * bb)) return false;
    const double slope = (bb - aa) / (2.0 * ab);
    const double tangent = copysign(1.0, slope) / (fabs(slope) + sqrt(1.0 + slope * slope));
    const double cosine = 1.0 / sqrt(1.0 + tangent * tangent), sine = cosine * tangent;
    rotate(a, b, cosine, sine, n);
    rotate(turn_a, turn_b, cosine, sine, n);
    return true;
}

static bool sweep(double *column, double *turn, size_t n, double nothing)
{
    bool turned = false;
    for (size_t i = 0; i + 1 < n; i++)
        for (size_t j = i + 1; j < n; j++)
            if (straighten(column + i * n, column + j * n, turn + i * n, turn + j * n, n, nothing)) turned = true;
    return turned;
}

brv_status brv_singular_turn(double *column, double *turn, double *value, size_t n, struct brv_error *error)
{
    for (size_t i = 0; i < n * n; i++) turn[i] = i / n == i % n ? 1.0 : 0.0;
    const double nothing = DBL_EPSILON * DBL_EPSILON * dot(column, column, n * n);
    bool turned = true;
    for (size_t count = 0; turned && count < MOST_SWEEPS; count++) turned = sweep(column, turn, n, nothing);
    for (size_t i = 0; i < n; i++) value[i] = sqrt(dot(column + i * n, column + i * n, n));
    return turned ? brv_error_raise(error, BRV_NUMERICS, "brv_singular_turn") : BRV_OK;
}
