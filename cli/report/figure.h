/* Figures of one run, drawn by gnuplot from the CSV files by column name. */
#ifndef BRV_CLI_REPORT_FIGURE_H
#define BRV_CLI_REPORT_FIGURE_H

#include "report/gnuplot.h"
#include "run/run.h"
#include "scenario/request.h"

#include <stddef.h>

enum { BRV_FIGURE_TEXT = 512 };

/* What was asked, as it stands below a figure's heading, and the line in the corner of every figure. */
void brv_figure_asked(char out[BRV_FIGURE_TEXT], const struct brv_scenario *ask);
void brv_figure_corner(char out[BRV_FIGURE_TEXT], const struct brv_scenario *ask);

/* Draws temperature, train, grain, disrupted, depth, spots, map and beside with the words they want; see report/gnuplot.h. */
int brv_figure_draw(const char *folder, const struct brv_request *request, const struct brv_result *result,
                    unsigned threads, char pictures[BRV_PICTURES_SIZE], char *reason, size_t room);

#endif
