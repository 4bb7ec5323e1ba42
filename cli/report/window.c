#include "report/window.h"

#include "base/constants.h"
#include "effect/effect_crowd.h"
#include "report/asked.h"
#include "report/body.h"
#include "report/caution.h"
#include "report/digest.h"
#include "report/csv.h"
#include "report/digest_effect.h"
#include "report/figure.h"
#include "report/hash.h"
#include "report/json.h"
#include "report/note.h"
#include "report/number.h"
#include "report/term.h"
#include "report/words.h"

#include <math.h>
#include <stdbool.h>
#include <string.h>

/* The table: a row a decade. */
#define FIRST_ROW 1e-11 /* [s] */
enum { N_ROW = 11 };

static const double to_J_cm2 = 1e-4;

static double table_width(size_t i)
{
    static const double decade[N_ROW] = {FIRST_ROW, 1e-10, 1e-9, 1e-8, 1e-7, 1e-6, 1e-5, 1e-4, 1e-3, 1e-2, 1e-1};
    return decade[i];
}

static const struct brv_scenario *ask_of(const struct brv_window_answer *answer)
{
    return &answer->request->scenario;
}

static bool inside(const struct brv_window *window, double width)
{
    return width >= window->width[0] && width <= window->width[window->n_width - 1];
}

/* ---- CSV ---- */

enum { N_COLUMN = 12 };

static void site_columns(double value[N_COLUMN], const struct brv_window_point *point,
                         const struct brv_window_site *site)
{
    const double all[N_COLUMN] = {site->relaxation, site->stress,        point->share[0],   point->share[1],
                                  point->share[2],  point->grain.value,  point->sign.value, point->sign.low,
                                  point->sign.high, point->damage.value, point->damage.low, point->damage.high};
    memcpy(value, all, sizeof all);
}

void brv_window_csv(FILE *to, const struct brv_window_answer *answer)
{
    static const char *const name[N_COLUMN] = {"relaxation_s",
                                               "stress_time_s",
                                               "share5_J_m2",
                                               "share50_J_m2",
                                               "share95_J_m2",
                                               "threshold_grain_J_m2",
                                               "threshold_sign_J_m2",
                                               "threshold_sign_low_J_m2",
                                               "threshold_sign_high_J_m2",
                                               "damage_J_m2",
                                               "damage_low_J_m2",
                                               "damage_high_J_m2"};
    const struct brv_window *window = answer->window;
    char text[BRV_NUMBER_SIZE];
    double value[N_COLUMN];
    fputs("width_s,damage_illustrative", to);
    for (size_t site = 0; site < BRV_N_SITE; site++)
        for (size_t k = 0; k < N_COLUMN; k++) fprintf(to, ",%s_%s", brv_site_name[site], name[k]);
    fputs("\r\n", to);
    for (size_t i = 0; i < window->n_width; i++) {
        const struct brv_window_point *point = &window->point[i * BRV_N_SITE];
        fprintf(to, "%s,%s", brv_number_exact(text, window->width[i]),
                !point->there                                                         ? ""
                : point[BRV_LESION].illustrative && point[BRV_NEIGHBOUR].illustrative ? "1"
                                                                                      : "0");
        for (size_t site = 0; site < BRV_N_SITE; site++) {
            site_columns(value, &point[site], &window->site[site]);
            for (size_t k = 0; k < N_COLUMN; k++) fprintf(to, ",%s", brv_number_exact(text, value[k]));
        }
        fputs("\r\n", to);
    }
}

void brv_window_map_csv(FILE *to, const struct brv_window_answer *answer)
{
    const struct brv_window *window = answer->window;
    const double *share = window->share;
    char width[BRV_NUMBER_SIZE], text[BRV_NUMBER_SIZE];
    fputs("width_s,fluence_J_m2", to);
    for (size_t site = 0; site < BRV_N_SITE; site++)
        fprintf(to, ",%s_%s", brv_site_name[site], brv_terms[BRV_HEADLINE_SHARE].column);
    fputs("\r\n", to);
    for (size_t i = 0; i < window->n_width; i++) {
        brv_number_exact(width, window->width[i]);
        for (size_t k = 0; k < window->n_fluence; k++) {
            fprintf(to, "%s,%s", width, brv_number_exact(text, window->fluence[k]));
            for (size_t site = 0; site < BRV_N_SITE; site++) fprintf(to, ",%s", brv_number_exact(text, *share++));
            fputs("\r\n", to);
        }
    }
}

/* ---- notes ---- */

static void note_one_pulse(struct brv_notes *notes, const struct brv_scenario *ask)
{
    if (brv_pulse_total(&ask->pulse) > 1)
        brv_notes_add(notes, "the scenario has %zu pulses, this is the window of ONE: a train takes less of each.",
                      brv_pulse_total(&ask->pulse));
}

static void note_left_out(struct brv_notes *notes, const struct brv_window *window)
{
    char first[BRV_NUMBER_SIZE];
    const struct brv_error *fault = &window->fault;
    size_t i = 0;
    if (window->n_left_out == 0) return;
    const char *text = *fault->place ? fault->place : brv_status_text(fault->status);
    while (window->point[i * BRV_N_SITE].there) i++;
    brv_number_unit(first, window->width[i], BRV_TIME);
    if (fault->key < 0)
        brv_notes_add(notes, "left out: %zu of %zu widths, from %s on: %s.", window->n_left_out, window->n_width, first,
                      text);
    else
        brv_notes_add(notes, "left out: %zu of %zu widths, from %s on, because of %s.%s: %s.", window->n_left_out,
                      window->n_width, first, brv_scope_name((enum brv_scope)fault->scope), brv_keys[fault->key].name,
                      text);
}

/* Marks and threshold of a grain stand there for a skin that has none too. */
static void note_imagined(struct brv_notes *notes, const struct brv_window *window)
{
    const bool lesion = window->site[BRV_LESION].imagined, neighbour = window->site[BRV_NEIGHBOUR].imagined;
    if (lesion || neighbour)
        brv_notes_add(
            notes,
            "%s: no pigment in that layer. Its grain is imagined, one put there alone: its relaxation and its "
            "threshold in window.csv are of that one; where no layer holds pigment there is no share of any.",
            brv_note_skins(lesion, neighbour));
}

/* Widths at which the skin around the lesion shows a sign at less. */
static void note_ratio(struct brv_notes *notes, const struct brv_window *window)
{
    char first[BRV_NUMBER_SIZE], last[BRV_NUMBER_SIZE];
    size_t n = 0, from = 0, to = 0;
    for (size_t i = 0; i < window->n_width; i++) {
        const struct brv_window_point *point = &window->point[i * BRV_N_SITE];
        if (!(point[BRV_NEIGHBOUR].sign.value < point[BRV_LESION].sign.value)) continue;
        if (n++ == 0) from = i;
        to = i;
    }
    if (n == 0) return;
    brv_notes_add(
        notes,
        "%s%s to %s the NEIGHBOUR shows a sign first. In people 2.2 (694 nm, Hruza 1991): not met by this model.",
        n == to - from + 1 ? "from " : "at some widths from ", brv_number_unit(first, window->width[from], BRV_TIME),
        brv_number_unit(last, window->width[to], BRV_TIME));
}

static void note_brackets(struct brv_notes *notes, const struct brv_watch *watch)
{
    char column[BRV_ASKED_SIZE];
    brv_notes_add(
        notes,
        "brackets: grains 3.16 to 0.316 x dark, by two more light solves; of a sign also its column, %s um, no "
        "source. No side of any line is harmless.",
        brv_asked_sign(column, watch));
}

static void note_damage(struct brv_notes *notes, const struct brv_window *window)
{
    bool without = false;
    for (size_t i = 0; i < window->n_width * BRV_N_SITE; i++) without |= window->point[i].damage.value <= 0.0;
    brv_notes_add(
        notes,
        "damage: Omega = 1 (published for burns of 2nd degree) in the most damaged layer or depth, grains aside. "
        "* an illustration: most of it within 1 ms of a pulse under 1 ms; its rates were fitted to 0.5 s and more.");
    if (without) brv_notes_add(notes, "damage 0: Omega passes 1 without a pulse, by what lies on the skin.");
}

static void note_light(struct brv_notes *notes, const struct brv_scenario *ask)
{
    if (ask->beam.method == BRV_METHOD_LAYERED)
        brv_notes_add(notes, "beam: endless, not the spot: light at depth is overstated.");
    else if (ask->beam.profile == BRV_PROFILE_GAUSSIAN)
        brv_notes_add(
            notes,
            "fluences are energy / area of the spot; on the axis of a gaussian beam, where this is judged, it is "
            "twice that.");
}

static void notes_make(struct brv_notes *notes, const struct brv_window_answer *answer)
{
    const struct brv_window *window = answer->window;
    const struct brv_scenario *ask = ask_of(answer);
    char sound[BRV_NUMBER_SIZE];
    notes->n = 0;
    brv_notes_add(
        notes, "without vaporisation: far above a threshold nothing is said of what happens, only that it is passed.");
    note_imagined(notes, window);
    note_left_out(notes, window);
    note_one_pulse(notes, ask);
    note_brackets(notes, &ask->watch);
    note_damage(notes, window);
    brv_notes_add(notes,
                  "under %s sound does not cross the lesion's grain while it is heated: pressure may disrupt it below.",
                  brv_number_unit(sound, window->site[BRV_LESION].stress, BRV_TIME));
    note_ratio(notes, window);
    brv_notes_add(
        notes,
        "grains disrupted is not clearance, and less is not harmless; the column of a sign, %.2g um, has no source.",
        1e6 * ask->watch.sign_column);
    note_light(notes, ask);
    if (!ask->lesion_given)
        brv_notes_add(
            notes, "no lesion was described: taken as the neighbour with 2.5 times its basal pigment, 60 %% at most.");
    brv_notes_add(notes, "lesion and neighbour are two separate runs, each as wide as the beam.");
}

/* ---- text ---- */

static void write_asked(FILE *to, const struct brv_window_answer *answer)
{
    const struct brv_scenario *ask = ask_of(answer);
    const struct brv_window *window = answer->window;
    char least[BRV_NUMBER_SIZE], most[BRV_NUMBER_SIZE], spot[BRV_NUMBER_SIZE], low[BRV_NUMBER_SIZE],
        high[BRV_NUMBER_SIZE], own[BRV_NUMBER_SIZE], fluence[BRV_NUMBER_SIZE], text[BRV_ASKED_SIZE],
        hash[BRV_HASH_SIZE];
    const char *title = answer->request->title;
    fprintf(to, "brevis %s   %s   [scenario %s]\n\n", BRV_VERSION, *title ? title : "(no title)",
            brv_hash_scenario(hash, ask));
    fprintf(to, "ASKED    %.4g nm, ONE %s pulse of %s to %s, %s %s spot, %s outside, skin at %.1f C\n",
            1e9 * ask->beam.wavelength, ask->pulse.shape == BRV_SHAPE_SQUARE ? "square" : "gaussian",
            brv_number_unit(least, window->width[0], BRV_TIME),
            brv_number_unit(most, window->width[window->n_width - 1], BRV_TIME),
            brv_number_unit(spot, ask->beam.spot, BRV_LENGTH),
            ask->beam.profile == BRV_PROFILE_GAUSSIAN ? "gaussian" : "flat", brv_asked_meets(text, ask),
            ask->surface.temperature - BRV_ZERO_C);
    fprintf(to, "         %zu widths, %zu fluences from %s to %s; the scenario's own: %s, %s\n", window->n_width,
            window->n_fluence, brv_number_unit(low, window->fluence[0], BRV_FLUENCE),
            brv_number_unit(high, window->fluence[window->n_fluence - 1], BRV_FLUENCE),
            brv_number_unit(own, ask->pulse.width, BRV_TIME), brv_number_unit(fluence, ask->beam.fluence, BRV_FLUENCE));
    if (*brv_asked_cover(text, ask)) fprintf(to, "         %s\n", text);
    brv_body_lines(to, ask);
}

static void mark_row(FILE *to, const char *label, const char *what, double lesion, double neighbour,
                     enum brv_dimension dimension)
{
    char one[BRV_NUMBER_SIZE], two[BRV_NUMBER_SIZE];
    fprintf(to, "%-9s%-54s%-22s %s\n", label, what, brv_number_unit(one, lesion, dimension),
            brv_number_unit(two, neighbour, dimension));
}

static void write_marks(FILE *to, const struct brv_window *window)
{
    const struct brv_window_site *lesion = &window->site[BRV_LESION], *neighbour = &window->site[BRV_NEIGHBOUR];
    fprintf(to, "%-9s%-54s%-22s %s\n", "", "", "lesion", "neighbour");
    mark_row(to, "MARKS", "diameter of the grain", lesion->diameter, neighbour->diameter, BRV_LENGTH);
    mark_row(to, "", "its relaxation, mean to 1/e", lesion->relaxation, neighbour->relaxation, BRV_TIME);
    mark_row(to, "", "sound across it: a shorter pulse builds up pressure", lesion->stress, neighbour->stress,
             BRV_TIME);
}

static const char *fluence_text(char out[BRV_NUMBER_SIZE], double value)
{
    if (isnan(value))
        snprintf(out, BRV_NUMBER_SIZE, "none");
    else
        brv_number_short(out, value * to_J_cm2);
    return out;
}

static void write_point(FILE *to, const struct brv_window_point *point, bool last)
{
    char half[BRV_NUMBER_SIZE], damage[BRV_TERM_SIZE], told[BRV_TERM_SIZE + 1], sign[BRV_TERM_SIZE];
    fluence_text(half, point->share[BRV_WINDOW_HALF]);
    brv_term_compact(sign, BRV_HEADLINE_THRESHOLD_SIGN, &point->sign);
    brv_term_compact(damage, BRV_HEADLINE_THRESHOLD_SIGN, &point->damage); /* a fluence too, or none */
    snprintf(told, sizeof told, "%s%s", damage, point->illustrative && !isnan(point->damage.value) ? "*" : "");
    fprintf(to, " %-6s %-19s ", half, sign);
    fprintf(to, last ? "%s" : "%-20s", told);
}

static void write_row(FILE *to, const char *label, const struct brv_window *window, double width)
{
    char text[BRV_NUMBER_SIZE];
    if (!inside(window, width)) return;
    fprintf(to, "%-9s%-7s", label, brv_number_unit(text, width, BRV_TIME));
    for (size_t site = 0; site < BRV_N_SITE; site++) {
        const struct brv_window_point point = brv_window_at(window, site, width);
        if (point.there)
            write_point(to, &point, site + 1 == BRV_N_SITE);
        else if (site == 0)
            fputs("  left out", to);
    }
    fputc('\n', to);
}

static void write_table(FILE *to, const struct brv_window_answer *answer)
{
    char criterion[BRV_NUMBER_SIZE];
    const struct brv_scenario *ask = ask_of(answer);
    fprintf(to, "FLUENCE  J/cm2, at which half of the grains are disrupted (%s at %s C), a sign shows, Omega is 1\n",
            brv_place_name(ask->watch.place), brv_number_short(criterion, ask->watch.criterion - BRV_ZERO_C));
    fprintf(to, "         %-7s %-6s %-19s %-20s %-6s %-19s %s\n", "pulse", "half", "sign, lesion", "damage", "half",
            "sign, neighbour", "damage");
    for (size_t i = 0; i < N_ROW; i++) write_row(to, "", answer->window, table_width(i));
    write_row(to, "  own", answer->window, ask->pulse.width);
}

void brv_window_summary(FILE *to, const struct brv_window_answer *answer)
{
    char cautions[BRV_CAUTION_SIZE];
    struct brv_notes notes;
    notes_make(&notes, answer);
    write_asked(to, answer);
    write_marks(to, answer->window);
    write_table(to, answer);
    for (size_t i = 0; i < notes.n; i++) brv_words_wrap(to, i ? "" : "NOTES", notes.text[i]);
    brv_words_wrap(to, "CAUTION", brv_caution_text(cautions));
}

/* ---- JSON ---- */

static void digest_asked(struct brv_json *json, const struct brv_window_answer *answer)
{
    static const char *const method[] = {"spot", "layered", "sampled"};
    const struct brv_scenario *ask = ask_of(answer);
    const struct brv_window *window = answer->window;
    brv_json_text(json, "light_method", method[ask->beam.method]);
    brv_json_open(json, "asked", '{');
    brv_json_number(json, "wavelength", ask->beam.wavelength, "m");
    brv_json_text(json, "shape", ask->pulse.shape == BRV_SHAPE_SQUARE ? "square" : "gaussian");
    brv_json_number(json, "pulses", 1.0, "1");
    brv_json_number(json, "pulses_of_the_scenario", (double)brv_pulse_total(&ask->pulse), "1");
    brv_json_number(json, "spot", ask->beam.spot, "m");
    brv_json_text(json, "profile", ask->beam.profile == BRV_PROFILE_GAUSSIAN ? "gaussian" : "flat");
    brv_json_number(json, "own_width", ask->pulse.width, "s");
    brv_json_number(json, "own_fluence", ask->beam.fluence, "J/m2");
    brv_json_number(json, "criterion", ask->watch.criterion - BRV_ZERO_C, "degC");
    brv_json_text(json, "place", brv_place_name(ask->watch.place));
    brv_json_number(json, "widths", (double)window->n_width, "1");
    brv_json_number(json, "widths_left_out", (double)window->n_left_out, "1");
    brv_json_number(json, "width_least", window->width[0], "s");
    brv_json_number(json, "width_most", window->width[window->n_width - 1], "s");
    brv_json_number(json, "fluences", (double)window->n_fluence, "1");
    brv_json_number(json, "fluence_least", window->fluence[0], "J/m2");
    brv_json_number(json, "fluence_most", window->fluence[window->n_fluence - 1], "J/m2");
    brv_json_close(json, '}');
}

static void digest_marks(struct brv_json *json, const struct brv_window *window)
{
    brv_json_open(json, "marks", '{');
    for (size_t site = 0; site < BRV_N_SITE; site++) {
        brv_json_open(json, brv_site_name[site], '{');
        brv_json_number(json, "grain_diameter", window->site[site].diameter, "m");
        brv_json_number(json, "relaxation_mean_to_1_over_e", window->site[site].relaxation, "s");
        brv_json_number(json, "stress_time", window->site[site].stress, "s");
        brv_json_close(json, '}');
    }
    brv_json_close(json, '}');
}

static void digest_row(struct brv_json *json, const struct brv_window *window, double width)
{
    static const char *const share[BRV_N_WINDOW_SHARE] = {"share_5_percent", "share_50_percent", "share_95_percent"};
    if (!inside(window, width)) return;
    brv_json_open(json, NULL, '{');
    brv_json_number(json, "width", width, "s");
    for (size_t site = 0; site < BRV_N_SITE; site++) {
        const struct brv_window_point point = brv_window_at(window, site, width);
        brv_json_open(json, brv_site_name[site], '{');
        for (size_t k = 0; k < BRV_N_WINDOW_SHARE; k++) brv_json_number(json, share[k], point.share[k], "J/m2");
        brv_json_spread(json, "threshold_grain", &point.grain, 1.0, 0.0, "J/m2",
                        "grains 3.16 and 0.316 times as dark, by two more solves of the light");
        brv_json_spread(json, "threshold_sign", &point.sign, 1.0, 0.0, "J/m2", BRV_SIGN_SOURCE);
        brv_json_spread(json, "damage_omega_1", &point.damage, 1.0, 0.0, "J/m2", "grains 3.16 and 0.316 times as dark");
        brv_json_flag(json, "damage_illustrative", point.illustrative);
        brv_json_close(json, '}');
    }
    brv_json_close(json, '}');
}

void brv_window_digest(FILE *to, const struct brv_window_answer *answer)
{
    struct brv_json json = {.to = to};
    struct brv_notes notes;
    notes_make(&notes, answer);
    brv_json_open(&json, NULL, '{');
    brv_digest_program(&json, answer->request);
    digest_asked(&json, answer);
    digest_marks(&json, answer->window);
    brv_json_text(&json, "rows",
                  "fluence of one pulse, read between the computed widths; all of them are in window.csv");
    brv_json_open(&json, "fluence", '[');
    for (size_t i = 0; i < N_ROW; i++) digest_row(&json, answer->window, table_width(i));
    digest_row(&json, answer->window, ask_of(answer)->pulse.width);
    brv_json_close(&json, ']');
    brv_json_open(&json, "notes", '[');
    for (size_t i = 0; i < notes.n; i++) brv_json_text(&json, NULL, notes.text[i]);
    brv_json_close(&json, ']');
    brv_digest_cautions(&json);
    brv_json_close(&json, '}');
}

/* ---- figure ---- */

struct brv_figure brv_window_figure(struct brv_window_words *words, const struct brv_window_answer *answer)
{
    const struct brv_scenario *ask = ask_of(answer);
    const struct brv_window *window = answer->window;
    const struct brv_scenario one = brv_window_scenario(ask, ask->pulse.width, ask->watch.until);
    const struct brv_window_site *lesion = &window->site[BRV_LESION], *neighbour = &window->site[BRV_NEIGHBOUR];
    const double time[] = {ask->pulse.width, lesion->relaxation, neighbour->relaxation, lesion->stress,
                           neighbour->stress};
    char text[BRV_NUMBER_SIZE];
    int n = 0, m = 0;
    /* gnuplot takes a number without a point for a whole one: hence %e */
    for (size_t i = 0; i < sizeof time / sizeof *time; i++) {
        n += snprintf(words->number + n, sizeof words->number - (size_t)n, "%.9e ", isfinite(time[i]) ? time[i] : 0.0);
        m += snprintf(words->word + m, sizeof words->word - (size_t)m, "'%s' ",
                      brv_number_unit(text, time[i], BRV_TIME));
    }
    snprintf(words->number + n, sizeof words->number - (size_t)n, "%.9e %.9e %.9e ", ask->beam.fluence,
             window->fluence[0], window->fluence[window->n_fluence - 1]);
    snprintf(words->word + m, sizeof words->word - (size_t)m, "'%s' '%.0f °C' '%.2g to %.2g µm' ",
             brv_number_unit(text, ask->beam.fluence, BRV_FLUENCE), ask->watch.criterion - BRV_ZERO_C,
             1e6 * fmin(ask->watch.sign_column, BRV_SIGN_LEAST), 1e6 * fmax(ask->watch.sign_column, BRV_SIGN_MOST));
    brv_figure_asked(words->asked, &one);
    brv_figure_corner(words->corner, ask);
    const char *title = answer->request->title;
    return (struct brv_figure){"window",
                               {words->number, *title ? title : words->asked, *title ? words->asked : "", words->corner,
                                brv_place_name(ask->watch.place), words->word, NULL}};
}
