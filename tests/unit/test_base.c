/* Tables, intervals, statuses and the team. */
#include "base/array.h"
#include "base/status.h"
#include "base/table.h"
#include "base/team.h"
#include "support/check.h"

static void table_reads_nodes_lines_and_ends(void **state)
{
    (void)state;
    static const double value[] = {2.0, 5.0, 4.0};
    const struct brv_table table = {400.0, 2.0, 3, value};
    check_close(brv_table_at(&table, 402.0), 5.0, 0.0, 0.0);
    check_close(brv_table_at(&table, 400.7), 2.0 + 0.35 * 3.0, 1e-13, 0.0);
    check_close(brv_table_at(&table, 399.0), 2.0, 0.0, 0.0);
    check_close(brv_table_at(&table, 404.0), 4.0, 0.0, 0.0);
    check_close(brv_table_at(&table, 1e9), 4.0, 0.0, 0.0);
}

static void interval_means_the_deeper_side(void **state)
{
    (void)state;
    static const double face[] = {0.0, 1.0, 2.5, 7.0};
    assert_int_equal(brv_array_interval(face, 3, -1.0), 0);
    assert_int_equal(brv_array_interval(face, 3, 0.9), 0);
    assert_int_equal(brv_array_interval(face, 3, 1.0), 1);
    assert_int_equal(brv_array_interval(face, 3, 2.5), 2);
    assert_int_equal(brv_array_interval(face, 3, 99.0), 2);
}

static brv_status square(void *context, size_t item, struct brv_error *error)
{
    int *seen = context;
    seen[item] = (int)(item * item);
    return item == 7 || item == 3 ? brv_error_raise_number(error, BRV_NUMERICS, "square", (double)item, 1.0) : BRV_OK;
}

static void team_does_all_and_names_the_first_failure(void **state)
{
    (void)state;
    for (unsigned threads = 1; threads <= 8; threads *= 2) {
        int seen[11] = {0};
        struct brv_error error = {.place = ""};
        assert_int_equal(brv_team_run(11, threads, square, seen, &error), BRV_NUMERICS);
        assert_int_equal((int)error.found, 3);
        for (int i = 0; i < 11; i++) assert_int_equal(seen[i], i * i);
        assert_int_equal(brv_team_run(3, threads, square, seen, NULL), BRV_OK);
    }
    assert_int_equal(brv_team_run(0, 2, square, NULL, NULL), BRV_OK);
}

static void every_status_has_words(void **state)
{
    (void)state;
    for (int i = 0; i < BRV_N_STATUS; i++) assert_true(brv_status_text((brv_status)i)[0] != '\0');
    assert_string_equal(brv_status_text(BRV_N_STATUS), "unknown status");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(table_reads_nodes_lines_and_ends), cmocka_unit_test(interval_means_the_deeper_side),
        cmocka_unit_test(team_does_all_and_names_the_first_failure), cmocka_unit_test(every_status_has_words)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
