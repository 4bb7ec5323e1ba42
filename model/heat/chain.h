/* A chain of cells that conduct heat to their neighbours: what slab and sphere have in common.
 *     capacity[i] d rise[i]/dt = link[i] (rise[i-1] - rise[i]) + link[i+1] (rise[i+1] - rise[i]) - sink[i] rise[i]
 * rise[-1] and rise[n] are what lies outside the ends. Cells are volumes, values stand at their centres, one flux
 * per face: heat is conserved to rounding. Energies may be per area (slab) or per steradian (sphere).           */
#ifndef BRV_HEAT_CHAIN_H
#define BRV_HEAT_CHAIN_H

#include "base/status.h"

#include <stddef.h>

struct brv_chain {
    size_t n;
    double *capacity; /* [n]     heat per kelvin                                                [J/K] */
    double *link;     /* [n + 1] conductance of each face; the first and the last lead outside  [W/K] */
    double *sink;     /* [n]     heat taken away per kelvin of rise                             [W/K] */
    double *rise;     /* [n]     temperature above the start                                    [K]   */
    double *peak;     /* [n]     highest rise so far                                            [K]   */
};

/* A place where the rise is read off: a weighted sum over a few cells. */
struct brv_reading {
    size_t cell[2];
    double weight[2];
};

/* A linear measure of the chain: sum of weight[k] rise[first + k]. */
struct brv_gauge {
    size_t first, n;
    const double *weight; /* [n] borrowed */
};

/* Room for n cells, all zero. */
brv_status brv_chain_build(struct brv_chain *chain, size_t n, struct brv_error *error) BRV_MUST_CHECK;

double brv_chain_stored(const struct brv_chain *chain); /* heat above the start [J] */

double brv_chain_read(const struct brv_chain *chain, const struct brv_reading *reading);

double brv_chain_gauge(const struct brv_chain *chain, const struct brv_gauge *gauge);

void brv_chain_free(struct brv_chain *chain);

#endif
