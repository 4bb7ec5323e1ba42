/* Published ranges: a table that is whole, what the card of test spots takes from it, and where a scenario lies in it. */
#include "report/reported.h"

#include "support/check.h"
#include "support/sample.h"

#include <math.h>
#include <string.h>

static bool is_range(double low, double high, double least, double most)
{
    if (isnan(low) || isnan(high)) return isnan(low) && isnan(high);
    return low <= high && low >= least && high <= most;
}

/* Ranges the right way round and of a size that skin has seen, words everywhere, rows of a wavelength together. */
static void rows_are_whole(void **state)
{
    (void)state;
    for (size_t i = 0; i < brv_n_published; i++) {
        const struct brv_published *row = &brv_published[i];
        assert_true(is_range(row->low, row->high, 0.1e4, 20e4));
        assert_true(is_range(row->spot_low, row->spot_high, 1e-3, 20e-3));
        assert_true(isnan(row->wavelength) || (row->wavelength > 350e-9 && row->wavelength < 1100e-9));
        assert_true(!row->year || (row->year > 1980 && row->year < 2030));
        assert_true(row->n >= 0 && row->n < 1000);
        const char *const text[] = {row->pulse,   row->condition, row->name, row->skin,   row->visits,
                                    row->outcome, row->adverse,   row->doi,  row->source, row->seen};
        for (size_t k = 0; k < sizeof text / sizeof *text; k++) {
            assert_non_null(text[k]);
            assert_true(*text[k] && !strchr(text[k], '|')); /* a bar would part columns of the page */
        }
        /* As wide as the columns of the terminal. */
        assert_true(strlen(row->pulse) <= 12 && strlen(row->condition) + (row->sun ? 0 : 2) <= 36);
        if (i) assert_true(!(row->wavelength < brv_published[i - 1].wavelength));
    }
    for (size_t i = 0; i < brv_n_complications; i++)
        assert_true(*brv_complications[i].event && *brv_complications[i].rate && *brv_complications[i].source);
}

/* The card shows fluences in people under nanoseconds or less, and compares its signs with whitening in people only. */
static void what_the_card_takes(void **state)
{
    size_t n = 0;
    (void)state;
    for (size_t i = 0; i < brv_n_published; i++) {
        const struct brv_published *row = &brv_published[i];
        n += row->on_card;
        if (row->on_card) assert_true(!isnan(row->low) && row->kind != BRV_ANIMAL && row->pulses != BRV_LONG);
        if (row->sign_of >= 0) assert_true(row->on_card && row->kind == BRV_THRESHOLD);
    }
    assert_int_equal(n, 9);
}

/* 1064 nm: 1.2-2.0 through 8 mm, 1.6-2.0 through 5-6, 2.5 and 3.0-3.8 through 6, 1.6 through 7. */
static void a_scenario_among_papers(void **state)
{
    (void)state;
    struct brv_scenario ask = sample_scenario();
    ask.beam.wavelength = 1064e-9;
    ask.beam.spot = 6e-3;
    ask.beam.fluence = 1.6e4; /* an end belongs to its range */
    struct brv_among among = brv_reported_fluence(&ask);
    assert_int_equal(among.n, 5);
    assert_int_equal(among.within, 3);
    assert_int_equal(among.below, 2);
    assert_int_equal(among.above, 0);
    assert_int_equal(among.sun, 0);
    check_close(among.low, 1.2e4, 1e-15, 0.0);
    check_close(among.high, 3.8e4, 1e-15, 0.0);
    among = brv_reported_spot(&ask);
    assert_int_equal(among.within, 3);
    assert_int_equal(among.below, 2);
    ask.beam.spot = 9e-3;
    assert_int_equal(brv_reported_spot(&ask).above, 5);
    ask.beam.fluence = 1.0e4;
    assert_int_equal(brv_reported_fluence(&ask).below, 5);
    ask.pulse.width = 1e-3; /* milliseconds are another matter */
    assert_int_equal(brv_reported_fluence(&ask).n, 0);
    assert_true(isnan(brv_reported_fluence(&ask).low));
}

/* At 532 nm a guinea pig's threshold and at 694 nm people's are no treatment: they do not count. */
static void thresholds_are_no_treatment(void **state)
{
    (void)state;
    struct brv_scenario ask = sample_scenario();
    assert_int_equal(brv_reported_fluence(&ask).n, 0); /* none of nanoseconds that tells one */
    ask.pulse.width = 0.75e-9;
    assert_int_equal(brv_reported_fluence(&ask).n, 1); /* negishi-2018, picoseconds */
    ask.pulse.width = 7e-9;
    ask.beam.wavelength = 694e-9;
    assert_int_equal(brv_reported_fluence(&ask).n, 1); /* kono-2006 */
    assert_int_equal(brv_reported_fluence(&ask).sun, 1);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(rows_are_whole),
        cmocka_unit_test(what_the_card_takes),
        cmocka_unit_test(a_scenario_among_papers),
        cmocka_unit_test(thresholds_are_no_treatment),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
