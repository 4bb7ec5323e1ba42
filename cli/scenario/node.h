/* The tree a scenario is read into: text, lists and maps, each with the place where it stands. Test:
 * tests/unit/test_document.c.                                                                      */
#ifndef BRV_CLI_SCENARIO_NODE_H
#define BRV_CLI_SCENARIO_NODE_H

#include <stdbool.h>
#include <stddef.h>

struct brv_place {
    const char *file; /* borrowed from the document */
    int line, column; /* from 1; 0: the file as a whole */
};

enum brv_node_kind { BRV_NODE_TEXT, BRV_NODE_LIST, BRV_NODE_MAP };

struct brv_node {
    enum brv_node_kind kind;
    bool refused;            /* it had a fault already: say no more about it */
    char *key;               /* owned; NULL in a list */
    char *text;              /* owned; NULL in lists and maps */
    struct brv_place at;     /* where the value begins */
    struct brv_place key_at; /* where its key begins; equal to `at` in a list */
    size_t n;
    struct brv_node *child; /* [n] owned */
};

/* The child with this key, or NULL. */
struct brv_node *brv_node_child(const struct brv_node *node, const char *key);

/* A new child, empty text, at this place; `key` NULL in a list. NULL when memory ran out. */
struct brv_node *brv_node_add(struct brv_node *node, const char *key, struct brv_place at);

/* Takes a child out, with all below it. */
void brv_node_remove(struct brv_node *node, struct brv_node *child);

/* Frees all below a node; its key stays. */
void brv_node_clear(struct brv_node *node);

/* Fills `copy` with all that `node` holds, key included; places stay those of `node`. False when memory ran out: `copy` is
 * then to be cleared all the same.                                                                                   */
bool brv_node_copy(struct brv_node *copy, const struct brv_node *node);

/* Where a fault of this node is shown: its value, or its key when there is no value. */
struct brv_place brv_node_place(const struct brv_node *node);

#endif
