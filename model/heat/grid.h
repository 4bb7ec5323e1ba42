/* Where cells begin and end: fine at the faces between materials, growing away from them.
 * The wanted size at distance x from the start of a stretch is the least of
 *     first_start + growth x,   first_end + growth (length - x),   most
 * and the number of cells up to x is the integral of 1 / size, which has a closed form and a closed inverse.
 * Sizes vary smoothly, so second order survives.                                                            */
#ifndef BRV_HEAT_GRID_H
#define BRV_HEAT_GRID_H

#include <stddef.h>

struct brv_stretch {
    double length;      /* [m] */
    double first_start; /* cell wanted at the start; INFINITY: no wish [m] */
    double first_end;   /* cell wanted at the end; INFINITY: no wish [m] */
    double growth;      /* by how much cells widen per distance, above 0 [1] */
    double most;        /* widest cell; may be INFINITY if one of the others is not [m] */
};

/* How many cells the stretch takes, at least 2. */
size_t brv_grid_count(const struct brv_stretch *stretch);

/* Writes face[1 .. count] after face[0]; the last is exactly face[0] + length. Returns the count. */
size_t brv_grid_lay(const struct brv_stretch *stretch, double face[]);

#endif
