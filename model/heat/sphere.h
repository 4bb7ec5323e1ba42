/* Heat in and around one pigment grain: radial conduction in its closed cell, or in an unbounded medium.
 *     c dT/dt = (1/r^2) d/dr (k r^2 dT/dr) + q
 * Cell i is the shell between face[i] and face[i + 1]; the grain's surface is a face. A closed cell passes no heat
 * through its outside; an unbounded one follows -k dT/dr = k T / r there, the steady tail of a sphere.
 * Second order in space and time: tests/verification/test_order.c. Exact checks: tests/verification/test_sphere.c. */
#ifndef BRV_HEAT_SPHERE_H
#define BRV_HEAT_SPHERE_H

#include "heat/chain.h"

struct brv_sphere_ask {
    double radius;                            /* of the grain [m] */
    double cell_radius;                       /* of the closed cell, above `radius`; INFINITY: unbounded [m] */
    double reach;                             /* unbounded only: where the grid ends [m] */
    double conductivity, host_conductivity;   /* of grain and surroundings [W/m/K] */
    double heat_capacity, host_heat_capacity; /* per volume [J/m3/K] */
    double finest;                            /* cell at the grain's surface [m] */
    double growth;                            /* of cells away from it [1] */
    double most;        /* widest cell inside the grain and a closed cell; outside an unbounded one may widen on [m] */
    double most_around; /* around the grain in a closed cell, where that is more; 0: the same [m] */
};

struct brv_sphere {
    struct brv_chain chain; /* per steradian: [J/K], [W/K] */
    double *face;           /* [chain.n + 1] [m] */
    size_t n_grain;         /* cells inside the grain */
    double radius;          /* of the grain [m] */
    struct brv_reading centre, surface;
};

brv_status brv_sphere_build(struct brv_sphere *sphere, const struct brv_sphere_ask *ask,
                            struct brv_error *error) BRV_MUST_CHECK;

/* How to read the rise at a distance from the centre. */
struct brv_reading brv_sphere_reading(const struct brv_sphere *sphere, double radius);

double brv_sphere_grain_mean(const struct brv_sphere *sphere); /* mean rise of the grain, by heat capacity [K] */
double brv_sphere_cell_mean(const struct brv_sphere *sphere);  /* mean rise of everything in the grid [K] */
double brv_sphere_shell(const struct brv_sphere *sphere, size_t cell); /* volume of a cell per steradian [m3] */

void brv_sphere_free(struct brv_sphere *sphere);

#endif
