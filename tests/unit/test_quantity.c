/* Written values: what is taken, to which number, and why the rest is refused. */
#include "support/check.h"

#include "scenario/quantity.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static double taken(const char *text, enum brv_dimension dimension)
{
    char why[BRV_QUANTITY_WHY_SIZE] = "";
    double value = NAN;
    if (!brv_quantity_read(&value, text, dimension, why)) fail_msg("%s refused: %s", text, why);
    return value;
}

/* The reason must hold `words`, and the value must stay what it was. */
static void refused(const char *text, enum brv_dimension dimension, const char *words)
{
    char why[BRV_QUANTITY_WHY_SIZE] = "";
    double value = 41.75;
    if (brv_quantity_read(&value, text, dimension, why)) fail_msg("\"%s\" was taken as %.17g", text, value);
    if (!strstr(why, words)) fail_msg("\"%s\": reason is \"%s\", wanted \"%s\"", text, why, words);
    assert_true(value == 41.75);
}

/* Rounded once: exactly the double that the compiler makes of the same decimal number. */
static void values_are_rounded_once(void **state)
{
    (void)state;
    assert_true(taken("532 nm", BRV_LENGTH) == 532e-9);
    assert_true(taken("0.05 um", BRV_LENGTH) == 0.05e-6);
    assert_true(taken("0.05\xC2\xB5m", BRV_LENGTH) == 0.05e-6);
    assert_true(taken("  +2.385e1   mm ", BRV_LENGTH) == 23.85e-3);
    assert_true(taken("-4.17 cm", BRV_LENGTH) == -4.17e-2);
    assert_true(taken("7.3ns", BRV_TIME) == 7.3e-9);
    assert_true(taken(".5 ps", BRV_TIME) == 0.5e-12);
    assert_true(taken("5. ms", BRV_TIME) == 5e-3);
    assert_true(taken("3.5 min", BRV_TIME) == 210.0);
    assert_true(taken("14.3 %", BRV_SHARE) == 0.143);
    assert_true(taken("230.7 1/cm", BRV_PER_LENGTH) == 23070.0);
    assert_true(taken("1.35 g/cm3", BRV_DENSITY) == 1350.0);
    assert_true(taken("3.59 kJ/kg/K", BRV_HEAT_CAPACITY) == 3590.0);
    assert_true(taken("1.2E-3 /s", BRV_PER_TIME) == 1.2e-3);
    assert_true(taken("0.85", BRV_PURE) == 0.85);
    assert_true(taken("1e310 nm", BRV_LENGTH) == 1e301); /* in range once the unit is counted */
}

static void other_units_give_the_same_number(void **state)
{
    (void)state;
    const double fluence = taken("0.6 J/cm2", BRV_FLUENCE);
    assert_true(fluence == taken("600 mJ/cm2", BRV_FLUENCE));
    assert_true(fluence == taken("6000 J/m\xC2\xB2", BRV_FLUENCE));
    assert_true(taken("75 mJ", BRV_ENERGY) == taken("0.075 J", BRV_ENERGY));
    assert_true(taken("75 mJ", BRV_ENERGY) == taken("75000 uJ", BRV_ENERGY));
    assert_true(taken("23.7 /cm", BRV_PER_LENGTH) == taken("2.37 mm-1", BRV_PER_LENGTH));
    assert_true(taken("23.7 cm^-1", BRV_PER_LENGTH) == taken("2370 /m", BRV_PER_LENGTH));
    assert_true(taken("0.3 um", BRV_LENGTH) == taken("300 nm", BRV_LENGTH));
    /* one more rounding for the offset: 1 ulp of 306 is 5.7e-14 */
    check_close(taken("33.4 degC", BRV_TEMPERATURE), taken("306.55 K", BRV_TEMPERATURE), 0.0, 6e-14);
    assert_true(taken("0 \xC2\xB0"
                      "C",
                      BRV_TEMPERATURE) == 273.15);
}

static void a_bare_number_is_refused_where_a_unit_belongs(void **state)
{
    (void)state;
    refused("6", BRV_LENGTH, "unit is missing (nm, um, mm, cm, m)");
    refused("0.02", BRV_SHARE, "unit is missing (%)");
    refused("5e", BRV_TIME, "no unit is called e");
    refused("0", BRV_LENGTH, "unit is missing");
}

static void units_of_another_dimension_are_refused(void **state)
{
    (void)state;
    refused("2.3 mm", BRV_PER_LENGTH, "mm is a length; 1/length is wanted, such as /cm");
    refused("2.3 /cm", BRV_LENGTH, "/cm is 1/length; a length is wanted, such as mm");
    refused("5 mJ", BRV_FLUENCE, "mJ is an energy; an energy per area is wanted, such as J/cm2");
    refused("50 %", BRV_PURE, "a plain number, without %; did you mean 0.5?");
    refused("29 %", BRV_PURE, "did you mean 0.29?");
    refused("5 mm", BRV_PURE, "a plain number, without mm or any unit");
    refused("7 ns", BRV_PER_TIME, "ns is a time");
}

static void unknown_units_are_refused(void **state)
{
    (void)state;
    refused("7 nanoseconds", BRV_TIME, "no unit is called nanoseconds; did you mean ns?");
    refused("33 C", BRV_TEMPERATURE, "did you mean degC?");
    refused("7 fs", BRV_TIME, "fs is not taken here; it can be ps, ns, us, ms, s, min");
    refused("532 pm", BRV_LENGTH, "pm is not taken here; it can be nm, um, mm, cm, m");
    refused("3 kHz", BRV_PER_TIME, "kHz is not taken here; it can be /s, Hz");
    refused("1 kJ", BRV_ENERGY, "kJ is not taken here; it can be nJ, uJ, mJ, J");
    refused("5 W", BRV_ENERGY, "W is not taken here; it can be nJ, uJ, mJ, J");
    refused("1 /\xC2\xB5m", BRV_PER_LENGTH, "is not taken here; it can be /m, /cm, /mm");
    refused("4 furlongs", BRV_LENGTH, "no unit is called furlongs; here it can be nm, um, mm, cm, m");
    refused("0.37 W/m K", BRV_CONDUCTIVITY, "did you mean W/m/K?");
    refused("4 an_unreasonably_long_word_for_a_unit", BRV_LENGTH, "no unit is called an_unreasonably");
}

static void other_marks_are_refused(void **state)
{
    (void)state;
    refused("1,8 J/cm2", BRV_FLUENCE, "the decimal sign is a point");
    refused("1,064 nm", BRV_LENGTH, "thousands have no mark");
    refused(",5 mm", BRV_LENGTH, "the decimal sign is a point");
    refused("1 064 nm", BRV_LENGTH, "without marks or blanks");
    refused("1'064 nm", BRV_LENGTH, "without marks or blanks");
    refused("1.2.3 mm", BRV_LENGTH, "without marks or blanks");
    refused("5-10 um", BRV_LENGTH, "not a range");
    refused("5..10 um", BRV_LENGTH, "not a range");
    refused("5 to 10 um", BRV_LENGTH, "not a range");
    refused("<5 mm", BRV_LENGTH, "without <");
    refused("\xE2\x88\x92"
            "5 mm",
            BRV_LENGTH, "the minus sign is -");
    refused("4 x 4 mm", BRV_LENGTH, "not a product");
    refused("4 * 4 mm", BRV_LENGTH, "not a product");
    refused("4 \xC3\x97 10 mm", BRV_LENGTH, "not a product");
    refused("4 \xC2\xB1 1 mm", BRV_LENGTH, "without its spread");
    refused("4 +- 1 mm", BRV_LENGTH, "without its spread");
    refused("4+/-1 mm", BRV_LENGTH, "without its spread");
    refused("\xE2\x80\x9C"
            "4\xE2\x80\x9D mm",
            BRV_LENGTH, "quotation marks");
    refused("'4' mm", BRV_LENGTH, "quotation marks");
    refused("0x1p3 mm", BRV_LENGTH, "must be decimal");
    refused("5 mm wide", BRV_LENGTH, "nothing may follow the unit");
    refused("0.85 or so", BRV_PURE, "nothing may follow it");
}

static void what_is_no_number_is_refused(void **state)
{
    (void)state;
    static const char *const not_finite[] = {"nan", "NaN", "nan mm", "inf", "-inf mm", "Infinity", ".nan", "-.inf"};
    for (size_t i = 0; i < sizeof not_finite / sizeof *not_finite; i++)
        refused(not_finite[i], BRV_LENGTH, "only a finite number");
    refused("", BRV_LENGTH, "no value");
    refused("   ", BRV_PURE, "no value");
    refused("mm", BRV_LENGTH, "a number and its unit are wanted");
    refused("wide", BRV_PURE, "a number is wanted");
    refused("+ 5 mm", BRV_LENGTH, "a number and its unit");
    refused("--5 mm", BRV_LENGTH, "a number and its unit");
    refused(". mm", BRV_LENGTH, "a number and its unit");
    refused("e5 mm", BRV_LENGTH, "a number and its unit");
}

static void numbers_out_of_hand_are_refused(void **state)
{
    (void)state;
    char long_number[200];
    memset(long_number, '7', sizeof long_number - 4);
    strcpy(long_number + sizeof long_number - 4, " mm");
    refused(long_number, BRV_LENGTH, "digits cannot be read");
    refused("1e400 mm", BRV_LENGTH, "too large");
    refused("1e400", BRV_PURE, "too large");
    refused("1e99999999999999999999 mm", BRV_LENGTH, "too large");
    refused("1e-400 mm", BRV_LENGTH, "too small");
    refused("1e-99999999999999999999 mm", BRV_LENGTH, "too small");
    refused("1.797e308 min", BRV_TIME, "too large"); /* only once it is in seconds */
}

static void what_is_lacking_is_told_apart(void **state)
{
    (void)state;
    double number = NAN;
    assert_int_equal(brv_quantity_lack(" 0.37 ", &number), BRV_LACKS_UNIT);
    assert_true(number == 0.37);
    assert_int_equal(brv_quantity_lack("-2.5e-3", &number), BRV_LACKS_UNIT);
    assert_true(number == -2.5e-3);
    assert_int_equal(brv_quantity_lack("0.37 mm", &number), BRV_LACKS_NOTHING);
    assert_int_equal(brv_quantity_lack("0,37", &number), BRV_LACKS_NOTHING); /* its fault is another one */
    assert_int_equal(brv_quantity_lack("1e400", &number), BRV_LACKS_ROOM);
    assert_int_equal(brv_quantity_lack("1e-400 mm ", &number), BRV_LACKS_ROOM);
    assert_int_equal(brv_quantity_lack("1.797e308 min", &number), BRV_LACKS_ROOM);
    assert_int_equal(brv_quantity_lack("1e400 mmm", &number), BRV_LACKS_NOTHING); /* no such unit */
    assert_int_equal(brv_quantity_lack("green", &number), BRV_LACKS_NUMBER);
    assert_int_equal(brv_quantity_lack("", &number), BRV_LACKS_NUMBER);
    assert_true(number == -2.5e-3);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(values_are_rounded_once),
        cmocka_unit_test(other_units_give_the_same_number),
        cmocka_unit_test(a_bare_number_is_refused_where_a_unit_belongs),
        cmocka_unit_test(units_of_another_dimension_are_refused),
        cmocka_unit_test(unknown_units_are_refused),
        cmocka_unit_test(other_marks_are_refused),
        cmocka_unit_test(what_is_no_number_is_refused),
        cmocka_unit_test(numbers_out_of_hand_are_refused),
        cmocka_unit_test(what_is_lacking_is_told_apart),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
