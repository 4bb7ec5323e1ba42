/* Sensitivity indices of functions whose indices are known in closed form. */
#include "base/constants.h"
#include "study/indices.h"
#include "support/check.h"

#include <gsl/gsl_fit.h>
#include <gsl/gsl_qrng.h>
#include <gsl/gsl_rng.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { MOST = 8, MOST_DRAWS = 2048 };

typedef double function(const double u[]);

static double points[MOST_DRAWS * MOST], values[MOST_DRAWS];
static double first[MOST], total[MOST];

static void lay_points(size_t n, size_t n_input)
{
    gsl_qrng *draws = gsl_qrng_alloc(gsl_qrng_sobol, (unsigned)n_input);
    for (size_t k = 0; k < n; k++) gsl_qrng_get(draws, points + k * n_input);
    gsl_qrng_free(draws);
}

static struct brv_indices_fit fit_of(const double y[], size_t n, size_t n_input, size_t degree, size_t cross)
{
    const struct brv_indices_ask ask = {n, n_input, points, y, degree, cross};
    struct brv_indices_fit fit;
    assert_int_equal(brv_indices_solve(first, total, &fit, &ask, NULL), BRV_OK);
    return fit;
}

static struct brv_indices_fit fit_function(function *f, size_t n, size_t n_input, size_t degree, size_t cross)
{
    lay_points(n, n_input);
    for (size_t k = 0; k < n; k++) values[k] = f(points + k * n_input);
    return fit_of(values, n, n_input, degree, cross);
}

/* ---- in the polynomials: exact ---- */

static double linear(const double u[])
{
    return 5.0 + 3.0 * u[0] - 2.0 * u[1] + 0.5 * u[2];
}

/* Variance of a u is a^2 / 12: shares 9, 4 and 0.25 of 13.25; the fourth input is in nothing. */
static void linear_model_is_exact(void **state)
{
    (void)state;
    const double share[] = {9.0 / 13.25, 4.0 / 13.25, 0.25 / 13.25, 0.0};
    const struct brv_indices_fit fit = fit_function(linear, 256, 4, 3, 2);
    for (size_t i = 0; i < 4; i++) {
        check_close(first[i], share[i], 1e-9, 1e-9); /* rounding of 256 draws */
        check_close(total[i], share[i], 1e-9, 1e-9);
    }
    check_close(fit.q2, 1.0, 0.0, 1e-9);
    check_close(fit.variance, 13.25 / 12.0, 1e-9, 0.0);
    assert_int_equal(fit.n_term, 3);
}

static double product(const double u[])
{
    return u[0] * u[1];
}

/* u v = 1/4 + (a + b) / (4 sqrt 3) + a b / 12 in orthonormal a, b: first (1/48) / (7/144) = 3/7, total 4/7. */
static void product_is_exact(void **state)
{
    (void)state;
    const struct brv_indices_fit fit = fit_function(product, 256, 3, 3, 2);
    for (size_t i = 0; i < 2; i++) {
        check_close(first[i], 3.0 / 7.0, 1e-9, 0.0);
        check_close(total[i], 4.0 / 7.0, 1e-9, 0.0);
    }
    check_close(total[2], 0.0, 0.0, 1e-9);
    check_close(fit.variance, 7.0 / 144.0, 1e-9, 0.0);
}

/* ---- outside them: approached ---- */

static const double seven = 7.0, tenth = 0.1;

static double ishigami(const double u[])
{
    const double x = BRV_PI * (2.0 * u[0] - 1.0), y = BRV_PI * (2.0 * u[1] - 1.0), z = BRV_PI * (2.0 * u[2] - 1.0);
    return sin(x) + seven * sin(y) * sin(y) + tenth * z * z * z * z * sin(x);
}

/* In closed form, with a = 7, b = 0.1 and all variables even over -pi to pi:
 *     V1 = (1 + b pi^4 / 5)^2 / 2,  V2 = a^2 / 8,  V13 = b^2 pi^8 (1/18 - 1/50),  V = V1 + V2 + V13
 * which gives the published 0.3139, 0.4424, 0 and 0.5576, 0.4424, 0.2437.
 * 0.01: 1024 draws and polynomials to degree 12 for sines.                                                           */
static void ishigami_is_met(void **state)
{
    (void)state;
    const double p4 = pow(BRV_PI, 4.0), whole = 1.0 + tenth * p4 / 5.0;
    const double one = 0.5 * whole * whole, two = seven * seven / 8.0;
    const double both = tenth * tenth * p4 * p4 * (1.0 / 18.0 - 1.0 / 50.0), all = one + two + both;
    const struct brv_indices_fit fit = fit_function(ishigami, 1024, 3, 12, 10);
    const char *reason = "1024 draws, polynomials for sines";
    check_close(one / all, 0.3139, 0.0, 5e-5); /* the digits in print */
    check_close(both / all, 0.2437, 0.0, 5e-5);
    check_row("indices: Ishigami, first order of input 1", "ishigami-homma-1990 (closed)", first[0], one / all, 0.01,
              reason);
    check_row("indices: Ishigami, first order of input 2", "ishigami-homma-1990 (closed)", first[1], two / all, 0.01,
              reason);
    check_row("indices: Ishigami, first order of input 3", "ishigami-homma-1990 (closed)", first[2], 0.0, 0.01, reason);
    check_row("indices: Ishigami, total of input 1", "ishigami-homma-1990 (closed)", total[0], (one + both) / all, 0.01,
              reason);
    check_row("indices: Ishigami, total of input 2", "ishigami-homma-1990 (closed)", total[1], two / all, 0.01, reason);
    check_row("indices: Ishigami, total of input 3", "ishigami-homma-1990 (closed)", total[2], both / all, 0.01,
              reason);
    assert_true(fit.q2 > 0.98 && fit.q2 <= 1.0);
}

static const double weight[] = {0.0, 1.0, 4.5, 9.0, 99.0};

static double g_function(const double u[])
{
    double all = 1.0;
    for (size_t i = 0; i < 5; i++) all *= (fabs(4.0 * u[i] - 2.0) + weight[i]) / (1.0 + weight[i]);
    return all;
}

/* V_i = 1 / (3 (1 + a_i)^2) and V = prod (1 + V_i) - 1: first V_i / V, total V_i prod of the others (1 + V_j) / V.
 * 0.02: the kink at the middle is no polynomial.                                                                    */
static void g_function_is_met(void **state)
{
    (void)state;
    double part[5], all = 1.0;
    for (size_t i = 0; i < 5; i++) {
        part[i] = 1.0 / (3.0 * (1.0 + weight[i]) * (1.0 + weight[i]));
        all *= 1.0 + part[i];
    }
    fit_function(g_function, 1024, 5, 12, 8);
    for (size_t i = 0; i < 5; i++) {
        char what[80];
        snprintf(what, sizeof what, "indices: g function, first order of input %zu", i + 1);
        check_row(what, "sobol-1993 (closed)", first[i], part[i] / (all - 1.0), 0.02, "a kink is no polynomial");
        snprintf(what, sizeof what, "indices: g function, total of input %zu", i + 1);
        check_row(what, "sobol-1993 (closed)", total[i], part[i] * all / (1.0 + part[i]) / (all - 1.0), 0.02,
                  "a kink is no polynomial");
    }
}

/* ---- what must hold for any ---- */

static double bent(const double u[])
{
    return exp(1.5 * u[0]) + u[1] * u[1] * (0.3 + u[3]) + 0.2 * sin(9.0 * u[2]);
}

static void other_order_same_indices(void **state)
{
    (void)state;
    enum { N = 256, INPUTS = 6 };
    static const size_t order[INPUTS] = {3, 5, 0, 2, 4, 1};
    double before_first[INPUTS], before_total[INPUTS], row[INPUTS];
    fit_function(bent, N, INPUTS, 3, 2);
    memcpy(before_first, first, sizeof before_first);
    memcpy(before_total, total, sizeof before_total);
    for (size_t k = 0; k < N; k++) {
        memcpy(row, points + k * INPUTS, sizeof row);
        for (size_t i = 0; i < INPUTS; i++) points[k * INPUTS + i] = row[order[i]];
    }
    fit_of(values, N, INPUTS, 3, 2);
    for (size_t i = 0; i < INPUTS; i++) {
        check_close(first[i], before_first[order[i]], 1e-9, 1e-12); /* sums in another order */
        check_close(total[i], before_total[order[i]], 1e-9, 1e-12);
    }
}

/* Inputs 4 and 5 are in nothing; first orders add up to no more than the whole, totals to no less. */
static void dummies_have_none(void **state)
{
    (void)state;
    double sum_first = 0.0, sum_total = 0.0;
    fit_function(bent, 256, 6, 3, 2);
    for (size_t i = 0; i < 6; i++) {
        assert_true(first[i] >= 0.0 && total[i] >= first[i]);
        sum_first += first[i];
        sum_total += total[i];
    }
    assert_true(sum_first <= 1.0 + 1e-12 && sum_total >= 1.0 - 1e-12);
    assert_true(total[4] < 0.01 &&
                total[5] < 0.01); /* the best of chance is 5 % of the rest, and the rest is under 10 % */
    assert_true(first[0] > 0.5);
}

static void scale_and_shift_change_nothing(void **state)
{
    (void)state;
    double before[6];
    fit_function(bent, 256, 6, 3, 2);
    memcpy(before, total, sizeof before);
    for (size_t k = 0; k < 256; k++) values[k] = 1e7 - 250.0 * values[k];
    fit_of(values, 256, 6, 3, 2);
    for (size_t i = 0; i < 6; i++)
        check_close(total[i], before[i], 1e-6, 1e-9); /* eleven digits are left of the values */
}

/* What is said of draws left out holds for draws never seen: q2 of noise is near 0 and never flatters by more than 0.1. */
static void noise_is_called_noise(void **state)
{
    (void)state;
    gsl_rng *random = gsl_rng_alloc(gsl_rng_mt19937);
    double worst = 0.0;
    lay_points(256, 8);
    for (int again = 0; again < 20; again++) {
        for (size_t k = 0; k < 256; k++) values[k] = gsl_rng_uniform(random);
        const struct brv_indices_fit fit = fit_of(values, 256, 8, 3, 2);
        worst = fmax(worst, fit.q2);
        assert_true(fit.n_term <= 4);
    }
    gsl_rng_free(random);
    assert_true(worst < 0.1);
}

/* Twenty draws about a straight line, each left out in turn and foretold by the line through the others. */
static void q2_is_that_of_draws_left_out(void **state)
{
    (void)state;
    enum { N = 20 };
    gsl_rng *random = gsl_rng_alloc(gsl_rng_mt19937);
    double off = 0.0, off_alone = 0.0, x[N], y[N];
    lay_points(N, 1);
    for (size_t k = 0; k < N; k++) values[k] = 2.0 * points[k] + 0.6 * gsl_rng_uniform(random);
    gsl_rng_free(random);
    for (size_t left = 0; left < N; left++) {
        double c0, c1, c00, c01, c11, square, mean = 0.0;
        for (size_t k = 0, m = 0; k < N; k++) {
            if (k == left) continue;
            x[m] = points[k];
            y[m++] = values[k];
            mean += values[k] / (N - 1);
        }
        gsl_fit_linear(x, 1, y, 1, N - 1, &c0, &c1, &c00, &c01, &c11, &square);
        off += pow(values[left] - c0 - c1 * points[left], 2.0);
        off_alone += pow(values[left] - mean, 2.0);
    }
    const struct brv_indices_fit fit = fit_of(values, N, 1, 1, 0);
    assert_int_equal(fit.n_term, 1);
    check_close(fit.q2, 1.0 - off / off_alone, 1e-12, 0.0);
}

static void what_does_not_vary_has_none(void **state)
{
    (void)state;
    lay_points(64, 3);
    for (size_t k = 0; k < 64; k++) values[k] = 4.25;
    const struct brv_indices_fit fit = fit_of(values, 64, 3, 3, 2);
    assert_true(isnan(fit.q2) && fit.n_term == 0 && total[0] == 0.0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(linear_model_is_exact),
        cmocka_unit_test(product_is_exact),
        cmocka_unit_test(ishigami_is_met),
        cmocka_unit_test(g_function_is_met),
        cmocka_unit_test(other_order_same_indices),
        cmocka_unit_test(dummies_have_none),
        cmocka_unit_test(scale_and_shift_change_nothing),
        cmocka_unit_test(noise_is_called_noise),
        cmocka_unit_test(what_does_not_vary_has_none),
        cmocka_unit_test(q2_is_that_of_draws_left_out),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
