#include "light/linear.h"

#include <gsl/gsl_blas.h>
#include <gsl/gsl_linalg.h>
#include <assert.h>
#include <math.h>

brv_status brv_linear_solve(double *matrix, double *right, size_t n, size_t count, struct brv_error *error)
{
    assert(n <= BRV_LINEAR_MOST);
    double scale[BRV_LINEAR_MOST];
    gsl_matrix_view a = gsl_matrix_view_array(matrix, n, n), b = gsl_matrix_view_array(right, n, count);
    gsl_vector_view factor = gsl_vector_view_array(scale, n);
    int fault = gsl_linalg_QR_decomp(&a.matrix, &factor.vector);
    for (size_t i = 0; i < n; i++) {
        const double pivot = fabs(matrix[i * n + i]);
        if (!(pivot > 0.0) || isinf(pivot)) fault = 1;
    }
    if (!fault) fault = gsl_linalg_QR_QTmat(&a.matrix, &factor.vector, &b.matrix);
    if (!fault) fault = gsl_blas_dtrsm(CblasLeft, CblasUpper, CblasNoTrans, CblasNonUnit, 1.0, &a.matrix, &b.matrix);
    return fault ? brv_error_raise(error, BRV_NUMERICS, "brv_linear_solve") : BRV_OK;
}
