/* A clock that never goes back, for waiting and for measuring. */
#ifndef BRV_CLI_REPORT_SECONDS_H
#define BRV_CLI_REPORT_SECONDS_H

#include <time.h>

/* Seconds since a fixed but unknown moment, by CLOCK_MONOTONIC or CLOCK_PROCESS_CPUTIME_ID. */
static inline double brv_seconds(clockid_t clock)
{
    struct timespec t;
    clock_gettime(clock, &t);
    return (double)t.tv_sec + 1e-9 * (double)t.tv_nsec;
}

#endif
