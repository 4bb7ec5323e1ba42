/* One light pulse in time.
 * Square: `width` is its length, t = 0 at its start. Gaussian: `width` is the full width at half maximum; the
 * tails are cut 2.5 widths from the centre and the rest is renormalised, t = 0 at the cut, and 'the end of the
 * pulse' means the centre plus one width.                                                                   */
#ifndef BRV_SCENARIO_PULSE_H
#define BRV_SCENARIO_PULSE_H

enum brv_shape { BRV_SHAPE_GAUSSIAN, BRV_SHAPE_SQUARE };

struct brv_pulse {
    unsigned given;
    int shape;    /* enum brv_shape */
    double width; /* [s]            */
};

double brv_pulse_centre(const struct brv_pulse *pulse); /* [s] */
double brv_pulse_end(const struct brv_pulse *pulse);    /* [s] */
double brv_pulse_window(const struct brv_pulse *pulse); /* when the last energy has arrived [s] */

/* Share of the pulse's energy that has arrived by `time` [1]: 0 at its start, 1 from the window's end on. */
double brv_pulse_delivered(const struct brv_pulse *pulse, double time);

#endif
