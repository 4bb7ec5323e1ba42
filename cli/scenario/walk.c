#include "scenario/walk.h"

#include "scenario/allowed.h"
#include "scenario/colour_section.h"
#include "scenario/film_section.h"
#include "scenario/layers.h"
#include "scenario/letters.h"
#include "scenario/nearest.h"
#include "scenario/rival.h"
#include "scenario/slip.h"
#include "scenario/value.h"

#include <assert.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

static const char *const top_keys[] = {"title",  "light", "skin",   "lesion",  "grain", "surface",
                                       "below",  "watch", "vessel", "ladder",  "cover", "room",
                                       "visits", "film",  "spread", "choices", NULL};

void brv_walk_fault(const struct brv_walk *walk, struct brv_place at, const char *format, ...)
{
    char text[768];
    va_list words;
    va_start(words, format);
    vsnprintf(text, sizeof text, format, words);
    va_end(words);
    brv_faults_add(walk->faults, at.file, at.line, at.column, "%s", text);
}

const char *brv_walk_found(char out[BRV_WALK_FOUND_SIZE], const struct brv_node *node)
{
    char shown[BRV_SHOWN_SIZE];
    if (node->kind == BRV_NODE_TEXT && *node->text)
        snprintf(out, BRV_WALK_FOUND_SIZE, " = %s", brv_fault_shown(shown, node->text));
    else if (node->kind == BRV_NODE_TEXT || node->n == 0)
        snprintf(out, BRV_WALK_FOUND_SIZE, " is empty");
    else
        snprintf(out, BRV_WALK_FOUND_SIZE, ": %s here", node->kind == BRV_NODE_LIST ? "a list stands" : "keys stand");
    return out;
}

static const char *prefix_of(char out[BRV_WALK_PATH_SIZE], const struct brv_walk *walk, struct brv_target target)
{
    const char *lesion = target.site == BRV_LESION ? "lesion" : "skin";
    if (target.scope == BRV_SCOPE_LAYER)
        snprintf(out, BRV_WALK_PATH_SIZE, "%s.%s", lesion, walk->request->layer_name[target.layer]);
    else
        snprintf(out, BRV_WALK_PATH_SIZE, "%s%s", target.site == BRV_LESION ? "lesion." : "",
                 brv_scope_name(target.scope));
    return out;
}

const char *brv_walk_path(char out[BRV_WALK_PATH_SIZE], const struct brv_walk *walk, size_t row, size_t site,
                          size_t layer)
{
    char prefix[BRV_WALK_PATH_SIZE];
    prefix_of(prefix, walk, (struct brv_target){brv_keys[row].scope, site, layer, false});
    snprintf(out, BRV_WALK_PATH_SIZE, "%.80s.%s", prefix, brv_keys[row].name);
    return out;
}

static bool in_section(size_t row, const char *section)
{
    return !strcmp(brv_scope_name(brv_keys[row].scope), section);
}

int brv_walk_row(const char *section, const char *name)
{
    for (size_t i = 0; i < brv_n_keys; i++)
        if (in_section(i, section) && !strcmp(brv_keys[i].name, name)) return (int)i;
    return -1;
}

static struct brv_written *written_at(struct brv_walk *walk, struct brv_target target, size_t row)
{
    return &walk->written[target.site][target.layer][row];
}

static enum brv_scope section_scope(enum brv_scope scope)
{
    return scope == BRV_SCOPE_PULSE ? BRV_SCOPE_LIGHT : scope;
}

/* ---- keys ---- */

/* What stood there before and says the same in another way gives way, unless it was written beside it. */
static void rivals_give_way(struct brv_walk *walk, struct brv_target target, size_t row, char *base)
{
    const enum brv_scope scope = brv_keys[row].scope;
    for (size_t i = 0; i < brv_n_keys; i++) {
        const struct brv_key *other = &brv_keys[i];
        if (other->scope != scope || !brv_rival(brv_scope_name(scope), brv_keys[row].name, other->name)) continue;
        if (written_at(walk, target, i)->node) continue;
        unsigned given;
        const double nothing = 0.0;
        memcpy(&given, base, sizeof given);
        given &= ~brv_key_bit(i);
        memcpy(base, &given, sizeof given);
        memcpy(base + other->offset, &nothing, sizeof nothing); /* rivals in skins and grains are all quantities */
    }
}

void brv_walk_mark_given(char *scope_struct, size_t row)
{
    unsigned given;
    memcpy(&given, scope_struct, sizeof given);
    given |= brv_key_bit(row);
    memcpy(scope_struct, &given, sizeof given);
}

static void take_key(struct brv_walk *walk, struct brv_target target, size_t row, const struct brv_node *node)
{
    char path[BRV_WALK_PATH_SIZE];
    const struct brv_key *key = &brv_keys[row];
    char *base = brv_key_scope(&walk->request->scenario, key->scope, target.site, target.layer);
    const struct brv_value value = {walk, key, brv_walk_path(path, walk, row, target.site, target.layer),
                                    base + key->offset};
    struct brv_written *written = written_at(walk, target, row);
    written->node = node;
    if (node->refused || !brv_value_read(&value, node)) {
        written->failed = true;
        return;
    }
    if (target.change) rivals_give_way(walk, target, row, base);
    brv_walk_mark_given(base, row);
}

/* A layer that is changed keeps its kind, so that is no key of it. */
static bool may_stand(size_t row, const char *section, bool change)
{
    const bool kind = brv_keys[row].scope == BRV_SCOPE_LAYER && !strcmp(brv_keys[row].name, "kind");
    return in_section(row, section) && !(change && kind);
}

static void write_keys_of(char out[256], const char *section, bool change)
{
    size_t n = 0;
    out[0] = '\0';
    for (size_t i = 0; i < brv_n_keys && n < 256; i++)
        if (may_stand(i, section, change))
            n += (size_t)snprintf(out + n, 256 - n, "%s%s", n ? ", " : "", brv_keys[i].name);
}

/* The section that does have this key, or NULL. */
static const char *home_of(const char *name)
{
    for (size_t i = 0; i < brv_n_keys; i++)
        if (!strcmp(brv_keys[i].name, name)) return brv_scope_name(brv_keys[i].scope);
    return NULL;
}

static const char *meant_in(const char *section, bool change, const char *word)
{
    struct brv_nearest nearest = {.word = word};
    for (size_t i = 0; i < brv_n_keys; i++)
        if (may_stand(i, section, change)) brv_nearest_offer(&nearest, brv_keys[i].name);
    return nearest.best;
}

bool brv_walk_is_section(const char *key)
{
    for (size_t i = 0; top_keys[i]; i++)
        if (!strcmp(top_keys[i], key)) return true;
    return false;
}

/* What a word was meant to be is not missing as well; when it is there, it is read. */
static void mark_failed_section(struct brv_walk *walk, const char *name)
{
    for (size_t i = 0; i < BRV_N_SCOPE; i++) {
        struct brv_section *section = &walk->section[section_scope((enum brv_scope)i)];
        if (!strcmp(brv_scope_name((enum brv_scope)i), name) && !section->node) section->failed = true;
    }
}

/* A section that slid to the right, or stands inside another one. */
static void section_too_deep(struct brv_walk *walk, const char *prefix, const struct brv_node *node)
{
    brv_walk_fault(walk, node->key_at, "%s.%s is not a key: %s begins at the left margin, outside %s", prefix,
                   node->key, node->key, prefix);
    mark_failed_section(walk, node->key);
}

/* Returns the key that was meant, or NULL. */
static const char *unknown_key(struct brv_walk *walk, const char *section, bool change, const char *prefix,
                               const struct brv_node *node)
{
    char shown[BRV_SHOWN_SIZE], keys[256];
    const struct brv_slip *slip = brv_slip_find(section, node->key);
    const char *home = home_of(node->key);
    const bool elsewhere = home || brv_walk_is_section(node->key);
    const char *meant = slip ? slip->meant : elsewhere ? NULL : meant_in(section, change, node->key);

    brv_fault_shown(shown, node->key);
    write_keys_of(keys, section, change);
    if (!slip && brv_walk_is_section(node->key))
        section_too_deep(walk, prefix, node);
    else if (slip && slip->text)
        brv_walk_fault(walk, node->key_at, "%s.%s is not a key: %s", prefix, shown, slip->text);
    else if (meant)
        brv_walk_fault(walk, node->key_at, "%s.%s is not a key; did you mean %s.%s?", prefix, shown, prefix, meant);
    else if (home)
        brv_walk_fault(walk, node->key_at, "%s.%s is not a key here; %s belongs in %s", prefix, shown, shown,
                       !strcmp(home, "skin") ? "a layer of the skin" : home);
    else
        brv_walk_fault(walk, node->key_at, "%s.%s is not a key; here may stand %s", prefix, shown, keys);
    return meant;
}

void brv_walk_keys(struct brv_walk *walk, struct brv_target target, const struct brv_node *map)
{
    for (size_t i = 0; i < map->n; i++) {
        const struct brv_node *node = &map->child[i];
        const int row = brv_walk_row(brv_scope_name(target.scope), node->key);
        if (target.scope == BRV_SCOPE_LAYER && !target.change && !strcmp(node->key, "layer")) continue; /* its name */
        if (row >= 0) {
            take_key(walk, target, (size_t)row, node);
            continue;
        }
        char prefix[BRV_WALK_PATH_SIZE];
        const char *section = brv_scope_name(target.scope);
        const char *meant = unknown_key(walk, section, target.change, prefix_of(prefix, walk, target), node);
        if (meant) written_at(walk, target, (size_t)brv_walk_row(section, meant))->failed = true;
    }
}

/* Reads a value as if for a layer, and looks whether it lies in its range. */
static void look_at_value(struct brv_walk *walk, const char *prefix, size_t row, const struct brv_node *node)
{
    struct brv_layer_ask nothing = {0};
    char path[BRV_WALK_PATH_SIZE], shown[BRV_SHOWN_SIZE], allowed[BRV_ALLOWED_SIZE];
    const struct brv_key *key = &brv_keys[row];
    const struct brv_value value = {walk, key, path, (char *)&nothing + key->offset};
    double number;
    snprintf(path, sizeof path, "%s.%s", prefix, key->name);
    if (node->refused || !brv_value_read(&value, node)) return;
    memcpy(&number, value.field, sizeof number);
    if (!brv_key_allows(key, number))
        brv_walk_fault(walk, brv_node_place(node), "%s = %s, %s", path, brv_fault_shown(shown, node->text),
                       brv_allowed_said(allowed, key));
}

void brv_walk_keys_apart(struct brv_walk *walk, const char *prefix, const struct brv_node *map)
{
    for (size_t i = 0; i < map->n; i++) {
        const struct brv_node *node = &map->child[i];
        const int row = brv_walk_row("skin", node->key);
        if (row < 0)
            unknown_key(walk, "skin", true, prefix, node);
        else if (may_stand((size_t)row, "skin", true)) /* of a kind, the layer's own name is told with it */
            look_at_value(walk, prefix, (size_t)row, node);
    }
}

/* ---- the top of the file ---- */

/* NULL, or what stands in the text at byte `*at` and fits into no line. */
static const char *control_in(const char *text, size_t *at)
{
    size_t length;
    for (*at = 0; text[*at]; *at += length) {
        const uint32_t letter = brv_letters_at(text + *at, &length);
        if (!brv_letters_is_control(letter)) continue;
        if (letter == '\t') return "a tab";
        return letter == '\n' || letter == '\r' ? "the end of a line" : "a control character";
    }
    return NULL;
}

/* What the title holds up to there. */
static void refuse_title(struct brv_walk *walk, const struct brv_node *node, const char *control, size_t at)
{
    char shown[BRV_SHOWN_SIZE], begin[BRV_SHOWN_SIZE];
    snprintf(begin, sizeof begin, "%.*s", (int)brv_letters_bytes(node->text, at < sizeof begin ? at : sizeof begin - 1),
             node->text);
    brv_walk_fault(walk, node->at, "title = %s: %s follows; one line of text is wanted", brv_fault_shown(shown, begin),
                   control);
}

static void take_title(struct brv_walk *walk, const struct brv_node *node)
{
    char found[BRV_WALK_FOUND_SIZE];
    size_t at = 0;
    const char *control = node->kind == BRV_NODE_TEXT ? control_in(node->text, &at) : NULL;
    if (node->kind != BRV_NODE_TEXT)
        brv_walk_fault(walk, node->at, "title%s; one line of text is wanted, in quotes when it holds a colon",
                       brv_walk_found(found, node));
    else if (control)
        refuse_title(walk, node, control, at);
    else if (strlen(node->text) >= BRV_TITLE_SIZE)
        brv_walk_fault(walk, node->at, "title: %zu bytes are too long, at most %d fit", strlen(node->text),
                       (int)BRV_TITLE_SIZE - 1);
    else
        snprintf(walk->request->title, BRV_TITLE_SIZE, "%s", node->text);
}

static void take_section(struct brv_walk *walk, enum brv_scope scope)
{
    const struct brv_section *section = &walk->section[scope];
    const struct brv_node *node = section->node;
    const char *name = brv_scope_name(scope);
    if (!node || section->failed) return;
    if (node->kind == BRV_NODE_MAP) {
        brv_walk_keys(walk, (struct brv_target){scope, BRV_NEIGHBOUR, 0, false}, node);
        return;
    }
    char keys[256], found[BRV_WALK_FOUND_SIZE];
    write_keys_of(keys, name, false);
    walk->section[scope].failed = true;
    brv_walk_fault(walk, brv_node_place(node),
                   "%s%s; keys are wanted below it, indented, one a line, each with a colon and a blank: %s", name,
                   brv_walk_found(found, node), keys);
}

/* A key of a section that stands at the top, "wavelength" or "light.wavelength": the section's name, or NULL. */
static const char *misplaced(const char *word, const char **key)
{
    const char *dot = strchr(word, '.');
    *key = dot ? dot + 1 : word;
    for (size_t i = 0; i < brv_n_keys; i++) {
        const char *home = brv_scope_name(brv_keys[i].scope);
        const bool here = !dot || (strlen(home) == (size_t)(dot - word) && !strncmp(home, word, strlen(home)));
        if (here && !strcmp(brv_keys[i].name, *key)) return home;
    }
    return NULL;
}

/* "light {spot: 4 mm}": a section whose colon is missing. */
static bool colon_missing(struct brv_walk *walk, const struct brv_node *node)
{
    char first[16] = "";
    const size_t length = strcspn(node->key, " {[");
    if (!node->key[length] || length >= sizeof first) return false;
    memcpy(first, node->key, length);
    if (!brv_walk_is_section(first)) return false;
    brv_walk_fault(walk, node->key_at, "a colon and a blank are missing after %s", first);
    mark_failed_section(walk, first);
    return true;
}

/* Where a layer's key stands that was written at the margin: "basal.melanosomes: 14 %" and, by --set, the same as a map. Its
 * own name may be any word, so the key has to tell. False: it is something else.                                      */
static bool layer_at_top(struct brv_walk *walk, const struct brv_node *node)
{
    char shown[BRV_SHOWN_SIZE], path[BRV_SHOWN_SIZE], whole[2 * BRV_SHOWN_SIZE];
    const bool map = node->kind == BRV_NODE_MAP && node->n > 0;
    const char *last = strrchr(node->key, '.'), *key = map ? node->child[0].key : last ? last + 1 : "";
    if (brv_walk_row("skin", key) < 0 || (map && last)) return false;
    snprintf(whole, sizeof whole, "%.70s%s%.70s", node->key, map ? "." : "", map ? key : "");
    brv_fault_shown(path, whole);
    brv_walk_fault(walk, node->key_at,
                   "%s is not a section; a layer stands in lesion, for the spot, or in skin, for what lies around it: "
                   "lesion.%s, skin.%s",
                   brv_fault_shown(shown, node->key), path, path);
    return true;
}

/* A key of a section at the top, under its own name or another: where to write what, and why where that has to be said. */
struct home {
    const char *section, *key, *why;
};

static struct home home_below(const struct brv_node *node)
{
    const char *key;
    const char *section = misplaced(node->key, &key);
    if (section) return (struct home){section, key, NULL};
    const struct brv_slip *slip = node->kind == BRV_NODE_MAP ? NULL : brv_slip_below(node->key);
    return slip ? (struct home){slip->section, slip->meant, slip->text} : (struct home){NULL, NULL, NULL};
}

static void send_home(struct brv_walk *walk, const struct brv_node *node, const struct home *home)
{
    char shown[BRV_SHOWN_SIZE];
    const bool skin = !strcmp(home->section, "skin");
    const struct brv_target target = {BRV_SCOPE_LIGHT, BRV_NEIGHBOUR, 0, false};
    if (!skin) written_at(walk, target, (size_t)brv_walk_row(home->section, home->key))->failed = true;
    brv_walk_fault(walk, node->key_at, "%s is not a section; write %s in %s, indented below it%s%s",
                   brv_fault_shown(shown, node->key), home->key, skin ? "a layer of the skin" : home->section,
                   home->why ? ": " : "", home->why ? home->why : "");
}

static void unknown_at_top(struct brv_walk *walk, const struct brv_node *node)
{
    char shown[BRV_SHOWN_SIZE];
    const bool map = node->kind == BRV_NODE_MAP; /* it holds keys, so it is hardly one */
    const struct brv_slip *slip = brv_slip_find("", node->key);
    const struct home home = home_below(node);
    struct brv_nearest nearest = {.word = node->key};
    for (size_t i = 0; top_keys[i]; i++) brv_nearest_offer(&nearest, top_keys[i]);
    const char *meant = slip ? slip->meant : nearest.best;
    if (!slip && home.section && !(map && meant)) {
        send_home(walk, node, &home);
        return;
    }
    if (!slip && !meant && layer_at_top(walk, node)) return;
    brv_fault_shown(shown, node->key);
    if (slip && slip->text) {
        brv_walk_fault(walk, node->key_at, "%s is not a section: %s", shown, slip->text);
    } else if (meant) {
        brv_walk_fault(walk, node->key_at, "%s is not a section; did you mean %s?", shown, meant);
    } else {
        brv_walk_fault(walk, node->key_at,
                       "%s is not a section; a scenario has title, light, skin, lesion, grain, surface, below, watch, "
                       "vessel, ladder, cover, room, visits, film, spread, choices",
                       shown);
    }
    if (meant) mark_failed_section(walk, meant);
}

static void find_sections(struct brv_walk *walk, const struct brv_node *root)
{
    for (size_t i = 0; i < BRV_N_SCOPE; i++) {
        const struct brv_node *node = brv_node_child(root, brv_scope_name((enum brv_scope)i));
        walk->section[i] = (struct brv_section){node, node && node->refused};
    }
    const struct brv_node *lesion = brv_node_child(root, "lesion");
    walk->lesion = (struct brv_section){lesion, lesion && lesion->refused};
}

/* The skin comes first: the others name its layers. The lesion copies skin and grain. The film comes last, on both. */
void brv_walk_document(struct brv_walk *walk, struct brv_request *request, const struct brv_document *document,
                       struct brv_faults *faults)
{
    static const enum brv_scope plain[] = {BRV_SCOPE_LIGHT, BRV_SCOPE_GRAIN,  BRV_SCOPE_SURFACE, BRV_SCOPE_BELOW,
                                           BRV_SCOPE_WATCH, BRV_SCOPE_VESSEL, BRV_SCOPE_LADDER,  BRV_SCOPE_COVER,
                                           BRV_SCOPE_ROOM,  BRV_SCOPE_VISITS};
    const struct brv_node *root = &document->root;
    assert(brv_n_keys <= BRV_WALK_KEYS && root->kind == BRV_NODE_MAP);
    memset(walk, 0, sizeof *walk);
    walk->request = request;
    walk->document = document;
    walk->faults = faults;
    request->scenario.skin[BRV_NEIGHBOUR].grain.layer = request->scenario.skin[BRV_LESION].grain.layer = -1;

    find_sections(walk, root);
    for (size_t i = 0; i < root->n; i++)
        if (!brv_walk_is_section(root->child[i].key) && !colon_missing(walk, &root->child[i]))
            unknown_at_top(walk, &root->child[i]);

    const struct brv_node *title = brv_node_child(root, "title");
    const struct brv_section *skin = &walk->section[BRV_SCOPE_LAYER];
    if (title && !title->refused) take_title(walk, title);
    if (skin->node && !skin->failed) brv_layers_skin(walk, skin->node);
    for (size_t i = 0; i < sizeof plain / sizeof *plain; i++) take_section(walk, plain[i]);
    if (request->scenario.skin[BRV_NEIGHBOUR].colour.given) brv_colour_section(walk);
    if (walk->lesion.node && !walk->lesion.failed) brv_layers_lesion(walk, walk->lesion.node);
    brv_film_section(walk);
}
