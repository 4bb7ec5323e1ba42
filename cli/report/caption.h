/* The figures of a run in words: a caption that says how to read one, and what it shows in numbers for who cannot see it.
 * Tests: tests/cli/report.sh.                                                                                      */
#ifndef BRV_CLI_REPORT_CAPTION_H
#define BRV_CLI_REPORT_CAPTION_H

#include "run/run.h"
#include "run/spots.h"
#include "scenario/request.h"

#include <stddef.h>

struct brv_captioned {
    const struct brv_request *request;
    const struct brv_result *result;
    const struct brv_spots *spots; /* NULL: other spots were not asked for */
};

enum { BRV_CAPTION_SIZE = 1200 };

struct brv_caption {
    const char *name;                                                         /* of the figure's files */
    const char *reading;                                                      /* how to read it */
    void (*tell)(char out[BRV_CAPTION_SIZE], const struct brv_captioned *of); /* what it shows, in numbers */
};

extern const struct brv_caption brv_captions[]; /* in the order in which they are shown */
extern const size_t brv_n_captions;

#endif
