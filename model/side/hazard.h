/* What the light may do to people around a pulse: optical density, hazard distances, bystanders' skin, a closed lid.
 *     density          OD = log10(H / limit), 0 when below it
 *     pupil            H0 = Q / (pi (3.5 mm)^2): the whole pulse goes through a pupil of 7 mm
 *     beam             r = (1/phi) sqrt(4 Q / (pi limit)) - a/phi,  phi and a at the 1/e edges: 1/e2 over sqrt 2
 *     behind a lens    phi = b/f, counted from the focus, a = 0
 *     scattered        r = sqrt(rho Q cos(view) / (pi limit)); limit with C_E(D cos(view) / r): r on both sides
 * Nothing is taken off for air, windows or blinking, nor for a film on the skin. The spot is taken for the source of
 * scattered light, a gaussian one by its 1/e edges, though light spreads beside it in skin; from the side it is taken for
 * narrow: both count against the viewer. r is larger than the spot, or there is none.
 * Accuracy: closed forms; tests/verification/test_hazard.c. Limits: side/exposure.h.
 * Theory: docs/theory/room.md. Source: [icnirp-2013], [laser-textbook-2021]                                        */
#ifndef BRV_SIDE_HAZARD_H
#define BRV_SIDE_HAZARD_H

#include "side/exposure.h"
#include "side/lid.h"

/* Scattered light with the size of its source. */
struct brv_scattered {
    double point;    /* distance if it were a point [m] */
    double distance; /* with the size of the spot; 0: the limit is reached nowhere beyond the width of the spot [m] */
    double angle;    /* of the spot from there [rad] */
    double extent;   /* C_E there, of a pulse alone [1] */
};

struct brv_hazard_edition {
    bool asked;
    struct brv_exposure exposure[BRV_N_ORGAN];   /* covered or not; of a point source */
    double density_pupil, density_spot;          /* [1] */
    double density;                              /* the larger [1] */
    double pupil_energy;                         /* that reaches the limit of the eye through its aperture [J] */
    double beam;                                 /* distance along the beam; NAN: it is not described [m] */
    struct brv_scattered scattered, least, most; /* by the skin's own reflectance, its low, its high */
    double skin_ratio;                           /* of the fluence at the spot to the limit of skin [1] */
    double lid_ratio;     /* of what passes a lid, taken for a beam, to the limit of the eye [1] */
    double person;        /* scattered exposure over the limit at room.distance, a point source; NAN: not asked [1] */
    double person_extent; /* the same with the size of the spot [1] */
    double person_beam;   /* the beam's; NAN: not described [1] */
};

struct brv_hazard {
    double energy;                 /* of one pulse [J] */
    double fluence;                /* on the axis at the spot [J/m2] */
    double pupil;                  /* H0 [J/m2] */
    double divergence;             /* full angle at the 1/e edges; 0: not described [rad] */
    double beam;                   /* diameter likewise, where distances begin [m] */
    double mirrored;               /* share that the surface sends on as a beam [1] */
    bool reflectance_given;        /* by the scenario */
    struct brv_bounds reflectance; /* scattered back by skin [1] */
    struct brv_lid lid;
    struct brv_hazard_edition edition[BRV_N_EDITION];
};

/* Of a checked scenario. On failure `hazard` is empty. Nothing is owned. */
brv_status brv_hazard_solve(struct brv_hazard *hazard, const struct brv_scenario *ask,
                            struct brv_error *error) BRV_MUST_CHECK;

double brv_hazard_density(double exposure, double limit); /* OD, at least 0 [1] */
double brv_hazard_pupil(double energy);                   /* through 7 mm [J/m2] */

/* Along a beam whose full angle and diameter are at its 1/e edges; at least 0 [m]. */
double brv_hazard_beam(double energy, double limit, double divergence, double diameter);

/* Scattered light: `energy` is what leaves the skin towards the eye, rho Q cos(view); `width` is the spot's as seen. */
void brv_hazard_scattered(struct brv_scattered *scattered, const struct brv_exposure_ask *ask, double energy,
                          double width);

#endif
