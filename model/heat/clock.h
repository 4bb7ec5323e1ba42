/* The times after the start of a pulse at which temperatures are written: dense in the pulse, then even steps of the
 * logarithm of the time since its end, so that a grain that cools in nanoseconds after a millisecond pulse is still
 * seen cooling.                                                                                                   */
#ifndef BRV_HEAT_CLOCK_H
#define BRV_HEAT_CLOCK_H

#include <stddef.h>

enum { BRV_CLOCK_ROOM = 1024 };

struct brv_clock_ask {
    double window; /* when the last energy has arrived [s] */
    double end;    /* what is called the end of the pulse [s] */
    double grain;  /* a time in which the grain cools noticeably [s] */
    double until;  /* last time, after `window` [s] */
    size_t n_landmark;
    const double *landmark; /* [n_landmark] further times wanted, in any order [s] */
};

/* Writes ascending times, the first 0, the last `until`, with `window`, `end` and every landmark before `until` among
 * them. Returns their count.                                                                                      */
size_t brv_clock_times(double time[BRV_CLOCK_ROOM], const struct brv_clock_ask *ask);

#endif
