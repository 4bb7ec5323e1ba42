#include "scenario/value.h"

#include "scenario/allowed.h"
#include "scenario/nearest.h"
#include "scenario/quantity.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static bool refuse_shape(const struct brv_value *value, const struct brv_node *node)
{
    char allowed[BRV_ALLOWED_SIZE];
    if (node->kind != BRV_NODE_TEXT)
        brv_walk_fault(value->walk, node->at, "%s: one value is wanted here, not %s", value->path,
                       node->kind == BRV_NODE_LIST ? "a list" : "keys with values");
    else
        brv_walk_fault(value->walk, node->key_at, "%s has no value: %s", value->path, brv_allowed(allowed, value->key));
    return false;
}

static bool has_text(const struct brv_node *node)
{
    return node->kind == BRV_NODE_TEXT && *node->text;
}

static bool quantity_read(const struct brv_value *value, const struct brv_node *node, double *number)
{
    char why[BRV_QUANTITY_WHY_SIZE], shown[BRV_SHOWN_SIZE];
    if (!has_text(node)) return refuse_shape(value, node);
    if (brv_quantity_read(number, node->text, value->key->dimension, why)) return true;
    brv_walk_fault(value->walk, node->at, "%s = %s: %s", value->path, brv_fault_shown(shown, node->text), why);
    return false;
}

static bool number_value(const struct brv_value *value, const struct brv_node *node)
{
    double number;
    if (!quantity_read(value, node, &number)) return false;
    memcpy(value->field, &number, sizeof number);
    return true;
}

static bool extent_value(const struct brv_value *value, const struct brv_node *node)
{
    static const char *const meant[] = {"infinite", "infinity", "inf", ".inf", "semi-infinite", "endless", NULL};
    const double endless = (double)INFINITY;
    for (size_t i = 0; node->kind == BRV_NODE_TEXT && meant[i]; i++) {
        if (brv_nearest_distance(meant[i], node->text)) continue;
        if (!strcmp(node->text, "endless")) {
            memcpy(value->field, &endless, sizeof endless);
            return true;
        }
        brv_walk_fault(value->walk, node->at, "%s = %s: a layer without end is written endless", value->path,
                       node->text);
        return false;
    }
    return number_value(value, node);
}

static bool word_value(const struct brv_value *value, const struct brv_node *node)
{
    char shown[BRV_SHOWN_SIZE], allowed[BRV_ALLOWED_SIZE];
    if (!has_text(node)) return refuse_shape(value, node);
    for (int i = 0; value->key->words[i]; i++) {
        if (strcmp(value->key->words[i], node->text)) continue;
        memcpy(value->field, &i, sizeof i);
        return true;
    }
    brv_walk_fault(value->walk, node->at, "%s = %s, allowed %s", value->path, brv_fault_shown(shown, node->text),
                   brv_allowed(allowed, value->key));
    return false;
}

int brv_value_layer(const struct brv_walk *walk, const char *name)
{
    const size_t n = walk->request->scenario.skin[BRV_NEIGHBOUR].n_layer;
    for (size_t i = 0; i < n; i++)
        if (!strcmp(walk->request->layer_name[i], name)) return (int)i;
    return -1;
}

const char *brv_value_layers(char out[BRV_VALUE_LAYERS_SIZE], const struct brv_walk *walk)
{
    size_t n = 0;
    out[0] = '\0';
    for (size_t i = 0; i < walk->request->scenario.skin[BRV_NEIGHBOUR].n_layer && n < BRV_VALUE_LAYERS_SIZE; i++)
        n += (size_t)snprintf(out + n, BRV_VALUE_LAYERS_SIZE - n, "%s%s", i ? ", " : "", walk->request->layer_name[i]);
    return out;
}

/* Nothing is said of names when the skin itself could not be read. */
static bool layer_value(const struct brv_value *value, const struct brv_node *node)
{
    char shown[BRV_SHOWN_SIZE], names[BRV_VALUE_LAYERS_SIZE];
    const struct brv_section *skin = &value->walk->section[BRV_SCOPE_LAYER];
    if (!has_text(node)) return refuse_shape(value, node);
    const int layer = brv_value_layer(value->walk, node->text);
    if (layer >= 0)
        memcpy(value->field, &layer, sizeof layer);
    else if (skin->node && !skin->failed)
        brv_walk_fault(value->walk, node->at, "%s = %s: the skin has no such layer, only %s", value->path,
                       brv_fault_shown(shown, node->text), brv_value_layers(names, value->walk));
    return layer >= 0;
}

/* The count stands in the size_t just before the numbers. */
static bool list_value(const struct brv_value *value, const struct brv_node *node)
{
    if (node->kind != BRV_NODE_LIST || node->n == 0 || node->n > BRV_MOST_DEPTHS) {
        brv_walk_fault(value->walk, brv_node_place(node),
                       "%s: a list of 1 to %d values is wanted, such as [0 um, 1 mm]", value->path,
                       (int)BRV_MOST_DEPTHS);
        return false;
    }
    size_t n = 0;
    for (size_t i = 0; i < node->n; i++) {
        double number;
        if (node->child[i].refused || !quantity_read(value, &node->child[i], &number)) continue;
        memcpy(value->field + n * sizeof number, &number, sizeof number);
        n++;
    }
    memcpy(value->field - sizeof n, &n, sizeof n);
    return n == node->n;
}

bool brv_value_read(const struct brv_value *value, const struct brv_node *node)
{
    switch (value->key->kind) {
    case BRV_QUANTITY:
    case BRV_NUMBER:
        return number_value(value, node);
    case BRV_EXTENT:
        return extent_value(value, node);
    case BRV_WORD:
        return word_value(value, node);
    case BRV_LAYER_REF:
        return layer_value(value, node);
    case BRV_LIST:
        return list_value(value, node);
    }
    return false;
}
