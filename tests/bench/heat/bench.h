/* Two problems that every method of bench_heat.c solves, and how a method is called.
 * A square pulse of 8 ns heats 400 cells, which then cool for 10 s. Asked: five readings at sixty times. The error is
 * that of time alone: exact is the chain solved mode by mode.                                                      */
#ifndef BRV_TESTS_BENCH_HEAT_H
#define BRV_TESTS_BENCH_HEAT_H

#include "heat/slab.h"
#include "heat/sphere.h"

#include <stdbool.h>

#if __has_include(<cvode/cvode.h>)
#define HAVE_SUNDIALS
#endif
#if __has_include(<lapacke.h>)
#define HAVE_LAPACKE
#endif

enum { IN_PULSE = 10, AFTER = 50, N_TIME = IN_PULSE + AFTER, N_GAUGE = 5 };

struct problem {
    const char *name;
    struct brv_slab slab;
    struct brv_sphere sphere;
    struct brv_chain *chain;
    double *heat;              /* [n] of the whole pulse */
    double width;              /* of the pulse */
    double in_pulse[IN_PULSE]; /* the last is `width` */
    double after[AFTER];       /* since the end of the pulse */
    struct brv_gauge gauge[N_GAUGE];
    double *weight;                 /* [N_GAUGE][n] of the gauges */
    double exact[N_GAUGE * N_TIME]; /* by gauge and time */
    double scale;                   /* largest of them */
    double *below, *own, *above;    /* [n] dy/dt = below y[i-1] + own y[i] + above y[i+1] + rate */
    double *rate;                   /* [n] while the pulse lasts */
};

/* `open` prepares what a program keeps from run to run: memory. `run` fills value[g * N_TIME + i], the first IN_PULSE
 * times in the pulse, or returns false. `option` counts the ways a method can be set; the best of them is reported.  */
struct method {
    const char *name;
    int n_option;
    double first_tolerance, last_tolerance; /* of the sweep */
    void *(*open)(const struct problem *problem);
    bool (*run)(void *kept, const struct problem *problem, int option, double tolerance, double value[]);
    void (*close)(void *kept);
};

extern const struct method by_contour, by_contour_state, by_stepper, by_gsl;
#ifdef HAVE_SUNDIALS
extern const struct method by_cvode, by_arkode;
#endif
#ifdef HAVE_LAPACKE
extern const struct method by_dstemr, by_dstevd;
#endif

/* Reads all gauges from a state at time number `i`. */
void read_state(const struct problem *problem, const double rise[], int i, double value[]);

#endif
