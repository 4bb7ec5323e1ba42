#include "report/story.h"

#include "base/constants.h"
#include "report/asked.h"
#include "report/grain_layer.h"
#include "report/number.h"
#include "report/telling.h"

#include <math.h>
#include <stdbool.h>
#include <stdio.h>
#include <string.h>

#define TOGETHER   0.1   /* a grain that has so much less more than its layer warms with it [1] */
#define NO_PIGMENT 1e-12 /* column that counts as none [m] */
#define CLEARLY    1.05  /* so many times more light is told [1] */
#define ONE        0.005 /* so much apart grain and layer are told as one [K] */
#define SHORT      0.3   /* pulse over relaxation: below, the grain is heated faster than it cools; */
#define LONG       3.0   /* above, it cools faster than it is heated [1] */
#define APART      1.2   /* a moment nearer to the end of the pulse, or of the curves, is not told [1] */

static double pulse_end(const struct brv_telling *telling)
{
    return brv_pulse_end(&telling->result->ask.pulse);
}

/* Of a place at a moment. */
struct heat {
    bool hot[BRV_N_SITE]; /* its figure is no temperature */
    bool high;            /* none is so, but a high end is */
    bool any, both;
};

static struct heat heat_at(const struct brv_telling *telling, size_t probe, double since)
{
    struct heat heat = {.both = true};
    bool high = false;
    for (size_t i = 0; i < BRV_N_SITE; i++) {
        struct brv_moment moment;
        brv_moment_read(&moment, &telling->site[i], probe, since);
        heat.hot[i] = moment.temperature.value > telling->site[i].effect.ceiling;
        high |= moment.temperature.high > telling->site[i].effect.ceiling;
        heat.any |= heat.hot[i];
        heat.both &= heat.hot[i];
    }
    heat.high = high && !heat.any;
    return heat;
}

static bool has_pigment(const struct brv_telling *telling)
{
    return telling->site[BRV_LESION].effect.crowd.column > NO_PIGMENT ||
           telling->site[BRV_NEIGHBOUR].effect.crowd.column > NO_PIGMENT;
}

/* Does the grain hardly stand out from its layer at the end of the pulse, in both? */
static bool together(const struct brv_telling *telling)
{
    for (size_t i = 0; i < BRV_N_SITE; i++) {
        struct brv_moment layer;
        brv_moment_read(&layer, &telling->site[i], BRV_PROBE_LAYER, pulse_end(telling));
        if (brv_moment_excess(&telling->site[i], pulse_end(telling)).value > TOGETHER * layer.rise.value) return false;
    }
    return true;
}

/* ---- before ---- */

/* Two columns of two layers: said before any number of theirs. */
static void tell_two_layers(struct brv_telling *telling)
{
    const struct brv_history *neighbour = &telling->site[BRV_NEIGHBOUR].history;
    char degrees[BRV_NUMBER_SIZE];
    brv_telling_say(telling,
                    "The grain is followed in %s in the lesion and in %s, at %s °C, in the neighbour: what is told of "
                    "grain and layer "
                    "are figures of two layers, which do not compare.",
                    brv_grain_layer(telling->request, telling->result, BRV_LESION),
                    brv_grain_layer(telling->request, telling->result, BRV_NEIGHBOUR),
                    brv_number_short(degrees, neighbour->start[BRV_PROBE_LAYER] - BRV_ZERO_C));
}

static void tell_before(struct brv_telling *telling)
{
    const struct brv_history *history = &telling->site[BRV_LESION].history;
    const struct brv_surface *surface = &telling->result->ask.surface;
    char cover[BRV_ASKED_SIZE], one[BRV_NUMBER_SIZE], two[BRV_NUMBER_SIZE], text[BRV_N_SITE][BRV_MOMENT_SIZE],
        pair[BRV_TELLING_SIZE];
    brv_telling_begin(telling, "Before the light");
    brv_telling_say(telling, "The skin is at %s °C at its surface and %s °C in %s.",
                    brv_number_short(one, surface->temperature - BRV_ZERO_C),
                    brv_number_short(two, history->start[BRV_PROBE_LAYER] - BRV_ZERO_C),
                    brv_grain_layer(telling->request, telling->result, BRV_LESION));
    if (telling->differ) tell_two_layers(telling);
    if (!*brv_asked_cover(cover, &telling->result->ask) || !history->cooled) return;
    brv_telling_say(telling, "On it lies: %s.", cover);
    if (surface->from >= 0.0) return;
    for (size_t i = 0; i < BRV_N_SITE; i++) {
        const struct brv_history *own = &telling->site[i].history;
        const double degrees =
            own->start[BRV_PROBE_LAYER] + own->cooled[BRV_PROBE_LAYER * own->n_time + own->before[0]] - BRV_ZERO_C;
        snprintf(text[i], BRV_MOMENT_SIZE, "%s °C", brv_number_short(one, degrees));
    }
    brv_telling_say(telling, "When the light comes %s is at %s.", telling->layer, brv_telling_both(pair, text));
}

/* Just before the last pulse: what those before it have left, on three scales. */
static void tell_left(struct brv_telling *telling)
{
    static const size_t scale[] = {BRV_PROBE_MEAN, BRV_PROBE_LAYER};
    char text[3][BRV_N_SITE][BRV_MOMENT_SIZE], pair[3][BRV_TELLING_SIZE], deep[BRV_NUMBER_SIZE];
    if (!telling->train) return;
    for (size_t i = 0; i < BRV_N_SITE; i++) {
        const struct brv_site *site = &telling->site[i];
        const struct brv_history *history = &site->history;
        const size_t row = history->before[history->n_pulse - 1], n = history->n_time;
        const size_t probe[] = {scale[0], scale[1], history->quarter};
        for (size_t k = 0; k < 3; k++) {
            const double rise = k ? history->rise[probe[k] * n + row] : history->excess[BRV_PROBE_MEAN * n + row];
            struct brv_spread spread = {rise, rise, rise};
            for (size_t dark = 0; dark < 2 && k; dark++) { /* what a grain has left of its own is nearly nothing */
                const double other = brv_history_scaled(
                    history, probe[k], row, brv_effect_scaling(&site->tissue, &site->light, history, probe[k], dark));
                spread.low = fmin(spread.low, other);
                spread.high = fmax(spread.high, other);
            }
            brv_moment_rise(text[k][i], &spread);
        }
    }
    brv_telling_begin(telling, "Just before the last pulse");
    brv_telling_say(
        telling,
        "The pulses before it have left in the grain, over its layer: %s; in %s: %s; a quarter of the spot deep, %s: "
        "%s.",
        brv_telling_both(pair[0], text[0]), telling->layer, brv_telling_both(pair[1], text[1]),
        brv_number_printed(deep, 0.25 * telling->result->ask.beam.spot, BRV_LENGTH),
        brv_telling_both(pair[2], text[2]));
}

/* ---- the pulse ---- */

static void tell_film(struct brv_telling *telling)
{
    const struct brv_film_effect *lesion = &telling->site[BRV_LESION].effect.film;
    const struct brv_film_effect *neighbour = &telling->site[BRV_NEIGHBOUR].effect.film;
    char text[BRV_N_SITE][BRV_MOMENT_SIZE], pair[3][BRV_TELLING_SIZE], when[BRV_NUMBER_SIZE], one[BRV_NUMBER_SIZE];
    if (!lesion->there) return;
    brv_moment_rise(text[BRV_LESION], &lesion->peak);
    brv_moment_rise(text[BRV_NEIGHBOUR], &neighbour->peak);
    brv_telling_both(pair[0], text);
    snprintf(text[BRV_LESION], BRV_MOMENT_SIZE, "%s K", brv_number_short(one, lesion->gives));
    snprintf(text[BRV_NEIGHBOUR], BRV_MOMENT_SIZE, "%s K", brv_number_short(one, neighbour->gives));
    brv_telling_both(pair[1], text);
    brv_telling_say(telling, "The film on the skin is heated first: it takes up %s, and its mean rises by %s%s.",
                    brv_telling_both_share(pair[2], lesion->absorbed, neighbour->absorbed), pair[0],
                    lesion->above || neighbour->above
                        ? " by energy over heat capacity: such a film may boil, burn or fly off"
                        : "");
    brv_telling_say(telling, "By that heat %s gets warmer by at most %s, most so %s after the first pulse began%s.",
                    telling->layer, pair[1], brv_number_printed(when, lesion->gives_time, BRV_TIME),
                    lesion->above || neighbour->above
                        ? ", as far as the film is still there: later figures here count on that"
                        : "");
}

/* Without a pigment share there is no grain in the layer, and one is put there. */
static bool is_imagined(const struct brv_telling *telling, size_t site)
{
    return isinf(telling->site[site].tissue.grain.cell_radius) != 0;
}

/* Where only one of the skins has grains the other's is told of first. */
static void tell_imagined(struct brv_telling *telling)
{
    if (is_imagined(telling, BRV_LESION) == is_imagined(telling, BRV_NEIGHBOUR)) return;
    brv_telling_say(telling, "The %s has no pigment in %s: its grain is imagined, one put there alone.",
                    is_imagined(telling, BRV_LESION) ? "lesion" : "neighbour",
                    brv_grain_layer(telling->request, telling->result,
                                    is_imagined(telling, BRV_LESION) ? BRV_LESION : BRV_NEIGHBOUR));
}

/* Where the skin around has less pigment and hotter grains, a reader asks why. */
static void tell_shading(struct brv_telling *telling)
{
    const struct brv_site *lesion = &telling->site[BRV_LESION], *neighbour = &telling->site[BRV_NEIGHBOUR];
    const size_t here = lesion->tissue.grain.layer, beside = neighbour->tissue.grain.layer;
    const double light[] = {lesion->light.mean_fluence[here], neighbour->light.mean_fluence[beside]};
    char one[BRV_NUMBER_SIZE], two[BRV_NUMBER_SIZE];
    const bool imagined = is_imagined(telling, BRV_NEIGHBOUR);
    if (telling->differ) {
        brv_telling_say(
            telling, "In the lesion's %s the light is %s times the incident, in the neighbour's %s %s times.",
            brv_grain_layer(telling->request, telling->result, BRV_LESION), brv_number_short(two, light[0]),
            brv_grain_layer(telling->request, telling->result, BRV_NEIGHBOUR), brv_number_short(one, light[1]));
        return;
    }
    if (light[1] < CLEARLY * light[0] || lesion->effect.crowd.column <= neighbour->effect.crowd.column) return;
    brv_telling_say(telling, "%s: in %s layer it is %s times the incident light, in the lesion's %s times.",
                    imagined ? "The neighbour's grain gets hotter because more light is left there"
                             : "Grains of the neighbour get hotter because fewer share the light",
                    imagined ? "its" : "their", brv_number_short(one, light[1]), brv_number_short(two, light[0]));
}

/* Is that a temperature, and which? */
static void tell_degrees(struct brv_telling *telling, double end)
{
    const struct heat heat = heat_at(telling, BRV_PROBE_MEAN, end);
    const size_t cool = heat.hot[BRV_LESION] ? BRV_NEIGHBOUR : BRV_LESION;
    char pair[BRV_TELLING_SIZE], ceiling[BRV_NUMBER_SIZE];
    brv_number_short(ceiling, telling->site[BRV_LESION].effect.ceiling - BRV_ZERO_C);
    if (!heat.any)
        brv_telling_say(telling, "It is then at %s.", brv_telling_both_temperature(pair, telling, BRV_PROBE_MEAN, end));
    if (heat.high)
        brv_telling_say(telling, "What lies above %s °C there is energy over heat capacity, no temperature.", ceiling);
    if (!heat.any) return;
    brv_telling_say(
        telling,
        "%s is absorbed energy over heat capacity, no temperature: above %s °C water at a grain would boil, and the "
        "model goes on as if nothing did.",
        heat.both ? "That"
        : cool    ? "That of the lesion"
                  : "That of the neighbour",
        ceiling);
    if (heat.both) return;
    struct brv_moment moment;
    brv_moment_read(&moment, &telling->site[cool], BRV_PROBE_MEAN, end);
    brv_telling_say(telling, "In the %s it is then at %s.", cool == BRV_LESION ? "lesion" : "neighbour",
                    brv_moment_temperature(pair, &moment.temperature, telling->site[cool].effect.ceiling));
}

static void tell_own_layer(struct brv_telling *telling, double end)
{
    const struct heat heat = heat_at(telling, BRV_PROBE_LAYER, end);
    static const char later[] = ", and what is told of later moments counts on nothing boiling";
    char pair[BRV_TELLING_SIZE];
    brv_telling_say(telling, "Its layer, %s, is above its start by %s%s%s.", telling->layer,
                    brv_telling_both_rise(pair, telling, BRV_PROBE_LAYER, end),
                    heat.both                 ? ": no temperature either"
                    : heat.hot[BRV_LESION]    ? ": no temperature in the lesion"
                    : heat.hot[BRV_NEIGHBOUR] ? ": no temperature in the neighbour"
                    : heat.high               ? ": its high end is no temperature"
                                              : "",
                    heat.any ? later : "");
}

static void tell_grain(struct brv_telling *telling)
{
    char pair[BRV_TELLING_SIZE];
    const double end = pulse_end(telling);
    tell_imagined(telling);
    brv_telling_say(telling, "The mean of one pigment grain is above its start by %s.",
                    brv_telling_both_rise(pair, telling, BRV_PROBE_MEAN, end));
    tell_degrees(telling, end);
    tell_shading(telling);
    tell_own_layer(telling, end);
}

static void tell_pulse(struct brv_telling *telling)
{
    char end[BRV_NUMBER_SIZE], pair[BRV_TELLING_SIZE];
    const struct brv_effect *lesion = &telling->site[BRV_LESION].effect;
    const struct brv_effect *neighbour = &telling->site[BRV_NEIGHBOUR].effect;
    brv_telling_begin(telling, "At the end of %s, %s after it began", telling->pulse,
                      brv_number_printed(end, pulse_end(telling), BRV_TIME));
    tell_film(telling);
    tell_grain(telling);
    if (isfinite(lesion->held) && isfinite(neighbour->held))
        brv_telling_say(telling,
                        "Of the lead over its layer that it would have if no heat moved, there at that moment: %s.",
                        brv_telling_both_share(pair, lesion->held, neighbour->held));
    if (telling->result->ask.pulse.shape != BRV_SHAPE_SQUARE)
        brv_telling_say(
            telling, "A gaussian pulse has tails; one width after its middle %s %% of the light is in.",
            brv_number_short(end, 100.0 * brv_pulse_delivered(&telling->result->ask.pulse, pulse_end(telling))));
}

/* ---- grain and layer ---- */

/* Time after the end of the pulse at which the grain has all but a hundredth of what it had more than its layer [s]. */
static double given_away(const struct brv_site *site, double end)
{
    const struct brv_history *history = &site->history;
    double way = 0.0;
    for (size_t i = 1; i < history->n_time; i++) {
        const double *excess = history->excess + BRV_PROBE_MEAN * history->n_time;
        if (history->pulse[i] != 1 || history->since[i] < end) continue;
        const double span = history->since[i] - history->since[i - 1];
        way = span > 0.0 && history->pulse[i - 1] == 1 ? (end - history->since[i - 1]) / span : 1.0;
        const double had = excess[i - 1] + way * (excess[i] - excess[i - 1]);
        return had > 0.0 ? brv_history_fall(history, excess, end, 0.01 * had) - end : (double)NAN;
    }
    return (double)NAN;
}

static void tell_width(struct brv_telling *telling)
{
    char width[BRV_NUMBER_SIZE], pair[BRV_TELLING_SIZE], times[BRV_NUMBER_SIZE];
    const struct brv_effect *lesion = &telling->site[BRV_LESION].effect;
    const struct brv_effect *neighbour = &telling->site[BRV_NEIGHBOUR].effect;
    const double ratio = lesion->pulse / lesion->cooling.mean_efold;
    if (!isfinite(lesion->cooling.mean_efold) || !isfinite(neighbour->cooling.mean_efold)) return;
    brv_telling_say(
        telling,
        "Heated all at once, a grain would lose all but a third (1/e) of what it has more than its layer in %s.",
        brv_telling_both_time(pair, lesion->cooling.mean_efold, neighbour->cooling.mean_efold));
    brv_telling_say(telling, "The pulse, %s, is %s times as long as that in the lesion:",
                    brv_number_printed(width, lesion->pulse, BRV_TIME), brv_number_short(times, ratio));
    if (together(telling))
        brv_telling_say(
            telling,
            "the grain gives its heat away while it is still being heated, and grain and layer warm together.");
    else if (ratio > LONG)
        brv_telling_say(telling, "most of the grain's lead is gone before the light is.");
    else if (ratio > SHORT)
        brv_telling_say(telling, "heating and cooling go on together.");
    else
        brv_telling_say(telling, "the grain is heated faster than it can cool.");
}

static void tell_handing_over(struct brv_telling *telling)
{
    char pair[2][BRV_TELLING_SIZE];
    const struct brv_effect *lesion = &telling->site[BRV_LESION].effect;
    const struct brv_effect *neighbour = &telling->site[BRV_NEIGHBOUR].effect;
    const double end = pulse_end(telling);
    const double gone = given_away(&telling->site[BRV_LESION], end);
    const double gone_beside = given_away(&telling->site[BRV_NEIGHBOUR], end);
    brv_telling_begin(telling, "When the grain gives its heat to %s", telling->layer);
    if (!has_pigment(telling))
        brv_telling_say(
            telling, "There is no pigment in this skin: the grain is a single one put into it, and what it gives off "
                     "warms no layer.");
    tell_width(telling);
    brv_telling_say(telling, "At the end of the pulse it is hotter than its layer by %s.",
                    brv_telling_both_excess(pair[0], telling, end));
    if (together(telling)) return;
    if (isfinite(lesion->fall_efold[BRV_PROBE_MEAN]) && isfinite(neighbour->fall_efold[BRV_PROBE_MEAN]))
        brv_telling_say(
            telling, "From there it is down to a third of that (1/e) in %s.",
            brv_telling_both_time(pair[0], lesion->fall_efold[BRV_PROBE_MEAN], neighbour->fall_efold[BRV_PROBE_MEAN]));
    if (isfinite(gone) && isfinite(gone_beside))
        brv_telling_say(telling, "It is down to a hundredth in %s.", brv_telling_both_time(pair[0], gone, gone_beside));
}

/* ---- later ---- */

/* Of its highest rise by the pulses. */
static double left_of_peak(const struct brv_site *site, size_t probe, double since)
{
    struct brv_moment moment;
    brv_moment_read(&moment, site, probe, since);
    return moment.rise.value / site->effect.peak[probe].value;
}

/* Has the layer been at its highest, in both? Before that, what is told of it would read as cooling. */
static bool is_past_peak(const struct brv_telling *telling, double since)
{
    const double now = brv_pulse_last(&telling->result->ask.pulse) + since;
    bool past = since > pulse_end(telling);
    for (size_t i = 0; i < BRV_N_SITE; i++) past &= now >= telling->site[i].effect.peak_time[BRV_PROBE_LAYER];
    return past;
}

/* Is a grain as warm as its layer, whatever its darkness? */
static bool is_one(const struct brv_telling *telling, double since)
{
    bool one = true;
    for (size_t i = 0; i < BRV_N_SITE; i++) {
        const struct brv_spread excess = brv_moment_excess(&telling->site[i], since);
        one &= fmax(fabs(excess.low), fabs(excess.high)) < ONE;
    }
    return one;
}

static void tell_deep(struct brv_telling *telling, double since)
{
    char pair[BRV_TELLING_SIZE];
    const size_t lesion = telling->site[BRV_LESION].history.mark[0];
    if (lesion == BRV_NO_PROBE || telling->site[BRV_NEIGHBOUR].history.mark[0] != lesion) return;
    brv_telling_say(telling, "0.3 mm deep it is warmer by %s.", brv_telling_both_rise(pair, telling, lesion, since));
}

static void tell_moment(struct brv_telling *telling, double since)
{
    char pair[2][BRV_TELLING_SIZE], away[BRV_NUMBER_SIZE];
    const double sideways = telling->site[BRV_LESION].effect.sideways;
    const double left = left_of_peak(&telling->site[BRV_LESION], BRV_PROBE_LAYER, since);
    const double left_beside = left_of_peak(&telling->site[BRV_NEIGHBOUR], BRV_PROBE_LAYER, since);
    brv_telling_say(telling, "%c%s is at %s;",
                    telling->layer[0] >= 'a' && telling->layer[0] <= 'z' ? telling->layer[0] - 32 : telling->layer[0],
                    telling->layer + 1, brv_telling_both_temperature(pair[0], telling, BRV_PROBE_LAYER, since));
    brv_telling_say(telling, "by the %s it is warmer by %s.", telling->train ? "pulses" : "pulse",
                    brv_telling_both_rise(pair[1], telling, BRV_PROBE_LAYER, since));
    if (is_past_peak(telling, since) && isfinite(left) && isfinite(left_beside) && left < 0.995)
        brv_telling_say(telling, "Of its highest rise that is %s.", brv_telling_both_share(pair[0], left, left_beside));
    if (is_one(telling, since))
        brv_telling_say(telling, "Grain and layer are equally warm.");
    else
        brv_telling_say(telling, "A grain is hotter than that by %s.",
                        brv_telling_both_excess(pair[0], telling, since));
    tell_deep(telling, since);
    if (since + brv_pulse_last(&telling->result->ask.pulse) > sideways)
        brv_telling_say(telling,
                        "Heat also leaves sideways after %s, which is not in these figures: they are upper bounds.",
                        brv_number_printed(away, sideways, BRV_TIME));
}

static void tell_later(struct brv_telling *telling)
{
    static const double moment[] = {1e-6, 1e-3, 1.0};
    const double last = brv_moment_last(&telling->site[BRV_LESION].history), end = pulse_end(telling);
    char when[BRV_NUMBER_SIZE];
    for (size_t i = 0; i < sizeof moment / sizeof *moment; i++) {
        if (moment[i] < APART * end || APART * moment[i] > last) continue;
        brv_telling_begin(telling, "%s after %s began", brv_number_printed(when, moment[i], BRV_TIME), telling->pulse);
        tell_moment(telling, moment[i]);
    }
    brv_telling_begin(telling, "%s after %s began, where the curves end", brv_number_printed(when, last, BRV_TIME),
                      telling->pulse);
    tell_moment(telling, last);
}

/* ---- what it comes to ---- */

static const char *held_against(double fluence, const struct brv_spread *sign)
{
    if (isnan(sign->value)) return "none, whatever the fluence";
    if (fluence < sign->low) return "none, it is below the range of its threshold";
    return isfinite(sign->high) && fluence > sign->high ? "sign, it is above the range of its threshold"
                                                        : "unsure, it is within the range of its threshold";
}

static void tell_outcome(struct brv_telling *telling)
{
    struct brv_headlines headlines;
    char pair[BRV_TELLING_SIZE], fluence[BRV_NUMBER_SIZE], criterion[BRV_NUMBER_SIZE];
    const double given = telling->result->ask.beam.fluence;
    brv_headlines_read(&headlines, telling->result);
    brv_telling_begin(telling, "What it comes to in the model");
    if (has_pigment(telling))
        brv_telling_say(telling, "Grains differ; disrupted, as the model counts it, are %s.",
                        brv_telling_both_term(pair, &headlines, BRV_HEADLINE_SHARE));
    else
        brv_telling_say(telling, "Where there is no pigment there are no grains to count.");
    brv_telling_say(telling, "Threshold of a sign that one can see: %s.",
                    brv_telling_both_term(pair, &headlines, BRV_HEADLINE_THRESHOLD_SIGN));
    brv_telling_say(telling,
                    "For %s%s and a criterion of %s °C the model says in the lesion: %s; in the neighbour: %s.",
                    brv_number_printed(fluence, given, BRV_FLUENCE), telling->train ? " in every pulse" : "",
                    brv_number_short(criterion, telling->result->ask.watch.criterion - BRV_ZERO_C),
                    held_against(given, &headlines.at[BRV_LESION][BRV_HEADLINE_THRESHOLD_SIGN]),
                    held_against(given, &headlines.at[BRV_NEIGHBOUR][BRV_HEADLINE_THRESHOLD_SIGN]));
    brv_telling_say(
        telling,
        "A sign is not clearance, and no sign is not harmless: darkening afterwards and healing are not in the "
        "model.");
}

void brv_story_tell(struct brv_story *story, const struct brv_request *request, const struct brv_result *result)
{
    const bool train = brv_pulse_total(&result->ask.pulse) > 1;
    char layer[BRV_GRAIN_LAYER_SIZE];
    struct brv_telling telling = {.story = story,
                                  .request = request,
                                  .result = result,
                                  .site = result->site,
                                  .layer = brv_grain_layer_pair(layer, request, result, sizeof layer),
                                  .differ = brv_grain_layers_differ(result),
                                  .pulse = train ? "the last pulse" : "the pulse",
                                  .train = train};
    story->n = 0;
    tell_before(&telling);
    tell_left(&telling);
    tell_pulse(&telling);
    tell_handing_over(&telling);
    tell_later(&telling);
    tell_outcome(&telling);
}
