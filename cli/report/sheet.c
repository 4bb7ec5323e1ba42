#include "report/sheet.h"

#include "report/page.h"
#include "report/words.h"
#include "scenario/letters.h"

#include <stdarg.h>

enum { TITLE_COLUMNS = 240 };

void brv_sheet_add(struct brv_sheet *sheet, const char *label, const char *format, ...)
{
    if (sheet->n == BRV_SHEET_LINES) return;
    struct brv_sheet_line *line = &sheet->line[sheet->n++];
    va_list list;
    va_start(list, format);
    const int n = vsnprintf(line->text, sizeof line->text, format, list);
    va_end(list);
    if (n >= (int)sizeof line->text) line->text[brv_letters_bytes(line->text, sizeof line->text - 1)] = '\0';
    line->label = label;
}

void brv_sheet_text(FILE *to, const struct brv_sheet *sheet)
{
    for (size_t i = 0; i < sheet->n; i++) brv_words_wrap(to, sheet->line[i].label, sheet->line[i].text);
}

void brv_sheet_put_title(FILE *to, const char *title)
{
    char cut[4 * TITLE_COLUMNS + 8];
    brv_page_put(to, brv_letters_cut(cut, sizeof cut, title, TITLE_COLUMNS));
}

void brv_sheet_put_in(FILE *to, const char *element, const char *text)
{
    fprintf(to, "<%s>", element);
    brv_page_put(to, text);
    fprintf(to, "</%s>", element);
}

void brv_sheet_page(FILE *to, const struct brv_sheet *sheet, const char *style)
{
    for (size_t i = 0; i < sheet->n; i++) {
        fprintf(to, "<p%s>", style);
        brv_sheet_put_in(to, "b", sheet->line[i].label); /* an empty one keeps the text under that of the line before */
        brv_page_put(to, sheet->line[i].text);
        fputs("</p>\n", to);
    }
}
