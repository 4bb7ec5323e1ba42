/* One chain of cells through a whole timeline: pulses, pauses, something laid on the skin and taken away.
 * Within a spell the equations are linear with constant coefficients, so
 *     rise(t) = what was there when the spell began, left alone  +  what one pulse does, from cold
 * and the second is the same for every pulse. It is stepped through the pulse once (heat/stepper.h) and evaluated
 * after it at any time by the contour (heat/contour.h); the first is evaluated by the contour from spell to spell, a few
 * solves for each further pulse, or for the whole of a train at once (heat/echo.h) where nothing but pulses moves the
 * chain and no whole state is wanted.
 * Tests: tests/verification/test_train.c, tests/unit/test_timeline.c.                                                 */
#ifndef BRV_HEAT_MARCH_H
#define BRV_HEAT_MARCH_H

#include "heat/chain.h"
#include "heat/source.h"
#include "heat/timeline.h"

#include <stdbool.h>

struct brv_echo; /* heat/echo.h */

struct brv_march_ask {
    const struct brv_timeline *timeline;
    double top_bare, top_covered;       /* link[0] of the chain while nothing, or something, lies on it [W/K] */
    double inflow_bare, inflow_covered; /* constant power into the first cell then [W] */
    struct brv_source source;           /* of each pulse, timed from its start; deposit NULL: no pulses */
    bool sudden;           /* the pulse counts as given at once, at its centre; while it lasts nothing rises */
    double centre;         /* of the pulse in time; wanted when `sudden` [s] */
    double step_tolerance; /* of a step while the pulse lasts, over the largest rise [1] */
    double tolerance;      /* of the contour, over the largest rise [1] */
    double least_rise;     /* of the stepper: below this nothing need be resolved [K, or as the chain's rise] */
    size_t n_gauge;
    const struct brv_gauge *gauge; /* [n_gauge] what is written */
    bool peaks;                    /* chain->peak is wanted: highest rise at any row */
    size_t n_kept;
    const size_t *kept;    /* [n_kept] rows whose whole state is wanted; BRV_NO_BEAT: none */
    struct brv_echo *echo; /* NULL, or where the poles of a train go: its rows are then left to the caller ... */
    double echo_factor;    /* ... for all chains at once, of which this one counts so much [1] */
};

/* Energy over the whole timeline, each summed apart so that their balance is a check [J]. */
struct brv_ledger {
    double absorbed, given; /* from pulses; through the surface by the constant inflow */
    double stored, carried, lost;
};

/* All pulses must find the same surface: covered or bare.
 * Runs the chain from cold and writes curve[n_gauge][n_row] and state[n_kept][chain->n] (NULL when none is kept). At
 * the end chain->rise is the last row's; link[0] is left as top_bare.                                             */
brv_status brv_march_run(struct brv_ledger *ledger, double curve[], double state[], struct brv_chain *chain,
                         const struct brv_march_ask *ask, struct brv_error *error) BRV_MUST_CHECK;

/* What one pulse does to the cold chain: value[n_gauge][n_beat]. For chains that forget a pulse before the next one. */
brv_status brv_march_pulse(double value[], struct brv_chain *chain, const struct brv_march_ask *ask,
                           struct brv_error *error) BRV_MUST_CHECK;

/* What is missing from the ledger, as a share of all that went in or out [1]. */
double brv_ledger_missing(const struct brv_ledger *ledger);

#endif
