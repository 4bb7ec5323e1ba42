#include "study/slip.h"

#include "base/constants.h"
#include "light/fresnel.h"
#include "scenario/keys.h"
#include "study/many.h"
#include "study/spread.h"

#include <assert.h>
#include <math.h>
#include <stdbool.h>
#include <stdlib.h>

#define CONE      0.1   /* full angle [rad] */
#define STAND_OFF 10e-3 /* [m] */

double brv_slip_tilt(double angle, double index_outside, double index_inside)
{
    const double cosine = cos(angle);
    const double straight = brv_fresnel_reflectance(index_outside, 1.0, index_inside, 1.0);
    const double tilted = brv_fresnel_reflectance(index_outside, cosine, index_inside,
                                                  brv_fresnel_cosine(index_outside, cosine, index_inside));
    return cosine * (1.0 - tilted) / (1.0 - straight);
}

/* The same energy in another spot; none narrower or wider than a spot may be. */
static void spread_out(struct brv_slip *slip, double factor)
{
    const struct brv_key *spot = &brv_keys[brv_key_find(BRV_SCOPE_LIGHT, "spot")];
    slip->spot *= factor;
    const bool there = slip->spot >= spot->least && slip->spot <= spot->most;
    slip->fluence = there ? 1.0 / (factor * factor) : (double)NAN;
}

static double together(double output, double spot)
{
    return sqrt(output * output + 4.0 * spot * spot);
}

static void find_light(struct brv_slip *slip, const struct brv_scenario *ask)
{
    slip->fluence = 1.0;
    slip->spot = ask->beam.spot;
    switch (slip->kind) {
    case BRV_SLIP_NONE:
        break;
    case BRV_SLIP_TILT:
        slip->fluence = brv_slip_tilt(slip->size, ask->surface.index, ask->skin[BRV_NEIGHBOUR].layer[0].index);
        break;
    case BRV_SLIP_STAND_OFF:
        spread_out(slip, 1.0 + 2.0 * slip->size * tan(0.5 * CONE) / ask->beam.spot);
        break;
    case BRV_SLIP_SPOT:
        spread_out(slip, 1.0 + slip->size);
        break;
    case BRV_SLIP_OUTPUT:
        slip->fluence = 1.0 + slip->size;
        break;
    case BRV_SLIP_BOTH:
        slip->fluence = 1.0 + copysign(together(slip->size, slip->spot_size), slip->size);
        break;
    }
}

void brv_slips_list(struct brv_slip slip[BRV_N_SLIP], const struct brv_scenario *ask)
{
    const double degree = BRV_PI / 180.0;
    const struct brv_slip all[BRV_N_SLIP] = {{.kind = BRV_SLIP_NONE},
                                             {.kind = BRV_SLIP_TILT, .size = 10.0 * degree},
                                             {.kind = BRV_SLIP_TILT, .size = 20.0 * degree},
                                             {.kind = BRV_SLIP_TILT, .size = 30.0 * degree},
                                             {.kind = BRV_SLIP_STAND_OFF, .size = STAND_OFF},
                                             {.kind = BRV_SLIP_STAND_OFF, .size = -STAND_OFF},
                                             {.kind = BRV_SLIP_SPOT, .size = 0.10},
                                             {.kind = BRV_SLIP_SPOT, .size = 0.05},
                                             {.kind = BRV_SLIP_SPOT, .size = -0.05},
                                             {.kind = BRV_SLIP_SPOT, .size = -0.10},
                                             {.kind = BRV_SLIP_OUTPUT, .size = -0.20},
                                             {.kind = BRV_SLIP_OUTPUT, .size = 0.20},
                                             {.kind = BRV_SLIP_BOTH, .size = -0.20, .spot_size = 0.05},
                                             {.kind = BRV_SLIP_BOTH, .size = 0.20, .spot_size = 0.05},
                                             {.kind = BRV_SLIP_BOTH, .size = -0.20, .spot_size = 0.10},
                                             {.kind = BRV_SLIP_BOTH, .size = 0.20, .spot_size = 0.10}};
    for (size_t i = 0; i < BRV_N_SLIP; i++) {
        slip[i] = all[i];
        find_light(&slip[i], ask);
    }
}

/* Where there is no such spot, the scenario itself: nothing is read off it. */
static struct brv_scenario slipped(const struct brv_slip *slip, const struct brv_scenario *ask)
{
    struct brv_scenario copy = brv_spread_followed(ask, BRV_SPREAD_AFTER);
    if (isnan(slip->fluence)) return copy;
    copy.beam.spot = slip->spot;
    copy.beam.fluence = slip->fluence * ask->beam.fluence;
    copy.beam.energy = copy.beam.fluence * brv_beam_area(&copy.beam);
    return copy;
}

static void leave_empty(struct brv_headlines *headlines)
{
    for (size_t site = 0; site < BRV_N_SITE; site++)
        for (size_t which = 0; which < BRV_N_HEADLINE; which++)
            headlines->at[site][which] = (struct brv_spread){(double)NAN, (double)NAN, (double)NAN};
}

struct runs {
    struct brv_scenario ask[BRV_N_SLIP];
    struct brv_result result[BRV_N_SLIP];
};

brv_status brv_slips_solve(struct brv_slip slip[BRV_N_SLIP], const struct brv_scenario *ask,
                           const struct brv_control *control, struct brv_error *error)
{
    brv_slips_list(slip, ask);
    struct runs *runs = malloc(sizeof *runs);
    if (!runs) return brv_error_raise(error, BRV_MEMORY, "slip");
    for (size_t i = 0; i < BRV_N_SLIP; i++) runs->ask[i] = slipped(&slip[i], ask);
    const brv_status status = brv_many_solve(runs->result, BRV_N_SLIP, runs->ask, BRV_VALUES_ONLY, control, error);
    for (size_t i = 0; i < BRV_N_SLIP && !status; i++) {
        brv_headlines_read(&slip[i].headlines, &runs->result[i]);
        if (isnan(slip[i].fluence)) leave_empty(&slip[i].headlines);
        brv_run_free(&runs->result[i]);
    }
    free(runs);
    return status;
}
