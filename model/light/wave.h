/* One layer at one lateral frequency: its modes, the light that the unscattered beam kindles in it, and the amplitudes
 * that the faces decide.
 *     psi(t) = sum of modes (down exp(-lambda t) V + up exp(-lambda (d - t)) V*) + glow (beam(t)),
 * t the depth below the upper face, d the thickness, * the odd shapes reversed. The glow of a beam exp(-s t) solves
 *     (loss + k across - s along) glow = mu_s (g^l - g^8) sqrt(2l + 1) at m = 0.
 * The share g^8 of the scattering, too sharp for the shapes, counts as unscattered (delta-M).
 * Source: [wiscombe-1977]                                                                                        */
#ifndef BRV_LIGHT_WAVE_H
#define BRV_LIGHT_WAVE_H

#include "base/status.h"
#include "light/direct.h"
#include "light/harmonics.h"
#include "light/layered.h"
#include "light/tilt.h"

struct brv_wave {
    struct brv_medium medium;     /* its thickness is d                                                */
    double extinction;            /* of the unscattered beam: mu_a + mu_s (1 - g^8)              [1/m] */
    double loss[BRV_N_DEGREE];    /* mu_a + mu_s (1 - g^l)                                       [1/m] */
    double kindled[BRV_N_DEGREE]; /* what a beam of unit fluence scatters into each l            [1/m] */
    struct brv_direct_leg leg;    /* the unscattered beam                                              */
    struct brv_tilt tilt;         /* the modes without k                                               */
    struct brv_tilt_modes modes;  /* and with it                                                       */
    double slope;                 /* s                                                           [1/m] */
    double glow_even[BRV_N_EVEN]; /* of a downward beam of unit fluence                            [1] */
    double glow_odd[BRV_N_ODD];   /*                                                               [1] */
    double through[BRV_N_ODD];    /* exp(-lambda d)                                                [1] */
    double down[BRV_N_ODD];       /* amplitudes at the upper face ...                              [1] */
    double up[BRV_N_ODD];         /* ... and at the lower face                                     [1] */
};

/* All that does not depend on k; `leg` still lacks the beam. Every order above 0 loses at least `least_loss`. */
void brv_wave_build(struct brv_wave *wave, const struct brv_medium *medium, double least_loss);

/* Modes and glow at one k [1/m]. BRV_MEMORY or BRV_NUMERICS on failure. */
brv_status brv_wave_fill(struct brv_wave *wave, const struct brv_harmonics *shapes, double frequency,
                         struct brv_error *error) BRV_MUST_CHECK;

/* Beams at t: fluence of the downward and of the upward one. */
double brv_wave_beam_down(const struct brv_wave *wave, double t);
double brv_wave_beam_up(const struct brv_wave *wave, double t);

/* Diffuse fluence at t. */
double brv_wave_fluence(const struct brv_wave *wave, double t);

#endif
