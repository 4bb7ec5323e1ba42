#include "light/sheet.h"

#include "base/array.h"
#include "light/decay.h"
#include "light/fresnel.h"

#include <gsl/gsl_blas.h>
#include <gsl/gsl_linalg.h>
#include <float.h>
#include <math.h>
#include <stdlib.h>

static brv_status allocate(struct brv_sheet *sheet, size_t n, struct brv_error *error)
{
    sheet->n = n;
    sheet->reflection = brv_array_new(n * n);
    sheet->transmission = brv_array_new(n * n);
    sheet->rising = brv_array_new(n);
    sheet->falling = brv_array_new(n);
    if (sheet->reflection && sheet->transmission && sheet->rising && sheet->falling) return BRV_OK;
    brv_sheet_free(sheet);
    return brv_error_raise(error, BRV_MEMORY, "brv_sheet_build");
}

brv_status brv_sheet_build_step(struct brv_sheet *sheet, const struct brv_rays *rays, double upper_index,
                                double lower_index, struct brv_error *error)
{
    const brv_status status = allocate(sheet, rays->n, error);
    for (size_t ray = 0; ray < sheet->n && !status; ray++) {
        const double share = brv_fresnel_reflectance(upper_index, brv_rays_cosine(rays, ray, upper_index), lower_index,
                                                     brv_rays_cosine(rays, ray, lower_index));
        sheet->reflection[ray * sheet->n + ray] = share;
        sheet->transmission[ray * sheet->n + ray] = 1.0 - share;
    }
    return status;
}

/* The matrices of a layer, with k the decay of a mode and h = tanh(k depth / 2). Light that is the same on both
 * faces has q = S p there, S = Q diag(k h) Q^T; light that is opposite has p = D q, D = P diag(h / k) P^T. So
 *     (1 + S)^-1 and (1 + D)^-1 are half the sum of what goes in and comes out, which gives
 *     reflection   = (1 + S)^-1 - (1 + D)^-1,
 *     transmission = (1 + S)^-1 + (1 + D)^-1 - 1 = (1 + S)^-1 Q diag(1 - h^2) P^T (1 + D)^-1.
 * The last form keeps its digits however little comes through. S and D are positive: nothing can be singular.     */
struct layer_work {
    gsl_matrix_view alike, opposite; /* (1 + S)^-1, (1 + D)^-1 */
    gsl_matrix_view left, right;     /* room                   */
};

/* to = matrix diag(factor(mode)). */
static void scale_columns(gsl_matrix *to, const double *matrix, const double *factor, size_t n)
{
    for (size_t row = 0; row < n; row++)
        for (size_t column = 0; column < n; column++)
            gsl_matrix_set(to, row, column, matrix[row * n + column] * factor[column]);
}

/* to = (1 + root root^T)^-1 */
static int invert_one_plus(gsl_matrix *to, const gsl_matrix *root)
{
    gsl_matrix_set_identity(to);
    gsl_blas_dsyrk(CblasLower, CblasNoTrans, 1.0, root, 1.0, to);
    int fault = gsl_linalg_cholesky_decomp1(to);
    if (!fault) fault = gsl_linalg_cholesky_invert(to);
    return fault;
}

static int invert_faces(struct layer_work *work, const struct brv_modes *modes, double depth, double *factor)
{
    const size_t n = modes->n;
    for (size_t mode = 0; mode < n; mode++)
        factor[mode] = modes->decay[mode] * sqrt(brv_decay_share_integral(modes->decay[mode], depth));
    scale_columns(&work->left.matrix, modes->difference, factor, n);
    int fault = invert_one_plus(&work->alike.matrix, &work->left.matrix);

    for (size_t mode = 0; mode < n; mode++) factor[mode] = sqrt(brv_decay_share_integral(modes->decay[mode], depth));
    scale_columns(&work->left.matrix, modes->sum, factor, n);
    if (!fault) fault = invert_one_plus(&work->opposite.matrix, &work->left.matrix);
    return fault;
}

static void multiply_faces(gsl_matrix *transmission, struct layer_work *work, const struct brv_modes *modes,
                           double depth, double *factor)
{
    const size_t n = modes->n;
    for (size_t mode = 0; mode < n; mode++) {
        const double falls = 1.0 / cosh(0.5 * modes->decay[mode] * depth);
        factor[mode] = falls * falls;
    }
    gsl_matrix_const_view sum = gsl_matrix_const_view_array(modes->sum, n, n);
    scale_columns(&work->left.matrix, modes->difference, factor, n);
    gsl_blas_dgemm(CblasNoTrans, CblasTrans, 1.0, &work->left.matrix, &sum.matrix, 0.0, &work->right.matrix);
    gsl_blas_dgemm(CblasNoTrans, CblasNoTrans, 1.0, &work->alike.matrix, &work->right.matrix, 0.0, &work->left.matrix);
    gsl_blas_dgemm(CblasNoTrans, CblasNoTrans, 1.0, &work->left.matrix, &work->opposite.matrix, 0.0, transmission);
}

static gsl_matrix_view present_rays(double *matrix, size_t n, size_t n_present)
{
    return gsl_matrix_view_array_with_tda(matrix, n_present, n_present, n);
}

static int fill_matrices(struct brv_sheet *sheet, const struct brv_modes *modes, double depth, double *room)
{
    const size_t n = modes->n;
    gsl_matrix_view reflection = present_rays(sheet->reflection, sheet->n, n);
    gsl_matrix_view transmission = present_rays(sheet->transmission, sheet->n, n);
    struct layer_work work = {
        .alike = gsl_matrix_view_array(room, n, n),
        .opposite = gsl_matrix_view_array(room + n * n, n, n),
        .left = gsl_matrix_view_array(room + 2 * n * n, n, n),
        .right = gsl_matrix_view_array(room + 3 * n * n, n, n),
    };
    double *factor = room + 4 * n * n;

    const int fault = invert_faces(&work, modes, depth, factor);
    if (fault) return fault;
    gsl_matrix_memcpy(&reflection.matrix, &work.alike.matrix);
    gsl_matrix_sub(&reflection.matrix, &work.opposite.matrix);
    multiply_faces(&transmission.matrix, &work, modes, depth, factor);
    return 0;
}

/* Light of the particular solution on the rays at optical depth `t`, down and up. */
static void kindled(double *down, double *up, const struct brv_modes *modes, const struct brv_glow *glow, double t)
{
    for (size_t mode = 0; mode < modes->n; mode++) {
        const double eta = 0.5 * brv_glow_eta(glow, mode, t), zeta = 0.5 * brv_glow_zeta(glow, mode, t);
        for (size_t ray = 0; ray < modes->n; ray++) {
            const double sum = modes->sum[ray * modes->n + mode] * eta;
            const double difference = modes->difference[ray * modes->n + mode] * zeta;
            down[ray] += sum + difference;
            up[ray] += sum - difference;
        }
    }
}

/* to += sign matrix vector */
static void add_product(double *to, const double *matrix, const double *vector, double sign, size_t n)
{
    gsl_matrix_const_view left = gsl_matrix_const_view_array(matrix, n, n);
    gsl_vector_const_view right = gsl_vector_const_view_array(vector, n);
    gsl_vector_view sum = gsl_vector_view_array(to, n);
    gsl_blas_dgemv(CblasNoTrans, sign, &left.matrix, &right.vector, 1.0, &sum.vector);
}

/* The particular solution enters the layer from outside at both faces; the light kindled in it does not, so what
 * enters is taken away again together with all that the layer makes of it.                                       */
static void fill_glow(struct brv_sheet *sheet, const struct brv_modes *modes, const struct brv_glow *glow, double *room)
{
    const size_t n = sheet->n;
    double *enters_above = room, *enters_below = room + n;
    kindled(enters_above, sheet->rising, modes, glow, 0.0);
    kindled(sheet->falling, enters_below, modes, glow, glow->depth);
    add_product(sheet->rising, sheet->reflection, enters_above, -1.0, n);
    add_product(sheet->rising, sheet->transmission, enters_below, -1.0, n);
    add_product(sheet->falling, sheet->transmission, enters_above, -1.0, n);
    add_product(sheet->falling, sheet->reflection, enters_below, -1.0, n);
}

/* A clear layer hands all light on. Rays caught in it between two total reflections would keep whatever rounding
 * puts there for ever; a loss at the limit of the numbers leaves them dark.                                      */
static void fill_clear(struct brv_sheet *sheet, size_t n_present)
{
    for (size_t ray = 0; ray < n_present; ray++) sheet->transmission[ray * sheet->n + ray] = 1.0 - 4.0 * DBL_EPSILON;
}

static brv_status fill_layer(struct brv_sheet *sheet, const struct brv_modes *modes, const struct brv_glow *glow,
                             struct brv_error *error)
{
    double *room = brv_array_new(4 * modes->n * modes->n + modes->n);
    double *entering = brv_array_new(2 * sheet->n);
    brv_status status = room && entering ? BRV_OK : brv_error_raise(error, BRV_MEMORY, "brv_sheet_build");
    if (!status && fill_matrices(sheet, modes, glow->depth, room))
        status = brv_error_raise(error, BRV_NUMERICS, "brv_sheet_build");
    if (!status && glow->down > 0.0) fill_glow(sheet, modes, glow, entering);
    free(room);
    free(entering);
    return status;
}

brv_status brv_sheet_build_layer(struct brv_sheet *sheet, size_t n, const struct brv_modes *modes,
                                 const struct brv_glow *glow, struct brv_error *error)
{
    brv_status status = allocate(sheet, n, error);
    if (!status && glow->depth == 0.0)
        fill_clear(sheet, modes->n);
    else if (!status)
        status = fill_layer(sheet, modes, glow, error);
    if (status) brv_sheet_free(sheet);
    return status;
}

void brv_sheet_free(struct brv_sheet *sheet)
{
    free(sheet->reflection);
    free(sheet->transmission);
    free(sheet->rising);
    free(sheet->falling);
    *sheet = (struct brv_sheet){0};
}
