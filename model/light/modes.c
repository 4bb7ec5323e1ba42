#include "light/modes.h"

#include "base/array.h"
#include "light/singular.h"

#include <gsl/gsl_blas.h>
#include <math.h>
#include <stdlib.h>

/* Where the orders fade out, in units of the rays, and how sharply; and the order whose moment is the share of the
 * peak. Chosen for the least error at 20 to 28 rays in tests/verification/test_layered.c; any values near these
 * converge to the same light.                                                                                   */
static const double FADE_ORDER = 0.9;
static const double FADE_POWER = 6.0;
static const double PEAK_ORDER = 1.2;

static brv_status allocate(struct brv_modes *modes, struct brv_error *error)
{
    const size_t n = modes->n;
    modes->decay = brv_array_new(n);
    modes->sum = brv_array_new(n * n);
    modes->difference = brv_array_new(n * n);
    modes->loss = brv_array_new(2 * n);
    if (modes->decay && modes->sum && modes->difference && modes->loss) return BRV_OK;
    return brv_error_raise(error, BRV_MEMORY, "brv_modes_build");
}

/* Share of g^l that is scattered into order l; the rest of it is counted as unscattered, see modes.h. */
static double fade(size_t order, size_t n_ray)
{
    return exp(-pow((double)order / (FADE_ORDER * (double)n_ray), FADE_POWER));
}

static void find_losses(struct brv_modes *modes, double absorption, double scattering, double anisotropy)
{
    const double peak = pow(anisotropy, PEAK_ORDER * (double)modes->n);
    modes->extinction = absorption + scattering * (1.0 - peak);
    for (size_t order = 0; order < 2 * modes->n; order++) {
        const double moment = pow(anisotropy, (double)order);
        const double kept = peak + (moment - peak) * fade(order, modes->n);
        const double lost = absorption + scattering * (1.0 - kept);
        modes->loss[order] = modes->extinction > 0.0 ? lost / modes->extinction : 1.0;
    }
}

/* Decay constants, and in `turn` the odd shapes of each mode, one mode after another. */
static brv_status find_decay(struct brv_modes *modes, const struct brv_basis *basis, double *turn, double *work,
                             struct brv_error *error)
{
    const size_t n = modes->n;
    for (size_t odd = 0; odd < n; odd++)
        for (size_t even = 0; even < n; even++)
            work[odd * n + even] =
                basis->coupling[even * n + odd] * sqrt(modes->loss[2 * even] * modes->loss[2 * odd + 1]);
    return brv_singular_turn(work, turn, modes->decay, n, error);
}

/* to = matrix turn^T, both row-major. */
static void turn_rows(double *to, const double *matrix, const double *turn, size_t n)
{
    gsl_matrix_const_view left = gsl_matrix_const_view_array(matrix, n, n);
    gsl_matrix_const_view right = gsl_matrix_const_view_array(turn, n, n);
    gsl_matrix_view product = gsl_matrix_view_array(to, n, n);
    gsl_blas_dgemm(CblasNoTrans, CblasTrans, 1.0, &left.matrix, &right.matrix, 0.0, &product.matrix);
}

/* P = diag(1 / scale) O turn and Q = diag(scale) O turn, with scale = sqrt(cosine / loss_odd) for each element of O. */
static void find_shapes(struct brv_modes *modes, const struct brv_basis *basis, const double *turn, double *work)
{
    const size_t n = modes->n;
    double *for_sum = work, *for_difference = work + n * n;
    for (size_t ray = 0; ray < n; ray++)
        for (size_t odd = 0; odd < n; odd++) {
            const double scale = sqrt(basis->cosine[ray] / modes->loss[2 * odd + 1]);
            for_sum[ray * n + odd] = basis->odd[ray * n + odd] / scale;
            for_difference[ray * n + odd] = basis->odd[ray * n + odd] * scale;
        }
    turn_rows(modes->sum, for_sum, turn, n);
    turn_rows(modes->difference, for_difference, turn, n);
}

static brv_status find_modes(struct brv_modes *modes, const struct brv_basis *basis, struct brv_error *error)
{
    const size_t n = modes->n;
    double *work = brv_array_new(3 * n * n);
    if (!work) return brv_error_raise(error, BRV_MEMORY, "brv_modes_build");
    double *turn = work + 2 * n * n;
    const brv_status status = find_decay(modes, basis, turn, work, error);
    if (!status) find_shapes(modes, basis, turn, work);
    free(work);
    return status;
}

brv_status brv_modes_build(struct brv_modes *modes, const struct brv_basis *basis, double absorption, double scattering,
                           double anisotropy, struct brv_error *error)
{
    modes->n = basis->n;
    brv_status status = allocate(modes, error);
    if (!status) {
        find_losses(modes, absorption, scattering, anisotropy);
        status = find_modes(modes, basis, error);
    }
    if (status) brv_modes_free(modes);
    return status;
}

void brv_modes_free(struct brv_modes *modes)
{
    free(modes->decay);
    free(modes->sum);
    free(modes->difference);
    free(modes->loss);
    *modes = (struct brv_modes){0};
}
