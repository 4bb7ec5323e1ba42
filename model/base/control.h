/* What a caller may hold over long work: how many threads, a flag to stop, somebody to tell how far it is. */
#ifndef BRV_BASE_CONTROL_H
#define BRV_BASE_CONTROL_H

#include <signal.h>
#include <stdint.h>

struct brv_control {
    unsigned threads;                  /* 0: as many as the machine offers */
    const volatile sig_atomic_t *stop; /* not zero: finish what can be finished; NULL: never */
    void (*progress)(void *context, uint64_t done, uint64_t wanted,
                     double error); /* from any thread; NULL: nobody listens */
    void *context;                  /* of progress */
};

#endif
