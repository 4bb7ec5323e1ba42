#include "scenario/pulse.h"

#include <math.h>

#define TAIL_WIDTHS 2.5 /* where the Gaussian is cut, in widths from its centre */

/* erf argument of the cut: sigma = width / (2 sqrt(2 ln 2)), argument = distance / (sigma sqrt 2). */
static double scaled(double widths)
{
    return widths * 2.0 * sqrt(log(2.0));
}

double brv_pulse_centre(const struct brv_pulse *pulse)
{
    return pulse->shape == BRV_SHAPE_SQUARE ? 0.5 * pulse->width : TAIL_WIDTHS * pulse->width;
}

double brv_pulse_end(const struct brv_pulse *pulse)
{
    return pulse->shape == BRV_SHAPE_SQUARE ? pulse->width : brv_pulse_centre(pulse) + pulse->width;
}

double brv_pulse_window(const struct brv_pulse *pulse)
{
    return pulse->shape == BRV_SHAPE_SQUARE ? pulse->width : 2.0 * TAIL_WIDTHS * pulse->width;
}

double brv_pulse_delivered(const struct brv_pulse *pulse, double time)
{
    if (time <= 0.0) return 0.0;
    if (time >= brv_pulse_window(pulse)) return 1.0;
    if (pulse->shape == BRV_SHAPE_SQUARE) return time / pulse->width;

    const double whole = erf(scaled(TAIL_WIDTHS));
    return 0.5 * (1.0 + erf(scaled(time / pulse->width - TAIL_WIDTHS)) / whole);
}
