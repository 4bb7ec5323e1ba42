/* What a run says at a glance: under 42 lines, a train or something laid on the skin under 46, for the terminal and for summary.txt. */
#ifndef BRV_CLI_REPORT_SUMMARY_H
#define BRV_CLI_REPORT_SUMMARY_H

#include "run/run.h"
#include "scenario/request.h"

#include <stdio.h>

void brv_summary_write(FILE *to, const struct brv_request *request, const struct brv_result *result);

#endif
