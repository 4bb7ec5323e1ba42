/* summary.json: everything one run says in numbers. */
#ifndef BRV_CLI_REPORT_DIGEST_H
#define BRV_CLI_REPORT_DIGEST_H

#include "report/json.h"
#include "run/run.h"
#include "scenario/request.h"

#include <stdio.h>

/* What every such document begins and ends with: program, version and scenario; the cautions. */
void brv_digest_program(struct brv_json *json, const struct brv_request *request);
void brv_digest_cautions(struct brv_json *json);

/* Object measured_colour, where the pigment of the skin came from one. */
#define BRV_COLOUR_SOURCE                                                                                              \
    "by this model, not measured; mirror of the surface in or out of the measurement, scattering 0.6 to 1 times, "     \
    "blood "                                                                                                           \
    "of the dermis 0.2 to 1 %"
void brv_digest_colour(struct brv_json *json, const struct brv_scenario *ask);

/* Objects program, asked, light, grain, layers, effect, audit (the last five with lesion and neighbour), probes, notes
 * and cautions. Every number is {value, unit}, with low, high and source where they exist.                       */
void brv_digest_write(FILE *to, const struct brv_request *request, const struct brv_result *result);

#endif
