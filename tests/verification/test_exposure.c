/* Exposure limits against worked examples: published ones, and others by hand from the rows. */
#include "side/exposure.h"

#include "base/constants.h"
#include "scenario/scenario.h"
#include "support/check.h"
#include "support/table.h"

#include <math.h>
#include <string.h>

static struct brv_exposure_ask at(int edition, int organ, double wavelength, double width)
{
    return (struct brv_exposure_ask){.edition = edition, .organ = organ, .wavelength = wavelength, .width = width};
}

static struct brv_exposure train(int edition, int organ, double wavelength, double width, double rate, double stay)
{
    struct brv_exposure_ask ask = at(edition, organ, wavelength, width);
    struct brv_exposure exposure;
    ask.rate = rate;
    ask.stay = stay;
    assert_true(brv_exposure_solve(&exposure, &ask));
    return exposure;
}

static double single(int edition, int organ, double wavelength, double width)
{
    return train(edition, organ, wavelength, width, 0.0, 10.0).limit;
}

static double energy(double limit) /* through the pupil */
{
    return limit * BRV_PI * 3.5e-3 * 3.5e-3;
}

static void one_pulse(void **state)
{
    (void)state;
    check_row("eye, 1064 nm, 5 ns, EU 2006, J/m2", "directive-2006-25 (seen)",
              single(BRV_EU_2006, BRV_EYE, 1064e-9, 5e-9), 5e-2, 1e-15, "rounding");
    check_row("eye, 1064 nm, 5 ns, ICNIRP 2013, J/m2", "icnirp-2013 (second-hand)",
              single(BRV_ICNIRP_2013, BRV_EYE, 1064e-9, 5e-9), 2e-2, 1e-15, "rounding");
    check_row("through the pupil at the limit, 1064 nm, ns, J", "iec-60825-2014 (second-hand)",
              energy(single(BRV_ICNIRP_2013, BRV_EYE, 1064e-9, 5e-9)), 7.7e-7, 0.05e-7, "digits printed");
    check_row("through the pupil at the limit, 532 nm, ns, J", "iec-60825-2014 (second-hand)",
              energy(single(BRV_ICNIRP_2013, BRV_EYE, 532e-9, 5e-9)), 7.7e-8, 0.05e-8, "digits printed");
    check_row("skin, 1064 nm, 5 to 10 ns, J/cm2", "icnirp-2013 (second-hand)",
              1e-4 * single(BRV_ICNIRP_2013, BRV_SKIN, 1064e-9, 7e-9), 0.1, 1e-15, "rounding");
    struct brv_exposure_ask skin = at(BRV_ICNIRP_2013, BRV_SKIN, 1064e-9, 7e-9);
    check_row("skin, 1064 nm, 100 s, W/cm2", "icnirp-2013 (second-hand)",
              1e-4 * brv_exposure_limit(&skin, 100.0, NULL) / 100.0, 1.0, 1e-14, "rounding");
}

/* Values as they are printed with the factors; digits printed set the tolerance. */
static void factors(void **state)
{
    (void)state;
    check_row("C_A at 755 nm", "directive-2006-25 (seen)", brv_exposure_factor_a(755e-9), 1.2882, 5e-5,
              "digits printed");
    check_row("C_A at 800 nm", "directive-2006-25 (seen)", brv_exposure_factor_a(800e-9), 1.5849, 5e-5,
              "digits printed");
    check_row("C_A at 1030 nm", "directive-2006-25 (seen)", brv_exposure_factor_a(1030e-9), 4.571, 5e-4,
              "digits printed");
    check_close(brv_exposure_factor_a(532e-9), 1.0, 0.0, 0.0);
    check_close(brv_exposure_factor_a(1064e-9), 5.0, 0.0, 0.0);
    check_close(brv_exposure_factor_c(BRV_EU_2006, 1064e-9), 1.0, 0.0, 0.0);
    check_close(brv_exposure_factor_c(BRV_EU_2006, 1175e-9), 2.818382931264454, 1e-12, 0.0); /* 10^0.45 */
    check_close(brv_exposure_factor_c(BRV_EU_2006, 1300e-9), 8.0, 0.0, 0.0);
    check_close(brv_exposure_factor_c(BRV_ICNIRP_2013, 1300e-9), 108.0, 1e-10, 0.0); /* 8 + 10^2 */
    check_close(brv_exposure_alpha_max(BRV_EU_2006, 1e-9), 0.1, 0.0, 0.0);
    check_close(brv_exposure_alpha_max(BRV_ICNIRP_2013, 1e-9), 5e-3, 0.0, 0.0);
    check_close(brv_exposure_alpha_max(BRV_ICNIRP_2013, 625e-6), 5e-3, 1e-12, 0.0); /* both forms meet */
    check_close(brv_exposure_alpha_max(BRV_ICNIRP_2013, 0.01), 0.02, 1e-12, 0.0);
    check_close(brv_exposure_alpha_max(BRV_ICNIRP_2013, 10.0), 0.1, 0.0, 0.0);
    check_row("C_E of 6 mm from 2.82 m", "icnirp-2013 (second-hand)",
              brv_exposure_factor_e(BRV_ICNIRP_2013, 6e-3 / 2.82, 5e-9), 1.42, 0.005, "digits printed");
    check_close(brv_exposure_factor_e(BRV_EU_2006, 1.4e-3, 1e-9), 1.0, 0.0, 0.0);
    check_close(brv_exposure_factor_e(BRV_ICNIRP_2013, 5e-3, 1e-9), 5.0 / 1.5, 1e-12, 0.0); /* joins without a step */
    check_close(brv_exposure_factor_e(BRV_ICNIRP_2013, 10e-3, 1e-9), 1e-4 / 7.5e-6, 1e-12, 0.0);
    check_close(brv_exposure_factor_e(BRV_EU_2006, 10e-3, 1e-9), 10.0 / 1.5, 1e-12, 0.0);
}

/* Eyewear for 20 mJ, 12 ns, 11 a second, all of it through the pupil, by the rule of 2006. The table gives one digit
 * after the point; its middle value, 4.97, is printed as 5.0.                                                          */
static void old_rule_for_trains(void **state)
{
    (void)state;
    static const double stay[] = {10.0, 600.0, 30000.0}, printed[] = {4.5, 5.0, 5.4}, own[] = {4.527, 4.972, 5.396};
    for (size_t i = 0; i < 3; i++) {
        const struct brv_exposure exposure = train(BRV_EU_2006, BRV_EYE, 1064e-9, 12e-9, 11.0, stay[i]);
        const double density = log10(20e-3 / energy(1.0) / exposure.limit);
        check_row("density for 20 mJ, 11 a second", "eyewear-table (memory)", density, printed[i], 0.05,
                  "digits printed");
        check_close(density, own[i], 0.0, 5e-4);
        assert_int_equal(exposure.binding, BRV_RULE_MANY);
        assert_int_equal((int)exposure.pulses, (int)(11.0 * stay[i]));
        assert_int_equal(exposure.cut, stay[i] > 10.0); /* sums over more than 10 s have no row for the eye */
    }
}

static void trains(void **state)
{
    (void)state;
    struct brv_exposure exposure = train(BRV_EU_2006, BRV_EYE, 1064e-9, 5e-9, 5.0, 10.0);
    check_row("eye, 1064 nm, 5 a second for 10 s, EU 2006, J/m2", "own-limits (computed)", exposure.limit, 1.880e-2,
              5e-6, "digits printed");
    assert_int_equal(exposure.binding, BRV_RULE_MANY);
    check_close(exposure.rule[BRV_RULE_SUM], 90.0 * pow(10.0, 0.75) / 50.0, 1e-12, 0.0);
    assert_false(exposure.cut);

    exposure = train(BRV_ICNIRP_2013, BRV_SKIN, 1064e-9, 5e-9, 10.0, 10.0);
    check_row("skin, 1064 nm, 10 a second for 10 s, ICNIRP 2013, J/m2", "own-limits (computed)", exposure.limit, 978.0,
              0.5, "digits printed");
    assert_int_equal(exposure.binding, BRV_RULE_SUM);
    assert_true(isinf(exposure.rule[BRV_RULE_MANY])); /* of the retina only */
    exposure = train(BRV_ICNIRP_2013, BRV_SKIN, 1064e-9, 5e-9, 5.0, 10.0);
    check_row("skin, 1064 nm, 5 a second for 10 s, the sum, J/m2", "own-limits (computed)", exposure.rule[BRV_RULE_SUM],
              1956.0, 0.5, "digits printed");
    assert_int_equal(exposure.binding, BRV_RULE_ONE);
    exposure = train(BRV_EU_2006, BRV_SKIN, 1064e-9, 5e-9, 10.0, 10.0); /* its rule 3 is of all thermal limits */
    check_close(exposure.limit, 1000.0 * pow(100.0, -0.25), 1e-12, 0.0);
    exposure = train(BRV_ICNIRP_2013, BRV_EYE, 1064e-9, 5e-9, 5.0, 10.0);
    check_close(exposure.limit, 2e-2 * pow(50.0, -0.25), 1e-12, 0.0);
}

/* 488 nm, 10 ns, a million a second, 0.25 s: 18 pulses stand within 18 us and count as one. The question is published,
 * the answers are by hand.                                                                                         */
static void pulses_that_count_as_one(void **state)
{
    (void)state;
    const struct brv_exposure exposure = train(BRV_EU_2006, BRV_EYE, 488e-9, 10e-9, 1e6, 0.25);
    check_row("488 nm, a million a second: rule 1, J/m2", "optics-exercise (computed)", exposure.rule[BRV_RULE_ONE],
              5e-3, 1e-15, "rounding");
    check_row("rule 2", "optics-exercise (computed)", exposure.rule[BRV_RULE_SUM], 2.546e-5, 5e-9, "digits printed");
    check_row("rule 3, 18 pulses as one", "optics-exercise (computed)", exposure.rule[BRV_RULE_MANY], 2.559e-5, 5e-9,
              "digits printed");
    assert_int_equal(exposure.binding, BRV_RULE_SUM);
}

/* The smallest sum of any number of pulses, tried one by one. Long pulses, so that the sum decides. */
static void every_stretch_of_time(void **state)
{
    (void)state;
    static const double rates[] = {0.7, 1.0, 3.3, 10.0}, stays[] = {1.0, 9.5, 10.0, 400.0};
    static const double wavelengths[] = {532e-9, 800e-9, 1064e-9};
    for (size_t i = 0; i < 4 * 4 * 3 * 4; i++) {
        const double rate = rates[i % 4], stay = stays[i / 4 % 4], wavelength = wavelengths[i / 16 % 3];
        const int edition = (int)(i / 48 % 2), organ = (int)(i / 96 % 2);
        const struct brv_exposure exposure = train(edition, organ, wavelength, 50e-3, rate, stay);
        const struct brv_exposure_ask ask = at(edition, organ, wavelength, 50e-3);
        double least = (double)INFINITY;
        for (double n = 2.0; n <= exposure.pulses; n++) {
            const double share = brv_exposure_limit(&ask, n / rate, NULL) / n;
            const double before = brv_exposure_limit(&ask, n / rate * (1.0 - 1e-13), NULL) / n;
            if (share < least) least = share;
            if (before < least) least = before; /* n pulses fit into a little less than n / f */
        }
        if (isinf(least))
            assert_true(isinf(exposure.rule[BRV_RULE_SUM]));
        else
            check_close(exposure.rule[BRV_RULE_SUM], least, 1e-12, 0.0); /* the step before a joint is 1e-13 */
        assert_true(exposure.limit <= exposure.rule[0] && exposure.limit <= exposure.rule[1]);
    }
}

static void joints(void **state)
{
    (void)state;
    const struct brv_exposure_row *row;
    struct brv_exposure_ask ask = at(BRV_EU_2006, BRV_SKIN, 1064e-9, 1e-9);
    check_close(brv_exposure_limit(&ask, 1e-7, &row), 5.5e4 * pow(1e-7, 0.25), 1e-12, 0.0); /* 2 % below 1000 */
    check_close(brv_exposure_limit(&ask, 0.999999e-7, &row), 1000.0, 1e-12, 0.0);
    check_close(brv_exposure_limit(&ask, 10.0, &row), 1e5, 1e-12, 0.0); /* the irradiance, for 10 s */
    check_close(brv_exposure_limit(&ask, 0.5e-9, &row), 500.0, 1e-12, 0.0);
    ask.organ = BRV_EYE;
    check_close(brv_exposure_limit(&ask, 10.0, &row), 90.0 * pow(10.0, 0.75), 1e-12, 0.0); /* no row follows */
    assert_true(isnan(brv_exposure_limit(&ask, 10.1, &row)));
    assert_null(row);
    ask.wavelength = 1050e-9;
    check_close(brv_exposure_limit(&ask, 1e-9, &row), 5e-3 * 5.0, 1e-12, 0.0); /* 5e-2 by the row of longer waves */
    ask.wavelength = 1051e-9;
    check_close(brv_exposure_limit(&ask, 1e-9, &row), 5e-2, 1e-12, 0.0); /* 4 % below by the row that ends */
    ask.wavelength = 1049e-9;
    check_close(brv_exposure_limit(&ask, 1e-9, &row), 5e-3 * pow(10.0, 0.698), 1e-12, 0.0);
}

/* The fixed range of an edition is known in the check of scenarios too, which may not know this table. */
static void what_an_edition_does_not_cover(void **state)
{
    (void)state;
    const struct brv_exposure_ask ask = at(BRV_ICNIRP_2013, BRV_EYE, 1064e-9, 0.999e-9);
    struct brv_exposure exposure;
    assert_false(brv_exposure_solve(&exposure, &ask));
    assert_true(isnan(exposure.limit) && !exposure.row && !exposure.covered);
    for (double wavelength = 400e-9; wavelength <= 1100e-9; wavelength += 1e-9) {
        check_close(brv_exposure_shortest(BRV_ICNIRP_2013, wavelength), BRV_ICNIRP_SHORTEST, 0.0, 0.0);
        check_close(brv_exposure_shortest(BRV_EU_2006, wavelength), 1e-13, 0.0, 0.0);
    }
    assert_true(isnan(brv_exposure_shortest(BRV_EU_2006, 300e-9)));
}

#define DATA "tests/verification/data/"

/* Factors as the table writes them. */
static unsigned bits_of(const char *factors)
{
    return (strstr(factors, "C_A") ? BRV_FACTOR_A : 0U) | (strstr(factors, "C_C") ? BRV_FACTOR_C : 0U) |
           (strstr(factors, "C_E") ? BRV_FACTOR_E : 0U);
}

/* One row of the code that says what the table's row says, to the last digit; nanometres and seconds to rounding. */
static bool says(const struct brv_exposure_row *row, const struct table_row *printed)
{
    const double bound[] = {
        row->from_wavelength * 1e9, row->to_wavelength * 1e9, row->from, row->to, row->coefficient, row->exponent};
    static const char *const column[] = {"lambda_min_nm", "lambda_max_nm", "t_min_s", "t_max_s", "coef", "t_exponent"};
    for (size_t i = 0; i < 6; i++) {
        const double wanted = table_number(printed, column[i]);
        if (!(fabs(bound[i] - wanted) <= 1e-12 * fabs(wanted))) return false;
    }
    return row->irradiance == !strcmp(table_text(printed, "quantity"), "E") &&
           row->organ == (strcmp(table_text(printed, "target"), "skin") ? BRV_EYE : BRV_SKIN) &&
           row->factors == bits_of(table_text(printed, "factors"));
}

/* `context`: how often every row of the code was found. */
static void find_row(const struct table_row *printed, void *context)
{
    const char *id = table_text(printed, "id");
    const bool used = !strncmp(id, "EU-", 3) || !strncmp(id, "IC-", 3);
    const int edition = !used ? -1 : *id == 'E' ? BRV_EU_2006 : BRV_ICNIRP_2013;
    const struct brv_exposure_row *row = used ? brv_exposure_rows : brv_exposure_others;
    const size_t n = used ? brv_n_exposure_rows : brv_n_exposure_others;
    size_t found = 0;
    for (size_t i = 0; i < n; i++) found += row[i].edition == edition && says(&row[i], printed);
    if (found != 1) table_fail(printed, "not in the code, or twice", id);
    *(size_t *)context += found;
}

/* The table is the sheet on which rows were taken down; a slip of the pen in the code shows, or later in either. */
static void rows_as_taken_down(void **state)
{
    (void)state;
    size_t found = 0;
    assert_int_equal(table_each(DATA "exposure_limits.csv", find_row, &found), 37);
    assert_int_equal(found, brv_n_exposure_rows + brv_n_exposure_others);
    check_row("rows of limits that differ from those taken down", "directive-2006-25 (seen)", 37.0 - (double)found, 0.0,
              0.0, "every bound, coefficient and factor; those of 2013 second-hand");
}

/* Every row that answers was seen or is told as second-hand; rows of one edition leave no gap and do not overlap. */
static void tables(void **state)
{
    (void)state;
    for (size_t i = 0; i < brv_n_exposure_rows; i++) {
        const struct brv_exposure_row *row = &brv_exposure_rows[i];
        assert_string_equal(row->seen, row->edition == BRV_EU_2006 ? "seen" : "second-hand");
    }
    for (size_t i = 0; i < brv_n_exposure_others; i++) assert_int_equal(brv_exposure_others[i].edition, -1);
    for (int edition = 0; edition < BRV_N_EDITION; edition++)
        for (int organ = 0; organ < BRV_N_ORGAN; organ++)
            for (double wavelength = 400e-9; wavelength <= 1100e-9; wavelength += 10e-9)
                for (double time = 1e-11; time < 10.0; time *= 1.37) {
                    size_t n = 0;
                    for (size_t i = 0; i < brv_n_exposure_rows; i++) {
                        const struct brv_exposure_row *row = &brv_exposure_rows[i];
                        n += row->edition == edition && row->organ == organ && wavelength >= row->from_wavelength &&
                             wavelength < row->to_wavelength && time >= row->from && time < row->to;
                    }
                    assert_int_equal(n, edition == BRV_EU_2006 || time >= 1e-9);
                }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(one_pulse),
        cmocka_unit_test(factors),
        cmocka_unit_test(old_rule_for_trains),
        cmocka_unit_test(trains),
        cmocka_unit_test(pulses_that_count_as_one),
        cmocka_unit_test(every_stretch_of_time),
        cmocka_unit_test(joints),
        cmocka_unit_test(what_an_edition_does_not_cover),
        cmocka_unit_test(rows_as_taken_down),
        cmocka_unit_test(tables),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
