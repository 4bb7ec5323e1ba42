#include "heat/sphere.h"

#include "base/array.h"
#include "heat/grid.h"

#include <math.h>
#include <stdlib.h>

static struct brv_stretch inside(const struct brv_sphere_ask *ask)
{
    return (struct brv_stretch){.length = ask->radius,
                                .first_start = INFINITY,
                                .first_end = ask->finest,
                                .growth = ask->growth,
                                .most = ask->most};
}

static struct brv_stretch outside(const struct brv_sphere_ask *ask)
{
    const double end = isfinite(ask->cell_radius) ? ask->cell_radius : ask->reach;
    return (struct brv_stretch){.length = end - ask->radius,
                                .first_start = ask->finest,
                                .first_end = INFINITY,
                                .growth = ask->growth,
                                .most =
                                    isfinite(ask->cell_radius) ? fmax(ask->most, ask->most_around) : (double)INFINITY};
}

double brv_sphere_shell(const struct brv_sphere *sphere, size_t cell)
{
    const double a = sphere->face[cell], b = sphere->face[cell + 1];
    return (b - a) * (a * a + a * b + b * b) / 3.0;
}

static double centre_of(const struct brv_sphere *sphere, size_t cell)
{
    return 0.5 * (sphere->face[cell] + sphere->face[cell + 1]);
}

static double conductivity(const struct brv_sphere *sphere, const struct brv_sphere_ask *ask, size_t cell)
{
    return cell < sphere->n_grain ? ask->conductivity : ask->host_conductivity;
}

/* Conductance per steradian from a cell's centre to a face at radius r. */
static double half_conductance(const struct brv_sphere *sphere, const struct brv_sphere_ask *ask, size_t cell, double r)
{
    return r * r * conductivity(sphere, ask, cell) / fabs(r - centre_of(sphere, cell));
}

static double in_series(double one, double other)
{
    return one * other / (one + other);
}

static void lay_cells(struct brv_sphere *sphere, const struct brv_sphere_ask *ask)
{
    const struct brv_stretch in = inside(ask), out = outside(ask);
    sphere->n_grain = brv_grid_lay(&in, sphere->face);
    brv_grid_lay(&out, sphere->face + sphere->n_grain);
    for (size_t i = 0; i < sphere->chain.n; i++)
        sphere->chain.capacity[i] =
            brv_sphere_shell(sphere, i) * (i < sphere->n_grain ? ask->heat_capacity : ask->host_heat_capacity);
}

static void link_cells(struct brv_sphere *sphere, const struct brv_sphere_ask *ask)
{
    const size_t n = sphere->chain.n;
    for (size_t i = 1; i < n; i++) {
        const double r = sphere->face[i];
        sphere->chain.link[i] = in_series(half_conductance(sphere, ask, i - 1, r), half_conductance(sphere, ask, i, r));
    }
    if (isfinite(ask->cell_radius)) return;
    const double end = sphere->face[n];
    sphere->chain.link[n] = in_series(half_conductance(sphere, ask, n - 1, end), end * ask->host_conductivity);
}

/* At the centre the profile is even in r: the first two cells give value and curvature. */
static struct brv_reading centre_reading(const struct brv_sphere *sphere)
{
    const double r0 = centre_of(sphere, 0), r1 = centre_of(sphere, 1);
    const double bend = r0 * r0 / (r1 * r1 - r0 * r0);
    return (struct brv_reading){{0, 1}, {1.0 + bend, -bend}};
}

static struct brv_reading surface_reading(const struct brv_sphere *sphere, const struct brv_sphere_ask *ask)
{
    const size_t last = sphere->n_grain - 1;
    const double inner = half_conductance(sphere, ask, last, sphere->radius);
    const double outer = half_conductance(sphere, ask, last + 1, sphere->radius);
    return (struct brv_reading){{last, last + 1}, {inner / (inner + outer), outer / (inner + outer)}};
}

static brv_status make_room(struct brv_sphere *sphere, const struct brv_sphere_ask *ask, struct brv_error *error)
{
    const struct brv_stretch in = inside(ask), out = outside(ask);
    const size_t n = brv_grid_count(&in) + brv_grid_count(&out);
    const brv_status status = brv_chain_build(&sphere->chain, n, error);
    if (status) return status;
    sphere->face = brv_array_new(n + 1);
    return sphere->face ? BRV_OK : brv_error_raise(error, BRV_MEMORY, "sphere");
}

brv_status brv_sphere_build(struct brv_sphere *sphere, const struct brv_sphere_ask *ask, struct brv_error *error)
{
    *sphere = (struct brv_sphere){.radius = ask->radius};
    const brv_status status = make_room(sphere, ask, error);
    if (status) {
        brv_sphere_free(sphere);
        return status;
    }
    lay_cells(sphere, ask);
    link_cells(sphere, ask);
    sphere->centre = centre_reading(sphere);
    sphere->surface = surface_reading(sphere, ask);
    return BRV_OK;
}

struct brv_reading brv_sphere_reading(const struct brv_sphere *sphere, double radius)
{
    const size_t n = sphere->chain.n;
    if (radius <= centre_of(sphere, 0)) return sphere->centre;
    if (radius == sphere->radius) return sphere->surface;

    size_t cell = brv_array_interval(sphere->face, n, radius);
    if (radius < centre_of(sphere, cell)) cell--;
    if (cell + 1 >= n) return (struct brv_reading){{n - 1, n - 1}, {1.0, 0.0}};
    const double share = (radius - centre_of(sphere, cell)) / (centre_of(sphere, cell + 1) - centre_of(sphere, cell));
    return (struct brv_reading){{cell, cell + 1}, {1.0 - share, share}};
}

static double mean_rise(const struct brv_chain *chain, size_t end)
{
    double heat = 0.0, capacity = 0.0;
    for (size_t i = 0; i < end; i++) {
        heat += chain->capacity[i] * chain->rise[i];
        capacity += chain->capacity[i];
    }
    return heat / capacity;
}

double brv_sphere_grain_mean(const struct brv_sphere *sphere)
{
    return mean_rise(&sphere->chain, sphere->n_grain);
}

double brv_sphere_cell_mean(const struct brv_sphere *sphere)
{
    return mean_rise(&sphere->chain, sphere->chain.n);
}

void brv_sphere_free(struct brv_sphere *sphere)
{
    brv_chain_free(&sphere->chain);
    free(sphere->face);
    *sphere = (struct brv_sphere){.n_grain = 0};
}
