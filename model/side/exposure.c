#include "side/exposure.h"

#include <math.h>

#define ALPHA_MAX  100e-3  /* [rad]; Source: [directive-2006-25] */
#define SMALLEST   5e-3    /* ... of exposures up to 625 us in the edition of 2013 [rad]; Source: [icnirp-2013] */
#define GROWS      0.2     /* alpha_max / sqrt(t) from there to 0.25 s [rad/s^1/2] */
#define ROUNDING   1e-12   /* a train of 10 s at 11 a second has 110 pulses, not 111 */
#define FEWER      (-0.25) /* power of the number of pulses in rule 3 */
#define CC_2006    8.0     /* C_C from 1200 nm on; Source: [directive-2006-25] */
#define NANOMETRES 1e9

/* ---- factors ---- */

double brv_exposure_factor_a(double wavelength)
{
    const double nm = NANOMETRES * wavelength;
    if (nm < 700.0) return 1.0;
    return nm < 1050.0 ? pow(10.0, 0.002 * (nm - 700.0)) : 5.0;
}

double brv_exposure_factor_c(int edition, double wavelength)
{
    const double nm = NANOMETRES * wavelength;
    if (nm < 1150.0) return 1.0;
    if (nm < 1200.0) return pow(10.0, 0.018 * (nm - 1150.0));
    return edition == BRV_EU_2006 ? CC_2006 : CC_2006 + pow(10.0, 0.04 * (nm - 1250.0));
}

double brv_exposure_alpha_max(int edition, double time)
{
    if (edition == BRV_EU_2006) return ALPHA_MAX;
    return fmin(fmax(GROWS * sqrt(time), SMALLEST), ALPHA_MAX);
}

double brv_exposure_factor_e(int edition, double angle, double time)
{
    const double most = brv_exposure_alpha_max(edition, time);
    if (angle <= BRV_ALPHA_MIN) return 1.0;
    return angle <= most ? angle / BRV_ALPHA_MIN : angle * angle / (BRV_ALPHA_MIN * most);
}

/* ---- one exposure ---- */

static bool is_for(const struct brv_exposure_row *row, const struct brv_exposure_ask *ask)
{
    return row->edition == ask->edition && row->organ == ask->organ && ask->wavelength >= row->from_wavelength &&
           ask->wavelength <= row->to_wavelength;
}

double brv_exposure_by_row(const struct brv_exposure_row *row, const struct brv_exposure_ask *ask, double time)
{
    double limit = row->coefficient * (row->irradiance ? time : pow(time, row->exponent));
    if (row->factors & BRV_FACTOR_A) limit *= brv_exposure_factor_a(ask->wavelength);
    if (row->factors & BRV_FACTOR_C) limit *= brv_exposure_factor_c(ask->edition, ask->wavelength);
    if (row->factors & BRV_FACTOR_E) limit *= brv_exposure_factor_e(ask->edition, ask->angle, time);
    return limit;
}

/* The row that holds `time`. Of two that meet there the one that begins answers; of two that meet at the wavelength, the
 * one with the smaller limit.                                                                                        */
static const struct brv_exposure_row *row_of(const struct brv_exposure_ask *ask, double time)
{
    const struct brv_exposure_row *found = NULL;
    for (size_t i = 0; i < brv_n_exposure_rows; i++) {
        const struct brv_exposure_row *row = &brv_exposure_rows[i];
        if (!is_for(row, ask) || time < row->from || time > row->to * (1.0 + ROUNDING)) continue;
        const bool begins = found && row->from > found->from, beside = found && !(row->from < found->from) && !begins;
        if (!found || begins || (beside && brv_exposure_by_row(row, ask, time) < brv_exposure_by_row(found, ask, time)))
            found = row;
    }
    return found;
}

double brv_exposure_limit(const struct brv_exposure_ask *ask, double time, const struct brv_exposure_row **row)
{
    const struct brv_exposure_row *found = row_of(ask, time);
    if (row) *row = found;
    return found ? brv_exposure_by_row(found, ask, time) : (double)NAN;
}

double brv_exposure_shortest(int edition, double wavelength)
{
    double shortest[BRV_N_ORGAN] = {NAN, NAN};
    for (size_t i = 0; i < brv_n_exposure_rows; i++) {
        const struct brv_exposure_row *row = &brv_exposure_rows[i];
        const struct brv_exposure_ask ask = {.edition = edition, .organ = row->organ, .wavelength = wavelength};
        if (is_for(row, &ask)) shortest[row->organ] = fmin(shortest[row->organ], row->from); /* fmin passes NAN by */
    }
    return isnan(shortest[BRV_EYE]) || isnan(shortest[BRV_SKIN]) ? (double)NAN
                                                                 : fmax(shortest[BRV_EYE], shortest[BRV_SKIN]);
}

/* ---- many pulses ---- */

/* How many pulses begin within the stay. */
static double pulses_of(const struct brv_exposure_ask *ask)
{
    return ask->rate > 0.0 ? fmax(ceil(ask->stay * ask->rate * (1.0 - ROUNDING)), 1.0) : 1.0;
}

/* Rule 2 by one row. Within it a pulse's share of the sum falls with n, so the most pulses that it holds decide. They
 * fit into a stretch just shorter than n / f, so where two rows meet both are looked at. */
static void look_at_sum(struct brv_exposure *exposure, const struct brv_exposure_ask *ask,
                        const struct brv_exposure_row *row)
{
    const double n = fmin(floor(row->to * ask->rate * (1.0 + ROUNDING)), exposure->pulses), time = n / ask->rate;
    if (n < 2.0 || time * (1.0 + ROUNDING) < row->from) return;
    const double limit = brv_exposure_by_row(row, ask, time) / n;
    exposure->looked = fmax(exposure->looked, time);
    if (!(limit < exposure->rule[BRV_RULE_SUM])) return;
    exposure->rule[BRV_RULE_SUM] = limit;
    exposure->sum = row;
}

static void solve_sum(struct brv_exposure *exposure, const struct brv_exposure_ask *ask)
{
    if (exposure->pulses < 2.0) return;
    for (size_t i = 0; i < brv_n_exposure_rows; i++)
        if (is_for(&brv_exposure_rows[i], ask)) look_at_sum(exposure, ask, &brv_exposure_rows[i]);
    exposure->cut = !(exposure->looked * (1.0 + ROUNDING) >= exposure->pulses / ask->rate);
}

/* Pulses that follow each other within this time count as one [s]; 0: each counts. Source: [directive-2006-25] */
static double group_time(const struct brv_exposure_ask *ask)
{
    if (ask->edition != BRV_EU_2006) return 0.0;
    return ask->wavelength < 1050e-9 ? 18e-6 : 50e-6;
}

static void solve_many(struct brv_exposure *exposure, const struct brv_exposure_ask *ask)
{
    if (exposure->pulses < 2.0) return;
    if (ask->edition == BRV_ICNIRP_2013 && ask->organ == BRV_SKIN) return; /* of the retina only */
    const double room = group_time(ask) - ask->width;
    const double n = room > 0.0 ? fmin(floor(room * ask->rate * (1.0 + ROUNDING)) + 1.0, exposure->pulses) : 1.0;
    const double span = n > 1.0 ? (n - 1.0) / ask->rate + ask->width : ask->width;
    const double groups = ceil(exposure->pulses / n);
    exposure->rule[BRV_RULE_MANY] = brv_exposure_limit(ask, span, NULL) * pow(groups, FEWER) / n;
}

bool brv_exposure_solve(struct brv_exposure *exposure, const struct brv_exposure_ask *ask)
{
    const double none = (double)INFINITY;
    *exposure = (struct brv_exposure){.pulses = pulses_of(ask), .rule = {NAN, none, none}, .limit = NAN};
    exposure->rule[BRV_RULE_ONE] = brv_exposure_limit(ask, ask->width, &exposure->row);
    exposure->covered = exposure->row != NULL;
    if (!exposure->covered) return false;
    solve_sum(exposure, ask);
    solve_many(exposure, ask);
    for (int rule = BRV_RULE_ONE; rule < BRV_N_RULE; rule++)
        if (exposure->rule[rule] < exposure->rule[exposure->binding]) exposure->binding = rule;
    exposure->limit = exposure->rule[exposure->binding];
    return true;
}
