#include "scenario/pulse.h"

#include <math.h>

#define TAIL_WIDTHS 2.5 /* where the Gaussian is cut, in widths from its centre */

/* erfc and erf at the cut, scaled(TAIL_WIDTHS). As numbers: one compiler would put the value rounded right in their place,
 * another calls the C library, whose last digit is another one, and results would differ by the compiler.               */
#define BEYOND_CUT 3.9314953473508578e-09
#define WITHIN_CUT 0.99999999606850465

/* erf argument of the cut: sigma = width / (2 sqrt(2 ln 2)), argument = distance / (sigma sqrt 2). */
static double scaled(double widths)
{
    return widths * 2.0 * sqrt(log(2.0));
}

/* Share of the energy farther than x from the centre on one side; erfc keeps the digits of the first trickle. */
static double tail(double x)
{
    return 0.5 * (erfc(x) - BEYOND_CUT) / WITHIN_CUT;
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

/* From the start of a pass to that of its last pulse; a single pulse has no rate. */
static double pass_length(const struct brv_pulse *pulse)
{
    return pulse->count > 1.0 ? (pulse->count - 1.0) / pulse->rate : 0.0;
}

size_t brv_pulse_total(const struct brv_pulse *pulse)
{
    return (size_t)pulse->count * (size_t)pulse->passes;
}

double brv_pulse_start(const struct brv_pulse *pulse, size_t k)
{
    const size_t count = (size_t)pulse->count, pass = k / count, place = k % count;
    const double begin = pass > 0 ? (double)pass * (pass_length(pulse) + pulse->pause) : 0.0;
    return place > 0 ? begin + (double)place / pulse->rate : begin;
}

double brv_pulse_last(const struct brv_pulse *pulse)
{
    const double begin = pulse->passes > 1.0 ? (pulse->passes - 1.0) * (pass_length(pulse) + pulse->pause) : 0.0;
    return begin + pass_length(pulse);
}
