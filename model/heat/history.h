/* Temperature rise against time at the probes of one skin.
 * Every probe keeps its whole rise and the part of it that came from pigment: light and heat are linear, so pigment that
 * takes up p times as much, and a rest that takes up r times as much, give r (rise - pigment) + p x pigment.       */
#ifndef BRV_HEAT_HISTORY_H
#define BRV_HEAT_HISTORY_H

#include "base/status.h"

#include <stdbool.h>
#include <stddef.h>

/* The first four probes; the watched depths follow, a depth of a quarter of the spot, the marks that the skin reaches,
 * and the means of the other layers that hold pigment.                                                             */
enum brv_probe { BRV_PROBE_CENTRE, BRV_PROBE_MEAN, BRV_PROBE_SURFACE, BRV_PROBE_LAYER, BRV_N_GRAIN_PROBE };

/* Rise beside the axis, just after the last pulse and later. */
struct brv_field {
    size_t n_depth, n_radius;
    double *depth, *radius; /* centres of the cells [m] */
    double *rise[2];        /* [n_depth][n_radius] at the two times [K] */
    double time[2];         /* from the start of the last pulse; NAN: the run is over before [s] */
};

enum { BRV_MOST_PROFILES = 8, BRV_N_MARK = 2, BRV_MOST_MEANS = 16, BRV_MOST_SIZES = 9 };

#define BRV_NO_PROBE ((size_t)-1)

/* Grains of other sizes in every layer that has pigment, and in the grain's own: what one pulse adds at one place of a
 * grain, at the beats of the timeline. Diameters are median exp(sigma z) with z normal.
 * A grain like its neighbours departs from the mean of its layer as it does in a closed cell. One that takes up more
 * than they do has that more to itself, and gives it to surroundings that have no end.                              */
struct brv_crowd {
    size_t n_layer, n_size, n_beat;
    size_t layer[BRV_MOST_MEANS], probe[BRV_MOST_MEANS]; /* [n_layer] of the skin; the probe of its mean */
    double size[BRV_MOST_SIZES];                         /* [n_size] z, even [1] */
    double *closed; /* [n_layer][n_size][n_beat] over the mean of its layer, of a grain like its neighbours [K] */
    double *open;   /* [n_layer][n_size][n_beat] by as much heat again in this grain alone [K] */
};

struct brv_history {
    size_t n_time, n_probe;
    double *time;    /* [n_time] from the start of the first pulse; negative before it [s] */
    double *since;   /* [n_time] from the start of the last pulse, with all its digits [s] */
    size_t *pulse;   /* [n_time] how many pulses have begun; 0 before the first */
    size_t *beat;    /* [n_time] which beat of its pulse a row is, or (size_t)-1 */
    double *depth;   /* [n_probe] where it is below the skin's surface; of means, the top of the layer [m] */
    double *start;   /* [n_probe] temperature before anything happened [K] */
    double *rise;    /* [n_probe][n_time] by the pulses, above the start [K] */
    double *pigment; /* [n_probe][n_time] its part from pigment [K] */
    double
        *other[2];  /* [n_probe][n_time] the rise with paler and with darker grains, of depths and means of layers: heat
                         was solved again for light and uptake that are theirs; NULL: it was not [K] */
    double *cooled; /* [n_probe][n_time] by what lies on the skin, mostly below 0; NULL where nothing does [K] */
    double *excess; /* [3][n_time] of grain centre, mean and surface over the mean of its cell [K] */
    size_t quarter; /* probe of a quarter of the spot */
    size_t mark[BRV_N_MARK];     /* probes of 0.3 and 1 mm; BRV_NO_PROBE where the skin does not reach */
    size_t mean[BRV_MOST_MEANS]; /* [layer] probe of its mean, or BRV_NO_PROBE */
    size_t film;                 /* probe of the mean of a film on the skin, or BRV_NO_PROBE */
    double *from_film; /* [n_probe][n_time] the part of the rise that the film took up; NULL without one [K] */
    double film_over;  /* what its warmest cell gets hotter than its mean ever does, in depth only [K] */
    size_t n_pulse;
    size_t *before; /* [n_pulse] the row just before each pulse */

    double adiabatic;   /* highest rise of any cell by one pulse if nothing were conducted [K] */
    double steady_flux; /* from below to the surface, which keeps the start profile steady [W/m2] */
    double travelled;   /* how far heat goes sideways by the end of the run, sqrt(4 alpha t) [m] */
    double from, to;    /* something lies on the skin between these; from >= to: never [s] */
    double window;      /* of one pulse [s] */
    bool sharp;         /* curves may turn sharply where the window ends: a square pulse stops there */

    size_t n_cell;
    double *face;     /* [n_cell + 1] depth of the cells below the skin's surface; of a film above it, negative [m] */
    double *absorbed; /* [n_cell] energy per volume after one pulse [J/m3] */
    double *peak;     /* [n_cell] highest rise, with what cools [K] */

    size_t n_profile, n_radius; /* temperature of the grain against distance from its centre, after the first pulse */
    double *radius;             /* [n_radius] centres of the shells [m] */
    double *profile;            /* [n_profile][n_radius] rise, with its layer's [K] */
    double profile_time[BRV_MOST_PROFILES]; /* [n_profile] after the end of the pulse [s] */

    struct brv_crowd crowd;

    struct brv_field field; /* heat beside the axis; empty where the layers alone were asked */
};

/* The highest point of a curve: the top of the parabola through the highest value and its neighbours, where they are
 * about evenly spaced and the curve does not turn sharply; otherwise the highest value itself.                    */
struct brv_summit {
    double value, time;
};

struct brv_history_ask {
    size_t n_time, n_probe, n_cell, n_pulse, n_profile, n_radius;
    bool cooled, other, film;
};

brv_status brv_history_build(struct brv_history *history, const struct brv_history_ask *ask,
                             struct brv_error *error) BRV_MUST_CHECK;

brv_status brv_field_build(struct brv_field *field, size_t n_depth, size_t n_radius,
                           struct brv_error *error) BRV_MUST_CHECK;

/* Curve of one probe: [n_time]. */
const double *brv_history_rise(const struct brv_history *history, size_t probe);
const double *brv_history_pigment(const struct brv_history *history, size_t probe);

/* Factors on what pigment and all the rest take up; {1, 1, NULL} is the run itself [1]. */
struct brv_scaling {
    double rest, pigment;
    const double
        *curve; /* [n_time] what a probe's rise then is, where heat was solved for it; NULL: by the factors [K] */
};

/* The rise of a probe in a row under such a change [K]. */
double brv_history_scaled(const struct brv_history *history, size_t probe, size_t row, struct brv_scaling scaling);

/* Highest rise of a probe by the pulses. */
struct brv_summit brv_history_summit(const struct brv_history *history, size_t probe, struct brv_scaling scaling);

/* Highest temperature of a probe while its rise by the pulses is at least half of its highest, start and cooling with it
 * [K]. Skin that warms again when a plate has gone does not count.                                                  */
struct brv_summit brv_history_hottest(const struct brv_history *history, size_t probe, struct brv_scaling scaling);

/* A curve that is no probe's own. */
struct brv_curve {
    const double *rise, *pigment; /* [n_time] by the pulses; its part that grows with the darkness [K] */
    double start;                 /* [K] */
    const double *cooled;         /* [n_time], or NULL [K] */
};

enum { BRV_MOST_REACHES = 64 };

/* The same as brv_history_factor for such a curve and n factors on its pigment, at most BRV_MOST_REACHES: factor[n]. */
void brv_history_reach(double factor[], const struct brv_history *history, const struct brv_curve *curve, size_t n,
                       const double darkness[], double temperature);

/* The least factor on every pulse with which a probe reaches a temperature at some moment: of a train under something
 * cold that may be the first pulse's, though the last warms more. 0 where it is that warm without pulses, NAN where no
 * factor does [1].                                                                                                  */
double brv_history_factor(const struct brv_history *history, size_t probe, struct brv_scaling scaling,
                          double temperature);

/* First time after `from`, within the first pulse's rows, at which curve[n_time] has fallen to `level`; NAN if it never
 * does. Points are joined by straight lines in the logarithms of value and time since `from`.                      */
double brv_history_fall(const struct brv_history *history, const double curve[], double from, double level);

/* The same history with `factor` times the light in every pulse, for what is read off the probes: rises are in
 * proportion, the start and what lies on the skin are not. It borrows times, starts and the rest from `history`, which must
 * outlive it; cells, grains and the field beside the axis are not in it.                                            */
brv_status brv_history_times(struct brv_history *more, const struct brv_history *history, double factor,
                             struct brv_error *error) BRV_MUST_CHECK;
void brv_history_times_free(struct brv_history *more);

void brv_field_free(struct brv_field *field);
void brv_history_free(struct brv_history *history);

#endif
