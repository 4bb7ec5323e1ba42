/* A sweep's answer: a row of headlines for every point, as CSV, JSON, text and figure. */
#ifndef BRV_CLI_REPORT_SWEEP_H
#define BRV_CLI_REPORT_SWEEP_H

#include "report/gnuplot.h"
#include "scenario/points.h"
#include "study/headline.h"

#include <stdio.h>

struct brv_sweep {
    const struct brv_points *points;
    const struct brv_headlines *rows; /* [points->n] */
};

/* sweep.csv: the keys' values in SI as columns named by their paths, then value, low and high of every headline, once
 * where it is shared, else with lesion_ and neighbour_ before it. Empty: there is none at this point.             */
void brv_sweep_csv(FILE *to, const struct brv_sweep *sweep);

/* summary.json: program, varied keys, range of every headline with the points where its ends lie, notes, cautions. */
void brv_sweep_digest(FILE *to, const struct brv_sweep *sweep);

/* summary.txt: for one key a table of at most 12 points, for two the ends of the ranges. */
void brv_sweep_summary(FILE *to, const struct brv_sweep *sweep);

/* The figure `sweep`, and the texts it points to. */
enum { BRV_SWEEP_WORDS_SIZE = 768 };
struct brv_sweep_figure {
    char marks[BRV_SWEEP_WORDS_SIZE], names[BRV_SWEEP_WORDS_SIZE], heading[BRV_SWEEP_WORDS_SIZE],
        asked[BRV_SWEEP_WORDS_SIZE], corner[BRV_SWEEP_WORDS_SIZE];
    struct brv_figure figure;
};
void brv_sweep_draw(struct brv_sweep_figure *out, const struct brv_sweep *sweep);

#endif
