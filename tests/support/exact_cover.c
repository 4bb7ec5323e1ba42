#include "support/exact_cover.h"

#include <math.h>

static const double pi = 3.14159265358979323846;

double exact_lens(double r, double d)
{
    if (d >= 2.0 * r) return 0.0;
    return 2.0 * r * r * acos(0.5 * d / r) - 0.5 * d * sqrt(4.0 * r * r - d * d);
}

/* A triangle between the three corners, and a cap over each of its sides. */
double exact_three(double r, double d)
{
    if (r <= d / sqrt(3.0)) return 0.0;
    const double corner = sqrt(r * r - 0.25 * d * d) - 0.5 * d / sqrt(3.0); /* from the middle */
    const double side = sqrt(3.0) * corner;
    const double cap = r * r * asin(0.5 * side / r) - 0.5 * side * sqrt(r * r - 0.25 * side * side);
    return 0.25 * sqrt(3.0) * side * side + 3.0 * cap;
}

/* A centre has 3 lenses and 2 triangles of neighbours to itself. */
void exact_cover_hexagonal(double share[4], double overlap)
{
    const double d = 1.0 - overlap, r = 0.5, cell = 0.5 * sqrt(3.0) * d * d;
    const double lens = 3.0 * exact_lens(r, d), three = 2.0 * exact_three(r, d);
    if (r > 0.5 * sqrt(3.0) * d) { /* the next circles but one come in */
        share[0] = share[1] = share[2] = share[3] = NAN;
        return;
    }
    share[3] = three / cell;
    share[2] = (lens - 3.0 * three) / cell;
    share[1] = (pi * r * r - 2.0 * lens + 3.0 * three) / cell;
    share[0] = 1.0 - share[1] - share[2] - share[3];
}

/* A centre has 2 lenses to itself. */
void exact_cover_square(double share[4], double overlap)
{
    const double d = 1.0 - overlap, r = 0.5, cell = d * d, lens = 2.0 * exact_lens(r, d);
    if (r > d / sqrt(2.0)) {
        share[0] = share[1] = share[2] = share[3] = NAN;
        return;
    }
    share[3] = 0.0;
    share[2] = lens / cell;
    share[1] = (pi * r * r - 2.0 * lens) / cell;
    share[0] = 1.0 - share[1] - share[2];
}
