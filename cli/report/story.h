/* What happens in one run, told in sentences made from its numbers: before the light, at the end of the (last) pulse, when
 * the grain has given its heat away, a microsecond, a millisecond and a second later as far as the curves go, at their
 * end, and what it comes to. Every number with its low and high where there are such; a figure above the ceiling is called
 * absorbed energy over heat capacity. Times count from the start of the last pulse.
 * Tests: tests/unit/test_story.c, tests/cli/report.sh (against temperature.csv and summary.json).                   */
#ifndef BRV_CLI_REPORT_STORY_H
#define BRV_CLI_REPORT_STORY_H

#include "run/run.h"
#include "scenario/request.h"

#include <stddef.h>

enum { BRV_STORY_STEPS = 12, BRV_STORY_WHEN = 96, BRV_STORY_TEXT = 1400 };

struct brv_story {
    size_t n;
    struct brv_story_step {
        char when[BRV_STORY_WHEN]; /* "1 ms after the pulse began" */
        char text[BRV_STORY_TEXT]; /* whole sentences */
    } step[BRV_STORY_STEPS];
};

void brv_story_tell(struct brv_story *story, const struct brv_request *request, const struct brv_result *result);

#endif
