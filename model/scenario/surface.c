#include "scenario/surface.h"

#include "base/constants.h"
#include "scenario/keys.h"

#include <assert.h>
#include <float.h>
#include <math.h>

/* Times are written in decimals and pulses are computed: what differs by rounding is the same moment. */
#define ROUNDING (4.0 * DBL_EPSILON)

/* Index: a water-like gel, 1.33-1.38, source [gel-index]; sapphire, 1.75-1.77, source [plate-index]; both from memory.
 * Transfer: a 2-mm layer of gel, 0.6 W/m/K; air that is blown, 50-200; a plate pressed on, 1000-10000.
 * Source: [surface-coefficients], from memory and this project's choice.                                         */
static const struct {
    double index, transfer;
} media[BRV_N_OUTSIDE] = {
    [BRV_AIR] = {1.0, BRV_AIR_TRANSFER},
    [BRV_GEL] = {1.34, 300.0},
    [BRV_FORCED_AIR] = {1.0, 100.0},
    [BRV_PLATE] = {1.76, 5000.0},
};

double brv_outside_index(enum brv_outside outside)
{
    assert(outside < BRV_N_OUTSIDE);
    return media[outside].index;
}

double brv_outside_transfer(enum brv_outside outside)
{
    assert(outside < BRV_N_OUTSIDE);
    return media[outside].transfer;
}

bool brv_surface_changes(const struct brv_scenario *ask)
{
    const bool stays = brv_key_given(&ask->surface, BRV_SCOPE_SURFACE, "index");
    return !stays && ask->surface.outside != BRV_AIR;
}

static double slack(const struct brv_scenario *ask, double time)
{
    return ROUNDING * (fabs(time) + brv_pulse_window(&ask->pulse));
}

/* Does it lie there from `start` to `end`? */
static bool lies_during(const struct brv_scenario *ask, double start, double end)
{
    return ask->surface.from <= start + slack(ask, start) && ask->surface.to >= end - slack(ask, end);
}

/* It lies there for one stretch of time: first and last pulse answer for those between. */
bool brv_surface_covers(const struct brv_scenario *ask)
{
    if (!brv_surface_changes(ask)) return brv_key_given(&ask->surface, BRV_SCOPE_SURFACE, "index");
    return lies_during(ask, 0.0, brv_pulse_last(&ask->pulse) + brv_pulse_window(&ask->pulse));
}

size_t brv_surface_covered_pulses(const struct brv_scenario *ask)
{
    const size_t n = brv_pulse_total(&ask->pulse);
    size_t covered = 0;
    for (size_t k = 0; k < n; k++) {
        const double start = brv_pulse_start(&ask->pulse, k);
        covered += lies_during(ask, start, start + brv_pulse_window(&ask->pulse));
    }
    return covered;
}

bool brv_surface_within_pulse(const struct brv_scenario *ask, double time)
{
    const size_t n = brv_pulse_total(&ask->pulse);
    for (size_t k = 0; k < n; k++) {
        const double start = brv_pulse_start(&ask->pulse, k), end = start + brv_pulse_window(&ask->pulse);
        if (time > start + slack(ask, start) && time < end - slack(ask, end)) return true;
    }
    return false;
}
