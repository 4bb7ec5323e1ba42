/* Indices of whole runs by a structured design, against those fitted to the draws of `brevis spread`: once, by hand, for
 * docs/theory/spread.md. The scenario is a ready light skin under 7 ns of 532 nm, 4 mm, 0.6 J/cm2.
 * usage: build/tests/bench/pick_freeze [N]; 4 N + 256 runs of lesion and neighbour, default N 256: some two minutes.
 *     first_i = 1 - sum (f(B) - f(A_iB))^2 / 2NV,  total_i = sum (f(A) - f(A_iB))^2 / 2NV
 * A_iB is A with column i of B; of a quantity's logarithm. Source: [jansen-1999], from memory. Errors: of the mean over
 * N terms, by their own spread.                                                                                      */
#define _DEFAULT_SOURCE
#include "scenario/keys.h"
#include "study/many.h"
#include "study/draw.h"
#include "study/spread.h"
#include "support/sample.h"

#include <gsl/gsl_errno.h>
#include <gsl/gsl_qrng.h>
#include <gsl/gsl_rng.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { MOST = 1024, N_COLUMN = 2, BATCH = 32 };

static struct brv_inputs inputs;
static double a[MOST][BRV_MOST_INPUTS], b[MOST][BRV_MOST_INPUTS];

static struct brv_scenario scenario(void)
{
    struct brv_scenario ask = sample_scenario();
    ask.beam.method = BRV_METHOD_SPOT;
    brv_scenario_fill(&ask);
    return ask;
}

static void must(brv_status status)
{
    if (!status) return;
    fprintf(stderr, "pick_freeze: %s\n", brv_status_text(status));
    exit(EXIT_FAILURE);
}

/* The logarithm of the lesion's threshold of a sign at every point. */
static void run(double y[], const double u[][BRV_MOST_INPUTS], size_t n, const struct brv_scenario *ask)
{
    static struct brv_scenario draw[BATCH];
    static struct brv_result result[BATCH];
    for (size_t from = 0; from < n; from += BATCH) {
        const size_t many = n - from < BATCH ? n - from : BATCH;
        for (size_t k = 0; k < many; k++) {
            struct brv_scenario one;
            brv_draw_apply(&one, ask, &inputs, u[from + k]);
            draw[k] = brv_spread_followed(&one, BRV_SPREAD_AFTER);
        }
        must(brv_many_solve(result, many, draw, BRV_VALUES_ONLY, NULL, NULL));
        for (size_t k = 0; k < many; k++) {
            struct brv_headlines headlines;
            brv_headlines_read(&headlines, &result[k]);
            y[from + k] = log(headlines.at[BRV_LESION][BRV_HEADLINE_THRESHOLD_SIGN].value);
            brv_run_free(&result[k]);
        }
    }
}

struct estimate {
    double value, error;
};

static struct estimate half_mean_square(const double one[], const double other[], size_t n, double variance)
{
    double sum = 0.0, square = 0.0;
    for (size_t k = 0; k < n; k++) {
        const double part = 0.5 * (one[k] - other[k]) * (one[k] - other[k]) / variance;
        sum += part;
        square += part * part;
    }
    const double mean = sum / (double)n;
    return (struct estimate){mean, sqrt((square / (double)n - mean * mean) / (double)n)};
}

static double variance_of(const double y[], const double z[], size_t n)
{
    double mean = 0.0, sum = 0.0;
    for (size_t k = 0; k < n; k++) mean += 0.5 * (y[k] + z[k]) / (double)n;
    for (size_t k = 0; k < n; k++) sum += (y[k] - mean) * (y[k] - mean) + (z[k] - mean) * (z[k] - mean);
    return sum / (2.0 * (double)n - 1.0);
}

int main(int argc, char *argv[])
{
    const long wanted = argc > 1 ? strtol(argv[1], NULL, 10) : 256;
    const size_t n = wanted < 8 ? 8 : wanted > MOST ? MOST : (size_t)wanted;
    const struct brv_scenario ask = scenario();
    static double ya[MOST], yb[MOST], mixed[MOST];
    static struct brv_spreading spreading;
    gsl_set_error_handler_off();
    gsl_rng *random = gsl_rng_alloc(gsl_rng_mt19937);
    brv_inputs_list(&inputs, &ask, NULL, 0);
    for (size_t k = 0; k < n; k++)
        for (size_t i = 0; i < inputs.n; i++) {
            a[k][i] = gsl_rng_uniform(random);
            b[k][i] = gsl_rng_uniform(random);
        }
    gsl_rng_free(random);
    must(brv_spread_solve(&spreading, &ask, &inputs, BRV_SPREAD_DRAWS, NULL, NULL));
    const struct brv_spread_row *row = &spreading.row[BRV_LESION][BRV_HEADLINE_THRESHOLD_SIGN];
    run(ya, a, n, &ask);
    run(yb, b, n, &ask);
    const double variance = variance_of(ya, yb, n);
    printf("pick_freeze: logarithm of the lesion's threshold of a sign, %zu inputs, N = %zu\n", inputs.n, n);
    size_t before = inputs.n;
    for (int place = 0; place < N_COLUMN; place++) {
        size_t best = inputs.n;
        for (size_t i = 0; i < inputs.n; i++)
            if (i != before && (best == inputs.n || row->total[i] > row->total[best])) best = i;
        before = best;
        for (size_t k = 0; k < n; k++) {
            const double kept = a[k][best];
            a[k][best] = b[k][best];
            b[k][best] = kept; /* swapped, so that the next column finds A and B as they were */
        }
        run(mixed, a, n, &ask);
        for (size_t k = 0; k < n; k++) {
            const double kept = a[k][best];
            a[k][best] = b[k][best];
            b[k][best] = kept;
        }
        const struct estimate total = half_mean_square(ya, mixed, n, variance);
        const struct estimate rest = half_mean_square(yb, mixed, n, variance);
        printf(
            "  %-16s first order: fitted %.3f, structured %.3f +- %.3f; total: fitted %.3f, structured %.3f +- %.3f\n",
            brv_keys[inputs.input[best].key].name, row->first[best], 1.0 - rest.value, rest.error, row->total[best],
            total.value, total.error);
    }
    brv_spread_free(&spreading);
    return 0;
}
