/* Damage by warmth that lasts, as a first-order reaction:
 *     Omega = integral of A exp(-E / (R T)) dt
 * with published pairs of A and E / R, which hold from one temperature to another. 0.53, 1 and 1e4 are published for
 * burns of first, second and third degree. The pairs were fitted to heating of half a second and longer; for shorter
 * heating Omega is an illustration. It is kept as its logarithm: a hot nanosecond history reaches 1e28.
 *     CEM43 = sum of dt x 0.5^(43 - T) from 43 C on, 0.25^(43 - T) below, in minutes: given below 50 C only, above it
 * is known to fail.
 * Source: [burn-standards], [henriques-1947], [burn-refit], [sapareto-1984]. Tests: tests/verification/test_damage.c. */
#ifndef BRV_EFFECT_DAMAGE_H
#define BRV_EFFECT_DAMAGE_H

#include <stddef.h>

enum brv_damage_set { BRV_DAMAGE_STANDARD, BRV_DAMAGE_REFIT, BRV_DAMAGE_HENRIQUES, BRV_N_DAMAGE };
enum brv_damage_tissue { BRV_DAMAGE_EPIDERMIS, BRV_DAMAGE_DERMIS, BRV_N_DAMAGE_TISSUE };

/* Nothing below `from`; the second rate above `change`. */
struct brv_damage_pair {
    double from, change;            /* [K] */
    double log_factor[2], slope[2]; /* ln A [ln 1/s], E / R [K] */
    const char *source, *seen;      /* key of docs/sources.md and how it was seen */
};

extern const struct brv_damage_pair brv_damage_pairs[BRV_N_DAMAGE][BRV_N_DAMAGE_TISSUE];

/* ln Omega of a history at n times; -INFINITY where nothing is damaged. Between two times the temperature runs straight
 * against the logarithm of the time since `since`[i], where that rises from one to the other, else against time:
 * `time` and `since` [n] ascending but where since falls back to 0, temperature [n] in kelvin.                      */
double brv_damage_log(const struct brv_damage_pair *pair, size_t n, const double time[], const double since[],
                      const double temperature[]);

/* The part of it outside the first `brief` seconds of every pulse, `since` being negative before the first: rows that begin
 * in them are left out.                                                                                             */
double brv_damage_lasting(const struct brv_damage_pair *pair, size_t n, const double time[], const double since[],
                          const double temperature[], double brief);

/* Minutes at 43 C; NAN when it was ever warmer than 50 C. */
double brv_damage_minutes(size_t n, const double time[], const double temperature[]);

#endif
