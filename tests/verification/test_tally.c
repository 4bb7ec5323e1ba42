/* Spots that lie by chance: against GSL's Poisson distribution, Campbell's theorem, and a table laid down before the
 * program was written.                                                                                              */
#include "side/tally.h"

#include "support/check.h"
#include "support/table.h"

#include <gsl/gsl_randist.h>
#include <gsl/gsl_sf_gamma.h>

#include <math.h>

#define DATA  "tests/verification/data/"
#define EULER 0.57721566490153286

static void poisson(void **state)
{
    (void)state;
    static const double mean[] = {0.3, 1.12, 9.7, 310.0};
    double worst = 0.0;
    for (size_t i = 0; i < 4; i++) {
        struct brv_tally hits;
        assert_int_equal(brv_tally_poisson(&hits, mean[i], NULL), BRV_OK);
        for (size_t k = 0; k < hits.n; k++)
            worst = fmax(worst, fabs(hits.share[k] - gsl_ran_poisson_pdf((unsigned)k, mean[i])));
        check_close(brv_tally_mean(&hits), mean[i], 1e-9, 0.0);
        check_close(brv_tally_variation(&hits), 1.0 / sqrt(mean[i]), 1e-8, 0.0);
        brv_tally_free(&hits);
    }
    check_row("spots at random, shares by hits: worst against GSL's Poisson distribution",
              "poisson-distribution (memory)", worst, 0.0, 1e-13, "rounding of exponentials");
}

static void check_random(const struct table_row *row, void *context)
{
    (void)context;
    const double mean = table_number(row, "mean_hits");
    struct brv_tally hits;
    assert_int_equal(brv_tally_poisson(&hits, mean, NULL), BRV_OK);
    check_close(hits.share[0], table_number(row, "missed"), 0.0, 5.1e-5);
    check_close(hits.share[1], table_number(row, "once"), 0.0, 5.1e-5);
    check_close(brv_tally_between(&hits, 1.5, INFINITY), table_number(row, "twice_or_more"), 0.0, 5.1e-5);
    check_close(brv_tally_between(&hits, 2.5, INFINITY), table_number(row, "3_or_more"), 0.0, 5.1e-5);
    check_close(brv_tally_between(&hits, 3.5, INFINITY), table_number(row, "4_or_more"), 0.0, 5.1e-5);
    check_close(brv_tally_variation(&hits), table_number(row, "CV_of_dose"), 0.0, 5.1e-5);
    brv_tally_free(&hits);
}

static void table_of_chance(void **state)
{
    (void)state;
    assert_int_equal(table_each(DATA "cover_random.csv", check_random, NULL), 9);
}

/* Campbell: mean c, variance c/2. Up to the dose of one pulse P(x) = x^c exp(-0.5772 c)/Gamma(c + 1). */
static void scattered(void **state)
{
    (void)state;
    static const double mean[] = {0.31, 1.0, 4.4, 70.0, 900.0};
    double worst = 0.0, off = 0.0;
    for (size_t i = 0; i < 5; i++) {
        struct brv_tally doses;
        const double c = mean[i];
        assert_int_equal(brv_tally_scatter(&doses, c, NULL), BRV_OK);
        check_close(brv_tally_mean(&doses), c, 1e-9, 0.0);
        off = fmax(off, fabs(brv_tally_variation(&doses) * sqrt(2.0 * c) - 1.0));
        for (double x = 0.25; x < 1.0 && c < 5.0; x += 0.25) {
            const double exact = exp(c * log(x) - EULER * c - gsl_sf_lngamma(c + 1.0));
            /* a bin holds what is within half a step of its value, which is itself put up by what is given evenly */
            const double most = x + doses.first + 0.5 * doses.step - fmod(x, doses.step);
            const double found = brv_tally_between(&doses, -1.0, most);
            worst = fmax(worst, fabs(found - exact));
        }
        for (double level = 1e-3; level < 0.6; level *= 3.0) { /* its level has that share below it */
            const double x = brv_tally_scatter_quantile(&doses, c, level);
            if (x < 1.0)
                check_close(exp(c * log(x) - EULER * c - gsl_sf_lngamma(c + 1.0)), level, 1e-10, 0.0);
            else
                check_close(x, brv_tally_quantile(&doses, level), 0.0, 0.0);
        }
        brv_tally_free(&doses);
    }
    check_row("gaussian spots at random, coefficient of variation: worst against Campbell's theorem",
              "campbell-1909 (memory)", 1.0 + off, 1.0, 1e-3,
              "steps of 1/32 of a pulse: ln(32)/(12 32^2), and the last");
    check_row("gaussian spots at random, shares of the skin up to the dose of one pulse", "campbell-1909 (exact)",
              worst, 0.0, 4e-3, "steps of 1/256 of a pulse");
}

/* What is laid down twice adds up; the same laid down twice on one place is doubled. */
static void sums(void **state)
{
    (void)state;
    struct brv_tally one, sum, twice, exact;
    assert_int_equal(brv_tally_poisson(&one, 0.7, NULL), BRV_OK);
    assert_int_equal(brv_tally_repeat(&sum, &one, 3, NULL), BRV_OK);
    assert_int_equal(brv_tally_poisson(&exact, 2.1, NULL), BRV_OK); /* Poisson laws add to a Poisson law */
    for (size_t k = 0; k < exact.n && k < sum.n; k++) check_close(sum.share[k], exact.share[k], 0.0, 1e-12);
    assert_int_equal(brv_tally_stretch(&twice, &one, 2.0, NULL), BRV_OK);
    check_close(brv_tally_mean(&twice), 1.4, 1e-9, 0.0);
    check_close(brv_tally_variation(&twice), brv_tally_variation(&one), 1e-12, 0.0);
    assert_true(brv_tally_quantile(&one, 0.4965) <= 0.0); /* exp(-0.7) = 0.49659 */
    check_close(brv_tally_quantile(&one, 0.4967), 1.0, 0.0, 1e-12);
    brv_tally_free(&one);
    brv_tally_free(&one);
    brv_tally_free(&sum);
    brv_tally_free(&twice);
    brv_tally_free(&exact);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(poisson),
        cmocka_unit_test(table_of_chance),
        cmocka_unit_test(scattered),
        cmocka_unit_test(sums),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
