#include "report/words.h"

#include <string.h>

int brv_words_wrap(FILE *to, const char *label, const char *text)
{
    int lines = 1;
    size_t column = BRV_WORDS_INDENT;
    if (to) fprintf(to, "%-*s", BRV_WORDS_INDENT, label);
    for (const char *word = text; *word;) {
        const size_t length = strcspn(word, " ");
        const int first = column == BRV_WORDS_INDENT;
        if (!first && column + 1 + length > BRV_WORDS_WIDTH) {
            if (to) fprintf(to, "\n%-*s", BRV_WORDS_INDENT, "");
            column = BRV_WORDS_INDENT;
            lines++;
        }
        if (to) fprintf(to, "%s%.*s", column > BRV_WORDS_INDENT ? " " : "", (int)length, word);
        column += length + (column > BRV_WORDS_INDENT);
        word += length + strspn(word + length, " ");
    }
    if (to) fputc('\n', to);
    return lines;
}
