#include "scenario/node.h"

#include <stdlib.h>
#include <string.h>

struct brv_node *brv_node_child(const struct brv_node *node, const char *key)
{
    for (size_t i = 0; i < node->n; i++)
        if (node->child[i].key && !strcmp(node->child[i].key, key)) return &node->child[i];
    return NULL;
}

/* Room for one more child; it doubles whenever the count is a power of two. */
static bool node_grow(struct brv_node *node)
{
    const size_t n = node->n;
    if (n > 0 && (n & (n - 1))) return true;
    struct brv_node *grown = realloc(node->child, (n ? 2 * n : 1) * sizeof *grown);
    if (!grown) return false;
    node->child = grown;
    return true;
}

struct brv_node *brv_node_add(struct brv_node *node, const char *key, struct brv_place at)
{
    struct brv_node made = {.kind = BRV_NODE_TEXT, .at = at, .key_at = at, .text = strdup("")};
    if (key) made.key = strdup(key);
    if (!made.text || (key && !made.key) || !node_grow(node)) {
        free(made.text);
        free(made.key);
        return NULL;
    }
    node->child[node->n] = made;
    return &node->child[node->n++];
}

void brv_node_clear(struct brv_node *node)
{
    for (size_t i = 0; i < node->n; i++) {
        brv_node_clear(&node->child[i]);
        free(node->child[i].key);
    }
    free(node->child);
    free(node->text);
    node->child = NULL;
    node->text = NULL;
    node->n = 0;
}

void brv_node_remove(struct brv_node *node, struct brv_node *child)
{
    brv_node_clear(child);
    free(child->key);
    const size_t at = (size_t)(child - node->child);
    memmove(child, child + 1, (node->n - at - 1) * sizeof *child);
    node->n--;
}

bool brv_node_copy(struct brv_node *copy, const struct brv_node *node)
{
    *copy = *node;
    copy->child = NULL;
    copy->n = 0;
    copy->key = node->key ? strdup(node->key) : NULL;
    copy->text = node->text ? strdup(node->text) : NULL;
    if ((node->key && !copy->key) || (node->text && !copy->text)) return false;
    if (!node->n) return true;
    size_t room = 1;
    while (room < node->n) room *= 2; /* as node_grow leaves it */
    copy->child = calloc(room, sizeof *copy->child);
    if (!copy->child) return false;
    for (size_t i = 0; i < node->n; i++) {
        copy->n = i + 1; /* what is half copied is to be cleared too */
        if (!brv_node_copy(&copy->child[i], &node->child[i])) return false;
    }
    return true;
}

struct brv_place brv_node_place(const struct brv_node *node)
{
    const bool empty = node->kind == BRV_NODE_TEXT && node->text && !*node->text;
    return empty && node->key ? node->key_at : node->at;
}
