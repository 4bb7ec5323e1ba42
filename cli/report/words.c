#include "report/words.h"

#include "scenario/letters.h"

#include <stdarg.h>
#include <string.h>

static size_t wide = BRV_WORDS_WIDTH;

size_t brv_words_width(void)
{
    return wide;
}

void brv_words_fit(size_t columns)
{
    wide = columns ? columns : BRV_WORDS_WIDTH;
}

/* Writes, or with `to` NULL counts only; returns the lines it takes in so many columns. */
static int wrap(FILE *to, const char *label, const char *text, size_t most)
{
    int lines = 1;
    size_t column = BRV_WORDS_INDENT;
    if (to) fprintf(to, "%-*s", BRV_WORDS_INDENT, label);
    for (const char *word = text; *word;) {
        const size_t length = strcspn(word, " "), columns = brv_letters_columns(word, length);
        const int first = column == BRV_WORDS_INDENT;
        if (!first && column + 1 + columns > most) {
            if (to) fprintf(to, "\n%-*s", BRV_WORDS_INDENT, "");
            column = BRV_WORDS_INDENT;
            lines++;
        }
        if (to) fprintf(to, "%s%.*s", column > BRV_WORDS_INDENT ? " " : "", (int)length, word);
        column += columns + (column > BRV_WORDS_INDENT);
        word += length + strspn(word + length, " ");
    }
    if (to) fputc('\n', to);
    return lines;
}

int brv_words_wrap(FILE *to, const char *label, const char *text)
{
    if (to) wrap(to, label, text, wide);
    return wrap(NULL, label, text, BRV_WORDS_WIDTH);
}

void brv_words_append(char *out, size_t room, const char *format, ...)
{
    const size_t used = strlen(out);
    va_list list;
    va_start(list, format);
    vsnprintf(out + used, room - used, format, list);
    va_end(list);
}
