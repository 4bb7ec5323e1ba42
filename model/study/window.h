/* The window of one pulse: where in pulse width and fluence grains are disrupted, in the lesion and in its neighbour,
 * and where warmth that lasts does damage.
 * Light does not know how long a pulse is, and heat is linear in the fluence: so light is solved once for each skin,
 * heat once for each skin and width, and everything along the fluence follows from thresholds (effect/effect.h).
 * Every width is the scenario with that light.pulse and one pulse: count, rate, passes and pause are left aside. Curves
 * run to watch.until, and for 10 s after the pulse at least; they stop earlier, when heat is about to leave sideways,
 * where Omega = 1 could then not be passed by more than a thousandth.
 * A width for which the scenario is not sound (something taken off the skin while a long pulse lasts) is left out.
 * Accuracy: thresholds are those of a run within 1e-4. Shares are known at fluences 6 % apart, where they leap at
 * 1.5 %, and read along straight lines between: good to 3e-3 of the fluence, to 1.5e-2 where a leap is sudden, as when
 * grains do not differ or a long pulse makes each of them its layer. Tests: tests/verification/test_window.c.       */
#ifndef BRV_STUDY_WINDOW_H
#define BRV_STUDY_WINDOW_H

#include "run/site.h"

#include <stdbool.h>
#include <stddef.h>

enum { BRV_N_WINDOW_SHARE = 3, BRV_WINDOW_HALF = 1, BRV_N_WINDOW_WIDTH = 60, BRV_N_WINDOW_FLUENCE = 60 };

extern const double brv_window_shares[BRV_N_WINDOW_SHARE]; /* 5, 50 and 95 % of the grains, by number [1] */

/* Fluences of the one pulse, one width, one skin; NAN where there is none. */
struct brv_window_point {
    bool there;                       /* false: left out, all is NAN */
    double share[BRV_N_WINDOW_SHARE]; /* disrupts so many of the grains; NAN without pigment [J/m2] */
    struct brv_spread grain;          /* threshold of one grain [J/m2] */
    struct brv_spread sign;           /* threshold of a sign, by the columns of watch.sign_column's range [J/m2] */
    struct brv_spread
        damage;        /* Omega = 1 in the most damaged layer or depth; low and high for grains 3.16 and 0.316 times
                                 as dark; 0: it gets there without a pulse [J/m2] */
    bool illustrative; /* Omega = 1 is gathered faster than the rates were ever fitted to: brv_effect_illustrates */
};

/* What stands in a skin whatever the pulse. */
struct brv_window_site {
    double diameter;   /* of the grain [m] */
    double relaxation; /* its mean to 1/e, heated at once, in its cell; NAN when no width was answered [s] */
    double stress;     /* sound across it [s] */
    bool imagined;     /* there is no pigment in its layer: it is one put there alone */
};

struct brv_window {
    size_t n_width, n_fluence;
    double *width;                  /* [n_width] ascending [s] */
    struct brv_window_point *point; /* [n_width][BRV_N_SITE] */
    double *fluence;                /* [n_fluence] even in the logarithm, over whole decades: 5 % to 95 % at all widths,
                                       of skin without pigment its damage, and the scenario's own [J/m2] */
    double *share; /* [n_width][n_fluence][BRV_N_SITE] of the grains, by number; NAN: left out, or there
                                       is no pigment [1] */
    struct brv_window_site site[BRV_N_SITE];
    size_t n_left_out;      /* widths */
    struct brv_error fault; /* of the shortest of them; as from brv_scenario_check */
};

/* width[n], even in the logarithm from the least to the most that light.pulse may be [s]. */
void brv_window_widths(double width[], size_t n);

/* Solves for width[n_width], ascending, of a checked scenario, and for n_fluence fluences, two at least. `control` may
 * be NULL; the numbers are the same for any count of threads. On failure the window comes back empty.              */
brv_status brv_window_solve(struct brv_window *window, const struct brv_scenario *ask, size_t n_width,
                            const double width[], size_t n_fluence, const struct brv_control *control,
                            struct brv_error *error) BRV_MUST_CHECK;

/* The point at any width between two of the list, along straight lines in the logarithms; not there when one of its
 * neighbours is not, and 0 when one of them is 0.                                                                 */
struct brv_window_point brv_window_at(const struct brv_window *window, size_t site, double width);

void brv_window_free(struct brv_window *window);

/* The scenario of one width: one pulse, curves until `until`. For tests. */
struct brv_scenario brv_window_scenario(const struct brv_scenario *ask, double width, double until);

#endif
