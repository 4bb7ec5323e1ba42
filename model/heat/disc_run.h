/* A whole disc in the course of time: every mode of model/heat/disc.h moved by the stepper.
 * The modes share nothing until they are summed, in the order of their numbers: the same bytes for any number of
 * threads. A mode into which nothing goes is left out.
 * With a tolerance every mode finds its own steps, resolved to that share of its own largest amplitude or, where that
 * is more, of the rise averaged over the whole disc: what has died away costs nothing. 1e-5 leaves 8e-5 of the rise on
 * the axis after a pulse on skin, 1e-6 leaves 2e-5. Even steps are the same in all modes; then the disc is linear in
 * start and deposit to rounding. Test: tests/verification/test_disc.c.                                            */
#ifndef BRV_HEAT_DISC_RUN_H
#define BRV_HEAT_DISC_RUN_H

#include "heat/disc.h"
#include "heat/source.h"

struct brv_disc_ask {
    const struct brv_slab *slab;     /* cells by depth, ends, perfusion; its own rise is not looked at */
    const struct brv_radial *radial; /* cells across */
    const double *start;             /* [radial n][slab n] rise at time 0; NULL: none [K] */
    struct brv_source source;        /* deposit [radial n][slab n], per area [J/m2] */
    size_t n_time;
    const double *time; /* [n_time] ascending, the first may be 0 [s] */
    size_t n_depth;
    const double *depth; /* [n_depth] where the axis is read [m] */
    double tolerance;    /* of a step, see above [1] */
    size_t even_steps;   /* from one time to the next; 0: as many as the tolerance asks */
    unsigned threads;    /* 0: as many as the machine offers */
};

/* Where the heat is at the last time, per radian or per length [J or J/m]. A loss at the outer end of the radial is
 * among what is carried away: to a mode it is a sink like any other.                                              */
struct brv_disc_audit {
    double in, stored, carried, lost;
    double missing; /* in - stored - carried - lost, as a share of `in` [1] */
};

struct brv_disc_course {
    size_t n_time, n_depth;
    double *axis;                /* [n_depth][n_time] rise on the axis [K] */
    struct brv_disc_field field; /* at the last time */
    struct brv_disc_audit audit;
    size_t n_step; /* of all modes */
};

brv_status brv_disc_run(struct brv_disc_course *course, const struct brv_disc_ask *ask,
                        struct brv_error *error) BRV_MUST_CHECK;

void brv_disc_course_free(struct brv_disc_course *course);

#endif
