/* What the pulses of a train leave to those after them, without going through the train: the pulses are alike, so every
 * one leaves the same curve, and what is there at a time is the sum of that curve at all the times that have gone by
 * since. The curve is a sum over poles (heat/contour.h), and so is the sum of any number of it: a few solves serve the
 * whole train, where going from spell to spell takes a few for every pulse. All chains of one train have the same
 * poles, so curves that are to be added anyway, those of the modes of a disc, are added there and read once.
 * Test: tests/verification/test_train.c, against the same train from spell to spell.                              */
#ifndef BRV_HEAT_ECHO_H
#define BRV_HEAT_ECHO_H

#include "heat/contour.h"
#include "heat/timeline.h"

struct brv_echo_train {
    const struct brv_timeline *timeline;
    size_t first, last; /* spells: every one from first to last is begun by a pulse, the chain unchanged */
    double origin;      /* of the curve, after the start of a pulse [s] */
    double tolerance;   /* of the contour, for the curve of one pulse [1] */
    size_t n_gauge;     /* what is written; at most BRV_CONTOUR_GAUGES - 2 */
};

struct brv_echo_chain {
    const struct brv_chain *chain;
    const double *heat;             /* [n] what one pulse has left there [J] */
    const struct brv_gauge *gauge;  /* [n_gauge] */
    struct brv_gauge carried, lost; /* flows of heat [W] */
    double factor;                  /* its curves count so much [1] */
};

/* Chains added up; starts as all zero. */
struct brv_echo {
    struct brv_echo_train train;
    size_t n_window;
    double *from;                /* [n_window + 1] where each window of times begins, and the last ends [s] */
    struct brv_octet *projected; /* [n_window][n_gauge][MOST_OCTETS] gauges of the poles */
    struct brv_octet *scratch;   /* [n_gauge + 2][MOST_OCTETS] */
};

/* Can it be had so? It takes a third pulse, and time between two in which the last energy of one has arrived. */
bool brv_echo_serves(const struct brv_echo_train *train);

/* Makes room; for an echo that has begun already nothing is done: its trains must be the same. On failure `echo` is
 * empty.                                                                                                            */
brv_status brv_echo_begin(struct brv_echo *echo, const struct brv_echo_train *train,
                          struct brv_error *error) BRV_MUST_CHECK;

/* Adds a chain. Adds to rise [n] what all these pulses have left in it at the start of `last`, and to `carried` and
 * `lost` what has flowed out of it by then. Room of the contour: for the chain.                                     */
void brv_echo_add(struct brv_echo *echo, double rise[], double *carried, double *lost, struct brv_contour *contour,
                  const struct brv_echo_chain *one);

/* Adds the curves of all chains to the rows of the spells before `last`: curve[n_gauge][n_row]. Beats of a spell hold its
 * own pulse already; other rows of it do not, and get it. The contour needs no room.                                 */
void brv_echo_read(double curve[], const struct brv_echo *echo, struct brv_contour *contour);

void brv_echo_free(struct brv_echo *echo);

#endif
