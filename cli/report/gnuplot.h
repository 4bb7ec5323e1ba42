/* Figures drawn by gnuplot, which is started without a shell, with LC_ALL=C and a time limit. Every picture is drawn
 * under a temporary name and renamed when gnuplot ended well: a failed script leaves an empty file behind.        */
#ifndef BRV_CLI_REPORT_GNUPLOT_H
#define BRV_CLI_REPORT_GNUPLOT_H

#include <stdbool.h>
#include <stddef.h>

enum { BRV_PICTURES_SIZE = 256, BRV_SCRIPTS_SIZE = 4096, BRV_FIGURE_WORDS = 9, BRV_MOST_FIGURES = 12 };

struct brv_figure {
    const char *name;                    /* of its CSV, script and pictures */
    const char *words[BRV_FIGURE_WORDS]; /* what the script wants after DATA, OUTPUT and KIND; ends with NULL */
};

/* Where the scripts are: beside the program's own folder, else where they were when it was built. */
bool brv_gnuplot_scripts(char folder[BRV_SCRIPTS_SIZE]);

/* Draws the figures whose CSV stands in `folder`, each as .svg and .png, several at a time: `threads` as in base/team.h.
 * `pictures` then names those that are whole: "temperature.png, depth.png". Returns how many files were drawn; when not
 * all, `reason` holds the first trouble, the others being mostly the same.                                         */
int brv_gnuplot_draw(const struct brv_figure figure[], size_t n, const char *scripts, const char *folder,
                     unsigned threads, char pictures[BRV_PICTURES_SIZE], char *reason, size_t room);

#endif
