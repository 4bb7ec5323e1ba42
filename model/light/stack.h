/* Many sheets on top of each other: the adding method, from the bottom up, then the light from the top down.
 *     d = T down + R u + falling,   u = seen_below d + light_below                at the lower face of a sheet
 *     seen  = R + T seen_below (1 - R seen_below)^-1 T                            at its upper face
 * Face j lies above sheet j; the last face is the bottom, and nothing comes back from below it.
 * Source: [grant-hunt-1969]                                                                                     */
#ifndef BRV_LIGHT_STACK_H
#define BRV_LIGHT_STACK_H

#include "base/status.h"
#include "light/sheet.h"

#include <stddef.h>

struct brv_stack {
    size_t n_sheet;
    size_t n;     /* rays                                                       */
    double *down; /* [(n_sheet + 1) * n] light on the rays at each face, J   [1] */
    double *up;   /* [(n_sheet + 1) * n]                                     [1] */
};

/* Light at all faces when `falling`[n] comes in from above. BRV_MEMORY or BRV_NUMERICS, and then `stack` is empty. */
brv_status brv_stack_solve(struct brv_stack *stack, const struct brv_sheet *sheet, size_t n_sheet,
                           const double *falling, struct brv_error *error) BRV_MUST_CHECK;

void brv_stack_free(struct brv_stack *stack);

#endif
