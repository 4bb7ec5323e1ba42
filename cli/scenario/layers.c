#include "scenario/layers.h"

#include "scenario/allowed.h"
#include "scenario/nearest.h"
#include "scenario/value.h"

#include <ctype.h>
#include <stdio.h>
#include <string.h>

static const char *const ready_skins[BRV_N_PRESET] = {"light", "intermediate", "dark"};

/* ---- a list of layers ---- */

static void check_layer_name(struct brv_walk *walk, const struct brv_node *node, size_t layer)
{
    char shown[BRV_SHOWN_SIZE];
    const char *name = node->text;
    size_t length = 0;
    while (isalnum((unsigned char)name[length]) || name[length] == ' ' || name[length] == '-') length++;
    brv_fault_shown(shown, name);

    if (name[length] || length == 0 || length >= BRV_LAYER_NAME_SIZE)
        brv_walk_fault(
            walk, brv_node_place(node),
            "skin: layer: %s: a name has 1 to %d letters, digits, blanks or hyphens (a to z, without accents)", shown,
            (int)BRV_LAYER_NAME_SIZE - 1);
    else if (!strcmp(name, "grain"))
        brv_walk_fault(walk, node->at,
                       "skin: layer: grain: a layer needs another name, since lesion.grain is the grain");
    else if (brv_value_layer(walk, name) >= 0)
        brv_walk_fault(walk, node->at,
                       "skin: layer: %s: a layer above has this name already; give another name, and its kind", shown);
    else
        snprintf(walk->request->layer_name[layer], BRV_LAYER_NAME_SIZE, "%s", name);
}

/* Returns whether the name is a good one; else the layer is called "layer 3" and its keys are read all the same. */
static bool take_layer_name(struct brv_walk *walk, const struct brv_node *map, size_t layer)
{
    const struct brv_node *name = brv_node_child(map, "layer");
    if (!name)
        brv_walk_fault(walk, map->at, "skin: this layer has no name: begin it with `- layer: NAME`");
    else if (!name->refused && name->kind != BRV_NODE_TEXT)
        brv_walk_fault(walk, name->at, "skin: layer: a name is wanted here");
    else if (!name->refused)
        check_layer_name(walk, name, layer);

    if (*walk->request->layer_name[layer]) return true;
    walk->section[BRV_SCOPE_LAYER].failed = true;
    snprintf(walk->request->layer_name[layer], BRV_LAYER_NAME_SIZE, "layer %zu", layer + 1);
    return false;
}

/* The kind follows from the name where it can. */
static void take_layer_kind(struct brv_walk *walk, struct brv_target target, const struct brv_node *map, bool named)
{
    const size_t row = (size_t)brv_walk_row("skin", "kind");
    struct brv_layer_ask *ask = &walk->request->scenario.skin[target.site].layer[target.layer];
    const char *name = walk->request->layer_name[target.layer];
    ask->kind = BRV_DERMIS;
    for (int i = 0; brv_keys[row].words[i]; i++) {
        if (strcmp(brv_keys[row].words[i], name)) continue;
        ask->kind = i;
        brv_walk_mark_given((char *)ask, row);
        return;
    }
    if (brv_node_child(map, "kind") || !named) return;

    char allowed[BRV_ALLOWED_SIZE];
    walk->written[target.site][target.layer][row].failed = true;
    brv_walk_fault(walk, map->at, "skin.%s.kind is missing: it says which defaults this layer takes, %s", name,
                   brv_allowed(allowed, &brv_keys[row]));
}

static void take_layer(struct brv_walk *walk, const struct brv_node *map)
{
    struct brv_skin *skin = &walk->request->scenario.skin[BRV_NEIGHBOUR];
    const struct brv_target target = {BRV_SCOPE_LAYER, BRV_NEIGHBOUR, skin->n_layer, false};
    if (map->kind != BRV_NODE_MAP) {
        walk->section[BRV_SCOPE_LAYER].failed = true;
        if (!map->refused)
            brv_walk_fault(walk, map->at, "skin: a layer begins with `- layer: NAME`, its keys stand below");
        return;
    }
    walk->layer[BRV_NEIGHBOUR][skin->n_layer] = walk->layer[BRV_LESION][skin->n_layer] = map;
    const bool named = take_layer_name(walk, map, skin->n_layer);
    skin->n_layer++;
    take_layer_kind(walk, target, map, named);
    brv_walk_keys(walk, target, map);
}

static void take_layers(struct brv_walk *walk, const struct brv_node *list)
{
    for (size_t i = 0; i < list->n; i++) {
        if (i == BRV_MOST_LAYERS) {
            walk->section[BRV_SCOPE_LAYER].failed = true;
            brv_walk_fault(walk, list->child[i].at, "skin: at most %d layers are taken", (int)BRV_MOST_LAYERS);
            return;
        }
        take_layer(walk, &list->child[i]);
    }
}

static void layer_unknown(struct brv_walk *walk, const struct brv_node *node, const char *prefix)
{
    char shown[BRV_SHOWN_SIZE], names[BRV_VALUE_LAYERS_SIZE];
    struct brv_nearest nearest = {.word = node->key};
    const size_t n = walk->request->scenario.skin[BRV_NEIGHBOUR].n_layer;
    for (size_t i = 0; i < n; i++) brv_nearest_offer(&nearest, walk->request->layer_name[i]);

    brv_fault_shown(shown, node->key);
    if (walk->section[BRV_SCOPE_LAYER].failed || n == 0) return; /* the name may stand where reading failed */
    if (brv_walk_row("skin", node->key) >= 0)
        brv_walk_fault(walk, node->key_at, "%s.%s: the layer is missing in front of it, as in %s.%s", prefix, shown,
                       walk->request->layer_name[n > 1 ? n - 2 : 0], shown);
    else if (nearest.best)
        brv_walk_fault(walk, node->key_at, "%s.%s: the skin has no such layer; did you mean %s?", prefix, shown,
                       nearest.best);
    else
        brv_walk_fault(walk, node->key_at, "%s.%s: the skin has no such layer, only %s", prefix, shown,
                       brv_value_layers(names, walk));
}

/* A layer of the lesion keeps its kind: what differs are its values. */
static void change_layer(struct brv_walk *walk, struct brv_target target, const struct brv_node *map)
{
    const struct brv_node *kind = brv_node_child(map, "kind");
    const char *name = walk->request->layer_name[target.layer];
    if (!kind) {
        walk->layer[target.site][target.layer] = map;
        brv_walk_keys(walk, target, map);
        return;
    }
    brv_walk_fault(walk, kind->key_at, "%s.%s.kind: a layer keeps its kind here; change its values instead",
                   target.site == BRV_LESION ? "lesion" : "skin", name);
}

/* Changes on top of a complete skin: the lesion's, or those that --set makes in a ready skin. */
static void take_changes(struct brv_walk *walk, const struct brv_node *map, size_t site)
{
    const char *prefix = site == BRV_LESION ? "lesion" : "skin";
    for (size_t i = 0; i < map->n; i++) {
        const struct brv_node *node = &map->child[i];
        char shown[BRV_SHOWN_SIZE];
        const bool grain = site == BRV_LESION && !strcmp(node->key, "grain");
        const int layer = brv_value_layer(walk, node->key);
        if (node->refused) continue;
        if (!grain && layer < 0)
            layer_unknown(walk, node, prefix);
        else if (node->kind != BRV_NODE_MAP)
            brv_walk_fault(walk, brv_node_place(node), "%s.%s: the key that differs is missing, as in %s.%s", prefix,
                           brv_fault_shown(shown, node->key), node->key,
                           grain ? "diameter: 0.5 um" : "melanosomes: 14 %");
        else if (grain)
            brv_walk_keys(walk, (struct brv_target){BRV_SCOPE_GRAIN, site, 0, true}, node);
        else
            change_layer(walk, (struct brv_target){BRV_SCOPE_LAYER, site, (size_t)layer, true}, node);
    }
}

static void take_ready_skin(struct brv_walk *walk, const struct brv_node *node)
{
    char shown[BRV_SHOWN_SIZE];
    struct brv_skin *skin = &walk->request->scenario.skin[BRV_NEIGHBOUR];
    const char *const *kinds = brv_keys[brv_walk_row("skin", "kind")].words;
    for (size_t i = 0; i < BRV_N_PRESET; i++) {
        if (strcmp(ready_skins[i], node->text)) continue;
        brv_skin_preset(skin, (enum brv_preset)i);
        for (size_t j = 0; j < skin->n_layer; j++)
            snprintf(walk->request->layer_name[j], BRV_LAYER_NAME_SIZE, "%s", kinds[skin->layer[j].kind]);
        take_changes(walk, node, BRV_NEIGHBOUR);
        return;
    }
    walk->section[BRV_SCOPE_LAYER].failed = true;
    if (*node->text)
        brv_walk_fault(walk, node->at,
                       "skin = %s: a ready skin is light, intermediate or dark; else a list of layers is wanted",
                       brv_fault_shown(shown, node->text));
    else
        brv_walk_fault(walk, node->key_at,
                       "skin is empty: a list of layers is wanted, or a ready skin: light, intermediate or dark");
}

void brv_layers_skin(struct brv_walk *walk, const struct brv_node *node)
{
    if (node->kind == BRV_NODE_TEXT) {
        take_ready_skin(walk, node);
    } else if (node->kind == BRV_NODE_LIST && node->n > 0) {
        take_layers(walk, node);
    } else {
        walk->section[BRV_SCOPE_LAYER].failed = true;
        brv_walk_fault(walk, node->at, "skin: a list is wanted, each layer begins with `- layer: NAME`");
    }
}

/* The lesion starts as its neighbour, faults included, and then differs. */
void brv_layers_lesion(struct brv_walk *walk, const struct brv_node *node)
{
    struct brv_scenario *ask = &walk->request->scenario;
    ask->skin[BRV_LESION] = ask->skin[BRV_NEIGHBOUR];
    ask->lesion_given = 1;
    if (node->kind == BRV_NODE_MAP)
        take_changes(walk, node, BRV_LESION);
    else if (node->kind == BRV_NODE_TEXT && !*node->text)
        brv_walk_fault(walk, node->key_at,
                       "lesion is empty: leave it out for a spot with 2.5 times the pigment in its basal "
                       "row (60 %% at most), or write {} for the same skin as around it");
    else
        brv_walk_fault(walk, node->at,
                       "lesion: what differs is wanted, one a line, such as `basal.melanosomes: 14 %%`");
}
