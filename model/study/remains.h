/* What is left of grains that are alike but for their darkness, when each visit takes all that are darker than some
 * darkness, another one at every visit, and a share r of what is missing is back at the next.
 *     before the first visit      there = 1
 *     at visit n                  there = 0 for ln darkness > edge[n]
 *     before visit n + 1          there -> there + r (1 - there)
 * So grains taken last at visit m are there at visit n in the share 1 - (1 - r)^(n - m), and the darker a grain is, the
 * later it was taken last: what is left is a flight of steps in the darkness, no class is cut out of the log-normal, and
 * nothing is rounded but the steps' edges. What returns is of the kind that is missing, this project's choice.
 * Against classes of darkness followed one by one: tests/unit/test_remains.c.                                        */
#ifndef BRV_STUDY_REMAINS_H
#define BRV_STUDY_REMAINS_H

#include "effect/population.h"

#include <stddef.h>

enum { BRV_MOST_VISITS = 60 };

/* Grains between edge[k] and edge[k + 1], or darker than the last, were taken last at visit[k]. */
struct brv_remains {
    size_t n;
    double edge[BRV_MOST_VISITS];  /* [n] ln darkness, rising [1] */
    size_t visit[BRV_MOST_VISITS]; /* [n] rising; the first visit is 1 */
};

/* Shares of the grains before the first visit, by their number and by what their darknesses add up to [1]. */
struct brv_missing {
    double grains, blackness;
};

/* away[k]: share still missing when k shares have returned, (1 - r)^k; k up to BRV_MOST_VISITS. */
void brv_remains_away(double away[BRV_MOST_VISITS + 1], double returns);

/* What is missing of the grains darker than exp(ln) at visit number `now`: before it, or once it is told to
 * brv_remains_take, after it. -INFINITY for ln: of all grains.                                                       */
struct brv_missing brv_remains_missing(const struct brv_remains *remains, const struct brv_population *population,
                                       const double away[BRV_MOST_VISITS + 1], size_t now, double ln);

/* Share of all grains, by number, that a visit would take with this edge. */
double brv_remains_taken(const struct brv_remains *remains, const struct brv_population *population,
                         const double away[BRV_MOST_VISITS + 1], size_t now, double edge);

/* Visit number `now`, counted from 1 and one higher each time, takes all that are darker than exp(edge). */
void brv_remains_take(struct brv_remains *remains, size_t now, double edge);

#endif
