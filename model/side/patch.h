/* A square of skin inside the area, drawn pulse by pulse: the dose on a grid of places.
 * One drawing out of many: each pass of rows is shifted by chance and not turned, spots without rows lie anywhere. It
 * follows from `seed` alone. The numbers of a cover are not read off it.                                           */
#ifndef BRV_SIDE_PATCH_H
#define BRV_SIDE_PATCH_H

#include "side/cover.h"

#include <stdint.h>

struct brv_patch {
    size_t n;     /* places along each side */
    double step;  /* between them; the first half a step inside [m] */
    double *dose; /* [n][n], row by row: in doses of one pulse on its axis [1] */
    double *hits; /* [n][n] [1] */
};

/* `side` of the square [m]. On failure `patch` comes back empty. */
brv_status brv_patch_solve(struct brv_patch *patch, const struct brv_cover *cover, const struct brv_scenario *ask,
                           size_t n, double side, uint32_t seed, struct brv_error *error) BRV_MUST_CHECK;

void brv_patch_free(struct brv_patch *patch);

#endif
