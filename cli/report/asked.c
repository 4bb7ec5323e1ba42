#include "report/asked.h"

#include "base/constants.h"
#include "effect/effect_crowd.h"
#include "report/number.h"
#include "side/cie.h"
#include "scenario/keys.h"

#include <math.h>
#include <stdio.h>

const char *brv_asked_outside(char out[BRV_ASKED_SIZE], const struct brv_surface *surface)
{
    static const char *const outside[BRV_N_OUTSIDE] = {"air", "gel", "forced air", "plate"};
    char index[BRV_NUMBER_SIZE];
    if (brv_key_given(surface, BRV_SCOPE_SURFACE, "index"))
        snprintf(out, BRV_ASKED_SIZE, "index %.12s", brv_number_short(index, surface->index));
    else
        snprintf(out, BRV_ASKED_SIZE, "%s", outside[surface->outside]);
    return out;
}

const char *brv_asked_meets(char out[BRV_ASKED_SIZE], const struct brv_scenario *ask)
{
    if (!brv_surface_changes(ask) || brv_surface_covers(ask)) return brv_asked_outside(out, &ask->surface);
    snprintf(out, BRV_ASKED_SIZE, "air");
    return out;
}

const char *brv_asked_train(char out[BRV_ASKED_SIZE], const struct brv_pulse *pulse)
{
    char rate[BRV_NUMBER_SIZE], pause[BRV_NUMBER_SIZE], last[BRV_NUMBER_SIZE],
        passes[BRV_ASKED_SIZE / 2] = "", pace[BRV_ASKED_SIZE / 2] = "";
    out[0] = '\0';
    if (brv_pulse_total(pulse) < 2) return out;
    if (pulse->count > 1.0) snprintf(pace, sizeof pace, ", %.12s a second", brv_number_short(rate, pulse->rate));
    if (pulse->passes > 1.0)
        snprintf(passes, sizeof passes, ", in %.0f passes with %.20s between them", pulse->passes,
                 brv_number_unit(pause, pulse->pause, BRV_TIME));
    snprintf(out, BRV_ASKED_SIZE, "%zu pulses%.40s%.60s; the last begins at %.20s", brv_pulse_total(pulse), pace,
             passes, brv_number_unit(last, brv_pulse_last(pulse), BRV_TIME));
    return out;
}

const char *brv_asked_cover(char out[BRV_ASKED_SIZE], const struct brv_scenario *ask)
{
    const struct brv_surface *surface = &ask->surface;
    char name[BRV_ASKED_SIZE], from[BRV_NUMBER_SIZE], until[BRV_NUMBER_SIZE], transfer[BRV_NUMBER_SIZE],
        degrees[BRV_NUMBER_SIZE], own[BRV_NUMBER_SIZE + 8] = "as warm as the skin";
    const char *to = isinf(surface->to) ? "the end" : brv_number_unit(until, surface->to, BRV_TIME);
    out[0] = '\0';
    if (!brv_surface_changes(ask)) return out;
    if (brv_key_given(surface, BRV_SCOPE_SURFACE, "outside_temperature"))
        snprintf(own, sizeof own, "at %.12s C", brv_number_short(degrees, surface->outside_temperature - BRV_ZERO_C));
    snprintf(out, BRV_ASKED_SIZE, "%.20s on the skin from %.20s to %.20s, %.40s, %.12s W/m2/K",
             brv_asked_outside(name, surface), brv_number_unit(from, surface->from, BRV_TIME), to, own,
             brv_number_short(transfer, surface->transfer));
    return out;
}

const char *brv_asked_skin_meets(char out[2 * BRV_ASKED_SIZE], const struct brv_scenario *ask)
{
    char outside[BRV_ASKED_SIZE], cover[BRV_ASKED_SIZE];
    const bool covered = *brv_asked_cover(cover, ask) != '\0';
    snprintf(out, 2 * BRV_ASKED_SIZE, "%.100s outside%s%s", brv_asked_meets(outside, ask), covered ? "; " : "", cover);
    return out;
}

const char *brv_asked_share(char out[BRV_ASKED_SIZE], double value, double low, double high)
{
    char text[3][BRV_NUMBER_SIZE];
    snprintf(out, BRV_ASKED_SIZE, "%.12s %% (%.12s to %.12s)", brv_number_short(text[0], 100.0 * value),
             brv_number_short(text[1], 100.0 * low), brv_number_short(text[2], 100.0 * high));
    return out;
}

const char *brv_asked_colour(char out[BRV_ASKED_SIZE], const struct brv_scenario *ask)
{
    const struct brv_skin_colour *colour = &ask->skin[BRV_NEIGHBOUR].colour;
    char lightness[BRV_NUMBER_SIZE], yellow[BRV_NUMBER_SIZE], share[BRV_ASKED_SIZE];
    out[0] = '\0';
    if (!(colour->melanosomes > 0.0)) return out;
    snprintf(out, BRV_ASKED_SIZE,
             "L* %.12s, b* %.12s, ITA %.1f: %.60s melanosomes in 60 um by this model, not measured",
             brv_number_short(lightness, colour->lightness), brv_number_short(yellow, colour->yellow),
             brv_cie_ita(colour->lightness, colour->yellow),
             brv_asked_share(share, colour->melanosomes, colour->low, colour->high));
    return out;
}

const char *brv_asked_sign(char out[BRV_ASKED_SIZE], const struct brv_watch *watch)
{
    snprintf(out, BRV_ASKED_SIZE, "%.2g-%.2g", 1e6 * fmin(watch->sign_column, BRV_SIGN_LEAST),
             1e6 * fmax(watch->sign_column, BRV_SIGN_MOST));
    return out;
}

/* As far from each other as colours of skin of two classes may be; this project's choice. */
#define FAR 5.0

const char *brv_asked_made_colour(char out[BRV_ASKED_SIZE], const struct brv_scenario *ask)
{
    const struct brv_skin_colour *colour = &ask->skin[BRV_NEIGHBOUR].colour;
    char lightness[BRV_NUMBER_SIZE], yellow[BRV_NUMBER_SIZE];
    out[0] = '\0';
    if (!(colour->made_lightness > 0.0)) return out;
    const double away = hypot(colour->made_lightness - colour->lightness, colour->made_yellow - colour->yellow);
    snprintf(out, BRV_ASKED_SIZE, "only the angle is matched: this model's skin has L* %.12s, b* %.12s%s",
             brv_number_short(lightness, colour->made_lightness), brv_number_short(yellow, colour->made_yellow),
             away > FAR ? "; FAR from the measured ones: no skin of this model looks like that" : "");
    return out;
}
