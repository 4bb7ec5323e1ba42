/* A scenario file as a small tree: text, lists and maps, each with the place where it stands.
 *
 * Only the plain part of YAML is taken. Refused as they come: a key given twice, anchors, aliases, tags, a second
 * document, nesting deeper than 8, more than 1 MiB or 4096 values, bytes that are not UTF-8 text.            */
#ifndef BRV_CLI_SCENARIO_DOCUMENT_H
#define BRV_CLI_SCENARIO_DOCUMENT_H

#include "scenario/fault.h"

#include <stdbool.h>
#include <stddef.h>

enum { BRV_DOCUMENT_BYTES = 1 << 20, BRV_DOCUMENT_VALUES = 4096, BRV_DOCUMENT_DEPTH = 8 };

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

struct brv_document {
    struct brv_node root;
    bool whole; /* read to its end: what is not in the tree is not in the file */
    size_t n_name;
    char **name; /* [n_name] the file, then one per --set; owned */
};

/* Reads a file (`-`: standard input). Returns 0, or 4 when the file itself is in the way (missing, a directory,
 * unreadable), 3 when what stands in it is, 6 when memory ran out; the document is to be freed in every case. */
int brv_document_read(struct brv_document *document, const char *path, struct brv_faults *faults);

/* The first half of it: the bytes of a file, for who reads them more than once (standard input is there only once). On
 * failure `*text` is NULL, otherwise the caller's to free. A file that is too large shows when it is parsed. A scenarios/NAME
 * that is not there is the ready one of this name, see report/place.h.                                            */
int brv_document_load(char **text, size_t *size, const char *path, struct brv_faults *faults);

/* What messages call a file: its path, or "standard input". */
const char *brv_document_called(const char *path);

/* The second half, from memory; `name` is what messages call it. */
int brv_document_parse(struct brv_document *document, const char *name, const char *text, size_t size,
                       struct brv_faults *faults);

/* Is it UTF-8 without control characters? A fault names the first byte that is not. */
bool brv_document_is_text(const char *name, const char *text, size_t size, struct brv_faults *faults);

void brv_document_free(struct brv_document *document);

/* A name that lives as long as the document, or NULL when memory ran out. */
const char *brv_document_name(struct brv_document *document, const char *name);

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
