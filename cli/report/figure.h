/* Figures of one run, drawn by gnuplot from the CSV files by column name. */
#ifndef BRV_CLI_REPORT_FIGURE_H
#define BRV_CLI_REPORT_FIGURE_H

#include "report/gnuplot.h"
#include "run/run.h"
#include "scenario/request.h"

#include <stddef.h>

/* Draws temperature, train, grain, disrupted, depth, spots, map and beside with the words they want; see report/gnuplot.h. */
int brv_figure_draw(const char *folder, const struct brv_request *request, const struct brv_result *result,
                    unsigned threads, char pictures[BRV_PICTURES_SIZE], char *reason, size_t room);

#endif
