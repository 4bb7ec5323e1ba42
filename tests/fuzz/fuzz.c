#include "fuzz/fuzz.h"

#include "scenario/letters.h"

#include <stdarg.h>
#include <stdlib.h>
#include <string.h>

bool fuzz_sparing;
const char *fuzz_input;
unsigned long fuzz_sound, fuzz_solved, fuzz_given_up;

void fuzz_fail(const char *file, int line, const char *condition, const char *format, ...)
{
    va_list words;
    va_start(words, format);
    if (fuzz_input) fprintf(stderr, "%s: ", fuzz_input);
    fprintf(stderr, "%s:%d: wanted %s: ", file, line, condition);
    vfprintf(stderr, format, words);
    fputc('\n', stderr);
    va_end(words);
    abort();
}

char *fuzz_text(const uint8_t *data, size_t size)
{
    char *text = malloc(size + 1);
    fuzz_require(text, "%zu bytes", size);
    if (size) memcpy(text, data, size);
    text[size] = '\0';
    return text;
}

unsigned fuzz_mix(const uint8_t *data, size_t size)
{
    uint32_t mix = 2166136261u;
    for (size_t i = 0; i < size; i++) mix = (mix ^ data[i]) * 16777619u;
    return mix >> 8;
}

/* ---- text ---- */

/* Length of the letter at `text`; 0 when it is none. Written out once more, to be no copy of what is tested. */
static size_t letter_at(uint32_t *letter, const unsigned char *text, size_t size)
{
    const unsigned first = *text;
    const size_t length = first < 0x80 ? 1 : (first & 0xE0) == 0xC0 ? 2 : (first & 0xF0) == 0xE0 ? 3 : 4;
    static const uint32_t least[] = {0, 0, 0x80, 0x800, 0x10000};
    if ((first & 0xC0) == 0x80 || first >= 0xF8 || length > size) return 0;
    *letter = length == 1 ? first : first & (0x7Fu >> length);
    for (size_t i = 1; i < length; i++) {
        if ((text[i] & 0xC0) != 0x80) return 0;
        *letter = *letter << 6 | (text[i] & 0x3F);
    }
    const bool surrogate = *letter >= 0xD800 && *letter < 0xE000;
    return *letter < least[length] || *letter > 0x10FFFF || surrogate ? 0 : length;
}

static bool is_control(uint32_t letter)
{
    return letter < 0x20 || (letter >= 0x7F && letter < 0xA0) || (letter >= 0x2028 && letter <= 0x202E) ||
           (letter >= 0x2066 && letter <= 0x2069);
}

static bool is_of_letters(const char *text, size_t size, bool plain)
{
    uint32_t letter = 0;
    for (size_t at = 0, length; at < size; at += length) {
        length = letter_at(&letter, (const unsigned char *)text + at, size - at);
        if (length == 0 || (plain && is_control(letter))) return false;
    }
    return true;
}

bool fuzz_is_plain(const char *text)
{
    return is_of_letters(text, strlen(text), true);
}

bool fuzz_is_utf8(const char *text, size_t size)
{
    return is_of_letters(text, size, false);
}

/* ---- faults ---- */

/* Bytes of a line end at `text`: as YAML has it, or line feeds alone. */
static size_t line_end(const char *text, size_t left, bool yaml)
{
    if (*text == '\n') return 1;
    if (!yaml) return 0;
    if (*text == '\r') return left > 1 && text[1] == '\n' ? 2 : 1;
    /* One by one: a fuzzer takes note of every memcmp, which took most of its time. */
    const unsigned char *byte = (const unsigned char *)text;
    if (left > 1 && byte[0] == 0xC2 && byte[1] == 0x85) return 2;
    return left > 2 && byte[0] == 0xE2 && byte[1] == 0x80 && (byte[2] == 0xA8 || byte[2] == 0xA9) ? 3 : 0;
}

/* Is there such a place, or the one behind the end of such a line? */
static bool is_inside(int line, int column, const char *text, size_t size, bool yaml)
{
    size_t at = 0, end = 0;
    for (int passed = 1; passed < line; passed++) {
        while (at < size && !(end = line_end(text + at, size - at, yaml))) at++;
        if (at == size) return false;
        at += end;
    }
    int letters = 0;
    for (; at < size && !line_end(text + at, size - at, yaml); at++)
        letters += ((unsigned char)text[at] & 0xC0) != 0x80;
    return line >= 1 && column >= 1 && column <= letters + 1;
}

/* As a user sees them: one line each, and nothing that moves a cursor. */
static void check_print(const struct brv_faults *faults)
{
    struct fuzz_page page;
    fuzz_page_begin(&page);
    brv_faults_print(faults, page.to);
    fuzz_page_end(&page);
    size_t lines = 0;
    for (char *at = page.text; *at; at += strlen(at) + 1, lines++) {
        char *end = strchr(at, '\n');
        fuzz_require(end, "a last line without an end: %s", at);
        *end = '\0';
        fuzz_require(fuzz_is_plain(at), "a line without controls: %s", at);
    }
    fuzz_require(lines == faults->n, "%zu lines for %zu faults", lines, faults->n);
    free(page.text);
}

void fuzz_faults_check(const struct brv_faults *faults, int code, const char *file, const char *text, size_t size)
{
    fuzz_require(!faults->out_of_memory, "memory");
    fuzz_require((code != 0) == (faults->n > 0), "exit code %d and %zu faults", code, faults->n);
    for (size_t i = 0; i < faults->n; i++) {
        const struct brv_fault *fault = &faults->fault[i];
        fuzz_require(*fault->text && *fault->file, "words at %d:%d", fault->line, fault->column);
        fuzz_require(fuzz_is_plain(fault->text), "%d:%d: %s", fault->line, fault->column, fault->text);
        const bool whole = fault->line == 0 && fault->column == 0;
        if (whole || strcmp(fault->file, file)) continue;
        fuzz_require(is_inside(fault->line, fault->column, text, size, true) ||
                         is_inside(fault->line, fault->column, text, size, false),
                     "a place inside the text, not %d:%d: %s", fault->line, fault->column, fault->text);
    }
    if (faults->n) check_print(faults);
}

void fuzz_faults_same(const struct brv_faults *one, const struct brv_faults *other)
{
    fuzz_require(one->n == other->n, "%zu faults, then %zu", one->n, other->n);
    for (size_t i = 0; i < one->n; i++) {
        const struct brv_fault *a = &one->fault[i], *b = &other->fault[i];
        fuzz_require(a->line == b->line && a->column == b->column && !strcmp(a->text, b->text) &&
                         !strcmp(a->file, b->file),
                     "%s:%d:%d: %s, then %s:%d:%d: %s", a->file, a->line, a->column, a->text, b->file, b->line,
                     b->column, b->text);
    }
}

/* ---- files in memory ---- */

void fuzz_page_begin(struct fuzz_page *page)
{
    *page = (struct fuzz_page){.text = NULL};
    page->to = open_memstream(&page->text, &page->size);
    fuzz_require(page->to, "a stream");
}

void fuzz_page_end(struct fuzz_page *page)
{
    fuzz_require(!ferror(page->to) && !fclose(page->to), "a stream that took all");
}
