/* A table on an even grid, read by straight lines; beyond its ends the end values hold. */
#ifndef BRV_BASE_TABLE_H
#define BRV_BASE_TABLE_H

#include <stddef.h>

struct brv_table {
    double first, step;  /* grid: first, first + step, ... */
    size_t n;            /* at least 2 */
    const double *value; /* [n] static data, not owned */
};

double brv_table_at(const struct brv_table *table, double x);

#endif
