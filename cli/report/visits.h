/* What `brevis visits` shows: the table, its figure, visits.csv and summary.json. */
#ifndef BRV_CLI_REPORT_VISITS_H
#define BRV_CLI_REPORT_VISITS_H

#include "report/figure.h"
#include "scenario/request.h"
#include "study/visits.h"

#include <stdio.h>

struct brv_visits_answer {
    const struct brv_request *request;
    const struct brv_visits *visits;
};

/* The table for people: every visit, or of many the first ones and some of the rest. */
void brv_visits_text(FILE *to, const struct brv_visits_answer *answer);

/* One row for each visit: its number, pulses and fluence on one place so far, then for lesion and neighbour every number
 * of brv_visit_site with low and high, and the sign in words.                                                        */
void brv_visits_csv(FILE *to, const struct brv_visits_answer *answer);

/* The same as summary.json, with what was published of repeated visits. */
void brv_visits_json(FILE *to, const struct brv_visits_answer *answer);

/* The figure and the words it wants, which it points to. */
struct brv_visits_words {
    char asked[BRV_FIGURE_TEXT], corner[BRV_FIGURE_TEXT], below[BRV_FIGURE_TEXT];
};
struct brv_figure brv_visits_figure(struct brv_visits_words *words, const struct brv_visits_answer *answer);

#endif
