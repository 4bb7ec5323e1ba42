/* A chain of cells solved mode by mode: the exact solution of what the kernels solve in steps or by a contour.
 * Rates are squares of singular values of the bidiagonal matrix whose columns are turned until they are at right
 * angles (light/singular.h): every rate keeps its digits, the slowest beside one 1e15 times faster. Eigenvalues of the
 * tridiagonal matrix itself would all carry the rounding of the largest, and so do the library's singular values.    */
#ifndef BRV_TESTS_SUPPORT_EXACT_CHAIN_H
#define BRV_TESTS_SUPPORT_EXACT_CHAIN_H

#include "heat/chain.h"

#include <stdbool.h>

struct exact_chain {
    size_t n;
    double *rate; /* [n] of decay [1/s] */
    double *mode; /* [n][n] by mode and cell, over the root of capacity */
};

/* False when the turning does not end. */
bool exact_chain_build(struct exact_chain *exact, const struct brv_chain *chain);

/* The rise at a time, from heat laid down at time 0 and an inflow since; either may be NULL. The integral of the rise
 * that heat leaves is the rise that the same numbers leave as an inflow.                                            */
void exact_chain_rise(const struct exact_chain *exact, const double heat[], const double inflow[], double time,
                      double rise[]);

void exact_chain_free(struct exact_chain *exact);

#endif
