#include "report/terminal.h"

#include "report/words.h"
#include "scenario/letters.h"

#include <stdlib.h>
#include <string.h>
#include <sys/ioctl.h>
#include <unistd.h>

enum { LEAST_CAPITALS = 4 /* of a word that is meant to be seen; shorter ones are units and names */ };

static const char bold[] = "\033[1m", grave[] = "\033[1;31m", usual[] = "\033[0m";

struct page {
    FILE *to;
    size_t width;
    bool marks;
    bool notes; /* under the label NOTES */
};

/* ---- marks ---- */

static bool is_capital(char letter)
{
    return letter >= 'A' && letter <= 'Z';
}

/* "CAUTION  ...": how long the label is; 0 where the line has none. Two capitals at least, then capitals, digits, blanks. */
static size_t label_of(const char *line, size_t length)
{
    size_t n = 0, end = 0;
    if (length < 2 || !is_capital(line[0]) || !is_capital(line[1])) return 0;
    for (; n < length && n < BRV_WORDS_INDENT; n++) {
        if (!is_capital(line[n]) && line[n] != ' ' && !(line[n] >= '0' && line[n] <= '9')) return 0;
        if (line[n] != ' ') end = n + 1;
    }
    return end == n && n < length && line[n] != ' ' ? 0 : end;
}

static bool is_label(const char *line, size_t length, const char *word)
{
    return length == strlen(word) && !strncmp(line, word, length);
}

/* Words in capitals stand out, the rest is as it is. */
static void put_notes(FILE *to, const char *text, size_t length)
{
    for (size_t at = 0; at < length;) {
        size_t n = 0;
        while (at + n < length && is_capital(text[at + n])) n++;
        if (n >= LEAST_CAPITALS)
            fprintf(to, "%s%.*s%s", grave, (int)n, text + at, usual);
        else
            fwrite(text + at, 1, n ? n : 1, to);
        at += n ? n : 1;
    }
}

/* A line that fits. */
static void put_line(struct page *page, const char *line, size_t length)
{
    size_t label = page->marks ? label_of(line, length) : 0;
    if (label) {
        const bool harm = is_label(line, label, "CAUTION") || is_label(line, label, "HARM");
        page->notes = is_label(line, label, "NOTES");
        fprintf(page->to, "%s%.*s%s", harm ? grave : bold, (int)label, line, usual);
    } else if (length > 0 && *line != ' ') {
        page->notes = false;
    }
    if (page->marks && page->notes)
        put_notes(page->to, line + label, length - label);
    else
        fwrite(line + label, 1, length - label, page->to);
    fputc('\n', page->to);
}

/* ---- folding ---- */

/* Where a line is broken, and the column under which it goes on. */
struct fold {
    size_t cut, indent;
};

static size_t blanks_at(const char *line, size_t length, size_t at)
{
    size_t n = 0;
    while (at + n < length && line[at + n] == ' ') n++;
    return n;
}

/* The end of what begins at `at`: a cell of a table ends before two blanks. */
static size_t cell_end(const char *line, size_t length, size_t at)
{
    while (at < length && blanks_at(line, length, at) < 2) at++;
    return at;
}

/* Between two words, from behind, so that the line fits and something is left of it. */
static struct fold between_words(const char *line, size_t length, size_t width, size_t indent)
{
    struct fold fold = {0, indent};
    for (size_t i = indent + 1; i < length; i++)
        if (line[i] == ' ' && line[i - 1] != ' ' && brv_letters_columns(line, i) <= width) fold.cut = i;
    return fold;
}

/* A row of a table goes on below its name, with its cells as far apart as they were; so do the heads above it, which have
 * none. A cell alone, or behind its label, is broken between words. cut 0, indent 0: it cannot be, and the terminal breaks
 * it as it likes.                                                                                                   */
static struct fold fold_of(const char *line, size_t length, size_t width)
{
    const size_t begin = blanks_at(line, length, 0), below = BRV_WORDS_INDENT + 4;
    if (2 * begin > width) return (struct fold){begin, below};
    const bool labelled = begin == 0 && label_of(line, length) > 0;
    size_t end = cell_end(line, length, begin);
    if (labelled) end = cell_end(line, length, end + blanks_at(line, length, end));
    if (end < length && brv_letters_columns(line, end) <= width) return (struct fold){end, below};
    return between_words(line, length, width, labelled || !begin ? BRV_WORDS_INDENT : begin + 2);
}

/* Takes blanks from the gaps of a row, the last one first, until it fits; two stay in each. Only where the last column
 * begins before the edge: else other rows would not fit in this way, and rows of one table are to look alike.      */
static bool squeeze(char *line, size_t *length, size_t width)
{
    size_t start = *length, last = 0, too_many = brv_letters_columns(line, *length) - width, n = *length;
    for (size_t i = 0; i + 1 < *length; i++)
        if (line[i] == ' ' && line[i + 1] != ' ' && i > 0 && line[i - 1] == ' ') last = i + 1;
    if (!last || brv_letters_columns(line, last) >= width) return false;
    while (too_many && start > BRV_WORDS_INDENT + 2) {
        if (line[start - 1] == ' ' && line[start - 2] == ' ' && line[start - 3] == ' ') {
            memmove(line + start - 1, line + start, n - start);
            n--;
            too_many--;
        }
        start--;
    }
    if (too_many) return false;
    *length = n;
    return true;
}

static void put_folded(struct page *page, const char *text, size_t length)
{
    char *line = malloc(length + page->width + 1), *whole = malloc(length + page->width + 1);
    const bool room = line && whole;
    if (room) snprintf(line, length + 1, "%s", text); /* the rest of the text is cut off */
    while (room && brv_letters_columns(line, length) > page->width) {
        memcpy(whole, line, length);
        whole[length] = '\0';
        size_t squeezed = length;
        if (squeeze(line, &squeezed, page->width)) {
            length = squeezed;
            break;
        }
        const struct fold fold = fold_of(whole, length, page->width);
        const size_t next = fold.cut + blanks_at(whole, length, fold.cut);
        size_t end = fold.cut;
        while (end > 0 && whole[end - 1] == ' ') end--;
        memcpy(line, whole, length);
        if (!fold.cut || fold.indent >= next) break;
        if (end) put_line(page, whole, end);
        memset(line, ' ', fold.indent);
        memcpy(line + fold.indent, whole + next, length - next);
        length = fold.indent + length - next;
        line[length] = '\0';
    }
    put_line(page, room ? line : text, length);
    free(whole);
    free(line);
}

/* ---- tables of many columns ---- */

enum { MOST_ROWS = 64, KEY_MOST = BRV_WORDS_INDENT + 4 };

/* Consecutive lines of one table, whose columns are bytes. */
struct table {
    size_t n;
    const char *line[MOST_ROWS];
    size_t length[MOST_ROWS];
    size_t key; /* columns of the first column, which names the rows */
};

/* Where the second cell of an unlabelled line begins; its length where there is none. */
static size_t second_cell(const char *line, size_t length)
{
    const size_t end = cell_end(line, length, blanks_at(line, length, 0));
    return end + blanks_at(line, length, end);
}

/* Cells beside each other, or heads that stand far from the margin: no sentence and no label. */
static bool is_row(const char *line, size_t length)
{
    for (size_t i = 0; i < length; i++)
        if ((unsigned char)line[i] >= 0x80) return false;
    return length && !label_of(line, length) &&
           (second_cell(line, length) < length || blanks_at(line, length, 0) > BRV_WORDS_INDENT + 2);
}

/* The table that begins at `text`, when it is too wide and its rows have short names; else none. */
static void take_table(struct table *table, const char *text, size_t width)
{
    bool wide = false;
    *table = (struct table){.n = 0};
    for (; *text && table->n < MOST_ROWS; text += strcspn(text, "\n") + (text[strcspn(text, "\n")] != '\0')) {
        const size_t length = strcspn(text, "\n");
        if (!is_row(text, length)) break;
        const size_t second = second_cell(text, length);
        wide |= length > width;
        if (second <= KEY_MOST && second > table->key) table->key = second;
        table->line[table->n] = text;
        table->length[table->n++] = length;
    }
    if (!wide || !table->key || table->n < 2) table->n = 0;
}

/* Is the byte before `column` blank in all rows, and does the last row, which has all columns, go on there? */
static bool is_gap(const struct table *table, size_t column)
{
    const size_t last = table->n - 1;
    if (column >= table->length[last] || table->line[last][column] == ' ') return false;
    for (size_t i = 0; i < table->n; i++)
        if (column <= table->length[i] && table->line[i][column - 1] != ' ') return false;
    return true;
}

/* Pieces below each other, each with the names of the rows, every column under its own head. False where no gap of all
 * rows parts them: then nothing was written.                                                                       */
static bool put_table(struct page *page, const struct table *table)
{
    size_t cut[MOST_ROWS] = {0}, n = 1, most = 0;
    for (size_t i = 0; i < table->n; i++) most = most < table->length[i] ? table->length[i] : most;
    while (n < MOST_ROWS - 1 && most - cut[n - 1] + (n > 1 ? table->key : 0) > page->width) {
        size_t next = cut[n - 1] + page->width - (n > 1 ? table->key : 0);
        const size_t least = n > 1 ? cut[n - 1] : table->key;
        while (next > least && !is_gap(table, next)) next--;
        if (next <= least) return false;
        cut[n++] = next;
    }
    cut[n] = most;
    for (size_t piece = 0; piece < n; piece++) {
        if (piece) fputc('\n', page->to);
        for (size_t i = 0; i < table->n; i++) {
            char row[BRV_TERMINAL_MOST + 1];
            const size_t key = piece ? table->key : 0, from = cut[piece], length = table->length[i];
            const size_t end = length < cut[piece + 1] ? length : cut[piece + 1];
            size_t used = key + (end > from ? end - from : 0);
            memset(row, ' ', used);
            memcpy(row, table->line[i], key < length ? key : length);
            if (end > from) memcpy(row + key, table->line[i] + from, end - from);
            while (used && row[used - 1] == ' ') used--;
            put_line(page, row, used);
        }
    }
    return true;
}

void brv_terminal_paint(FILE *to, const char *text, size_t width, bool marks)
{
    struct page page = {.to = to, .width = width, .marks = marks};
    for (const char *end; *text; text = *end ? end + 1 : end) {
        const size_t length = strcspn(text, "\n");
        struct table table;
        take_table(&table, text, width);
        end = text + length;
        if (table.n && put_table(&page, &table)) {
            end = table.line[table.n - 1] + table.length[table.n - 1];
            continue;
        }
        if (!strncmp(text, "brevis ", 7)) /* with the title, which stays as it was typed */
            put_line(&page, text, length);
        else
            put_folded(&page, text, length);
    }
}

/* ---- the terminal ---- */

static size_t width_of_terminal(void)
{
    struct winsize window;
    const char *asked = getenv("COLUMNS");
    long columns = asked ? strtol(asked, NULL, 10) : 0;
    if (columns <= 0 && !ioctl(STDOUT_FILENO, TIOCGWINSZ, &window)) columns = window.ws_col;
    if (columns <= 0 || columns > BRV_TERMINAL_MOST) return BRV_WORDS_WIDTH;
    return columns < BRV_TERMINAL_LEAST ? BRV_TERMINAL_LEAST : (size_t)columns;
}

static bool wants_marks(void)
{
    const char *none = getenv("NO_COLOR"), *kind = getenv("TERM");
    return !(none && *none) && kind && *kind && strcmp(kind, "dumb");
}

void brv_terminal_tell(void (*write)(FILE *to, const void *answer), const void *answer)
{
    char *text = NULL;
    size_t size;
    FILE *aside = isatty(STDOUT_FILENO) ? open_memstream(&text, &size) : NULL;
    if (!aside) {
        write(stdout, answer);
        return;
    }
    const size_t width = width_of_terminal(); /* sentences stay readable, rows of tables may be as wide as it is */
    brv_words_fit(width < BRV_WORDS_WIDTH ? width : BRV_WORDS_WIDTH);
    write(aside, answer);
    const bool whole = !fclose(aside);
    if (whole) brv_terminal_paint(stdout, text, width, wants_marks());
    brv_words_fit(0);
    if (!whole) write(stdout, answer);
    free(text);
}
