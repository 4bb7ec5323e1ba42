/* Arrays of doubles that belong to one struct each. */
#ifndef BRV_BASE_ARRAY_H
#define BRV_BASE_ARRAY_H

#include <stddef.h>

/* Zeroed array of `count` doubles (at least one), or NULL. Released by free(). */
double *brv_array_new(size_t count);

/* Position i of the interval [x[i], x[i + 1]) that holds `value`; x ascending, [n + 1] long. Values outside
 * fall into the first or the last interval. On a face the deeper interval is meant.                        */
size_t brv_array_interval(const double *x, size_t n, double value);

#endif
