#include "heat/grid.h"

#include <math.h>

/* A stretch in three pieces: cells widen from the start, stay at their widest, narrow towards the end. */
struct pieces {
    double rise, flat, fall;              /* lengths [m] */
    double count_rise, count_flat, count; /* cells in the first, the second and all pieces */
};

/* Cells in the first `length` of a ramp that begins with size `first`, and the other way round. */
static double ramp_count(double first, double growth, double length)
{
    return length > 0.0 ? log1p(growth * length / first) / growth : 0.0;
}

static double ramp_length(double first, double growth, double count)
{
    return count > 0.0 ? first * expm1(growth * count) / growth : 0.0;
}

static double between(double least, double value, double most)
{
    return fmax(least, fmin(value, most));
}

static struct pieces split(const struct brv_stretch *s)
{
    struct pieces p;
    double meet = s->length; /* where the two ramps cross */
    if (isinf(s->first_start)) meet = 0.0;
    if (isfinite(s->first_start) && isfinite(s->first_end))
        meet = between(0.0, 0.5 * (s->length + (s->first_end - s->first_start) / s->growth), s->length);

    p.rise = between(0.0, (s->most - s->first_start) / s->growth, meet);
    p.fall = between(0.0, (s->most - s->first_end) / s->growth, s->length - meet);
    if (isinf(s->first_start)) p.rise = 0.0;
    if (isinf(s->first_end)) p.fall = 0.0;
    p.flat = s->length - p.rise - p.fall;
    p.count_rise = ramp_count(s->first_start, s->growth, p.rise);
    p.count_flat = p.flat > 0.0 ? p.flat / s->most : 0.0;
    p.count = p.count_rise + p.count_flat + ramp_count(s->first_end, s->growth, p.fall);
    return p;
}

size_t brv_grid_count(const struct brv_stretch *stretch)
{
    return (size_t)fmax(2.0, ceil(split(stretch).count - 1e-9)); /* a whole number stays one despite rounding */
}

/* Distance from the start at which `count` cells are complete. */
static double place_of(const struct brv_stretch *s, const struct pieces *p, double count)
{
    if (count <= p->count_rise) return ramp_length(s->first_start, s->growth, count);
    if (count <= p->count_rise + p->count_flat) return p->rise + (count - p->count_rise) * s->most;
    return s->length - ramp_length(s->first_end, s->growth, p->count - count);
}

size_t brv_grid_lay(const struct brv_stretch *stretch, double face[])
{
    const struct pieces p = split(stretch);
    const size_t n = brv_grid_count(stretch);
    for (size_t i = 1; i < n; i++) face[i] = face[0] + place_of(stretch, &p, p.count * (double)i / (double)n);
    face[n] = face[0] + stretch->length;
    return n;
}
