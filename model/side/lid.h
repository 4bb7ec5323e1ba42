/* Light that passes a closed lid: the scenario's own skin, its dermis cut to the thickness of a lid's, an eye below.
 *     share = transmitted / incident, exact transfer in plane layers, a wide beam that falls straight on the lid
 * The layers above the first dermis stay as the neighbour of the lesion has them; that dermis is cut, what lies below
 * it is left out, and nothing comes back from the eye, index 1.336. Muscle, tarsal plate and conjunctiva, which a lid
 * has too, are not in the stack, so more light passes it than a lid. Low and high: pigment 3.16 and 0.316 times as
 * dark; where the scenario gives no thickness also the thickest and thinnest published dermis.
 * Accuracy: that of model/light/layered.h for thin stacks, 1 %; Beer's law and hand-made stacks: test_lid.c.
 * Theory: docs/theory/room.md. Source: [eyelid-thickness], [eye-index]                                             */
#ifndef BRV_SIDE_LID_H
#define BRV_SIDE_LID_H

#include "base/status.h"
#include "scenario/scenario.h"
#include "side/bounds.h"

#define BRV_EYE_INDEX 1.336 /* of what lies below a lid; 1.33-1.38 [1]. Source: [eye-index], from memory */

struct brv_lid {
    double dermis;            /* thickness of the dermis [m] */
    double whole;             /* of all layers [m] */
    struct brv_bounds passes; /* share of the light [1] */
};

brv_status brv_lid_solve(struct brv_lid *lid, const struct brv_scenario *ask, struct brv_error *error) BRV_MUST_CHECK;

/* The scenario whose neighbour is a lid with a dermis so thick. */
struct brv_scenario brv_lid_scenario(const struct brv_scenario *ask, double dermis);

#endif
