/* Light of a narrow beam in plane layers by a walk of photons; one run serves every spot.
 * A pencil of photons enters the surface at one point, at normal incidence. Directions follow Henyey-Greenstein, faces
 * reflect by Fresnel, what is left of a drawn way is carried across faces, and absorption takes weight at every
 * interaction until a roulette ends the photon. Scored is the response, by depth cell and ring about the entry:
 *     G = integral over the ring of the fluence, mean over the cell's depth, per unit energy of the pencil   [1]
 * By reciprocity the fluence on the axis of a beam, over its incident fluence there, is the area sum
 *     phi/H0 = sum over rings of G x (mean of the beam's profile over the ring),
 * so thin bins on the axis are never needed; off the axis the profile is averaged around a circle about that point.
 * A ring that the edge of a flat beam cuts is shared by area: with the even ratio of brv_sampled_rings this is below
 * 3e-4 of the value; radii wanted exactly are put among the rings.
 *
 * Random numbers are counter-based (base/random.h), keyed by seed, photon and step. Photons are walked in batches
 * that are added up in order: the same bytes for any number of threads. Batches go in turn to 64 groups and the
 * groups' sums are kept, so every number, also a sum over rings, has a standard error from the spread of the groups
 * (itself good to 9 %). Memory: 64 groups and one map per thread of 8 bytes per cell, 64 MB and 1 MB per thread at
 * most; maps above 2^17 cells are refused. Conventions as in layered.h: fluence over incident fluence, before the mirror reflection.
 * Checks: tests/verification/test_sampled.c. Source: [van-de-hulst-1980], [salmon-2011]           */
#ifndef BRV_LIGHT_SAMPLED_H
#define BRV_LIGHT_SAMPLED_H

#include "base/status.h"
#include "light/layered.h"

#include <signal.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

enum {
    BRV_SAMPLED_GROUPS = 64,
    BRV_SAMPLED_MOST_CELLS = 1 << 17, /* (depth cells + 1) x (rings + 1) */
    BRV_SAMPLED_MOST_THREADS = 256
};
#define BRV_SAMPLED_MOST_PHOTONS UINT64_C(1000000000000)
#define BRV_SAMPLED_MOST_ALBEDO  0.99999 /* of an endless layer: without absorption no walk in it would end */

/* After every batch, by one thread at a time: photons done and wanted, and the worst relative standard error that
 * `error` of the ask is about (INFINITY where it is not looked at).                                             */
typedef void (*brv_sampled_progress)(void *context, uint64_t done, uint64_t wanted, double error);

struct brv_sampled_ask {
    size_t n_medium;
    const struct brv_medium
        *medium; /* [n_medium]; as in layered.h; an endless last layer scatters below albedo 0.99999 */
    double outside_index, below_index;
    size_t n_depth;
    const double *depth; /* [n_depth + 1] faces of the depth cells, from 0; faces of layers above the last are among
                            them [m] */
    size_t n_ring;
    const double *ring; /* [n_ring + 1] radii, from 0; all beyond the last is one more ring; last/first below 1e9 [m] */
    uint64_t seed;
    uint64_t photons; /* stop after this many, 1 to 1e12 */
    double error;   /* ... or when the relative standard error of the axis fluence of a beam `watched` is below this in
                     every depth cell where it exceeds 1e-2; 0: never [1] */
    double watched; /* flat diameter; 0: 4 mm [m] */
    double spread;  /* diameter of the beam to start from; 0: a pencil. Then rings are about the
                                          beam's axis and the responses of the map are those of this beam [m] */
    bool gaussian;  /* `spread` is a 1/e2 diameter */
    unsigned threads;                  /* 0: as many as the machine offers; at most 256 */
    unsigned variant;                  /* 0: the fastest; else 1 + number of a variant of lanes.h, for tests */
    const volatile sig_atomic_t *stop; /* not zero: drop the batch in hand and finish; may be NULL */
    brv_sampled_progress progress;     /* may be NULL */
    void *context;
};

struct brv_mean {        /* a sampled number */
    double value, error; /* error: standard error of the value; INFINITY while there is one group only */
};

struct brv_sampled {
    size_t n_depth, n_ring, n_medium;
    size_t n_group;       /* filled groups, 64 but for short runs                                          */
    double *depth, *ring; /* copies of the asked faces                                                 [m] */
    double *share;        /* [n_group] photons of each group                                               */
    double *response;     /* [n_group][n_depth][n_ring + 1] sum of G over the group's photons          [1] */
    struct brv_mean reflected_specular, reflected_diffuse, transmitted; /* as in layered.h             [1] */
    struct brv_mean *absorbed; /* [n_medium]                                                           [1] */
    struct brv_mean roulette;  /* weight that chance took less what it gave: 0 within its error; with it and those
                                  above, reflected + transmitted + absorbed is 1 to rounding           [1] */
    uint64_t photons;          /* walked and counted                                                       */
    uint64_t events;           /* their interactions                                                       */
    bool stopped;              /* by `stop` before it was done; the counted photons stand                  */
};

/* BRV_RANGE: photons, error, map, albedo or threads outside what is allowed; BRV_ORDER: faces not ascending from 0, or
 * a layer's face that is not among the depths; BRV_MEMORY. On failure `light` is empty.                            */
brv_status brv_sampled_solve(struct brv_sampled *light, const struct brv_sampled_ask *ask,
                             struct brv_error *error) BRV_MUST_CHECK;

/* Fluence over axis fluence of a beam of this diameter, on its axis, mean of one depth cell. `gaussian`: 1/e2
 * diameter. Of a beam wider than the rings only the part within them counts.                                  */
struct brv_mean brv_sampled_axis(const struct brv_sampled *light, double diameter, bool gaussian, size_t depth_cell);

/* The same at a distance from the axis. */
struct brv_mean brv_sampled_beside(const struct brv_sampled *light, double diameter, bool gaussian, double radius,
                                   size_t depth_cell);

/* The same for many depths: weight[n_ring] is the mean of the beam's profile over every ring about the point, and costs
 * far more than what is then read with it.                                                                          */
void brv_sampled_weigh(double weight[], const struct brv_sampled *light, double diameter, bool gaussian, double radius);
struct brv_mean brv_sampled_weighed(const struct brv_sampled *light, const double weight[], size_t depth_cell);

/* Plane integral of the response in one depth cell: what an endless beam has there. */
struct brv_mean brv_sampled_wide(const struct brv_sampled *light, size_t depth_cell);

/* The response of one ring itself, n_ring for all beyond the last. */
struct brv_mean brv_sampled_ring(const struct brv_sampled *light, size_t depth_cell, size_t ring);

/* Mean and its error of any number whose sum over the photons of each group is sum[n_group]. */
struct brv_mean brv_sampled_mean(const struct brv_sampled *light, const double sum[]);

/* Radii in an even ratio for beams of 0.5 to 30 mm: 0, 10 um ... 16 mm; fills ring[n + 1]. */
void brv_sampled_rings(double *ring, size_t n);

void brv_sampled_free(struct brv_sampled *light);

#endif
