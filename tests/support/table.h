/* Reads a data file of comma-separated values and visits its rows: one check per row, none silently skipped.
 *     # comment          anywhere before a row; empty lines likewise
 *     name,name,...      the first other line names the columns
 *     1,inf,"a, b",      a row; quotes keep commas, "" inside quotes is one quote
 * Columns are found by name. A file that cannot be read, a row with more or fewer fields than names, a column that is
 * not there and a number that cannot be read fail the test with the file and the line.
 * The rows reach their function as an argument and never through cmocka's state, because a group fixture of cmocka
 * that sets the state silently replaces the one given to each test.                                              */
#ifndef BRV_TESTS_SUPPORT_TABLE_H
#define BRV_TESTS_SUPPORT_TABLE_H

#include <stdbool.h>
#include <stddef.h>

enum { TABLE_MOST_COLUMNS = 24 };

struct table_row {
    const char *path;
    size_t line; /* of the file, from 1 */
    size_t n_column;
    char *const *name;  /* [n_column] */
    char *const *field; /* [n_column] */
};

typedef void table_visit(const struct table_row *row, void *context);

/* Calls visit for every row and returns their number, which the caller must compare: a table may not shrink unseen.
 * Tables cannot be read inside a visit.                                                                           */
size_t table_each(const char *path, table_visit *visit, void *context);

const char *table_text(const struct table_row *row, const char *column);
bool table_blank(const struct table_row *row, const char *column);    /* is the field empty? */
double table_number(const struct table_row *row, const char *column); /* the whole field; "inf" is a number */

/* Half a unit in the last printed place of a number: what rounding leaves open. */
double table_rounding(const struct table_row *row, const char *column);

/* Fails the test at this row. */
void table_fail(const struct table_row *row, const char *why, const char *what);

#endif
