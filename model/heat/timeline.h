/* When things happen. The time of a run is cut into spells: each is begun by a pulse, or by something being laid on
 * the skin or taken away, and within a spell the equations have constant coefficients. Times are counted from the
 * start of their spell, so eight nanoseconds after the tenth pulse keep all their digits; '9 s + 8 ns' in one number
 * would not.
 * The rows of a spell are the times at which temperatures are written. Spells begun by a pulse take theirs from one
 * common list, the beats: what a pulse does is then asked for once, however many there are. A spell begun by something
 * laid on or taken away goes on with the beats of the pulse before it.                                             */
#ifndef BRV_HEAT_TIMELINE_H
#define BRV_HEAT_TIMELINE_H

#include "base/status.h"

#include <stdbool.h>
#include <stddef.h>

enum { BRV_MOST_LANDMARKS = 16 };

#define BRV_NO_BEAT ((size_t)-1)

struct brv_timeline_ask {
    size_t n_pulse;      /* at least 1 */
    const double *pulse; /* [n_pulse] starts of the pulses, ascending, the first 0 [s] */
    double window;       /* of one pulse: when its last energy has arrived, at most the distance of two starts [s] */
    double end;          /* what is called the end of a pulse, within the window [s] */
    double grain;        /* a time in which the grain cools noticeably [s] */
    double from, to;     /* something lies on the skin between these; from >= to: never. What misses the start of a
                            pulse by rounding means that start [s] */
    double until;        /* the last time [s] */
    size_t n_landmark;   /* further beats ... */
    double landmark[BRV_MOST_LANDMARKS]; /* ... after the start of a pulse, ascending [s] */
};

struct brv_spell {
    double start;     /* from the start of the first pulse; negative before it [s] */
    double length;    /* [s] */
    double since;     /* from the start of the last pulse to the start of this spell [s] */
    size_t pulse;     /* how many pulses have begun, with this one */
    bool fired;       /* a pulse begins it */
    bool covered;     /* something lies on the skin */
    size_t first_row; /* its rows; the last of them is its end */
    size_t n_row;
};

struct brv_timeline {
    size_t n_spell;
    struct brv_spell *spell; /* [n_spell] */
    size_t n_row;            /* row 0 is the start of the first spell and belongs to none */
    double *time;            /* [n_row] within the spell [s] */
    size_t *beat;            /* [n_row] which beat it is, or BRV_NO_BEAT */
    size_t n_beat;
    double *beats; /* [n_beat] ascending, after the start of a pulse [s] */
    size_t n_pulse;
    size_t *before; /* [n_pulse] the row just before each pulse */
};

brv_status brv_timeline_build(struct brv_timeline *timeline, const struct brv_timeline_ask *asked,
                              struct brv_error *error) BRV_MUST_CHECK;

/* The row of a beat, nearest to `since`, after the start of pulse `pulse` (from 1); BRV_NO_BEAT if there is none
 * within a millionth of it.                                                                                      */
size_t brv_timeline_row(const struct brv_timeline *timeline, size_t pulse, double since);

void brv_timeline_free(struct brv_timeline *timeline);

#endif
