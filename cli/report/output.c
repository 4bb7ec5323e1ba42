#include "report/output.h"

#include "base/constants.h"
#include "report/asked.h"
#include "report/caution.h"
#include "report/csv.h"
#include "report/digest.h"
#include "report/hash.h"
#include "report/json.h"
#include "report/number.h"
#include "report/term.h"
#include "report/words.h"
#include "scenario/keys.h"

#include <math.h>
#include <stdarg.h>
#include <string.h>

#define SAME_SETTING 0.01 /* displays are rounded; this project's choice [1] */

enum { LABEL_WIDTH = 29, COLUMN_WIDTH = 20, TEXT_SIZE = 600, MOST_NAMED = 6 };

static const char *const shift_name[BRV_N_SHIFT] = {"planned", "measured", "low", "high"};
static const char *const sign_word[BRV_N_SIGN] = {"none", "unsure", "sign"};

static const enum brv_headline site_rows[] = {BRV_HEADLINE_GRAIN_PEAK, BRV_HEADLINE_SHARE, BRV_HEADLINE_THRESHOLD_SIGN};
enum { N_SITE_ROW = sizeof site_rows / sizeof *site_rows };

/* A sentence made as by printf, wrapped. */
static void say(FILE *to, const char *label, const char *format, ...) __attribute__((format(printf, 3, 4)));

static void say(FILE *to, const char *label, const char *format, ...)
{
    char text[TEXT_SIZE];
    va_list words;
    va_start(words, format);
    vsnprintf(text, sizeof text, format, words);
    va_end(words);
    brv_words_wrap(to, label, text);
}

/* ---- what was read ---- */

static void say_asked(FILE *to, const struct brv_scenario *ask)
{
    char pulse[BRV_NUMBER_SIZE], spot[BRV_NUMBER_SIZE], energy[BRV_NUMBER_SIZE], fluence[BRV_NUMBER_SIZE];
    char meets[2 * BRV_ASKED_SIZE];
    const bool gaussian = ask->beam.profile == BRV_PROFILE_GAUSSIAN;
    say(to, "PLANNED", "%.4g nm, %s pulse, %s through a %s %s spot: %s%s", 1e9 * ask->beam.wavelength,
        brv_number_unit(pulse, ask->pulse.width, BRV_TIME), brv_number_unit(energy, ask->beam.energy, BRV_ENERGY),
        brv_number_unit(spot, ask->beam.spot, BRV_LENGTH), gaussian ? "gaussian" : "flat",
        brv_number_unit(fluence, ask->beam.fluence, BRV_FLUENCE), gaussian ? " (energy / area; axis: twice)" : "");
    say(to, "", "%s", brv_asked_skin_meets(meets, ask));
}

static void sample_row(FILE *to, const char *name, const struct brv_sample *sample, double scale)
{
    char mean[BRV_NUMBER_SIZE], interval[BRV_NUMBER_SIZE * 2], low[BRV_NUMBER_SIZE], high[BRV_NUMBER_SIZE];
    char deviation[BRV_NUMBER_SIZE], error[BRV_NUMBER_SIZE];
    snprintf(interval, sizeof interval, "%s to %s", brv_number_short(low, scale * sample->low),
             brv_number_short(high, scale * sample->high));
    fprintf(to, "         %-24s %-10s %-18s %-12s %-15s %zu\n", name, brv_number_short(mean, scale * sample->mean),
            isnan(sample->low) ? "not known" : interval, brv_number_short(deviation, scale * sample->deviation),
            brv_number_short(error, scale * sample->error), sample->n);
}

static void say_readings(FILE *to, const struct brv_output_answer *answer)
{
    const struct brv_output *output = answer->output;
    const bool by_day = output->n_day < output->n;
    const double read_at = output->set, planned = answer->request->scenario.beam.energy;
    char within[BRV_NUMBER_SIZE], set[BRV_NUMBER_SIZE];
    fprintf(to, "%-9s%-24s %-10s %-18s %-12s %-15s %s\n", "READINGS", "", "mean", "95 % interval", "deviation",
            "standard error", output->days ? "days" : "n");
    sample_row(to, "energy, mJ", &output->energy, 1e3);
    if (output->spot.n) sample_row(to, "spot, mm", &output->spot, 1e3);
    if (output->ratio.n) {
        char name[64];
        snprintf(name, sizeof name, "over display, %.12s", brv_number_unit(set, read_at, BRV_ENERGY));
        sample_row(to, name, &output->ratio, 1.0);
    }
    if (by_day)
        say(to, "", "%zu readings on %zu days; a day's mean is one point. Within a day readings deviate by %s mJ.",
            output->n, output->n_day, brv_number_short(within, 1e3 * output->within));
    if (output->n_set > 0 && output->n_set < output->n)
        say(to, "", "what the display said stands in %zu of %zu readings.", output->n_set, output->n);
    if (output->n_set > 0 && fabs(read_at / planned - 1.0) > SAME_SETTING)
        say(to, "", "the display said %s, the scenario plans %s: readings of another setting than planned.",
            brv_number_unit(set, read_at, BRV_ENERGY), brv_number_unit(within, planned, BRV_ENERGY));
}

static const char *whose(const struct brv_own_error *error, const char *otherwise)
{
    return error->given ? "as given" : otherwise;
}

/* By which errors the interval of the fluence is. */
static const char *by_errors(const struct brv_output *output)
{
    return isnan(output->random) ? "by systematic errors alone" : "random and systematic errors together";
}

/* Where the spot came from, and what is not known of it. */
static const char *of_the_spot(const struct brv_output *output)
{
    if (output->spot.n > 1) return " and the spot";
    if (output->n_spot > 1) return " (the spot was measured on one day only)";
    return output->spot.n ? " (the spot was measured only once)"
                          : " (the spot was not measured: it is the planned one)";
}

static void say_fluence(FILE *to, const struct brv_output_answer *answer)
{
    const struct brv_output *output = answer->output;
    char mean[BRV_NUMBER_SIZE], low[BRV_NUMBER_SIZE], high[BRV_NUMBER_SIZE], random[BRV_NUMBER_SIZE + 16];
    char percent[BRV_NUMBER_SIZE];
    if (isnan(output->random))
        snprintf(random, sizeof random, "not known from one");
    else
        snprintf(random, sizeof random, "-+%s %%", brv_number_short(percent, 100.0 * output->random));
    say(to, "FLUENCE", "%s J/cm2, %.3g x planned; %s: %s to %s J/cm2", brv_number_short(mean, 1e-4 * output->fluence),
        output->fluence / answer->request->scenario.beam.fluence, by_errors(output),
        output->low > 0.0 ? brv_number_short(low, 1e-4 * output->low) : "no lower end",
        brv_number_short(high, 1e-4 * output->high));
    say(to, "",
        "random %s, of the readings%s; systematic -+%.3g %%, which no number of readings mends: meter %.3g %% (%s), "
        "spot "
        "%.3g %% (%s)",
        random, of_the_spot(output), 100.0 * output->systematic, 100.0 * answer->meter.share,
        whose(&answer->meter, "allowed by 21 CFR 1040.11(a), second-hand"), 100.0 * answer->spot.share,
        whose(&answer->spot, "this project's choice"));
}

static void say_drift(FILE *to, const struct brv_output *output)
{
    const struct brv_drift *drift = &output->drift;
    char slope[BRV_NUMBER_SIZE], low[BRV_NUMBER_SIZE], high[BRV_NUMBER_SIZE];
    if (!drift->n) {
        say(to, "DRIFT", "not told: the readings have no days.");
        return;
    }
    if (isnan(drift->slope)) {
        say(to, "DRIFT", "no drift can be told from %zu day%s; a line and its interval need %d.", drift->n,
            drift->n == 1 ? "" : "s", (int)BRV_OUTPUT_DRIFT_DAYS);
        return;
    }
    snprintf(slope, sizeof slope, "%.2g", 100.0 * drift->slope);
    snprintf(low, sizeof low, "%.2g", 100.0 * drift->low);
    snprintf(high, sizeof high, "%.2g", 100.0 * drift->high);
    if (drift->told)
        say(to, "DRIFT", "%s %% of the first day's mean a day (95 %%: %s to %s), from %zu days; no forecast.", slope,
            low, high, drift->n);
    else
        say(to, "DRIFT", "no drift can be told from %zu days: %s %% of the first day's mean a day (95 %%: %s to %s).",
            drift->n, slope, low, high);
}

/* "day 42" or "reading 7", the first few */
static void name_outside(char out[TEXT_SIZE], const struct brv_output *output)
{
    size_t named = 0, used = 0;
    *out = '\0';
    for (size_t i = 0; i < output->n_day && used < TEXT_SIZE; i++) {
        if (!output->day[i].outside) continue;
        if (named++ == MOST_NAMED) {
            snprintf(out + used, TEXT_SIZE - used, ", ...");
            return;
        }
        used += (size_t)snprintf(out + used, TEXT_SIZE - used, "%s%.6g", named > 1 ? ", " : "", output->day[i].day);
    }
}

static void say_chart(FILE *to, const struct brv_output *output)
{
    char low[BRV_NUMBER_SIZE], high[BRV_NUMBER_SIZE], outside[TEXT_SIZE];
    const char *what = output->days ? "day" : "reading";
    if (!output->limits) {
        say(to, "CHART", "no limits from %zu %s%s: they begin at %d, for with fewer one that is off hides itself.",
            output->n_day, what, output->n_day == 1 ? "" : "s", (int)BRV_OUTPUT_CHART_DAYS);
        return;
    }
    brv_number_short(low, 1e3 * output->limit_low);
    brv_number_short(high, 1e3 * output->limit_high);
    name_outside(outside, output);
    if (output->n_outside)
        say(to, "CHART", "outside what these readings usually do, %s to %s mJ: %s %s.%s", low, high, what, outside,
            output->drift.told ? " A drift alone carries readings out of it." : "");
    else
        say(to, "CHART", "no %s lies outside what these readings usually do, %s to %s mJ.", what, low, high);
}

/* ---- what the shift does ---- */

static void cell(FILE *to, const char *text, bool last)
{
    fprintf(to, " %-*s", last ? 0 : COLUMN_WIDTH - 1, text);
}

static void plain_row(FILE *to, const struct brv_output_answer *answer, const char *label,
                      double (*value)(const struct brv_shifted *))
{
    fprintf(to, "%-*s", LABEL_WIDTH, label);
    for (size_t i = 0; i < BRV_N_SHIFT; i++) {
        char number[BRV_NUMBER_SIZE];
        const struct brv_shifted *shift = &answer->shift[i];
        cell(to, brv_number_short(number, shift->there ? value(shift) : (double)NAN), i + 1 == BRV_N_SHIFT);
    }
    fputc('\n', to);
}

static double fluence_of(const struct brv_shifted *shift)
{
    return 1e-4 * shift->fluence;
}

/* Low and high of the threshold ratio differ in the third digit only. */
static const char *value_of(char out[BRV_TERM_SIZE], enum brv_headline which, const struct brv_spread *spread)
{
    char value[BRV_NUMBER_SIZE], low[BRV_NUMBER_SIZE], high[BRV_NUMBER_SIZE];
    if (which != BRV_HEADLINE_RATIO || isnan(spread->value)) return brv_term_compact(out, which, spread);
    snprintf(out, BRV_TERM_SIZE, "%.16s (%.16s..%.16s)", brv_number_short(value, spread->value),
             brv_number_short(low, spread->low), brv_number_short(high, spread->high));
    return out;
}

static void headline_row(FILE *to, const struct brv_output_answer *answer, size_t site, enum brv_headline which)
{
    char label[BRV_TERM_SIZE];
    fprintf(to, "%-*s", LABEL_WIDTH, brv_term_label(label, which));
    for (size_t i = 0; i < BRV_N_SHIFT; i++) {
        char text[BRV_TERM_SIZE];
        const struct brv_shifted *shift = &answer->shift[i];
        cell(to, shift->there ? value_of(text, which, &shift->headlines.at[site][which]) : "-", i + 1 == BRV_N_SHIFT);
    }
    fputc('\n', to);
}

static void sign_row(FILE *to, const struct brv_output_answer *answer)
{
    fprintf(to, "%-*s", LABEL_WIDTH, "model: sign in both");
    for (size_t i = 0; i < BRV_N_SHIFT; i++) {
        char text[32];
        const struct brv_shifted *shift = &answer->shift[i];
        snprintf(text, sizeof text, "%s, %s", sign_word[shift->sign[BRV_LESION]],
                 sign_word[shift->sign[BRV_NEIGHBOUR]]);
        cell(to, shift->there ? text : "-", i + 1 == BRV_N_SHIFT);
    }
    fputc('\n', to);
}

static void write_shift(FILE *to, const struct brv_output_answer *answer)
{
    fprintf(to, "\n%-*s", LABEL_WIDTH, "");
    for (size_t i = 0; i < BRV_N_SHIFT; i++) cell(to, shift_name[i], i + 1 == BRV_N_SHIFT);
    fputc('\n', to);
    plain_row(to, answer, "fluence, J/cm2", fluence_of);
    headline_row(to, answer, BRV_LESION, BRV_HEADLINE_RATIO);
    sign_row(to, answer);
    for (size_t site = 0; site < BRV_N_SITE; site++) {
        fputs(site == BRV_LESION ? "LESION\n" : "NEIGHBOUR\n", to);
        for (size_t i = 0; i < N_SITE_ROW; i++) headline_row(to, answer, site, site_rows[i]);
    }
}

/* A slip of a unit is a factor of a thousand. */
#define SLIP 3.0

static void say_slip(FILE *to, const struct brv_output_answer *answer)
{
    const double times = answer->output->fluence / answer->request->scenario.beam.fluence;
    char number[BRV_NUMBER_SIZE];
    if (times < SLIP && times > 1.0 / SLIP) return;
    say(to, "LOOK",
        "%s x what was planned: is the column of energies in its unit (energy_mJ, energy_J), and is this the "
        "scenario of these readings?",
        brv_number_short(number, times));
}

/* What must be known beside the table, of the run at the fluence that was measured. */
static void say_notes(FILE *to, const struct brv_notes *notes)
{
    for (size_t i = 0; i < notes->n_grave; i++) brv_words_wrap(to, i ? "" : "NOTES", notes->text[i]);
}

void brv_output_text(FILE *to, const struct brv_output_answer *answer)
{
    char cautions[BRV_CAUTION_SIZE], hash[BRV_HASH_SIZE];
    const struct brv_request *request = answer->request;
    const struct brv_watch *watch = &request->scenario.watch;
    fprintf(to, "brevis %s   output   %s   [scenario %s]\n\n", BRV_VERSION,
            *request->title ? request->title : "(no title)", brv_hash_scenario(hash, &request->scenario));
    say_asked(to, &request->scenario);
    say_slip(to, answer);
    say_readings(to, answer);
    say_fluence(to, answer);
    say_drift(to, answer->output);
    say_chart(to, answer->output);
    write_shift(to, answer);
    say(to, "",
        "low, high: ends of the fluence. Disrupted at %.0f C, %s; no vaporisation. Brackets: grains 0.316-3.16 x dark; "
        "sign: also its column; disrupted: also criteria 150 to 112 C.",
        watch->criterion - BRV_ZERO_C, brv_key_word(BRV_SCOPE_WATCH, "place", watch->place));
    say_notes(to, &answer->notes);
    brv_words_wrap(to, "CAUTION", brv_caution_text(cautions));
}

/* ---- CSV and figure ---- */

void brv_output_csv(FILE *to, const struct brv_output_answer *answer)
{
    const struct brv_output *output = answer->output;
    const double spot = brv_output_spot(output);
    size_t point = 0, left = output->day[0].n;
    fputs("reading,day,energy_J,spot_m,fluence_J_m2,point_J,outside\r\n", to);
    for (size_t i = 0; i < answer->readings->n; i++, left--) {
        const struct brv_meter_reading *reading = &answer->readings->reading[i];
        char day[BRV_NUMBER_SIZE], energy[BRV_NUMBER_SIZE], width[BRV_NUMBER_SIZE], fluence[BRV_NUMBER_SIZE],
            mean[BRV_NUMBER_SIZE];
        if (!left) left = output->day[++point].n;
        fprintf(to, "%zu,%s,%s,%s,%s,%s,%d\r\n", i + 1, brv_number_exact(day, reading->day),
                brv_number_exact(energy, reading->energy), brv_number_exact(width, reading->spot),
                brv_number_exact(fluence, brv_meter_reading_fluence(reading, spot)),
                brv_number_exact(mean, output->day[point].energy), output->day[point].outside);
    }
}

void brv_output_figure(char numbers[BRV_FIGURE_TEXT], char words[BRV_FIGURE_TEXT],
                       const struct brv_output_answer *answer)
{
    const struct brv_output *output = answer->output;
    char fluence[BRV_NUMBER_SIZE], low[BRV_NUMBER_SIZE], high[BRV_NUMBER_SIZE];
    snprintf(numbers, BRV_FIGURE_TEXT, "%s %.9e %.9e %.9e %.9e", output->days ? "day" : "reading", output->energy.mean,
             output->limits ? output->limit_low : 0.0, output->limits ? output->limit_high : 0.0,
             answer->request->scenario.beam.energy);
    snprintf(words, BRV_FIGURE_TEXT, "fluence of the mean: %s J/cm² (%s to %s), %.3g × planned",
             brv_number_short(fluence, 1e-4 * output->fluence),
             output->low > 0.0 ? brv_number_short(low, 1e-4 * output->low) : "no lower end",
             brv_number_short(high, 1e-4 * output->high), output->fluence / answer->request->scenario.beam.fluence);
}

/* ---- JSON ---- */

static void json_sample(struct brv_json *json, const char *name, const struct brv_sample *sample, const char *unit)
{
    const struct brv_spread mean = {sample->mean, sample->low, sample->high};
    if (!sample->n) return;
    brv_json_open(json, name, '{');
    brv_json_number(json, "points", (double)sample->n, "1");
    brv_json_spread(json, "mean", &mean, 1.0, 0.0, unit, "interval of 95 %, t distribution");
    brv_json_number(json, "deviation", sample->deviation, unit);
    brv_json_number(json, "standard_error", sample->error, unit);
    brv_json_close(json, '}');
}

static void json_own(struct brv_json *json, const char *name, const struct brv_own_error *error, const char *source,
                     const char *seen)
{
    brv_json_sourced(json, name, error->share, "1", error->given ? "-" : source, error->given ? "as given" : seen);
}

static void json_readings(struct brv_json *json, const struct brv_output_answer *answer)
{
    const struct brv_output *output = answer->output;
    const double low = output->low > 0.0 ? output->low : (double)NAN; /* no lower end */
    const struct brv_spread fluence = {output->fluence, low, output->high};
    const struct brv_spread slope = {output->drift.slope, output->drift.low, output->drift.high};
    const struct brv_spread chart = {output->energy.mean, output->limit_low, output->limit_high};
    brv_json_open(json, "readings", '{');
    brv_json_number(json, "count", (double)output->n, "1");
    brv_json_flag(json, "points_are_days", output->days);
    json_sample(json, "energy", &output->energy, "J");
    json_sample(json, "spot", &output->spot, "m");
    json_sample(json, "over_display", &output->ratio, "1");
    brv_json_number(json, "deviation_within_a_day", output->within, "J");
    brv_json_spread(json, "fluence", &fluence, 1.0, 0.0, "J/m2", by_errors(output));
    brv_json_number(json, "fluence_over_planned", output->fluence / answer->request->scenario.beam.fluence, "1");
    brv_json_number(json, "random", output->random, "1");
    brv_json_number(json, "systematic", output->systematic, "1");
    json_own(json, "meter_error", &answer->meter, "output-tolerance", "second-hand");
    json_own(json, "spot_error", &answer->spot, "-", "choice");
    brv_json_spread(json, "drift", &slope, 1.0, 0.0, "1/day", "interval of 95 %, share of the first day's mean");
    brv_json_flag(json, "drift_told", output->drift.told);
    brv_json_spread(json, "chart", &chart, 1.0, 0.0, "J", "shewhart-chart");
    brv_json_number(json, "points_outside", (double)output->n_outside, "1");
    brv_json_close(json, '}');
}

static void json_shift(struct brv_json *json, const struct brv_shifted *shift, const char *name)
{
    if (!shift->there) return;
    brv_json_open(json, name, '{');
    brv_json_number(json, "energy", shift->energy, "J");
    brv_json_number(json, "spot", shift->spot, "m");
    brv_json_number(json, "fluence", shift->fluence, "J/m2");
    brv_json_spread(json, brv_terms[BRV_HEADLINE_RATIO].column, &shift->headlines.at[BRV_LESION][BRV_HEADLINE_RATIO],
                    1.0, 0.0, "1", NULL);
    for (size_t site = 0; site < BRV_N_SITE; site++) {
        brv_json_open(json, brv_site_name[site], '{');
        for (size_t i = 0; i < N_SITE_ROW; i++)
            brv_json_spread(json, brv_terms[site_rows[i]].column, &shift->headlines.at[site][site_rows[i]], 1.0, 0.0,
                            brv_terms[site_rows[i]].si, NULL);
        brv_json_text(json, "sign", sign_word[shift->sign[site]]);
        brv_json_close(json, '}');
    }
    brv_json_close(json, '}');
}

void brv_output_json(FILE *to, const struct brv_output_answer *answer)
{
    struct brv_json json = {.to = to};
    brv_json_open(&json, NULL, '{');
    brv_digest_program(&json, answer->request);
    json_readings(&json, answer);
    for (size_t i = 0; i < BRV_N_SHIFT; i++) json_shift(&json, &answer->shift[i], shift_name[i]);
    brv_digest_cautions(&json);
    brv_json_close(&json, '}');
}
