/* Heat that leaves the axis sideways: part of the front of this folder.
 * The slab of heat_layers keeps all heat on the axis. Under a spot some of it goes sideways, slowly: in a time t it
 * travels sqrt(4 alpha t). Where that is more than brv_beside_part of the spot before the run is over, a disc with the
 * light's map as its source is solved on cells of its own, coarser ones, and
 *     axis = slab + (disc on its axis - the same cells with the axis's light everywhere),
 * so the fine and fast part is the slab's and what the bracket does not know cancels in it.                        */
#ifndef BRV_HEAT_HEAT_BESIDE_H
#define BRV_HEAT_HEAT_BESIDE_H

#include "heat/heat.h"
#include "heat/heat_layers.h"

/* Heat that has travelled this part of the spot's diameter begins to matter on the axis. Under an even spot a share
 * exp(-1 / (4 part^2)) is then lost there, under a gaussian one 8 part^2, both for a source at one depth. */
#define BRV_BESIDE_FLAT     0.05   /* 4e-44 */
#define BRV_BESIDE_GAUSSIAN 0.0125 /* 1.3e-3 */

double brv_beside_part(const struct brv_beam *beam); /* [1] */

/* Does heat travel far enough for a disc, and is there a map of light for it? */
bool brv_beside_wanted(const struct brv_heat_ask *ask);

/* How far heat travels in the deepest layer by the end of the run, sqrt(4 alpha t) [m]. */
double brv_beside_travelled(const struct brv_heat_ask *ask);

/* Adds the bracket to the layer's probes, whole, pigment's part and the film's, and fills history->field. */
brv_status brv_beside_run(struct brv_history *history, struct brv_audit *audit, const struct brv_layers *layers,
                          const struct brv_heat_ask *ask, struct brv_error *error) BRV_MUST_CHECK;

#endif
