/* The part of summary.json that says what temperatures mean, for one site. */
#ifndef BRV_CLI_REPORT_DIGEST_EFFECT_H
#define BRV_CLI_REPORT_DIGEST_EFFECT_H

#include "report/json.h"
#include "run/site.h"
#include "scenario/request.h"

#define BRV_SIGN_SOURCE                                                                                                \
    "grains 3.16 to 0.316 times as dark, and column of disrupted pigment 0.1 to 0.6 um or to the scenario's own, no "  \
    "source; "                                                                                                         \
    "at one column and one darkness in lesion and neighbour alike"

/* "centre", "mean of the interior", "surface": where a criterion is looked for. */
const char *brv_place_name(int place);

void brv_digest_effect(struct brv_json *json, const struct brv_site *site, const struct brv_request *request);

#endif
