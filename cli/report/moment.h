/* One place of the skin at one moment, read off the curves of a run with low and high, and in words that stay true above
 * the ceiling: there a rise is absorbed energy over heat capacity and no temperature.
 * Times count from the start of the last pulse. Between two rows of temperature.csv curves run straight.
 * Tests: tests/unit/test_story.c.                                                                                  */
#ifndef BRV_CLI_REPORT_MOMENT_H
#define BRV_CLI_REPORT_MOMENT_H

#include "run/site.h"

#include <stdbool.h>
#include <stddef.h>

struct brv_moment {
    struct brv_spread rise;        /* by the pulses [K] */
    struct brv_spread temperature; /* start, pulses and what cools together [K] */
};

/* A probe at a time from 0 to the end of the curves; a later one is the end. */
void brv_moment_read(struct brv_moment *moment, const struct brv_site *site, size_t probe, double since);

/* What the mean of the grain has more than the mean of its layer, low and high of equally dark grains [K]. */
struct brv_spread brv_moment_excess(const struct brv_site *site, double since);

/* The last moment of the curves [s]. */
double brv_moment_last(const struct brv_history *history);

enum { BRV_MOMENT_SIZE = 224 };

/* "46.3 K (22.2 to 69)"; "under 0.01 K". Returns `out`. */
const char *brv_moment_rise(char out[BRV_MOMENT_SIZE], const struct brv_spread *rise);

/* "79.3 °C (55.3 to 102)", "79.3 °C (55.3 to over 112)"; above `ceiling` "over 112 °C by energy over heat capacity, no
 * temperature". Returns `out`. */
const char *brv_moment_temperature(char out[BRV_MOMENT_SIZE], const struct brv_spread *temperature, double ceiling);

#endif
