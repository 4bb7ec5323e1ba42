/* From the document to the numbers: every key looked up, every value read, every place remembered.
 *
 * A value that cannot be read is marked as failed, so that nobody calls it missing afterwards; so is the key that
 * an unknown word was probably meant to be.                                                                  */
#ifndef BRV_CLI_SCENARIO_WALK_H
#define BRV_CLI_SCENARIO_WALK_H

#include "scenario/document.h"
#include "scenario/keys.h"
#include "scenario/request.h"

#include <stdbool.h>
#include <stddef.h>

enum { BRV_WALK_KEYS = 128, BRV_WALK_PATH_SIZE = 128 };

/* What the user wrote for one key of one struct. */
struct brv_written {
    const struct brv_node *node; /* NULL: nothing */
    bool failed;                 /* something that could not be read */
};

struct brv_section {
    const struct brv_node *node; /* NULL: not in the file */
    bool failed;
};

/* Scopes other than layers and grains use site BRV_NEIGHBOUR, layer 0; grains use layer 0. */
struct brv_walk {
    struct brv_request *request;
    const struct brv_document *document;
    struct brv_faults *faults;
    struct brv_section section[BRV_N_SCOPE], lesion;
    const struct brv_node *layer[BRV_N_SITE][BRV_MOST_LAYERS];
    struct brv_written written[BRV_N_SITE][BRV_MOST_LAYERS][BRV_WALK_KEYS];
};

/* Reads the document into the request, whose scenario is zeroed before; faults are listed. */
void brv_walk_document(struct brv_walk *walk, struct brv_request *request, const struct brv_document *document,
                       struct brv_faults *faults);

/* Which struct the keys of a map go to; `scope` is that of the section: light for the pulse too. */
struct brv_target {
    enum brv_scope scope;
    size_t site, layer;
    bool change; /* on top of a skin that is complete: a rival that was there before gives way */
};

/* What stands in place of a section, after its name: " = 5 mm", ": a list stands here", " is empty". Returns `out`. */
enum { BRV_WALK_FOUND_SIZE = BRV_SHOWN_SIZE + 8 };
const char *brv_walk_found(char out[BRV_WALK_FOUND_SIZE], const struct brv_node *node);

/* All keys of one map. Those that are not known are faults. */
void brv_walk_keys(struct brv_walk *walk, struct brv_target target, const struct brv_node *map);

/* The keys of a layer of the lesion, or of a change in a ready skin, that cannot be looked up, since the skin could not be read.
 * What is wrong whatever that layer is, is told; nothing is kept. `prefix` is how messages call the layer.           */
void brv_walk_keys_apart(struct brv_walk *walk, const char *prefix, const struct brv_node *map);

/* Lists a fault; the text is made as by printf. */
void brv_walk_fault(const struct brv_walk *walk, struct brv_place at, const char *format, ...)
    __attribute__((format(printf, 3, 4)));

/* Row of a key in a section, or -1. A section may hold several scopes: light has the beam and the pulse. */
int brv_walk_row(const char *section, const char *name);

/* Does this word stand at the left margin of a scenario: title, light, skin, ...? */
bool brv_walk_is_section(const char *key);

/* Sets the presence bit of a row in its scope's struct. */
void brv_walk_mark_given(char *scope_struct, size_t row);

/* "light.spot", "skin.basal.blood", "lesion.grain.diameter": how messages call a key. Returns `out`. */
const char *brv_walk_path(char out[BRV_WALK_PATH_SIZE], const struct brv_walk *walk, size_t row, size_t site,
                          size_t layer);

#endif
