#include "light/tilt.h"

#include <gsl/gsl_eigen.h>
#include <gsl/gsl_sort_vector.h>
#include <math.h>
#include <string.h>

/* c_l from the highest order down: in this direction the slowly fading mode, whose c_l fall by many powers of ten, keeps
 * all its digits. */
static void find_share(double share[BRV_N_DEGREE], const double loss[BRV_N_DEGREE], double fade, size_t azimuth)
{
    share[BRV_LAST_DEGREE] = 1.0;
    for (size_t l = BRV_LAST_DEGREE; l > azimuth; l--) {
        double sum = loss[l] * share[l] / fade;
        if (l < BRV_LAST_DEGREE) sum -= brv_harmonics_step(l + 1, azimuth) * share[l + 1];
        share[l - 1] = sum / brv_harmonics_step(l, azimuth);
    }
}

/* 1 / nu are the positive eigenvalues of step_l / sqrt(loss_l loss_l-1); they come in pairs of opposite sign. */
static brv_status find_fades(double *fade, const double loss[BRV_N_DEGREE], size_t azimuth,
                             gsl_eigen_symm_workspace *work, struct brv_error *error)
{
    const size_t n = BRV_N_DEGREE - azimuth;
    double coupling[BRV_N_DEGREE * BRV_N_DEGREE] = {0}, value[BRV_N_DEGREE];
    for (size_t i = 1; i < n; i++)
        coupling[i * n + i - 1] = coupling[(i - 1) * n + i] =
            brv_harmonics_step(azimuth + i, azimuth) / sqrt(loss[azimuth + i] * loss[azimuth + i - 1]);
    gsl_matrix_view matrix = gsl_matrix_view_array(coupling, n, n);
    gsl_vector_view values = gsl_vector_view_array(value, n);
    if (gsl_eigen_symm(&matrix.matrix, &values.vector, work))
        return brv_error_raise(error, BRV_NUMERICS, "brv_tilt_build");
    gsl_sort_vector(&values.vector);
    for (size_t i = 0; i < n / 2; i++) fade[i] = 1.0 / value[n - 1 - i];
    return BRV_OK;
}

static brv_status find_modes(struct brv_tilt *tilt, size_t first, size_t azimuth, struct brv_error *error)
{
    gsl_eigen_symm_workspace *work = gsl_eigen_symm_alloc(BRV_N_DEGREE - azimuth);
    if (!work) return brv_error_raise(error, BRV_MEMORY, "brv_tilt_build");
    const brv_status status = find_fades(&tilt->fade[first], tilt->loss, azimuth, work, error);
    gsl_eigen_symm_free(work);
    for (size_t i = first; i < first + (BRV_N_DEGREE - azimuth) / 2 && !status; i++) {
        tilt->azimuth[i] = azimuth;
        find_share(tilt->share[i], tilt->loss, tilt->fade[i], azimuth);
    }
    return status;
}

brv_status brv_tilt_build(struct brv_tilt *tilt, const double loss[BRV_N_DEGREE], struct brv_error *error)
{
    memset(tilt, 0, sizeof *tilt);
    memcpy(tilt->loss, loss, sizeof tilt->loss);
    brv_status status = BRV_OK;
    size_t first = 0;
    for (size_t azimuth = 0; azimuth < BRV_LAST_DEGREE && !status; azimuth++) {
        status = find_modes(tilt, first, azimuth, error);
        first += (BRV_N_DEGREE - azimuth) / 2;
    }
    return status;
}

/* The shapes of order l of one mode, turned: `growth` is exp(angle) and `most` its power l. */
static void turn_order(struct brv_tilt_modes *modes, size_t mode, const struct brv_tilt *tilt,
                       const struct brv_harmonics *shapes, size_t l, double growth, double most)
{
    const double *turn = shapes->turn[l];
    double part[BRV_N_DEGREE], amount = tilt->share[mode][l] * most;
    for (size_t j = 0; j <= l; j++) {
        part[j] = amount * turn[tilt->azimuth[mode] * (l + 1) + j];
        amount /= growth * growth;
    }
    for (size_t m = 0; m <= l; m++) {
        double *column = (l + m) % 2 ? modes->odd : modes->even;
        double sum = 0.0;
        for (size_t j = 0; j <= l; j++) sum += turn[m * (l + 1) + j] * part[j];
        column[shapes->place[l][m] * BRV_N_ODD + mode] = sum;
    }
}

static void normalise(struct brv_tilt_modes *modes, size_t mode)
{
    double largest = 0.0;
    for (size_t i = 0; i < BRV_N_EVEN; i++) largest = fmax(largest, fabs(modes->even[i * BRV_N_ODD + mode]));
    for (size_t i = 0; i < BRV_N_ODD; i++) largest = fmax(largest, fabs(modes->odd[i * BRV_N_ODD + mode]));
    for (size_t i = 0; i < BRV_N_EVEN; i++) modes->even[i * BRV_N_ODD + mode] /= largest;
    for (size_t i = 0; i < BRV_N_ODD; i++) modes->odd[i * BRV_N_ODD + mode] /= largest;
}

void brv_tilt_modes_fill(struct brv_tilt_modes *modes, const struct brv_tilt *tilt, const struct brv_harmonics *shapes,
                         double frequency)
{
    memset(modes, 0, sizeof *modes);
    for (size_t mode = 0; mode < BRV_N_ODD; mode++) {
        modes->fade[mode] = hypot(tilt->fade[mode], frequency);
        const double growth = (modes->fade[mode] + frequency) / tilt->fade[mode];
        double most = 1.0;
        for (size_t l = 0; l <= BRV_LAST_DEGREE; l++, most *= growth)
            if (l >= tilt->azimuth[mode]) turn_order(modes, mode, tilt, shapes, l, growth, most);
        normalise(modes, mode);
    }
}
