/* Figures that lessons share. Each helper writes the CSV of one figure into the page; the scripts stand in plots/. */
#ifndef BRV_CLI_LESSON_DRAWING_H
#define BRV_CLI_LESSON_DRAWING_H

#include "lesson/page.h"
#include "report/compare.h"

/* With the answer: all choices side by side, as `brevis compare` draws them. */
void brv_drawing_compared(struct brv_page *page, const struct brv_compared *compared);

#endif
