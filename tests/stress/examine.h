/* What is asked of one scenario, in a process of its own. */
#ifndef BRV_TESTS_STRESS_EXAMINE_H
#define BRV_TESTS_STRESS_EXAMINE_H

#include "stress/draw.h"

#include <stdbool.h>

#define STRESS_SLOW      "seconds of one run" /* what is broken then */
#define STRESS_SECONDS   10.0 /* of one run on one thread; slower ones are counted, and the bound is wider where */
#define STRESS_PULSE     0.1 /* every pulse more is followed on its own where the highest rise of all cells is wanted */
#define STRESS_WALK      20.0   /* photons walk until they are absorbed, and hardly anything absorbs them */
#define STRESS_MEGABYTES 1024.0 /* that its process ever held */

enum stress_outcome {
    STRESS_LOST, /* the process did not come to an end: died, or was stopped */
    STRESS_ANSWERED,
    STRESS_NO_NUMBERS, /* the program said that a tolerance was not reached, and which */
    STRESS_BROKEN,     /* something that must hold does not */
    STRESS_N_OUTCOME
};

enum { STRESS_WORDS = 96 };

/* What came of one scenario. Lives in memory that processes share: no pointers. */
struct stress_finding {
    int outcome; /* enum stress_outcome */
    int ended;   /* status of the process, as waitpid has it */
    bool ran, threads, linear,
        program; /* compared with two threads, solved again for linearity, given to the program */
    double seconds, megabytes;
    double worst; /* the largest of all that was found over its bound: above 1 it is broken */
    char worst_of[STRESS_WORDS];
    char broken[STRESS_WORDS]; /* the first that does not hold, or what gave no numbers */
    double found, bound;
};

/* Of which scenarios more is asked, and how the program is called; `program` NULL: it is not. */
struct stress_more {
    bool threads, linear;
    const char *program;
};

void stress_examine(struct stress_finding *finding, const struct stress_drawn *one, const struct stress_more *more);

#endif
