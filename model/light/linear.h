/* One square system with many right sides, solved by orthogonal elimination; no allocation. */
#ifndef BRV_LIGHT_LINEAR_H
#define BRV_LIGHT_LINEAR_H

#include "base/status.h"

#include <stddef.h>

enum { BRV_LINEAR_MOST = 48 };

/* `right`[n][count] becomes the solution of matrix x = right; `matrix`[n][n] is overwritten; both row-major,
 * n at most BRV_LINEAR_MOST. BRV_NUMERICS when the matrix is singular or holds what is not a number.             */
brv_status brv_linear_solve(double *matrix, double *right, size_t n, size_t count,
                            struct brv_error *error) BRV_MUST_CHECK;

#endif
