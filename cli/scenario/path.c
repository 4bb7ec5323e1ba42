#include "scenario/path.h"

#include "scenario/bytes.h"
#include "scenario/nearest.h"
#include "scenario/rival.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static void make_map(struct brv_node *node)
{
    free(node->text);
    node->text = NULL;
    node->kind = BRV_NODE_MAP;
}

/* The child with this key, made as a map when there is none. */
static struct brv_node *map_below(struct brv_node *node, const char *key, struct brv_place at,
                                  struct brv_faults *faults)
{
    struct brv_node *found = brv_node_child(node, key);
    if (found) return found;
    found = brv_node_add(node, key, at);
    if (found)
        make_map(found);
    else
        faults->out_of_memory = 1;
    return found;
}

/* ---- dotted keys in a map ---- */

static bool is_before(struct brv_place a, struct brv_place b)
{
    return a.line < b.line || (a.line == b.line && a.column < b.column);
}

static void refuse_twice(const char *head, const char *rest, struct brv_place one, struct brv_place other,
                         struct brv_faults *faults)
{
    char shown[BRV_SHOWN_SIZE], shown_head[BRV_SHOWN_SIZE];
    const struct brv_place first = is_before(one, other) ? one : other, second = is_before(one, other) ? other : one;
    brv_faults_add(faults, second.file, second.line, second.column, "%s.%s stands here a second time, first in line %d",
                   brv_fault_shown(shown_head, head), brv_fault_shown(shown, rest), first.line);
}

/* Moves what `from` holds; its key stays behind. */
static void move_value(struct brv_node *to, struct brv_node *from)
{
    free(to->text);
    to->kind = from->kind;
    to->refused = from->refused;
    to->at = from->at;
    to->text = from->text;
    to->n = from->n;
    to->child = from->child;
    from->text = NULL;
    from->child = NULL;
    from->n = 0;
}

/* Moves child `i`, whose key is `head`.`rest`, below its head. */
static void nest_one(struct brv_node *map, size_t i, const char *head, const char *rest, struct brv_faults *faults)
{
    const struct brv_place at = map->child[i].key_at;
    struct brv_node *below = map_below(map, head, at, faults); /* may move map->child */
    if (!below) return;
    if (below->kind != BRV_NODE_MAP) return; /* a fault of its own, which the reader lists */
    const struct brv_node *there = brv_node_child(below, rest);
    if (there) {
        refuse_twice(head, rest, there->key_at, at, faults);
    } else {
        struct brv_node *moved = brv_node_add(below, rest, at);
        if (moved)
            move_value(moved, &map->child[i]);
        else
            faults->out_of_memory = 1;
    }
}

void brv_path_nest(struct brv_node *map, struct brv_faults *faults)
{
    for (size_t i = 0; i < map->n && !faults->out_of_memory;) {
        char *dot = strchr(map->child[i].key, '.');
        if (!dot || dot == map->child[i].key || !dot[1]) {
            i++;
            continue;
        }
        *dot = '\0';
        char *key = map->child[i].key; /* out of the map while its first half is looked up */
        map->child[i].key = NULL;
        nest_one(map, i, key, dot + 1, faults);
        map->child[i].key = key;
        brv_node_remove(map, &map->child[i]);
    }
}

/* ---- --set, and choices ---- */

struct setting {
    struct brv_document *document;
    struct brv_faults *faults;
    const char *argument;         /* NULL in a choice */
    size_t value_at;              /* where VALUE begins in it */
    const struct brv_node *value; /* of a choice */
    char *path;                   /* owned; PATH */
    struct brv_place at;
};

static void refuse(const struct setting *setting, const char *text, const char *about)
{
    char shown[BRV_SHOWN_SIZE];
    brv_faults_add(setting->faults, setting->at.file, setting->at.line, setting->at.column, text,
                   brv_fault_shown(shown, about));
}

static const char *layer_called(const struct brv_node *layer)
{
    const struct brv_node *name = layer->kind == BRV_NODE_MAP ? brv_node_child(layer, "layer") : NULL;
    return name && name->text ? name->text : "";
}

/* The layer of a list with this name. */
static struct brv_node *layer_below(const struct setting *setting, struct brv_node *list, const char *name)
{
    struct brv_nearest nearest = {.word = name};
    for (size_t i = 0; i < list->n; i++) {
        if (!strcmp(layer_called(&list->child[i]), name)) return &list->child[i];
        brv_nearest_offer(&nearest, layer_called(&list->child[i]));
    }
    char shown[BRV_SHOWN_SIZE], shown_best[BRV_SHOWN_SIZE];
    brv_faults_add(setting->faults, setting->at.file, setting->at.line, setting->at.column,
                   nearest.best ? "the skin has no layer called %s; did you mean %s?"
                                : "the skin has no layer called %s%s",
                   brv_fault_shown(shown, name), nearest.best ? brv_fault_shown(shown_best, nearest.best) : "");
    return NULL;
}

/* One step down the path; NULL when the way ends there, and the fault is then listed. */
static struct brv_node *step(const struct setting *setting, struct brv_node *node, const char *segment)
{
    if (node->refused) return NULL; /* its fault is listed already */
    if (node->kind == BRV_NODE_LIST) return layer_below(setting, node, segment);

    const bool ready_skin = node->key && !strcmp(node->key, "skin") && node->text && *node->text;
    if (node->kind == BRV_NODE_TEXT && !*node->text) make_map(node);
    if (node->kind == BRV_NODE_MAP || ready_skin) return map_below(node, segment, setting->at, setting->faults);

    refuse(setting, "%s is a value in the file and has no keys below it", node->key ? node->key : "this");
    return NULL;
}

/* Which group of rivals the last key of a path belongs to. */
static const char *section_of(const char *path)
{
    if (!strncmp(path, "lesion.grain.", 13)) return "grain";
    if (!strncmp(path, "lesion.", 7) || !strncmp(path, "skin.", 5)) return "skin";
    static const char *const plain[] = {"light", "grain", "surface"};
    for (size_t i = 0; i < sizeof plain / sizeof *plain; i++)
        if (!strncmp(path, plain[i], strlen(plain[i])) && path[strlen(plain[i])] == '.') return plain[i];
    return "";
}

/* A --set changes the file, not another --set; a choice changes both, but not itself. */
static bool may_give_way(const struct setting *setting, const struct brv_node *child)
{
    return setting->value ? child->at.file != setting->at.file : child->at.file == setting->document->name[0];
}

static const char *text_of(const struct setting *setting)
{
    if (setting->value) return setting->value->text ? setting->value->text : "";
    return setting->argument + setting->value_at;
}

/* What was said another way, or what the new value makes meaningless, gives way. */
static void remove_rivals(const struct setting *setting, struct brv_node *map, const char *section, const char *key)
{
    const char *value = text_of(setting);
    for (size_t i = map->n; i-- > 0;) {
        struct brv_node *child = &map->child[i];
        if (!child->key || !may_give_way(setting, child)) continue;
        if (brv_rival(section, key, child->key) || brv_moot(section, key, value, child->key))
            brv_node_remove(map, child);
    }
}

static void point_to(struct brv_node *node, const char *file)
{
    node->at.file = node->key_at.file = file;
    for (size_t i = 0; i < node->n; i++) point_to(&node->child[i], file);
}

/* What stands in brackets or braces is read as in a file; blanks in place of the path keep the columns right. */
static void read_nested(const struct setting *setting, struct brv_node *node)
{
    char *text = strdup(setting->argument);
    if (!text) {
        setting->faults->out_of_memory = 1;
        node->refused = true;
        return;
    }
    memset(text, ' ', setting->value_at);
    struct brv_document list;
    brv_document_parse(&list, setting->at.file, text, strlen(text), setting->faults);
    if (list.whole)
        move_value(node, &list.root);
    else
        node->refused = true;
    point_to(node, setting->at.file);
    brv_document_free(&list);
    free(text);
}

/* Anything else is the text itself, so that a title may hold colons and signs. */
static void read_text(const struct setting *setting, struct brv_node *node)
{
    const char *value = setting->argument + setting->value_at;
    size_t length = strlen(value);
    while (length > 0 && value[length - 1] == ' ') length--;
    char *text = strndup(value, length);
    if (!text) {
        setting->faults->out_of_memory = 1;
        node->refused = true;
        return;
    }
    free(node->text);
    node->text = text;
}

static bool is_nested(const struct setting *setting)
{
    const char first = setting->argument[setting->value_at];
    return first == '[' || (first == '{' && strcmp(setting->path, "title"));
}

/* Where `basal.melanosomes: 14 %` may stand. */
static bool takes_dots(const char *key)
{
    return !strcmp(key, "skin") || !strcmp(key, "lesion");
}

/* Its key stays behind; its places become those of the choice. */
static void copy_value(const struct setting *setting, struct brv_node *node)
{
    struct brv_node copy;
    const bool whole = brv_node_copy(&copy, setting->value);
    if (!whole) setting->faults->out_of_memory = 1;
    free(copy.key);
    copy.key = NULL;
    brv_node_clear(node);
    move_value(node, &copy);
    node->refused |= !whole; /* nobody is to look into it */
    point_to(node, setting->at.file);
}

static void put_value(const struct setting *setting, struct brv_node *map, const char *key)
{
    struct brv_node *node = brv_node_child(map, key);
    if (node && setting->value && node->key_at.file == setting->at.file)
        refuse(setting, "%s stands here a second time in one choice", key);
    if (!node) node = brv_node_add(map, key, setting->at);
    if (!node) {
        setting->faults->out_of_memory = 1;
        return;
    }
    brv_node_clear(node);
    node->kind = BRV_NODE_TEXT;
    node->refused = false;
    node->key_at = setting->at;
    node->at = setting->at;
    if (setting->value) {
        copy_value(setting, node);
    } else {
        node->at.column = (int)setting->value_at + 1;
        if (is_nested(setting))
            read_nested(setting, node);
        else
            read_text(setting, node);
    }
    if (map == &setting->document->root && node->kind == BRV_NODE_MAP && takes_dots(key))
        brv_path_nest(node, setting->faults);
}

/* Words that take keys all the same: a ready skin a site, and `film: none` turns into what is set. */
static bool takes_keys(struct brv_node *node, const char *segment)
{
    if (node->kind != BRV_NODE_TEXT || !node->key || !node->text || !*node->text) return false;
    if (!strcmp(node->key, "skin")) return !strcmp(segment, "site");
    if (strcmp(node->key, "film") || strcmp(node->text, "none")) return false;
    make_map(node);
    return true;
}

static void follow(const struct setting *setting)
{
    const char *section = section_of(setting->path);
    struct brv_node *node = &setting->document->root;
    char *segment = setting->path;
    for (char *dot; (dot = strchr(segment, '.')); segment = dot + 1) {
        *dot = '\0';
        node = step(setting, node, segment);
        if (!node) return;
    }

    if (node->refused) return;
    if (takes_keys(node, segment)) {
        put_value(setting, node, segment);
    } else if (node->kind == BRV_NODE_LIST && !strcmp(segment, "site")) {
        refuse(setting, "%s goes with a ready skin, not with a list of layers", "skin.site");
    } else if (node->kind == BRV_NODE_LIST) {
        refuse(setting, "one key of the layer is wanted, as in skin.%s.thickness", segment);
    } else if (node->kind == BRV_NODE_TEXT && *node->text) {
        const bool ready_skin = node->key && !strcmp(node->key, "skin");
        refuse(setting,
               ready_skin ? "a layer and its key are wanted, as in skin.basal.melanosomes%s"
                          : "%s is a value in the file and has no keys below it",
               ready_skin || !node->key ? "" : node->key);
    } else {
        if (node->kind == BRV_NODE_TEXT) make_map(node);
        remove_rivals(setting, node, section, segment);
        put_value(setting, node, segment);
    }
}

/* The longest are of three parts, as lesion.basal.melanosomes. */
static bool is_path(const char *path)
{
    const size_t length = strlen(path);
    size_t n_dot = 0;
    for (size_t i = 0; i < length; i++) n_dot += path[i] == '.';
    return length > 0 && n_dot <= 2 && path[0] != '.' && path[length - 1] != '.' && !strstr(path, "..");
}

/* "--set PATH" as a name for messages. */
static const char *setting_name(struct brv_document *document, const char *path)
{
    char name[BRV_SHOWN_SIZE + 8], shown[BRV_SHOWN_SIZE];
    snprintf(name, sizeof name, "--set %s", brv_fault_shown(shown, path));
    return brv_document_name(document, name);
}

void brv_path_set(struct brv_document *document, const char *argument, struct brv_faults *faults)
{
    const size_t length = strcspn(argument, "=");
    const size_t equals = argument[length] == '=';
    const size_t value_at = length + equals + strspn(argument + length + equals, " ");
    struct setting setting = {document, faults, argument, value_at, NULL, strndup(argument, length), {NULL, 1, 1}};
    if (setting.path) setting.at.file = setting_name(document, setting.path);

    if (!setting.path || !setting.at.file)
        faults->out_of_memory = 1;
    else if (brv_bytes_are_text(setting.at.file, argument, strlen(argument), faults)) {
        if (strpbrk(argument, "\t\r\n"))
            refuse(&setting, "a tab or the end of a line stands in it; one line of text is wanted%s", "");
        else if (equals && is_path(setting.path))
            follow(&setting);
        else
            refuse(&setting, "a path, = and a value are wanted, such as light.spot=\"6 mm\"%s", "");
    }
    free(setting.path);
}

void brv_path_put(struct brv_document *document, const char *path, const struct brv_node *value, const char *own,
                  struct brv_faults *faults)
{
    struct setting setting = {document, faults, NULL, 0, value, strdup(path), value->key_at};
    setting.at.file = own;
    if (!setting.path)
        faults->out_of_memory = 1;
    else if (is_path(setting.path))
        follow(&setting);
    else
        refuse(&setting, "%s is not a key; a section and a key are wanted, such as light.spot", path);
    free(setting.path);
}

bool brv_path_is_of_walk(const char *path)
{
    static const char *const key[] = {"light.photons", "light.error", "light.seed"};
    const size_t length = strcspn(path, "=");
    for (size_t i = 0; i < sizeof key / sizeof *key; i++)
        if (strlen(key[i]) == length && !strncmp(path, key[i], length)) return true;
    return false;
}
