/* The numbers that questions with many runs put side by side: one list, read off every run in the same way.
 * What belongs to the light alone, and the threshold ratio, is the same at both sites.                            */
#ifndef BRV_STUDY_HEADLINE_H
#define BRV_STUDY_HEADLINE_H

#include "run/run.h"

#include <stdbool.h>

enum brv_headline {
    BRV_HEADLINE_ENERGY,          /* of one pulse [J]                                                  */
    BRV_HEADLINE_FLUENCE,         /* of one pulse, energy over the area of the spot [J/m2]             */
    BRV_HEADLINE_PULSES,          /* on an area, spots touching in rows of a hexagonal lattice [1/m2]  */
    BRV_HEADLINE_LIGHT_GRAIN,     /* fluence in the grain's layer, its mean [J/m2]                     */
    BRV_HEADLINE_LIGHT_DEEP,      /* fluence at 1 mm; NAN where the skin is thinner [J/m2]             */
    BRV_HEADLINE_GRAIN_PEAK,      /* highest rise of the mean of the grain [K]                         */
    BRV_HEADLINE_THRESHOLD_GRAIN, /* fluence of every pulse [J/m2]                                     */
    BRV_HEADLINE_THRESHOLD_SIGN,  /* likewise; NAN: no sign at any fluence [J/m2]                      */
    BRV_HEADLINE_SHARE,           /* of the grains disrupted, by number; NAN: there is no pigment [1]  */
    BRV_HEADLINE_RATIO,           /* threshold of the neighbour's sign over the lesion's [1]           */
    BRV_HEADLINE_LAYER_PEAK,      /* highest rise of the grain's layer [K]                             */
    BRV_HEADLINE_DERMIS_PEAK,     /* highest rise at 0.3 mm, or NAN [K]                                */
    BRV_HEADLINE_DEEP_PEAK,       /* highest rise at 1 mm, or NAN [K]                                  */
    BRV_HEADLINE_VESSEL,          /* rise of the blood in the vessel by one pulse, or NAN [K]          */
    BRV_HEADLINE_PRESSURE,        /* in the grain, up to the criterion [Pa]                            */
    BRV_HEADLINE_DAMAGE,          /* log10 Omega of the most damaged place; -INFINITY: none [1]        */
    BRV_HEADLINE_SURFACE_PEAK,    /* highest rise of the skin's surface; NAN where depth 0 is not watched [K] */
    BRV_HEADLINE_FILM_PEAK,       /* highest rise of the mean of a film on it; NAN: bare skin [K]      */
    BRV_N_HEADLINE
};

struct brv_headlines {
    struct brv_spread at[BRV_N_SITE][BRV_N_HEADLINE];
};

void brv_headlines_read(struct brv_headlines *headlines, const struct brv_result *result);

/* Is every number the same, to the last bit, with low and high? What nothing reads makes no other. */
bool brv_headlines_same(const struct brv_headlines *one, const struct brv_headlines *other);

#endif
