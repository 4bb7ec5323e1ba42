/* Conduction across a disc or a strip by its own modes, for layers that differ in depth only.
 *     (1/r^p) d/dr (r^p du/dr) = -mu^2 u,   p = 1 disc (r from its axis), p = 0 strip (r from its middle plane)
 * in cells between faces, as slab and sphere have them: values are means of cells, one flux per face, closed on the
 * axis. The outer end loses `side` times its value, in series with the half cell (0: closed; INFINITY: held at 0).
 * The operator is the same in every layer but for the factor k, so its modes turn the disc into slabs, exactly so in
 * the cells: model/heat/disc.h. Modes are orthonormal by area:  sum over cells of area shape_a shape_b = (a == b).
 * A closed end keeps heat: its mode 0 is constant, rate[0] is 0 and no other mode holds anything, all exactly.
 * Rates are taken from slopes, never from differences of large numbers, and cannot be negative.
 * Second order in the cells: tests/unit/test_radial.c against the zeros of J1 and pi m / R.                       */
#ifndef BRV_HEAT_RADIAL_H
#define BRV_HEAT_RADIAL_H

#include "heat/chain.h"

struct brv_radial {
    size_t n;      /* cells, and modes */
    int power;     /* p above: 1 disc, 0 strip */
    double side;   /* what the outer end loses: transfer / conductivity [1/m] */
    double *face;  /* [n + 1] radius of faces, the first 0 [m] */
    double *area;  /* [n] of cells, per radian or per length: (r2^(p+1) - r1^(p+1)) / (p + 1) [m^(p+1)] */
    double *rate;  /* [n] mu^2, ascending [1/m2] */
    double *shape; /* [n modes][n cells] [1/m^((p+1)/2)] */
    double *axis;  /* [n] each mode on the axis, never negative [1/m^((p+1)/2)] */
    double *total; /* [n] what each mode holds: sum of area shape [m^((p+1)/2)] */
};

/* At least two cells. `face` is copied. BRV_NUMERICS when the modes cannot be found. */
brv_status brv_radial_build(struct brv_radial *radial, size_t n, const double face[], int power, double side,
                            struct brv_error *error) BRV_MUST_CHECK;

/* Share of a mode in what stands in the cells: sum of area shape density, density[cell * stride]. What is even across
 * the disc goes to no mode that holds nothing, exactly.                                                          */
double brv_radial_amplitude(const struct brv_radial *radial, size_t mode, const double density[], size_t stride);

/* The way back, at one cell: sum over modes of amplitude[mode * stride] shape. */
double brv_radial_density(const struct brv_radial *radial, const double amplitude[], size_t stride, size_t cell);

/* How to read at a radius: straight lines in r^2 between the mean squares of radius of two cells, so that a parabola
 * about the axis is met; beyond the last centre what the outer end's loss demands.                               */
struct brv_reading brv_radial_reading(const struct brv_radial *radial, double radius);

/* A mode at such a place. */
double brv_radial_shape(const struct brv_radial *radial, size_t mode, const struct brv_reading *reading);

void brv_radial_free(struct brv_radial *radial);

#endif
