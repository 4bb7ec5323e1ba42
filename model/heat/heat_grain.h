/* One pigment grain in its closed cell: part of the front of this folder.
 * Adds to the layer's curves what only the grain has, the departure of the sphere from the mean of its cell.        */
#ifndef BRV_HEAT_HEAT_GRAIN_H
#define BRV_HEAT_HEAT_GRAIN_H

#include "heat/heat.h"
#include "heat/sphere.h"

/* Cells fine enough for heat that travels for `shortest`; an unbounded grid reaches as far as heat until `longest`. */
struct brv_sphere_ask brv_grain_cells(const struct brv_grain *grain, double shortest, double longest);

/* Energy of one pulse in every shell, per steradian [J]: all[] is the grain's own and what its surroundings absorb when
 * they are a cell of the layer (far from a grain that is alone the slab already holds that heat); pigment[] is the
 * grain's own. `fluence` at the grain [J/m2].                                                                       */
void brv_grain_deposit(double all[], double pigment[], const struct brv_sphere *sphere, const struct brv_grain *grain,
                       double fluence);

enum { BRV_GRAIN_CENTRE, BRV_GRAIN_MEAN, BRV_GRAIN_SURFACE, BRV_GRAIN_CELL, BRV_N_GRAIN_GAUGE };

/* Centre, mean and surface of the grain and the mean of its cell; inner[n] and whole[n] are what the means point to. */
void brv_grain_gauge(struct brv_gauge gauge[BRV_N_GRAIN_GAUGE], double inner[], double whole[],
                     const struct brv_sphere *sphere);

/* A march of this grain under pulses that leave deposit[n]. */
struct brv_march_ask brv_grain_march(const struct brv_sphere *sphere, const struct brv_grain *grain,
                                     const double deposit[], const struct brv_heat_ask *ask);

/* Fills excess and profiles and the first three probes, from the layer's, which must be there already; and the audit
 * of the grain.                                                                                                   */
brv_status brv_grain_run(struct brv_history *history, struct brv_audit *audit, struct brv_sphere *sphere,
                         const struct brv_heat_ask *ask, struct brv_error *error) BRV_MUST_CHECK;

#endif
