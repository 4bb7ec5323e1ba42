#include "report/visits.h"

#include "base/constants.h"
#include "report/asked.h"
#include "report/caution.h"
#include "report/csv.h"
#include "report/digest.h"
#include "report/hash.h"
#include "report/json.h"
#include "report/note.h"
#include "report/number.h"
#include "report/published.h"
#include "report/term.h"
#include "report/visits_notes.h"
#include "report/words.h"
#include "scenario/keys.h"

#include <math.h>

/* A page, and what has one height: the title with its blank line, heads of the table, names of the files. */
enum { TEXT_SIZE = 900, PAGE = 39, TITLE = 2, HEADS = 2, FILES = 2, LEAST_ROWS = 3, FEW_VISITS = 6, FIRST_ROWS = 2 };

static const char *const sign_word[BRV_N_SIGN] = {"none", "unsure", "sign"};

static const struct brv_scenario *ask_of(const struct brv_visits_answer *answer)
{
    return &answer->visits->result.ask;
}

/* ---- what is told of a visit at a site ---- */

struct column {
    const char *name; /* in CSV and JSON, with its unit */
    const char *si;
    size_t offset; /* of the spread in struct brv_visit_site */
};

static const struct column columns[] = {
    {"share_disrupted", "1", offsetof(struct brv_visit_site, share)},
    {"pigment_before", "1", offsetof(struct brv_visit_site, before)},
    {"pigment_after", "1", offsetof(struct brv_visit_site, after)},
    {"darkness", "1", offsetof(struct brv_visit_site, darkness)},
    {"disrupted_column_m", "m", offsetof(struct brv_visit_site, column)},
    {"light_over_first", "1", offsetof(struct brv_visit_site, light)},
    {"threshold_darkest_J_m2", "J/m2", offsetof(struct brv_visit_site, threshold)},
};
enum { N_COLUMN = sizeof columns / sizeof *columns };

static const struct brv_spread *spread_of(const struct brv_visit_site *site, size_t column)
{
    return (const struct brv_spread *)(const void *)((const char *)site + columns[column].offset);
}

/* ---- the table ---- */

/* Of many visits the first few, and some of the rest that are evenly spread, the last among them: `rows` in all. */
static bool is_shown(size_t k, size_t n, size_t rows)
{
    if (n <= rows || k < FIRST_ROWS) return true;
    for (size_t i = 1; i <= rows - FIRST_ROWS; i++)
        if (k == FIRST_ROWS - 1 + i * (n - FIRST_ROWS) / (rows - FIRST_ROWS)) return true;
    return false;
}

static void write_heads(FILE *to, size_t shown, size_t n)
{
    char part[2 * BRV_NUMBER_SIZE] = "";
    if (shown < n) snprintf(part, sizeof part, "  (%zu of %zu visits; all in visits.csv)", shown, n);
    fprintf(to, "%-6s%-9s LESION%-43s  NEIGHBOUR\n", "VISIT", "J/cm2", part);
    for (size_t site = 0; site < BRV_N_SITE; site++)
        fprintf(to, site ? " %-16s%-16s%s\n" : "      in all    %-16s%-16s%-7s%-10s", "disrupted, %", "left after, %",
                "sign", "light");
}

static void write_row(FILE *to, const struct brv_visits *visits, size_t k)
{
    const struct brv_visit *visit = &visits->visit[k];
    char fluence[BRV_NUMBER_SIZE], share[BRV_TERM_SIZE], left[BRV_TERM_SIZE], light[BRV_NUMBER_SIZE];
    fprintf(to, "%4zu  %-9s", k + 1, brv_number_short(fluence, 1e-4 * visit->fluence));
    for (size_t site = 0; site < BRV_N_SITE; site++) {
        const struct brv_visit_site *at = &visit->site[site];
        brv_term_compact(share, BRV_HEADLINE_SHARE, &at->share);
        brv_term_compact(left, BRV_HEADLINE_SHARE, &at->after);
        brv_number_short(light, at->light.value);
        fprintf(to, site ? " %-16s%-16s%s\n" : " %-16s%-16s%-7sx %-8s", share, left, sign_word[at->sign], light);
    }
}

static void write_table(FILE *to, const struct brv_visits *visits, size_t rows)
{
    write_heads(to, rows < visits->n ? rows : visits->n, visits->n);
    for (size_t k = 0; k < visits->n; k++)
        if (is_shown(k, visits->n, rows)) write_row(to, visits, k);
}

/* ---- around it ---- */

/* "1064 nm, 8 ns gaussian pulse, 6 mm flat spot, 1 J/cm2, gel outside" */
static int write_asked(FILE *to, const struct brv_visits_answer *answer)
{
    const struct brv_scenario *ask = ask_of(answer);
    const size_t layer = answer->visits->result.site[BRV_LESION].tissue.grain.layer;
    char text[TEXT_SIZE], pulse[BRV_NUMBER_SIZE], spot[BRV_NUMBER_SIZE], fluence[BRV_NUMBER_SIZE],
        back[BRV_NUMBER_SIZE], outside[BRV_ASKED_SIZE], train[BRV_ASKED_SIZE], lesion[BRV_NUMBER_SIZE],
        neighbour[BRV_NUMBER_SIZE];
    const bool repeated = *brv_asked_train(train, &ask->pulse) != '\0',
               laid_on = *brv_asked_cover(outside, ask) != '\0';
    if (!laid_on) brv_asked_meets(outside, ask);
    snprintf(
        text, sizeof text, "%.0f visit%s with the same pulse: %.4g nm, %s %s, %s %s spot, %s%s, %s%s%s%s",
        ask->visits.count, ask->visits.count > 1.0 ? "s" : "", 1e9 * ask->beam.wavelength,
        brv_number_unit(pulse, ask->pulse.width, BRV_TIME), brv_key_word(BRV_SCOPE_PULSE, "shape", ask->pulse.shape),
        brv_number_unit(spot, ask->beam.spot, BRV_LENGTH), brv_key_word(BRV_SCOPE_LIGHT, "profile", ask->beam.profile),
        brv_number_unit(fluence, ask->beam.fluence, BRV_FLUENCE),
        ask->beam.profile == BRV_PROFILE_GAUSSIAN ? ", twice that on its axis" : "", outside, laid_on ? "" : " outside",
        repeated ? "; every visit: " : "", train);
    const int lines = brv_words_wrap(to, "ASKED", text);
    snprintf(text, sizeof text,
             "of the pigment missing %s %% is back at the next visit; %s pigment %s %%, in the lesion %s %%",
             brv_number_short(back, 100.0 * ask->visits.returns), answer->request->layer_name[layer],
             brv_number_short(neighbour, 100.0 * ask->skin[BRV_NEIGHBOUR].layer[layer].melanosomes),
             brv_number_short(lesion, 100.0 * ask->skin[BRV_LESION].layer[layer].melanosomes));
    return lines + brv_words_wrap(to, "", text);
}

static int write_model(FILE *to)
{
    return brv_words_wrap(
        to, "MODEL",
        "TEACHING MODEL of pigment, not of a course: what a pulse disrupts is gone by the next visit, dark and "
        "large grains first. White dots, darkening, healing and clearing by the body are not in it.");
}

/* The fluence that the darkest left need: it rises above that of the pulse as they go. */
static int write_darkest(FILE *to, const struct brv_visits *visits)
{
    char text[TEXT_SIZE], one[BRV_TERM_SIZE], two[BRV_TERM_SIZE];
    const enum brv_headline as = BRV_HEADLINE_THRESHOLD_GRAIN; /* a fluence too, or none */
    size_t used =
        (size_t)snprintf(text, sizeof text, "threshold of the darkest %.0f %% there, J/cm2:", 100.0 * BRV_DARKEST);
    for (size_t site = 0; site < BRV_N_SITE && used < sizeof text; site++) {
        brv_term_compact(one, as, &visits->visit[0].site[site].threshold);
        brv_term_compact(two, as, &visits->visit[visits->n - 1].site[site].threshold);
        used +=
            (size_t)snprintf(text + used, sizeof text - used, "%s %s %s", site ? ";" : "", brv_site_name[site], one);
        if (visits->n > 1 && used < sizeof text)
            used += (size_t)snprintf(text + used, sizeof text - used, ", at visit %zu %s", visits->n, two);
    }
    return brv_words_wrap(to, "DARKEST", text);
}

static int write_reading(FILE *to, const struct brv_visits_answer *answer)
{
    const struct brv_scenario *ask = ask_of(answer);
    char text[TEXT_SIZE], column[BRV_ASKED_SIZE];
    snprintf(text, sizeof text,
             "disrupted: of the grains, at %.0f C, %s; left: pigment, over that before visit 1; light: at the "
             "lesion's grains, over visit 1; unsure: within its threshold's range at this criterion, a column of "
             "%s um, no source. Brackets: grains 0.316-3.16 x dark, 112-150 C, through all visits.",
             ask->watch.criterion - BRV_ZERO_C, brv_key_word(BRV_SCOPE_WATCH, "place", ask->watch.place),
             brv_asked_sign(column, &ask->watch));
    return brv_words_wrap(to, "READ", text);
}

static const char *dose_text(const struct brv_visits_answer *answer)
{
    return ask_of(answer)->beam.profile == BRV_PROFILE_GAUSSIAN
               ? "\"in all\" sums energy / area, twice that on axis: papers sum it, no threshold of harm is known."
               : "\"in all\" is a mere sum on one place: papers count visits and sum, no threshold of harm is known.";
}

static const char interval_text[] =
    "the clinician's: a pulse's heat is gone within minutes and says nothing of it, nor of what returns.";

/* Above the table and below it; each returns how many lines it takes, and `to` NULL only counts them. */
static int write_above(FILE *to, const struct brv_visits_answer *answer)
{
    return write_asked(to, answer) + write_model(to);
}

static int write_below(FILE *to, const struct brv_visits_answer *answer)
{
    char cautions[BRV_CAUTION_SIZE];
    struct brv_notes notes;
    struct brv_notes own;
    brv_notes_make(&notes, &answer->visits->result);
    brv_visits_notes_make(&own, answer->visits);
    int lines = write_darkest(to, answer->visits);
    lines += write_reading(to, answer);
    lines += brv_visits_notes_text(to, &own, &notes);
    lines += brv_visits_papers(to, ask_of(answer)->beam.wavelength);
    lines += brv_words_wrap(to, "DOSE", dose_text(answer));
    lines += brv_words_wrap(to, "INTERVAL", interval_text);
    return lines + brv_words_wrap(to, "CAUTION", brv_caution_text(cautions));
}

/* Visits come last in the room of the page, but a few are all shown: nobody should miss one of six. */
static size_t rows_beside(const struct brv_visits_answer *answer)
{
    const int rows = PAGE - TITLE - HEADS - FILES - write_above(NULL, answer) - write_below(NULL, answer);
    const size_t least = answer->visits->n <= FEW_VISITS ? answer->visits->n : LEAST_ROWS;
    return rows < (int)least ? least : (size_t)rows;
}

void brv_visits_text(FILE *to, const struct brv_visits_answer *answer)
{
    char hash[BRV_HASH_SIZE];
    const char *title = answer->request->title;
    fprintf(to, "brevis %s   visits   %s   [scenario %s]\n\n", BRV_VERSION, *title ? title : "(no title)",
            brv_hash_scenario(hash, ask_of(answer)));
    write_above(to, answer);
    write_table(to, answer->visits, rows_beside(answer));
    write_below(to, answer);
}

/* ---- CSV ---- */

/* Nothing where there is no number. */
static void csv_number(FILE *to, double value)
{
    char text[BRV_NUMBER_SIZE];
    fprintf(to, ",%s", brv_number_exact(text, isfinite(value) ? value : (double)NAN));
}

static void csv_header(FILE *to)
{
    fputs("visit,pulses,fluence_J_m2", to);
    for (size_t site = 0; site < BRV_N_SITE; site++) {
        const char *name = brv_site_name[site];
        for (size_t i = 0; i < N_COLUMN; i++)
            fprintf(to, ",%s_%s,%s_%s_low,%s_%s_high", name, columns[i].name, name, columns[i].name, name,
                    columns[i].name);
        fprintf(to, ",%s_sign", name);
    }
    fputs("\r\n", to);
}

void brv_visits_csv(FILE *to, const struct brv_visits_answer *answer)
{
    csv_header(to);
    for (size_t k = 0; k < answer->visits->n; k++) {
        const struct brv_visit *visit = &answer->visits->visit[k];
        fprintf(to, "%zu,%.0f", k + 1, visit->pulses);
        csv_number(to, visit->fluence);
        for (size_t site = 0; site < BRV_N_SITE; site++) {
            for (size_t i = 0; i < N_COLUMN; i++) {
                const struct brv_spread *spread = spread_of(&visit->site[site], i);
                csv_number(to, spread->value);
                csv_number(to, spread->low);
                csv_number(to, spread->high);
            }
            fprintf(to, ",%s", sign_word[visit->site[site].sign]);
        }
        fputs("\r\n", to);
    }
}

/* ---- JSON ---- */

static void json_asked(struct brv_json *json, const struct brv_scenario *ask)
{
    brv_json_open(json, "asked", '{');
    brv_json_number(json, "visits", ask->visits.count, "1");
    brv_json_number(json, "returns", ask->visits.returns, "1");
    brv_json_number(json, "wavelength", ask->beam.wavelength, "m");
    brv_json_number(json, "pulse", ask->pulse.width, "s");
    brv_json_number(json, "pulses_of_a_visit", (double)brv_pulse_total(&ask->pulse), "1");
    brv_json_number(json, "spot", ask->beam.spot, "m");
    brv_json_text(json, "profile", brv_key_word(BRV_SCOPE_LIGHT, "profile", ask->beam.profile));
    brv_json_number(json, "fluence", ask->beam.fluence, "J/m2");
    brv_json_number(json, "axis_fluence", brv_beam_axis_fluence(&ask->beam), "J/m2");
    brv_json_number(json, "criterion", ask->watch.criterion - BRV_ZERO_C, "degC");
    brv_json_text(json, "criterion_place", brv_key_word(BRV_SCOPE_WATCH, "place", ask->watch.place));
    brv_json_number(json, "sign_column", ask->watch.sign_column, "m");
    brv_json_close(json, '}');
}

static const char range_text[] = "grains 0.316 to 3.16 times as dark and the criteria in print, 150 to 112 C, each "
                                 "followed through all visits; not clearance";

static void json_site(struct brv_json *json, const struct brv_visit_site *at, size_t site)
{
    brv_json_open(json, brv_site_name[site], '{');
    for (size_t i = 0; i < N_COLUMN; i++)
        brv_json_spread(json, columns[i].name, spread_of(at, i), 1.0, 0.0, columns[i].si, range_text);
    brv_json_text(json, "sign", sign_word[at->sign]);
    brv_json_close(json, '}');
}

static void json_visits(struct brv_json *json, const struct brv_visits *visits)
{
    brv_json_open(json, "visits", '[');
    for (size_t k = 0; k < visits->n; k++) {
        brv_json_open(json, NULL, '{');
        brv_json_number(json, "visit", (double)(k + 1), "1");
        brv_json_number(json, "pulses", visits->visit[k].pulses, "1");
        brv_json_number(json, "fluence_J_m2", visits->visit[k].fluence, "J/m2");
        for (size_t site = 0; site < BRV_N_SITE; site++) json_site(json, &visits->visit[k].site[site], site);
        brv_json_close(json, '}');
    }
    brv_json_close(json, ']');
}

static void json_published(struct brv_json *json)
{
    brv_json_open(json, "published", '[');
    for (size_t i = 0; i < brv_n_complications; i++) {
        const struct brv_complication *row = &brv_complications[i];
        if (!row->repeated) continue;
        brv_json_open(json, NULL, '{');
        brv_json_text(json, "what", row->event);
        brv_json_sourced(json, "share", row->share, "1", row->source, row->seen);
        brv_json_number(json, "n", row->n, "1");
        brv_json_flag(json, "report_of_such_cases", row->chosen);
        brv_json_text(json, "under", row->under);
        brv_json_close(json, '}');
    }
    brv_json_close(json, ']');
}

static void json_notes(struct brv_json *json, const struct brv_visits_answer *answer)
{
    const struct brv_visits *visits = answer->visits;
    struct brv_notes notes;
    struct brv_notes own;
    brv_notes_make(&notes, &visits->result);
    brv_visits_notes_make(&own, visits);
    brv_json_open(json, "notes", '[');
    for (size_t i = 0; i < own.n_grave; i++) brv_json_text(json, NULL, own.text[i]);
    for (size_t i = 0; i < notes.n; i++) brv_json_text(json, NULL, notes.text[i]);
    for (size_t i = own.n_grave; i < own.n; i++) brv_json_text(json, NULL, own.text[i]);
    brv_json_text(json, NULL, dose_text(answer));
    brv_json_text(json, NULL,
                  "The interval is the clinician's: the heat of a pulse is gone within minutes, and neither the "
                  "interval nor how much returns follows from it.");
    brv_json_text(json, NULL,
                  "A teaching model of pigment, not of a course of visits: white dots, darkening, healing and clearing "
                  "by the body are not modelled; within a train or passes the skin stays as it was before the visit.");
    brv_json_close(json, ']');
}

void brv_visits_json(FILE *to, const struct brv_visits_answer *answer)
{
    struct brv_json json = {.to = to};
    brv_json_open(&json, NULL, '{');
    brv_digest_program(&json, answer->request);
    json_asked(&json, ask_of(answer));
    json_visits(&json, answer->visits);
    json_published(&json);
    json_notes(&json, answer);
    brv_digest_cautions(&json);
    brv_json_close(&json, '}');
}

/* ---- the figure ---- */

struct brv_figure brv_visits_figure(struct brv_visits_words *words, const struct brv_visits_answer *answer)
{
    const struct brv_scenario *ask = ask_of(answer);
    const char *title = answer->request->title;
    char asked[BRV_FIGURE_TEXT], number[BRV_NUMBER_SIZE];
    brv_figure_asked(asked, ask);
    brv_figure_corner(words->corner, ask);
    snprintf(words->asked, sizeof words->asked, "%.400s", asked);
    snprintf(words->below, sizeof words->below,
             "teaching model: what is disrupted is gone by the next visit, %s %% of what is missing is back by then",
             brv_number_short(number, 100.0 * ask->visits.returns));
    return (struct brv_figure){
        "visits",
        {*title ? title : "the same pulse at several visits", words->asked, words->corner, words->below, NULL}};
}
