#include "report/page.h"

#include "scenario/letters.h"

#include <stdarg.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

enum { PATH_ROOM = 4200, TEXT_ROOM = 2000 };

#define LARGEST_SVG ((size_t)200 * 1024) /* a larger one is shown as PNG [bytes] */
#define LARGEST_PNG ((size_t)16 << 20)   /* a larger one is none of ours [bytes] */

/* Every rule that colours letters names the ground below them: tests/cli/report.sh works out their contrast. */
static const char style[] =
    "html { -webkit-text-size-adjust: 100% }\n"
    "body { margin: 0; font: 1rem/1.5 system-ui, sans-serif; color: #1b1b1b; background: #fdfdfb }\n"
    "main { max-width: 52rem; margin: 0 auto; padding: 1rem 1rem 3rem; overflow-wrap: break-word }\n"
    "h1 { font-size: 1.6rem; line-height: 1.25; margin: 0.5rem 0 }\n"
    "h2 { font-size: 1.25rem; line-height: 1.3; margin: 2.5rem 0 0.75rem; padding-top: 0.5rem; "
    "border-top: 2px solid #1b1b1b }\n"
    "h3 { font-size: 1rem; margin: 1.5rem 0 0.25rem }\n"
    "p, ul, ol, dl { margin: 0.6rem 0 } li { margin: 0.35rem 0 }\n"
    "a { color: #00486f; background: #fdfdfb }\n"
    ".meta, figcaption, .small { color: #444444; background: #fdfdfb; font-size: 0.875rem }\n"
    ".caution { border: 2px solid #1b1b1b; border-left-width: 0.6rem; padding: 0.6rem 0.9rem; margin: 1rem 0; "
    "color: #000000; background: #ffffff }\n"
    "ul.caution { padding-left: 1.8rem }\n"
    ".grave { border-left: 0.6rem solid #1b1b1b; margin-left: 0; padding-left: 1.6rem }\n"
    "nav ul { list-style: none; padding: 0; display: flex; flex-wrap: wrap; gap: 0.2rem 1.1rem }\n"
    "dl { display: grid; grid-template-columns: 9.5rem 1fr; gap: 0.35rem 1rem }\n"
    "dt { font-weight: bold } dd { margin: 0; min-width: 0 }\n"
    "table { border-collapse: collapse; width: 100%; font-size: 0.9375rem; line-height: 1.35 }\n"
    "caption { text-align: left; padding-bottom: 0.4rem; color: #444444; background: #fdfdfb; font-size: 0.875rem }\n"
    "th, td { text-align: left; vertical-align: top; padding: 0.35rem 0.5rem; border-bottom: 1px solid #8a8a8a }\n"
    "thead th { border-bottom: 2px solid #1b1b1b } tbody th { font-weight: normal }\n"
    "tbody tr.part th { font-weight: bold; padding-top: 0.9rem; border-bottom-color: #1b1b1b }\n"
    "td { font-variant-numeric: tabular-nums } .range, .aside { display: block; font-size: 0.8125rem; "
    "color: #444444; background: #fdfdfb }\n"
    ".box { overflow-x: auto } figure { margin: 1.5rem 0 } figure .box { border: 1px solid #8a8a8a; "
    "background: #ffffff }\n"
    "img { display: block; width: 100%; height: auto; min-width: 36rem; color: #000000; background: #ffffff }\n"
    "pre { overflow-x: auto; padding: 0.75rem; border: 1px solid #8a8a8a; margin: 0.5rem 0; "
    "font: 0.8125rem/1.45 ui-monospace, monospace; color: #000000; background: #ffffff }\n"
    "code { font-family: ui-monospace, monospace; font-size: 0.9em }\n"
    ".sheet td { height: 2.1rem; border: 1px solid #1b1b1b } .sheet th { border: 1px solid #1b1b1b }\n"
    ".sheet th + th, .sheet td { width: 24% } .lines { height: 9rem; border: 1px solid #1b1b1b; padding: 0.3rem "
    "0.5rem; "
    "margin: 0.75rem 0 } .line { height: 2.5rem }\n"
    "@media screen and (max-width: 40rem) {\n"
    "dl { display: block } dd { margin: 0 0 0.5rem } th, td { padding: 0.3rem 0.35rem }\n"
    "table { font-size: 0.875rem }\n"
    "figcaption::before { content: \"\\2190 push the figure sideways \\2192  \"; font-weight: bold }\n"
    "}\n"
    "@page { size: A4; margin: 14mm }\n"
    "@media print {\n"
    "body { font-size: 10pt; line-height: 1.35; color: #000000; background: #ffffff }\n"
    "main { max-width: none; padding: 0 } nav { display: none }\n"
    "a, .meta, figcaption, .small, caption, .range, .aside { color: #000000; background: #ffffff }\n"
    "a { text-decoration: none } h1 { font-size: 16pt } h2 { font-size: 13pt; margin: 7mm 0 2mm }\n"
    "h1, h2, h3, caption { break-after: avoid } figure, .caution, li, tr, .lines, dd { break-inside: avoid }\n"
    "thead { display: table-header-group } .box, pre { overflow: visible } pre { white-space: pre-wrap }\n"
    "img { min-width: 0; max-height: 108mm; object-fit: contain } figure { margin: 4mm 0 } figure .box { border: 0 }\n"
    ".meta, figcaption, .small { font-size: 8.5pt } table { font-size: 9pt; line-height: 1.25 } "
    "th, td { padding: 0.6mm 1.2mm } .range { display: inline; white-space: nowrap } .sources { font-size: 8pt } "
    "tr.part { break-after: "
    "avoid } "
    "pre { break-before: avoid } .sheet { break-before: page } .sheet td { height: 8mm } .lines { height: 80mm } .line "
    "{ height: 10mm }\n"
    "}\n";

/* ---- text ---- */

/* How many bytes the letter has; 0 for what is no UTF-8 or no letter: controls, what is never assigned. */
static size_t letter_length(const char *text, size_t size)
{
    char four[5] = ""; /* a letter has four bytes at most, and the text need not end with a 0 */
    size_t length;
    memcpy(four, text, size < 4 ? size : 4);
    const uint32_t letter = brv_letters_at(four, &length);
    const bool broken = brv_letters_is_broken(letter, length), line = letter == '\n' || letter == '\t';
    const bool control = letter < 0x20 || (letter >= 0x7F && letter < 0xA0);
    const bool none = (letter & 0xFFFE) == 0xFFFE;
    return broken || (control && !line) || none ? 0 : length;
}

static const char *escaped(char letter)
{
    switch (letter) {
    case '<':
        return "&lt;";
    case '>':
        return "&gt;";
    case '&':
        return "&amp;";
    case '"':
        return "&quot;";
    case '\'':
        return "&#39;";
    default:
        return NULL;
    }
}

void brv_page_put_bytes(FILE *to, const char *text, size_t size)
{
    for (size_t at = 0; at < size;) {
        const size_t length = letter_length(text + at, size - at);
        const char *mark = escaped(text[at]);
        if (text[at] == '\r' && at + 1 < size && text[at + 1] == '\n') {
            at++; /* lines may end as they do elsewhere */
            continue;
        }
        if (!length)
            fputs("\xEF\xBF\xBD", to); /* U+FFFD */
        else if (mark)
            fputs(mark, to);
        else
            fwrite(text + at, 1, length, to);
        at += length ? length : 1;
    }
}

void brv_page_put(FILE *to, const char *text)
{
    brv_page_put_bytes(to, text, strlen(text));
}

void brv_page_element(FILE *to, const char *element, const char *attributes, const char *text)
{
    fprintf(to, "<%s%s%s>", element, *attributes ? " " : "", attributes);
    brv_page_put(to, text);
    fprintf(to, "</%s>\n", element);
}

void brv_page_say(FILE *to, const char *format, ...)
{
    char text[TEXT_ROOM];
    va_list list;
    va_start(list, format);
    vsnprintf(text, sizeof text, format, list);
    va_end(list);
    brv_page_element(to, "p", "", text);
}

/* ---- frame ---- */

void brv_page_begin(FILE *to, const char *title)
{
    fputs("<!doctype html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n" BRV_PAGE_POLICY
          "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n",
          to);
    brv_page_element(to, "title", "", title);
    fprintf(to, "<style>\n%s</style>\n</head>\n<body>\n<main>\n", style);
}

void brv_page_end(FILE *to)
{
    fputs("</main>\n</body>\n</html>\n", to);
}

void brv_page_section(FILE *to, const char *id, const char *heading)
{
    fprintf(to, "\n<h2 id=\"%s\">%s</h2>\n", id, heading);
}

void brv_page_entry(FILE *to, const char *name, const char *text)
{
    if (!*text) return;
    brv_page_element(to, "dt", "", name);
    brv_page_element(to, "dd", "", text);
}

void brv_page_spread(FILE *to, const char *attributes, const char *text)
{
    const char *range = strstr(text, " (");
    const size_t length = strlen(text);
    fprintf(to, "<td%s%s>", *attributes ? " " : "", attributes);
    brv_page_put_bytes(to, text, range ? (size_t)(range - text) : length);
    if (range) {
        fputs(" <span class=\"range\">", to);
        brv_page_put(to, range + 1);
        fputs("</span>", to);
    }
    fputs("</td>", to);
}

/* ---- figures ---- */

static void path_of(char path[PATH_ROOM], const char *folder, const char *name, const char *kind)
{
    snprintf(path, PATH_ROOM, "%s/%s.%s", folder, name, kind);
}

bool brv_page_has_figure(const char *folder, const char *name)
{
    char path[PATH_ROOM];
    path_of(path, folder, name, "svg");
    return !access(path, R_OK);
}

/* The bytes of a file, the caller's to free, or NULL. */
static unsigned char *bytes_of(const char *path, size_t most, size_t *size)
{
    FILE *from = fopen(path, "rb");
    unsigned char *bytes = NULL;
    if (!from) return NULL;
    if (!fseek(from, 0, SEEK_END)) {
        const long length = ftell(from);
        rewind(from);
        if (length > 0 && (size_t)length <= most && (bytes = malloc((size_t)length))) {
            *size = (size_t)length;
            if (fread(bytes, 1, *size, from) != *size) {
                free(bytes);
                bytes = NULL;
            }
        }
    }
    fclose(from);
    return bytes;
}

static void put_base64(FILE *to, const unsigned char *bytes, size_t size)
{
    static const char digit[] = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    for (size_t i = 0; i < size; i += 3) {
        const size_t left = size - i;
        const unsigned word = (unsigned)bytes[i] << 16 | (left > 1 ? (unsigned)bytes[i + 1] << 8 : 0u) |
                              (left > 2 ? (unsigned)bytes[i + 2] : 0u);
        const char four[4] = {digit[word >> 18], digit[word >> 12 & 63u], left > 1 ? digit[word >> 6 & 63u] : '=',
                              left > 2 ? digit[word & 63u] : '='};
        fwrite(four, 1, sizeof four, to);
    }
}

bool brv_page_image(FILE *to, const char *folder, const char *name, const char *alt)
{
    char path[PATH_ROOM];
    size_t size;
    const char *kind = "image/svg+xml";
    path_of(path, folder, name, "svg");
    unsigned char *bytes = bytes_of(path, LARGEST_SVG, &size);
    if (!bytes) {
        kind = "image/png";
        path_of(path, folder, name, "png");
        bytes = bytes_of(path, LARGEST_PNG, &size);
    }
    if (!bytes) return false;
    fputs("<img alt=\"", to);
    brv_page_put(to, alt);
    fprintf(to, "\" src=\"data:%s;base64,", kind);
    put_base64(to, bytes, size);
    fputs("\">", to);
    free(bytes);
    return true;
}

void brv_page_figure(FILE *to, const char *folder, const char *name, const char *alt, const char *caption)
{
    if (!brv_page_has_figure(folder, name)) return;
    fprintf(to, "<figure id=\"figure-%s\">\n<div class=\"box\" tabindex=\"0\" role=\"group\" aria-label=\"%s.svg\">",
            name, name);
    brv_page_image(to, folder, name, alt);
    fputs("</div>\n<figcaption>", to);
    brv_page_put(to, caption);
    fputs("</figcaption>\n</figure>\n", to);
}
