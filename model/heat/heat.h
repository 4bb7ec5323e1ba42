/* What the light becomes: temperature of the layers and of one grain against time.
 * The front of this folder: it knows tissue, light and scenario. The layered skin is a slab; the grain is a sphere
 * in its closed cell, and
 *     grain = layer + (sphere - mean of its cell),
 * so no energy counts twice and the grain is its layer once the cell is flat. A grain alone (no pigment share)
 * sits in an unbounded medium and the mean of its cell is zero.
 * Uniform start at the surface temperature, insulated surface, perfusion acting on the rise. Linear: no boiling, no
 * latent heat, no ablation, no coagulation. Theory: docs/theory/heat.md.                                      */
#ifndef BRV_HEAT_HEAT_H
#define BRV_HEAT_HEAT_H

#include "heat/cooling.h"
#include "heat/history.h"
#include "light/light.h"
#include "scenario/scenario.h"
#include "tissue/tissue.h"

#define BRV_AUDIT_TOLERANCE 1e-10 /* share of the absorbed energy that may go missing */

struct brv_audit {
    double absorbed, stored, carried, lost; /* by the layers, at the last time [J/m2] */
    double layers;                          /* absorbed - stored - carried - lost, as a share of absorbed [1] */
    double grain;                           /* the same for the grain's cell [1] */
    double join; /* energy of all cells of the layer against the layer's own, as a share; 0 where no cells [1] */
    double held; /* share of the grain's heat that has not left it at the end of the pulse: 1 nothing has, 0 it is
                       shared evenly with its cell [1] */
};

/* The relaxation of this tissue's grain, heated at once, in its own cell. */
brv_status brv_heat_relax(struct brv_cooling *cooling, const struct brv_tissue *tissue,
                          struct brv_error *error) BRV_MUST_CHECK;

/* Runs slab and sphere to watch.until. BRV_NUMERICS when the audit does not close to BRV_AUDIT_TOLERANCE. */
brv_status brv_heat_run(struct brv_history *history, struct brv_audit *audit, const struct brv_tissue *tissue,
                        const struct brv_light *light, const struct brv_scenario *ask,
                        struct brv_error *error) BRV_MUST_CHECK;

#endif
