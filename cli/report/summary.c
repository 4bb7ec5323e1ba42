#include "report/summary.h"

#include "base/constants.h"
#include "heat/heat_beside.h"
#include "report/asked.h"
#include "report/body.h"
#include "report/caution.h"
#include "report/digest_effect.h"
#include "report/grain_layer.h"
#include "report/hash.h"
#include "report/note.h"
#include "report/number.h"
#include "report/term.h"
#include "report/words.h"
#include "run/ratio.h"
#include "scenario/keys.h"

#include <math.h>
#include <stdbool.h>
#include <string.h>

/* So that the whole stays under 42 lines; a train, or something laid on the skin, takes up to 4 more. */
#define MOST_DEPTH_ROWS   2
#define SIGN_COLUMN_SHORT (1.0 + 1e-9) /* pigment that just makes a sign makes none: rounding */
#define MOST_NOTE_LINES   8
#define LONGEST_NAME      12   /* of a layer, beside what else stands in its row */
#define LONGEST_PAIR      14   /* of two, and what stands between them */
#define NOTHING_LEFT      1e-8 /* of its rise: what a grain has left is then only rounding */
#define TRAIN_LINES       3    /* that a train takes from them */
#define FILM_LINES        3    /* likewise a film on the skin */
#define SITE_LINES        2    /* likewise a body site */

static const double to_J_cm2 = 1e-4;

/* ---- lines ---- */

/* `LABEL   what   lesion   neighbour`, the two in columns. */
static void row(FILE *to, const char *label, const char *what, const char *lesion, const char *neighbour)
{
    fprintf(to, "%-9s%-50s %-24s %s\n", label, what, lesion, neighbour);
}

static void number_row(FILE *to, const char *label, const char *what, double lesion, double neighbour)
{
    char one[BRV_NUMBER_SIZE], two[BRV_NUMBER_SIZE];
    row(to, label, what, brv_number_short(one, lesion), brv_number_short(two, neighbour));
}

static void unit_row(FILE *to, const char *label, const char *what, double lesion, double neighbour,
                     enum brv_dimension dimension)
{
    char one[BRV_NUMBER_SIZE], two[BRV_NUMBER_SIZE];
    row(to, label, what, brv_number_unit(one, lesion, dimension), brv_number_unit(two, neighbour, dimension));
}

static void spread_row(FILE *to, const char *label, const char *what, const struct brv_spread *lesion,
                       const struct brv_spread *neighbour, double scale, double shift)
{
    char one[BRV_NUMBER_SIZE], two[BRV_NUMBER_SIZE];
    row(to, label, what, brv_number_spread(one, lesion, scale, shift), brv_number_spread(two, neighbour, scale, shift));
}

/* ---- sections ---- */

/* "1.53 J/cm2", and for a gaussian beam what that is on the axis. */
static const char *fluence_text(char out[BRV_NUMBER_SIZE], const struct brv_beam *beam)
{
    char mean[BRV_NUMBER_SIZE], axis[BRV_NUMBER_SIZE];
    brv_number_unit(mean, beam->fluence, BRV_FLUENCE);
    if (beam->profile == BRV_PROFILE_GAUSSIAN)
        snprintf(out, BRV_NUMBER_SIZE, "%.20s (axis %.20s)", mean,
                 brv_number_unit(axis, brv_beam_axis_fluence(beam), BRV_FLUENCE));
    else
        snprintf(out, BRV_NUMBER_SIZE, "%.20s", mean);
    return out;
}

/* A train and what lies on the skin, a line each where there is such a thing. */
static void write_repeated(FILE *to, const struct brv_result *result)
{
    char text[BRV_ASKED_SIZE], cold[BRV_NUMBER_SIZE], all[BRV_NUMBER_SIZE];
    if (*brv_asked_train(text, &result->ask.pulse))
        fprintf(
            to, "         %s; %s in all\n", text,
            brv_number_unit(all, result->ask.beam.fluence * (double)brv_pulse_total(&result->ask.pulse), BRV_FLUENCE));
    if (*brv_asked_colour(text, &result->ask)) brv_words_wrap(to, "", text);
    if (*brv_asked_made_colour(text, &result->ask)) brv_words_wrap(to, "", text);
    if (*brv_asked_cover(text, &result->ask))
        fprintf(to, "         %s; coldest place without pulses %s C\n", text,
                brv_number_short(cold, result->site[BRV_NEIGHBOUR].effect.coldest - BRV_ZERO_C));
}

static void write_asked(FILE *to, const struct brv_request *request, const struct brv_result *result)
{
    const struct brv_scenario *ask = &request->scenario;
    char pulse[BRV_NUMBER_SIZE], spot[BRV_NUMBER_SIZE], fluence[BRV_NUMBER_SIZE], energy[BRV_NUMBER_SIZE],
        outside[BRV_ASKED_SIZE], hash[BRV_HASH_SIZE], site[BRV_BODY_SIZE];
    fprintf(to, "brevis %s   %s   [scenario %s]\n\n", BRV_VERSION, *request->title ? request->title : "(no title)",
            brv_hash_scenario(hash, ask));
    fprintf(to, "ASKED    %.4g nm, %s %s pulse, %s %s spot, %s = %s, %s outside, skin at %.1f C\n",
            1e9 * ask->beam.wavelength, brv_number_unit(pulse, ask->pulse.width, BRV_TIME),
            ask->pulse.shape == BRV_SHAPE_SQUARE ? "square" : "gaussian",
            brv_number_unit(spot, ask->beam.spot, BRV_LENGTH),
            ask->beam.profile == BRV_PROFILE_GAUSSIAN ? "gaussian" : "flat", fluence_text(fluence, &ask->beam),
            brv_number_unit(energy, ask->beam.energy, BRV_ENERGY), brv_asked_meets(outside, ask),
            ask->surface.temperature - BRV_ZERO_C);
    write_repeated(to, result);
    if (*brv_body_text(site, &ask->skin[BRV_NEIGHBOUR])) brv_words_wrap(to, "SITE", site);
    row(to, "", "", "lesion", "neighbour");
}

/* "23.7, 31, 45.3, 0": sent back, taken up by the grain's layer and by the others, passed through. */
static const char *shared_text(char out[BRV_NUMBER_SIZE], const struct brv_site *site)
{
    const size_t layer = site->tissue.grain.layer;
    const struct brv_layered *light = &site->light.layered;
    const double back = light->reflected_specular + light->reflected_diffuse;
    double other = 0.0;
    char sent[BRV_NUMBER_SIZE], own[BRV_NUMBER_SIZE], taken[BRV_NUMBER_SIZE], passed[BRV_NUMBER_SIZE];
    for (size_t i = 0; i < light->n_medium; i++) other += i == layer ? 0.0 : light->absorbed[i];
    snprintf(out, BRV_NUMBER_SIZE, "%.12s, %.12s, %.12s, %.12s", brv_number_short(sent, 100.0 * back),
             brv_number_short(own, 100.0 * light->absorbed[layer]), brv_number_short(taken, 100.0 * other),
             brv_number_short(passed, 100.0 * light->transmitted));
    return out;
}

/* "2.22, 1.14" */
static const char *light_text(char out[BRV_NUMBER_SIZE], const struct brv_site *site)
{
    const size_t layer = site->tissue.grain.layer;
    char here[BRV_NUMBER_SIZE], deep[BRV_NUMBER_SIZE];
    const size_t last = site->tissue.n_layer - 1;
    const bool reaches = site->light.top[last] + site->tissue.layer[last].thickness >= 1e-3;
    snprintf(out, BRV_NUMBER_SIZE, "%.12s, %.12s", brv_number_short(here, site->light.mean_fluence[layer]),
             brv_number_short(deep, reaches ? brv_light_fluence(&site->light, 1e-3) : (double)NAN));
    return out;
}

static void write_light(FILE *to, const struct brv_request *request, const struct brv_result *result)
{
    const struct brv_site *lesion = &result->site[BRV_LESION], *neighbour = &result->site[BRV_NEIGHBOUR];
    const bool differ = brv_grain_layers_differ(result);
    char one[BRV_NUMBER_SIZE], two[BRV_NUMBER_SIZE], what[BRV_NUMBER_SIZE], name[BRV_GRAIN_LAYER_SIZE];
    brv_grain_layer_pair(name, request, result, sizeof name);
    const bool fits = strlen(name) <= (differ ? LONGEST_PAIR : LONGEST_NAME);
    snprintf(what, sizeof what, "reflected,%s %.20s, elsewhere, through, %%", differ && fits ? "" : " in",
             fits ? name : "its layer");
    row(to, "LIGHT", what, shared_text(one, lesion), shared_text(two, neighbour));
    snprintf(what, sizeof what, "light at the grain, at 1 mm, over incident%s",
             result->ask.beam.profile == BRV_PROFILE_GAUSSIAN ? " on axis" : "");
    row(to, "", what, light_text(one, lesion), light_text(two, neighbour));
}

/* "62.1, 38.5": what the film takes up, and the light at the grain over that under bare skin. */
static const char *film_text(char out[BRV_NUMBER_SIZE], const struct brv_result *result, size_t which)
{
    char taken[BRV_NUMBER_SIZE], left[BRV_NUMBER_SIZE];
    const struct brv_site *site = &result->site[which];
    const double bare = result->bare[which].fluence; /* none where no light comes through the layers above */
    const double through = bare > 0.0 ? site->light.mean_fluence[site->tissue.grain.layer] / bare : (double)NAN;
    snprintf(out, BRV_NUMBER_SIZE, "%.12s, %.12s", brv_number_short(taken, 100.0 * site->effect.film.absorbed),
             brv_number_short(left, 100.0 * through));
    return out;
}

/* What lies on the skin is heated first: what it takes, how hot it gets, what it hands on. */
static void write_film(FILE *to, const struct brv_request *request, const struct brv_result *result)
{
    const struct brv_film_effect *lesion = &result->site[BRV_LESION].effect.film;
    const struct brv_film_effect *neighbour = &result->site[BRV_NEIGHBOUR].effect.film;
    const struct brv_film_ask *ask = &result->ask.film;
    char what[2 * BRV_NUMBER_SIZE], thick[BRV_NUMBER_SIZE], dark[BRV_NUMBER_SIZE], one[BRV_NUMBER_SIZE],
        two[BRV_NUMBER_SIZE], name[BRV_GRAIN_LAYER_SIZE];
    if (!lesion->there) return;
    snprintf(what, sizeof what, "%.9s, %.12s: takes; light left, %%",
             brv_number_unit(thick, ask->thickness, BRV_LENGTH),
             brv_number_unit(dark, ask->absorption, BRV_PER_LENGTH));
    row(to, "FILM", what, film_text(one, result, BRV_LESION), film_text(two, result, BRV_NEIGHBOUR));
    spread_row(to, "", lesion->above ? "rise of its mean, energy / heat capacity, K" : "rise of its mean, K",
               &lesion->peak, &neighbour->peak, 1.0, 0.0);
    snprintf(what, sizeof what, "rise of %.14s by its heat, at %.9s, K",
             brv_grain_layer_pair(name, request, result, LONGEST_PAIR),
             brv_number_unit(one, lesion->gives_time, BRV_TIME));
    number_row(to, "", what, lesion->gives, neighbour->gives);
}

/* "49 ns (mean to 1/2, d2/39.9a) to 481 ns (diffusion length, d2/4a)": the ends of the table of definitions. */
static void write_formulas(FILE *to, double diameter)
{
    const struct brv_relaxation *slow = &brv_relaxations[0], *fast = &brv_relaxations[brv_n_relaxations - 1];
    char one[BRV_NUMBER_SIZE], two[BRV_NUMBER_SIZE];
    fprintf(to, "%-11sformulas, a grain alone: %s (%s, d2/%.3ga) to %s (%s, d2/%.3ga)\n", "",
            brv_number_unit(one, brv_relaxation_time(fast->kappa, diameter, BRV_TRADE_DIFFUSIVITY), BRV_TIME),
            fast->name, fast->kappa,
            brv_number_unit(two, brv_relaxation_time(slow->kappa, diameter, BRV_TRADE_DIFFUSIVITY), BRV_TIME),
            slow->name, slow->kappa);
}

/* "27.8 ns, 0.288" */
static const char *relaxation_text(char out[BRV_NUMBER_SIZE], const struct brv_effect *effect)
{
    char time[BRV_NUMBER_SIZE], share[BRV_NUMBER_SIZE];
    snprintf(out, BRV_NUMBER_SIZE, "%.20s, %.12s", brv_number_unit(time, effect->cooling.mean_efold, BRV_TIME),
             brv_number_short(share, effect->pulse / effect->cooling.mean_efold));
    return out;
}

static void write_relaxation(FILE *to, const struct brv_effect *lesion, const struct brv_effect *neighbour)
{
    char one[BRV_NUMBER_SIZE], two[BRV_NUMBER_SIZE];
    row(to, "", "relaxation: its mean to 1/e; pulse over that", relaxation_text(one, lesion),
        relaxation_text(two, neighbour));
    write_formulas(to, lesion->diameter);
}

/* "0.368, 0.417" */
static const char *two_texts(char out[BRV_NUMBER_SIZE], double first, double second)
{
    char a[BRV_NUMBER_SIZE], b[BRV_NUMBER_SIZE];
    snprintf(out, BRV_NUMBER_SIZE, "%.12s, %.12s", brv_number_short(a, first), brv_number_short(b, second));
    return out;
}

/* The criteria in print on one line, values only: their spread is in proportion to the first. */
static void further_thresholds(FILE *to, const struct brv_effect *lesion, const struct brv_effect *neighbour)
{
    char one[BRV_NUMBER_SIZE], two[BRV_NUMBER_SIZE];
    row(to, "", "  the same at 136 C, at 150 C",
        two_texts(one, lesion->threshold[1].value * to_J_cm2, lesion->threshold[2].value * to_J_cm2),
        two_texts(two, neighbour->threshold[1].value * to_J_cm2, neighbour->threshold[2].value * to_J_cm2));
}

/* "4.24 (1.41 to 12.7)" in MPa */
static void write_pressure(FILE *to, const struct brv_effect *lesion, const struct brv_effect *neighbour)
{
    char what[BRV_NUMBER_SIZE], one[BRV_TERM_SIZE], two[BRV_TERM_SIZE];
    if (lesion->pressure.at_criterion || neighbour->pressure.at_criterion)
        snprintf(what, sizeof what, "pressure in a grain up to %.0f C, MPa, rough", lesion->criterion - BRV_ZERO_C);
    else
        snprintf(what, sizeof what, "pressure in a grain, MPa, a rough estimate");
    row(to, "", what, brv_term_spread(one, BRV_HEADLINE_PRESSURE, &lesion->pressure.value),
        brv_term_spread(two, BRV_HEADLINE_PRESSURE, &neighbour->pressure.value));
}

static void write_grain(FILE *to, const struct brv_request *request, const struct brv_result *result)
{
    const struct brv_effect *lesion = &result->site[BRV_LESION].effect;
    const struct brv_effect *neighbour = &result->site[BRV_NEIGHBOUR].effect;
    const bool above = lesion->above || neighbour->above;
    char what[BRV_NUMBER_SIZE], name[BRV_GRAIN_LAYER_SIZE];
    snprintf(what, sizeof what, "one pigment grain in %.20s, diameter",
             brv_grain_layer_pair(name, request, result, 20));
    unit_row(to, "GRAIN", what, lesion->diameter, neighbour->diameter, BRV_LENGTH);
    write_relaxation(to, lesion, neighbour);
    number_row(to, "", "lead over its layer left at pulse end, %", 100.0 * lesion->held, 100.0 * neighbour->held);
    spread_row(to, "",
               above ? "highest rise of a grain, no vaporisation, K"
                     : "highest rise of a grain, mean of its interior, K",
               &lesion->peak[BRV_PROBE_MEAN], &neighbour->peak[BRV_PROBE_MEAN], 1.0, 0.0);
    spread_row(to, "", "highest rise of its surface, K", &lesion->peak[BRV_PROBE_SURFACE],
               &neighbour->peak[BRV_PROBE_SURFACE], 1.0, 0.0);
    write_pressure(to, lesion, neighbour);
    snprintf(what, sizeof what, "threshold of a grain, %s at %.0f C, J/cm2",
             brv_key_word(BRV_SCOPE_WATCH, "place", lesion->place), lesion->criterion - BRV_ZERO_C);
    spread_row(to, "", what, &lesion->threshold_grain, &neighbour->threshold_grain, to_J_cm2, 0.0);
    if (result->site[BRV_LESION].history.n_pulse < 2)
        further_thresholds(to, lesion, neighbour); /* a train needs the line */
}

/* ---- a sign that one can see ---- */

/* "90 (77 to 90)", in the words that every table has for it. */
static const char *shares_text(char out[BRV_TERM_SIZE], const struct brv_effect *effect)
{
    const struct brv_crowd_effect *crowd = &effect->crowd;
    const struct brv_spread share = {crowd->here.share.number, crowd->least.share.number, crowd->most.share.number};
    if (crowd->column > 0.0) return brv_term_spread(out, BRV_HEADLINE_SHARE, &share);
    snprintf(out, BRV_TERM_SIZE, "no pigment");
    return out;
}

static const char *sign_text(char out[BRV_NUMBER_SIZE], const struct brv_effect *effect, double column)
{
    const struct brv_spread *sign = &effect->crowd.threshold_sign;
    if (isnan(sign->value)) {
        const bool pigment = effect->crowd.column >= SIGN_COLUMN_SHORT * column;
        snprintf(out, BRV_NUMBER_SIZE, "none: too little %s", pigment ? "light" : "pigment");
        return out;
    }
    if (isnan(sign->high)) {
        char value[BRV_NUMBER_SIZE], low[BRV_NUMBER_SIZE];
        snprintf(out, BRV_NUMBER_SIZE, "%.12s (%.12s to none)", brv_number_short(value, sign->value * to_J_cm2),
                 brv_number_short(low, sign->low * to_J_cm2));
        return out;
    }
    return brv_number_spread(out, sign, to_J_cm2, 0.0);
}

/* "neighbour's sign / lesion's: 0.921 (0.87 to 0.99); with 1.5 x the neighbour's pigment 0.93 (...)" */
static void write_ratio(FILE *to, const struct brv_result *result)
{
    const struct brv_spread *lesion = &result->site[BRV_LESION].effect.crowd.threshold_sign;
    const struct brv_spread own = brv_threshold_ratio(&result->site[BRV_NEIGHBOUR].effect.crowd.threshold_sign, lesion);
    const struct brv_spread tanned = brv_threshold_ratio(&result->tan.threshold_sign, lesion);
    char ratio[BRV_NUMBER_SIZE], narrowed[BRV_NUMBER_SIZE];
    if (isnan(own.value)) return;
    fprintf(to, "%-11sthreshold ratio, neighbour's / lesion's: %s", "", brv_number_spread(ratio, &own, 1.0, 0.0));
    if (result->tan.factor > 1.0 && !isnan(tanned.value)) {
        if (result->tan.cut)
            fprintf(to, "; tanned x %.3g, cut at 60 %%: ", result->tan.applied);
        else
            fprintf(to, "; neighbour tanned x %.3g: ", result->tan.factor);
        fputs(brv_number_spread(narrowed, &tanned, 1.0, 0.0), to);
    }
    fputc('\n', to);
}

static void write_sign(FILE *to, const struct brv_result *result)
{
    const struct brv_effect *lesion = &result->site[BRV_LESION].effect;
    const struct brv_effect *neighbour = &result->site[BRV_NEIGHBOUR].effect;
    char one[BRV_NUMBER_SIZE], two[BRV_NUMBER_SIZE], what[BRV_NUMBER_SIZE];
    row(to, "SIGN", "grains disrupted, % (150 to 112 C, darkness)", shares_text(one, lesion),
        shares_text(two, neighbour));
    snprintf(what, sizeof what, "threshold of a sign, %s at %.0f C, J/cm2",
             brv_key_word(BRV_SCOPE_WATCH, "place", lesion->place), lesion->criterion - BRV_ZERO_C);
    row(to, "", what, sign_text(one, lesion, result->ask.watch.sign_column),
        sign_text(two, neighbour, result->ask.watch.sign_column));
    write_ratio(to, result);
}

/* ---- dermis ---- */

static void write_vessel(FILE *to, const struct brv_result *result)
{
    const struct brv_vessel_ask *vessel = &result->ask.vessel;
    const struct brv_vessel_effect *lesion = &result->site[BRV_LESION].effect.vessel;
    char what[2 * BRV_NUMBER_SIZE], diameter[BRV_NUMBER_SIZE], depth[BRV_NUMBER_SIZE], time[BRV_NUMBER_SIZE];
    if (!lesion->there) return;
    snprintf(what, sizeof what, "blood by 1 pulse, %.9s at %.9s, tau %.9s, K",
             brv_number_unit(diameter, vessel->diameter, BRV_LENGTH), brv_number_unit(depth, vessel->depth, BRV_LENGTH),
             brv_number_unit(time, lesion->relaxation, BRV_TIME));
    spread_row(to, "VESSEL", what, &lesion->rise, &result->site[BRV_NEIGHBOUR].effect.vessel.rise, 1.0, 0.0);
}

/* "1.5, 4.2 (3 to 9)": after the first pulse, and from the last on. */
static const char *dermis_text(char out[BRV_NUMBER_SIZE], const struct brv_site *site, size_t mark)
{
    const struct brv_dermis_effect *dermis = &site->effect.dermis[mark];
    char first[BRV_NUMBER_SIZE], last[BRV_NUMBER_SIZE];
    if (site->history.n_pulse < 2) return brv_number_spread(out, &dermis->first, 1.0, 0.0);
    snprintf(out, BRV_NUMBER_SIZE, "%.10s, %.40s", brv_number_short(first, dermis->first.value),
             brv_number_spread(last, &dermis->last, 1.0, 0.0));
    return out;
}

static void dermis_row(FILE *to, const struct brv_result *result, size_t mark)
{
    const struct brv_site *lesion = &result->site[BRV_LESION], *neighbour = &result->site[BRV_NEIGHBOUR];
    char what[2 * BRV_NUMBER_SIZE], depth[BRV_NUMBER_SIZE], one[BRV_NUMBER_SIZE], two[BRV_NUMBER_SIZE];
    if (!lesion->effect.dermis[mark].there || !neighbour->effect.dermis[mark].there) return;
    snprintf(what, sizeof what, "  rise at %.10s%s, K",
             brv_number_unit(depth, lesion->history.depth[lesion->history.mark[mark]], BRV_LENGTH),
             lesion->history.n_pulse > 1 ? " after the first, in all" : "");
    row(to, "", what, dermis_text(one, lesion, mark), dermis_text(two, neighbour, mark));
}

/* "0.2 s, 0 s" */
static const char *warm_text(char out[BRV_NUMBER_SIZE], const struct brv_effect *effect)
{
    char first[BRV_NUMBER_SIZE], second[BRV_NUMBER_SIZE];
    snprintf(out, BRV_NUMBER_SIZE, "%.16s, %.16s", brv_number_unit(first, effect->dermis[0].warm, BRV_TIME),
             brv_number_unit(second, effect->dermis[1].warm, BRV_TIME));
    return out;
}

/* Both depths; how long they are warm only where they are. */
static void write_dermis(FILE *to, const struct brv_result *result)
{
    const struct brv_effect *lesion = &result->site[BRV_LESION].effect;
    const struct brv_effect *neighbour = &result->site[BRV_NEIGHBOUR].effect;
    char one[BRV_NUMBER_SIZE], two[BRV_NUMBER_SIZE];
    for (size_t k = 0; k < BRV_N_MARK; k++) dermis_row(to, result, k);
    if (fmax(lesion->dermis[0].warm, neighbour->dermis[0].warm) > 0.0)
        row(to, "", "  time above 45 C at 300 um, at 1 mm", warm_text(one, lesion), warm_text(two, neighbour));
}

static bool is_marked(const struct brv_site *site, double depth)
{
    for (size_t k = 0; k < BRV_N_MARK; k++)
        if (site->effect.dermis[k].there && fabs(site->history.depth[site->history.mark[k]] - depth) < 1e-9)
            return true;
    return false;
}

static const char *depth_name(char out[BRV_NUMBER_SIZE], double depth)
{
    char text[BRV_NUMBER_SIZE];
    if (depth > 0.0)
        snprintf(out, BRV_NUMBER_SIZE, "  at %.20s", brv_number_unit(text, depth, BRV_LENGTH));
    else
        snprintf(out, BRV_NUMBER_SIZE, "  at the surface");
    return out;
}

/* Highest temperature of a probe in both sites; ~ where it comes after heat has begun to leave sideways. */
static void peak_row(FILE *to, const char *label, const char *what, const struct brv_result *result, size_t probe)
{
    char text[BRV_N_SITE][BRV_NUMBER_SIZE], marked[BRV_N_SITE][BRV_NUMBER_SIZE + 2];
    for (size_t site = 0; site < BRV_N_SITE; site++) {
        const struct brv_effect *effect = &result->site[site].effect;
        snprintf(marked[site], sizeof marked[site], "%.60s%s",
                 brv_number_degrees(text[site], &effect->hottest[probe], effect->ceiling),
                 effect->hottest_time[probe] > effect->sideways ? " ~" : "");
    }
    row(to, label, what, marked[BRV_LESION], marked[BRV_NEIGHBOUR]);
}

/* "in depth and sideways: travels 4.9 mm by 60 s, over 5 % of the spot; steady flux 148 W/m2" */
static void write_way(FILE *to, const struct brv_result *result)
{
    const struct brv_history *history = &result->site[BRV_NEIGHBOUR].history;
    const bool endless = result->site[BRV_NEIGHBOUR].light.method == BRV_METHOD_LAYERED;
    const bool disc = history->field.n_depth > 0;
    char way[BRV_NUMBER_SIZE], time[BRV_NUMBER_SIZE], flux[BRV_NUMBER_SIZE], part[BRV_NUMBER_SIZE + 32];
    snprintf(part, sizeof part, "%s %.3g %% of the spot", disc ? "beyond" : "within",
             100.0 * brv_beside_part(&result->ask.beam));
    fprintf(to, "HEAT     %s: reaches %s by %s, %s; steady flux outward %s W/m2\n",
            disc ? "in depth and sideways" : "in depth only", brv_number_unit(way, history->travelled, BRV_LENGTH),
            brv_number_unit(time, result->ask.watch.until, BRV_TIME), endless ? "the beam is endless" : part,
            brv_number_short(flux, history->steady_flux));
}

static const char *tens_text(char out[BRV_NUMBER_SIZE], double log_omega)
{
    const double tens = log_omega / log(10.0);
    if (tens < BRV_TERM_LEAST_DAMAGE)
        snprintf(out, BRV_NUMBER_SIZE, "<%.0f", BRV_TERM_LEAST_DAMAGE);
    else
        snprintf(out, BRV_NUMBER_SIZE, "%.1f", tens);
    return out;
}

/* The highest Omega of layer and depths, as its logarithm: "1.7 (-0.4 to 6.1)". */
static const char *damage_text(char out[BRV_NUMBER_SIZE], const struct brv_effect *effect)
{
    const struct brv_spread *damage = &effect->damage;
    char value[BRV_NUMBER_SIZE], low[BRV_NUMBER_SIZE], high[BRV_NUMBER_SIZE];
    snprintf(out, BRV_NUMBER_SIZE, "%.10s (%.10s to %.10s)", tens_text(value, damage->value),
             tens_text(low, damage->low), tens_text(high, damage->high));
    return out;
}

static void write_damage(FILE *to, const struct brv_result *result)
{
    char one[BRV_NUMBER_SIZE], two[BRV_NUMBER_SIZE];
    const bool both = result->site[BRV_LESION].effect.illustrative && result->site[BRV_NEIGHBOUR].effect.illustrative;
    row(to, "", both ? "damage, log10 Omega (-0.3, 0, 4), illustration" : "damage, log10 Omega (burns: -0.3, 0, 4)",
        damage_text(one, &result->site[BRV_LESION].effect), damage_text(two, &result->site[BRV_NEIGHBOUR].effect));
}

/* What is left of a curve just before the last pulse. */
static double left_of(const struct brv_site *site, const double curves[], size_t curve)
{
    const struct brv_history *history = &site->history;
    return curves[curve * history->n_time + history->before[history->n_pulse - 1]];
}

static const char *grain_left(char out[BRV_NUMBER_SIZE], const struct brv_site *site)
{
    const double left = left_of(site, site->history.excess, BRV_PROBE_MEAN);
    if (fabs(left) < NOTHING_LEFT * site->effect.peak[BRV_PROBE_MEAN].value)
        snprintf(out, BRV_NUMBER_SIZE, "under 1e-8 of its rise");
    else
        brv_number_short(out, left);
    return out;
}

static void scale_row(FILE *to, const char *what, const struct brv_result *result, size_t curve)
{
    const struct brv_site *lesion = &result->site[BRV_LESION], *neighbour = &result->site[BRV_NEIGHBOUR];
    number_row(to, "", what, left_of(lesion, lesion->history.rise, curve),
               left_of(neighbour, neighbour->history.rise, curve));
}

/* What the pulses before have left just before the last one, on three scales. */
static void write_train(FILE *to, const struct brv_request *request, const struct brv_result *result)
{
    const struct brv_history *history = &result->site[BRV_NEIGHBOUR].history;
    char what[2 * BRV_NUMBER_SIZE], deep[BRV_NUMBER_SIZE], one[BRV_NUMBER_SIZE], two[BRV_NUMBER_SIZE],
        name[BRV_GRAIN_LAYER_SIZE];
    if (history->n_pulse < 2) return;
    row(to, "TRAIN", "left by earlier pulses, K: grain itself", grain_left(one, &result->site[BRV_LESION]),
        grain_left(two, &result->site[BRV_NEIGHBOUR]));
    snprintf(what, sizeof what, "  its layer, %.36s", brv_grain_layer_pair(name, request, result, 36));
    scale_row(to, what, result, BRV_PROBE_LAYER);
    snprintf(what, sizeof what, "  a quarter of the spot deep, %s",
             brv_number_unit(deep, 0.25 * result->ask.beam.spot, BRV_LENGTH));
    scale_row(to, what, result, history->quarter);
}

static void write_layers(FILE *to, const struct brv_request *request, const struct brv_result *result)
{
    const struct brv_scenario *ask = &request->scenario;
    const bool differ = brv_grain_layers_differ(result);
    char what[BRV_NUMBER_SIZE], name[BRV_GRAIN_LAYER_SIZE];
    write_way(to, result);
    if (brv_heat_draws(ask)) peak_row(to, "", "highest temperature, C, mean of the grain", result, BRV_PROBE_MEAN);
    snprintf(what, sizeof what, "highest%s C, %.39s", differ ? "" : " temperature,",
             brv_grain_layer_read(name, request, result, differ ? 39 : 22));
    peak_row(to, "LAYERS", what, result, BRV_PROBE_LAYER);
    size_t rows = 0;
    for (size_t i = 0; i < ask->watch.n_depth; i++) {
        if (is_marked(&result->site[BRV_LESION], ask->watch.depth[i]) || rows++ >= MOST_DEPTH_ROWS) continue;
        peak_row(to, "", depth_name(what, ask->watch.depth[i]), result, BRV_N_GRAIN_PROBE + i);
    }
    if (rows > MOST_DEPTH_ROWS) row(to, "", "  further depths stand in summary.json", "", "");
    write_dermis(to, result);
    write_damage(to, result);
    write_vessel(to, result);
    write_train(to, request, result);
}

/* As many notes as fit, the gravest first. */
static void write_notes(FILE *to, const struct brv_result *result)
{
    struct brv_notes notes;
    brv_notes_make(&notes, result);
    const int room = MOST_NOTE_LINES - (result->site[0].history.n_pulse > 1 ? TRAIN_LINES : 0) -
                     (brv_surface_changes(&result->ask) ? 1 : 0) - (brv_heat_draws(&result->ask) ? 1 : 0) -
                     (result->ask.film.given ? FILM_LINES : 0) -
                     (result->ask.skin[BRV_NEIGHBOUR].body ? SITE_LINES : 0) -
                     (result->ask.skin[BRV_NEIGHBOUR].colour.given ? 2 : 0);
    int lines = 0;
    for (size_t i = 0; i < notes.n; i++) {
        const int more = brv_words_wrap(NULL, "", notes.text[i]);
        if (i >= notes.n_grave && lines + more > room - (i + 1 < notes.n)) {
            brv_words_wrap(to, "", "further notes stand in report.html.");
            return;
        }
        lines += brv_words_wrap(to, i ? "" : "NOTES", notes.text[i]);
    }
}

void brv_summary_write(FILE *to, const struct brv_request *request, const struct brv_result *result)
{
    char cautions[BRV_CAUTION_SIZE];
    write_asked(to, request, result);
    write_light(to, request, result);
    write_film(to, request, result);
    write_grain(to, request, result);
    write_sign(to, result);
    write_layers(to, request, result);
    write_notes(to, result);
    brv_words_wrap(to, "CAUTION", brv_caution_text(cautions));
}
