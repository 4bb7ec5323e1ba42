/* Equal round spots in equal rows, and what falls on the skin between them.
 *     centres: (k along + j aside, j pitch), j and k whole; `aside` is 0, half of `along`, or as far as
 *     it was when the same hand hurries
 *     hexagonal: along = (1 - overlap) D, pitch = sqrt(3)/2 along, each row half a spacing aside
 *     square:    along = pitch = (1 - overlap) D
 * Mean hits (pi D^2/4)/(along pitch): 0.9069/(1-o)^2 hexagonal, 0.7854/(1-o)^2 square. No gap from an overlap of
 * 1 - sqrt(3)/2 = 13.4 % on, square 1 - 1/sqrt(2) = 29.3 %.                              Source: [circle-packing]
 *
 * Flat spots. Along a line beside the rows, at y, the spots of row j lie on chords 2 h = sqrt(D^2 - 4 (y - j pitch)^2)
 * long: a place is hit by whole(2 h / along) of them, or by one more on what is left over of 2 h in every spacing.
 * Shares of a line are exact; lines from a row to half way to the next (the rest is their mirror image) by their
 * middles, to 1e-6 of the skin.
 *
 * Gaussian spots, D the 1/e2 diameter, not cut: the dose over that of one pulse on its axis is
 *     sum over centres of exp(-8 r^2/D^2),   mean pi D^2/(8 along pitch)
 * and, by its Fourier series, variance/mean^2 = sum over wave vectors G != 0 of exp(-G^2 D^2/16).
 * Tests: tests/verification/test_cover.c.                                                                            */
#ifndef BRV_SIDE_ROWS_H
#define BRV_SIDE_ROWS_H

#include "side/tally.h"

struct brv_rows {
    double along; /* from spot to spot in a row [m]  */
    double pitch; /* from row to row [m]             */
    double aside; /* each row against the one before [m] */
};

/* `lattice` is BRV_HEXAGONAL or BRV_SQUARE_LATTICE; overlap from 0 to below 1. */
struct brv_rows brv_rows_laid(int lattice, double spot, double overlap);

/* The same hand with `factor` times as many pulses a second: they follow closer, rows stay where they were. */
struct brv_rows brv_rows_hurried(const struct brv_rows *rows, double factor);

double brv_rows_density(const struct brv_rows *rows);           /* centres on an area [1/m2] */
double brv_rows_hits(const struct brv_rows *rows, double spot); /* mean [1] */

/* Most hits that one place gets along one row [1]. */
size_t brv_rows_along(const struct brv_rows *rows, double spot);

/* Hits of a place, edges counted; dose of gaussian spots there. [m] */
size_t brv_rows_hits_at(const struct brv_rows *rows, double spot, double x, double y);
double brv_rows_dose_at(const struct brv_rows *rows, double spot, double x, double y);

/* Shares of the skin by hits: 0, 1, ... */
brv_status brv_rows_tally_hits(struct brv_tally *tally, const struct brv_rows *rows, double spot,
                               struct brv_error *error) BRV_MUST_CHECK;

/* Shares of the skin by dose of gaussian spots, in 400 steps between the least and the highest. */
brv_status brv_rows_tally_dose(struct brv_tally *tally, const struct brv_rows *rows, double spot,
                               struct brv_error *error) BRV_MUST_CHECK;

/* Mean and coefficient of variation of the dose of gaussian spots, in closed form [1]. */
double brv_rows_dose(const struct brv_rows *rows, double spot);
double brv_rows_ripple(const struct brv_rows *rows, double spot);

#endif
