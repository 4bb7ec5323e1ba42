#include "scenario/spread_section.h"

#include "scenario/allowed.h"
#include "scenario/nearest.h"
#include "scenario/quantity.h"
#include "scenario/value.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* One line of the section. */
struct entry {
    struct brv_walk *walk;
    const char *path; /* as it was written */
    const struct brv_node *node;
    bool sound;
};

static bool refuse(const struct entry *entry, struct brv_place at, const char *text)
{
    char shown[BRV_SHOWN_SIZE];
    brv_walk_fault(entry->walk, at, "spread: %s %s", brv_fault_shown(shown, entry->path), text);
    return false;
}

/* ---- the path ---- */

static bool is_section(const char *name)
{
    for (size_t i = 0; i < brv_n_keys; i++)
        if (brv_keys[i].scope != BRV_SCOPE_LAYER && !strcmp(brv_scope_name(brv_keys[i].scope), name)) return true;
    return false;
}

static bool refuse_key(const struct entry *entry, const char *section, const char *name)
{
    char text[160];
    struct brv_nearest nearest = {.word = name};
    for (size_t i = 0; i < brv_n_keys; i++)
        if (!strcmp(brv_scope_name(brv_keys[i].scope), section)) brv_nearest_offer(&nearest, brv_keys[i].name);
    if (nearest.best)
        snprintf(text, sizeof text, "is not a key; did you mean %s?", nearest.best);
    else
        snprintf(text, sizeof text, "is not a key; `brevis explain %s` lists those there are", section);
    return refuse(entry, entry->node->key_at, text);
}

static bool refuse_layer(const struct entry *entry)
{
    char names[BRV_VALUE_LAYERS_SIZE], text[BRV_VALUE_LAYERS_SIZE + 64];
    if (entry->walk->section[BRV_SCOPE_LAYER].failed) return false; /* the name may stand where reading failed */
    snprintf(text, sizeof text, "names a layer that the skin does not have; it has %s",
             brv_value_layers(names, entry->walk));
    return refuse(entry, entry->node->key_at, text);
}

/* "skin.LAYER.KEY", "lesion.LAYER.KEY", "lesion.grain.KEY", "SECTION.KEY". */
static bool find_key(struct brv_opened *opened, const struct entry *entry)
{
    static const char wanted[] = "is not a path to a key, such as skin.basal.melanosomes, lesion.grain.darkness or "
                                 "light.fluence";
    char part[3][BRV_LAYER_NAME_SIZE] = {"", "", ""};
    size_t n = 0;
    for (const char *from = entry->path; from; n++) {
        const char *dot = strchr(from, '.');
        const size_t length = dot ? (size_t)(dot - from) : strlen(from);
        if (n == 3 || length == 0 || length >= sizeof part[0]) return refuse(entry, entry->node->key_at, wanted);
        memcpy(part[n], from, length);
        from = dot ? dot + 1 : NULL;
    }
    const bool skin = !strcmp(part[0], "skin"), lesion = !strcmp(part[0], "lesion");
    const bool grain = lesion && !strcmp(part[1], "grain");
    if (n != (skin || lesion ? 3u : 2u) || (!skin && !lesion && !is_section(part[0])))
        return refuse(entry, entry->node->key_at, wanted);

    const char *section = grain ? "grain" : skin || lesion ? "skin" : part[0];
    const int layer = strcmp(section, "skin") ? 0 : brv_value_layer(entry->walk, part[1]);
    if (layer < 0) return refuse_layer(entry);
    if (!strcmp(section, "skin") && entry->walk->request->scenario.skin[BRV_NEIGHBOUR].layer[layer].kind == BRV_FILM)
        return refuse(entry, entry->node->key_at, "is no path: a film has a section of its own, as in film.absorption");
    const int row = brv_walk_row(section, part[n - 1]);
    if (row < 0) return refuse_key(entry, section, part[n - 1]);
    *opened =
        (struct brv_opened){.key = (size_t)row, .site = lesion ? BRV_LESION : BRV_NEIGHBOUR, .layer = (size_t)layer};
    return true;
}

/* ---- the values ---- */

static bool refuse_value(const struct entry *entry, const struct brv_key *key, const char *found, const char *why)
{
    char shown[BRV_SHOWN_SIZE], allowed[BRV_ALLOWED_SIZE];
    char text[BRV_SHOWN_SIZE + BRV_QUANTITY_WHY_SIZE + BRV_ALLOWED_SIZE + 8];
    snprintf(text, sizeof text, "= %s: %s; %s", brv_fault_shown(shown, found), why, brv_allowed_said(allowed, key));
    return refuse(entry, brv_node_place(entry->node), text);
}

static bool read_end(double *value, const struct entry *entry, const struct brv_key *key, const char *text)
{
    char why[BRV_QUANTITY_WHY_SIZE];
    if (!brv_quantity_read(value, text, key->dimension, why)) return refuse_value(entry, key, text, why);
    const bool low = key->above ? !(*value > key->least) : !(*value >= key->least);
    if (!low && *value <= key->most) return true;
    return refuse_value(entry, key, text, "it is outside what the key may be");
}

static bool read_range(struct brv_opened *opened, const struct entry *entry)
{
    static const char between[] = " to ";
    const struct brv_key *key = &brv_keys[opened->key];
    const char *text = entry->node->text, *middle = text ? strstr(text, between) : NULL;
    char low[BRV_SHOWN_SIZE];
    if (!middle || (size_t)(middle - text) >= sizeof low)
        return refuse_value(entry, key, text ? text : "", "low and high are wanted, as in 1 mm to 2 mm");
    snprintf(low, sizeof low, "%.*s", (int)(middle - text), text);
    if (!read_end(&opened->low, entry, key, low)) return false;
    if (!read_end(&opened->high, entry, key, middle + sizeof between - 1)) return false;
    if (opened->low < opened->high) return true;
    return refuse_value(entry, key, text, "the first must be the lower one");
}

/* ---- what the scenario has to say ---- */

static bool holds_value(const struct brv_opened *opened, const struct entry *entry)
{
    const struct brv_key *key = &brv_keys[opened->key];
    char value[BRV_ALLOWED_SIZE], shown[BRV_SHOWN_SIZE], text[BRV_ALLOWED_SIZE + BRV_SHOWN_SIZE + 64];
    const double asked = brv_inputs_value(&entry->walk->request->scenario, opened->key, opened->site, opened->layer);
    if (isnan(asked))
        return refuse(entry, entry->node->key_at, "has no value in this scenario that could be uncertain");
    if (opened->low <= asked && asked <= opened->high) return true;
    snprintf(text, sizeof text, "= %s does not hold the scenario's own value, %s",
             brv_fault_shown(shown, entry->node->text), brv_allowed_value(value, key, asked));
    return refuse(entry, brv_node_place(entry->node), text);
}

/* Fluence and energy are one and the same number. */
static bool same_number(const struct brv_opened *one, const struct brv_opened *other)
{
    const struct brv_key *a = &brv_keys[one->key], *b = &brv_keys[other->key];
    const bool light = a->scope == BRV_SCOPE_LIGHT && b->scope == BRV_SCOPE_LIGHT;
    const bool two = (!strcmp(a->name, "fluence") && !strcmp(b->name, "energy")) ||
                     (!strcmp(a->name, "energy") && !strcmp(b->name, "fluence"));
    return (one->key == other->key && one->site == other->site && one->layer == other->layer) || (light && two);
}

static bool is_new(const struct brv_opened *opened, const struct entry *entry)
{
    const struct brv_request *request = entry->walk->request;
    for (size_t i = 0; i < request->n_opened; i++)
        if (same_number(&request->opened[i], opened))
            return refuse(entry, entry->node->key_at, "is opened twice, or once as fluence and once as energy");
    return true;
}

static void take_entry(const struct entry *entry)
{
    struct brv_request *request = entry->walk->request;
    struct brv_opened opened;
    if (entry->node->refused || !find_key(&opened, entry)) return;
    if (!brv_inputs_can_open(opened.key)) {
        refuse(entry, entry->node->key_at,
               "is no uncertain number: words, counts, what lays out time, and watch.tan are not drawn");
        return;
    }
    if (!read_range(&opened, entry) || (entry->sound && !holds_value(&opened, entry)) || !is_new(&opened, entry))
        return;
    if (request->n_opened == BRV_MOST_OPENED) {
        refuse(entry, entry->node->key_at, "is one too many: up to 32 values can be opened");
        return;
    }
    request->opened[request->n_opened++] = opened;
}

/* Keys may also stand one below the other, as --set spread.grain.darkness makes them. */
static void take_map(struct brv_walk *walk, const struct brv_node *map, const char *before, bool sound)
{
    for (size_t i = 0; i < map->n; i++) {
        const struct brv_node *node = &map->child[i];
        char path[BRV_WALK_PATH_SIZE];
        snprintf(path, sizeof path, "%s%s%s", before, *before ? "." : "", node->key);
        if (node->kind == BRV_NODE_MAP && node->n > 0)
            take_map(walk, node, path, sound);
        else
            take_entry(&(struct entry){walk, path, node, sound});
    }
}

void brv_spread_section(struct brv_walk *walk, bool sound)
{
    char found[BRV_WALK_FOUND_SIZE];
    const struct brv_node *node = brv_node_child(&walk->document->root, "spread");
    if (!node || node->refused) return;
    if (node->kind == BRV_NODE_MAP)
        take_map(walk, node, "", sound);
    else
        brv_walk_fault(walk, brv_node_place(node),
                       "spread%s; what is uncertain is wanted below it, one a line, such as `grain.darkness: 0.5 to 2`",
                       brv_walk_found(found, node));
}
