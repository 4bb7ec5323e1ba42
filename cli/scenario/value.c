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
        brv_walk_fault(value->walk, node->key_at, "%s has no value; %s", value->path,
                       brv_allowed_said(allowed, value->key));
    return false;
}

static bool has_text(const struct brv_node *node)
{
    return node->kind == BRV_NODE_TEXT && *node->text;
}

/* The share that a bare number was probably meant to be, in percent: 0.25 is 25 %, 5 is 5 %; NaN when that is none. */
static double percent_meant(const struct brv_key *key, double number)
{
    const double percent = number < 1.0 ? 100.0 * number : number;
    const bool allowed = percent >= 100.0 * key->least && percent <= 100.0 * key->most;
    return allowed && (number < 1.0 || number > 1.0) ? percent : (double)NAN; /* 1 may be either */
}

static void fault_of_bare_share(const struct brv_value *value, const struct brv_node *node, double number)
{
    char shown[BRV_SHOWN_SIZE], allowed[BRV_ALLOWED_SIZE], meant[48] = "";
    const double percent = percent_meant(value->key, number);
    if (!isnan(percent)) snprintf(meant, sizeof meant, "; did you mean %.6g %%?", percent);
    brv_walk_fault(value->walk, node->at, "%s = %s: a share is written in %%%s (%s)", value->path,
                   brv_fault_shown(shown, node->text), meant, brv_allowed_said(allowed, value->key));
}

static void fault_of_quantity(const struct brv_value *value, const struct brv_node *node, const char *why)
{
    char shown[BRV_SHOWN_SIZE], allowed[BRV_ALLOWED_SIZE];
    double number;
    const enum brv_quantity_lack lack = brv_quantity_lack(node->text, &number);
    if (lack == BRV_LACKS_UNIT && value->key->dimension == BRV_SHARE)
        fault_of_bare_share(value, node, number);
    else
        brv_walk_fault(value->walk, node->at, lack ? "%s = %s: %s; %s" : "%s = %s: %s", value->path,
                       brv_fault_shown(shown, node->text), why, brv_allowed_said(allowed, value->key));
}

static bool quantity_read(const struct brv_value *value, const struct brv_node *node, double *number)
{
    char why[BRV_QUANTITY_WHY_SIZE];
    if (!has_text(node)) return refuse_shape(value, node);
    if (brv_quantity_read(number, node->text, value->key->dimension, why)) return true;
    fault_of_quantity(value, node, why);
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
    char shown[BRV_SHOWN_SIZE];
    for (size_t i = 0; node->kind == BRV_NODE_TEXT && meant[i]; i++) {
        if (brv_nearest_distance(meant[i], node->text) > (strlen(meant[i]) > 5)) continue;
        if (!strcmp(node->text, "endless")) {
            memcpy(value->field, &endless, sizeof endless);
            return true;
        }
        brv_walk_fault(value->walk, node->at, "%s = %s: a layer without end is written endless", value->path,
                       brv_fault_shown(shown, node->text));
        return false;
    }
    return number_value(value, node);
}

/* Words that someone will try, and why they are no values. */
static const struct {
    const char *path, *word, *reason;
} withheld[] = {
    {"room.edition", "iec_2014", "rows of IEC 60825-1:2014 are known from memory only: shown, never used"},
    {"room.edition", "ansi_2014", "rows of ANSI Z136.1 were not read for this program: shown, never used"},
    {"room.edition", "ansi_2022", "rows of ANSI Z136.1 were not read for this program: shown, never used"},
};

static bool fault_of_withheld(const struct brv_value *value, const struct brv_node *node)
{
    char shown[BRV_SHOWN_SIZE], allowed[BRV_ALLOWED_SIZE];
    for (size_t i = 0; i < sizeof withheld / sizeof *withheld; i++) {
        if (strcmp(value->path, withheld[i].path) || strcmp(node->text, withheld[i].word)) continue;
        brv_walk_fault(value->walk, node->at, "%s = %s: %s; %s", value->path, brv_fault_shown(shown, node->text),
                       withheld[i].reason, brv_allowed_said(allowed, value->key));
        return true;
    }
    return false;
}

static void fault_of_word(const struct brv_value *value, const struct brv_node *node)
{
    char shown[BRV_SHOWN_SIZE], allowed[BRV_ALLOWED_SIZE];
    const char *const *words = value->key->words;
    struct brv_nearest nearest = {.word = node->text};
    for (size_t i = 0; words[i] && words[1]; i++) brv_nearest_offer(&nearest, words[i]);
    brv_walk_fault(value->walk, node->at, nearest.best ? "%s = %s%s%s; did you mean %s?" : "%s = %s%s%s", value->path,
                   brv_fault_shown(shown, node->text), words[1] ? ", " : ": ", brv_allowed_said(allowed, value->key),
                   nearest.best);
}

static bool word_value(const struct brv_value *value, const struct brv_node *node)
{
    if (!has_text(node)) return refuse_shape(value, node);
    for (int i = 0; value->key->words[i]; i++) {
        if (strcmp(value->key->words[i], node->text)) continue;
        memcpy(value->field, &i, sizeof i);
        return true;
    }
    if (!fault_of_withheld(value, node)) fault_of_word(value, node);
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

static void fault_of_layer(const struct brv_value *value, const struct brv_node *node)
{
    char shown[BRV_SHOWN_SIZE], names[BRV_VALUE_LAYERS_SIZE];
    const struct brv_request *request = value->walk->request;
    struct brv_nearest nearest = {.word = node->text};
    for (size_t i = 0; i < request->scenario.skin[BRV_NEIGHBOUR].n_layer; i++)
        brv_nearest_offer(&nearest, request->layer_name[i]);
    brv_fault_shown(shown, node->text);
    if (nearest.best && nearest.distance <= 2) /* hypodermis is not a slip for epidermis */
        brv_walk_fault(value->walk, node->at, "%s = %s: the skin has no such layer; did you mean %s?", value->path,
                       shown, nearest.best);
    else
        brv_walk_fault(value->walk, node->at, "%s = %s: the skin has no such layer, only %s", value->path, shown,
                       brv_value_layers(names, value->walk));
}

/* Nothing is said of names when the skin itself could not be read. */
static bool layer_value(const struct brv_value *value, const struct brv_node *node)
{
    const struct brv_section *skin = &value->walk->section[BRV_SCOPE_LAYER];
    if (!has_text(node)) return refuse_shape(value, node);
    const int layer = brv_value_layer(value->walk, node->text);
    if (layer >= 0)
        memcpy(value->field, &layer, sizeof layer);
    else if (skin->node && !skin->failed)
        fault_of_layer(value, node);
    return layer >= 0;
}

static void fault_of_list(const struct brv_value *value, const struct brv_node *node)
{
    char shown[BRV_SHOWN_SIZE], found[BRV_SHOWN_SIZE + 40];
    if (node->kind == BRV_NODE_TEXT && *node->text)
        snprintf(found, sizeof found, " = %s", brv_fault_shown(shown, node->text));
    else if (node->kind == BRV_NODE_LIST && node->n > 0)
        snprintf(found, sizeof found, " has %zu values", node->n);
    else
        snprintf(found, sizeof found, "%s", node->kind == BRV_NODE_MAP ? " has keys below it" : " is empty");
    brv_walk_fault(value->walk, brv_node_place(node), "%s%s: a list of 1 to %d values is wanted, such as [0 um, 1 mm]",
                   value->path, found, (int)BRV_MOST_DEPTHS);
}

/* The count stands in the size_t just before the numbers. */
static bool list_value(const struct brv_value *value, const struct brv_node *node)
{
    if (node->kind != BRV_NODE_LIST || node->n == 0 || node->n > BRV_MOST_DEPTHS) {
        fault_of_list(value, node);
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
