#include "heat/slab.h"

#include "base/array.h"
#include "heat/grid.h"

#include <math.h>
#include <stdbool.h>
#include <stdlib.h>

/* What has gone a way has spread over about as much of it: cells of a hundredth of that leave 1e-4. */
#define DARK_GROWTH 0.01

static double finest_at(const struct brv_slab_grid *grid, double depth)
{
    if (!(grid->dark > 0.0)) return grid->finest;
    return grid->finest + fmin(grid->growth, DARK_GROWTH) * fmax(0.0, depth - grid->dark);
}

/* Layer i, whose top lies at `top`. */
static struct brv_stretch stretch_of(const struct brv_slab_layer layer[], size_t i, size_t n_layer, double top,
                                     const struct brv_slab_grid *grid)
{
    const bool last = i + 1 == n_layer && n_layer > 1;
    const double far_end = last ? (double)INFINITY : finest_at(grid, top + layer[i].thickness);
    return (struct brv_stretch){.length = layer[i].thickness,
                                .first_start = finest_at(grid, top),
                                .first_end = far_end,
                                .growth = grid->growth,
                                .most = grid->most};
}

static brv_status make_room(struct brv_slab *slab, const struct brv_slab_layer layer[], size_t n_layer,
                            const struct brv_slab_grid *grid, struct brv_error *error)
{
    size_t n = 0;
    double top = 0.0;
    for (size_t i = 0; i < n_layer; i++) {
        const struct brv_stretch stretch = stretch_of(layer, i, n_layer, top, grid);
        n += brv_grid_count(&stretch);
        top += layer[i].thickness;
    }
    const brv_status status = brv_chain_build(&slab->chain, n, error);
    if (status) return status;
    slab->n_layer = n_layer;
    slab->face = brv_array_new(n + 1);
    slab->conductivity = brv_array_new(n);
    slab->first_cell = calloc(n_layer + 1, sizeof *slab->first_cell);
    if (slab->face && slab->conductivity && slab->first_cell) return BRV_OK;
    return brv_error_raise(error, BRV_MEMORY, "slab");
}

static void lay_cells(struct brv_slab *slab, const struct brv_slab_layer layer[], const struct brv_slab_grid *grid)
{
    size_t cell = 0;
    for (size_t i = 0; i < slab->n_layer; i++) {
        const struct brv_stretch stretch = stretch_of(layer, i, slab->n_layer, slab->face[cell], grid);
        slab->first_cell[i] = cell;
        const size_t end = cell + brv_grid_lay(&stretch, slab->face + cell);
        for (; cell < end; cell++) {
            const double size = slab->face[cell + 1] - slab->face[cell];
            slab->conductivity[cell] = layer[i].conductivity;
            slab->chain.capacity[cell] = layer[i].heat_capacity * size;
            slab->chain.sink[cell] = layer[i].perfusion * size;
        }
    }
    slab->first_cell[slab->n_layer] = cell;
}

double brv_slab_half_conductance(const struct brv_slab *slab, size_t cell)
{
    return 2.0 * slab->conductivity[cell] / (slab->face[cell + 1] - slab->face[cell]);
}

static double in_series(double one, double other)
{
    if (isinf(other)) return one;
    return one * other / (one + other);
}

static void link_cells(struct brv_slab *slab, double transfer_top, double transfer_bottom)
{
    const size_t n = slab->chain.n;
    slab->chain.link[0] = in_series(brv_slab_half_conductance(slab, 0), transfer_top);
    for (size_t i = 1; i < n; i++)
        slab->chain.link[i] = in_series(brv_slab_half_conductance(slab, i - 1), brv_slab_half_conductance(slab, i));
    slab->chain.link[n] = in_series(brv_slab_half_conductance(slab, n - 1), transfer_bottom);
}

brv_status brv_slab_build(struct brv_slab *slab, const struct brv_slab_layer layer[], size_t n_layer,
                          const struct brv_slab_grid *grid, double transfer_top, double transfer_bottom,
                          struct brv_error *error)
{
    *slab = (struct brv_slab){.n_layer = 0};
    const brv_status status = make_room(slab, layer, n_layer, grid, error);
    if (status) {
        brv_slab_free(slab);
        return status;
    }
    lay_cells(slab, layer, grid);
    link_cells(slab, transfer_top, transfer_bottom);
    return BRV_OK;
}

static double centre(const struct brv_slab *slab, size_t cell)
{
    return 0.5 * (slab->face[cell] + slab->face[cell + 1]);
}

/* Between two centres the rise bends at the face: its value there is the mean weighted with half-conductances. */
static struct brv_reading between_centres(const struct brv_slab *slab, size_t upper, double depth)
{
    const size_t lower = upper + 1;
    const double pull_upper = brv_slab_half_conductance(slab, upper),
                 pull_lower = brv_slab_half_conductance(slab, lower);
    const double face_lower = pull_lower / (pull_upper + pull_lower); /* weight of the lower cell at the face */
    const double face = slab->face[lower];
    const double share = depth < face ? face_lower * (depth - centre(slab, upper)) / (face - centre(slab, upper))
                                      : face_lower + (1.0 - face_lower) * (depth - face) / (centre(slab, lower) - face);
    return (struct brv_reading){{upper, lower}, {1.0 - share, share}};
}

/* Under an insulated surface the profile is even in depth: two cells give value and curvature. */
static struct brv_reading under_insulation(const struct brv_slab *slab, double depth)
{
    const double z0 = centre(slab, 0), z1 = centre(slab, 1);
    const double bend = (z0 * z0 - depth * depth) / (z1 * z1 - z0 * z0);
    return (struct brv_reading){{0, 1}, {1.0 + bend, -bend}};
}

/* Below the last centre the profile falls straight on to what the lower end passes. */
static struct brv_reading above_the_end(const struct brv_slab *slab, double depth)
{
    const size_t last = slab->chain.n - 1;
    const double fall =
        slab->chain.link[last + 1] / brv_slab_half_conductance(slab, last); /* to the end, of the last */
    const double share = (depth - centre(slab, last)) / (slab->face[last + 1] - centre(slab, last));
    return (struct brv_reading){{last, last}, {1.0 - fall * fmin(share, 1.0), 0.0}};
}

struct brv_reading brv_slab_reading(const struct brv_slab *slab, double depth)
{
    const size_t n = slab->chain.n;
    if (depth < centre(slab, 0) && slab->chain.link[0] <= 0.0) return under_insulation(slab, depth);
    size_t upper = brv_array_interval(slab->face, n, depth);
    if (upper > 0 && depth < centre(slab, upper)) upper--;
    if (upper + 1 >= n) return above_the_end(slab, depth);
    return between_centres(slab, upper, depth); /* above the first centre the first line is drawn on */
}

void brv_slab_free(struct brv_slab *slab)
{
    brv_chain_free(&slab->chain);
    free(slab->face);
    free(slab->conductivity);
    free(slab->first_cell);
    *slab = (struct brv_slab){.n_layer = 0};
}
