/* A scenario file as the program sees it: the numbers for the model, and the words and places that stay here. */
#ifndef BRV_CLI_SCENARIO_REQUEST_H
#define BRV_CLI_SCENARIO_REQUEST_H

#include "scenario/fault.h"
#include "scenario/scenario.h"
#include "study/inputs.h"

#include <stddef.h>

enum { BRV_TITLE_SIZE = 16385, BRV_LAYER_NAME_SIZE = 33 };

struct brv_request {
    struct brv_scenario scenario;                          /* filled and checked when reading found no fault */
    char title[BRV_TITLE_SIZE];                            /* "" when the file has none */
    char layer_name[BRV_MOST_LAYERS][BRV_LAYER_NAME_SIZE]; /* unique; [scenario.skin[*].n_layer] in use */
    size_t n_opened;
    struct brv_opened opened[BRV_MOST_OPENED]; /* the section `spread`; no part of the scenario */
};

struct brv_document;

/* What --set asks for comes on top of the file, before anything is read from it. */
void brv_request_change(struct brv_document *document, const char *const set[], size_t n_set,
                        struct brv_faults *faults);

/* Reads, fills and checks the scenario of a document that was read to its end. */
void brv_request_take(struct brv_request *request, const struct brv_document *document, struct brv_faults *faults);

/* Reads `path` (`-`: standard input), applies `set` ("PATH=VALUE", n_set of them) to the document, fills and
 * checks the scenario. Every fault goes to `faults`, in the order of the file; none means the request is good.
 * Returns 0, or the exit code that fits: 3 scenario refused, 4 file trouble, 6 out of memory.               */
int brv_request_read(struct brv_request *request, const char *path, const char *const set[], size_t n_set,
                     struct brv_faults *faults);

/* The same from memory, for who reads it more than once; `name` is what messages call it. */
int brv_request_parse(struct brv_request *request, const char *name, const char *text, size_t size,
                      const char *const set[], size_t n_set, struct brv_faults *faults);

#endif
