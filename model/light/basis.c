#include "light/basis.h"

#include "base/array.h"

#include <gsl/gsl_blas.h>
#include <gsl/gsl_linalg.h>
#include <math.h>
#include <stdlib.h>

static double weight(const struct brv_basis *basis, const struct brv_rays *rays, size_t ray)
{
    const double strength = rays->strength[ray] / basis->index;
    return strength * strength / basis->cosine[ray];
}

/* One row of a table of shapes: sqrt(w (2l + 1)) P_l(mu) for l = first, first + 2, ... */
static void fill_row(double *row, size_t n, size_t first, double cosine, double root_weight)
{
    double before = 0.0, now = 1.0;
    for (size_t order = 0; order < 2 * n; order++) {
        if (order % 2 == first) row[order / 2] = root_weight * sqrt(2.0 * (double)order + 1.0) * now;
        const double l = (double)order;
        const double next = ((2.0 * l + 1.0) * cosine * now - l * before) / (l + 1.0);
        before = now;
        now = next;
    }
}

/* The columns of `raw` made orthonormal in order, each turned to point along the polynomial it came from. */
static int orthonormalise(double *shapes, double *raw, double *room, double *scale, size_t n)
{
    gsl_matrix_view q = gsl_matrix_view_array(shapes, n, n);
    gsl_matrix_view r = gsl_matrix_view_array(room, n, n);
    gsl_matrix_view packed = gsl_matrix_view_array(raw, n, n);
    gsl_vector_view factor = gsl_vector_view_array(scale, n);
    int fault = gsl_linalg_QR_decomp(&packed.matrix, &factor.vector);
    if (!fault) fault = gsl_linalg_QR_unpack(&packed.matrix, &factor.vector, &q.matrix, &r.matrix);
    for (size_t column = 0; column < n && !fault; column++)
        if (room[column * n + column] < 0.0)
            for (size_t ray = 0; ray < n; ray++) shapes[ray * n + column] *= -1.0;
    return fault;
}

static int build_shapes(struct brv_basis *basis, const struct brv_rays *rays, double *work)
{
    const size_t n = basis->n;
    double *raw = work, *room = work + n * n, *scale = work + 2 * n * n;
    double *shapes[] = {basis->even, basis->odd};
    int fault = 0;
    for (size_t first = 0; first < 2 && !fault; first++) {
        for (size_t ray = 0; ray < n; ray++)
            fill_row(raw + ray * n, n, first, basis->cosine[ray], sqrt(weight(basis, rays, ray)));
        fault = orthonormalise(shapes[first], raw, room, scale, n);
    }
    return fault;
}

static void build_coupling(struct brv_basis *basis, double *over_cosine)
{
    const size_t n = basis->n;
    for (size_t ray = 0; ray < n; ray++)
        for (size_t column = 0; column < n; column++)
            over_cosine[ray * n + column] = basis->odd[ray * n + column] / basis->cosine[ray];
    gsl_matrix_const_view even = gsl_matrix_const_view_array(basis->even, n, n);
    gsl_matrix_const_view right = gsl_matrix_const_view_array(over_cosine, n, n);
    gsl_matrix_view product = gsl_matrix_view_array(basis->coupling, n, n);
    gsl_blas_dgemm(CblasTrans, CblasNoTrans, 1.0, &even.matrix, &right.matrix, 0.0, &product.matrix);
}

static void look_at_rays(struct brv_basis *basis, const struct brv_rays *rays)
{
    double sum = 0.0;
    for (size_t ray = 0; ray < basis->n; ray++) {
        basis->cosine[ray] = brv_rays_cosine(rays, ray, basis->index);
        sum += weight(basis, rays, ray);
    }
    basis->norm = sqrt(sum);
}

static brv_status allocate(struct brv_basis *basis, struct brv_error *error)
{
    const size_t n = basis->n;
    basis->cosine = brv_array_new(n);
    basis->even = brv_array_new(n * n);
    basis->odd = brv_array_new(n * n);
    basis->coupling = brv_array_new(n * n);
    if (basis->cosine && basis->even && basis->odd && basis->coupling) return BRV_OK;
    return brv_error_raise(error, BRV_MEMORY, "brv_basis_build");
}

static brv_status build(struct brv_basis *basis, const struct brv_rays *rays, struct brv_error *error)
{
    const size_t n = basis->n;
    double *work = brv_array_new(2 * n * n + n);
    if (!work) return brv_error_raise(error, BRV_MEMORY, "brv_basis_build");
    look_at_rays(basis, rays);
    const int fault = build_shapes(basis, rays, work);
    if (!fault) build_coupling(basis, work);
    free(work);
    return fault ? brv_error_raise(error, BRV_NUMERICS, "brv_basis_build") : BRV_OK;
}

brv_status brv_basis_build(struct brv_basis *basis, const struct brv_rays *rays, double index, struct brv_error *error)
{
    basis->n = brv_rays_present(rays, index);
    basis->index = index;
    brv_status status = allocate(basis, error);
    if (!status) status = build(basis, rays, error);
    if (status) brv_basis_free(basis);
    return status;
}

void brv_basis_free(struct brv_basis *basis)
{
    free(basis->cosine);
    free(basis->even);
    free(basis->odd);
    free(basis->coupling);
    *basis = (struct brv_basis){0};
}
