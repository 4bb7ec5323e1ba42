#include "report/caption.h"

#include "base/constants.h"
#include "report/grain_layer.h"
#include "report/moment.h"
#include "report/number.h"
#include "report/term.h"
#include "report/words.h"

#include <math.h>
#include <stdbool.h>
#include <stdio.h>
#include <string.h>

/* ---- text ---- */

static const char *in_site(size_t site)
{
    return site == BRV_LESION ? "Lesion" : "Neighbour";
}

/* A column of numbers at `x`, straight between its rows; rows ascend. */
static double read_at(const double x[], const double y[], size_t n, double at)
{
    size_t i = 1;
    while (i + 1 < n && x[i] < at) i++;
    if (n < 2 || !(x[i] > x[i - 1])) return n ? y[0] : (double)NAN;
    return y[i - 1] + (fmin(fmax(at, x[i - 1]), x[i]) - x[i - 1]) / (x[i] - x[i - 1]) * (y[i] - y[i - 1]);
}

/* ---- one by one ---- */

static void tell_temperature(char out[BRV_CAPTION_SIZE], const struct brv_captioned *of)
{
    char grain[BRV_MOMENT_SIZE], warm[BRV_MOMENT_SIZE], when[BRV_NUMBER_SIZE], later[BRV_NUMBER_SIZE];
    bool over = false;
    for (size_t i = 0; i < BRV_N_SITE; i++) {
        const struct brv_effect *effect = &of->result->site[i].effect;
        over |= effect->hottest[BRV_PROBE_MEAN].high > effect->ceiling;
        brv_words_append(
            out, BRV_CAPTION_SIZE,
            "%s: the mean of a grain rises by at most %s, %s after the first pulse began; its layer, %s, by at most "
            "%s, after %s. ",
            in_site(i), brv_moment_rise(grain, &effect->peak[BRV_PROBE_MEAN]),
            brv_number_printed(when, effect->peak_time[BRV_PROBE_MEAN], BRV_TIME),
            brv_grain_layer(of->request, of->result, i), brv_moment_rise(warm, &effect->peak[BRV_PROBE_LAYER]),
            brv_number_printed(later, effect->peak_time[BRV_PROBE_LAYER], BRV_TIME));
    }
    if (over)
        brv_words_append(out, BRV_CAPTION_SIZE,
                         "Above %s °C a figure is absorbed energy over heat capacity, no temperature.",
                         brv_number_short(when, of->result->site[BRV_LESION].effect.ceiling - BRV_ZERO_C));
}

static void tell_train(char out[BRV_CAPTION_SIZE], const struct brv_captioned *of)
{
    char own[BRV_MOMENT_SIZE], layer[BRV_NUMBER_SIZE], deep[BRV_NUMBER_SIZE], where[BRV_NUMBER_SIZE];
    for (size_t i = 0; i < BRV_N_SITE; i++) {
        const struct brv_history *history = &of->result->site[i].history;
        const size_t n = history->n_time, row = history->before[history->n_pulse - 1];
        const double lead = history->excess[BRV_PROBE_MEAN * n + row];
        const struct brv_spread left = {lead, lead, lead};
        brv_words_append(
            out, BRV_CAPTION_SIZE,
            "%s: just before the last of %zu pulses the grain is %s above its layer, %s is %s K above its start, "
            "and at %s deep it is %s K. ",
            in_site(i), history->n_pulse, brv_moment_rise(own, &left), brv_grain_layer(of->request, of->result, i),
            brv_number_short(layer, history->rise[BRV_PROBE_LAYER * n + row]),
            brv_number_printed(where, 0.25 * of->result->ask.beam.spot, BRV_LENGTH),
            brv_number_short(deep, history->rise[history->quarter * n + row]));
    }
}

static void tell_grain(char out[BRV_CAPTION_SIZE], const struct brv_captioned *of)
{
    char centre[BRV_NUMBER_SIZE], edge[BRV_NUMBER_SIZE], far[BRV_NUMBER_SIZE], radius[BRV_NUMBER_SIZE],
        when[BRV_NUMBER_SIZE], then[BRV_NUMBER_SIZE];
    for (size_t i = 0; i < BRV_N_SITE; i++) {
        const struct brv_site *site = &of->result->site[i];
        const struct brv_history *history = &site->history;
        const double *rise = history->profile, *late = rise + (history->n_profile - 1) * history->n_radius;
        const double grain = 0.5 * site->effect.diameter;
        if (!history->n_profile || !history->n_radius) continue;
        brv_words_append(
            out, BRV_CAPTION_SIZE,
            "%s, at the end of the first pulse: %s K above the start in the centre of the grain, %s K at its surface "
            "(%s from the centre), %s K at the outer end of what is drawn; %s later %s K in the centre. ",
            in_site(i), brv_number_short(centre, rise[0]),
            brv_number_short(edge, read_at(history->radius, rise, history->n_radius, grain)),
            brv_number_printed(radius, grain, BRV_LENGTH), brv_number_short(far, rise[history->n_radius - 1]),
            brv_number_printed(when, history->profile_time[history->n_profile - 1], BRV_TIME),
            brv_number_short(then, late[0]));
    }
}

static void tell_disrupted(char out[BRV_CAPTION_SIZE], const struct brv_captioned *of)
{
    struct brv_headlines headlines;
    char share[BRV_TERM_SIZE], sign[BRV_TERM_SIZE], grain[BRV_TERM_SIZE], fluence[BRV_NUMBER_SIZE];
    brv_headlines_read(&headlines, of->result);
    brv_words_append(out, BRV_CAPTION_SIZE, "At the fluence of the scenario, %s: ",
                     brv_number_printed(fluence, of->result->ask.beam.fluence, BRV_FLUENCE));
    for (size_t i = 0; i < BRV_N_SITE; i++)
        brv_words_append(
            out, BRV_CAPTION_SIZE,
            "in the %s %s%s; the threshold of one grain is %s, that of a sign %s "
            "(J/cm²). ",
            i == BRV_LESION ? "lesion" : "neighbour",
            brv_term_spread(share, BRV_HEADLINE_SHARE, &headlines.at[i][BRV_HEADLINE_SHARE]),
            isnan(headlines.at[i][BRV_HEADLINE_SHARE].value) ? " is there" : " % of the grains are disrupted",
            brv_term_spread(grain, BRV_HEADLINE_THRESHOLD_GRAIN, &headlines.at[i][BRV_HEADLINE_THRESHOLD_GRAIN]),
            brv_term_spread(sign, BRV_HEADLINE_THRESHOLD_SIGN, &headlines.at[i][BRV_HEADLINE_THRESHOLD_SIGN]));
}

static void tell_depth(char out[BRV_CAPTION_SIZE], const struct brv_captioned *of)
{
    char top[BRV_NUMBER_SIZE], grain[BRV_NUMBER_SIZE], deep[BRV_NUMBER_SIZE], rise[BRV_NUMBER_SIZE],
        where[BRV_NUMBER_SIZE];
    for (size_t i = 0; i < BRV_N_SITE; i++) {
        const struct brv_site *site = &of->result->site[i];
        const struct brv_history *history = &site->history;
        size_t most = 0;
        for (size_t k = 0; k < history->n_cell; k++)
            if (history->peak[k] > history->peak[most]) most = k;
        const double depth = 0.5 * (history->face[most] + history->face[most + 1]);
        const bool reaches = brv_skin_thickness(&of->result->ask.skin[i]) >= 1e-3;
        brv_words_append(out, BRV_CAPTION_SIZE,
                         "%s: light over incident light %s at the surface, %s in the grain's layer", in_site(i),
                         brv_number_short(top, brv_light_fluence(&site->light, 0.0)),
                         brv_number_short(grain, site->light.mean_fluence[site->tissue.grain.layer]));
        if (reaches)
            brv_words_append(out, BRV_CAPTION_SIZE, ", %s at 1 mm",
                             brv_number_short(deep, brv_light_fluence(&site->light, 1e-3)));
        brv_words_append(out, BRV_CAPTION_SIZE, "; the highest rise of any depth is %s K, %s %s. ",
                         brv_number_short(rise, history->peak[most]),
                         brv_number_printed(where, fabs(depth), BRV_LENGTH),
                         depth < 0.0 ? "above the skin, in the film" : "deep");
    }
}

static void tell_spots(char out[BRV_CAPTION_SIZE], const struct brv_captioned *of)
{
    const struct brv_spots *spots = of->spots;
    char width[BRV_NUMBER_SIZE], fluence[BRV_NUMBER_SIZE], energy[BRV_NUMBER_SIZE];
    if (!spots) return;
    brv_words_append(out, BRV_CAPTION_SIZE, "Light at 1 mm over incident light, in the skin around the lesion:");
    for (size_t i = 0; i < BRV_N_SPOT; i++)
        brv_words_append(out, BRV_CAPTION_SIZE, "%s a spot of %s has %s at the same fluence and %s at the same energy",
                         i ? ";" : "", brv_number_printed(width, spots->diameter[i], BRV_LENGTH),
                         brv_number_short(fluence, read_at(spots->depth, spots->ratio[i], BRV_N_SPOT_DEPTH, 1e-3)),
                         brv_number_short(energy, read_at(spots->depth, spots->at_energy[i], BRV_N_SPOT_DEPTH, 1e-3)));
    brv_words_append(out, BRV_CAPTION_SIZE, ".");
}

/* Row of a grid nearest to a depth. */
static size_t nearest(const double x[], size_t n, double at)
{
    size_t best = 0;
    for (size_t i = 1; i < n; i++)
        if (fabs(x[i] - at) < fabs(x[best] - at)) best = i;
    return best;
}

static void tell_map(char out[BRV_CAPTION_SIZE], const struct brv_captioned *of)
{
    const struct brv_light *light = &of->result->site[BRV_LESION].light;
    const size_t n = light->n_map_radius;
    char axis[BRV_NUMBER_SIZE], edge[BRV_NUMBER_SIZE], away[BRV_NUMBER_SIZE], depth[BRV_NUMBER_SIZE];
    static const double at[] = {0.1e-3, 1e-3};
    const double radius = 0.5 * of->result->ask.beam.spot;
    if (!light->n_map_depth || !n) return;
    brv_words_append(out, BRV_CAPTION_SIZE, "Light over incident light in the lesion:");
    for (size_t k = 0; k < sizeof at / sizeof *at; k++) {
        const size_t row = nearest(light->map_depth, light->n_map_depth, at[k]);
        brv_words_append(out, BRV_CAPTION_SIZE, "%s %s deep %s on the axis and %s at %s from it, the edge of the spot",
                         k ? ";" : "", brv_number_printed(depth, light->map_depth[row], BRV_LENGTH),
                         brv_number_short(axis, light->map[row * n]),
                         brv_number_short(edge, light->map[row * n + nearest(light->map_radius, n, radius)]),
                         brv_number_printed(away, radius, BRV_LENGTH));
    }
    brv_words_append(out, BRV_CAPTION_SIZE, ".");
}

static void tell_beside(char out[BRV_CAPTION_SIZE], const struct brv_captioned *of)
{
    const struct brv_field *field = &of->result->site[BRV_LESION].history.field;
    const size_t n = field->n_radius;
    const double radius = 0.5 * of->result->ask.beam.spot;
    char when[BRV_NUMBER_SIZE], rise[BRV_NUMBER_SIZE], depth[BRV_NUMBER_SIZE], edge[BRV_NUMBER_SIZE],
        away[BRV_NUMBER_SIZE];
    if (!field->n_depth || !n) return;
    brv_words_append(out, BRV_CAPTION_SIZE, "In the lesion,");
    for (size_t k = 0; k < 2; k++) {
        size_t most = 0;
        if (!isfinite(field->time[k])) continue;
        for (size_t i = 0; i < field->n_depth; i++)
            if (field->rise[k][i * n] > field->rise[k][most * n]) most = i;
        brv_words_append(
            out, BRV_CAPTION_SIZE,
            "%s %s after the last pulse began: %s K at most on the axis, %s deep, and %s K beside it at %s",
            k ? ";" : "", brv_number_printed(when, field->time[k], BRV_TIME),
            brv_number_short(rise, field->rise[k][most * n]),
            brv_number_printed(depth, fabs(field->depth[most]), BRV_LENGTH),
            brv_number_short(edge, field->rise[k][most * n + nearest(field->radius, n, radius)]),
            brv_number_printed(away, radius, BRV_LENGTH));
    }
    brv_words_append(out, BRV_CAPTION_SIZE, ".");
}

/* ---- all ---- */

const struct brv_caption brv_captions[] = {
    {"temperature",
     "Temperature against time since a pulse began, on a logarithmic scale: every step to the right by one mark is ten "
     "times as late. Where the curve of the grain stands above that of its layer, the grain keeps its heat.",
     tell_temperature},
    {"train", "Pulse after pulse: what each leaves behind, in the grain, in its layer and deeper down.", tell_train},
    {"grain",
     "Temperature against the distance from the centre of one grain, at the end of the pulse (of the first, in a "
     "train) and later.",
     tell_grain},
    {"disrupted",
     "Which share of the grains reaches the criterion at which fluence, and the range in which that becomes a sign.",
     tell_disrupted},
    {"depth", "Light and the highest rise against depth, on the axis of the beam.", tell_depth},
    {"spots",
     "Light against depth below spots of other widths: at the same fluence a wider spot has more light deep down, at "
     "the "
     "same energy a narrower one has more everywhere.",
     tell_spots},
    {"map", "Light inside the skin across and below the spot, cut through its axis.", tell_map},
    {"beside", "Warmth across and below the spot, just after the last pulse and later.", tell_beside},
};
const size_t brv_n_captions = sizeof brv_captions / sizeof *brv_captions;
