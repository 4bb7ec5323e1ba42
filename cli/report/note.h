/* What this run cannot say, in sentences: limits that apply to this scenario and no others. */
#ifndef BRV_CLI_REPORT_NOTE_H
#define BRV_CLI_REPORT_NOTE_H

#include "run/run.h"

#include <stddef.h>

enum { BRV_MOST_NOTES = 16, BRV_NOTE_SIZE = 240 };

struct brv_notes {
    size_t n, n_grave;                        /* the first n_grave are about harm and never left out */
    char text[BRV_MOST_NOTES][BRV_NOTE_SIZE]; /* the gravest first */
};

void brv_notes_make(struct brv_notes *notes, const struct brv_result *result);

#endif
