/* Thermal relaxation time of a grain by formula: d^2 / (kappa alpha), d the diameter.
 * Every kappa is another definition, not other physics: which body, heated how, watched where, down to what. The
 * table names each. Source: [relaxation-kappa]: exact closed forms, recomputed; 27.24 from the half-time of a
 * Gaussian sphere; trade use of these factors is common practice, no source.                                  */
#ifndef BRV_EFFECT_RELAXATION_H
#define BRV_EFFECT_RELAXATION_H

#include <stddef.h>

struct brv_relaxation {
    double kappa;
    const char *name;    /* short, for tables */
    const char *meaning; /* one sentence */
};

extern const struct brv_relaxation brv_relaxations[];
extern const size_t brv_n_relaxations;

double brv_relaxation_time(double kappa, double diameter, double diffusivity); /* [s] */

#endif
