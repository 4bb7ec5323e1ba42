#include "support/exact_disc.h"

#include <gsl/gsl_integration.h>
#include <gsl/gsl_sf_bessel.h>
#include <math.h>

static const double pi = 3.14159265358979323846;

/* ---- discs on a half-space ---- */

double exact_disc_at_once(double time, double depth, double radius)
{
    const double slab = exp(-0.25 * depth * depth / time) / sqrt(pi * time);
    return isinf(radius) ? slab : -slab * expm1(-0.25 * radius * radius / time);
}

static double ierfc(double x)
{
    return exp(-x * x) / sqrt(pi) - x * erfc(x);
}

double exact_disc_flux(double time, double depth, double radius)
{
    const double spread = 2.0 * sqrt(time);
    const double rim = isinf(radius) ? 0.0 : ierfc(hypot(depth, radius) / spread);
    return spread * (ierfc(depth / spread) - rim);
}

double exact_disc_flux_steady(double depth, double radius)
{
    return hypot(depth, radius) - depth;
}

double exact_disc_gaussian(double time, double depth, double e2_radius)
{
    return exact_disc_at_once(time, depth, INFINITY) / (1.0 + 8.0 * time / (e2_radius * e2_radius));
}

struct ring {
    double time, e2_radius;
};

/* Share of the axis that a ring of the spot sends there: heat kernel across, (1 / 2t) exp(-r^2/4t) r dr. */
static double ring_share(double r, void *with)
{
    const struct ring *ring = with;
    return exp(-2.0 * r * r / (ring->e2_radius * ring->e2_radius) - 0.25 * r * r / ring->time) * 0.5 * r / ring->time;
}

double exact_disc_gaussian_by_rings(double time, double depth, double e2_radius)
{
    double across, error;
    struct ring ring = {time, e2_radius};
    gsl_integration_workspace *space = gsl_integration_workspace_alloc(400);
    gsl_function function = {ring_share, &ring};
    gsl_integration_qagiu(&function, 0.0, 0.0, 1e-11, 400, space, &across, &error);
    gsl_integration_workspace_free(space);
    return across * exact_disc_at_once(time, depth, INFINITY);
}

/* ---- plates and cylinders ---- */

/* Root of a function that falls or rises through 0 once between two places. */
static double root(double (*f)(double x, double biot), double biot, double low, double high)
{
    const double sign = f(low, biot) > 0.0 ? 1.0 : -1.0;
    for (int i = 0; i < 200; i++) {
        const double middle = 0.5 * (low + high);
        if (sign * f(middle, biot) > 0.0)
            low = middle;
        else
            high = middle;
    }
    return 0.5 * (low + high);
}

static double plate_end(double x, double biot)
{
    return x * sin(x) - biot * cos(x);
}

static double cylinder_end(double x, double biot)
{
    return x * gsl_sf_bessel_J1(x) - biot * gsl_sf_bessel_J0(x);
}

static double plate_root(unsigned i, double biot)
{
    const double held = pi * (i + 0.5);
    return isinf(biot) ? held : root(plate_end, biot, pi * i, held);
}

static double cylinder_root(unsigned i, double biot)
{
    const double held = gsl_sf_bessel_zero_J0(i + 1), closed = i ? gsl_sf_bessel_zero_J1(i) : 0.0;
    return isinf(biot) ? held : root(cylinder_end, biot, closed, held);
}

/* The mode cos(b x) or J0(b r) in a body warmed evenly by 1: its share times its value at a place. */
static double plate_mode(double b, double place)
{
    return 4.0 * sin(b) / (2.0 * b + sin(2.0 * b)) * cos(b * place);
}

static double cylinder_mode(double b, double radius)
{
    const double j0 = gsl_sf_bessel_J0(b), j1 = gsl_sf_bessel_J1(b);
    return 2.0 * j1 / (b * (j0 * j0 + j1 * j1)) * gsl_sf_bessel_J0(b * radius);
}

double exact_plate_cooling(double time, double place, double biot)
{
    double sum = 0.0;
    for (unsigned i = 0; i < 400; i++) {
        const double b = plate_root(i, biot);
        if (b * b * time > 700.0) break;
        sum += plate_mode(b, place) * exp(-b * b * time);
    }
    return sum;
}

double exact_cylinder_cooling(double time, double radius, double biot)
{
    double sum = 0.0;
    for (unsigned i = 0; i < 400; i++) {
        const double b = cylinder_root(i, biot);
        if (b * b * time > 700.0) break;
        sum += cylinder_mode(b, radius) * exp(-b * b * time);
    }
    return sum;
}

/* How far a mode reaches into the body: b cosh(b x) + biot sinh(b x), x from the far end, over its value at the held. */
static double reach(double b, double depth, double length, double biot)
{
    const double here = b + biot + (b - biot) * exp(-2.0 * b * (length - depth));
    const double held = b + biot + (b - biot) * exp(-2.0 * b * length);
    return exp(-b * depth) * here / held;
}

double exact_plate_held(double depth, double length, double biot)
{
    double sum = 0.0;
    for (unsigned i = 0; i < 400; i++) {
        const double b = plate_root(i, biot);
        sum += plate_mode(b, 1.0) * reach(b, depth, length, biot);
    }
    return sum;
}

double exact_cylinder_held(double depth, double length, double biot)
{
    double sum = 0.0;
    for (unsigned i = 0; i < 400; i++) {
        const double b = cylinder_root(i, biot);
        sum += cylinder_mode(b, 1.0) * reach(b, depth, length, biot);
    }
    return sum;
}
