/* The text of a part of a sweep (report/part.h): its lines written, and read whatever they hold. Tests: tests/unit/test_part.c;
 * tests/fuzz/fuzz_part.c.                                                                                             */
#ifndef BRV_CLI_REPORT_PART_LINES_H
#define BRV_CLI_REPORT_PART_LINES_H

#include "report/part.h"

enum { BRV_PART_HEAD_SIZE = 256, BRV_PART_LINE_SIZE = 32 + BRV_N_SITE * BRV_N_HEADLINE * 3 * 32 };

/* How many points the part of a sweep has, and which of the sweep's is its k-th. */
size_t brv_part_points(const struct brv_part_head *head);
size_t brv_part_number(const struct brv_part_head *head, size_t k);

/* The first line, and that of a point; the latter returns its length. */
void brv_part_write_head(char line[BRV_PART_HEAD_SIZE], const struct brv_part_head *head);
size_t brv_part_write_point(char line[BRV_PART_LINE_SIZE], size_t point, const struct brv_headlines *row);

/* What a part holds, as far as it is good. */
struct brv_part_held {
    size_t n;         /* points */
    long long whole;  /* bytes */
    bool empty, torn; /* no whole first line; a last line that was cut off */
    size_t line;      /* where the torn one stands */
};

/* Reads the text of a part, of which it makes strings and behind which one more byte is there, into rows[points]; a damaged
 * line is listed and the lines after it are looked at all the same.                                                  */
void brv_part_read(struct brv_part_held *held, const char *path, char *text, size_t size,
                   const struct brv_part_head *head, struct brv_headlines rows[], struct brv_faults *faults);

#endif
