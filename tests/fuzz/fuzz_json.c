/* Text of users on its way out: whatever it holds, JSON stays JSON with the same text in it, HTML keeps its marks, lines of
 * a terminal keep their cursor, and cuts fall between letters.                                                     */
#include "fuzz/fuzz.h"

#include "report/json.h"
#include "report/page.h"
#include "scenario/letters.h"

#include <stdlib.h>
#include <string.h>

/* ---- JSON ---- */

static void check_json(const char *text)
{
    struct fuzz_page page;
    fuzz_page_begin(&page);
    struct brv_json json = {.to = page.to};
    brv_json_open(&json, NULL, '{');
    brv_json_text(&json, "t", text);
    brv_json_open(&json, "list", '[');
    brv_json_text(&json, NULL, text);
    brv_json_close(&json, ']');
    brv_json_sourced(&json, "n", 1.5, text, text, "seen");
    brv_json_close(&json, '}');
    fuzz_page_end(&page);
    const char *fault = fuzz_json_fault(page.text, page.size);
    fuzz_require(!fault, "JSON, up to the end, not to %.20s", fault);
    if (fuzz_is_utf8(text, strlen(text))) {
        char *again = malloc(strlen(text) + 1);
        const char *at = strstr(page.text, "\"t\": ");
        fuzz_require(again && at && fuzz_json_string(again, strlen(text) + 1, at + 5) >= 0, "a string: %s", page.text);
        fuzz_require(!strcmp(again, text), "the same text, not %s", again);
        free(again);
    }
    free(page.text);
}

/* ---- HTML ---- */

/* The letter that &...; stands for; 0: none that this program writes. */
static char mark_at(const char *at, size_t *length)
{
    static const struct {
        const char *written;
        char letter;
    } mark[] = {{"&lt;", '<'}, {"&gt;", '>'}, {"&amp;", '&'}, {"&quot;", '"'}, {"&#39;", '\''}};
    for (size_t i = 0; i < sizeof mark / sizeof *mark; i++) {
        *length = strlen(mark[i].written);
        if (!strncmp(at, mark[i].written, *length)) return mark[i].letter;
    }
    return '\0';
}

/* Takes the marks back, in place. */
static void unmark(char *text)
{
    char *out = text;
    for (size_t length; *text; text += length) {
        fuzz_require(!strchr("<>\"'", *text), "a bare %c in a page", *text);
        char letter = *text;
        length = 1;
        if (letter == '&') letter = mark_at(text, &length);
        fuzz_require(letter, "a bare & in a page: %.10s", text);
        *out++ = letter;
    }
    *out = '\0';
}

static void check_page(const char *text)
{
    struct fuzz_page page;
    fuzz_page_begin(&page);
    brv_page_put(page.to, text);
    fuzz_page_end(&page);
    fuzz_require(strlen(page.text) == page.size && fuzz_is_utf8(page.text, page.size), "UTF-8 in a page");
    unmark(page.text);
    const bool letters_only = fuzz_is_plain(text) && !strstr(text, "\xEF\xBF") && !strstr(text, "\xBF\xBE") &&
                              !strstr(text, "\xBF\xBF"); /* U+xFFFE and U+xFFFF are no letters */
    fuzz_require(!letters_only || !strcmp(page.text, text), "the same text in a page, not %s", page.text);
    free(page.text);
}

/* ---- lines ---- */

static void check_cuts(const char *text, size_t room, size_t columns)
{
    char *out = malloc(room + 1), fault[BRV_SHOWN_SIZE];
    const bool utf8 = fuzz_is_utf8(text, strlen(text));
    fuzz_require(out, "memory");
    out[room] = 'x'; /* one behind the room that is named */
    brv_letters_shown(out, room, text);
    fuzz_require(!room || (strlen(out) < room && fuzz_is_plain(out)), "shown in %zu bytes: %s", room, out);
    fuzz_require(out[room] == 'x', "nothing is written behind %zu bytes", room);
    if (room > strlen(text) && fuzz_is_plain(text)) fuzz_require(!strcmp(out, text), "what fits is shown as it is");
    brv_letters_cut(out, room, text, columns);
    fuzz_require(!room || strlen(out) < room, "cut to %zu bytes", room);
    fuzz_require(!room || brv_letters_columns(out, strlen(out)) <= columns, "cut to %zu columns: %s", columns, out);
    fuzz_require(!room || !utf8 || fuzz_is_utf8(out, strlen(out)), "cut between letters: %s", out);
    const size_t bytes = brv_letters_bytes(text, room);
    fuzz_require(bytes <= room && (!utf8 || fuzz_is_utf8(text, bytes)), "%zu of %zu bytes", bytes, room);
    brv_fault_shown(fault, text);
    fuzz_require(strlen(fault) < BRV_SHOWN_SIZE && (!utf8 || fuzz_is_plain(fault)), "in a fault: %s", fault);
    free(out);
}

void fuzz_json(const uint8_t *data, size_t size)
{
    char *text = fuzz_text(data, size);
    const unsigned mix = fuzz_mix(data, size);
    check_json(text);
    check_page(text);
    check_cuts(text, mix % 97, mix / 97 % 50);
    for (size_t more = 0; more < 3; more++) check_cuts(text, strlen(text) + more, strlen(text) / 2 + more);
    free(text);
}
