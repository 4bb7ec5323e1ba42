/* The rise of a chain at any time of a window, without stepping there: the inverse Laplace transform along a hyperbola.
 *     y(t) = 1/(2 pi i) integral e^(z t) (z C + K)^-1 (heat + inflow / z) dz,   z(u) = m (1 + sin(i u - phi))
 * solves C dy/dt = -K y + inflow from C y(0) = heat; C are the capacities, K the links and sinks of the chain, what
 * lies outside its ends stays at rise 0. The midpoint rule makes it a sum over a few dozen poles z, each one ladder of
 * complex numbers; the lower half of the hyperbola is the mirror image of the upper. The same poles serve all times
 * from `from` to `to`, so the more times are asked the less each costs, and none depends on an earlier one.
 *
 * Accuracy: every mode e^(-lambda t) of the chain, at any lambda >= 0, is met within an eighth of `tolerance`, and so
 * is every mode of an inflow, as a share of what a closed chain would receive until `to`. Hence an error of at most
 *     tolerance x (|heat / capacity| + to |inflow / capacity|)
 * in the mean square weighted with capacity; in the largest of all cells, too, but there it is the tests that say so.
 * It is absolute: a rise that has fallen to a thousandth of y(0) has three digits less. Tolerances from 1e-12 to 1e-2;
 * rounding stays near 1e-13 because e^(z t) nowhere exceeds e^6. Tests: tests/verification/test_contour.c against the
 * modes of the same chain, steps and a closed form; tests/unit/test_contour.c.
 * Source: [weideman-trefethen-2007] for hyperbola and rule, from memory and proved by these tests.              */
#ifndef BRV_HEAT_CONTOUR_H
#define BRV_HEAT_CONTOUR_H

#include "base/octet.h"
#include "heat/chain.h"

#include <stdbool.h>

enum {
    BRV_CONTOUR_MOST_POLES = 64,
    BRV_CONTOUR_MOST_OCTETS = BRV_CONTOUR_MOST_POLES / BRV_OCTET,
    BRV_CONTOUR_GAUGES = 32 /* read at once; more are taken in turns */
};

struct brv_contour {
    size_t most_cells, n;                             /* room, and cells of the chain last aimed at */
    double from, to;                                  /* window [s] */
    size_t n_octet;                                   /* poles in use, by eights */
    struct brv_octet pole[BRV_CONTOUR_MOST_OCTETS];   /* z [1/s] */
    struct brv_octet weight[BRV_CONTOUR_MOST_OCTETS]; /* (dz/du) times step of u / pi [1/s] */
    struct brv_octet *rise;                           /* [n_octet][n] (z C + K)^-1 (heat + inflow / z) [K s] */
    struct brv_octet *scratch;                        /* [2 most_cells] */
    struct brv_octet *projected;                      /* [MOST_OCTETS][GAUGES] weight times gauges of rise */
    struct brv_octet_steps steps;                     /* what works on octets here */
};

/* Room for chains of at most `most_cells`. */
brv_status brv_contour_build(struct brv_contour *contour, size_t most_cells, struct brv_error *error) BRV_MUST_CHECK;

/* Solves all poles for this chain, of which only capacity, link and sink are used, and for times in [from, to], from >
 * 0. There is room for any ratio to / from up to 500; brv_contour_poles tells for wider ones. heat [J] or inflow [W],
 * [n], may be NULL: none. Neither they nor the chain are needed afterwards.                                         */
void brv_contour_aim(struct brv_contour *contour, const struct brv_chain *chain, double from, double to,
                     double tolerance, const double heat[], const double inflow[]);

/* The poles alone, for readings below of what was projected before; every aim at these times with this tolerance has the
 * same. `fed`: with an inflow.                                                                                       */
void brv_contour_lay(struct brv_contour *contour, double from, double to, double tolerance, bool fed);

/* value[g * n_time + i]: gauge g at time[i]. Times in any order. */
void brv_contour_read(const struct brv_contour *contour, size_t n_gauge, const struct brv_gauge gauge[], size_t n_time,
                      const double time[], double value[]);

/* The same when the heat came evenly in the time `width` that ends at time 0: the mean over y(time) ... y(time +
 * width), with the same accuracy however short the pulse. time >= from, time + width <= to.                        */
void brv_contour_read_pulse(const struct brv_contour *contour, double width, size_t n_gauge,
                            const struct brv_gauge gauge[], size_t n_time, const double time[], double value[]);

/* The rise of all cells [n]. */
void brv_contour_state(const struct brv_contour *contour, double time, double rise[]);

/* Integral of a gauge from 0 to `time`. When the gauge is a flow of heat (sinks, links of the ends), the energy that
 * has flowed is as accurate, as a share of all heat, as the rise is; the integral of a rise that hardly falls is so
 * to 30 tolerance, as a share of y(0) to.                                                                      */
double brv_contour_gathered(const struct brv_contour *contour, const struct brv_gauge *gauge, double time);

/* ---- the same heat laid down again and again ----
 * Sum over k of y(since[k] + time): the weights of the poles are summed over k first, so that a reading costs the same
 * however many there are. Every since[k] + time lies in the window.                                                 */

struct brv_contour_sum {
    struct brv_octet weight[BRV_CONTOUR_MOST_OCTETS]; /* weight times sum of e^(z since) [1/s] */
    double least;                                     /* shortest `since`; INFINITY: none yet [s] */
};

struct brv_contour_sum brv_contour_no_sum(void);
void brv_contour_join(struct brv_contour_sum *sum, const struct brv_contour *contour, double since);

/* The integral from 0 to `since` in place of y(since), for `time` 0: see brv_contour_gathered. */
void brv_contour_join_gathered(struct brv_contour_sum *sum, const struct brv_contour *contour, double since);

/* Gauges of the poles, projected[n_gauge][MOST_OCTETS]: wanted by the readings below, once for all of them. */
void brv_contour_project(struct brv_octet projected[], const struct brv_contour *contour, size_t n_gauge,
                         const struct brv_gauge gauge[]);

/* Adds what the sum is `time` later: to value[g * stride], or to the rise of all cells [n]. */
void brv_contour_add(double value[], size_t stride, const struct brv_contour *contour,
                     const struct brv_octet projected[], size_t n_gauge, const struct brv_contour_sum *sum,
                     double time);
void brv_contour_add_state(double rise[], const struct brv_contour *contour, const struct brv_contour_sum *sum);

void brv_contour_free(struct brv_contour *contour);

/* How many poles a window of this ratio to / from takes; `fed`: with an inflow. May exceed what there is room for. */
size_t brv_contour_poles(double ratio, double tolerance, bool fed);

/* The ratio to / from whose decade of time is cheapest, for some twenty readings a decade. */
double brv_contour_ratio(double tolerance, bool fed);

#endif
