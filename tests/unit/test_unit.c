/* Units: the closed table, its spellings, and the way back to words. */
#include "support/check.h"

#include "scenario/unit.h"

#include <math.h>
#include <stdbool.h>
#include <string.h>

static void every_spelling_is_found(void **state)
{
    (void)state;
    static const struct {
        const char *written, *name;
    } same[] = {
        {"nm", "nm"},
        {"\xC2\xB5m", "um"},
        {"\xCE\xBCm", "um"},
        {"\xC2\xB5s", "us"},
        {"\xCE\xBCJ", "uJ"},
        {"J/cm\xC2\xB2", "J/cm2"},
        {"J/cm^2", "J/cm2"},
        {"mJ/cm^2", "mJ/cm2"},
        {"J/m\xC2\xB2", "J/m2"},
        {"cm^-1", "cm-1"},
        {"cm\xE2\x81\xBB\xC2\xB9", "cm-1"},
        {"mm\xE2\x81\xBB\xC2\xB9", "mm-1"},
        {"1/mm", "1/mm"},
        {"\xC2\xB0"
         "C",
         "degC"},
        {"kg/m\xC2\xB3", "kg/m3"},
        {"g/cm^3", "g/cm3"},
        {"s^-1", "s-1"},
        {"W/m/K", "W/m/K"},
        {"Hz", "Hz"},
        {"W/m\xC2\xB2/K", "W/m2/K"},
        {"W/m^2/K", "W/m2/K"},
    };
    for (size_t i = 0; i < sizeof same / sizeof *same; i++) {
        const struct brv_unit *unit = brv_unit_find(same[i].written);
        assert_non_null(unit);
        assert_string_equal(unit->name, same[i].name);
    }
}

static void nothing_else_is_found(void **state)
{
    (void)state;
    static const char *const wrong[] = {
        "",      "NM",      "Mm",   "J/cm", "cm4",      "m m",        "^2",
        "J/cm^", "J/cm^^2", "/c m", "C",    "micron",   "W/m K",      "kg",
        "1/",    "/",       "hz",   "\xC2", "\xC2\xB5", "nm\xC2\xB2", "an_unreasonably_long_word_for_a_unit"};
    for (size_t i = 0; i < sizeof wrong / sizeof *wrong; i++) assert_null(brv_unit_find(wrong[i]));
}

static void the_nearest_unit_is_of_the_wanted_dimension(void **state)
{
    (void)state;
    assert_string_equal(brv_unit_meant("NM", BRV_LENGTH)->name, "nm");
    assert_string_equal(brv_unit_meant("J/cm", BRV_FLUENCE)->name, "J/cm2");
    assert_string_equal(brv_unit_meant("microns", BRV_LENGTH)->name, "um");
    assert_string_equal(brv_unit_meant("xm", BRV_LENGTH)->name, "mm");
    assert_string_equal(brv_unit_meant("W/(m K)", BRV_CONDUCTIVITY)->name, "W/m/K");
    assert_string_equal(brv_unit_meant("W/(m\xC2\xB2 K)", BRV_TRANSFER)->name, "W/m2/K");
    assert_string_equal(brv_unit_meant("hz", BRV_PER_TIME)->name, "Hz");
    assert_null(brv_unit_meant("furlong", BRV_LENGTH));
    assert_null(brv_unit_meant("", BRV_TIME));
    assert_null(brv_unit_meant("x", BRV_PURE));
}

static void values_read_well(void **state)
{
    (void)state;
    static const struct {
        double value;
        enum brv_dimension dimension;
        const char *text;
    } row[] = {
        {532e-9, BRV_LENGTH, "0.532 um"},   {47.31e-9, BRV_LENGTH, "47.31 nm"},
        {2.385e-3, BRV_LENGTH, "2.385 mm"}, {1.25, BRV_LENGTH, "1.25 m"},
        {7.3e-9, BRV_TIME, "7.3 ns"},       {999.999e-9, BRV_TIME, "1 us"},
        {61.7, BRV_TIME, "61.7 s"},         {6271.0, BRV_FLUENCE, "0.6271 J/cm2"},
        {83.4, BRV_FLUENCE, "8.34 mJ/cm2"}, {0.0754, BRV_ENERGY, "75.4 mJ"},
        {0.07, BRV_SHARE, "7 %"},           {306.15, BRV_TEMPERATURE, "33 degC"},
        {2.3e4, BRV_PER_LENGTH, "230 /cm"}, {1e7, BRV_PER_LENGTH, "100000 /cm"},
        {3e12, BRV_PER_LENGTH, "3e10 /cm"}, {1116.0, BRV_DENSITY, "1116 kg/m3"},
        {0.85, BRV_PURE, "0.85"},           {1e-5, BRV_PURE, "1e-5"},
        {INFINITY, BRV_LENGTH, "endless"},  {0.0, BRV_PER_TIME, "0 /s"},
        {-4.2e-3, BRV_LENGTH, "-4.2 mm"},
    };
    char text[BRV_UNIT_VALUE_SIZE];
    for (size_t i = 0; i < sizeof row / sizeof *row; i++) {
        brv_unit_value(text, row[i].value, brv_unit_best(row[i].value, row[i].dimension));
        assert_string_equal(text, row[i].text);
    }
}

static void two_values_share_a_unit_where_both_read_well(void **state)
{
    (void)state;
    assert_string_equal(brv_unit_common(400e-9, 1100e-9, BRV_LENGTH)->name, "nm");
    assert_string_equal(brv_unit_common(0.5e-3, 30e-3, BRV_LENGTH)->name, "mm");
    assert_string_equal(brv_unit_common(0.0, 0.02, BRV_LENGTH)->name, "mm");
    assert_null(brv_unit_common(10e-12, 100e-3, BRV_TIME));
    assert_null(brv_unit_common(1.0, 2.0, BRV_PURE));
}

static void lists_name_each_unit_once(void **state)
{
    (void)state;
    char list[BRV_UNIT_LIST_SIZE];
    assert_string_equal(brv_unit_list(list, BRV_LENGTH), "nm, um, mm, cm, m");
    assert_string_equal(brv_unit_list(list, BRV_PER_LENGTH), "/m, /cm, /mm");
    assert_string_equal(brv_unit_list(list, BRV_TIME), "ps, ns, us, ms, s, min");
    assert_string_equal(brv_unit_list(list, BRV_PER_TIME), "/s, Hz");
    assert_string_equal(brv_unit_list(list, BRV_TEMPERATURE), "degC, K");
    assert_string_equal(brv_unit_list(list, BRV_PURE), "");
}

/* A dimension of the key table without units could never be given; with its example, every one of them can. */
static void every_dimension_has_a_name_and_an_example(void **state)
{
    (void)state;
    for (int i = BRV_PURE; i < BRV_N_DIMENSION; i++) {
        assert_true(strlen(brv_unit_dimension_name((enum brv_dimension)i)) > 0);
        if (i == BRV_PURE) continue;
        const struct brv_unit *unit = brv_unit_find(brv_unit_example((enum brv_dimension)i));
        assert_non_null(unit);
        assert_int_equal(unit->dimension, i);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_spelling_is_found),
        cmocka_unit_test(nothing_else_is_found),
        cmocka_unit_test(the_nearest_unit_is_of_the_wanted_dimension),
        cmocka_unit_test(values_read_well),
        cmocka_unit_test(two_values_share_a_unit_where_both_read_well),
        cmocka_unit_test(lists_name_each_unit_once),
        cmocka_unit_test(every_dimension_has_a_name_and_an_example),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
