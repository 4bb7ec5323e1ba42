/* Figures drawn by gnuplot, which is started without a shell, with LC_ALL=C and a time limit. Every picture is drawn
 * under a temporary name and renamed when gnuplot ended well: a failed script leaves an empty file behind.        */
#ifndef BRV_CLI_REPORT_GNUPLOT_H
#define BRV_CLI_REPORT_GNUPLOT_H

#include <stddef.h>

enum { BRV_PICTURES_SIZE = 256, BRV_FIGURE_WORDS = 9, BRV_MOST_FIGURES = 12 };

struct brv_figure {
    const char *name;                    /* of its CSV, script and pictures */
    const char *words[BRV_FIGURE_WORDS]; /* what the script wants after DATA, OUTPUT and KIND; ends with NULL */
};

/* Draws the figures whose CSV stands in `folder`, each as .svg and .png, several at a time: `threads` as in base/team.h.
 * The scripts are found as report/place.h says. `pictures` then names
 * the figures that are whole: "temperature.png, depth.png". Returns how many files were drawn; when not all, `reason`
 * holds the first trouble, the others being mostly the same.                                                        */
int brv_gnuplot_draw(const struct brv_figure figure[], size_t n, const char *folder, unsigned threads,
                     char pictures[BRV_PICTURES_SIZE], char *reason, size_t room);

#endif
