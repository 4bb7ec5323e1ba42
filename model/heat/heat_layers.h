/* The layered skin on the axis of the beam: part of the front of this folder.
 * A slab in depth holds everything the light of the axis brings; what leaves sideways is heat_beside's.
 * Three linear problems on one slab, added: the pulses, their pigment's part alone, and what the skin loses to a gel,
 * moving air or a plate. Rises are departures from the start profile, which the flux from below and still air keep
 * steady: while nothing but still air lies on the skin it loses BRV_AIR_TRANSFER x rise. Under a finite stack lies nothing,
 * for heat as for light.                                                                                           */
#ifndef BRV_HEAT_HEAT_LAYERS_H
#define BRV_HEAT_HEAT_LAYERS_H

#include "heat/heat.h"
#include "heat/march.h"
#include "heat/slab.h"
#include "heat/start.h"

#define BRV_NO_LAYER ((size_t)-1)

enum { BRV_MOST_LAYER_PROBES = 1 + BRV_MOST_DEPTHS + 1 + BRV_N_MARK + BRV_MOST_LAYERS };

struct brv_layers {
    struct brv_slab slab;
    struct brv_start start;
    double *deposit, *pigment;           /* [n cell] by one pulse, all of it and the pigment's part [J/m2] */
    double *mean;                        /* [n cell] weights of the means over layers */
    double above;                        /* of a film on the skin: cells count from its outside, depths do not [m] */
    size_t n_probe;                      /* as in history.h from BRV_PROBE_LAYER on */
    double depth[BRV_MOST_LAYER_PROBES]; /* of means, the top of the layer [m] */
    size_t layer[BRV_MOST_LAYER_PROBES]; /* over which the probe is a mean, or BRV_NO_LAYER: at a depth */
    struct brv_reading reading[BRV_MOST_LAYER_PROBES];
    struct brv_gauge gauge[BRV_MOST_LAYER_PROBES];
    double top_covered; /* link[0] while something lies on the skin [W/m2/K] */
    double draw;        /* power it then takes from skin at the start temperature, beyond the steady flux [W/m2] */
};

brv_status brv_layers_build(struct brv_layers *layers, const struct brv_heat_ask *ask,
                            struct brv_error *error) BRV_MUST_CHECK;

/* A march over these layers with nothing to give yet. */
struct brv_march_ask brv_layers_march(const struct brv_layers *layers, const struct brv_heat_ask *ask);

/* How many probes a history of these layers has, and which is which. */
size_t brv_layers_probes(const struct brv_layers *layers);
void brv_layers_name(struct brv_history *history, const struct brv_layers *layers);

/* Gauges of all probes on cells of a slab of these layers: mean[n cell] and reading[] are what they point to. */
void brv_layers_gauge(struct brv_gauge gauge[], double mean[], struct brv_reading reading[],
                      const struct brv_layers *layers, const struct brv_slab *slab, const struct brv_tissue *tissue);

/* Fills the probes from BRV_PROBE_LAYER on, start, profile in depth and the audit of the layers. */
brv_status brv_layers_run(struct brv_history *history, struct brv_audit *audit, struct brv_layers *layers,
                          const struct brv_heat_ask *ask, struct brv_error *error) BRV_MUST_CHECK;

void brv_layers_free(struct brv_layers *layers);

#endif
