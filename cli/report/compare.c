#include "report/compare.h"

#include "base/constants.h"
#include "report/caution.h"
#include "report/csv.h"
#include "report/digest.h"
#include "report/hash.h"
#include "report/json.h"
#include "report/note.h"
#include "report/number.h"
#include "report/term.h"
#include "report/words.h"
#include "scenario/film.h"
#include "scenario/keys.h"
#include "scenario/letters.h"

#include <math.h>
#include <string.h>

enum { COLUMNS = 4, LABEL_WIDTH = 29, COLUMN_WIDTH = 20, TEXT_SIZE = 600, HEAD_SIZE = BRV_CHOICE_NAME_SIZE + 64 };

/* ---- the table ---- */

/* What stands in a row: a headline, or the fluence of equal light. */
enum row_kind { ROW_HEADLINE, ROW_EQUAL_GRAIN, ROW_EQUAL_DEEP };

struct table_row {
    enum row_kind kind;
    enum brv_headline headline;
};

static const struct table_row shared_rows[] = {{ROW_HEADLINE, BRV_HEADLINE_ENERGY},
                                               {ROW_HEADLINE, BRV_HEADLINE_FLUENCE},
                                               {ROW_HEADLINE, BRV_HEADLINE_PULSES},
                                               {ROW_HEADLINE, BRV_HEADLINE_RATIO}};

static const struct table_row site_rows[] = {
    {ROW_HEADLINE, BRV_HEADLINE_LIGHT_GRAIN},    {ROW_EQUAL_GRAIN, BRV_HEADLINE_LIGHT_GRAIN},
    {ROW_HEADLINE, BRV_HEADLINE_LIGHT_DEEP},     {ROW_EQUAL_DEEP, BRV_HEADLINE_LIGHT_DEEP},
    {ROW_HEADLINE, BRV_HEADLINE_GRAIN_PEAK},     {ROW_HEADLINE, BRV_HEADLINE_THRESHOLD_GRAIN},
    {ROW_HEADLINE, BRV_HEADLINE_THRESHOLD_SIGN}, {ROW_HEADLINE, BRV_HEADLINE_SHARE},
    {ROW_HEADLINE, BRV_HEADLINE_LAYER_PEAK},     {ROW_HEADLINE, BRV_HEADLINE_DERMIS_PEAK},
    {ROW_HEADLINE, BRV_HEADLINE_DEEP_PEAK},      {ROW_HEADLINE, BRV_HEADLINE_VESSEL},
    {ROW_HEADLINE, BRV_HEADLINE_PRESSURE},       {ROW_HEADLINE, BRV_HEADLINE_DAMAGE},
    {ROW_HEADLINE, BRV_HEADLINE_SURFACE_PEAK},   {ROW_HEADLINE, BRV_HEADLINE_FILM_PEAK}};

/* "~0.278 (0.19..0.58)": ~ where the difference from the first is smaller than the spread. */
static void write_cell(FILE *to, const struct brv_compared *compared, size_t choice, size_t site,
                       const struct table_row *row, bool last)
{
    const struct brv_comparison *comparison = compared->comparison;
    const struct brv_beside_first *beside = &comparison->beside[choice][site];
    char cell[BRV_TERM_SIZE], first[BRV_TERM_SIZE], text[BRV_TERM_SIZE + BRV_NUMBER_SIZE], number[BRV_NUMBER_SIZE];
    brv_term_compact(cell, row->headline, &comparison->headline[choice].at[site][row->headline]);
    brv_term_compact(first, row->headline, &comparison->headline[0].at[site][row->headline]);
    const bool hidden = beside->within[row->headline] && strcmp(cell, first);
    if (row->kind == ROW_HEADLINE)
        snprintf(text, sizeof text, "%s%s", hidden ? "~" : "", cell);
    else
        snprintf(text, sizeof text, "x %s",
                 brv_number_short(number, row->kind == ROW_EQUAL_GRAIN ? beside->equal_grain : beside->equal_deep));
    fprintf(to, " %-*s", last ? 0 : COLUMN_WIDTH - 1, text);
}

static void write_row(FILE *to, const struct brv_compared *compared, size_t site, const struct table_row *row,
                      size_t from, size_t end)
{
    char label[BRV_TERM_SIZE];
    fprintf(to, "%-*s", LABEL_WIDTH,
            row->kind == ROW_HEADLINE ? brv_term_label(label, row->headline) : "  equal light, by fluence");
    for (size_t i = from; i < end; i++) write_cell(to, compared, i, site, row, i + 1 == end);
    fputc('\n', to);
}

/* How many bytes of the text fit into so many columns. */
static size_t fitting(const char *text, size_t columns)
{
    size_t at = 0, length, next;
    for (; text[at]; at += length) {
        brv_letters_at(text + at, &length);
        next = brv_letters_columns(text, at + length);
        if (next > columns) break;
    }
    return at;
}

/* Text in a column: cut or filled up by what a terminal makes of it. Returns `out`. */
static const char *column_of(char out[HEAD_SIZE], const char *text, size_t bytes, size_t columns)
{
    const size_t width = brv_letters_columns(text, bytes);
    snprintf(out, HEAD_SIZE, "%.*s%*s", (int)bytes, text, (int)(width < columns ? columns - width : 0), "");
    return out;
}

/* Where a head is cut to fit its column: at a blank, when there is one. */
static size_t cut_of(const char *head)
{
    const size_t length = strlen(head), most = fitting(head, COLUMN_WIDTH - 1);
    size_t cut = most;
    while (cut < length && cut > 8 && head[cut] != ' ') cut--;
    return cut > 8 || most <= 8 ? cut : most; /* one long word is cut between letters, never in one */
}

/* Two lines of heads: a name that is too long for its column goes on below. */
static void write_heads(FILE *to, const struct brv_compared *compared, size_t from, size_t end)
{
    char below[COLUMNS * HEAD_SIZE] = "", head[HEAD_SIZE], cell[HEAD_SIZE];
    bool more = false;
    size_t used = 0;
    fprintf(to, "%-*s", LABEL_WIDTH, "");
    for (size_t i = from; i < end; i++) {
        snprintf(head, sizeof head, "%zu %s", i + 1, compared->choices->choice[i].name);
        const size_t cut = cut_of(head);
        const char *rest = head + cut + (head[cut] == ' ');
        more |= head[cut] != '\0';
        fprintf(to, " %s", column_of(cell, head, cut, i + 1 == end ? 0 : COLUMN_WIDTH - 1));
        used += (size_t)snprintf(below + used, sizeof below - used, " %s",
                                 column_of(cell, rest, fitting(rest, COLUMN_WIDTH - 1), COLUMN_WIDTH - 1));
    }
    fputc('\n', to);
    if (more) fprintf(to, "%-*s%s\n", LABEL_WIDTH, "", below);
}

/* Films are rare: without one among the choices there is no row for them. */
static bool is_left_out(const struct brv_compared *compared, size_t site, const struct table_row *row)
{
    if (row->headline != BRV_HEADLINE_FILM_PEAK) return false;
    for (size_t i = 0; i < compared->choices->n; i++)
        if (!isnan(compared->comparison->headline[i].at[site][row->headline].value)) return false;
    return true;
}

static void write_block(FILE *to, const struct brv_compared *compared, size_t from, size_t end)
{
    fputc('\n', to);
    write_heads(to, compared, from, end);
    for (size_t i = 0; i < sizeof shared_rows / sizeof *shared_rows; i++)
        write_row(to, compared, BRV_LESION, &shared_rows[i], from, end);
    for (size_t site = 0; site < BRV_N_SITE; site++) {
        fputs(site == BRV_LESION ? "LESION\n" : "NEIGHBOUR\n", to);
        for (size_t i = 0; i < sizeof site_rows / sizeof *site_rows; i++)
            if (!is_left_out(compared, site, &site_rows[i])) write_row(to, compared, site, &site_rows[i], from, end);
    }
}

/* ---- around the table ---- */

/* Number, name, hash, and what differs: on the same line where that fits. */
static void write_choice(FILE *to, size_t number, const struct brv_choice *choice, bool apart)
{
    char hash[BRV_HASH_SIZE];
    const char *changes = *choice->changes ? choice->changes : apart ? "(no title)" : "the scenario itself";
    char name[HEAD_SIZE];
    column_of(name, choice->name, strlen(choice->name), BRV_CHOICE_NAME_LETTERS);
    fprintf(to, "%2zu %s [%s]", number, name, brv_hash_scenario(hash, &choice->request.scenario));
    const size_t used = 3 + brv_letters_columns(name, sizeof name) + 3 + strlen(hash);
    if (used + 1 + brv_letters_columns(changes, strlen(changes)) <= brv_words_width()) {
        fprintf(to, " %s\n", changes);
    } else {
        fputc('\n', to);
        brv_words_wrap(to, "", changes);
    }
}

static void write_choices(FILE *to, const struct brv_compared *compared)
{
    for (size_t i = 0; i < compared->choices->n; i++) {
        char asked[BRV_COMPARED_SIZE];
        write_choice(to, i + 1, &compared->choices->choice[i], compared->choices->apart);
        if (i == 0 || !compared->choices->apart) continue; /* what the first asks stands above */
        brv_compared_tell(asked, compared, i);
        brv_words_wrap(to, "", asked);
    }
}

/* "1, 3: " for all choices that say the same. */
static size_t name_choices(char *out, size_t room, const struct brv_notes notes[], size_t n, const char *text)
{
    size_t used = 0, count = 0;
    for (size_t i = 0; i < n; i++)
        for (size_t k = 0; k < notes[i].n_grave; k++)
            if (!strcmp(notes[i].text[k], text)) {
                used += (size_t)snprintf(out + used, room - used, "%s%zu", used ? ", " : "", i + 1);
                count++;
            }
    if (count == n && n > 1) used = (size_t)snprintf(out, room, "all");
    return used;
}

static bool told_before(const struct brv_notes notes[], size_t choice, size_t note)
{
    for (size_t i = 0; i < choice; i++)
        for (size_t k = 0; k < notes[i].n_grave; k++)
            if (!strcmp(notes[i].text[k], notes[choice].text[note])) return true;
    return false;
}

enum { TWIN_SIZE = 128 };

size_t brv_compared_twin(const struct brv_compared *compared, size_t choice)
{
    const struct brv_headlines *headline = compared->comparison->headline;
    size_t twin = 0;
    while (twin < choice && !brv_headlines_same(&headline[twin], &headline[choice])) twin++;
    return twin;
}

static const char *twin_text(char out[TWIN_SIZE], size_t twin)
{
    snprintf(out, TWIN_SIZE, "all numbers are those of choice %zu to the last digit: what differs changes nothing.",
             twin + 1);
    return out;
}

/* The layer whose grain a choice is about. */
static const char *layer_of(const struct brv_compared *compared, size_t choice, size_t site)
{
    const size_t layer = compared->comparison->result[choice].site[site].tissue.grain.layer;
    return compared->choices->choice[choice].request.layer_name[layer];
}

bool brv_compared_other_layer(const struct brv_compared *compared, size_t choice, size_t site)
{
    return strcmp(layer_of(compared, choice, site), layer_of(compared, 0, site)) != 0;
}

bool brv_compared_layers(char out[BRV_COMPARED_SIZE], const struct brv_compared *compared, size_t site)
{
    bool differ = false;
    snprintf(out, BRV_COMPARED_SIZE,
             "%s: not the same layer in all choices, so figures of grains and of their layer do "
             "not compare:",
             brv_site_name[site]);
    for (size_t i = 0; i < compared->choices->n; i++) {
        differ |= brv_compared_other_layer(compared, i, site);
        brv_words_append(out, BRV_COMPARED_SIZE, " %zu %s", i + 1, layer_of(compared, i, site));
    }
    return differ;
}

static const char *write_layers(FILE *to, const struct brv_compared *compared, const char *label)
{
    char text[BRV_COMPARED_SIZE];
    for (size_t site = 0; site < BRV_N_SITE; site++) {
        if (!brv_compared_layers(text, compared, site)) continue;
        brv_words_wrap(to, label, text);
        label = "";
    }
    return label;
}

/* What is grave about each choice, each sentence once. */
static void write_grave(FILE *to, const struct brv_compared *compared)
{
    struct brv_notes notes[BRV_MOST_CHOICES];
    char text[TEXT_SIZE];
    const size_t n = compared->comparison->n;
    const char *label = write_layers(to, compared, "NOTES");
    for (size_t i = 0; i < n; i++) {
        char said[TWIN_SIZE];
        const size_t twin = brv_compared_twin(compared, i);
        brv_notes_make(&notes[i], &compared->comparison->result[i]);
        if (twin == i) continue;
        snprintf(text, sizeof text, "%zu: %s", i + 1, twin_text(said, twin));
        brv_words_wrap(to, label, text);
        label = "";
    }
    for (size_t i = 0; i < n; i++)
        for (size_t k = 0; k < notes[i].n_grave; k++) {
            if (told_before(notes, i, k)) continue;
            const size_t used = name_choices(text, sizeof text, notes, n, notes[i].text[k]);
            snprintf(text + used, sizeof text - used, ": %s", notes[i].text[k]);
            brv_words_wrap(to, label, text);
            label = "";
        }
}

static bool judged_alike(const struct brv_watch *one, const struct brv_watch *other)
{
    return one->place == other->place && !(fabs(one->criterion - other->criterion) > 0.0);
}

/* "a grain counts as disrupted at 112 C, mean", or for each choice that judges otherwise. */
static void write_criteria(FILE *to, const struct brv_compared *compared)
{
    char text[TEXT_SIZE];
    size_t used = (size_t)snprintf(text, sizeof text, "a grain counts as disrupted at");
    const struct brv_comparison *comparison = compared->comparison;
    for (size_t i = 0; i < comparison->n && used < sizeof text; i++) {
        const struct brv_watch *watch = &comparison->result[i].ask.watch;
        if (i > 0 && judged_alike(watch, &comparison->result[0].ask.watch)) continue;
        if (i > 0) used += (size_t)snprintf(text + used, sizeof text - used, "; in %zu at", i + 1);
        if (used >= sizeof text) break;
        used += (size_t)snprintf(text + used, sizeof text - used, " %.0f C, %s", watch->criterion - BRV_ZERO_C,
                                 brv_key_word(BRV_SCOPE_WATCH, "place", watch->place));
    }
    brv_words_wrap(to, "", text);
}

static void write_reading(FILE *to, const struct brv_compared *compared)
{
    write_criteria(to, compared);
    brv_words_wrap(to, "",
                   "~ differs from choice 1 by less than the spread of either. For one and the same skin the order may "
                   "hold all the same: the pigment is then equally dark in both.");
    brv_words_wrap(to, "",
                   "equal light: the fluence at which this choice has the light of choice 1 there, over the fluence of "
                   "choice 1. A ratio of light, not a setting; what grains do depends on more. All is on the axis, "
                   "where a gaussian beam "
                   "has twice its fluence.");
    brv_words_wrap(
        to, "",
        "brackets: grains 0.316-3.16 x dark, by two more light solves; grains disrupted: also criteria 150 to "
        "112 C; sign: also its column, 0.1-0.6 um or a choice's own, no source; pressure: x 3 only; blood: O2 only.");
}

static const char *asked_of(char out[BRV_ASKED_SIZE], const struct brv_compared *compared, size_t choice)
{
    const struct brv_request *request = &compared->choices->choice[choice].request;
    const struct brv_scenario *ask = &request->scenario;
    const size_t layer = compared->comparison->result[choice].site[BRV_LESION].tissue.grain.layer;
    char pulse[BRV_NUMBER_SIZE], spot[BRV_NUMBER_SIZE], fluence[BRV_NUMBER_SIZE], diameter[BRV_NUMBER_SIZE];
    snprintf(out, BRV_ASKED_SIZE,
             "%.4g nm, %.12s, %.12s spot, %.14s; pigment of %.14s %.3g %%, in the lesion %.3g %%; grain %.12s",
             1e9 * ask->beam.wavelength, brv_number_unit(pulse, ask->pulse.width, BRV_TIME),
             brv_number_unit(spot, ask->beam.spot, BRV_LENGTH),
             brv_number_unit(fluence, ask->beam.fluence, BRV_FLUENCE), request->layer_name[layer],
             100.0 * ask->skin[BRV_NEIGHBOUR].layer[layer].melanosomes,
             100.0 * ask->skin[BRV_LESION].layer[layer].melanosomes,
             brv_number_unit(diameter, ask->skin[BRV_LESION].grain.diameter, BRV_LENGTH));
    return out;
}

const char *brv_compared_asked(char out[BRV_ASKED_SIZE], const struct brv_compared *compared)
{
    return asked_of(out, compared, 0);
}

void brv_compared_tell(char out[BRV_COMPARED_SIZE], const struct brv_compared *compared, size_t choice)
{
    const struct brv_scenario *ask = &compared->choices->choice[choice].request.scenario;
    char part[BRV_ASKED_SIZE], thickness[BRV_NUMBER_SIZE], absorption[BRV_NUMBER_SIZE];
    *out = '\0';
    brv_words_append(out, BRV_COMPARED_SIZE, "%s", asked_of(part, compared, choice));
    if (*brv_asked_train(part, &ask->pulse)) brv_words_append(out, BRV_COMPARED_SIZE, "; %s", part);
    if (*brv_asked_cover(part, ask)) brv_words_append(out, BRV_COMPARED_SIZE, "; %s", part);
    if (!brv_film_covers(&ask->skin[BRV_LESION])) return;
    snprintf(part, sizeof part, "a film of %.20s, %.20s", brv_number_unit(thickness, ask->film.thickness, BRV_LENGTH),
             brv_number_unit(absorption, ask->film.absorption, BRV_PER_LENGTH));
    brv_words_append(out, BRV_COMPARED_SIZE, "; %s", part);
}

/* Fewer at a narrow terminal. The last column may lack its blanks. */
static size_t beside_each_other(void)
{
    const size_t fit = (brv_words_width() + 2 - LABEL_WIDTH) / COLUMN_WIDTH;
    return fit < 1 ? 1 : fit < COLUMNS ? fit : COLUMNS;
}

void brv_compared_text(FILE *to, const struct brv_compared *compared)
{
    char cautions[BRV_CAUTION_SIZE], asked[BRV_COMPARED_SIZE];
    const struct brv_request *first = &compared->choices->choice[0].request;
    const size_t n = compared->comparison->n;
    fprintf(to, "brevis %s   compare   %s\n\n", BRV_VERSION, *first->title ? first->title : "(no title)");
    brv_compared_tell(asked, compared, 0);
    brv_words_wrap(to, "CHOICE 1", asked);
    fputc('\n', to);
    write_choices(to, compared);
    const size_t columns = beside_each_other();
    for (size_t from = 0; from < n; from += columns)
        write_block(to, compared, from, from + columns < n ? from + columns : n);
    fputc('\n', to);
    write_grave(to, compared);
    write_reading(to, compared);
    brv_words_wrap(to, "CAUTION", brv_caution_text(cautions));
}

/* ---- CSV ---- */

static const char *prefix(size_t site, enum brv_headline which)
{
    static const char *const by_site[BRV_N_SITE] = {"lesion_", "neighbour_"};
    return brv_terms[which].shared ? "" : by_site[site];
}

/* Columns that belong to the light alone stand once. */
static bool has_columns(size_t site, enum brv_headline which)
{
    return site == BRV_LESION || !brv_terms[which].shared;
}

static void csv_header(FILE *to)
{
    fputs("choice,name", to);
    for (size_t site = 0; site < BRV_N_SITE; site++) {
        for (enum brv_headline i = 0; i < BRV_N_HEADLINE; i++)
            if (has_columns(site, i))
                fprintf(to, ",%s%s,%s%s_low,%s%s_high,%s%s_within_spread", prefix(site, i), brv_terms[i].column,
                        prefix(site, i), brv_terms[i].column, prefix(site, i), brv_terms[i].column, prefix(site, i),
                        brv_terms[i].column);
        fprintf(to, ",%s_equal_light_grain,%s_equal_light_1mm", brv_site_name[site], brv_site_name[site]);
    }
    fputs("\r\n", to);
}

/* Nothing where there is no number: no sign, no damage. */
static const char *csv_number(char out[BRV_NUMBER_SIZE], double value)
{
    return brv_number_exact(out, isfinite(value) ? value : (double)NAN);
}

static void csv_site(FILE *to, const struct brv_comparison *comparison, size_t choice, size_t site)
{
    char value[BRV_NUMBER_SIZE], low[BRV_NUMBER_SIZE], high[BRV_NUMBER_SIZE];
    const struct brv_beside_first *beside = &comparison->beside[choice][site];
    for (enum brv_headline i = 0; i < BRV_N_HEADLINE; i++) {
        const struct brv_spread *spread = &comparison->headline[choice].at[site][i];
        if (has_columns(site, i))
            fprintf(to, ",%s,%s,%s,%d", csv_number(value, spread->value), csv_number(low, spread->low),
                    csv_number(high, spread->high), beside->within[i]);
    }
    fprintf(to, ",%s,%s", brv_number_exact(value, beside->equal_grain), brv_number_exact(low, beside->equal_deep));
}

void brv_compared_csv(FILE *to, const struct brv_compared *compared)
{
    csv_header(to);
    for (size_t i = 0; i < compared->comparison->n; i++) {
        fprintf(to, "%zu,", i + 1);
        brv_csv_text(to, compared->choices->choice[i].name);
        for (size_t site = 0; site < BRV_N_SITE; site++) csv_site(to, compared->comparison, i, site);
        fputs("\r\n", to);
    }
}

/* ---- JSON ---- */

static void json_site(struct brv_json *json, const struct brv_comparison *comparison, size_t choice, size_t site)
{
    const struct brv_beside_first *beside = &comparison->beside[choice][site];
    brv_json_open(json, brv_site_name[site], '{');
    for (enum brv_headline i = 0; i < BRV_N_HEADLINE; i++)
        brv_json_spread(json, brv_terms[i].column, &comparison->headline[choice].at[site][i], 1.0, 0.0, brv_terms[i].si,
                        NULL);
    brv_json_number(json, "equal_light_grain", beside->equal_grain, "1");
    brv_json_number(json, "equal_light_1mm", beside->equal_deep, "1");
    brv_json_open(json, "within_spread_of_first", '[');
    for (enum brv_headline i = 0; i < BRV_N_HEADLINE; i++)
        if (beside->within[i]) brv_json_text(json, NULL, brv_terms[i].column);
    brv_json_close(json, ']');
    brv_json_close(json, '}');
}

/* What is grave about each choice, by its number. */
static void json_notes(struct brv_json *json, const struct brv_compared *compared)
{
    brv_json_open(json, "notes", '[');
    for (size_t i = 0; i < compared->comparison->n; i++) {
        struct brv_notes notes;
        char text[BRV_NOTE_SIZE + 24], said[TWIN_SIZE];
        const size_t twin = brv_compared_twin(compared, i);
        snprintf(text, sizeof text, "choice %zu: %s", i + 1, twin_text(said, twin));
        if (twin < i) brv_json_text(json, NULL, text);
        brv_notes_make(&notes, &compared->comparison->result[i]);
        for (size_t k = 0; k < notes.n_grave; k++) {
            snprintf(text, sizeof text, "choice %zu: %s", i + 1, notes.text[k]);
            brv_json_text(json, NULL, text);
        }
    }
    brv_json_close(json, ']');
}

void brv_compared_json(FILE *to, const struct brv_compared *compared)
{
    struct brv_json json = {.to = to};
    brv_json_open(&json, NULL, '{');
    brv_digest_program(&json, &compared->choices->choice[0].request);
    brv_json_open(&json, "choices", '[');
    for (size_t i = 0; i < compared->comparison->n; i++) {
        const struct brv_choice *choice = &compared->choices->choice[i];
        char hash[BRV_HASH_SIZE];
        brv_json_open(&json, NULL, '{');
        brv_json_text(&json, "name", choice->name);
        brv_json_text(&json, "changes", choice->changes);
        brv_json_text(&json, "scenario_hash", brv_hash_scenario(hash, &choice->request.scenario));
        for (size_t site = 0; site < BRV_N_SITE; site++) json_site(&json, compared->comparison, i, site);
        brv_json_close(&json, '}');
    }
    brv_json_close(&json, ']');
    json_notes(&json, compared);
    brv_digest_cautions(&json);
    brv_json_close(&json, '}');
}
