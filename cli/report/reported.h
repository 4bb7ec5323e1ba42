/* What `brevis reported` says: the published ranges of report/published.h around a scenario's own spot and fluence. Nothing
 * is computed of the skin; where the scenario lies among papers is no reason to move it.                            */
#ifndef BRV_CLI_REPORT_REPORTED_H
#define BRV_CLI_REPORT_REPORTED_H

#include "report/figure.h"
#include "report/published.h"
#include "scenario/request.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdio.h>

enum { BRV_REPORTED_UNSEEN_SIZE = 640 };

/* Where a value lies among rows that tell a range of it: treated people, this wavelength, pulses of the same class. */
struct brv_among {
    size_t n;                    /* rows that tell it */
    size_t within, below, above; /* of them: the value within their range, below it, above it */
    size_t sun;                  /* of them: of sun-induced pigment */
    double low, high;            /* ends of them all; NAN: none */
};

struct brv_among brv_reported_spot(const struct brv_scenario *ask);
struct brv_among brv_reported_fluence(const struct brv_scenario *ask);

/* For the terminal: rows of this wavelength only. Whole: every row, with what came of it, and what went wrong. */
void brv_reported_text(FILE *to, const struct brv_request *request, bool whole);

void brv_reported_json(FILE *to, const struct brv_request *request);

/* name, year, kind, wavelength_m, pulse, condition, n, skin, spot and fluence from low to high in SI (empty: not seen), visits,
 * outcome, adverse, source, seen, doi, sun, same_wavelength, alike, drawn, and label for the figure.                   */
void brv_reported_csv(FILE *to, const struct brv_request *request);

/* Everything as a page in Markdown, docs/published_ranges.md; no scenario. */
void brv_reported_page(FILE *to);

/* What the figure wants besides: own spot in mm and fluence in J/cm2; names of rows that are not drawn, in lines
 * parted by |. */
void brv_reported_figure(char numbers[BRV_FIGURE_TEXT], char unseen[BRV_REPORTED_UNSEEN_SIZE],
                         const struct brv_scenario *ask);

#endif
