/* The equations of one implicit heat step along a chain of cells: a ladder of capacities and conductances.
 *     own[i] x[i] + link[i] (x[i] - x[i-1]) + link[i+1] (x[i] - x[i+1]) = right[i],   all own > 0, links >= 0
 * link[0] and link[n] are not used: what passes the ends is part of own and right. Elimination adds series and
 * parallel conductances and never subtracts, so small heat contents keep their digits however stiff the chain;
 * a diagonal -(l + u) would lose them. It goes from both ends to the middle cell, n / 2, and back: each step waits
 * for the one before, so two at a time take half as long. Test: tests/unit/test_ladder.c.                       */
#ifndef BRV_BASE_LADDER_H
#define BRV_BASE_LADDER_H

#include <stddef.h>

/* Eliminates once: pivot[n] (inverse) and pass[n] (what a cell hands on towards the middle) serve any right side. */
void brv_ladder_factor(size_t n, const double own[], const double link[], double pivot[], double pass[]);

/* Solves for one right side, in place. */
void brv_ladder_solve(size_t n, const double pivot[], const double pass[], double right[]);

#endif
