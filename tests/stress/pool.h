/* Many scenarios, each in a process of its own, two at a time; and the table of what came of them. */
#ifndef BRV_TESTS_STRESS_POOL_H
#define BRV_TESTS_STRESS_POOL_H

#include "stress/examine.h"

enum { STRESS_MOST = 20000 };

struct stress_pool {
    size_t n, at_once;
    size_t *number;                 /* [n] of the scenarios */
    struct stress_finding *finding; /* [n] shared with the processes */
};

/* What a process does with scenario i of the pool. */
typedef void stress_work(struct stress_finding *finding, size_t i, const void *context);

/* False when there is no memory for it. */
bool stress_pool_build(struct stress_pool *pool, size_t n);

/* A process may take so many seconds of the processor, and ten times that in all, and so many megabytes (0: no bound);
 * `told`: a line to stderr now and then.                                                                           */
void stress_pool_run(struct stress_pool *pool, stress_work *work, const void *context, unsigned seconds,
                     size_t megabytes, bool told);

/* What took longer than STRESS_SECONDS is asked once more, alone: two at a time may share one core of the machine. The
 * quicker one counts; a fault of any other kind stays what it is.                                                   */
void stress_pool_again(struct stress_pool *pool, stress_work *work, const void *context, unsigned seconds,
                       size_t megabytes);

void stress_pool_free(struct stress_pool *pool);

/* Numbers of `n` scenarios: half of them rows of the design, evenly out of all, or all rows where that is fewer. */
void stress_pool_number(struct stress_pool *pool, const struct stress_design *design);

/* Counts of outcomes, breaches, what gave no numbers, all slow ones, at least ten, and the ten nearest to a bound.
 * Returns how many are lost or broken. Without times the table depends on the seed alone.                            */
size_t stress_table(FILE *file, const struct stress_pool *pool, bool times);

#endif
