/* How spots cover skin as CSV, text and JSON, and what its figures are drawn by. */
#ifndef BRV_CLI_REPORT_COVER_H
#define BRV_CLI_REPORT_COVER_H

#include "report/gnuplot.h"
#include "scenario/request.h"
#include "side/patch.h"
#include "study/revisit.h"

#include <stdio.h>

/* What heat is followed for: one pulse, a row at the rate asked for, a row at twice that. */
enum { BRV_HEAT_ONE, BRV_HEAT_ROW, BRV_HEAT_TWICE, BRV_N_HEAT };

enum { BRV_COVER_WHY = 300 };

struct brv_cover_answer {
    const struct brv_request *request;
    const struct brv_cover *cover;
    const struct brv_patch *patch;
    size_t n_revisit; /* 0: heat was not followed at all */
    struct brv_revisit revisit[BRV_N_HEAT];
    char why[BRV_COVER_WHY]; /* heat was left out, all of it or of the last ones; "" where it was not */
};

/* x_m, y_m, dose_1, hits: places of the drawn square, dose in what one pulse gives on its axis. */
void brv_cover_dose_csv(FILE *to, const struct brv_cover_answer *answer);

/* dose_from_1, dose_to_1, share_one_pass, share_all_passes, share_same_places, share_twice_the_rate: of the skin, from the
 * first to below the second; flat spots have whole hits and both are the same.                                      */
void brv_cover_histogram_csv(FILE *to, const struct brv_cover_answer *answer);

/* Under 40 lines with the one that names the files. */
void brv_cover_summary(FILE *to, const struct brv_cover_answer *answer);

void brv_cover_digest(FILE *to, const struct brv_cover_answer *answer);

/* The words of the figures; the struct must outlive them. */
enum { BRV_N_COVER_FIGURE = 2, BRV_COVER_TEXT = 512 };
struct brv_cover_words {
    char asked[BRV_COVER_TEXT], corner[BRV_COVER_TEXT], number[BRV_N_COVER_FIGURE][BRV_COVER_TEXT],
        word[BRV_N_COVER_FIGURE][BRV_COVER_TEXT];
};
void brv_cover_figures(struct brv_figure figure[BRV_N_COVER_FIGURE], struct brv_cover_words *words,
                       const struct brv_cover_answer *answer);

#endif
