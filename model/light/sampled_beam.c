/* What a beam has, from the response of a pencil: sums over rings, and the error of every sum. */
#include "light/sampled.h"

#include "base/constants.h"

#include <assert.h>
#include <math.h>

enum { CIRCLES = 4, ANGLES = 48 }; /* of the mean of a profile over a ring about a point beside the axis */

/* A beam seen from a point: mean of its profile over rings about that point. */
struct view {
    double edge; /* half the diameter [m] */
    bool gaussian;
    double away; /* of the point from the axis [m] */
};

/* var(mean) = sum n_g (y_g - y)^2 / ((groups - 1) N): groups may differ in their photons n_g. */
struct brv_mean brv_sampled_mean(const struct brv_sampled *light, const double sum[])
{
    if (light->photons == 0) return (struct brv_mean){0.0, INFINITY};
    const double n = (double)light->photons;
    double all = 0.0, spread = 0.0;
    for (size_t group = 0; group < light->n_group; group++) all += sum[group];
    const double mean = all / n;
    for (size_t group = 0; group < light->n_group; group++) {
        const double departure = sum[group] / light->share[group] - mean;
        spread += light->share[group] * departure * departure;
    }
    if (light->n_group < 2) return (struct brv_mean){mean, INFINITY};
    return (struct brv_mean){mean, sqrt(spread / ((double)(light->n_group - 1) * n))};
}

/* About the axis: exact for the Gaussian, shared by area where the edge of a flat beam cuts the ring. */
static double centred(const struct view *view, double inner, double outer)
{
    const double edge = view->edge;
    if (!view->gaussian)
        return fmin(fmax((edge - inner) * (edge + inner) / ((outer - inner) * (outer + inner)), 0.0), 1.0);
    const double from = 2.0 * (inner / edge) * (inner / edge);
    const double through = 2.0 * (outer - inner) / edge * ((outer + inner) / edge);
    return exp(-from) * -expm1(-through) / through;
}

/* Share of a circle about the point that lies within a flat beam. */
static double arc(const struct view *view, double radius)
{
    const double nearest = fabs(radius - view->away), farthest = radius + view->away;
    if (farthest <= view->edge) return 1.0;
    if (nearest >= view->edge) return 0.0;
    const double cosine =
        (radius * radius + view->away * view->away - view->edge * view->edge) / (2.0 * radius * view->away);
    return acos(fmin(fmax(cosine, -1.0), 1.0)) / BRV_PI;
}

/* Mean of exp(-2 d^2 / w^2) along the circle: the trapezoidal rule, exact to rounding for so smooth a function while
 * the exponent swings by less than about ANGLES, and beyond that where the beam is still bright.                   */
static double bell(const struct view *view, double radius)
{
    double sum = 0.0;
    for (size_t i = 0; i < ANGLES; i++) {
        const double cosine = cos(2.0 * BRV_PI * ((double)i + 0.5) / ANGLES);
        const double square = radius * radius + view->away * view->away - 2.0 * radius * view->away * cosine;
        sum += exp(-2.0 * square / (view->edge * view->edge));
    }
    return sum / ANGLES;
}

static double profile(const struct view *view, double inner, double outer)
{
    if (view->away == 0.0) return centred(view, inner, outer);
    double sum = 0.0;
    for (size_t i = 0; i < CIRCLES; i++) {
        const double share = ((double)i + 0.5) / CIRCLES;
        const double radius = sqrt(inner * inner + share * (outer - inner) * (outer + inner));
        sum += view->gaussian ? bell(view, radius) : arc(view, radius);
    }
    return sum / CIRCLES;
}

static void add_ring(const struct brv_sampled *light, size_t cell, size_t ring, double weight, double sum[])
{
    if (!(weight > 0.0)) return;
    const size_t columns = light->n_ring + 1;
    const double *response = light->response + cell * columns + ring;
    for (size_t group = 0; group < light->n_group; group++)
        sum[group] += weight * response[group * light->n_depth * columns];
}

void brv_sampled_weigh(double weight[], const struct brv_sampled *light, double diameter, bool gaussian, double radius)
{
    assert(diameter > 0.0 && radius >= 0.0);
    const struct view view = {0.5 * diameter, gaussian, radius};
    for (size_t ring = 0; ring < light->n_ring; ring++)
        weight[ring] = profile(&view, light->ring[ring], light->ring[ring + 1]);
}

struct brv_mean brv_sampled_weighed(const struct brv_sampled *light, const double weight[], size_t depth_cell)
{
    assert(depth_cell < light->n_depth);
    double sum[BRV_SAMPLED_GROUPS] = {0.0};
    for (size_t ring = 0; ring < light->n_ring; ring++) add_ring(light, depth_cell, ring, weight[ring], sum);
    return brv_sampled_mean(light, sum);
}

struct brv_mean brv_sampled_beside(const struct brv_sampled *light, double diameter, bool gaussian, double radius,
                                   size_t depth_cell)
{
    assert(depth_cell < light->n_depth && diameter > 0.0 && radius >= 0.0);
    const struct view view = {0.5 * diameter, gaussian, radius};
    double sum[BRV_SAMPLED_GROUPS] = {0.0};
    for (size_t ring = 0; ring < light->n_ring; ring++)
        add_ring(light, depth_cell, ring, profile(&view, light->ring[ring], light->ring[ring + 1]), sum);
    return brv_sampled_mean(light, sum);
}

struct brv_mean brv_sampled_axis(const struct brv_sampled *light, double diameter, bool gaussian, size_t depth_cell)
{
    return brv_sampled_beside(light, diameter, gaussian, 0.0, depth_cell);
}

struct brv_mean brv_sampled_wide(const struct brv_sampled *light, size_t depth_cell)
{
    assert(depth_cell < light->n_depth);
    double sum[BRV_SAMPLED_GROUPS] = {0.0};
    for (size_t ring = 0; ring <= light->n_ring; ring++) add_ring(light, depth_cell, ring, 1.0, sum);
    return brv_sampled_mean(light, sum);
}

struct brv_mean brv_sampled_ring(const struct brv_sampled *light, size_t depth_cell, size_t ring)
{
    assert(depth_cell < light->n_depth && ring <= light->n_ring);
    double sum[BRV_SAMPLED_GROUPS] = {0.0};
    add_ring(light, depth_cell, ring, 1.0, sum);
    return brv_sampled_mean(light, sum);
}

void brv_sampled_rings(double *ring, size_t n)
{
    const double first = 10e-6, last = 16e-3;
    assert(n >= 2);
    ring[0] = 0.0;
    for (size_t i = 1; i <= n; i++) ring[i] = first * pow(last / first, (double)(i - 1) / (double)(n - 1));
}
