/* What a sweep has to be read with, the gravest first. */
#ifndef BRV_CLI_REPORT_SWEEP_NOTES_H
#define BRV_CLI_REPORT_SWEEP_NOTES_H

#include "report/note.h"
#include "report/sweep.h"

/* They come from the rows and the points alone, so that parts that are put together say the same. */
void brv_sweep_notes_make(struct brv_notes *notes, const struct brv_sweep *sweep);

#endif
