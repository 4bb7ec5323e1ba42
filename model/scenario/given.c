#include "scenario/given.h"

#include "scenario/keys.h"

#include <assert.h>
#include <math.h>
#include <stdbool.h>
#include <string.h>

enum { NO_KIND = BRV_N_KIND }; /* the key stands in no layer */

/* Where a path leads. */
struct target {
    int row;           /* of the key, -1: there is none */
    size_t kind;       /* of the layer */
    size_t first_site; /* the lesion comes first; what stands once has one site */
    size_t last_site;
};

static bool take(const char **path, const char *word)
{
    const size_t n = strlen(word);
    if (strncmp(*path, word, n) != 0 || (*path)[n] != '.') return false;
    *path += n + 1;
    return true;
}

static int row_in_layer(struct target *target, const char *path)
{
    for (int kind = 0; kind < BRV_N_KIND; kind++) {
        if (!take(&path, brv_key_word(BRV_SCOPE_LAYER, "kind", kind))) continue;
        target->kind = (size_t)kind;
        return strcmp(path, "kind") ? brv_key_find(BRV_SCOPE_LAYER, path) : -1; /* the path would no longer lead here */
    }
    return -1;
}

static int row_in_section(const char *path)
{
    for (size_t i = 0; i < brv_n_keys; i++) {
        const char *name = path;
        const enum brv_scope scope = brv_keys[i].scope;
        if (scope == BRV_SCOPE_LAYER || scope == BRV_SCOPE_COLOUR) continue; /* a colour is made pigment of elsewhere */
        if (take(&name, brv_scope_name(scope)) && !strcmp(name, brv_keys[i].name)) return (int)i;
    }
    return -1;
}

static struct target target_of(const char *path)
{
    struct target target = {-1, NO_KIND, BRV_LESION, BRV_NEIGHBOUR};
    const bool lesion = take(&path, "lesion");
    const bool grain = !strncmp(path, "grain.", strlen("grain."));
    if (!grain && (lesion || take(&path, "skin")))
        target.row = row_in_layer(&target, path);
    else
        target.row = row_in_section(path);
    const bool once = !grain && target.kind == NO_KIND;
    if (lesion || once) target.last_site = BRV_LESION;
    return target;
}

static bool within(const struct brv_key *key, double value)
{
    if (key->kind == BRV_EXTENT && isinf(value) && value > 0.0) return true;
    const bool word = key->kind == BRV_WORD || key->kind == BRV_LAYER_REF;
    if (word && value != floor(value)) return false;
    return (key->above ? value > key->least : value >= key->least) && value <= key->most;
}

/* A list holds its count in front of its values. */
static bool put_in_list(char *field, double value)
{
    size_t n;
    memcpy(&n, field - sizeof n, sizeof n);
    if (n >= BRV_MOST_DEPTHS) return false;
    memcpy(field + n * sizeof value, &value, sizeof value);
    n++;
    memcpy(field - sizeof n, &n, sizeof n);
    return true;
}

static bool put(char *scope_struct, size_t row, double value)
{
    const struct brv_key *key = &brv_keys[row];
    char *field = scope_struct + key->offset;
    unsigned given;
    if (key->kind == BRV_WORD || key->kind == BRV_LAYER_REF) {
        const int word = (int)value;
        memcpy(field, &word, sizeof word);
    } else if (key->kind == BRV_LIST) {
        if (!put_in_list(field, value)) return false;
    } else {
        memcpy(field, &value, sizeof value);
    }
    memcpy(&given, scope_struct, sizeof given); /* first member of every scope's struct */
    given |= brv_key_bit(row);
    memcpy(scope_struct, &given, sizeof given);
    return true;
}

static brv_status refuse(struct brv_error *error, brv_status status, int row, double value, const char *place)
{
    brv_error_raise_number(error, status, place, value, row < 0 ? (double)NAN : brv_keys[row].most);
    if (!error || row < 0) return status;
    error->scope = (int)brv_keys[row].scope;
    error->key = row;
    error->least = brv_keys[row].least;
    return status;
}

void brv_skin_stack(struct brv_scenario *ask, const enum brv_layer_kind kind[], size_t n)
{
    assert(n <= BRV_MOST_LAYERS);
    const unsigned given = brv_key_bit((size_t)brv_key_find(BRV_SCOPE_LAYER, "kind"));
    for (size_t site = 0; site < BRV_N_SITE; site++) {
        struct brv_skin *skin = &ask->skin[site];
        skin->n_layer = n;
        skin->ready = skin->body = 0;
        for (size_t i = 0; i < n; i++) skin->layer[i] = (struct brv_layer_ask){.given = given, .kind = (int)kind[i]};
    }
    ask->lesion_given = 0;
}

brv_status brv_scenario_give(struct brv_scenario *ask, const char *path, double value, struct brv_error *error)
{
    size_t layer[BRV_N_SITE] = {0};
    const struct target target = target_of(path);
    if (target.row < 0) return refuse(error, BRV_MISSING, -1, value, "a key with this path");
    for (size_t site = target.first_site; site <= target.last_site && target.kind != NO_KIND; site++) {
        layer[site] = brv_skin_layer(&ask->skin[site], (enum brv_layer_kind)target.kind);
        if (layer[site] == ask->skin[site].n_layer)
            return refuse(error, BRV_MISSING, target.row, value, "a layer of this kind");
    }
    const struct brv_key *key = &brv_keys[target.row];
    if (!within(key, value)) return refuse(error, BRV_RANGE, target.row, value, key->name);

    for (size_t site = target.first_site; site <= target.last_site; site++)
        if (!put(brv_key_scope(ask, key->scope, site, layer[site]), (size_t)target.row, value))
            return refuse(error, BRV_RANGE, target.row, value, "a list that is full");
    if (!strncmp(path, "lesion.", strlen("lesion."))) ask->lesion_given = 1;
    return BRV_OK;
}
