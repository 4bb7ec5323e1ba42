/* Text of users: letters of UTF-8, how wide they are, where text is cut, what never reaches a terminal. */
#include "support/check.h"

#include "report/words.h"
#include "scenario/letters.h"

#include <stdio.h>
#include <string.h>

#define MICRO "\xC2\xB5"         /* U+00B5 */
#define EURO  "\xE2\x82\xAC"     /* U+20AC */
#define RI    "\xE6\x97\xA5"     /* U+65E5, two columns */
#define ALEF  "\xD7\x90"         /* U+05D0, from right to left */
#define ACUTE "\xCC\x81"         /* U+0301, upon the letter before */
#define SUN   "\xF0\x9F\x8C\x9E" /* U+1F31E, two columns */
#define DOTS  "\xE2\x80\xA6"     /* U+2026, the ellipsis */

/* The table of UTF-8 in RFC 3629, section 3, at both ends of every length. */
static void letters_are_those_of_utf8(void **state)
{
    (void)state;
    static const struct {
        const char *text;
        uint32_t letter;
        size_t length;
    } wanted[] = {{"a", 'a', 1},
                  {"\x7F", 0x7F, 1},
                  {"\xC2\x80", 0x80, 2},
                  {"\xDF\xBF", 0x7FF, 2},
                  {"\xE0\xA0\x80", 0x800, 3},
                  {"\xEF\xBF\xBD", 0xFFFD, 3},
                  {"\xF0\x90\x80\x80", 0x10000, 4},
                  {"\xF4\x8F\xBF\xBF", 0x10FFFF, 4},
                  {"\xC0\xAF", 0xFFFD, 1},         /* longer than it needs to be */
                  {"\xF4\x90\x80\x80", 0xFFFD, 1}, /* beyond the last one */
                  {"\xED\xA0\x80", 0xFFFD, 1},     /* half of a pair of UTF-16 */
                  {"\xED\xBF\xBF", 0xFFFD, 1},
                  {"\xED\x9F\xBF", 0xD7FF, 3},
                  {"\xEE\x80\x80", 0xE000, 3},
                  {"\x80", 0xFFFD, 1},     /* a continuation of nothing */
                  {"\xE2\x82", 0xFFFD, 1}, /* the text ends in it */
                  {"", 0, 0}};
    for (size_t i = 0; i < sizeof wanted / sizeof *wanted; i++) {
        size_t length = 99;
        assert_int_equal(brv_letters_at(wanted[i].text, &length), wanted[i].letter);
        assert_int_equal(length, wanted[i].length);
    }
}

static void controls_are_known(void **state)
{
    (void)state;
    static const uint32_t controls[] = {0x01,   '\t',   '\n',   0x1B,   0x7F,   0x85,  0x9B,
                                        0x2028, 0x2029, 0x202A, 0x202E, 0x2066, 0x2069};
    static const uint32_t letters[] = {' ',    '~',    0xA0,   0xB5,   0x5D0,  0x61C,
                                       0x200E, 0x200F, 0x2027, 0x202F, 0x20AC, 0x65E5};
    for (size_t i = 0; i < sizeof controls / sizeof *controls; i++) assert_true(brv_letters_is_control(controls[i]));
    for (size_t i = 0; i < sizeof letters / sizeof *letters; i++) assert_false(brv_letters_is_control(letters[i]));
}

static void columns_are_those_of_a_terminal(void **state)
{
    (void)state;
    assert_int_equal(brv_letters_columns("0.3 " MICRO "m", 99), 6);
    assert_int_equal(brv_letters_columns(RI RI, 99), 4);
    assert_int_equal(brv_letters_columns(ALEF "e" ACUTE SUN, 99), 4);
    assert_int_equal(brv_letters_columns("abc", 2), 2);
}

/* A letter is never cut in two, and what is cut is as much as fits, at every width and room. */
static void text_is_cut_between_letters(void **state)
{
    (void)state;
    static const char text[] = "a" MICRO EURO SUN "b" RI ALEF "e" ACUTE "z";
    char out[64];
    const size_t whole = sizeof text - 1, columns = brv_letters_columns(text, whole);
    for (size_t room = 1; room <= whole + 2; room++) {
        for (size_t most = 0; most <= columns + 1; most++) {
            memset(out, '#', sizeof out);
            assert_ptr_equal(brv_letters_cut(out, room, text, most), out);
            const size_t n = strlen(out);
            assert_true(n < room && out[room] == '#');
            assert_true(brv_letters_columns(out, n) <= most);
            assert_int_equal(brv_letters_bytes(out, n), n);
            if (room > whole && most >= columns) {
                assert_string_equal(out, text);
            } else if (n > 0) {
                assert_string_equal(out + n - 3, DOTS);
                assert_memory_equal(out, text, n - 3);
                assert_int_equal(brv_letters_bytes(text, n - 3), n - 3);
            } else {
                assert_true(room < 4 || most == 0); /* the ellipsis itself has no room */
            }
        }
    }
    assert_string_equal(brv_letters_cut(out, sizeof out, "abcdef", 4), "abc" DOTS);
    assert_string_equal(brv_letters_cut(out, sizeof out, RI RI RI, 4),
                        RI DOTS); /* a second one would leave it no column */
    assert_int_equal(brv_letters_bytes("a" EURO "b", 3), 1);
    assert_int_equal(brv_letters_bytes("a" EURO "b", 4), 4);
}

static void nothing_moves_a_cursor(void **state)
{
    (void)state;
    char out[64];
    assert_string_equal(brv_letters_shown(out, sizeof out, "a\x1b[31m\tb\n\x7f\xC2\x9B" EURO "\xE2\x80\xAE!"),
                        "a?[31m?b???" EURO "?!");
    assert_string_equal(brv_letters_shown(out, sizeof out, "\xFFx\xE2\x82"), "?x??"); /* no UTF-8: byte by byte */
    assert_string_equal(brv_letters_shown(out, 8, "0123456789"), "0123" DOTS);
}

/* ---- lines between words, as wide as asked for ---- */

static size_t widest(size_t columns, const char *text, int *lines)
{
    char written[4096], *at = written;
    size_t most = 0;
    FILE *to = tmpfile();
    assert_non_null(to);
    brv_words_fit(columns);
    *lines = brv_words_wrap(to, "LABEL", text);
    assert_int_equal(brv_words_wrap(NULL, "LABEL", text), *lines);
    brv_words_fit(0);
    rewind(to);
    written[fread(written, 1, sizeof written - 1, to)] = '\0';
    fclose(to);
    int n = 0;
    for (char *end; (end = strchr(at, '\n')); at = end + 1, n++) {
        const size_t width = brv_letters_columns(at, (size_t)(end - at));
        if (width > most) most = width;
    }
    if (columns == 0) assert_int_equal(n, *lines);
    if (columns && columns < BRV_WORDS_WIDTH) assert_true(n >= *lines); /* they count as if it were as wide as usual */
    return most;
}

static void lines_are_as_wide_as_asked_for(void **state)
{
    (void)state;
    char text[2000] = "";
    int lines;
    assert_int_equal(brv_words_width(), BRV_WORDS_WIDTH);
    for (int i = 0; i < 200; i++) strcat(text, i % 3 ? EURO MICRO " " : "abc ");
    static const size_t asked[] = {60, 77, 108, 140};
    for (size_t i = 0; i < sizeof asked / sizeof *asked; i++) {
        const size_t most = widest(asked[i], text, &lines);
        assert_true(most <= asked[i] &&
                    most + 4 > asked[i]); /* another word would not have fitted: none has 4 letters */
    }
    assert_true(widest(0, text, &lines) <= BRV_WORDS_WIDTH);
    assert_int_equal(widest(60, "one two", &lines), BRV_WORDS_INDENT + 7);
    assert_int_equal(lines, 1);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(letters_are_those_of_utf8),       cmocka_unit_test(controls_are_known),
        cmocka_unit_test(columns_are_those_of_a_terminal), cmocka_unit_test(text_is_cut_between_letters),
        cmocka_unit_test(nothing_moves_a_cursor),          cmocka_unit_test(lines_are_as_wide_as_asked_for),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
