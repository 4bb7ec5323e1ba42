/* Temperatures at which pigment grains were seen to be disrupted, and with them the threshold of one grain.
 * The criterion is tested where watch.place says, by default on the mean of the grain's interior; other papers mean the
 * water at its surface, which stays at about half of that, so a threshold without its place says little. Light and heat are linear in fluence:
 *     threshold = fluence x least over time of (criterion - temperature without pulses) / (rise of that place by them)
 * (heat/history.h, brv_history_factor). This is the threshold of a grain, not of a visible sign.                                                      */
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

#endif
