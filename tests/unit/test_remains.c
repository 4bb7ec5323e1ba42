/* What is left after visits, against classes of darkness that are followed one by one, and closed forms. */
#include "study/remains.h"
#include "support/check.h"

#include <gsl/gsl_cdf.h>
#include <math.h>

#define SPREAD 0.7

static void build(struct brv_population *population)
{
    const double size[] = {0.0};
    assert_int_equal(brv_population_build(population, SPREAD, 0.0, 1, size, NULL), BRV_OK);
}

/* Share of the grains between two ln darknesses: ln is normal about -sigma^2/2, so that the mean darkness is 1. */
static double grains_between(double from, double to)
{
    return gsl_cdf_gaussian_P(to + 0.5 * SPREAD * SPREAD, SPREAD) -
           gsl_cdf_gaussian_P(from + 0.5 * SPREAD * SPREAD, SPREAD);
}

/* Of the sum of their darknesses: d x density is normal about +sigma^2/2. */
static double blackness_between(double from, double to)
{
    return gsl_cdf_gaussian_P(to - 0.5 * SPREAD * SPREAD, SPREAD) -
           gsl_cdf_gaussian_P(from - 0.5 * SPREAD * SPREAD, SPREAD);
}

/* Edges that rise and fall, as light does when pigment goes and comes; all lie on the classes' bounds, every 1/8. */
static const double edges[] = {0.5, 0.0, 0.75, -0.5, -0.5, 1.0, 0.25, 7.5, -0.125, 0.375};
enum { VISITS = sizeof edges / sizeof *edges, CLASSES = 8 * 16 };

static double bound_of(size_t i)
{
    return -8.0 + 0.125 * (double)i;
}

/* The recursion of the header, class by class. */
static void each_class_on_its_own(void **state)
{
    (void)state;
    const double returns = 0.3;
    double there[CLASSES], away[BRV_MOST_VISITS + 1];
    struct brv_population population;
    struct brv_remains remains = {.n = 0};
    build(&population);
    brv_remains_away(away, returns);
    for (size_t i = 0; i < CLASSES; i++) there[i] = 1.0;
    for (size_t now = 1; now <= VISITS; now++) {
        const double edge = edges[now - 1];
        double missing = 0.0, black = 0.0, taken = 0.0;
        for (size_t i = 0; i < CLASSES; i++) {
            const double grains = grains_between(bound_of(i), bound_of(i + 1));
            missing += grains * (1.0 - there[i]);
            black += blackness_between(bound_of(i), bound_of(i + 1)) * (1.0 - there[i]);
            if (bound_of(i) >= edge) taken += grains * there[i];
        }
        const struct brv_missing found = brv_remains_missing(&remains, &population, away, now, -INFINITY);
        /* Rounding: 128 classes, and 1e-14 of the grains lie beyond the last. */
        check_close(found.grains, missing, 0.0, 1e-12);
        check_close(found.blackness, black, 0.0, 1e-12);
        check_close(brv_remains_taken(&remains, &population, away, now, edge), taken, 0.0, 1e-12);
        brv_remains_take(&remains, now, edge);
        const struct brv_missing after = brv_remains_missing(&remains, &population, away, now, -INFINITY);
        check_close(after.grains, missing + taken, 0.0, 1e-12);
        for (size_t i = 0; i < CLASSES; i++) {
            if (bound_of(i) >= edge) there[i] = 0.0;
            there[i] += returns * (1.0 - there[i]);
        }
    }
    assert_in_range(remains.n, 2, VISITS - 1); /* some steps went with their grains */
}

/* With the same edge at every visit: r of what lies above is there before each visit but the first, and all of it goes. */
static void a_fixed_edge(void **state)
{
    (void)state;
    const double list[] = {0.0, 0.25, 1.0};
    struct brv_population population;
    build(&population);
    const double edge = 0.4, above = gsl_cdf_gaussian_Q(edge + 0.5 * SPREAD * SPREAD, SPREAD);
    for (size_t i = 0; i < 3; i++) {
        double away[BRV_MOST_VISITS + 1];
        struct brv_remains remains = {.n = 0};
        brv_remains_away(away, list[i]);
        for (size_t now = 1; now <= BRV_MOST_VISITS; now++) {
            const double wanted = now == 1 ? above : list[i] * above;
            check_close(brv_remains_taken(&remains, &population, away, now, edge), wanted, 1e-13, 1e-16);
            brv_remains_take(&remains, now, edge);
            assert_int_equal(remains.n, 1);
        }
    }
}

/* The share that one visit takes, and what those grains hold of all darkness, by the library's normal distribution. */
static void shares_by_the_library(void **state)
{
    (void)state;
    double away[BRV_MOST_VISITS + 1], worst = 0.0;
    struct brv_population population;
    const struct brv_remains fresh = {.n = 0};
    build(&population);
    brv_remains_away(away, 0.0);
    for (double ln = -3.0; ln < 3.0; ln += 0.17) {
        worst = fmax(worst, fabs(brv_remains_taken(&fresh, &population, away, 1, ln) /
                                     gsl_cdf_lognormal_Q(exp(ln), -0.5 * SPREAD * SPREAD, SPREAD) -
                                 1.0));
        worst = fmax(worst, fabs(brv_population_blackness(&population, ln) /
                                     gsl_cdf_lognormal_Q(exp(ln), 0.5 * SPREAD * SPREAD, SPREAD) -
                                 1.0));
    }
    check_row("visits: share taken and its darkness, worst over the library's", "closed form (computed)", worst, 0.0,
              1e-12, "rounding of two normal tails");
}

/* Grains that are all alike: all go, or none. */
static void all_alike(void **state)
{
    (void)state;
    const double size[] = {0.0};
    double away[BRV_MOST_VISITS + 1];
    struct brv_population population;
    struct brv_remains remains = {.n = 0};
    assert_int_equal(brv_population_build(&population, 0.0, 0.0, 1, size, NULL), BRV_OK);
    brv_remains_away(away, 0.2);
    check_close(brv_remains_taken(&remains, &population, away, 1, 0.1), 0.0, 0.0, 0.0);
    brv_remains_take(&remains, 1, 0.1);
    check_close(brv_remains_taken(&remains, &population, away, 2, -0.1), 1.0, 0.0, 0.0);
    brv_remains_take(&remains, 2, -0.1);
    check_close(brv_remains_missing(&remains, &population, away, 2, -INFINITY).grains, 1.0, 0.0, 0.0);
    check_close(brv_remains_taken(&remains, &population, away, 3, -0.1), 0.2, 1e-15, 0.0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(each_class_on_its_own),
        cmocka_unit_test(a_fixed_edge),
        cmocka_unit_test(shares_by_the_library),
        cmocka_unit_test(all_alike),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
