/* The list of faults: order, doubles, and text from outside made fit for a terminal. */
#include "support/check.h"

#include "scenario/fault.h"

#include <stdio.h>
#include <string.h>

static void faults_are_sorted_by_place(void **state)
{
    (void)state;
    struct brv_faults faults = {0};
    brv_faults_add(&faults, "--set light.spot", 1, 12, "of the command line");
    brv_faults_add(&faults, "forearm.yaml", 17, 3, "third");
    brv_faults_add(&faults, "forearm.yaml", 4, 31, "second, %d of %s", 2, "two");
    brv_faults_add(&faults, "forearm.yaml", 4, 31, "second, at the same place");
    brv_faults_add(&faults, "forearm.yaml", 4, 9, "first");
    brv_faults_add(&faults, "forearm.yaml", 0, 0, "of the file");
    brv_faults_sort(&faults, "forearm.yaml");

    static const char *const wanted[] = {
        "of the file", "first", "second, 2 of two", "second, at the same place", "third", "of the command line"};
    assert_int_equal(faults.n, 6);
    for (size_t i = 0; i < faults.n; i++) assert_string_equal(faults.fault[i].text, wanted[i]);
    assert_int_equal(faults.out_of_memory, 0);
    brv_faults_free(&faults);
    brv_faults_free(&faults); /* twice is once */
    assert_int_equal(faults.n, 0);
}

static void the_same_fault_is_kept_once(void **state)
{
    (void)state;
    struct brv_faults faults = {0};
    for (int i = 0; i < 3; i++) brv_faults_add(&faults, "a.yaml", 5, 7, "skin.basal.blood = %d %%", 170);
    brv_faults_add(&faults, "a.yaml", 5, 8, "skin.basal.blood = 170 %%");
    brv_faults_add(&faults, "b.yaml", 5, 7, "skin.basal.blood = 170 %%");
    assert_int_equal(faults.n, 3);
    brv_faults_free(&faults);
}

static void faults_are_printed_one_a_line(void **state)
{
    (void)state;
    char text[256] = "";
    struct brv_faults faults = {0};
    brv_faults_add(&faults, "a.yaml", 12, 10, "light.pulse = 5 s, allowed 10 ps to 100 ms");
    brv_faults_add(&faults, "a.yaml", 0, 0, "is empty");
    FILE *to = tmpfile();
    assert_non_null(to);
    brv_faults_print(&faults, to);
    rewind(to);
    text[fread(text, 1, sizeof text - 1, to)] = '\0';
    fclose(to);
    brv_faults_free(&faults);
    assert_string_equal(text, "a.yaml:12:10: light.pulse = 5 s, allowed 10 ps to 100 ms\na.yaml: is empty\n");
}

static void control_characters_are_not_shown(void **state)
{
    (void)state;
    char out[BRV_SHOWN_SIZE];
    assert_string_equal(brv_fault_shown(out, "7 ns"), "7 ns");
    assert_string_equal(brv_fault_shown(out, "a\x1b[31m\x7f\tb\n"), "a?[31m??b?");
    assert_string_equal(brv_fault_shown(out, "a\xC2\x9B"
                                             "31m"),
                        "a?31m"); /* U+009B also begins an escape sequence */
    assert_string_equal(brv_fault_shown(out, "0.3 \xC2\xB5m"), "0.3 \xC2\xB5m");
    assert_string_equal(brv_fault_shown(out, "sk\xC5n\x9B"
                                             "31m"),
                        "sk?n?31m"); /* no UTF-8: byte by byte, and 9B alone is a control on some terminals */
    assert_string_equal(brv_fault_shown(out, ""), "");
}

/* Long text is cut, between characters and never inside one, whatever the offset. */
static void long_text_is_cut_between_characters(void **state)
{
    (void)state;
    char text[200], out[BRV_SHOWN_SIZE];
    for (size_t offset = 0; offset < 4; offset++) {
        memset(text, 'x', offset);
        for (size_t i = offset; i + 3 < sizeof text; i += 3) memcpy(text + i, "\xE2\x82\xAC", 4); /* euro signs */
        brv_fault_shown(out, text);
        const size_t length = strlen(out);
        assert_true(length < BRV_SHOWN_SIZE && length > BRV_SHOWN_SIZE - 8);
        assert_string_equal(out + length - 3, "...");
        assert_int_equal((length - 3 - offset) % 3, 0);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(faults_are_sorted_by_place),          cmocka_unit_test(the_same_fault_is_kept_once),
        cmocka_unit_test(faults_are_printed_one_a_line),       cmocka_unit_test(control_characters_are_not_shown),
        cmocka_unit_test(long_text_is_cut_between_characters),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
