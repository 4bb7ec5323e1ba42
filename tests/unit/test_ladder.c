/* The ladder solver against GSL's tridiagonal solver, and where subtraction would lose digits. */
#include "base/ladder.h"
#include "support/check.h"

#include <gsl/gsl_linalg.h>
#include <gsl/gsl_vector.h>
#include <math.h>

enum { N = 37 };

static void compare(size_t n)
{
    double own[N], link[N + 1], pivot[N], pass[N], x[N], diagonal[N], off[N], right[N], other[N];
    for (size_t i = 0; i <= n; i++) link[i] = 5.0 + 4.9 * cos(1.7 * (double)i);
    for (size_t i = 0; i < n; i++) {
        own[i] = 0.3 + 0.17 * sin(2.385 * (double)i);
        right[i] = 1.3 + sin(0.61 * (double)i);
        x[i] = right[i];
        diagonal[i] = own[i] + (i ? link[i] : 0.0) + (i + 1 < n ? link[i + 1] : 0.0);
        off[i] = -link[i + 1];
    }
    brv_ladder_factor(n, own, link, pivot, pass);
    brv_ladder_solve(n, pivot, pass, x);

    gsl_vector_view d = gsl_vector_view_array(diagonal, n), e = gsl_vector_view_array(off, n - 1);
    gsl_vector_view b = gsl_vector_view_array(right, n), y = gsl_vector_view_array(other, n);
    gsl_linalg_solve_symm_tridiag(&d.vector, &e.vector, &b.vector, &y.vector);
    for (size_t i = 0; i < n; i++) check_close(x[i], other[i], 1e-12, 0.0); /* both to rounding */
}

/* Odd and even: the middle cell has as many cells on both sides, or one more above it. */
static void same_as_a_general_solver(void **state)
{
    (void)state;
    for (size_t n = 2; n <= N; n++) compare(n);
}

/* What is the same from both ends stays so: to the last bit with a cell in the middle, to rounding without. */
static void both_ends_alike(void **state)
{
    (void)state;
    for (size_t n = N - 1; n <= N; n++) {
        double own[N], link[N + 1], pivot[N], pass[N], x[N];
        for (size_t i = 0; i <= n; i++) link[i] = 5.0 + 4.9 * cos(0.7 * (double)(i < n - i ? i : n - i));
        for (size_t i = 0; i < n; i++) {
            const size_t end = i < n - 1 - i ? i : n - 1 - i;
            own[i] = 0.3 + 0.17 * sin(2.385 * (double)end);
            x[i] = 1.3 + sin(0.61 * (double)end);
        }
        brv_ladder_factor(n, own, link, pivot, pass);
        brv_ladder_solve(n, pivot, pass, x);
        for (size_t i = 0; i < n; i++) check_close(x[i], x[n - 1 - i], n % 2 ? 0.0 : 1e-13, 0.0);
    }
}

/* Conductances a million million times the capacities: what goes in must still be what is stored. */
static void stiff_chain_keeps_its_heat(void **state)
{
    (void)state;
    double own[N], link[N + 1], pivot[N], pass[N], x[N], stored = 0.0;
    for (size_t i = 0; i < N; i++) {
        own[i] = 1.1e-6;
        link[i] = 2.385e6;
        x[i] = i == 5 ? 7.7 : 0.0;
    }
    brv_ladder_factor(N, own, link, pivot, pass);
    brv_ladder_solve(N, pivot, pass, x);
    for (size_t i = 0; i < N; i++) stored += own[i] * x[i];
    check_close(stored, 7.7, 1e-13, 0.0); /* a diagonal own + l + r in one number would leave 1e-4 */
}

static void one_cell(void **state)
{
    (void)state;
    double own = 2.385, link[2] = {0.0, 0.0}, pivot, pass, x = 4.77;
    brv_ladder_factor(1, &own, link, &pivot, &pass);
    brv_ladder_solve(1, &pivot, &pass, &x);
    check_close(x, 2.0, 1e-15, 0.0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(same_as_a_general_solver), cmocka_unit_test(both_ends_alike),
                                       cmocka_unit_test(stiff_chain_keeps_its_heat), cmocka_unit_test(one_cell)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
