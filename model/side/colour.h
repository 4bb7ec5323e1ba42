/* Which colour a skin of this model has, and how much pigment a measured colour stands for.
 *     R(wavelength)   diffuse reflectance under a wide beam in air, by light/layered; the mirror of the surface apart
 *     colour          side/cie of R at 400, 410, ... 700 nm; the white point over the same wavelengths
 *     pigment         the share of melanosomes of the whole epidermis at which ITA is the measured one; it is spread over
 *                     epidermis and basal row as in the ready skins (brv_skin_pigment)
 * ITA falls steadily with the share, so there is one answer or none. L* and b* are not matched one by one: a skin of this
 * model with the same ITA may have others.
 * The range of the share is the lowest and the highest over all corners of
 *     mirror of the surface left out of the measurement or taken into it;
 *     reduced scattering 1 and 0.6 times the model's            Source: [skin-measured], abstract
 *     blood of the dermis 0.2 and 1 %                           Source: [jacques-2008], from memory
 * except that scattering and blood which the scenario gives are held.
 * Accuracy: 8 rays a half space instead of 24 move ITA by less than 0.03 degrees, steps of 10 nm instead of 5 by less than
 * 0.05; what an inversion finds has the ITA that was asked for to 1e-3: tests/verification/test_colour.c.
 * Theory: docs/theory/colour.md. */
#ifndef BRV_SIDE_COLOUR_H
#define BRV_SIDE_COLOUR_H

#include "scenario/scenario.h"
#include "side/cie.h"

#include <stdbool.h>

enum { BRV_COLOUR_FIRST = 400, BRV_COLOUR_STEP = 10, BRV_N_COLOUR = 31 }; /* wavelengths [nm] */

/* How a colour comes about beside the scenario's own numbers. */
struct brv_colour_corner {
    double scattering; /* factor on the scattering of layers that do not give it [1] */
    double blood;      /* of dermis that does not give it; NAN: as it is [1] */
    bool mirror;       /* the measurement takes the mirror of the surface in */
};

struct brv_colour {
    struct brv_lab lab;
    double ita; /* NAN unless b* > 0 [degree] */
};

/* Diffuse reflectance of one skin of a filled scenario at `n` wavelengths [m], and the mirror of its surface [1];
 * `mirror` may be NULL. */
brv_status brv_colour_spectrum(double diffuse[], double mirror[], const struct brv_scenario *ask, size_t site, size_t n,
                               const double wavelength[], unsigned threads, struct brv_error *error) BRV_MUST_CHECK;

/* Its colour, the mirror of the surface left out. */
brv_status brv_colour_solve(struct brv_colour *colour, const struct brv_scenario *ask, size_t site, unsigned threads,
                            struct brv_error *error) BRV_MUST_CHECK;

/* The same with the lowest and highest of every number over the corners. */
struct brv_colour_range {
    struct brv_colour value, low, high;
};
brv_status brv_colour_spread(struct brv_colour_range *range, const struct brv_scenario *ask, size_t site,
                             unsigned threads, struct brv_error *error) BRV_MUST_CHECK;

/* Colour from reflectances at the BRV_N_COLOUR wavelengths. */
struct brv_colour brv_colour_of(const double reflectance[BRV_N_COLOUR]);

/* Shares of melanosomes that belong to one ITA; low and high over the corners [1]. A corner in which even a skin without
 * pigment is darker counts as 0, one in which 60 % are lighter as 60 %. */
struct brv_colour_pigment {
    bool possible; /* the middle has an answer; else the shares are empty */
    double value, low, high;
};

/* What the skin could have: without and with the most pigment. */
struct brv_colour_bounds {
    struct brv_colour clear, darkest;           /* of the middle */
    double least_lightness, greatest_lightness; /* L* over all corners */
};

/* Solves for `n` angles at once, on the layers of the neighbour of `ask`, whose scopes are filled; its own pigment in
 * epidermis and basal row does not matter. BRV_MEMORY or BRV_NUMERICS on failure. */
brv_status brv_colour_invert(struct brv_colour_pigment pigment[], struct brv_colour_bounds *bounds,
                             const struct brv_scenario *ask, size_t n, const double ita[], unsigned threads,
                             struct brv_error *error) BRV_MUST_CHECK;

/* The share at which L* itself is that measured, whatever the angle then is, in the middle; the end of the range where none
 * is. Below L* 50 the angle hangs on b*, and a model whose b* is off finds another share by it than by L*: the two tell how
 * well it knows a dark skin. Both go into the range of a skin that is made from a colour.                             */
brv_status brv_colour_by_lightness(double *share, const struct brv_scenario *ask, double wanted,
                                   struct brv_error *error) BRV_MUST_CHECK;

/* Colour of the neighbour with another share of melanosomes in its epidermis, in one corner; NULL: the middle. */
brv_status brv_colour_with(struct brv_colour *colour, const struct brv_scenario *ask, double melanosomes,
                           const struct brv_colour_corner *corner, struct brv_error *error) BRV_MUST_CHECK;

#endif
