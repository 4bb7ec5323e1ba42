/* Which input makes an output uncertain: variance-based indices from draws that were made for another purpose.
 * A sparse polynomial is fitted to the draws, in Legendre polynomials P of even variables u on 0 to 1, orthonormal there:
 *     y = c0 + sum_i sum_p c_ip P_p(u_i) + sum_ij sum_pq c_ijpq P_p(u_i) P_q(u_j)
 *     variance = sum of all c^2 but c0;  first_i = those of u_i alone / variance;  total_i = all that hold u_i / variance
 * Terms are taken one after the other, each time the one that follows the rest best; a term is taken only if it explains
 * more of the rest than the best of so many would by chance, 2 (ln(candidates) + 1) / draws of it; there are at least three
 * draws to a term, and of all fits on the way that with the least leave-one-out error is kept.
 *     q2 = 1 - leave-one-out error / that of the mean alone;  1 - q2 is what the fit misses
 * The constant, and so the mean, counts as a term. Where y does not vary all indices are 0 and q2 is NAN.
 * A pure kernel: plain arrays. Exact for what lies in the polynomials, and within 0.01 for Ishigami's function, 0.02
 * for the g function: tests/unit/test_indices.c. Source: [sobol-1993], [ishigami-homma-1990], from memory.          */
#ifndef BRV_STUDY_INDICES_H
#define BRV_STUDY_INDICES_H

#include "base/status.h"

#include <stddef.h>

enum { BRV_MOST_DEGREE = 12 };

struct brv_indices_ask {
    size_t n_draw, n_input;
    const double *u; /* [n_draw][n_input] each within 0 to 1 */
    const double *y; /* [n_draw] finite */
    size_t degree;   /* of u_i alone: up to this, at most BRV_MOST_DEGREE */
    size_t cross;    /* of products of two: sum of both degrees up to this; below 2: none */
};

struct brv_indices_fit {
    size_t n_term;   /* without the constant */
    double variance; /* of the fit, in units of y squared */
    double q2;
};

/* Writes first[n_input] and total[n_input]. */
brv_status brv_indices_solve(double first[], double total[], struct brv_indices_fit *fit,
                             const struct brv_indices_ask *ask, struct brv_error *error) BRV_MUST_CHECK;

#endif
