#include "scenario/record.h"

#include <stdarg.h>
#include <stdlib.h>
#include <string.h>

enum { TEXT_SIZE = 320 };

bool brv_records_begin(struct brv_records *records, const char *file, const char *text, size_t size,
                       struct brv_faults *faults)
{
    static const char mark[] = "\xEF\xBB\xBF";
    const size_t skip = size >= 3 && !memcmp(text, mark, 3) ? 3 : 0;
    *records = (struct brv_records){
        .file = file, .at = text + skip, .end = text + size, .line = 1, .column = 1, .faults = faults};
    records->word = malloc(2 * size + 2); /* a field of no letters takes its comma and one byte */
    return records->word != NULL;
}

void brv_records_free(struct brv_records *records)
{
    free(records->word);
    *records = (struct brv_records){.file = NULL};
}

void brv_records_fault(struct brv_records *records, int line, int column, const char *format, ...)
{
    char text[TEXT_SIZE];
    va_list words;
    va_start(words, format);
    vsnprintf(text, sizeof text, format, words);
    va_end(words);
    if (records->faults->n < BRV_MOST_RECORD_FAULTS)
        brv_faults_add(records->faults, records->file, line, column, "%s", text);
}

static bool is_end(const struct brv_records *records)
{
    return records->at == records->end;
}

/* Columns count letters, not bytes. */
static char step(struct brv_records *records)
{
    const char byte = *records->at++;
    if (byte == '\n') {
        records->line++;
        records->column = 1;
    } else if (((unsigned char)byte & 0xC0u) != 0x80u) {
        records->column++;
    }
    return byte;
}

static void put(struct brv_records *records, char byte)
{
    records->word[records->used++] = byte;
}

static bool ends_field(const struct brv_records *records)
{
    return is_end(records) || *records->at == ',' || *records->at == '\n' || *records->at == '\r';
}

/* After the opening quote: two quotes stand for one. */
static void take_quoted(struct brv_records *records)
{
    const int line = records->line, column = records->column;
    step(records);
    for (;;) {
        if (is_end(records)) {
            brv_records_fault(records, line, column, "this quote is never closed");
            records->broken = true;
            return;
        }
        const char byte = step(records);
        if (byte != '"')
            put(records, byte);
        else if (!is_end(records) && *records->at == '"')
            put(records, step(records));
        else
            break;
    }
    if (!ends_field(records))
        brv_records_fault(records, records->line, records->column,
                          "text after a closing quote, allowed a comma or the end of the line");
    while (!ends_field(records)) step(records);
}

static void take_plain(struct brv_records *records)
{
    bool told = false;
    while (!ends_field(records)) {
        if (*records->at == '"' && !told) {
            brv_records_fault(records, records->line, records->column,
                              "a quote inside of a field that does not begin with one");
            told = true;
        }
        put(records, step(records));
    }
}

static const char *trimmed(char *text)
{
    char *end = text + strlen(text);
    while (end > text && (end[-1] == ' ' || end[-1] == '\t')) *--end = '\0';
    while (*text == ' ' || *text == '\t') text++;
    return text;
}

static void take_field(struct brv_records *records, struct brv_record *record)
{
    char *word = records->word + records->used;
    struct brv_field field = {word, records->line, records->column};
    if (!is_end(records) && *records->at == '"')
        take_quoted(records);
    else
        take_plain(records);
    put(records, '\0');
    field.text = trimmed(word);
    if (record->n < BRV_MOST_FIELDS) record->field[record->n] = field;
    record->n++;
}

static void take_end_of_line(struct brv_records *records)
{
    if (is_end(records)) return;
    if (*records->at == '\r') {
        const int line = records->line, column = records->column;
        step(records);
        if (is_end(records) || *records->at != '\n') {
            brv_records_fault(records, line, column, "a carriage return that ends no line, allowed are CR LF or LF");
            records->broken = true;
            return;
        }
    }
    step(records);
}

bool brv_records_take(struct brv_records *records, struct brv_record *record)
{
    if (is_end(records) || records->broken) return false;
    *record = (struct brv_record){.line = records->line};
    records->used = 0;
    for (;;) {
        take_field(records, record);
        if (is_end(records) || *records->at != ',') break;
        step(records);
    }
    record->blank = record->n == 1 && !*record->field[0].text;
    take_end_of_line(records);
    return true;
}

bool brv_records_rest_is_blank(const struct brv_records *records)
{
    for (const char *at = records->at; at < records->end; at++)
        if (!strchr("\r\n \t", *at)) return false;
    return true;
}
