/* What a scenario asks, in words for a page: light, pulses, spot, skin, lesion, grain, what lies on the skin. */
#ifndef BRV_CLI_REPORT_SETTING_H
#define BRV_CLI_REPORT_SETTING_H

#include "scenario/request.h"

#include <stdio.h>

/* Rows of a list <dl>, each only where there is something to say. */
void brv_setting_put(FILE *to, const struct brv_request *request);

#endif
