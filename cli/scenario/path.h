/* Dotted paths into a document: those of the lesion, and those of `--set PATH=VALUE`. */
#ifndef BRV_CLI_SCENARIO_PATH_H
#define BRV_CLI_SCENARIO_PATH_H

#include "scenario/document.h"

#include <stdbool.h>

/* `basal.melanosomes: 14 %` below `map` becomes `basal: {melanosomes: 14 %}`, so that a reader meets one form. */
void brv_path_nest(struct brv_node *map, struct brv_faults *faults);

/* Puts the value of "PATH=VALUE" into the document, over what stands there. A key that says the same in another
 * way (energy where fluence stands) gives way, as long as it came from the file. Changes to a ready skin
 * (`skin: dark`) become children of that text. Faults are listed under the name `--set PATH`.                */
void brv_path_set(struct brv_document *document, const char *argument, struct brv_faults *faults);

/* Puts a value of a choice, which stands under the dotted `path`, into the document: over what stands there, and in place
 * of whatever says the same in another way unless this choice says it too. `own` is the choice's name for the file of
 * its values, a pointer that no other value has. Faults are listed at the value.                                  */
void brv_path_put(struct brv_document *document, const char *path, const struct brv_node *value, const char *own,
                  struct brv_faults *faults);

/* Does only a walk of photons read this key, with or without `=VALUE` behind it? */
bool brv_path_is_of_walk(const char *path);

#endif
