/* What `brevis explain` says of sections and keys, for whoever else writes it down. */
#ifndef BRV_CLI_COMMAND_EXPLAIN_H
#define BRV_CLI_COMMAND_EXPLAIN_H

#include "scenario/allowed.h"
#include "scenario/keys.h"

#include <stdbool.h>
#include <stddef.h>

/* Section `i` that has keys of its own, and what it holds; NULL behind the last one. */
struct brv_section {
    const char *name, *text;
};
const struct brv_section *brv_explain_section(size_t i);

/* The text of a section without keys of its own (title, lesion, choices, spread), or NULL. */
const char *brv_explain_plain(const char *name);

/* Does this key stand in this section? */
bool brv_explain_within(const struct brv_key *key, const char *section);

/* "0.3 um", "by kind", "-". Returns `out`. */
const char *brv_explain_default(char out[BRV_ALLOWED_SIZE], const struct brv_key *key);

/* What may stand behind `brevis explain`: sections, terms, sites, keys with their section. */
void brv_explain_words(void (*offer)(const char *word, void *to), void *to);

#endif
