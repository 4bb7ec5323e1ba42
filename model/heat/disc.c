#include "heat/disc.h"

#include "base/array.h"
#include "heat/grid.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

/* ---- cells across ---- */

/* Chosen by measuring the axis under flat and gaussian spots; the finest cell as a share of the spot's radius. */
#define FINEST 0.025
#define GROWTH 0.109

struct brv_disc_grid brv_disc_grid_for(double diameter, double reach, double fineness)
{
    const double radius = 0.5 * diameter;
    return (struct brv_disc_grid){
        .radius = radius, .reach = reach, .finest = FINEST * radius / fineness, .growth = GROWTH / fineness};
}

static struct brv_stretch inside(const struct brv_disc_grid *grid)
{
    return (struct brv_stretch){.length = grid->radius,
                                .first_start = grid->finest,
                                .first_end = grid->finest,
                                .growth = grid->growth,
                                .most = INFINITY};
}

static struct brv_stretch outside(const struct brv_disc_grid *grid)
{
    return (struct brv_stretch){.length = grid->reach - grid->radius,
                                .first_start = grid->finest,
                                .first_end = INFINITY,
                                .growth = grid->growth,
                                .most = INFINITY};
}

size_t brv_disc_count(const struct brv_disc_grid *grid)
{
    const struct brv_stretch in = inside(grid), out = outside(grid);
    return brv_grid_count(&in) + brv_grid_count(&out);
}

size_t brv_disc_faces(const struct brv_disc_grid *grid, double face[])
{
    const struct brv_stretch in = inside(grid), out = outside(grid);
    face[0] = 0.0;
    const size_t rim = brv_grid_lay(&in, face);
    return rim + brv_grid_lay(&out, face + rim);
}

/* ---- one mode ---- */

void brv_disc_mode(struct brv_chain *chain, const struct brv_slab *slab, const struct brv_radial *radial, size_t mode)
{
    const size_t n = slab->chain.n;
    assert(chain->n == n);
    memcpy(chain->capacity, slab->chain.capacity, n * sizeof *chain->capacity);
    memcpy(chain->link, slab->chain.link, (n + 1) * sizeof *chain->link);
    for (size_t i = 0; i < n; i++) {
        const double across = slab->conductivity[i] * (slab->face[i + 1] - slab->face[i]);
        chain->sink[i] = slab->chain.sink[i] + across * radial->rate[mode];
        chain->rise[i] = chain->peak[i] = 0.0;
    }
}

void brv_disc_amplitude(double amplitude[], const struct brv_radial *radial, size_t mode, const double density[],
                        size_t n_depth)
{
    for (size_t i = 0; i < n_depth; i++) amplitude[i] = brv_radial_amplitude(radial, mode, density + i, n_depth);
}

/* ---- a disc at one time ---- */

brv_status brv_disc_field_build(struct brv_disc_field *field, size_t n, size_t n_depth, struct brv_error *error)
{
    *field = (struct brv_disc_field){.n = n, .n_depth = n_depth, .amplitude = brv_array_new(n * n_depth)};
    if (field->amplitude) return BRV_OK;
    brv_disc_field_free(field);
    return brv_error_raise(error, BRV_MEMORY, "disc field");
}

double brv_disc_rise(const struct brv_disc_field *field, const struct brv_radial *radial, size_t cell, size_t depth)
{
    return brv_radial_density(radial, field->amplitude + depth, field->n_depth, cell);
}

double brv_disc_read(const struct brv_disc_field *field, const struct brv_radial *radial,
                     const struct brv_reading *across, const struct brv_reading *depth)
{
    double sum = 0.0;
    for (size_t mode = 0; mode < field->n; mode++) {
        const double *amplitude = field->amplitude + mode * field->n_depth;
        sum += brv_radial_shape(radial, mode, across) *
               (depth->weight[0] * amplitude[depth->cell[0]] + depth->weight[1] * amplitude[depth->cell[1]]);
    }
    return sum;
}

double brv_disc_stored(const struct brv_disc_field *field, const struct brv_radial *radial, const struct brv_slab *slab)
{
    double sum = 0.0;
    for (size_t mode = 0; mode < field->n; mode++) {
        const double *amplitude = field->amplitude + mode * field->n_depth;
        double stored = 0.0;
        for (size_t i = 0; i < field->n_depth; i++) stored += slab->chain.capacity[i] * amplitude[i];
        sum += radial->total[mode] * stored;
    }
    return sum;
}

void brv_disc_field_free(struct brv_disc_field *field)
{
    free(field->amplitude);
    *field = (struct brv_disc_field){.n = 0};
}
