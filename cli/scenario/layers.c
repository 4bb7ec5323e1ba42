#include "scenario/layers.h"

#include "scenario/allowed.h"
#include "scenario/body.h"
#include "scenario/colour_section.h"
#include "scenario/nearest.h"
#include "scenario/slip.h"
#include "scenario/value.h"

#include <ctype.h>
#include <stdio.h>
#include <string.h>

/* Which one, or -1. */
static int ready_skin(const char *word)
{
    for (int i = 0; i < BRV_N_PRESET; i++)
        if (!strcmp(brv_ready_skins[i].name, word)) return i;
    return -1;
}

/* ---- a list of layers ---- */

static void check_layer_name(struct brv_walk *walk, const struct brv_node *node, size_t layer)
{
    char shown[BRV_SHOWN_SIZE];
    const char *name = node->text;
    size_t length = 0;
    while (isalnum((unsigned char)name[length]) || name[length] == ' ' || name[length] == '-') length++;
    brv_fault_shown(shown, name);

    if (name[length] || !isalnum((unsigned char)*name) || length >= BRV_LAYER_NAME_SIZE)
        brv_walk_fault(walk, brv_node_place(node),
                       "skin: layer: %s: a name has 1 to %d letters, digits, blanks or hyphens (a to z, without "
                       "accents), a letter or "
                       "digit first",
                       shown, (int)BRV_LAYER_NAME_SIZE - 1);
    else if (!strcmp(name, "grain"))
        brv_walk_fault(walk, node->at,
                       "skin: layer: grain: a layer needs another name, since lesion.grain is the grain");
    else if (!strcmp(name, "film"))
        brv_walk_fault(walk, node->at,
                       "skin: layer: film: a film lies on the skin and has a section of its own: film: {thickness: 5 "
                       "um, absorption: 2000 /cm}");
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

static void kind_missing(struct brv_walk *walk, const struct brv_node *map, const char *name,
                         const struct brv_key *kind)
{
    char allowed[BRV_ALLOWED_SIZE];
    struct brv_nearest nearest = {.word = name};
    for (size_t i = 0; kind->words[i]; i++) brv_nearest_offer(&nearest, kind->words[i]);
    brv_allowed(allowed, kind);
    if (nearest.best)
        brv_walk_fault(walk, map->at,
                       "skin.%s: did you mean `layer: %s`? A name of one's own needs a kind beside it: %s", name,
                       nearest.best, allowed);
    else
        brv_walk_fault(walk, map->at, "skin.%s.kind is missing: it says which defaults this layer takes, %s", name,
                       allowed);
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

    walk->written[target.site][target.layer][row].failed = true;
    kind_missing(walk, map, name, &brv_keys[row]);
}

/* "- epidermis", and "- epidermis:" with keys below or beside it: the word that stands for a layer, or NULL. */
static const char *bare_layer(const struct brv_node *node)
{
    if (node->kind == BRV_NODE_TEXT && *node->text) return node->text;
    if (node->kind != BRV_NODE_MAP || node->n == 0 || brv_node_child(node, "layer")) return NULL;

    const struct brv_node *first = &node->child[0];
    const bool a_value = first->kind == BRV_NODE_LIST || (first->kind == BRV_NODE_TEXT && *first->text);
    return a_value || first->refused || brv_walk_row("skin", first->key) >= 0 ? NULL : first->key;
}

static bool refuse_bare_layer(struct brv_walk *walk, const struct brv_node *node)
{
    char shown[BRV_SHOWN_SIZE];
    const char *word = bare_layer(node);
    if (!word) return false;
    walk->section[BRV_SCOPE_LAYER].failed = true;
    brv_fault_shown(shown, word);
    if (ready_skin(word) >= 0)
        brv_walk_fault(walk, node->at, "skin: %s is a ready skin; it stands alone, as in `skin: %s`", shown, shown);
    else
        brv_walk_fault(walk, node->at, "skin: %s: write `- layer: %s`, with its keys below, one a line", shown, shown);
    return true;
}

/* `- site: neck` among the layers, or in one of them. */
static bool refuse_site_in_list(struct brv_walk *walk, const struct brv_node *map)
{
    const struct brv_node *site = map->kind == BRV_NODE_MAP ? brv_node_child(map, "site") : NULL;
    if (!site) return false;
    walk->section[BRV_SCOPE_LAYER].failed = true;
    brv_walk_fault(
        walk, site->key_at,
        "skin.site: a site gives the thickness of layers, so it goes with a ready skin in place of a list, as "
        "in skin: {ready: light, site: neck}");
    return true;
}

static void take_layer(struct brv_walk *walk, const struct brv_node *map)
{
    struct brv_skin *skin = &walk->request->scenario.skin[BRV_NEIGHBOUR];
    const struct brv_target target = {BRV_SCOPE_LAYER, BRV_NEIGHBOUR, skin->n_layer, false};
    if (refuse_site_in_list(walk, map)) return;
    if (!map->refused && refuse_bare_layer(walk, map)) return;
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

/* A layer of the lesion keeps its kind: what differs are its values. */
static void refuse_kind(struct brv_walk *walk, const struct brv_node *kind, const char *layer)
{
    brv_walk_fault(walk, kind->key_at, "%s.kind: a layer keeps its kind here; change its values instead", layer);
}

/* Words that stand where a layer of the lesion belongs, and are good words elsewhere. */
static bool refuse_other_section(struct brv_walk *walk, const struct brv_node *node, const char *prefix)
{
    const bool layer = !strcmp(node->key, "layer"), skin = !strcmp(node->key, "skin");
    if (layer || skin)
        brv_walk_fault(walk, node->key_at, "%s.%s: a layer's name comes first, as in `basal.melanosomes: 14 %%`",
                       prefix, node->key);
    else if (brv_walk_is_section(node->key))
        brv_walk_fault(walk, node->key_at, "%s.%s: only keys of skin and grain can differ in the lesion", prefix,
                       node->key);
    return layer || brv_walk_is_section(node->key);
}

/* The skin could not be read, so that the name may stand where reading failed: the keys below it are looked at all the same. */
static void look_below(struct brv_walk *walk, const struct brv_node *node, const char *prefix)
{
    char shown[BRV_SHOWN_SIZE], path[BRV_WALK_PATH_SIZE];
    const struct brv_node *kind = node->kind == BRV_NODE_MAP ? brv_node_child(node, "kind") : NULL;
    snprintf(path, sizeof path, "%s.%s", prefix, brv_fault_shown(shown, node->key));
    if (kind) refuse_kind(walk, kind, path);
    if (node->kind == BRV_NODE_MAP) brv_walk_keys_apart(walk, path, node);
}

static void layer_unknown(struct brv_walk *walk, const struct brv_node *node, const char *prefix)
{
    char shown[BRV_SHOWN_SIZE], names[BRV_VALUE_LAYERS_SIZE];
    struct brv_nearest nearest = {.word = node->key};
    const size_t n = walk->request->scenario.skin[BRV_NEIGHBOUR].n_layer;
    for (size_t i = 0; i < n; i++) brv_nearest_offer(&nearest, walk->request->layer_name[i]);

    brv_fault_shown(shown, node->key);
    if (refuse_other_section(walk, node, prefix)) return;
    if (walk->section[BRV_SCOPE_LAYER].failed || n == 0)
        look_below(walk, node, prefix);
    else if (brv_walk_row("skin", node->key) >= 0)
        brv_walk_fault(walk, node->key_at, "%s.%s: the layer is missing in front of it, as in %s.%s", prefix, shown,
                       walk->request->layer_name[n > 1 ? n - 2 : 0], shown);
    else if (nearest.best)
        brv_walk_fault(walk, node->key_at, "%s.%s: the skin has no such layer; did you mean %s?", prefix, shown,
                       nearest.best);
    else
        brv_walk_fault(walk, node->key_at, "%s.%s: the skin has no such layer, only %s", prefix, shown,
                       brv_value_layers(names, walk));
}

/* Keys of a skin in words; the rest names layers. */
static const char *const skin_words[] = {"ready", "colour", "site"};
enum { N_SKIN_WORD = sizeof skin_words / sizeof *skin_words };

static bool is_skin_word(const char *key)
{
    for (size_t i = 0; i < N_SKIN_WORD; i++)
        if (!strcmp(skin_words[i], key)) return true;
    return false;
}

static void change_layer(struct brv_walk *walk, struct brv_target target, const struct brv_node *map)
{
    const struct brv_node *kind = brv_node_child(map, "kind");
    const char *name = walk->request->layer_name[target.layer];
    char path[BRV_WALK_PATH_SIZE];
    if (!kind) {
        walk->layer[target.site][target.layer] = map;
        brv_walk_keys(walk, target, map);
        return;
    }
    snprintf(path, sizeof path, "%s.%s", target.site == BRV_LESION ? "lesion" : "skin", name);
    refuse_kind(walk, kind, path);
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
        if (node->refused || (site == BRV_NEIGHBOUR && is_skin_word(node->key))) continue;
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

static void unknown_skin(struct brv_walk *walk, const struct brv_node *node)
{
    char shown[BRV_SHOWN_SIZE];
    const struct brv_slip *slip = brv_slip_find("ready skin", node->text);
    struct brv_nearest nearest = {.word = node->text, .best = slip ? slip->meant : NULL};
    for (size_t i = 0; !slip && i < BRV_N_PRESET; i++) brv_nearest_offer(&nearest, brv_ready_skins[i].name);

    walk->section[BRV_SCOPE_LAYER].failed = true;
    brv_fault_shown(shown, node->text);
    if (nearest.best)
        brv_walk_fault(walk, node->at, "skin = %s: a ready skin is light, intermediate or dark; did you mean %s?",
                       shown, nearest.best);
    else if (*node->text)
        brv_walk_fault(walk, node->at,
                       "skin = %s: a ready skin is light, intermediate or dark; else a list of layers is wanted",
                       shown);
    else
        brv_walk_fault(walk, node->key_at,
                       "skin is empty: a list of layers is wanted, or a ready skin: light, intermediate or dark");
}

static void name_layers(struct brv_walk *walk)
{
    const struct brv_skin *skin = &walk->request->scenario.skin[BRV_NEIGHBOUR];
    const char *const *kinds = brv_keys[brv_walk_row("skin", "kind")].words;
    for (size_t i = 0; i < skin->n_layer; i++)
        snprintf(walk->request->layer_name[i], BRV_LAYER_NAME_SIZE, "%s", kinds[skin->layer[i].kind]);
}

/* The layers of a ready skin; false when there is none of this name. */
static bool take_ready_skin(struct brv_walk *walk, const struct brv_node *node)
{
    struct brv_skin *skin = &walk->request->scenario.skin[BRV_NEIGHBOUR];
    const int which = ready_skin(node->text);
    if (which < 0) {
        unknown_skin(walk, node);
        return false;
    }
    brv_skin_preset(skin, (enum brv_preset)which);
    name_layers(walk);
    return true;
}

/* A word of a skin that was meant by one of the keys; NULL: none. */
static const char *word_meant(const struct brv_node *map, const struct brv_node **key)
{
    for (size_t i = 0; i < map->n; i++) {
        struct brv_nearest nearest = {.word = map->child[i].key};
        for (size_t k = 0; k < N_SKIN_WORD; k++) brv_nearest_offer(&nearest, skin_words[k]);
        *key = &map->child[i];
        if (nearest.best && nearest.distance > 0) return nearest.best;
    }
    return NULL;
}

static void refuse_skin_map(struct brv_walk *walk, const struct brv_node *node)
{
    const struct brv_node *key;
    const char *meant = word_meant(node, &key);
    char shown[BRV_SHOWN_SIZE];
    walk->section[BRV_SCOPE_LAYER].failed = true;
    if (meant)
        brv_walk_fault(walk, key->key_at, "skin.%s is not a key; did you mean %s?", brv_fault_shown(shown, key->key),
                       meant);
    else
        brv_walk_fault(
            walk, node->at,
            "skin: keys stand here; a list is wanted, each layer begins with `- layer: NAME`, or in place of a "
            "list `ready: light` (light, intermediate or dark), or `colour: {L: 62, b: 17}`, and what differs from it");
}

/* A measured colour: the layers of the ready skins; how much pigment they hold is found when all else is read. */
static bool take_colour(struct brv_walk *walk, const struct brv_node *colour)
{
    struct brv_skin *skin = &walk->request->scenario.skin[BRV_NEIGHBOUR];
    const bool good = !colour->refused && colour->kind == BRV_NODE_MAP && colour->n > 0;
    if (!good) {
        walk->section[BRV_SCOPE_LAYER].failed = true;
        if (!colour->refused)
            brv_walk_fault(walk, brv_node_place(colour),
                           "skin.colour: the measured L* and b* are wanted here, as in {L: 62, b: 17}");
        return false;
    }
    brv_skin_preset(skin, BRV_LIGHT_SKIN);
    skin->ready = 0;
    name_layers(walk);
    walk->section[BRV_SCOPE_COLOUR].node = colour;
    brv_walk_keys(walk, (struct brv_target){BRV_SCOPE_COLOUR, BRV_NEIGHBOUR, 0, false}, colour);
    return true;
}

/* ---- a body site ---- */

static void unknown_site(struct brv_walk *walk, const struct brv_node *node)
{
    char shown[BRV_SHOWN_SIZE], names[320];
    struct brv_nearest nearest = {.word = node->text};
    size_t n = 0;
    for (size_t i = 0; i < BRV_N_BODY_SITE && n < sizeof names; i++) {
        brv_nearest_offer(&nearest, brv_body_sites[i].name);
        if (!nearest.best && strlen(node->text) > 2 && strstr(brv_body_sites[i].name, node->text))
            nearest = (struct brv_nearest){node->text, brv_body_sites[i].name, strlen(node->text)};
        n += (size_t)snprintf(names + n, sizeof names - n, "%s%s", i ? ", " : "", brv_body_sites[i].name);
    }
    walk->section[BRV_SCOPE_LAYER].failed = true;
    brv_fault_shown(shown, node->text);
    if (nearest.best)
        brv_walk_fault(walk, node->at, "skin.site = %s: no such site; did you mean %s? There are %s", shown,
                       nearest.best, names);
    else
        brv_walk_fault(walk, brv_node_place(node), "skin.site = %s: no such site; there are %s", shown, names);
}

/* Takes the thicknesses of `site: NAME` where that stands beside what gave the layers. */
static void take_site(struct brv_walk *walk, const struct brv_node *map)
{
    const struct brv_node *site = brv_node_child(map, "site");
    const char *const *kinds = brv_keys[brv_walk_row("skin", "kind")].words;
    struct brv_skin *skin = &walk->request->scenario.skin[BRV_NEIGHBOUR];
    if (!site || site->refused) return;
    const int which = site->kind == BRV_NODE_TEXT ? brv_body_find(site->text) : -1;
    if (site->kind != BRV_NODE_TEXT) {
        walk->section[BRV_SCOPE_LAYER].failed = true;
        brv_walk_fault(walk, site->at,
                       "skin.site: one word is wanted, such as neck; `brevis explain sites` lists them");
    } else if (which < 0) {
        unknown_site(walk, site);
    } else {
        brv_body_place(skin, &brv_body_sites[which]);
        for (size_t i = 0; i < skin->n_layer; i++)
            snprintf(walk->request->layer_name[i], BRV_LAYER_NAME_SIZE, "%s", kinds[skin->layer[i].kind]);
    }
}

/* What stands beside that which gave the layers. */
static void take_rest(struct brv_walk *walk, const struct brv_node *map)
{
    take_site(walk, map);
    take_changes(walk, map, BRV_NEIGHBOUR);
}

/* A skin in words: a ready one or one of a measured colour, at a body site, and what differs from it. */
static void take_words(struct brv_walk *walk, const struct brv_node *map)
{
    const struct brv_node *ready = brv_node_child(map, "ready"), *colour = brv_node_child(map, "colour"), *key;
    if (ready && colour) {
        walk->section[BRV_SCOPE_LAYER].failed = true;
        brv_walk_fault(walk, colour->key_at, "skin.colour: a ready skin has its own pigment; give ready or colour");
    } else if (colour) {
        if (take_colour(walk, colour)) take_rest(walk, map);
    } else if (!ready && brv_node_child(map, "site") && !word_meant(map, &key)) {
        walk->section[BRV_SCOPE_LAYER].failed = true;
        brv_walk_fault(
            walk, brv_node_child(map, "site")->key_at,
            "skin.site: a site goes with a ready skin or a measured colour, as in {ready: light, site: neck}");
    } else if (!ready) {
        refuse_skin_map(walk, map);
    } else if (ready->refused || ready->kind != BRV_NODE_TEXT) {
        walk->section[BRV_SCOPE_LAYER].failed = true;
        if (!ready->refused)
            brv_walk_fault(walk, ready->at, "skin.ready: one word is wanted: light, intermediate or dark");
    } else if (take_ready_skin(walk, ready)) {
        take_rest(walk, map);
    }
}

void brv_layers_skin(struct brv_walk *walk, const struct brv_node *node)
{
    if (node->kind == BRV_NODE_TEXT) {
        if (!take_ready_skin(walk, node)) return;
        brv_colour_refuse_beside(walk, node);
        take_rest(walk, node);
    } else if (node->kind == BRV_NODE_MAP) {
        take_words(walk, node);
    } else if (node->kind == BRV_NODE_LIST && node->n > 0) {
        take_layers(walk, node);
    } else {
        walk->section[BRV_SCOPE_LAYER].failed = true;
        brv_walk_fault(walk, node->at,
                       "skin: the list is empty: at least one layer is wanted, which begins with `- layer: NAME`, "
                       "or in place of a list a ready skin: light, intermediate or dark");
    }
}

/* The lesion starts as its neighbour, faults included, and then differs. */
void brv_layers_lesion(struct brv_walk *walk, const struct brv_node *node)
{
    char found[BRV_WALK_FOUND_SIZE];
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
                       "lesion%s; what differs is wanted below it, one a line, such as `basal.melanosomes: 14 %%`",
                       brv_walk_found(found, node));
}
