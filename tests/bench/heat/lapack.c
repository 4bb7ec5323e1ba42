/* Every mode of the symmetric tridiagonal matrix by LAPACK, then sums of exponentials. */
#include "bench.h"

#ifdef HAVE_LAPACKE
#include <lapacke.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

struct kept {
    lapack_int n, n_work, n_iwork;
    double *diagonal, *off, *rate, *mode, *work, *amplitude, *share;
    lapack_int *support, *iwork;
};

static void *open_lapack(const struct problem *problem)
{
    struct kept *kept = calloc(1, sizeof *kept);
    const size_t n = problem->chain->n;
    kept->n = (lapack_int)n;
    kept->n_work = (lapack_int)(1 + 4 * n + n * n + 18 * n);
    kept->n_iwork = (lapack_int)(3 + 5 * n + 10 * n);
    kept->diagonal = calloc(n, sizeof(double));
    kept->off = calloc(n, sizeof(double));
    kept->rate = calloc(n, sizeof(double));
    kept->mode = calloc(n * n, sizeof(double));
    kept->amplitude = calloc(n, sizeof(double));
    kept->share = calloc(N_GAUGE * n, sizeof(double));
    kept->work = calloc((size_t)kept->n_work, sizeof(double));
    kept->support = calloc(2 * n, sizeof(lapack_int));
    kept->iwork = calloc((size_t)kept->n_iwork, sizeof(lapack_int));
    return kept;
}

static void close_lapack(void *state)
{
    struct kept *kept = state;
    void *const all[] = {kept->diagonal,  kept->off,   kept->rate,  kept->mode,    kept->work,
                         kept->amplitude, kept->share, kept->iwork, kept->support, kept};
    for (size_t i = 0; i < sizeof all / sizeof *all; i++) free(all[i]);
}

static void lay_matrix(struct kept *kept, const struct problem *problem)
{
    const double *capacity = problem->chain->capacity;
    for (lapack_int i = 0; i < kept->n; i++) {
        kept->diagonal[i] = -problem->own[i];
        if (i + 1 < kept->n) kept->off[i] = -problem->chain->link[i + 1] / sqrt(capacity[i] * capacity[i + 1]);
    }
}

/* How much of each mode the pulse makes, and how much of it each gauge sees. */
static void project(struct kept *kept, const struct problem *problem)
{
    const size_t n = (size_t)kept->n;
    for (size_t k = 0; k < n; k++) {
        const double *mode = kept->mode + k * n;
        double made = 0.0;
        for (size_t i = 0; i < n; i++) made += mode[i] * problem->heat[i] / sqrt(problem->chain->capacity[i]);
        for (size_t g = 0; g < N_GAUGE; g++) {
            const struct brv_gauge *gauge = &problem->gauge[g];
            double seen = 0.0;
            for (size_t j = 0; j < gauge->n; j++)
                seen += gauge->weight[j] * mode[gauge->first + j] / sqrt(problem->chain->capacity[gauge->first + j]);
            kept->share[g * n + k] = made * seen;
        }
    }
}

static void read_time(const struct kept *kept, const struct problem *problem, int i, double value[])
{
    const size_t n = (size_t)kept->n;
    const double w = problem->width;
    for (size_t k = 0; k < n; k++) {
        const double rate = kept->rate[k], lit = i < IN_PULSE ? problem->in_pulse[i] : w;
        const double mean = fabs(rate * lit) < 1e-12 ? lit / w : -expm1(-rate * lit) / (rate * w);
        kept->amplitude[k] = i < IN_PULSE ? mean : mean * exp(-rate * problem->after[i - IN_PULSE]);
    }
    for (size_t g = 0; g < N_GAUGE; g++) {
        double sum = 0.0;
        for (size_t k = 0; k < n; k++) sum += kept->amplitude[k] * kept->share[g * n + k];
        value[g * N_TIME + (size_t)i] = sum;
    }
}

static bool read_modes(struct kept *kept, const struct problem *problem, double value[])
{
    project(kept, problem);
    for (int i = 0; i < N_TIME; i++) read_time(kept, problem, i, value);
    return true;
}

static bool run_dstemr(void *state, const struct problem *problem, int option, double tolerance, double value[])
{
    struct kept *kept = state;
    lapack_int found;
    lapack_logical tried = 1;
    (void)option, (void)tolerance;
    lay_matrix(kept, problem);
    if (LAPACKE_dstemr_work(LAPACK_COL_MAJOR, 'V', 'A', kept->n, kept->diagonal, kept->off, 0.0, 0.0, 0, 0, &found,
                            kept->rate, kept->mode, kept->n, kept->n, kept->support, &tried, kept->work, kept->n_work,
                            kept->iwork, kept->n_iwork))
        return false;
    return read_modes(kept, problem, value);
}

static bool run_dstevd(void *state, const struct problem *problem, int option, double tolerance, double value[])
{
    struct kept *kept = state;
    (void)option, (void)tolerance;
    lay_matrix(kept, problem);
    if (LAPACKE_dstevd_work(LAPACK_COL_MAJOR, 'V', kept->n, kept->diagonal, kept->off, kept->mode, kept->n, kept->work,
                            kept->n_work, kept->iwork, kept->n_iwork))
        return false;
    memcpy(kept->rate, kept->diagonal, (size_t)kept->n * sizeof *kept->rate);
    return read_modes(kept, problem, value);
}

const struct method by_dstemr = {"LAPACK dstemr", 1, 1.0, 1.0, open_lapack, run_dstemr, close_lapack};
const struct method by_dstevd = {"LAPACK dstevd", 1, 1.0, 1.0, open_lapack, run_dstevd, close_lapack};
#else
typedef int without_lapack;
#endif
