/* The reader of meter readings: what it takes to the last bit, and every refusal with its place. */
#include "scenario/readings.h"

#include "command/command.h"
#include "support/check.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static struct brv_readings taken(const char *text)
{
    struct brv_readings readings;
    struct brv_faults faults = {.n = 0};
    const int code = brv_readings_parse(&readings, "r.csv", text, strlen(text), &faults);
    brv_faults_print(&faults, stderr);
    assert_int_equal(code, BRV_EXIT_DONE);
    assert_int_equal(faults.n, 0);
    return readings;
}

/* Refused, and the faults are those of `wanted`, each "line:column: part of its text", in order; NULL ends them. */
static void refused(const char *text, size_t size, const char *const wanted[])
{
    struct brv_readings readings;
    struct brv_faults faults = {.n = 0};
    assert_int_equal(brv_readings_parse(&readings, "r.csv", text, size, &faults), BRV_EXIT_REFUSED);
    assert_null(readings.reading);
    assert_int_equal(readings.n, 0);
    size_t n = 0;
    for (; wanted[n]; n++) {
        char place[32];
        assert_true(n < faults.n);
        snprintf(place, sizeof place, "%d:%d: ", faults.fault[n].line, faults.fault[n].column);
        const size_t length = strlen(place);
        if (strncmp(wanted[n], place, length) || !strstr(faults.fault[n].text, wanted[n] + length))
            fail_msg("wanted \"%s\", found \"%s%s\"", wanted[n], place, faults.fault[n].text);
    }
    if (n != faults.n) fail_msg("%zu faults more, the next: %s", faults.n - n, faults.fault[n].text);
    brv_faults_free(&faults);
}

#define REFUSED(text, ...) refused((text), strlen(text), (const char *const[]){__VA_ARGS__, NULL})

/* Decimals in other units are the nearest double of what was written: 75.3 mJ is 0.0753 J. */
static void all_that_is_allowed(void **state)
{
    (void)state;
    struct brv_readings readings =
        taken("\xEF\xBB\xBF"
              "set_mJ,spot_mm,\"energy_mJ\",day\r\n80, 4.1 ,\"75.3\",7\r\n,,7.53e1,3\r\n80,,+70,7\r\n\r\n");
    assert_int_equal(readings.n, 3);
    check_close(readings.reading[0].day, 3.0, 0.0, 0.0); /* sorted */
    check_close(readings.reading[0].energy, 0.0753, 0.0, 0.0);
    assert_true(isnan(readings.reading[0].spot) && isnan(readings.reading[0].set));
    check_close(readings.reading[1].energy, 0.0753, 0.0, 0.0);
    check_close(readings.reading[1].spot, 0.0041, 0.0, 0.0);
    check_close(readings.reading[1].set, 0.080, 0.0, 0.0);
    check_close(readings.reading[2].energy, 0.070, 0.0, 0.0); /* the same day: in the order of the file */
    brv_readings_free(&readings);
    brv_readings_free(&readings);
    readings = taken("energy_J\n0.4\n0.5"); /* no days, LF, no end of the last line */
    assert_int_equal(readings.n, 2);
    assert_true(isnan(readings.reading[0].day));
    check_close(readings.reading[1].energy, 0.5, 0.0, 0.0);
    brv_readings_free(&readings);
}

static void ends_of_the_ranges(void **state)
{
    (void)state;
    struct brv_readings readings = taken("energy_mJ,spot_mm,day\n0.0001,0.5,0\n1e6,30,36600\n");
    check_close(readings.reading[0].energy, 1e-7, 0.0, 0.0);
    brv_readings_free(&readings);
    REFUSED("energy_mJ,spot_mm,day\n0.00009,0.49,-1\n1.1e6,30.1,20240511\n",
            "2:1: energy_mJ = 0.00009, allowed 0.0001 mJ to 1000000 mJ", "2:9: spot_mm = 0.49, allowed 0.5 mm to 30 mm",
            "2:14: day = -1, allowed 0 to 36600: a whole running number", "3:1: energy_mJ = 1.1e6, allowed",
            "3:7: spot_mm = 30.1, allowed", "3:12: day = 20240511, allowed");
    REFUSED("energy_mJ,day\n400,3\n401,3.01\n",
            "3:5: day = 3.01, allowed 0 to 36600: a whole running number, no date, no part");
    REFUSED(
        "energy_mJ\n0000000000000000000000000000000000000000000000000000000000000000000000000000424\n",
        "2:1: energy_mJ = 00000000000000000000000000000000000000000000000000000000000000000000...: too long: no meter");
}

static void headers_that_are_refused(void **state)
{
    (void)state;
    REFUSED("energy_mJ,serial\n75,12\n", "1:11: column \"serial\": no device, no person: allowed only day");
    REFUSED("energy_mj\n75\n", "1:1: column \"energy_mj\": did you mean energy_mJ?",
            "1:1: the column energy_mJ (or energy_J) is missing");
    REFUSED("day,spot_mm\n1,4\n", "1:1: the column energy_mJ (or energy_J) is missing");
    REFUSED("energy_mJ,energy_J\n75,0.075\n", "1:1: energy_mJ and energy_J both");
    REFUSED("energy_mJ,day,energy_mJ\n75,1,75\n", "1:15: column energy_mJ stands twice");
    REFUSED("day;energy_mJ\n1;75,3\n", "1:1: columns are parted by semicolons");
    REFUSED("75.3\n75.1\n", "1:1: column \"75.3\"", "1:1: the column energy_mJ");
    REFUSED("", "0:0: is empty");
    REFUSED("\r\n\n", "0:0: is empty");
    REFUSED("day,energy_mJ\r\n", "0:0: holds a header and no readings");
}

static void numbers_that_are_refused(void **state)
{
    (void)state;
    REFUSED("energy_mJ\nnan\ninf\n1e999\n75 mJ\nabout 75\n0x4B\n-5\n", "2:1: energy_mJ = nan: a number is allowed",
            "3:1: energy_mJ = inf: a number is allowed", "4:1: energy_mJ = 1e999, allowed 0.0001 mJ to 1000000 mJ",
            "5:1: energy_mJ = 75 mJ: text after the number; its unit", "6:1: energy_mJ = about 75: a number",
            "7:1: energy_mJ = 0x4B: text after", "8:1: energy_mJ = -5, allowed");
    REFUSED("day,energy_mJ\n2024-05-11,75\n11.05.2024,75\n,75\n1,\n", "2:1: day = 2024-05-11: a date: not allowed",
            "3:1: day = 11.05.2024: a date", "4:1: day = nothing stands here", "5:3: energy_mJ = nothing stands here");
    REFUSED("energy_mJ\n\"75,3\"\n", "2:1: energy_mJ = 75,3: a decimal comma, allowed is a point");
    REFUSED("day,energy_mJ\n1,75,3\n2\n", "2:1: 3 fields where the header names 2; a decimal comma",
            "3:1: 1 fields where the header names 2");
    REFUSED("day,energy_mJ,set_mJ\n1,75,80\n2,75,\n3,75,81\n", "4:6: set_mJ = 81, but 80 in line 2: one file");
}

static void records_that_are_refused(void **state)
{
    (void)state;
    REFUSED("energy_mJ\n\"75\n76\n", "2:1: this quote is never closed");
    REFUSED("energy_mJ\n\"75\"x\n76\n", "2:5: text after a closing quote");
    REFUSED("energy_mJ,day\n75,\"1\"\"\"\n7\"5,1\n", "2:4: day = 1\": text after", "3:1: energy_mJ = 7\"5",
            "3:2: a quote inside");
    REFUSED("energy_mJ\n75\n\n76\n", "3:1: an empty line between rows");
    REFUSED("energy_mJ\r75\r76\r", "1:10: a carriage return that ends no line");
    REFUSED("energy_mJ,\xC2\xB5\n75,1\n", "1:11: column");
    REFUSED("energy_mJ\n\xFF\n", "2:1: ");
    refused("energy_mJ\n7\0005\n", 14, (const char *const[]){"2:2: ", NULL});
}

/* Line 3 after a field with a line end in its quotes; letters of two bytes count once. */
static void places_inside_quotes(void **state)
{
    (void)state;
    REFUSED("energy_mJ,day\n\"\xC2\xB5\n\",x\n75,y\n", "2:1: energy_mJ = ", "3:3: day = x", "4:4: day = y");
}

static void as_many_as_fit(void **state)
{
    (void)state;
    enum { ROWS = BRV_MOST_READINGS + 1, BYTES = 2 * 1024 * 1024 };
    char *text = malloc(BYTES + 1);
    assert_non_null(text);
    strcpy(text, "energy_J\n");
    size_t used = strlen(text);
    for (int i = 0; i < BRV_MOST_READINGS; i++) used += (size_t)sprintf(text + used, "0.5\n");
    struct brv_readings readings = taken(text);
    assert_int_equal(readings.n, BRV_MOST_READINGS);
    brv_readings_free(&readings);
    strcpy(text + used, "0.5\n");
    REFUSED(text, "10002:1: more than 10000 rows");
    memset(text, '1', BYTES);
    text[BYTES] = '\0';
    REFUSED(text, "0:0: is larger than 1 MiB");
    used = (size_t)sprintf(text, "energy_J\n");
    for (int i = 0; i < 1000; i++) used += (size_t)sprintf(text + used, "x%d\n", i);
    struct brv_faults faults = {.n = 0};
    assert_int_equal(brv_readings_parse(&readings, "r.csv", text, used, &faults), BRV_EXIT_REFUSED);
    assert_int_equal(faults.n, 51); /* fifty, and that more may be wrong */
    brv_faults_free(&faults);
    free(text);
}

static void files(void **state)
{
    (void)state;
    struct brv_readings readings;
    struct brv_faults faults = {.n = 0};
    assert_int_equal(brv_readings_read(&readings, "no/such/readings.csv", &faults), BRV_EXIT_FILE);
    assert_int_equal(brv_readings_read(&readings, ".", &faults), BRV_EXIT_FILE);
    assert_null(readings.reading);
    brv_faults_free(&faults);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(all_that_is_allowed),      cmocka_unit_test(ends_of_the_ranges),
        cmocka_unit_test(headers_that_are_refused), cmocka_unit_test(numbers_that_are_refused),
        cmocka_unit_test(records_that_are_refused), cmocka_unit_test(places_inside_quotes),
        cmocka_unit_test(as_many_as_fit),           cmocka_unit_test(files),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
