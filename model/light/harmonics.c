#include "light/harmonics.h"

#include "base/constants.h"

#include <gsl/gsl_eigen.h>
#include <math.h>
#include <stdbool.h>
#include <string.h>

static bool is_even(size_t l, size_t m)
{
    return (l + m) % 2 == 0;
}

double brv_harmonics_step(size_t l, size_t m)
{
    const double a = (double)l, b = (double)m;
    return sqrt((a - b) * (a + b) / ((2.0 * a - 1.0) * (2.0 * a + 1.0)));
}

void brv_harmonics_values(double value[BRV_N_DEGREE][BRV_N_DEGREE], double cosine)
{
    const double sine = sqrt((1.0 - cosine) * (1.0 + cosine));
    double top = BRV_ROOT_HALF;
    for (size_t m = 0; m <= BRV_LAST_DEGREE; m++) {
        if (m > 0) top *= sine * sqrt(1.0 + 0.5 / (double)m);
        double before = 0.0, now = top;
        for (size_t l = m; l <= BRV_LAST_DEGREE; l++) {
            value[l][m] = now;
            const double next =
                (cosine * now - (l > m ? brv_harmonics_step(l, m) * before : 0.0)) / brv_harmonics_step(l + 1, m);
            before = now;
            now = next;
        }
    }
}

static void number_shapes(struct brv_harmonics *shapes)
{
    size_t even = 0, odd = 0;
    for (size_t m = 0; m <= BRV_LAST_DEGREE; m++)
        for (size_t l = m; l <= BRV_LAST_DEGREE; l++)
            if (is_even(l, m)) {
                shapes->degree_of_even[even] = l;
                shapes->place[l][m] = even++;
            } else {
                shapes->degree_of_odd[odd] = l;
                shapes->place[l][m] = odd++;
            }
}

static void couple_along(struct brv_harmonics *shapes)
{
    for (size_t m = 0; m <= BRV_LAST_DEGREE; m++)
        for (size_t l = m + 1; l <= BRV_LAST_DEGREE; l++) {
            const size_t even = is_even(l, m) ? shapes->place[l][m] : shapes->place[l - 1][m];
            const size_t odd = is_even(l, m) ? shapes->place[l - 1][m] : shapes->place[l][m];
            shapes->along[even * BRV_N_ODD + odd] = brv_harmonics_step(l, m);
        }
}

/* The factor of the azimuth between cos(m azimuth) and cos((m + 1) azimuth), both normalised. */
static double azimuth_factor(size_t m)
{
    return m == 0 ? BRV_ROOT_HALF : 0.5;
}

/* sin(theta) cos(azimuth) between (l, m) and (l + 1 or l - 1, m + 1); i^(m + 1) against i^m makes it antisymmetric. */
static void couple_pair(struct brv_harmonics *shapes, size_t l, size_t m, size_t other, double amount)
{
    const size_t a = shapes->place[l][m], b = shapes->place[other][m + 1];
    double *matrix = is_even(l, m) ? shapes->across_even : shapes->across_odd;
    const size_t n = is_even(l, m) ? BRV_N_EVEN : BRV_N_ODD;
    matrix[a * n + b] = -amount;
    matrix[b * n + a] = amount;
}

static void couple_across(struct brv_harmonics *shapes)
{
    for (size_t m = 0; m <= BRV_LAST_DEGREE; m++)
        for (size_t l = m; l <= BRV_LAST_DEGREE; l++) {
            const double a = (double)l, b = (double)m;
            const double rise = sqrt((a + b + 1.0) * (a + b + 2.0) / ((2.0 * a + 1.0) * (2.0 * a + 3.0)));
            if (l < BRV_LAST_DEGREE) couple_pair(shapes, l, m, l + 1, azimuth_factor(m) * rise);
            if (l < m + 2) continue;
            const double fall = sqrt((a - b) * (a - b - 1.0) / ((2.0 * a - 1.0) * (2.0 * a + 1.0)));
            couple_pair(shapes, l, m, l - 1, -azimuth_factor(m) * fall);
        }
}

/* Eigenvectors of the generator of one l, in the order of falling eigenvalues. */
static brv_status find_turn(struct brv_harmonics *shapes, size_t l, gsl_eigen_symmv_workspace *work,
                            struct brv_error *error)
{
    double generator[BRV_N_DEGREE * BRV_N_DEGREE] = {0}, value[BRV_N_DEGREE];
    const size_t n = l + 1;
    for (size_t m = 0; m < l; m++)
        generator[(m + 1) * n + m] = generator[m * n + m + 1] =
            -azimuth_factor(m) * sqrt((double)(l - m) * (double)(l + m + 1));
    gsl_matrix_view matrix = gsl_matrix_view_array(generator, n, n);
    gsl_matrix_view vectors = gsl_matrix_view_array(shapes->turn[l], n, n);
    gsl_vector_view values = gsl_vector_view_array(value, n);
    int fault = gsl_eigen_symmv(&matrix.matrix, &values.vector, &vectors.matrix, work);
    if (!fault) fault = gsl_eigen_symmv_sort(&values.vector, &vectors.matrix, GSL_EIGEN_SORT_VAL_DESC);
    return fault ? brv_error_raise(error, BRV_NUMERICS, "brv_harmonics_build") : BRV_OK;
}

static brv_status find_turns(struct brv_harmonics *shapes, struct brv_error *error)
{
    brv_status status = BRV_OK;
    shapes->turn[0][0] = 1.0;
    for (size_t l = 1; l <= BRV_LAST_DEGREE && !status; l++) {
        gsl_eigen_symmv_workspace *work = gsl_eigen_symmv_alloc(l + 1);
        status = work ? find_turn(shapes, l, work, error) : brv_error_raise(error, BRV_MEMORY, "brv_harmonics_build");
        gsl_eigen_symmv_free(work);
    }
    return status;
}

brv_status brv_harmonics_build(struct brv_harmonics *shapes, struct brv_error *error)
{
    memset(shapes, 0, sizeof *shapes);
    number_shapes(shapes);
    couple_along(shapes);
    couple_across(shapes);
    return find_turns(shapes, error);
}
