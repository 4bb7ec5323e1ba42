/* Sentences beside the numbers, and what a run cannot say: limits that apply to this scenario and no others. */
#ifndef BRV_CLI_REPORT_NOTE_H
#define BRV_CLI_REPORT_NOTE_H

#include "run/run.h"

#include <stdbool.h>
#include <stddef.h>

enum { BRV_MOST_NOTES = 24, BRV_NOTE_SIZE = 320 };

struct brv_notes {
    size_t n, n_grave;                        /* the first n_grave are about harm and never left out */
    char text[BRV_MOST_NOTES][BRV_NOTE_SIZE]; /* the gravest first */
};

/* One more at the end, as printf writes it; none once they are full. */
void brv_notes_add(struct brv_notes *notes, const char *format, ...) __attribute__((format(printf, 2, 3)));

/* "lesion", "neighbour", "lesion and neighbour": of which of both a note is. */
const char *brv_note_skins(bool lesion, bool neighbour);

void brv_notes_make(struct brv_notes *notes, const struct brv_result *result);

#endif
