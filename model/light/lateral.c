#include "light/lateral.h"

#include "base/array.h"
#include "base/constants.h"

#include <gsl/gsl_errno.h>
#include <gsl/gsl_integration.h>
#include <gsl/gsl_interp.h>
#include <gsl/gsl_sf_bessel.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Twice as many move the light on the axis by less than 1e-4 of the wide answer. */
enum { N_FREQUENCY = 36, N_POINT = 6 };

static const double PHASE = 4.0;         /* run through by both Bessel functions in a panel of N_POINT Gauss points */
static const double GAUSSIAN_END = 14.0; /* k w where the spectrum of a gaussian has fallen to e^-24 */
static const double FINEST = 250.0;      /* k R above which the edge of a flat beam is fine enough */
static const double MOST_REACH = 6000.0; /* k (R + largest distance) that time allows at all */

/* The tail above the last frequency keeps the edge of a flat beam from ringing. It is followed to this k R, or to this
 * k (R + largest distance) as far as time allows, but no farther than so many times the last frequency. */
static const double TAIL_END = 80.0;
static const double TAIL_REACH = 1000.0;
static const double LONGEST_TAIL = 6.0;

/* What one build works with. */
struct work {
    const struct brv_profile *profile;
    const double *radius;
    double reach;     /* radius of the beam and the largest distance together [m] */
    double end;       /* where the integral stops [1/m] */
    double *place;    /* [2 n - 1] arsinh(k / scale), mirrored: a spline through both halves is even */
    double *value;    /* [2 n - 1] 1 at one frequency, 0 at the others */
    gsl_interp *card; /* the spline through `value` */
    gsl_integration_glfixed_table *gauss;
    size_t n_panel, n_point;
    double *point;    /* [n_point] k [1/m] */
    double *amount;   /* [n_point] quadrature weight times spectrum */
    double *cardinal; /* [n_frequency][n_point] what share(k_i) adds to share at every point */
};

static void choose_frequencies(struct brv_lateral *lateral)
{
    const double last = asinh(lateral->most / lateral->scale);
    for (size_t i = 0; i < lateral->n_frequency; i++)
        lateral->frequency[i] = lateral->scale * sinh(last * (double)i / (double)(lateral->n_frequency - 1));
}

static double panel_width(const struct brv_lateral *lateral, const struct work *work, double from)
{
    return fmin(PHASE / work->reach, 0.5 * hypot(from, lateral->scale));
}

static size_t count_panels(const struct brv_lateral *lateral, const struct work *work)
{
    size_t n = 0;
    for (double from = 0.0; from < work->end; n++) from += panel_width(lateral, work, from);
    return n;
}

static void place_points(const struct brv_lateral *lateral, struct work *work)
{
    double from = 0.0;
    for (size_t panel = 0, at = 0; panel < work->n_panel; panel++) {
        const double to = fmin(from + panel_width(lateral, work, from), work->end);
        for (size_t i = 0; i < N_POINT; i++, at++) {
            gsl_integration_glfixed_point(from, to, i, &work->point[at], &work->amount[at], work->gauss);
            work->amount[at] *= brv_profile_spectrum(work->profile, work->point[at]);
        }
        from = to;
    }
}

/* 1 up to half the end, then down to 0. */
static double fading(double frequency, double end)
{
    const double share = 2.0 * frequency / end - 1.0;
    return share > 0.0 ? 0.5 + 0.5 * cos(BRV_PI * share) : 1.0;
}

/* What frequency i contributes to share(k) at every point. */
static brv_status fill_cardinal(const struct brv_lateral *lateral, struct work *work, size_t i, struct brv_error *error)
{
    const size_t n = lateral->n_frequency, middle = n - 1;
    memset(work->value, 0, (2 * n - 1) * sizeof *work->value);
    work->value[middle + i] = work->value[middle - i] = 1.0;
    const int fault = gsl_interp_init(work->card, work->place, work->value, 2 * n - 1); /* takes room of its own */
    if (fault) return brv_error_raise(error, fault == GSL_ENOMEM ? BRV_MEMORY : BRV_NUMERICS, "brv_lateral_build");
    for (size_t at = 0; at < work->n_point; at++) {
        const double k = work->point[at];
        double value = i + 1 == n ? lateral->most / k : 0.0;
        if (k < lateral->most)
            value = gsl_interp_eval(work->card, work->place, work->value, asinh(k / lateral->scale), NULL);
        work->cardinal[i * work->n_point + at] = value * fading(k, work->end);
    }
    return BRV_OK;
}

static void sum_weights(struct brv_lateral *lateral, const struct work *work)
{
    for (size_t at = 0; at < work->n_point; at++)
        for (size_t r = 0; r < lateral->n_radius; r++) {
            const double share = work->amount[at] * gsl_sf_bessel_J0(work->point[at] * work->radius[r]);
            double *weight = lateral->weight + r * lateral->n_frequency;
            for (size_t i = 0; i < lateral->n_frequency; i++)
                weight[i] += share * work->cardinal[i * work->n_point + at];
        }
}

static brv_status allocate(struct brv_lateral *lateral, struct work *work, struct brv_error *error)
{
    const size_t n = lateral->n_frequency;
    work->n_panel = count_panels(lateral, work);
    work->n_point = work->n_panel * N_POINT;
    lateral->frequency = brv_array_new(n);
    lateral->weight = brv_array_new(n * lateral->n_radius);
    work->place = brv_array_new(2 * n - 1);
    work->value = brv_array_new(2 * n - 1);
    work->point = brv_array_new(work->n_point);
    work->amount = brv_array_new(work->n_point);
    work->cardinal = brv_array_new(n * work->n_point);
    work->card = gsl_interp_alloc(gsl_interp_cspline, 2 * n - 1);
    work->gauss = gsl_integration_glfixed_table_alloc(N_POINT);
    if (lateral->frequency && lateral->weight && work->place && work->value && work->point && work->amount &&
        work->cardinal && work->card && work->gauss)
        return BRV_OK;
    return brv_error_raise(error, BRV_MEMORY, "brv_lateral_build");
}

static void empty(struct work *work)
{
    free(work->place);
    free(work->value);
    free(work->point);
    free(work->amount);
    free(work->cardinal);
    gsl_interp_free(work->card);
    gsl_integration_glfixed_table_free(work->gauss);
}

static brv_status fill(struct brv_lateral *lateral, struct work *work, struct brv_error *error)
{
    const size_t n = lateral->n_frequency, middle = n - 1;
    brv_status status = BRV_OK;
    choose_frequencies(lateral);
    place_points(lateral, work);
    for (size_t i = 0; i < n; i++) {
        work->place[middle + i] = asinh(lateral->frequency[i] / lateral->scale);
        work->place[middle - i] = -work->place[middle + i];
    }
    for (size_t i = 0; i < n && !status; i++) status = fill_cardinal(lateral, work, i, error);
    if (!status) sum_weights(lateral, work);
    return status;
}

brv_status brv_lateral_build(struct brv_lateral *lateral, const struct brv_profile *profile, double slowest,
                             double fastest, const double *radius, size_t n_radius, struct brv_error *error)
{
    const double R = profile->radius;
    struct work work = {.profile = profile, .radius = radius, .reach = R};
    for (size_t i = 0; i < n_radius; i++) work.reach = fmax(work.reach, R + radius[i]);
    *lateral = (struct brv_lateral){.n_frequency = N_FREQUENCY, .n_radius = n_radius, .scale = slowest};
    lateral->most = fmin(fastest, fmin((profile->gaussian ? GAUSSIAN_END : FINEST) / R, MOST_REACH / work.reach));
    work.end = fmin(LONGEST_TAIL * lateral->most, fmax(lateral->most, fmax(TAIL_END / R, TAIL_REACH / work.reach)));
    if (profile->gaussian) work.end = fmin(work.end, 2.0 * GAUSSIAN_END / R);

    brv_status status = allocate(lateral, &work, error);
    if (!status) status = fill(lateral, &work, error);
    empty(&work);
    if (status) brv_lateral_free(lateral);
    return status;
}

void brv_lateral_free(struct brv_lateral *lateral)
{
    free(lateral->frequency);
    free(lateral->weight);
    *lateral = (struct brv_lateral){0};
}
