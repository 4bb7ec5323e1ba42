/* Singular values of a square matrix by turning pairs of its columns until all are at right angles (Jacobi from one
 * side). No product of the matrix with itself is ever formed: the small values keep their digits. The library's
 * routine of the same kind gives up these digits when there are many columns, and takes three times as long.
 * Source: [hestenes-1958]                                                                                       */
#ifndef BRV_LIGHT_SINGULAR_H
#define BRV_LIGHT_SINGULAR_H

#include "base/status.h"

#include <stddef.h>

/* `column`[n * n] holds one column of the matrix after another and is used up. On return `turn`[n * n] holds the
 * right singular vectors one after another and `value`[n] the singular values, in no order. BRV_NUMERICS when the
 * turning does not end.                                                                                         */
brv_status brv_singular_turn(double *column, double *turn, double *value, size_t n,
                             struct brv_error *error) BRV_MUST_CHECK;

#endif
