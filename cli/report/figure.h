/* Figures of one run, drawn by gnuplot from the CSV files by column name. */
#ifndef BRV_CLI_REPORT_FIGURE_H
#define BRV_CLI_REPORT_FIGURE_H

#include "run/run.h"
#include "scenario/request.h"

#include <stddef.h>

enum { BRV_PICTURES_SIZE = 256 };

/* Draws temperature, train, grain, depth, spots, map and beside, each as .svg and .png, in `folder` from the .csv of that
 * name, where there is one. gnuplot is started without a shell, with LC_ALL=C and a time limit; each figure is drawn under
 * a temporary name and renamed when gnuplot ended well. `pictures` then names those that are whole: "temperature.png,
 * depth.png". Returns how many files were drawn; when not all, `reason` says why.                                   */
int brv_figure_draw(const char *folder, const struct brv_request *request, const struct brv_result *result,
                    char pictures[BRV_PICTURES_SIZE], char *reason, size_t room);

#endif
