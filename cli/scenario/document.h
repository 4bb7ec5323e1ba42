/* A scenario file, read into a tree (node.h).
 *
 * Only the plain part of YAML is taken. Refused as they come: a key given twice, anchors, aliases, tags, a second
 * document, nesting deeper than 8, more than 1 MiB or 4096 values, bytes that are not UTF-8 text.            */
#ifndef BRV_CLI_SCENARIO_DOCUMENT_H
#define BRV_CLI_SCENARIO_DOCUMENT_H

#include "scenario/fault.h"
#include "scenario/node.h"

#include <stdbool.h>
#include <stddef.h>

enum { BRV_DOCUMENT_BYTES = 1 << 20, BRV_DOCUMENT_VALUES = 4096, BRV_DOCUMENT_DEPTH = 8 };

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

void brv_document_free(struct brv_document *document);

/* A name that lives as long as the document, or NULL when memory ran out. */
const char *brv_document_name(struct brv_document *document, const char *name);

#endif
