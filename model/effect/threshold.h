/* Fluence at which one grain reaches a temperature at which such grains were seen to be disrupted.
 * The criterion is tested on the mean of the grain's interior; other papers mean the water at its surface, which
 * stays at about half of that, so a threshold without its place says little. Light and heat are linear in fluence:
 *     threshold = fluence (criterion - start) / (highest rise of the mean)
 * This is the threshold of a grain, not of a visible sign.                                                      */
#ifndef BRV_EFFECT_THRESHOLD_H
#define BRV_EFFECT_THRESHOLD_H

#include <stddef.h>

struct brv_criterion {
    double temperature; /* [K] */
    const char *source; /* key of docs/sources.md */
    const char *seen;   /* how the source was seen */
};

enum { BRV_N_CRITERION = 3 };

/* 112, 136, 150 degC; the first is the one used for 'above the criterion'. */
extern const struct brv_criterion brv_criteria[BRV_N_CRITERION];

/* NAN when the grain does not warm. */
double brv_threshold_fluence(double fluence, double criterion, double start, double highest_rise);

#endif
