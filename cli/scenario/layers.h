/* The skin and its lesion: lists of layers, ready skins, and what differs. */
#ifndef BRV_CLI_SCENARIO_LAYERS_H
#define BRV_CLI_SCENARIO_LAYERS_H

#include "scenario/walk.h"

/* The section `skin`: fills the neighbour's layers and their names. */
void brv_layers_skin(struct brv_walk *walk, const struct brv_node *node);

/* The section `lesion`, once skin and grain are read: a copy of the neighbour, faults included, that then differs. */
void brv_layers_lesion(struct brv_walk *walk, const struct brv_node *node);

#endif
