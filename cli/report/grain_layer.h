/* The layer in which a grain is followed, by name. It may be another in the lesion than in the skin around it: where the
 * densest pigment lies elsewhere, or a lesion says grain.layer. Then both are named, the lesion's first, as columns and
 * sentences have them. Tests: tests/unit/test_story.c, tests/cli/run.sh.                                              */
#ifndef BRV_CLI_REPORT_GRAIN_LAYER_H
#define BRV_CLI_REPORT_GRAIN_LAYER_H

#include "run/run.h"
#include "scenario/request.h"

#include <stdbool.h>
#include <stddef.h>

enum { BRV_GRAIN_LAYER_SIZE = 2 * BRV_LAYER_NAME_SIZE + 16 };

bool brv_grain_layers_differ(const struct brv_result *result);

const char *brv_grain_layer(const struct brv_request *request, const struct brv_result *result, size_t site);

/* "basal"; "dermis / basal" where they differ. At most `width` letters: long names are cut, both alike. Returns `out`. */
const char *brv_grain_layer_pair(char out[BRV_GRAIN_LAYER_SIZE], const struct brv_request *request,
                                 const struct brv_result *result, size_t width);

/* "mean of basal"; "top of dermis / mean of basal". Of an endless layer only the top is read. */
const char *brv_grain_layer_read(char out[BRV_GRAIN_LAYER_SIZE], const struct brv_request *request,
                                 const struct brv_result *result, size_t width);

#endif
