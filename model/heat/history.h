/* Temperature rise against time at the probes of one skin.
 * Every probe keeps its whole rise and the part of it that came from pigment: light and heat are linear, so a grain
 * that is s times as dark, light and shading held fixed, gives rise + (s - 1) x pigment.                          */
#ifndef BRV_HEAT_HISTORY_H
#define BRV_HEAT_HISTORY_H

#include "base/status.h"

#include <stddef.h>

/* The first four probes; watched depths follow. */
enum brv_probe { BRV_PROBE_CENTRE, BRV_PROBE_MEAN, BRV_PROBE_SURFACE, BRV_PROBE_LAYER, BRV_N_GRAIN_PROBE };

struct brv_history {
    size_t n_time, n_probe;
    double *time;    /* [n_time] from the start of the pulse [s] */
    double *rise;    /* [n_probe][n_time] above the start [K] */
    double *pigment; /* [n_probe][n_time] its part from pigment [K] */
    double *excess;  /* [3][n_time] of grain centre, mean and surface over the mean of its cell [K] */

    double kink; /* curves may turn sharply here, where a square pulse stops; 0: nowhere [s] */

    size_t n_cell;
    double *face;     /* [n_cell + 1] depth of the cells [m] */
    double *absorbed; /* [n_cell] energy per volume after the pulse [J/m3] */
    double *peak;     /* [n_cell] highest rise [K] */
};

/* The highest point of a curve: the top of the parabola through the highest value and its neighbours, where they are
 * about evenly spaced and the curve does not turn sharply; otherwise the highest value itself.                    */
struct brv_summit {
    double value, time;
};

brv_status brv_history_build(struct brv_history *history, size_t n_time, size_t n_probe, size_t n_cell,
                             struct brv_error *error) BRV_MUST_CHECK;

/* Curve of one probe: [n_time]. */
const double *brv_history_rise(const struct brv_history *history, size_t probe);
const double *brv_history_pigment(const struct brv_history *history, size_t probe);

/* Highest rise of a probe when pigment is `darkness` times as dark and the light is held fixed. */
struct brv_summit brv_history_summit(const struct brv_history *history, size_t probe, double darkness);

/* First time after `from` at which curve[n_time] has fallen to `level`; NAN if it never does. Points are joined
 * by straight lines in the logarithms of value and time since `from`.                                          */
double brv_history_fall(const struct brv_history *history, const double curve[], double from, double level);

void brv_history_free(struct brv_history *history);

#endif
