/* The sentences of `brevis visits` about the scenario at hand, and what papers saw after visits that were repeated. */
#ifndef BRV_CLI_REPORT_VISITS_NOTES_H
#define BRV_CLI_REPORT_VISITS_NOTES_H

#include "report/note.h"
#include "report/visits.h"

/* What the visits themselves say, or cannot say. The first n_grave go before all notes of the run. */
void brv_visits_notes_make(struct brv_notes *notes, const struct brv_visits *visits);

/* Prints them with the notes of harm of the run. Returns how many lines they take; `to` NULL: only counts them. */
int brv_visits_notes_text(FILE *to, const struct brv_notes *own, const struct brv_notes *run);

/* One entry for each kind of what was seen to go wrong; of light at another wavelength that is said first. Counts
 * likewise.                                                                                                       */
int brv_visits_papers(FILE *to, double wavelength);

#endif
