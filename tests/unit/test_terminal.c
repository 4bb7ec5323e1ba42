/* What a terminal is given: nothing wider than it is, no word lost, marks where they are due and nowhere else. */
#include "support/check.h"

#include "report/terminal.h"
#include "report/words.h"
#include "scenario/letters.h"

#include <stdio.h>
#include <string.h>

static const char text[] =
    "brevis 0.1.0   a title of more columns than there are, which stays as it was typed  in one line   [scenario 0]\n"
    "\n"
    "                                                            lesion                   neighbour\n"
    "LIGHT    reflected, in basal, elsewhere, through, %         23.7, 31, 45.3, 0        30.2, 15.9, 53.9, 0\n"
    "         light at the grain, at 1 mm, over incident         2.22, 0.877              2.82, 1.03\n"
    "           at the surface                                   37.6 (35.4 to 40.2)      36.9 (34.9 to 39.8)\n"
    "HEAT     in depth and sideways: travels 2 mm by 10 s, over 5 % of the spot; steady flux to the surface 148 W/m2\n"
    "NOTES    neighbour ABOVE its sign; IEC is no such word.\n"
    "         lesion BELOW it.\n"
    "CAUTION  A teaching model. NEVER more.\n"
    "Skin at 532 nm\n";

static void paint(char *out, size_t room, const char *what, size_t width, bool marks)
{
    FILE *to = tmpfile();
    assert_non_null(to);
    brv_terminal_paint(to, what, width, marks);
    rewind(to);
    out[fread(out, 1, room - 1, to)] = '\0';
    fclose(to);
}

static size_t widest(const char *painted)
{
    size_t most = 0;
    for (const char *line = strchr(painted, '\n') + 1; *line; line += strcspn(line, "\n") + 1) {
        const size_t columns = brv_letters_columns(line, strcspn(line, "\n"));
        if (columns > most) most = columns;
    }
    return most;
}

/* Only blanks and line ends differ. */
static void same_words(const char *one, const char *other)
{
    for (;; one++, other++) {
        one += strspn(one, " \n");
        other += strspn(other, " \n");
        assert_int_equal(*one, *other);
        if (!*one) return;
    }
}

static void wide_enough_is_as_it_was(void **state)
{
    (void)state;
    char out[4096];
    paint(out, sizeof out, text, 120, false);
    assert_string_equal(out, text);
}

static void nothing_is_wider_than_the_terminal_and_nothing_is_lost(void **state)
{
    (void)state;
    char out[8192];
    for (size_t width = BRV_TERMINAL_LEAST; width <= 120; width++) {
        paint(out, sizeof out, text, width, false);
        assert_true(widest(out) <= width);
        same_words(out, text);
    }
}

/* Heads and cells of one table go below each other, at whatever width. */
static void tables_are_folded_alike(void **state)
{
    (void)state;
    char out[4096];
    paint(out, sizeof out, text, 80, false);
    assert_non_null(strstr(out, "\n             lesion                   neighbour\n"));
    assert_non_null(strstr(out, "LIGHT    reflected, in basal, elsewhere, through, %\n"
                                "             23.7, 31, 45.3, 0        30.2, 15.9, 53.9, 0\n"));
    assert_non_null(strstr(out, "           at the surface\n"
                                "             37.6 (35.4 to 40.2)      36.9 (34.9 to 39.8)\n"));
    paint(out, sizeof out, text, 100, false); /* blanks are enough here */
    assert_non_null(strstr(out,
                           "LIGHT    reflected, in basal, elsewhere, through, %         23.7, 31, 45.3, 0    30.2, "
                           "15.9, 53.9, 0\n"));
    assert_non_null(strstr(out,
                           "HEAT     in depth and sideways: travels 2 mm by 10 s, over 5 % of the spot; steady flux "
                           "to the\n         surface 148 W/m2\n"));
}

static void marks_stand_where_they_are_due(void **state)
{
    (void)state;
    char out[4096];
    paint(out, sizeof out, text, 120, true);
    assert_non_null(strstr(out, "\n\033[1mLIGHT\033[0m    reflected"));
    assert_non_null(strstr(out, "\n\033[1mNOTES\033[0m    neighbour \033[1;31mABOVE\033[0m its sign; IEC is no"));
    assert_non_null(strstr(out, "\n         lesion \033[1;31mBELOW\033[0m it.\n"));
    assert_non_null(strstr(out, "\n\033[1;31mCAUTION\033[0m  A teaching model. NEVER more.\n"));
    assert_non_null(strstr(out, "\nSkin at 532 nm\n"));
    size_t n = 0;
    for (const char *at = out; (at = strchr(at, '\033')); at++) n++;
    assert_int_equal(n, 2 * 6); /* four labels, two words */
}

/* Every column stays under its own head, and every piece names its rows. */
static void tables_of_many_columns_are_parted(void **state)
{
    (void)state;
    static const char table[] = "             light at the grain, J/cm2                light at 1 mm, J/cm2\n"
                                "spot         lesion                  neighbour        lesion     neighbour\n"
                                "2 mm         1.23 (0.616 to 1.79)    1.54 (0.9 to 2)  0.3        0.4\n"
                                "3 mm         1.3 (0.636 to 1.94)     1.65 (0.9 to 2)  0.4        0.5\n"
                                "\n"
                                "NOTES    that is all\n";
    char out[4096];
    paint(out, sizeof out, table, 60, false);
    assert_string_equal(out, "             light at the grain, J/cm2\n"
                             "spot         lesion                  neighbour\n"
                             "2 mm         1.23 (0.616 to 1.79)    1.54 (0.9 to 2)\n"
                             "3 mm         1.3 (0.636 to 1.94)     1.65 (0.9 to 2)\n"
                             "\n"
                             "             light at 1 mm, J/cm2\n"
                             "spot         lesion     neighbour\n"
                             "2 mm         0.3        0.4\n"
                             "3 mm         0.4        0.5\n"
                             "\n"
                             "NOTES    that is all\n");
    paint(out, sizeof out, table, 80, false);
    assert_string_equal(out, table);
}

/* A word wider than the terminal stays whole, and so does text without a line's end. */
static void what_cannot_be_folded_stays(void **state)
{
    (void)state;
    char out[512], word[100];
    memset(word, 'x', sizeof word - 1);
    word[sizeof word - 1] = '\0';
    paint(out, sizeof out, word, 60, true);
    assert_memory_equal(out, word, sizeof word - 1);
    assert_string_equal(out + sizeof word - 1, "\n");
    paint(out, sizeof out, "", 60, true);
    assert_string_equal(out, "");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(wide_enough_is_as_it_was),
        cmocka_unit_test(nothing_is_wider_than_the_terminal_and_nothing_is_lost),
        cmocka_unit_test(tables_are_folded_alike),
        cmocka_unit_test(marks_stand_where_they_are_due),
        cmocka_unit_test(tables_of_many_columns_are_parted),
        cmocka_unit_test(what_cannot_be_folded_stays),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
