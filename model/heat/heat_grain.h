/* One pigment grain in its closed cell: part of the front of this folder.
 * Adds to the layer's curves what only the grain has, the departure of the sphere from the mean of its cell.        */
#ifndef BRV_HEAT_HEAT_GRAIN_H
#define BRV_HEAT_HEAT_GRAIN_H

#include "heat/heat.h"
#include "heat/sphere.h"

/* Cells fine enough for heat that travels for `shortest`; an unbounded grid reaches as far as heat until `longest`. */
struct brv_sphere_ask brv_grain_cells(const struct brv_grain *grain, double shortest, double longest);

/* Fills excess and profiles and the first three probes, from the layer's, which must be there already; and the audit
 * of the grain.                                                                                                   */
brv_status brv_grain_run(struct brv_history *history, struct brv_audit *audit, struct brv_sphere *sphere,
                         const struct brv_heat_ask *ask, struct brv_error *error) BRV_MUST_CHECK;

#endif
