#include "scenario/fault.h"

#include "scenario/letters.h"

#include <stdarg.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>

enum { FILE_SIZE = 4096 };

static char *text_made(const char *format, va_list words)
{
    va_list again;
    va_copy(again, words);
    const int length = vsnprintf(NULL, 0, format, again);
    va_end(again);

    char *text = length < 0 ? NULL : malloc((size_t)length + 1);
    if (text) vsnprintf(text, (size_t)length + 1, format, words);
    return text;
}

static bool same(const struct brv_fault *a, const struct brv_fault *b)
{
    return a->line == b->line && a->column == b->column && !strcmp(a->file, b->file) && !strcmp(a->text, b->text);
}

static bool known(const struct brv_faults *faults, const struct brv_fault *fault)
{
    for (size_t i = 0; i < faults->n; i++)
        if (same(&faults->fault[i], fault)) return true;
    return false;
}

static void drop(struct brv_fault *fault)
{
    free(fault->file);
    free(fault->text);
    *fault = (struct brv_fault){0};
}

/* Takes over the fault's strings when it returns true. */
static bool keep(struct brv_faults *faults, const struct brv_fault *fault)
{
    struct brv_fault *grown = realloc(faults->fault, (faults->n + 1) * sizeof *grown);
    if (!grown) return false;
    faults->fault = grown;
    faults->fault[faults->n++] = *fault;
    return true;
}

void brv_faults_add(struct brv_faults *faults, const char *file, int line, int column, const char *format, ...)
{
    va_list words;
    va_start(words, format);
    struct brv_fault fault = {.line = line, .column = column, .file = strdup(file)};
    fault.text = text_made(format, words);
    va_end(words);

    if (!fault.file || !fault.text) {
        faults->out_of_memory = 1;
        drop(&fault);
    } else if (known(faults, &fault)) {
        drop(&fault);
    } else if (!keep(faults, &fault)) {
        faults->out_of_memory = 1;
        drop(&fault);
    }
}

static int order(const struct brv_fault *a, const struct brv_fault *b, const char *first_file)
{
    const int later_a = strcmp(a->file, first_file) != 0, later_b = strcmp(b->file, first_file) != 0;
    if (later_a != later_b) return later_a - later_b;
    const int by_file = strcmp(a->file, b->file);
    if (by_file) return by_file;
    if (a->line != b->line) return a->line < b->line ? -1 : 1;
    if (a->column != b->column) return a->column < b->column ? -1 : 1;
    return 0;
}

/* Sorted by insertion: the list is short, and faults at one place keep the order in which they were found. */
void brv_faults_sort(struct brv_faults *faults, const char *first_file)
{
    for (size_t i = 1; i < faults->n; i++) {
        const struct brv_fault moved = faults->fault[i];
        size_t to = i;
        for (; to > 0 && order(&faults->fault[to - 1], &moved, first_file) > 0; to--)
            faults->fault[to] = faults->fault[to - 1];
        faults->fault[to] = moved;
    }
}

void brv_faults_print(const struct brv_faults *faults, FILE *to)
{
    for (size_t i = 0; i < faults->n; i++) {
        const struct brv_fault *fault = &faults->fault[i];
        char file[FILE_SIZE];
        brv_letters_shown(file, sizeof file, fault->file);
        fputs(file, to);
        if (fault->line > 0) fprintf(to, ":%d:%d", fault->line, fault->column);
        fputs(": ", to);
        brv_letters_tell(to, fault->text);
        fputc('\n', to);
    }
    if (faults->out_of_memory) fputs("out of memory\n", to);
}

void brv_faults_free(struct brv_faults *faults)
{
    for (size_t i = 0; i < faults->n; i++) drop(&faults->fault[i]);
    free(faults->fault);
    *faults = (struct brv_faults){0};
}

/* ---- text from outside ---- */

const char *brv_fault_shown(char out[BRV_SHOWN_SIZE], const char *text)
{
    static const char cut[] = "...";
    const size_t room = BRV_SHOWN_SIZE - sizeof cut;
    size_t n = 0, length;
    for (; *text && n < room; text += length) {
        const uint32_t letter = brv_letters_at(text, &length);
        const bool broken = brv_letters_is_broken(letter, length); /* no UTF-8: alone it may be a control too */
        const bool control = broken || brv_letters_is_control(letter);
        if (!control && n + length > room) break;
        if (control)
            out[n++] = '?';
        else
            for (size_t i = 0; i < length; i++) out[n++] = text[i];
    }
    if (*text) {
        memcpy(out + n, cut, sizeof cut - 1);
        n += sizeof cut - 1;
    }
    out[n] = '\0';
    return out;
}
