/* Parts that the pages of `run` and `compare` share; see report/report.h. */
#ifndef BRV_CLI_REPORT_REPORT_PART_H
#define BRV_CLI_REPORT_REPORT_PART_H

#include "report/cite.h"
#include "report/report.h"

/* Headings of the notes of a run: those about harm come first. */
#define BRV_REPORT_HARM   "About harm, and figures that mislead"
#define BRV_REPORT_LIMITS "Further limits"

/* Head, the title as heading, version and hash, one line of caution, where the sections are. */
void brv_report_head(FILE *to, const struct brv_report *report, const struct brv_request *request);

/* Why there are no curves, and how to get them. */
void brv_report_no_figures(FILE *to, const struct brv_report *report);

/* The whole block of cautions, then the sources in a table. */
void brv_report_cautions(FILE *to);
void brv_report_sources(FILE *to, const struct brv_cited *cited);

/* The scenario: texts as read, what was changed, hash, version, how to repeat it. */
void brv_report_scenario(FILE *to, const struct brv_report *report, const struct brv_request *request);

/* The last page, and the end of the document; `asked` heads the column of what the scenario asks. */
void brv_report_sheet(FILE *to, const struct brv_request *request, const char *asked);

/* A heading cell of the vocabulary: the label, its unit in print. */
void brv_report_label(FILE *to, enum brv_headline which);

/* The words of the vocabulary that a table shows. */
void brv_report_words(FILE *to, const bool shown[BRV_N_HEADLINE]);

#endif
