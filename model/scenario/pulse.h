/* One light pulse in time, and how it is repeated.
 * Square: `width` is its length, t = 0 at its start. Gaussian: `width` is the full width at half maximum; the
 * tails are cut 2.5 widths from the centre and the rest is renormalised, t = 0 at the cut, and 'the end of the
 * pulse' means the centre plus one width.
 * Train: `count` equal pulses in a pass, 1/rate apart from centre to centre, and `passes` equal passes, whose first
 * pulse starts a `pause` after the last pulse of the pass before it started. Pulses do not overlap.              */
#ifndef BRV_SCENARIO_PULSE_H
#define BRV_SCENARIO_PULSE_H

#include <stddef.h>

enum brv_shape { BRV_SHAPE_GAUSSIAN, BRV_SHAPE_SQUARE };

struct brv_pulse {
    unsigned given;
    int shape;     /* enum brv_shape                        */
    double width;  /* [s]                                   */
    double rate;   /* of the pulses in a pass; given when there are several [1/s] */
    double count;  /* pulses in a pass, whole               */
    double passes; /* whole                                 */
    double pause;  /* between passes; given when there are several [s] */
};

double brv_pulse_centre(const struct brv_pulse *pulse); /* [s] */
double brv_pulse_end(const struct brv_pulse *pulse);    /* [s] */
double brv_pulse_window(const struct brv_pulse *pulse); /* when the last energy has arrived [s] */

/* Share of the pulse's energy that has arrived by `time` [1]: 0 at its start, 1 from the window's end on. */
double brv_pulse_delivered(const struct brv_pulse *pulse, double time);

/* How many pulses there are in all, count x passes. */
size_t brv_pulse_total(const struct brv_pulse *pulse);

/* Start of pulse k, k = 0 the first, counted from the start of the first [s]. */
double brv_pulse_start(const struct brv_pulse *pulse, size_t k);

/* Start of the last pulse; 0 when there is one [s]. */
double brv_pulse_last(const struct brv_pulse *pulse);

#endif
