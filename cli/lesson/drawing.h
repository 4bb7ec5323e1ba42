/* Figures that lessons share: curves or points over one axis, drawn twice. `lesson_answer` shows them with the answer;
 * `lesson_guess`, with the question, has the same axes and nothing in them, to draw into. The scripts stand in plots/.  */
#ifndef BRV_CLI_LESSON_DRAWING_H
#define BRV_CLI_LESSON_DRAWING_H

#include "lesson/exercise.h"
#include "report/compare.h"

enum { BRV_DRAWING_CURVES = 4, BRV_DRAWING_ROWS = 1024, BRV_DRAWING_NAME = 48 };

/* An axis. Its column in the CSV is in SI; what is drawn is that times `scale`. Without `from` < `to` it is as long as its
 * numbers want.                                                                                                     */
struct brv_drawing_axis {
    const char *column, *label;
    double scale;
    bool log;
    bool seconds;    /* written as 1 ns, 1 us, 1 ms, 1 s; the scale is then 1 */
    double from, to; /* drawn */
};

/* A line or points, lesion or neighbour, grain or layer: at most BRV_DRAWING_CURVES, in the order of their colours and
 * marks. Arrays are borrowed.                                                                                       */
struct brv_drawing_curve {
    const char *name; /* stands beside it */
    size_t n;
    const double *x, *y;      /* [n] in SI; rows with a y that is no number are left out */
    const double *low, *high; /* [n] or NULL */
    bool points;
};

struct brv_drawing {
    struct brv_drawing_axis x, y;
    size_t n_curve;
    struct brv_drawing_curve curve[BRV_DRAWING_CURVES];
    const char *const *names; /* [n_name] of x = 1, 2, ... where it counts choices; NULL: x is a number */
    size_t n_name;
    double mark;           /* an upright line with the answer, in SI; 0: none */
    const char *mark_name; /* what it is */
    const char *asked;     /* below the heading */
    const char *caption;   /* of the answer's figure, a literal */
};

/* Adds both figures. */
void brv_drawing_add(struct brv_exercise *exercise, const struct brv_drawing *drawing);

/* Points for one headline of all choices, lesion and neighbour, named by choice: the commonest figure of a lesson. */
void brv_drawing_choices(struct brv_exercise *exercise, const struct brv_compared *compared, enum brv_headline which,
                         bool log, const char *caption);

#endif
