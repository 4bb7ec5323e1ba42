/* Readings of a meter, and records of CSV: taken apart, written as RFC 4180 has it and taken apart again. */
#include "fuzz/fuzz.h"

#include "scenario/readings.h"
#include "scenario/record.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define NAME "FILE"

static void check_readings(const char *text, size_t size, bool twice)
{
    struct brv_readings readings;
    struct brv_faults faults = {.n = 0};
    const int code = brv_readings_parse(&readings, NAME, text, size, &faults);
    fuzz_faults_check(&faults, code, NAME, text, size);
    fuzz_require(code ? !readings.n && !readings.reading : readings.n > 0, "%zu readings, exit code %d", readings.n,
                 code);
    for (size_t i = 0; i < readings.n; i++) {
        const struct brv_meter_reading *at = &readings.reading[i];
        fuzz_require(isfinite(at->energy) && at->energy > 0.0, "energy of reading %zu", i);
        fuzz_require(i == 0 || !(at->day < readings.reading[i - 1].day), "days in order at %zu", i);
    }
    if (twice) {
        struct brv_readings again;
        struct brv_faults more = {.n = 0};
        fuzz_require(brv_readings_parse(&again, NAME, text, size, &more) == code, "the same exit code, %d", code);
        fuzz_faults_same(&faults, &more);
        fuzz_require(again.n == readings.n, "%zu readings, then %zu", readings.n, again.n);
        brv_readings_free(&again);
        brv_faults_free(&more);
    }
    brv_readings_free(&readings);
    brv_faults_free(&faults);
}

static void put_field(FILE *to, const char *text)
{
    fputc('"', to);
    for (; *text; text++) fprintf(to, *text == '"' ? "\"\"" : "%c", *text);
    fputc('"', to);
}

/* Writes every record of a text that has no fault. */
static bool rewrite(struct fuzz_page *page, const char *text, size_t size)
{
    struct brv_records records;
    struct brv_record record;
    struct brv_faults faults = {.n = 0};
    bool whole = true;
    fuzz_page_begin(page);
    fuzz_require(brv_records_begin(&records, NAME, text, size, &faults), "memory");
    while (brv_records_take(&records, &record)) {
        fuzz_require(record.n > 0 && record.line > 0, "a record of %zu fields in line %d", record.n, record.line);
        whole = whole && record.n <= BRV_MOST_FIELDS;
        for (size_t i = 0; i < record.n && i < BRV_MOST_FIELDS; i++) {
            fuzz_require(record.field[i].line >= record.line && record.field[i].column > 0, "a place of field %zu", i);
            if (i) fputc(',', page->to);
            put_field(page->to, record.field[i].text);
        }
        fputs("\r\n", page->to);
    }
    whole = whole && faults.n == 0;
    fuzz_page_end(page);
    brv_records_free(&records);
    brv_faults_free(&faults);
    return whole;
}

static void check_records(const char *text, size_t size)
{
    struct fuzz_page one, two;
    const bool whole = rewrite(&one, text, size);
    if (whole) {
        fuzz_require(rewrite(&two, one.text, one.size), "what is written is without fault: %s", one.text);
        fuzz_require(one.size == two.size && !memcmp(one.text, two.text, one.size), "the same records:\n%s\n%s",
                     one.text, two.text);
        free(two.text);
    }
    free(one.text);
}

/* What a reader makes of a field: the blanks around it are taken away. */
static bool is_trimmed(const char *found, const char *wrote)
{
    size_t length = strlen(wrote);
    while (length > 0 && strchr(" \t", wrote[length - 1])) length--;
    const size_t blanks = strspn(wrote, " \t") < length ? strspn(wrote, " \t") : length;
    return strlen(found) == length - blanks && !memcmp(found, wrote + blanks, length - blanks);
}

/* The text parted at every `;`, as the fields of one record. */
static void check_fields(const char *text)
{
    struct fuzz_page page;
    struct brv_records records;
    struct brv_record record;
    struct brv_faults faults = {.n = 0};
    char *fields = fuzz_text((const uint8_t *)text, strlen(text)), *field[BRV_MOST_FIELDS];
    size_t n = 0;
    fuzz_page_begin(&page);
    for (char *at = fields; at && n < BRV_MOST_FIELDS; n++) {
        char *end = strchr(field[n] = at, ';');
        if (end) *end = '\0';
        if (n) fputc(',', page.to);
        put_field(page.to, at);
        at = end ? end + 1 : NULL;
    }
    fuzz_page_end(&page);
    fuzz_require(brv_records_begin(&records, NAME, page.text, page.size, &faults), "memory");
    fuzz_require(brv_records_take(&records, &record) && record.n == n && !faults.n, "%zu fields in %s", n, page.text);
    for (size_t i = 0; i < n; i++)
        fuzz_require(is_trimmed(record.field[i].text, field[i]), "field %zu is %s, not %s", i, field[i],
                     record.field[i].text);
    fuzz_require(!brv_records_take(&records, &record), "one record in %s", page.text);
    brv_records_free(&records);
    free(fields);
    free(page.text);
}

void fuzz_table_check(const char *text, size_t size)
{
    struct brv_records records;
    struct brv_record record;
    struct brv_faults faults = {.n = 0};
    size_t wide = 0, rows = 0;
    fuzz_require(brv_records_begin(&records, NAME, text, size, &faults), "memory");
    for (; brv_records_take(&records, &record); rows++) {
        if (!rows) wide = record.n;
        fuzz_require(record.n == wide, "row %zu has %zu of %zu fields", rows, record.n, wide);
    }
    fuzz_require(!faults.n && rows > 1, "a table of %zu rows", rows);
    brv_records_free(&records);
}

void fuzz_csv(const uint8_t *data, size_t size)
{
    char *text = fuzz_text(data, size);
    check_readings(text, size, fuzz_mix(data, size) % 16 == 0);
    if (strlen(text) == size) check_records(text, size);
    check_fields(text);
    free(text);
}
