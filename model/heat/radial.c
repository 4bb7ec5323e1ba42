#include "heat/radial.h"

#include "base/array.h"

#include <assert.h>
#include <gsl/gsl_eigen.h>
#include <math.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>

#define PLACE "brv_radial_build"

static double centre(const struct brv_radial *radial, size_t cell)
{
    return 0.5 * (radial->face[cell] + radial->face[cell + 1]);
}

static double width(const struct brv_radial *radial, size_t cell)
{
    return radial->face[cell + 1] - radial->face[cell];
}

/* ---- the operator ---- */

static void measure_cells(struct brv_radial *radial)
{
    for (size_t i = 0; i < radial->n; i++)
        radial->area[i] = width(radial, i) * (radial->power ? centre(radial, i) : 1.0);
}

/* Conductance through the inner face of a cell; face n leads outside. */
static double link(const struct brv_radial *radial, size_t face)
{
    const size_t n = radial->n;
    const double around = radial->power ? radial->face[face] : 1.0;
    if (face == 0) return 0.0;
    if (face < n) return around / (centre(radial, face) - centre(radial, face - 1));
    return around / (0.5 * width(radial, n - 1) + 1.0 / radial->side); /* a closed end resists without limit */
}

/* The operator made symmetric: -L / area, with values times the root of their area. */
static void fill_matrix(const struct brv_radial *radial, double *matrix)
{
    const size_t n = radial->n;
    for (size_t i = 0; i < n; i++) {
        matrix[i * n + i] = (link(radial, i) + link(radial, i + 1)) / radial->area[i];
        if (i == 0) continue;
        const double pull = -link(radial, i) / sqrt(radial->area[i - 1] * radial->area[i]);
        matrix[i * n + i - 1] = matrix[(i - 1) * n + i] = pull;
    }
}

static brv_status find_modes(struct brv_radial *radial, double *matrix, double *vectors,
                             gsl_eigen_symmv_workspace *work, struct brv_error *error)
{
    const size_t n = radial->n;
    gsl_matrix_view conduction = gsl_matrix_view_array(matrix, n, n);
    gsl_matrix_view columns = gsl_matrix_view_array(vectors, n, n);
    gsl_vector_view values = gsl_vector_view_array(radial->rate, n);
    fill_matrix(radial, matrix);
    int fault = gsl_eigen_symmv(&conduction.matrix, &values.vector, &columns.matrix, work);
    if (!fault) fault = gsl_eigen_symmv_sort(&values.vector, &columns.matrix, GSL_EIGEN_SORT_VAL_ASC);
    if (fault) return brv_error_raise(error, BRV_NUMERICS, PLACE);

    for (size_t mode = 0; mode < n; mode++)
        for (size_t i = 0; i < n; i++) radial->shape[mode * n + i] = vectors[i * n + mode] / sqrt(radial->area[i]);
    return BRV_OK;
}

/* ---- what rounding left ---- */

static double held_by(const struct brv_radial *radial, const double shape[])
{
    double sum = 0.0;
    for (size_t i = 0; i < radial->n; i++) sum += radial->area[i] * shape[i];
    return sum;
}

/* Behind a closed end the first mode is constant and nothing of it is in the others. */
static void close_end(struct brv_radial *radial)
{
    const size_t n = radial->n;
    double area = 0.0;
    for (size_t i = 0; i < n; i++) area += radial->area[i];
    for (size_t i = 0; i < n; i++) radial->shape[i] = 1.0 / sqrt(area);
    for (size_t mode = 1; mode < n; mode++) {
        double *shape = radial->shape + mode * n;
        const double mean = held_by(radial, shape) / area;
        for (size_t i = 0; i < n; i++) shape[i] -= mean;
    }
}

/* The rate of a mode from its slopes: a sum of squares. */
static double rate_of(const struct brv_radial *radial, const double shape[])
{
    const size_t n = radial->n;
    double sum = link(radial, n) * shape[n - 1] * shape[n - 1];
    for (size_t face = 1; face < n; face++) {
        const double drop = shape[face] - shape[face - 1];
        sum += link(radial, face) * drop * drop;
    }
    return sum;
}

/* Every mode is turned to be positive on the axis, so that the library's choice of sign is nowhere seen. */
static void settle_modes(struct brv_radial *radial)
{
    const size_t n = radial->n;
    const bool closed = radial->side <= 0.0;
    const struct brv_reading axis = brv_radial_reading(radial, 0.0);
    if (closed) close_end(radial);
    for (size_t mode = 0; mode < n; mode++) {
        double *shape = radial->shape + mode * n;
        if (brv_radial_shape(radial, mode, &axis) < 0.0)
            for (size_t i = 0; i < n; i++) shape[i] = -shape[i];
        radial->axis[mode] = brv_radial_shape(radial, mode, &axis);
        radial->rate[mode] = rate_of(radial, shape);
        radial->total[mode] = closed && mode > 0 ? 0.0 : held_by(radial, shape);
    }
}

/* ---- room ---- */

static brv_status make_room(struct brv_radial *radial, struct brv_error *error)
{
    const size_t n = radial->n;
    radial->face = brv_array_new(n + 1);
    radial->area = brv_array_new(n);
    radial->rate = brv_array_new(n);
    radial->shape = brv_array_new(n * n);
    radial->axis = brv_array_new(n);
    radial->total = brv_array_new(n);
    if (radial->face && radial->area && radial->rate && radial->shape && radial->axis && radial->total) return BRV_OK;
    return brv_error_raise(error, BRV_MEMORY, PLACE);
}

static brv_status solve(struct brv_radial *radial, struct brv_error *error)
{
    const size_t n = radial->n;
    double *room = brv_array_new(2 * n * n);
    gsl_eigen_symmv_workspace *work = gsl_eigen_symmv_alloc(n);
    const brv_status status =
        room && work ? find_modes(radial, room, room + n * n, work, error) : brv_error_raise(error, BRV_MEMORY, PLACE);
    free(room);
    gsl_eigen_symmv_free(work);
    return status;
}

brv_status brv_radial_build(struct brv_radial *radial, size_t n, const double face[], int power, double side,
                            struct brv_error *error)
{
    assert(n > 1 && (power == 0 || power == 1) && side >= 0.0);
    *radial = (struct brv_radial){.n = n, .power = power, .side = side};
    brv_status status = make_room(radial, error);
    if (!status) {
        memcpy(radial->face, face, (n + 1) * sizeof *face);
        measure_cells(radial);
        status = solve(radial, error);
    }
    if (!status)
        settle_modes(radial);
    else
        brv_radial_free(radial);
    return status;
}

void brv_radial_free(struct brv_radial *radial)
{
    double *const array[] = {radial->face, radial->area, radial->rate, radial->shape, radial->axis, radial->total};
    for (size_t i = 0; i < sizeof array / sizeof *array; i++) free(array[i]);
    *radial = (struct brv_radial){.n = 0};
}

/* ---- there and back ---- */

double brv_radial_amplitude(const struct brv_radial *radial, size_t mode, const double density[], size_t stride)
{
    const size_t n = radial->n;
    const double *shape = radial->shape + mode * n;
    const double outmost = density[(n - 1) * stride]; /* even across the disc, so known without a sum */
    double sum = radial->total[mode] * outmost;
    for (size_t i = 0; i + 1 < n; i++) sum += radial->area[i] * shape[i] * (density[i * stride] - outmost);
    return sum;
}

double brv_radial_density(const struct brv_radial *radial, const double amplitude[], size_t stride, size_t cell)
{
    double sum = 0.0;
    for (size_t mode = 0; mode < radial->n; mode++)
        sum += amplitude[mode * stride] * radial->shape[mode * radial->n + cell];
    return sum;
}

/* Mean of r^2 over a cell: where a parabola about the axis takes the cell's mean. */
static double mean_square(const struct brv_radial *radial, size_t cell)
{
    const double a = radial->face[cell], b = radial->face[cell + 1];
    return radial->power ? 0.5 * (a * a + b * b) : (a * a + a * b + b * b) / 3.0;
}

/* Between the last cell and the outer end: the straight line to what its loss leaves at the end. */
static struct brv_reading near_the_end(const struct brv_radial *radial, double radius)
{
    const size_t last = radial->n - 1;
    const double half = 0.5 * width(radial, last), drop = half / (half + 1.0 / radial->side);
    const double from = sqrt(mean_square(radial, last)), end = radial->face[last + 1];
    return (struct brv_reading){{last, last}, {1.0 - drop * (fmin(radius, end) - from) / (end - from), 0.0}};
}

struct brv_reading brv_radial_reading(const struct brv_radial *radial, double radius)
{
    const size_t n = radial->n;
    const double square = radius * radius;
    size_t inner = brv_array_interval(radial->face, n, radius);
    if (inner > 0 && square < mean_square(radial, inner)) inner--;
    if (inner + 1 >= n) return near_the_end(radial, radius);
    const double here = mean_square(radial, inner), next = mean_square(radial, inner + 1);
    const double share = (square - here) / (next - here); /* below 0 inside the first cell: drawn on to the axis */
    return (struct brv_reading){{inner, inner + 1}, {1.0 - share, share}};
}

double brv_radial_shape(const struct brv_radial *radial, size_t mode, const struct brv_reading *reading)
{
    const double *shape = radial->shape + mode * radial->n;
    return reading->weight[0] * shape[reading->cell[0]] + reading->weight[1] * shape[reading->cell[1]];
}
