#include "scenario/pulse.h"

#include <math.h>

#define TAIL_WIDTHS 2.5 /* where the Gaussian is cut, in widths from its centre */

/* erf argument of the cut: sigma = width / (2 sqrt(2 ln 2)), argument = distance / (sigma sqrt 2). */
static double scaled(double widths)
{
    return widths * 2.0 * sqrt(log(2.0));
}

/* Share of the energy farther than x from the centre on one side; erfc keeps the digits of the first trickle. */
static double tail(double x)
{
    const double cut = scaled(TAIL_WIDTHS);
    return 0.5 * (erfc(x) - erfc(cut)) / erf(cut);
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

    const double x = scaled(time / pulse->width - TAIL_WIDTHS);
    return x < 0.0 ? tail(-x) : 1.0 - tail(x);
}
