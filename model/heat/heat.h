/* What the light becomes: temperature of the layers and of one grain against time.
 * The front of this folder and its parts (heat_layers, heat_beside, heat_grain): they know tissue, light and scenario.
 *     layers   the skin on the axis, against depth
 *     beside   what leaves the axis sideways, where a run is long enough for it
 *     grain    = layer + (sphere - mean of its cell): no energy counts twice, and the grain is its layer once the cell
 *              is flat. A grain alone (no pigment share) sits in an unbounded medium, the mean of its cell is zero.
 * Pulses, their number and pauses, and what lies on the skin when: timeline.h. All rises are departures from the
 * start profile. Linear: no boiling, no latent heat, no ablation, no coagulation. Theory: docs/theory/heat.md.      */
#ifndef BRV_HEAT_HEAT_H
#define BRV_HEAT_HEAT_H

#include "heat/cooling.h"
#include "heat/history.h"
#include "heat/march.h"
#include "heat/slab.h"
#include "heat/timeline.h"
#include "light/light.h"
#include "scenario/scenario.h"
#include "tissue/tissue.h"

#define BRV_AUDIT_TOLERANCE 1e-10 /* share of the absorbed energy that may go missing */
#define BRV_STEP_TOLERANCE  1e-6  /* error of one step over the largest rise; see tests/verification/test_run.c */
#define BRV_GLIDE_TOLERANCE 1e-12 /* error of the contour over the largest rise: what the audit needs */

#define BRV_HEAT_REACH      6.0    /* an endless layer is cut so many diffusion lengths down */
#define BRV_HEAT_NEGLIGIBLE 1e-3   /* of the rise to come: not resolved on the way up */
#define BRV_HEAT_NOTHING    1e-250 /* heat of a cell, so deep in the dark that numbers lose their digits [J] */

struct brv_audit {
    struct brv_ledger skin; /* the layers over the whole run [J/m2] */
    double layers;          /* what is missing there, as a share of what went in [1] */
    double pulses;          /* the same for the pulses alone: a cold plate moves so much heat that theirs would be lost
                               in it; 0 where nothing cools [1] */
    double beside;          /* the same for the disc; 0 where there is none [1] */
    double beside_share;    /* energy the disc was given over what the skin takes up of the whole beam; NAN without
                               a disc. The map of light ends somewhere, beyond it the light is continued [1] */
    double grain;           /* the same for the grain's cell [1] */
    double join; /* energy of all cells of the layer against the layer's own, as a share; 0 where no cells [1] */
    double
        held; /* of the lead over its cell that the grain would have without conduction, the share that is there at the
                       end of the first pulse: 1 all of it, 0 the heat is shared evenly with its cell. Less than the
                       share of the heat that is in the grain, for that of an even cell is no lead [1] */
};

/* What the parts need to know. */
struct brv_heat_ask {
    const struct brv_tissue *tissue;
    const struct brv_light *light;
    const struct brv_scenario *scenario;
    const struct brv_timeline *timeline;
    const size_t *profile_row; /* rows of the grain's profiles */
};

/* The relaxation of this tissue's grain, heated at once, in its own cell. */
brv_status brv_heat_relax(struct brv_cooling *cooling, const struct brv_tissue *tissue,
                          struct brv_error *error) BRV_MUST_CHECK;

/* Runs layers, disc and grain to watch.until. BRV_NUMERICS when an audit does not close to BRV_AUDIT_TOLERANCE. */
brv_status brv_heat_run(struct brv_history *history, struct brv_audit *audit, const struct brv_tissue *tissue,
                        const struct brv_light *light, const struct brv_scenario *ask,
                        struct brv_error *error) BRV_MUST_CHECK;

/* Does something of its own temperature ever lie on the skin, so that it is cooled or warmed without a pulse? */
bool brv_heat_draws(const struct brv_scenario *ask);

/* ---- for the parts ---- */

double brv_heat_span(const struct brv_heat_ask *ask);       /* from the start of the run to its end [s] */
double brv_heat_thickness(const struct brv_tissue *tissue); /* of the skin, without a film; may be INFINITY [m] */
double brv_heat_adiabatic(const struct brv_chain *chain,
                          const double deposit[]); /* highest rise without conduction [K] */
struct brv_source brv_heat_source(const double deposit[], const struct brv_pulse *pulse);

brv_status brv_heat_slab(struct brv_slab *slab, const struct brv_heat_ask *ask, const struct brv_slab_grid *grid,
                         struct brv_error *error) BRV_MUST_CHECK;
void brv_heat_deposit(double all[], double pigment[], const struct brv_slab *slab, const struct brv_heat_ask *ask);

#endif
