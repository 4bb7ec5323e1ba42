/* The window of one pulse as CSV, text and JSON, and what its figure is drawn by. */
#ifndef BRV_CLI_REPORT_WINDOW_H
#define BRV_CLI_REPORT_WINDOW_H

#include "report/gnuplot.h"
#include "scenario/request.h"
#include "study/window.h"

#include <stdio.h>

struct brv_window_answer {
    const struct brv_request *request;
    const struct brv_window *window;
};

/* width_s, damage_illustrative (1: an illustration in both), then for lesion and neighbour: relaxation_s,
 * stress_time_s, share5_J_m2, share50_J_m2, share95_J_m2, threshold_grain_J_m2, threshold_sign_J_m2, its _low and its
 * _high, damage_J_m2. Empty where there is none.                                                                    */
void brv_window_csv(FILE *to, const struct brv_window_answer *answer);

/* width_s, fluence_J_m2, lesion_share_disrupted, neighbour_share_disrupted: by number of grains. */
void brv_window_map_csv(FILE *to, const struct brv_window_answer *answer);

/* Under 46 lines with the one that names the files. */
void brv_window_summary(FILE *to, const struct brv_window_answer *answer);

void brv_window_digest(FILE *to, const struct brv_window_answer *answer);

/* The words of the figure; the struct must outlive it. */
enum { BRV_WINDOW_TEXT = 512 };
struct brv_window_words {
    char number[BRV_WINDOW_TEXT], word[BRV_WINDOW_TEXT], asked[BRV_WINDOW_TEXT], corner[BRV_WINDOW_TEXT];
};
struct brv_figure brv_window_figure(struct brv_window_words *words, const struct brv_window_answer *answer);

#endif
