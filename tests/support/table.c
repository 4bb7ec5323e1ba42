#include "support/table.h"

#include "support/check.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Static, because a failing check leaves table_each by a jump and nothing would free it. */
static char text[1 << 17];

static void fail_at(const char *path, size_t line, const char *why, const char *what)
{
    print_error("%s:%zu: %s '%s'\n", path, line, why, what);
    _fail(path, (int)line);
}

void table_fail(const struct table_row *row, const char *why, const char *what)
{
    fail_at(row->path, row->line, why, what);
}

static void load(const char *path)
{
    FILE *file = fopen(path, "r");
    if (!file) fail_at(path, 0, "cannot be read; tests run from the top folder", path);
    const size_t size = fread(text, 1, sizeof text, file);
    fclose(file);
    if (size == sizeof text) fail_at(path, 0, "is larger than a table may be", path);
    text[size] = '\0';
}

/* Cuts off the line that `rest` begins with and moves `rest` behind it. */
static char *cut_line(char **rest)
{
    char *line = *rest;
    const size_t length = strcspn(line, "\n");
    *rest = line + length + (line[length] == '\n');
    line[length] = '\0';
    if (length > 0 && line[length - 1] == '\r') line[length - 1] = '\0';
    return line;
}

/* Copies a quoted field over itself without its quotes; returns what follows, NULL when the quote stays open. */
static char *cut_quoted(char *from)
{
    char *to = from;
    for (from++; *from; *to++ = *from++) {
        if (*from != '"') continue;
        if (from[1] != '"') break;
        from++;
    }
    if (*from != '"') return NULL;
    *to = '\0';
    return from + 1;
}

/* Splits a line into fields, in place. Returns their number; 0 when a quote stays open or there are too many. */
static size_t split(char *line, char *field[TABLE_MOST_COLUMNS])
{
    for (size_t n = 0; n < TABLE_MOST_COLUMNS;) {
        field[n++] = line;
        char *end = *line == '"' ? cut_quoted(line) : line + strcspn(line, ",");
        if (!end) return 0;
        const char mark = *end;
        *end = '\0';
        if (mark == '\0') return n;
        if (mark != ',') return 0;
        line = end + 1;
    }
    return 0;
}

size_t table_each(const char *path, table_visit *visit, void *context)
{
    char *name[TABLE_MOST_COLUMNS], *field[TABLE_MOST_COLUMNS];
    size_t n_column = 0, rows = 0, line = 0;
    load(path);
    for (char *rest = text; *rest;) {
        char *here = cut_line(&rest);
        line++;
        if (*here == '#' || *here == '\0') continue;

        const size_t n = split(here, n_column ? field : name);
        if (n == 0 || (n_column && n != n_column)) fail_at(path, line, "has not one field per column in", here);
        const struct table_row row = {path, line, n_column, name, field};
        if (n_column) visit(&row, context);
        rows += n_column > 0;
        n_column = n;
    }
    return rows;
}

const char *table_text(const struct table_row *row, const char *column)
{
    for (size_t i = 0; i < row->n_column; i++)
        if (strcmp(row->name[i], column) == 0) return row->field[i];
    table_fail(row, "has no column", column);
    return "";
}

bool table_blank(const struct table_row *row, const char *column)
{
    return *table_text(row, column) == '\0';
}

double table_number(const struct table_row *row, const char *column)
{
    const char *field = table_text(row, column);
    char *end;
    const double value = strtod(field, &end);
    if (end == field || *end || isnan(value)) table_fail(row, column, field);
    return value;
}

double table_rounding(const struct table_row *row, const char *column)
{
    const double value = table_number(row, column);
    const char *field = table_text(row, column), *point = strchr(field, '.'), *power = strpbrk(field, "eE");
    const size_t decimals = point ? strspn(point + 1, "0123456789") : 0;
    if (!isfinite(value)) table_fail(row, "is not rounded:", field);
    return 0.5 * pow(10.0, (power ? atof(power + 1) : 0.0) - (double)decimals);
}
