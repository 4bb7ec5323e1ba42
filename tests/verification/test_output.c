/* Statistics of meter readings against textbooks, exact answers and random numbers. */
#include "side/output.h"

#include "base/constants.h"
#include "support/check.h"

#include <gsl/gsl_randist.h>
#include <gsl/gsl_rng.h>
#include <gsl/gsl_statistics.h>

#include <math.h>

#define NONE (double)NAN

static double fluence(double energy, double spot)
{
    const struct brv_meter_reading reading = {NONE, energy, spot, NONE};
    return 1e-4 * brv_meter_reading_fluence(&reading, NONE); /* J/cm2 */
}

/* Problems of a course; answers to the digits that are printed. */
static void worked_examples(void **state)
{
    (void)state;
    static const char digits[] = "digits printed";
    check_row("0.4 J through 6 mm, J/cm2", "course-problems (seen)", fluence(0.4, 6e-3), 1.415, 5e-4, digits);
    check_row("0.8 J through 4 mm, J/cm2", "course-problems (seen)", fluence(0.8, 4e-3), 6.37, 5e-3, digits);
    static const double factor[] = {127.3, 31.83, 14.15, 7.96, 5.09, 3.54, 2.60, 1.99};
    for (size_t i = 0; i < 8; i++) /* 1 J through 1 to 8 mm; the last digit printed */
        check_close(fluence(1.0, 1e-3 * (double)(i + 1)), factor[i], 0.0, i == 0 ? 0.05 : 5.1e-3);
    check_row("same energy, 8 mm to 4 mm: factor", "course-problems (exact)", fluence(1.0, 4e-3) / fluence(1.0, 8e-3),
              4.0, 1e-14, "rounding");
    check_row("meter 20 %, spot 5 %: fluence, %", "error-budget (computed)", 100.0 * brv_output_together(0.20, 0.05),
              22.4, 0.05, digits);
    check_row("meter 20 %, spot 10 %: fluence, %", "error-budget (computed)", 100.0 * brv_output_together(0.20, 0.10),
              28.3, 0.05, digits);
}

static double quantile_used(size_t n)
{
    struct brv_sample sample;
    double value[16];
    for (size_t i = 0; i < n; i++) value[i] = (double)(i % 3) + 0.1 * (double)i;
    brv_sample_read(&sample, value, n);
    return (sample.high - sample.mean) / sample.error;
}

static void quantiles_of_t(void **state)
{
    (void)state;
    check_row("t of 95 %, 2 readings", "student-1908 (memory)", quantile_used(2), 12.706, 5e-4, "digits printed");
    check_row("t of 95 %, 10 readings", "student-1908 (memory)", quantile_used(10), 2.262, 5e-4, "digits printed");
    check_row("t of 95 %, 5 readings", "student-1908 (memory)", quantile_used(5), 2.776, 5e-4, "digits printed");
}

/* 1, 2, 3, 4, 5: mean 3, deviation sqrt(2.5), all by hand. */
static void a_sample_by_hand(void **state)
{
    (void)state;
    struct brv_sample sample;
    const double value[] = {4.0, 2.0, 5.0, 1.0, 3.0};
    brv_sample_read(&sample, value, 5);
    check_close(sample.mean, 3.0, 1e-15, 0.0);
    check_close(sample.deviation, sqrt(2.5), 1e-15, 0.0);
    check_close(sample.error, sqrt(0.5), 1e-15, 0.0);
}

/* Energy over area with normal errors of both. */
static double drawn_fluence(gsl_rng *random, double energy_error, double spot_error)
{
    const double energy = 0.4 * (1.0 + gsl_ran_gaussian(random, energy_error));
    const double spot = 6e-3 * (1.0 + gsl_ran_gaussian(random, spot_error));
    return fluence(energy, spot);
}

/* First order against draws. With errors s = 2 and 1 % the variance is 4 s^2 + 66 s^4 of 1 / D^2 and so on: 0.07 % more
 * spread. The standard error of a deviation from a million draws is 1 / sqrt(2 n) = 0.07 % of it: three of them and that. */
static void propagation_against_draws(void **state)
{
    enum { N = 1000000 };
    (void)state;
    static double drawn[N];
    gsl_rng *random = gsl_rng_alloc(gsl_rng_mt19937);
    assert_non_null(random);
    gsl_rng_set(random, 20);
    for (size_t i = 0; i < N; i++) drawn[i] = drawn_fluence(random, 0.02, 0.01);
    const double found = brv_output_together(0.02, 0.01) * fluence(0.4, 6e-3);
    check_row("propagation of 2 and 1 %, over draws", "own draws (computed)", found / gsl_stats_sd(drawn, 1, N), 1.0,
              2.8e-3, "three standard errors of a million draws, second order");
    for (size_t i = 0; i < N; i++) drawn[i] = drawn_fluence(random, 0.20, 0.05);
    /* The header's claim. By moments of a normal law, E[D^-2] = 1 + 3 s^2 + 15 s^4 and E[D^-4] = 1 + 10 s^2 + 105 s^4, the
     * spread is 0.0032 more; three standard errors of a million draws are 0.0005, later terms of the series 0.0001. */
    const double more = gsl_stats_sd(drawn, 1, N) / fluence(0.4, 6e-3) - brv_output_together(0.20, 0.05);
    check_close(more, 0.0032, 0.0, 0.0007);
    gsl_rng_free(random);
}

/* How often the intervals hold the truth, in 20,000 sets of readings: 95 % with a standard error of 0.15 %. A normal
 * quantile instead of Student's would hold it in 88 % of sets of five.                                             */
static void intervals_hold_the_truth(void **state)
{
    enum { SETS = 20000, N = 5 };
    (void)state;
    size_t mean_held = 0, slope_held = 0, told = 0;
    gsl_rng *random = gsl_rng_alloc(gsl_rng_mt19937);
    assert_non_null(random);
    gsl_rng_set(random, 21);
    for (size_t k = 0; k < SETS; k++) {
        struct brv_meter_reading reading[N];
        struct brv_output output;
        for (size_t i = 0; i < N; i++)
            reading[i] = (struct brv_meter_reading){7.0 * (double)i, 0.5 + gsl_ran_gaussian(random, 0.01), NONE, NONE};
        assert_int_equal(brv_output_read(&output, reading, N, 6e-3, 0.2, 0.05, NULL), BRV_OK);
        mean_held += output.energy.low < 0.5 && output.energy.high > 0.5;
        slope_held += output.drift.low < 0.0 && output.drift.high > 0.0;
        told += output.drift.told;
        brv_output_free(&output);
    }
    static const char reason[] = "four standard errors of 20,000 sets";
    check_row("intervals of the mean that hold it", "own draws (computed)", (double)mean_held / SETS, 0.95, 6.2e-3,
              reason);
    check_row("intervals of a drift of 0 that hold 0", "own draws (computed)", (double)slope_held / SETS, 0.95, 6.2e-3,
              reason);
    assert_int_equal(told, SETS - slope_held);
    gsl_rng_free(random);
}

/* Slope and its standard error by the closed form, day by day means of uneven days. */
static void drift_by_the_closed_form(void **state)
{
    enum { N = 6 };
    (void)state;
    const double day[N] = {0.0, 3.0, 7.0, 8.0, 15.0, 31.0}, energy[N] = {0.500, 0.503, 0.496, 0.494, 0.489, 0.478};
    struct brv_meter_reading reading[N];
    struct brv_output output;
    double x = 0.0, y = 0.0, xx = 0.0, xy = 0.0, rest = 0.0;
    for (size_t i = 0; i < N; i++) {
        reading[i] = (struct brv_meter_reading){day[i], energy[i], NONE, NONE};
        x += day[i] / N;
        y += energy[i] / energy[0] / N;
    }
    for (size_t i = 0; i < N; i++) {
        xx += (day[i] - x) * (day[i] - x);
        xy += (day[i] - x) * (energy[i] / energy[0] - y);
    }
    const double slope = xy / xx;
    for (size_t i = 0; i < N; i++) rest += pow(energy[i] / energy[0] - y - slope * (day[i] - x), 2.0);
    assert_int_equal(brv_output_read(&output, reading, N, 6e-3, 0.2, 0.05, NULL), BRV_OK);
    check_close(output.drift.slope, slope, 1e-13, 0.0);
    check_close(output.drift.high - output.drift.slope, 2.776 * sqrt(rest / (N - 2) / xx), 2e-4,
                0.0); /* t to 3 digits */
    assert_true(output.drift.told);
    brv_output_free(&output);
}

/* A normal law has 0.27 % outside of three deviations; limits that come from 1000 days are wrong by about 2.5 %, which
 * moves that share by less than 0.1 %. 20 such charts: standard error 0.04 %.                                      */
static void limits_are_three_deviations(void **state)
{
    enum { N = 1000, CHARTS = 20 };
    (void)state;
    static struct brv_meter_reading reading[N];
    size_t outside = 0;
    double limit = 0.0;
    gsl_rng *random = gsl_rng_alloc(gsl_rng_mt19937);
    assert_non_null(random);
    gsl_rng_set(random, 22);
    for (size_t k = 0; k < CHARTS; k++) {
        struct brv_output output;
        for (size_t i = 0; i < N; i++)
            reading[i] = (struct brv_meter_reading){(double)i, 0.5 + gsl_ran_gaussian(random, 0.01), NONE, NONE};
        assert_int_equal(brv_output_read(&output, reading, N, 6e-3, 0.2, 0.05, NULL), BRV_OK);
        outside += output.n_outside;
        limit += (output.limit_high - output.energy.mean) / 0.01 / CHARTS;
        brv_output_free(&output);
    }
    check_row("limits of a chart of days, in deviations", "shewhart-chart (memory)", limit, 3.0, 0.06,
              "three standard errors of 20 charts of 1000 days");
    check_close((double)outside / (N * CHARTS), 0.0027, 0.0, 0.0012);
    check_row("limits over the mean moving range, 1.5 sqrt(pi)", "shewhart-chart (memory)", 1.5 * sqrt(BRV_PI), 2.66,
              5e-3, "digits printed");
    gsl_rng_free(random);
}

/* Random and systematic apart: a hundred times as many readings narrow the one, not the other. */
static void readings_do_not_mend_the_meter(void **state)
{
    enum { FEW = 10, MANY = 1000 };
    (void)state;
    static struct brv_meter_reading reading[MANY];
    struct brv_output few, many;
    for (size_t i = 0; i < MANY; i++)
        reading[i] = (struct brv_meter_reading){NONE, i % 2 ? 0.49 : 0.51, i % 2 ? 6.06e-3 : 5.94e-3, NONE};
    assert_int_equal(brv_output_read(&few, reading, FEW, 5e-3, 0.2, 0.05, NULL), BRV_OK);
    assert_int_equal(brv_output_read(&many, reading, MANY, 5e-3, 0.2, 0.05, NULL), BRV_OK);
    check_close(few.fluence, 0.5 / (0.25 * BRV_PI * 36e-6), 1e-14, 0.0);
    check_close(few.systematic, many.systematic, 0.0, 0.0);
    /* 0.02 sqrt(n / (n - 1)) t / sqrt(n) of E, half of it of D: sqrt(1 + 1) of that; t = 2.262 and 1.962 */
    check_close(few.random, sqrt(2.0) * 0.02 * 2.262 / sqrt(9.0), 2e-4, 0.0);
    check_close(many.random, sqrt(2.0) * 0.02 * 1.962 / sqrt(999.0), 4e-4, 0.0);
    check_close(many.high / many.fluence - 1.0, hypot(many.random, many.systematic), 1e-13, 0.0);
    brv_output_free(&few);
    brv_output_free(&many);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(worked_examples),
        cmocka_unit_test(quantiles_of_t),
        cmocka_unit_test(a_sample_by_hand),
        cmocka_unit_test(propagation_against_draws),
        cmocka_unit_test(intervals_hold_the_truth),
        cmocka_unit_test(drift_by_the_closed_form),
        cmocka_unit_test(limits_are_three_deviations),
        cmocka_unit_test(readings_do_not_mend_the_meter),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
