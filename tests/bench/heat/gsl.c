/* GSL's backward differences, which know dense matrices only: for the record. Its bsimp takes seven times as long. */
#include "bench.h"

#include <gsl/gsl_errno.h>
#include <gsl/gsl_odeiv2.h>
#include <stdlib.h>
#include <string.h>

struct kept {
    const struct problem *problem;
    bool heated;
    double *y;
};

static int change(double t, const double v[], double d[], void *user)
{
    const struct kept *kept = user;
    const struct problem *p = kept->problem;
    const size_t n = p->chain->n;
    (void)t;
    for (size_t i = 0; i < n; i++)
        d[i] = (i ? p->below[i] * v[i - 1] : 0.0) + p->own[i] * v[i] + (i + 1 < n ? p->above[i] * v[i + 1] : 0.0) +
               (kept->heated ? p->rate[i] : 0.0);
    return GSL_SUCCESS;
}

static int slope(double t, const double v[], double *matrix, double dt[], void *user)
{
    const struct problem *p = ((const struct kept *)user)->problem;
    const size_t n = p->chain->n;
    (void)t, (void)v;
    memset(matrix, 0, n * n * sizeof *matrix);
    memset(dt, 0, n * sizeof *dt);
    for (size_t i = 0; i < n; i++) {
        matrix[i * n + i] = p->own[i];
        if (i > 0) matrix[i * n + i - 1] = p->below[i];
        if (i + 1 < n) matrix[i * n + i + 1] = p->above[i];
    }
    return GSL_SUCCESS;
}

static void *open_gsl(const struct problem *problem)
{
    struct kept *kept = calloc(1, sizeof *kept);
    kept->problem = problem;
    kept->y = calloc(problem->chain->n, sizeof *kept->y);
    return kept;
}

static void close_gsl(void *state)
{
    free(((struct kept *)state)->y);
    free(state);
}

static bool go(struct kept *kept, gsl_odeiv2_driver *driver, const double time[], int n, int first, double value[])
{
    double now = 0.0;
    for (int i = 0; i < n; i++) {
        if (gsl_odeiv2_driver_apply(driver, &now, time[i], kept->y) != GSL_SUCCESS) return false;
        read_state(kept->problem, kept->y, first + i, value);
    }
    return true;
}

static bool run_gsl(void *state, const struct problem *problem, int option, double tolerance, double value[])
{
    struct kept *kept = state;
    (void)option;
    gsl_odeiv2_system system = {change, slope, problem->chain->n, kept};
    gsl_odeiv2_driver *driver = gsl_odeiv2_driver_alloc_y_new(&system, gsl_odeiv2_step_msbdf, 0.01 * problem->width,
                                                              tolerance * problem->scale, 0.0);
    memset(kept->y, 0, problem->chain->n * sizeof *kept->y);
    kept->heated = true;
    bool good = go(kept, driver, problem->in_pulse, IN_PULSE, 0, value);
    kept->heated = false;
    gsl_odeiv2_driver_reset_hstart(driver, 0.01 * problem->width);
    good = good && go(kept, driver, problem->after, AFTER, IN_PULSE, value);
    gsl_odeiv2_driver_free(driver);
    return good;
}

const struct method by_gsl = {"GSL odeiv2 msbdf", 1, 1e-4, 1e-5, open_gsl, run_gsl, close_gsl};
