/* Heat in layered skin under a round spot (or a long strip): depth and distance from the axis.
 *     rho c dT/dt = d/dz (k dT/dz) + k (1/r^p) d/dr (r^p dT/dr) - perfusion T + q,   T the rise above the start
 * Properties depend on depth only, so every radial mode is a slab of its own that loses k mu^2 more per volume:
 *     rise(r, z, t) = sum over modes of shape(r) amplitude(z, t),   sink = perfusion dz + k dz mu^2
 * Nothing is lost by this but what the cells leave out, and the modes know nothing of each other: whatever moves a
 * chain moves a disc. Amplitudes are rises times m^((p+1)/2). The loss at the outer end of `radial` is transfer over
 * conductivity and therefore the same number in every layer.
 * Heat of a disc is per radian (times 2 pi: all of it), of a strip per length of one half (times 2: both).
 * Exact checks, order, audit: tests/verification/test_disc.c.                                                    */
#ifndef BRV_HEAT_DISC_H
#define BRV_HEAT_DISC_H

#include "heat/radial.h"
#include "heat/slab.h"

/* ---- cells across ---- */

struct brv_disc_grid {
    double radius; /* of the spot: a face [m] */
    double reach;  /* where the cells end, above `radius` [m] */
    double finest; /* cell at the axis and on both sides of the rim [m] */
    double growth; /* of cells away from there [1] */
};

/* Cells that serve a spot of this diameter, all of them narrower by `fineness` (1: as measured here). A 4-mm spot with
 * a reach of 17 mm takes 55 cells, which leave 7e-4 of the highest rise on the axis when flat and 1.1e-3 when gaussian;
 * the error falls with fineness^2. A closed end 2 sqrt(4 alpha t) beyond the rim changes the axis by less than 1e-6
 * until t. Test: spot_grid_serves_the_axis in tests/verification/test_disc.c.                                      */
struct brv_disc_grid brv_disc_grid_for(double diameter, double reach, double fineness);

size_t brv_disc_count(const struct brv_disc_grid *grid);

/* Writes face[0 .. count] and returns the count. */
size_t brv_disc_faces(const struct brv_disc_grid *grid, double face[]);

/* ---- one mode ---- */

/* Makes `chain`, built with the slab's number of cells, the slab of one mode; its rise and peak become 0. */
void brv_disc_mode(struct brv_chain *chain, const struct brv_slab *slab, const struct brv_radial *radial, size_t mode);

/* Amplitude of one mode in every depth cell: [n_depth], from density[radial cell][depth cell]. The way a rise or an
 * energy per area becomes the start or the deposit of a mode's chain.                                             */
void brv_disc_amplitude(double amplitude[], const struct brv_radial *radial, size_t mode, const double density[],
                        size_t n_depth);

/* ---- a disc at one time ---- */

struct brv_disc_field {
    size_t n, n_depth; /* modes, depth cells */
    double *amplitude; /* [n][n_depth] [K m^((p+1)/2)] */
};

/* All zero. */
brv_status brv_disc_field_build(struct brv_disc_field *field, size_t n, size_t n_depth,
                                struct brv_error *error) BRV_MUST_CHECK;

/* Rise of one cell [K], and where two readings cross [K]. */
double brv_disc_rise(const struct brv_disc_field *field, const struct brv_radial *radial, size_t cell, size_t depth);
double brv_disc_read(const struct brv_disc_field *field, const struct brv_radial *radial,
                     const struct brv_reading *across, const struct brv_reading *depth);

/* Heat above the start, per radian or per length [J or J/m]. */
double brv_disc_stored(const struct brv_disc_field *field, const struct brv_radial *radial,
                       const struct brv_slab *slab);

void brv_disc_field_free(struct brv_disc_field *field);

#endif
