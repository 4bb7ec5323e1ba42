/* Heat in layered skin against depth.
 *     rho c dT/dt = d/dz (k dT/dz) - perfusion T + q,   T the rise above the start
 * Faces of layers are faces of cells; the flux between two cells passes their half-resistances in series, so a
 * jump of k on a face keeps second order (tests/verification/test_order.c). The top loses `transfer` times its
 * rise (0: insulated, INFINITY: held at what lies outside); the bottom likewise.                              */
#ifndef BRV_HEAT_SLAB_H
#define BRV_HEAT_SLAB_H

#include "heat/chain.h"

struct brv_slab_layer {
    double thickness;     /* [m], finite */
    double conductivity;  /* [W/m/K]  */
    double heat_capacity; /* per volume [J/m3/K] */
    double perfusion;     /* heat taken per volume and kelvin of rise [W/m3/K] */
};

struct brv_slab_grid {
    double finest; /* cell at every face [m] */
    double growth; /* of cells away from a face [1] */
    double most;   /* widest cell; may be INFINITY [m] */
    double dark;   /* faces deeper than this take coarser cells, a hundredth of the way below it; 0: none [m] */
};

struct brv_slab {
    struct brv_chain chain; /* per area: [J/m2/K], [W/m2/K] */
    double *face;           /* [chain.n + 1] depth of faces [m] */
    double *conductivity;   /* [chain.n] [W/m/K] */
    size_t n_layer;
    size_t *first_cell; /* [n_layer + 1] where each layer starts */
};

brv_status brv_slab_build(struct brv_slab *slab, const struct brv_slab_layer layer[], size_t n_layer,
                          const struct brv_slab_grid *grid, double transfer_top, double transfer_bottom,
                          struct brv_error *error) BRV_MUST_CHECK;

/* How to read the rise at a depth; straight lines between centres that bend at the faces of layers. */
struct brv_reading brv_slab_reading(const struct brv_slab *slab, double depth);

/* Conductance from a cell's centre to one of its faces, per area [W/m2/K]. */
double brv_slab_half_conductance(const struct brv_slab *slab, size_t cell);

void brv_slab_free(struct brv_slab *slab);

#endif
