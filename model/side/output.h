/* Readings of a meter and of the spot: what they say of the energy, the spot and the fluence, and whether they drift.
 * A point is what one day gives, the mean of its readings; without days, or on one day only, each reading is a point of
 * its own. Readings of one day share that day's slips, so points and not readings are counted:
 *     mean m, standard deviation s, standard error s / sqrt(n), interval m -+ t(0.975, n - 1) s / sqrt(n)
 *     fluence F = E / (pi D^2 / 4)
 *     random      (dF/F)^2 = (dE/E)^2 + (2 dD/D)^2 with the half widths of both intervals: more readings make it smaller
 *     systematic  the same law with the meter's and the spot's own errors: no number of readings makes it smaller
 *     together    (dF/F)^2 = random^2 + systematic^2
 *     chart       centre m, limits m -+ 2.66 x mean moving range of the days in their order; 2.66 = 3 / 1.128, and 1.128
 *                 is the mean range of two draws from a normal law over its standard deviation, 2 / sqrt(pi)
 *     drift       least squares line of a day's mean over the first day's against the day, with the interval of its slope
 * Limits are drawn from BRV_OUTPUT_CHART_DAYS on: with fewer, one day in the middle that is off widens its own limits so
 * much that it can never lie outside (2 x 2.66 / (n - 1) >= (n - 1) / n up to n = 7; at an end up to n = 4).
 * The propagation is to first order: at 20 and 5 % the true spread of E / D^2 is 0.3 % of the fluence wider.
 * Tests: tests/unit/test_output.c, tests/verification/test_output.c.
 * Source: [output-tolerance], [student-1908], [shewhart-chart]                                                      */
#ifndef BRV_SIDE_OUTPUT_H
#define BRV_SIDE_OUTPUT_H

#include "base/status.h"

#include <stdbool.h>
#include <stddef.h>

/* What readings cannot tell of themselves, as shares, where nothing else is said. */
#define BRV_OUTPUT_METER_ERROR                                                                                         \
    0.20 /* allowed error of a measured output, 21 CFR 1040.11(a); [output-tolerance], second-hand */
#define BRV_OUTPUT_SPOT_ERROR 0.05 /* of a spot measured by hand: this project's choice */
#define BRV_OUTPUT_CONFIDENCE 0.95

enum { BRV_OUTPUT_CHART_DAYS = 8, BRV_OUTPUT_DRIFT_DAYS = 3 };

struct brv_meter_reading {
    double day;    /* a running number; NAN in all readings: days were not told [day] */
    double energy; /* of one pulse [J] */
    double spot;   /* diameter; NAN: not measured with this reading [m] */
    double set;    /* what the display said; NAN: not told [J] */
};

/* A sample: with one value only it has no spread, and deviation, error, low and high are NAN. */
struct brv_sample {
    size_t n;
    double mean, deviation, error;
    double low, high; /* interval of the mean, BRV_OUTPUT_CONFIDENCE */
};

/* One point of the chart. */
struct brv_output_day {
    double day;    /* number of the reading where points are no days */
    size_t n;      /* readings */
    double energy; /* their mean [J] */
    bool outside;  /* of the limits, where there are some */
};

struct brv_drift {
    size_t n;         /* days; 0: days were not told */
    double slope;     /* share of the first day's mean a day; NAN where nothing can be fitted [1/day] */
    double low, high; /* its interval; NAN likewise */
    bool told;        /* the interval does not hold 0 */
};

struct brv_output {
    size_t n, n_spot;          /* readings, and those with a spot */
    bool days;                 /* are points days: were days told, and more than one? */
    struct brv_sample energy;  /* of the points [J] */
    struct brv_sample spot;    /* likewise; n = 0: never measured, the spot that was planned is taken [m] */
    struct brv_sample ratio;   /* reading over what the display said, of those that tell; n = 0: none does [1] */
    size_t n_set;              /* readings that tell */
    double set;                /* what the display said, one setting for all; NAN: none tells [J] */
    double within;             /* deviation of the readings of one day, of all days pooled; NAN: never two a day [J] */
    double planned_spot;       /* [m] */
    double fluence;            /* [J/m2] */
    double random, systematic; /* of the fluence; random is NAN after one point [1] */
    double low, high;          /* fluence by both together; low may be below 0: it then says nothing [J/m2] */
    bool limits;               /* are there enough days for them? */
    double limit_low, limit_high; /* of the chart [J] */
    double moving_range;          /* its mean; NAN with one point [J] */
    size_t n_outside;
    struct brv_drift drift;
    size_t n_day;               /* points */
    struct brv_output_day *day; /* [n_day] in order */
};

/* Mean and interval of n values, n >= 1. */
void brv_sample_read(struct brv_sample *sample, const double value[], size_t n);

/* Fluence of one reading in its own spot, else in `spot` [J/m2]. */
double brv_meter_reading_fluence(const struct brv_meter_reading *reading, double spot);

/* Shares of two errors that do not know of each other, of energy and of diameter, as a share of the fluence [1]. */
double brv_output_together(double energy, double spot);

/* The spot that counts: the mean of those measured, else the planned one [m]. */
double brv_output_spot(const struct brv_output *output);

/* Reads n >= 1 readings, in order of their days or all without one; a spot measured nowhere is `planned_spot`. The errors
 * are shares. On failure (memory) `output` comes back empty.                                                        */
brv_status brv_output_read(struct brv_output *output, const struct brv_meter_reading reading[], size_t n,
                           double planned_spot, double meter_error, double spot_error,
                           struct brv_error *error) BRV_MUST_CHECK;

void brv_output_free(struct brv_output *output);

#endif
