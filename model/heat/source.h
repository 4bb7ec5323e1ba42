/* Energy that arrives in the course of time: a spatial pattern times the share of a pulse delivered so far.
 * Handing over energy per step instead of power at an instant means that a nanosecond pulse never falls between
 * two steps and that everything delivered adds up to rounding.                                                */
#ifndef BRV_HEAT_SOURCE_H
#define BRV_HEAT_SOURCE_H

#include <stddef.h>

struct brv_source {
    const double *deposit; /* [n cells] energy of the whole pulse by cell, borrowed; NULL: none [J] */
    double (*delivered)(const void *pulse, double time); /* share of it delivered by `time` [1] */
    const void *pulse;                                   /* borrowed */
    double end;                                          /* when the last has been delivered [s] */
    double longest_step;                                 /* while it arrives: short enough to follow its shape [s] */
};

/* Share of the energy that arrives in [from, to) [1]. */
double brv_source_share(const struct brv_source *source, double from, double to);

#endif
