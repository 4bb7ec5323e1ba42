#include "report/reported.h"

#include "report/caution.h"
#include "report/digest.h"
#include "report/hash.h"
#include "report/json.h"
#include "report/number.h"
#include "report/words.h"

#include <math.h>
#include <stdarg.h>
#include <string.h>

enum { TEXT_SIZE = 1400, RANGE_SIZE = 32, FITS = 152 };

static const char *const kind_name[BRV_N_PUBLISHED_KIND] = {"treated", "threshold", "animal"};

static const char not_advice[] =
    "of other people, skins, pulses and aims than here. Where a scenario lies among papers is no reason to move it, "
    "and "
    "what was published is not what is right. Most papers do not say how the beam was filled or measured.";

/* ---- rows ---- */

/* Is it of the class of pulses that the scenario has? */
static bool is_alike(const struct brv_published *row, const struct brv_scenario *ask)
{
    return row->pulses == brv_published_class(ask->pulse.width);
}

/* Does it tell both spot and fluence? */
static bool is_drawn(const struct brv_published *row)
{
    return !isnan(row->low) && !isnan(row->spot_low);
}

/* Ends of a row's range, in people's units. */
static const char *range_text(char out[RANGE_SIZE], double low, double high, double scale)
{
    char from[BRV_NUMBER_SIZE], to[BRV_NUMBER_SIZE];
    brv_number_short(from, scale * low);
    brv_number_short(to, scale * high);
    if (isnan(low))
        snprintf(out, RANGE_SIZE, "not seen");
    else if (high > low)
        snprintf(out, RANGE_SIZE, "%.12s-%.12s", from, to);
    else
        snprintf(out, RANGE_SIZE, "%.12s", from);
    return out;
}

static const char *people(char out[RANGE_SIZE], const struct brv_published *row)
{
    snprintf(out, RANGE_SIZE, row->n ? "%d" : "-", row->n);
    return out;
}

/* "1064 nm" */
static const char *line_text(char out[RANGE_SIZE], double wavelength)
{
    snprintf(out, RANGE_SIZE, isnan(wavelength) ? "several" : "%.4g nm", 1e9 * wavelength);
    return out;
}

/* ---- the scenario among them ---- */

/* The value on a printed range: typed decimals are not exact in binary, so ends belong to it by a hair. */
#define HAIR 1e-9

static void count_one(struct brv_among *among, const struct brv_published *row, double value, double low, double high)
{
    if (isnan(low)) return;
    among->n++;
    among->sun += row->sun;
    among->low = fmin(among->low, low);
    among->high = fmax(among->high, high);
    if (value < low * (1.0 - HAIR))
        among->below++;
    else if (value > high * (1.0 + HAIR))
        among->above++;
    else
        among->within++;
}

static bool counts(size_t i, const struct brv_scenario *ask)
{
    const struct brv_published *row = &brv_published[i];
    return row->kind == BRV_TREATED && brv_published_is_at(i, ask->beam.wavelength) && is_alike(row, ask);
}

struct brv_among brv_reported_spot(const struct brv_scenario *ask)
{
    struct brv_among among = {.low = (double)NAN, .high = (double)NAN};
    for (size_t i = 0; i < brv_n_published; i++)
        if (counts(i, ask))
            count_one(&among, &brv_published[i], ask->beam.spot, brv_published[i].spot_low, brv_published[i].spot_high);
    return among;
}

struct brv_among brv_reported_fluence(const struct brv_scenario *ask)
{
    struct brv_among among = {.low = (double)NAN, .high = (double)NAN};
    for (size_t i = 0; i < brv_n_published; i++)
        if (counts(i, ask))
            count_one(&among, &brv_published[i], ask->beam.fluence, brv_published[i].low, brv_published[i].high);
    return among;
}

/* ---- text ---- */

static void say_among(FILE *to, const char *label, const char *what, const char *value, const struct brv_among *among,
                      double scale, const char *unit)
{
    char text[TEXT_SIZE], range[RANGE_SIZE];
    if (!among->n)
        snprintf(text, sizeof text, "%s: no row of treated people at this wavelength and class of pulse tells a %s.",
                 value, what);
    else
        snprintf(
            text, sizeof text,
            "%s: of %zu rows of treated people that tell a %s here it lies within %zu, below %zu and above %zu; all "
            "of them span %s %s. Rows of sun-induced pigment: %zu.",
            value, among->n, what, among->within, among->below, among->above,
            range_text(range, among->low, among->high, scale), unit, among->sun);
    brv_words_wrap(to, label, text);
}

static void write_asked(FILE *to, const struct brv_scenario *ask)
{
    char pulse[BRV_NUMBER_SIZE], spot[BRV_NUMBER_SIZE], fluence[BRV_NUMBER_SIZE], text[TEXT_SIZE];
    const struct brv_among spots = brv_reported_spot(ask), fluences = brv_reported_fluence(ask);
    brv_number_unit(spot, ask->beam.spot, BRV_LENGTH);
    brv_number_unit(fluence, ask->beam.fluence, BRV_FLUENCE);
    snprintf(text, sizeof text, "%.4g nm, %s pulse, %s %s spot, %s (energy over area)", 1e9 * ask->beam.wavelength,
             brv_number_unit(pulse, ask->pulse.width, BRV_TIME), spot,
             ask->beam.profile == BRV_PROFILE_GAUSSIAN ? "gaussian" : "flat", fluence);
    brv_words_wrap(to, "ASKED", text);
    say_among(to, "SPOT", "spot", spot, &spots, 1e3, "mm");
    say_among(to, "FLUENCE", "fluence", fluence, &fluences, 1e-4, "J/cm2");
}

static void row_text(FILE *to, const char *name, const char *n, const char *pulse, const char *condition,
                     const char *spot, const char *fluence, const char *seen)
{
    fprintf(to, "%-24.24s %4s %-12.12s %-36.36s %-8s %-8s %s\n", name, n, pulse, condition, spot, fluence, seen);
}

static void write_row(FILE *to, const struct brv_published *row)
{
    char name[BRV_PUBLISHED_NAME_SIZE], n[RANGE_SIZE], spot[RANGE_SIZE], fluence[RANGE_SIZE], what[TEXT_SIZE];
    snprintf(what, sizeof what, "%s%s", row->sun ? "" : "* ", row->condition);
    row_text(to, brv_published_name(name, row), people(n, row), row->pulse, what,
             range_text(spot, row->spot_low, row->spot_high, 1e3), range_text(fluence, row->low, row->high, 1e-4),
             row->seen);
}

/* What came of it, below its row. */
static void write_more(FILE *to, const struct brv_published *row)
{
    char text[TEXT_SIZE], line[RANGE_SIZE];
    snprintf(text, sizeof text, "%s; %s%sskin: %s; visits: %s; outcome: %s; went wrong: %s [%s] %s",
             line_text(line, row->wavelength), row->sun ? "" : "OTHER DISEASE; ",
             row->kind == BRV_ANIMAL ? "ANIMAL; " : "", row->skin, row->visits, row->outcome, row->adverse, row->source,
             row->doi);
    brv_words_wrap(to, "", text);
}

enum group { HERE_ALIKE, HERE_OTHERWISE, ELSEWHERE, N_GROUP };

static enum group group_of(size_t i, const struct brv_scenario *ask)
{
    if (!brv_published_is_at(i, ask->beam.wavelength)) return ELSEWHERE;
    return is_alike(&brv_published[i], ask) ? HERE_ALIKE : HERE_OTHERWISE;
}

static void write_group(FILE *to, const struct brv_scenario *ask, enum group group, const char *head, bool whole)
{
    bool told = false;
    for (size_t i = 0; i < brv_n_published; i++) {
        if (group_of(i, ask) != group) continue;
        if (!told) fprintf(to, "%s\n", head);
        told = true;
        write_row(to, &brv_published[i]);
        if (whole) write_more(to, &brv_published[i]);
    }
    if (!told && group == HERE_ALIKE) fprintf(to, "%s: none in this program's list\n", head);
}

static void write_groups(FILE *to, const struct brv_scenario *ask, bool whole)
{
    static const char *const class_name[BRV_N_PULSE_CLASS] = {"below 1 ns", "of 1 ns to 1 us", "above 1 us"};
    char alike[64], otherwise[64];
    snprintf(alike, sizeof alike, "%.4g nm, pulses %s", 1e9 * ask->beam.wavelength,
             class_name[brv_published_class(ask->pulse.width)]);
    snprintf(otherwise, sizeof otherwise, "%.4g nm, SHORTER OR LONGER PULSES", 1e9 * ask->beam.wavelength);
    fputc('\n', to);
    row_text(to, "paper", "n", "pulse", "of what (*: not made by the sun)", "spot, mm", "J/cm2", "how seen");
    write_group(to, ask, HERE_ALIKE, alike, whole);
    write_group(to, ask, HERE_OTHERWISE, otherwise, whole);
    if (whole) write_group(to, ask, ELSEWHERE, "OTHER WAVELENGTHS", whole);
    fputc('\n', to);
}

/* "Kauvar 2012: mild erythema; Chan 2010: ..." of the rows of this wavelength. */
static void write_adverse(FILE *to, const struct brv_scenario *ask)
{
    char text[TEXT_SIZE] = "nothing in this program's list at this wavelength; summary.txt tells of others.";
    char name[BRV_PUBLISHED_NAME_SIZE];
    size_t used = 0;
    for (size_t i = 0; i < brv_n_published && used < sizeof text; i++) {
        const struct brv_published *row = &brv_published[i];
        if (group_of(i, ask) == ELSEWHERE || !strcmp(row->adverse, "-") || !strcmp(row->adverse, "see paper")) continue;
        used += (size_t)snprintf(text + used, sizeof text - used, "%s%s: %s", used ? "; " : "",
                                 brv_published_name(name, row), row->adverse);
    }
    brv_words_wrap(to, "HARM", text);
}

static void write_complications(FILE *to)
{
    fputs("WHAT WENT WRONG, AND HOW OFTEN\n", to);
    for (size_t i = 0; i < brv_n_complications; i++) {
        const struct brv_complication *row = &brv_complications[i];
        char text[TEXT_SIZE];
        snprintf(text, sizeof text, "%s%s%s: %s%s [%s, %s]", row->event, *row->under ? ", " : "", row->under, row->rate,
                 row->chosen ? ", reported for it" : "", row->source, row->seen);
        brv_words_wrap(to, "", text);
    }
}

void brv_reported_text(FILE *to, const struct brv_request *request, bool whole)
{
    char cautions[BRV_CAUTION_SIZE], hash[BRV_HASH_SIZE];
    fprintf(to, "brevis %s   reported   %s   [scenario %s]\n\n", BRV_VERSION,
            *request->title ? request->title : "(no title)", brv_hash_scenario(hash, &request->scenario));
    char head[TEXT_SIZE];
    snprintf(head, sizeof head, "PUBLISHED RANGES, NOT ADVICE: %s", not_advice);
    brv_words_wrap(to, "PAPERS", head);
    write_asked(to, &request->scenario);
    write_groups(to, &request->scenario, whole);
    if (whole)
        write_complications(to);
    else
        write_adverse(to, &request->scenario);
    brv_words_wrap(to, "MISSING", brv_published_gap);
    brv_words_wrap(to, "CAUTION", brv_caution_text(cautions));
}

/* ---- JSON ---- */

static void json_among(struct brv_json *json, const char *name, double value, const struct brv_among *among,
                       const char *unit)
{
    brv_json_open(json, name, '{');
    brv_json_number(json, "own", value, unit);
    brv_json_number(json, "rows", (double)among->n, "1");
    brv_json_number(json, "within", (double)among->within, "1");
    brv_json_number(json, "below", (double)among->below, "1");
    brv_json_number(json, "above", (double)among->above, "1");
    brv_json_number(json, "of_sun_induced_pigment", (double)among->sun, "1");
    brv_json_number(json, "lowest", among->low, unit);
    brv_json_number(json, "highest", among->high, unit);
    brv_json_close(json, '}');
}

void brv_reported_json(FILE *to, const struct brv_request *request)
{
    const struct brv_scenario *ask = &request->scenario;
    const struct brv_among spot = brv_reported_spot(ask), fluence = brv_reported_fluence(ask);
    struct brv_json json = {.to = to};
    brv_json_open(&json, NULL, '{');
    brv_digest_program(&json, request);
    brv_json_text(&json, "published", "published ranges, not advice");
    json_among(&json, "spot", ask->beam.spot, &spot, "m");
    json_among(&json, "fluence", ask->beam.fluence, &fluence, "J/m2");
    brv_json_text(&json, "missing", brv_published_gap);
    brv_digest_cautions(&json);
    brv_json_close(&json, '}');
}

/* ---- CSV ---- */

static void csv_text(FILE *to, const char *text)
{
    fputs(",\"", to);
    for (const char *c = text; *c; c++) fprintf(to, *c == '"' ? "\"\"" : "%c", *c);
    fputc('"', to);
}

static void csv_number(FILE *to, double value)
{
    char number[BRV_NUMBER_SIZE];
    fprintf(to, ",%s", brv_number_exact(number, value));
}

static void csv_row(FILE *to, const struct brv_published *row, bool here, bool alike)
{
    char year[RANGE_SIZE] = "", n[RANGE_SIZE] = "", label[TEXT_SIZE], name[BRV_PUBLISHED_NAME_SIZE], line[RANGE_SIZE];
    const double number[] = {row->spot_low, row->spot_high, row->low, row->high};
    if (row->year) snprintf(year, sizeof year, "%d", row->year);
    if (row->n) snprintf(n, sizeof n, "%d", row->n);
    fprintf(to, "\"%s\",%s,%s", row->name, year, kind_name[row->kind]);
    csv_number(to, row->wavelength);
    csv_text(to, row->pulse);
    csv_text(to, row->condition);
    fprintf(to, ",%s", n);
    csv_text(to, row->skin);
    for (size_t i = 0; i < sizeof number / sizeof *number; i++) csv_number(to, number[i]);
    const char *const text[] = {row->visits, row->outcome, row->adverse, row->source, row->seen, row->doi};
    for (size_t i = 0; i < sizeof text / sizeof *text; i++) csv_text(to, text[i]);
    fprintf(to, ",%d,%d,%d,%d", row->sun, here, alike, is_drawn(row));
    snprintf(label, sizeof label, "%s: %s; %s%s%s", brv_published_name(name, row), line_text(line, row->wavelength),
             row->condition, row->n ? "; n = " : "", n);
    for (char *c = label; *c; c++)
        if (*c == ',') *c = ';'; /* gnuplot ends a text of a column at a comma, quotes or not */
    csv_text(to, label);
    fputs("\r\n", to);
}

void brv_reported_csv(FILE *to, const struct brv_request *request)
{
    fputs("name,year,kind,wavelength_m,pulse,condition,n,skin,spot_low_m,spot_high_m,fluence_low_J_m2,"
          "fluence_high_J_m2,visits,outcome,adverse,source,seen,doi,sun,same_wavelength,alike,drawn,label\r\n",
          to);
    for (size_t i = 0; i < brv_n_published; i++)
        csv_row(to, &brv_published[i], brv_published_is_at(i, request->scenario.beam.wavelength),
                is_alike(&brv_published[i], &request->scenario));
}

/* ---- the figure ---- */

/* Was the paper's name written for an earlier row? Rows with a fluence of their own are told each. */
static bool is_told(size_t i)
{
    const struct brv_published *row = &brv_published[i];
    for (size_t k = 0; k < i && isnan(row->low); k++)
        if (!strcmp(brv_published[k].source, row->source)) return true;
    return is_drawn(row);
}

static void list_unseen(char out[BRV_REPORTED_UNSEEN_SIZE])
{
    char name[BRV_PUBLISHED_NAME_SIZE], range[RANGE_SIZE], item[BRV_PUBLISHED_NAME_SIZE + RANGE_SIZE + 16];
    size_t used = (size_t)snprintf(out, BRV_REPORTED_UNSEEN_SIZE, "not drawn, settings not seen:"), length = used;
    for (size_t i = 0; i < brv_n_published && used < BRV_REPORTED_UNSEEN_SIZE; i++) {
        const struct brv_published *row = &brv_published[i];
        if (is_told(i)) continue;
        brv_published_name(name, row);
        if (isnan(row->low))
            snprintf(item, sizeof item, "%s;", name);
        else
            snprintf(item, sizeof item, "%s (%s J/cm²);", name, range_text(range, row->low, row->high, 1e-4));
        const bool breaks = length + strlen(item) + 1 > FITS;
        length = (breaks ? 0 : length + 1) + strlen(item);
        used += (size_t)snprintf(out + used, BRV_REPORTED_UNSEEN_SIZE - used, "%c%s", breaks ? '|' : ' ', item);
    }
}

void brv_reported_figure(char numbers[BRV_FIGURE_TEXT], char unseen[BRV_REPORTED_UNSEEN_SIZE],
                         const struct brv_scenario *ask)
{
    snprintf(numbers, BRV_FIGURE_TEXT, "%.9e %.9e %.9e", 1e3 * ask->beam.spot, 1e-4 * ask->beam.fluence,
             1e9 * ask->beam.wavelength);
    list_unseen(unseen);
}

/* ---- the page ---- */

static void page_row(FILE *to, const struct brv_published *row)
{
    char name[BRV_PUBLISHED_NAME_SIZE], n[RANGE_SIZE], spot[RANGE_SIZE], fluence[RANGE_SIZE], line[RANGE_SIZE];
    fprintf(to, "| %s | %s | %s | %s | %s | %s%s | %s | %s | %s | %s | %s | [%s](sources.md#%s), %s | %s |\n",
            line_text(line, row->wavelength), row->pulse, brv_published_name(name, row), people(n, row), row->skin,
            row->condition, row->sun ? "" : " (other disease)", range_text(spot, row->spot_low, row->spot_high, 1e3),
            range_text(fluence, row->low, row->high, 1e-4), row->visits, row->outcome, row->adverse, row->source,
            row->source, row->seen, row->doi);
}

void brv_reported_page(FILE *to)
{
    fputs("# Published ranges\n\nWritten by `brevis reported --page` from the table in cli/report/published.c.\n\n"
          "**Published ranges, not advice**: ",
          to);
    fprintf(to, "%s\n\n%s\n\n", not_advice, brv_published_gap);
    fputs("How a row was seen: `abstract` means that only the abstract, or the first part of a page, could be read; "
          "`second-hand` that another text quotes it; `seen` that the text itself was read. \"Not seen\" stands where "
          "what was read does not tell a spot or a fluence; the paper may well. \"Other disease\" is pigment that the "
          "sun did not make, mostly melasma. The scatter of `brevis reported` draws the rows that tell both spot and "
          "fluence.\n\n"
          "| wavelength | pulse | paper | n | skin | of what | spot, mm | fluence, J/cm2 | visits | outcome | went "
          "wrong | source, how seen | where |\n"
          "| --- | --- | --- | --- | --- | --- | --- | --- | --- | --- | --- | --- | --- |\n",
          to);
    for (size_t i = 0; i < brv_n_published; i++) page_row(to, &brv_published[i]);
    fputs("\n## What went wrong, and how often\n\nCounts of different studies are no rates of one thing.\n\n"
          "| event | how often | source, how seen |\n| --- | --- | --- |\n",
          to);
    for (size_t i = 0; i < brv_n_complications; i++) {
        const struct brv_complication *row = &brv_complications[i];
        fprintf(to, "| %s%s%s | %s%s | [%s](sources.md#%s), %s |\n", row->event, *row->under ? ", " : "", row->under,
                row->rate, row->chosen ? ", reported for it" : "", row->source, row->source, row->seen);
    }
    fputs("\nNot in the table: thresholds of single grains and of phantoms, which "
          "[validation.md](validation.md) holds the model against.\n\n"
          "A teaching model, not a medical device; not for choosing settings for a person. See "
          "[cautions.md](cautions.md).\n",
          to);
}
