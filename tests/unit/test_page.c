/* Pages: text of users stays text, figures go in as data, every source that a run may name has words for it. */
#include "effect/damage.h"
#include "effect/threshold.h"
#include "report/cite.h"
#include "report/page.h"
#include "scenario/body.h"
#include "scenario/keys.h"

#include "support/check.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

/* What `write` puts into a file; the caller's to free. */
static char *written(void (*write)(FILE *to, const char *text), const char *text)
{
    char *made = NULL;
    size_t size;
    FILE *to = open_memstream(&made, &size);
    assert_non_null(to);
    write(to, text);
    fclose(to);
    return made;
}

static void becomes(const char *text, const char *page)
{
    char *made = written(brv_page_put, text);
    assert_string_equal(made, page);
    free(made);
}

static void marks_of_a_user_stay_letters(void **state)
{
    (void)state;
    becomes("plain", "plain");
    becomes("<script>alert('x')</script>", "&lt;script&gt;alert(&#39;x&#39;)&lt;/script&gt;");
    becomes("a \"b\" & c", "a &quot;b&quot; &amp; c");
    becomes("`rm` 100 % $HOME %s", "`rm` 100 % $HOME %s");
    becomes("&amp;", "&amp;amp;");
    becomes("caf\xC3\xA9 \xD7\xA9\xD7\x9C\xD7\x95\xD7\x9D \xE6\x97\xA5\xE6\x9C\xAC \xF0\x9D\x84\x9E",
            "caf\xC3\xA9 \xD7\xA9\xD7\x9C\xD7\x95\xD7\x9D \xE6\x97\xA5\xE6\x9C\xAC \xF0\x9D\x84\x9E");
    becomes("one\r\ntwo\tthree", "one\ntwo\tthree");
}

#define NONE "\xEF\xBF\xBD"

/* Bytes that no browser may read in its own way: each becomes U+FFFD, and what follows is read on. */
static void what_is_no_letter_is_shown_as_such(void **state)
{
    (void)state;
    becomes("a\xC3", "a" NONE);                       /* cut in the middle */
    becomes("a\xC3<b", "a" NONE "&lt;b");             /* what follows is not swallowed */
    becomes("\xE6\x97", NONE NONE);                   /* cut */
    becomes("\xC0\xBC", NONE NONE);                   /* < in two bytes */
    becomes("\xE0\x80\xBC", NONE NONE NONE);          /* < in three */
    becomes("\xED\xA0\x80", NONE NONE NONE);          /* half a pair */
    becomes("\xF4\x90\x80\x80", NONE NONE NONE NONE); /* beyond the last letter */
    becomes("\xFE\xFF", NONE NONE);
    becomes("bell\a, \x1B[31m, \x7F, \r.", "bell" NONE ", " NONE "[31m, " NONE ", " NONE ".");
    becomes("\xC2\x85", NONE NONE); /* a control letter of two bytes */
}

static void put_range(FILE *to, const char *text)
{
    brv_page_spread(to, "", text);
}

static void a_range_goes_on_a_line_of_its_own(void **state)
{
    (void)state;
    char *made = written(put_range, "171 (81.8 to 255)");
    assert_string_equal(made, "<td>171 <span class=\"range\">(81.8 to 255)</span></td>");
    free(made);
    made = written(put_range, "none");
    assert_string_equal(made, "<td>none</td>");
    free(made);
}

/* ---- figures ---- */

static char folder[] = "/tmp/brevis-page-XXXXXX";

static void lay(const char *name, const char *bytes, size_t size)
{
    char path[64];
    snprintf(path, sizeof path, "%s/%s", folder, name);
    FILE *to = fopen(path, "wb");
    assert_non_null(to);
    assert_int_equal(fwrite(bytes, 1, size, to), size);
    fclose(to);
}

static void take_away(const char *name)
{
    char path[64];
    snprintf(path, sizeof path, "%s/%s", folder, name);
    unlink(path);
}

static void put_figure(FILE *to, const char *alt)
{
    brv_page_figure(to, folder, "f", alt, "c");
}

/* The examples of RFC 4648, section 10, from memory; printf of any shell's base64 agrees. */
static void figures_go_in_as_data(void **state)
{
    (void)state;
    static const char *const pair[][2] = {{"f", "Zg=="},           {"fo", "Zm8="},        {"foo", "Zm9v"},
                                          {"foob", "Zm9vYg=="},    {"fooba", "Zm9vYmE="}, {"foobar", "Zm9vYmFy"},
                                          {"\xFF\xFE\xFD", "//79"}};
    assert_non_null(mkdtemp(folder));
    char *made = written(put_figure, "a");
    assert_string_equal(made, ""); /* there is none */
    free(made);
    for (size_t i = 0; i < sizeof pair / sizeof *pair; i++) {
        char wanted[64];
        lay("f.svg", pair[i][0], strlen(pair[i][0]));
        made = written(put_figure, "say \"peak\" < 3");
        snprintf(wanted, sizeof wanted, "src=\"data:image/svg+xml;base64,%s\"", pair[i][1]);
        assert_non_null(strstr(made, wanted));
        assert_non_null(strstr(made, "alt=\"say &quot;peak&quot; &lt; 3\""));
        free(made);
    }
    take_away("f.svg");
}

static void a_large_drawing_is_shown_as_picture(void **state)
{
    (void)state;
    static char large[300000];
    memset(large, 'a', sizeof large);
    lay("f.svg", large, sizeof large);
    lay("f.png", "foo", 3);
    char *made = written(put_figure, "a");
    assert_non_null(strstr(made, "src=\"data:image/png;base64,Zm9v\""));
    free(made);
    take_away("f.svg");
    take_away("f.png");
    rmdir(folder);
}

/* ---- sources ---- */

static void has_words(const char *key)
{
    if (!strcmp(key, "-")) return;
    if (!brv_citation_text(key)) fail_msg("no citation of %s", key);
}

static void every_source_has_words(void **state)
{
    (void)state;
    for (size_t i = 0; i < brv_n_keys; i++) has_words(brv_keys[i].source);
    for (size_t i = 0; i < BRV_N_CRITERION; i++) has_words(brv_criteria[i].source);
    for (size_t set = 0; set < BRV_N_DAMAGE; set++)
        for (size_t i = 0; i < BRV_N_DAMAGE_TISSUE; i++) has_words(brv_damage_pairs[set][i].source);
    for (size_t i = 0; i < BRV_N_PRESET; i++) has_words(brv_ready_skins[i].source);
    for (size_t i = 0; i < BRV_N_BODY_SITE; i++) {
        const struct brv_measured *measured[] = {&brv_body_sites[i].epidermis, &brv_body_sites[i].horny,
                                                 &brv_body_sites[i].dermis};
        for (size_t k = 0; k < 3; k++)
            if (measured[k]->value > 0.0) has_words(measured[k]->source);
    }
    assert_null(brv_citation_text("nobody-2000"));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(marks_of_a_user_stay_letters),        cmocka_unit_test(what_is_no_letter_is_shown_as_such),
        cmocka_unit_test(a_range_goes_on_a_line_of_its_own),   cmocka_unit_test(figures_go_in_as_data),
        cmocka_unit_test(a_large_drawing_is_shown_as_picture), cmocka_unit_test(every_source_has_words),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
