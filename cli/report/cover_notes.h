/* The sentences of `brevis cover`: what was asked, how the hand goes, and what the numbers do not say. */
#ifndef BRV_CLI_REPORT_COVER_NOTES_H
#define BRV_CLI_REPORT_COVER_NOTES_H

#include "report/cover.h"
#include "report/note.h"

void brv_cover_notes_make(struct brv_notes *notes, const struct brv_cover_answer *answer);

/* Pulses of all passes with those that the rim of a square takes, about. */
double brv_cover_pulses_with_rim(const struct brv_cover *cover);

/* Each returns `out`. */
const char *brv_cover_asked(char out[BRV_COVER_TEXT], const struct brv_cover_answer *answer);
const char *brv_cover_hand(char out[BRV_COVER_TEXT], const struct brv_cover_answer *answer);
const char *brv_cover_pulses(char out[BRV_COVER_TEXT], const struct brv_cover_answer *answer);

#endif
