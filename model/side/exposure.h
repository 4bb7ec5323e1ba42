/* Exposure limits for eye and skin, 400 to 1400 nm, by named edition; read off tables, not computed from tissue.
 *     one exposure of length t:   H(t) = c t^p C_A C_C C_E,  or  E t  where a row gives an irradiance E   [J/m2]
 *     N pulses, f a second, each at most
 *       rule 1   H(w)                         the pulse alone; w its length
 *       rule 2   min over n of  H(n / f) / n  all pulses of any stretch of time together
 *       rule 3   H(w) N^-1/4                  pulses within the group time count as one: H(span) N_g^-1/4 / n
 * The smallest binds. Where two rows meet in time the one that begins answers, as printed examples take it; the tables step
 * there by 2 to 7 %. Where they meet in wavelength the smaller limit answers; at 1050 nm that of the eye doubles. In rule 2
 * both rows are looked at where two meet. It takes n pulses for a stretch of n / f, as worked examples do; they fit into a
 * little less, which makes up to 0.3 % for nanoseconds and up to 10 % for 100 ms.
 * 1064 nm, nanoseconds, eye: 0.05 J/m2 in the edition of 2006, 0.02 J/m2 in that of 2013.
 *
 * Only rows whose text was seen, or that several copies agree on, answer. Rows from memory stand in a table of
 * their own, which is shown and never used. Photochemical limits (400 to 600 nm, from 10 s on) were not seen.
 * Accuracy: that of the tables; tests/verification/test_exposure.c holds published and hand-worked examples.
 * Theory: docs/theory/room.md. Source: [directive-2006-25], [icnirp-2013]                                          */
#ifndef BRV_SIDE_EXPOSURE_H
#define BRV_SIDE_EXPOSURE_H

#include <stdbool.h>
#include <stddef.h>

enum brv_edition { BRV_EU_2006, BRV_ICNIRP_2013, BRV_N_EDITION };
enum brv_organ { BRV_EYE, BRV_SKIN, BRV_N_ORGAN };
enum brv_rule { BRV_RULE_ONE, BRV_RULE_SUM, BRV_RULE_MANY, BRV_N_RULE };

#define BRV_PUPIL      7e-3   /* aperture that exposures of the eye are averaged over [m] */
#define BRV_SKIN_PATCH 3.5e-3 /* the same for skin [m] */
#define BRV_ALPHA_MIN  1.5e-3 /* a source that looks smaller counts as a point [rad] */

/* Factors of a row, as bits. */
enum { BRV_FACTOR_A = 1, BRV_FACTOR_C = 2, BRV_FACTOR_E = 4 };

struct brv_exposure_row {
    const char *name;
    int edition;                           /* enum brv_edition; -1 in the table that is only shown */
    int organ;                             /* enum brv_organ */
    double from_wavelength, to_wavelength; /* [m] */
    double from, to;                       /* length of the exposure [s] */
    bool irradiance;                       /* the coefficient is of an irradiance, W/m2 */
    double coefficient, exponent;          /* of t in seconds; J/m2 or W/m2 [SI, 1] */
    unsigned factors;                      /* bits */
    const char *source, *seen;             /* key of docs/sources.md; seen, second-hand, memory */
};

extern const struct brv_exposure_row brv_exposure_rows[];   /* [brv_n_exposure_rows] that answer */
extern const struct brv_exposure_row brv_exposure_others[]; /* [brv_n_exposure_others] shown, not used */
extern const size_t brv_n_exposure_rows, brv_n_exposure_others;

struct brv_exposure_ask {
    int edition;       /* enum brv_edition */
    int organ;         /* enum brv_organ */
    double wavelength; /* [m] */
    double width;      /* of one pulse [s] */
    double rate;       /* of the pulses; 0: there is one [1/s] */
    double stay;       /* how long they come [s] */
    double angle;      /* that the source takes up, seen from the eye; 0: a point [rad] */
};

struct brv_exposure {
    bool covered; /* false: no row of the edition holds such a pulse, and all else is NAN or NULL */
    const struct brv_exposure_row *row; /* that answered for the pulse alone */
    const struct brv_exposure_row *sum; /* that answered for the sum; NULL: one pulse only */
    double pulses;                      /* N [1] */
    double rule[BRV_N_RULE];            /* limit of every pulse by each rule; INFINITY: no such rule here [J/m2] */
    int binding;                        /* enum brv_rule: the smallest */
    double limit;                       /* of every pulse [J/m2] */
    double looked;                      /* stretch of time that the sum was looked at up to [s] */
    bool cut;                           /* the stay is longer than the rows that were seen */
};

/* Limit of every pulse. Returns `covered`. */
bool brv_exposure_solve(struct brv_exposure *exposure, const struct brv_exposure_ask *ask);

/* Limit of one exposure of length `time` [J/m2]; NAN where no row holds it. `row`, when not NULL, is told which. */
double brv_exposure_limit(const struct brv_exposure_ask *ask, double time, const struct brv_exposure_row **row);

/* The same by one row, whether it holds the time or not. */
double brv_exposure_by_row(const struct brv_exposure_row *row, const struct brv_exposure_ask *ask, double time);

/* The shortest pulse that both eye and skin of an edition cover at a wavelength [s]; NAN: none. */
double brv_exposure_shortest(int edition, double wavelength);

double brv_exposure_factor_a(double wavelength);                      /* C_A [1] */
double brv_exposure_factor_c(int edition, double wavelength);         /* C_C [1] */
double brv_exposure_alpha_max(int edition, double time);              /* [rad] */
double brv_exposure_factor_e(int edition, double angle, double time); /* C_E, all of the source counted [1] */

#endif
