/* Independent pieces of work shared between threads. The only place that knows OpenMP.
 * Pieces must not touch each other's data; results are then the same bytes for any number of threads.        */
#ifndef BRV_BASE_TEAM_H
#define BRV_BASE_TEAM_H

#include "base/status.h"

#include <stddef.h>

typedef brv_status (*brv_team_work)(void *context, size_t item, struct brv_error *error);

/* Runs work(context, 0 .. n - 1) on up to `threads` threads (0: as many as the machine offers). When pieces fail the
 * first by number wins: its status is returned and its error filled.                                           */
brv_status brv_team_run(size_t n, unsigned threads, brv_team_work work, void *context,
                        struct brv_error *error) BRV_MUST_CHECK;

#endif
