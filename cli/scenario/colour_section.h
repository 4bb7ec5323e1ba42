/* A skin whose pigment follows from its measured colour, `skin: {colour: {L: 62, b: 17}}`. */
#ifndef BRV_CLI_SCENARIO_COLOUR_SECTION_H
#define BRV_CLI_SCENARIO_COLOUR_SECTION_H

#include "scenario/walk.h"

/* Finds the pigment of the neighbour that has this colour, once all but the lesion is read, and lays it into its layers with
 * the range it may have. Lists a fault where no skin of this model has the colour, or where pigment is written beside it;
 * waits until other faults of the file are mended, for the colour rests on all numbers of the skin.                  */
void brv_colour_section(struct brv_walk *walk);

/* A colour, or another name, below a skin that is ready by its name alone, as a --set may put it there: nothing would read
 * it, so it is refused.                                                                                             */
void brv_colour_refuse_beside(struct brv_walk *walk, const struct brv_node *skin);

#endif
