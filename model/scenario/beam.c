#include "scenario/beam.h"

#include "base/constants.h"

double brv_beam_area(const struct brv_beam *beam)
{
    return 0.25 * BRV_PI * beam->spot * beam->spot;
}

double brv_beam_axis_fluence(const struct brv_beam *beam)
{
    return beam->profile == BRV_PROFILE_GAUSSIAN ? 2.0 * beam->fluence : beam->fluence;
}
