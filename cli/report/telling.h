/* Sentences of a story as they are put together, and numbers of lesion and neighbour in them: "A in the lesion, B in the
 * neighbour", or "A in lesion and neighbour alike" where both read the same. Tests: tests/unit/test_story.c.         */
#ifndef BRV_CLI_REPORT_TELLING_H
#define BRV_CLI_REPORT_TELLING_H

#include "report/moment.h"
#include "report/story.h"
#include "study/headline.h"

#include <stdbool.h>

struct brv_telling {
    struct brv_story *story;
    const struct brv_request *request;
    const struct brv_result *result;
    const struct brv_site *site; /* [BRV_N_SITE] */
    const char *layer;           /* the grain's; "dermis / basal" where it is another in the neighbour */
    bool differ;                 /* it is */
    const char *pulse;           /* "the pulse", "the last pulse" */
    bool train;
};

/* A step of the story, and one more sentence of the step that was begun. */
void brv_telling_begin(struct brv_telling *telling, const char *format, ...) __attribute__((format(printf, 2, 3)));
void brv_telling_say(struct brv_telling *telling, const char *format, ...) __attribute__((format(printf, 2, 3)));

/* All return `out`. */
enum { BRV_TELLING_SIZE = 2 * BRV_MOMENT_SIZE + 64 };
const char *brv_telling_both(char out[BRV_TELLING_SIZE], char text[BRV_N_SITE][BRV_MOMENT_SIZE]);

/* Rise and temperature of a probe, excess of the grain, so long after the last pulse began. */
const char *brv_telling_both_rise(char out[BRV_TELLING_SIZE], const struct brv_telling *telling, size_t probe,
                                  double since);
const char *brv_telling_both_temperature(char out[BRV_TELLING_SIZE], const struct brv_telling *telling, size_t probe,
                                         double since);
const char *brv_telling_both_excess(char out[BRV_TELLING_SIZE], const struct brv_telling *telling, double since);

/* Times, shares in percent, a headline with its unit. */
const char *brv_telling_both_time(char out[BRV_TELLING_SIZE], double lesion, double neighbour);
const char *brv_telling_both_share(char out[BRV_TELLING_SIZE], double lesion, double neighbour);
const char *brv_telling_both_term(char out[BRV_TELLING_SIZE], const struct brv_headlines *headlines,
                                  enum brv_headline which);

#endif
