/* One value of a document into the field that its key stands for. */
#ifndef BRV_CLI_SCENARIO_VALUE_H
#define BRV_CLI_SCENARIO_VALUE_H

#include "scenario/walk.h"

struct brv_value {
    const struct brv_walk *walk;
    const struct brv_key *key;
    const char *path; /* what messages call it */
    char *field;      /* inside the scope's struct */
};

/* Reads the node into the field; false when it cannot be read, and the fault is then listed. Whether a number is
 * within its range is not looked at here: the model checks that.                                              */
bool brv_value_read(const struct brv_value *value, const struct brv_node *node);

/* Index of the layer with this name, or -1. */
int brv_value_layer(const struct brv_walk *walk, const char *name);

/* The names of all layers, for messages. Returns `out`. */
enum { BRV_VALUE_LAYERS_SIZE = 256 };
const char *brv_value_layers(char out[BRV_VALUE_LAYERS_SIZE], const struct brv_walk *walk);

#endif
