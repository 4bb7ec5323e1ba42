/* Records of a CSV text (RFC 4180): fields between commas, in quotes where they hold a comma, a quote (twice) or a line end;
 * lines end with CR LF or LF. Blanks around a field are taken away. What is no record is a fault with its place; a quote
 * that is never closed and a CR that ends no line leave nothing to go on with.
 * Tests: tests/unit/test_readings.c.                                                                               */
#ifndef BRV_CLI_SCENARIO_RECORD_H
#define BRV_CLI_SCENARIO_RECORD_H

#include "scenario/fault.h"

#include <stdbool.h>
#include <stddef.h>

enum { BRV_MOST_FIELDS = 32, BRV_MOST_RECORD_FAULTS = 50 };

struct brv_field {
    const char *text; /* lives until the next record is taken */
    int line, column; /* where it begins, its quote included; columns count letters, not bytes */
};

struct brv_record {
    int line;
    size_t n; /* may exceed BRV_MOST_FIELDS: those are counted, not kept */
    bool blank;
    struct brv_field field[BRV_MOST_FIELDS];
};

struct brv_records {
    const char *file, *at, *end;
    int line, column;
    char *word; /* the fields of one record; owned */
    size_t used;
    struct brv_faults *faults;
    bool broken; /* nothing after this can be read */
};

/* Begins to read `size` bytes without control characters; a UTF-8 mark at the start is passed over. False: no memory. */
bool brv_records_begin(struct brv_records *records, const char *file, const char *text, size_t size,
                       struct brv_faults *faults);

/* The next record, or false at the end; `records->broken` tells that this one is not whole. */
bool brv_records_take(struct brv_records *records, struct brv_record *record);

/* Is there nothing but blanks and line ends from here on? */
bool brv_records_rest_is_blank(const struct brv_records *records);

/* One fault more, unless there are BRV_MOST_RECORD_FAULTS already. */
void brv_records_fault(struct brv_records *records, int line, int column, const char *format, ...)
    __attribute__((format(printf, 4, 5)));

void brv_records_free(struct brv_records *records);

#endif
