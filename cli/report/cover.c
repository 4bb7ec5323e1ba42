#include "report/cover.h"

#include "report/asked.h"
#include "report/caution.h"
#include "report/csv.h"
#include "report/cover_hits.h"
#include "report/cover_notes.h"
#include "report/digest.h"
#include "report/figure.h"
#include "report/hash.h"
#include "report/json.h"
#include "report/number.h"
#include "report/words.h"
#include "scenario/keys.h"

#include <math.h>
#include <stdbool.h>
#include <string.h>

#define LITTLE 5e-3 /* percent of the skin: less is told as less */

enum { INDENT = 9, LABEL_WIDTH = 41, COLUMN_WIDTH = 16, CELL_SIZE = 40 };
enum { HEAT_INDENT = 2, HEAT_LABEL = 47, HEAT_WIDTH = 20, SITE_WIDTH = 10 };

static const struct brv_scenario *ask_of(const struct brv_cover_answer *answer)
{
    return &answer->request->scenario;
}

/* ---- text ---- */

/* "1064 nm, 7 ns gaussian pulses, air outside; plate on the skin from ..." Where nothing says when that is taken away, it
 * stays as long as hits are looked at (study/revisit.h), not as long as a run would be.                              */
static void write_light(FILE *to, const struct brv_scenario *ask)
{
    struct brv_scenario stays = *ask;
    if (!brv_key_given(&ask->surface, BRV_SCOPE_SURFACE, "to")) stays.surface.to = INFINITY;
    char line[BRV_COVER_TEXT], pulse[BRV_NUMBER_SIZE], meets[2 * BRV_ASKED_SIZE];
    snprintf(line, sizeof line, "%.4g nm, %.20s %s pulses, %s", 1e9 * ask->beam.wavelength,
             brv_number_unit(pulse, ask->pulse.width, BRV_TIME),
             brv_key_word(BRV_SCOPE_PULSE, "shape", ask->pulse.shape), brv_asked_skin_meets(meets, &stays));
    brv_words_wrap(to, "", line);
}

static void write_asked(FILE *to, const struct brv_cover_answer *answer)
{
    const struct brv_scenario *ask = ask_of(answer);
    const char *title = answer->request->title;
    char hash[BRV_HASH_SIZE], text[BRV_COVER_TEXT];
    fprintf(to, "brevis %s   %s   [scenario %s]\n\n", BRV_VERSION, *title ? title : "(no title)",
            brv_hash_scenario(hash, ask));
    brv_words_wrap(to, "ASKED", brv_cover_asked(text, answer));
    write_light(to, ask);
    brv_words_wrap(to, "HAND", brv_cover_hand(text, answer));
    brv_words_wrap(to, "PULSES", brv_cover_pulses(text, answer));
}

/* The ways that are shown: with one pass all passes are that one. */
static size_t list_ways(enum brv_cover_way way[BRV_N_COVER_WAY], const struct brv_scenario *ask)
{
    size_t n = 0;
    way[n++] = BRV_COVER_ONE;
    if (ask->cover.passes > 1.0) {
        way[n++] = BRV_COVER_ALL;
        way[n++] = BRV_COVER_SAME;
    }
    way[n++] = BRV_COVER_FASTER;
    return n;
}

/* A long cell moves those behind it and never touches them; width 0: the last. */
static void put_cell(FILE *to, const char *cell, int width)
{
    fprintf(to, width ? "%-*s " : "%*s", width ? width - 1 : 0, cell);
}

static void write_heads(FILE *to, const struct brv_scenario *ask)
{
    enum brv_cover_way way[BRV_N_COVER_WAY];
    char passes[CELL_SIZE];
    const size_t n = list_ways(way, ask);
    snprintf(passes, sizeof passes, ask->cover.passes > 1.0 ? "%.0f passes," : "one pass,", ask->cover.passes);
    for (int line = 0; line < 2; line++) {
        const char *const head[BRV_N_COVER_WAY] = {line ? "one pass" : "", line ? "anywhere" : passes,
                                                   line ? "same places" : passes, line ? "twice the rate" : passes};
        fprintf(to, "%-*s", LABEL_WIDTH, "");
        for (size_t i = 0; i < n; i++) put_cell(to, head[way[i]], i + 1 < n ? COLUMN_WIDTH : 0);
        fputc('\n', to);
    }
}

typedef void cell_writer(char out[CELL_SIZE], const struct brv_covered *covered, size_t which);

static void cell_mean(char out[CELL_SIZE], const struct brv_covered *covered, size_t which)
{
    char text[BRV_NUMBER_SIZE];
    snprintf(out, CELL_SIZE, "%.30s", brv_number_short(text, which ? covered->dose : covered->mean));
}

static void cell_share(char out[CELL_SIZE], double share)
{
    char text[BRV_NUMBER_SIZE];
    const double percent = 100.0 * share;
    if (percent < LITTLE)
        snprintf(out, CELL_SIZE, percent > 0.0 ? "<0.01" : "0");
    else
        snprintf(out, CELL_SIZE, "%.30s", brv_number_short(text, percent));
}

static void cell_variation(char out[CELL_SIZE], const struct brv_covered *covered, size_t which)
{
    char text[BRV_NUMBER_SIZE];
    (void)which;
    snprintf(out, CELL_SIZE, "%.30s",
             covered->variation < 1e-4 ? "<0.0001" : brv_number_short(text, covered->variation));
}

static void cell_levels(char out[CELL_SIZE], const struct brv_covered *covered, size_t which)
{
    char text[BRV_N_DOSE_LEVEL][BRV_NUMBER_SIZE];
    (void)which;
    for (size_t i = 0; i < BRV_N_DOSE_LEVEL; i++) {
        brv_number_short(text[i], covered->level[i]);
        if (covered->level[i] < 99.5) snprintf(text[i], sizeof text[i], "%.2g", covered->level[i]);
    }
    snprintf(out, CELL_SIZE, "%.7s, %.7s, %.7s", text[0], text[1], text[2]);
}

static void cell_highest(char out[CELL_SIZE], const struct brv_covered *covered, size_t which)
{
    char text[BRV_NUMBER_SIZE];
    (void)which;
    snprintf(out, CELL_SIZE, "%.30s", isinf(covered->highest) ? "-" : brv_number_short(text, covered->highest));
}

static const struct {
    const char *label, *what;
    cell_writer *write;
    size_t which;
} rows[] = {{"HITS", "of one place, mean", cell_mean, 0},
            {"DOSE", "of one place, in pulses, mean", cell_mean, 1},
            {"", "coefficient of variation", cell_variation, 0},
            {"", "5, 50, 95 % of skin get at most", cell_levels, 0},
            {"", "highest", cell_highest, 0}};

/* The first of them is `skin missed`. */
static void write_hits(FILE *to, const struct brv_cover_answer *answer, const enum brv_cover_way way[], size_t n)
{
    struct brv_hit_row row[1 + BRV_MOST_HIT_ROWS] = {{0, 0}};
    const size_t n_row = 1 + brv_hit_rows(row + 1, answer->cover, way, n, ask_of(answer)->cover.passes);
    for (size_t k = 0; k < n_row; k++) {
        char name[BRV_HIT_NAME_SIZE], cell[CELL_SIZE];
        fprintf(to, "%-*s%-*s", INDENT, "", LABEL_WIDTH - INDENT,
                k ? brv_hit_row_name(name, &row[k]) : "skin missed, %");
        for (size_t i = 0; i < n; i++) {
            cell_share(cell, brv_hit_row_share(&row[k], &answer->cover->way[way[i]]));
            put_cell(to, cell, i + 1 < n ? COLUMN_WIDTH : 0);
        }
        fputc('\n', to);
    }
}

static void write_table(FILE *to, const struct brv_cover_answer *answer)
{
    enum brv_cover_way way[BRV_N_COVER_WAY];
    const size_t n = list_ways(way, ask_of(answer));
    write_heads(to, ask_of(answer));
    for (size_t k = 0; k < sizeof rows / sizeof *rows; k++) {
        fprintf(to, "%-*s%-*s", INDENT, rows[k].label, LABEL_WIDTH - INDENT, rows[k].what);
        for (size_t i = 0; i < n; i++) {
            char cell[CELL_SIZE];
            rows[k].write(cell, &answer->cover->way[way[i]], rows[k].which);
            put_cell(to, cell, i + 1 < n ? COLUMN_WIDTH : 0);
        }
        fputc('\n', to);
        if (k == 0) write_hits(to, answer, way, n);
    }
}

/* ---- heat ---- */

static void heat_cell(char out[CELL_SIZE], const struct brv_spread *spread)
{
    char value[BRV_NUMBER_SIZE];
    if (isnan(spread->value))
        snprintf(out, CELL_SIZE, "-");
    else
        snprintf(out, CELL_SIZE, "%.10s (%.2g..%.2g)", brv_number_short(value, spread->value), spread->low,
                 spread->high);
}

enum { N_HEAT_ROW = 3 };

static const struct brv_spread *heat_value(const struct brv_revisit_site *site, size_t row)
{
    const struct brv_spread *const all[N_HEAT_ROW] = {&site->highest, &site->rest, &site->later};
    return all[row];
}

static void write_heat_head(FILE *to, const struct brv_cover_answer *answer)
{
    char head[BRV_NUMBER_SIZE + CELL_SIZE], rate[BRV_NUMBER_SIZE];
    fprintf(to, "%-*s%-*s", INDENT, "HEAT", HEAT_LABEL - INDENT, "rise in K, one place along a row");
    for (size_t k = 0; k < answer->n_revisit; k++) {
        const struct brv_revisit_ask *how = &answer->revisit[k].ask;
        snprintf(head, sizeof head, how->hits > 1 ? "%zu hits at %.12s /s" : "%zu pulse", how->hits,
                 brv_number_short(rate, how->rate));
        put_cell(to, head, k + 1 < answer->n_revisit ? HEAT_WIDTH : 0);
    }
    fputc('\n', to);
}

static void write_heat_row(FILE *to, const struct brv_cover_answer *answer, const char *label, size_t row, size_t site)
{
    char cell[CELL_SIZE];
    fprintf(to, "%*s%-*s%-*s", HEAT_INDENT, "", HEAT_LABEL - HEAT_INDENT - SITE_WIDTH, site == 0 ? label : "",
            SITE_WIDTH, brv_site_name[site]);
    for (size_t k = 0; k < answer->n_revisit; k++) {
        heat_cell(cell, heat_value(&answer->revisit[k].site[site], row));
        put_cell(to, cell, k + 1 < answer->n_revisit ? HEAT_WIDTH : 0);
    }
    fputc('\n', to);
}

static void write_heat(FILE *to, const struct brv_cover_answer *answer)
{
    char label[CELL_SIZE + BRV_NUMBER_SIZE], deep[BRV_NUMBER_SIZE], next[BRV_NUMBER_SIZE];
    const struct brv_revisit *first = &answer->revisit[0];
    if (answer->n_revisit > 0) write_heat_head(to, answer);
    for (size_t row = 0; row < N_HEAT_ROW && answer->n_revisit > 0; row++) {
        if (row == N_HEAT_ROW - 1 && isnan(first->ask.next)) continue;
        brv_number_unit(deep, first->deep, BRV_LENGTH);
        if (row == 0)
            snprintf(label, sizeof label, "0.3 mm deep, highest");
        else if (row == 1)
            snprintf(label, sizeof label, "%.9s deep, before the next pulse", deep);
        else
            snprintf(label, sizeof label, "%.9s deep, next row %.9s later", deep,
                     brv_number_unit(next, first->ask.next, BRV_TIME));
        for (size_t site = 0; site < BRV_N_SITE; site++) write_heat_row(to, answer, label, row, site);
    }
    if (*answer->why) brv_words_wrap(to, answer->n_revisit ? "" : "HEAT", answer->why);
}

void brv_cover_summary(FILE *to, const struct brv_cover_answer *answer)
{
    char cautions[BRV_CAUTION_SIZE];
    struct brv_notes notes;
    brv_cover_notes_make(&notes, answer);
    write_asked(to, answer);
    write_table(to, answer);
    write_heat(to, answer);
    for (size_t i = 0; i < notes.n; i++) brv_words_wrap(to, i ? "" : "NOTES", notes.text[i]);
    brv_words_wrap(to, "CAUTION", brv_caution_text(cautions));
}

/* ---- JSON ---- */

static void digest_asked(struct brv_json *json, const struct brv_scenario *ask)
{
    brv_json_open(json, "asked", '{');
    brv_json_number(json, "spot", ask->beam.spot, "m");
    brv_json_text(json, "profile", ask->beam.profile == BRV_PROFILE_GAUSSIAN ? "gaussian" : "flat");
    brv_json_number(json, "fluence", ask->beam.fluence, "J/m2");
    brv_json_number(json, "fluence_on_axis", brv_beam_axis_fluence(&ask->beam), "J/m2");
    brv_json_number(json, "energy", ask->beam.energy, "J");
    brv_json_text(json, "lattice", brv_key_word(BRV_SCOPE_COVER, "lattice", ask->cover.lattice));
    brv_json_number(json, "overlap", ask->cover.overlap, "1");
    brv_json_number(json, "area", ask->cover.area, "m2");
    brv_json_number(json, "rate", ask->cover.rate, "1/s");
    brv_json_number(json, "passes", ask->cover.passes, "1");
    brv_json_close(json, '}');
}

static void digest_hand(struct brv_json *json, const struct brv_cover *cover)
{
    brv_json_open(json, "hand", '{');
    if (!cover->random) {
        brv_json_number(json, "along_row", cover->rows.along, "m");
        brv_json_number(json, "row_to_row", cover->rows.pitch, "m");
        brv_json_number(json, "speed", cover->hand, "m/s");
        brv_json_number(json, "row_length", cover->row, "m");
        brv_json_number(json, "row_time", cover->row_time, "s");
        brv_json_number(json, "overlap_along_row_at_twice_the_rate", cover->overlap_faster, "1");
    }
    brv_json_number(json, "pulses_per_area_and_pass", cover->density, "1/m2");
    brv_json_number(json, "pulses_per_pass", cover->pulses_pass, "1");
    brv_json_number(json, "pulses", cover->pulses, "1");
    brv_json_number(json, "more_pulses_per_pass_at_the_rim", cover->pulses_rim, "1");
    brv_json_number(json, "time", cover->time, "s");
    brv_json_number(json, "pulses_with_the_rim", brv_cover_pulses_with_rim(cover), "1");
    brv_json_number(json, "time_with_the_rim", brv_cover_pulses_with_rim(cover) * cover->time / cover->pulses, "s");
    brv_json_number(json, "fluence_summed_mean", cover->fluence, "J/m2");
    brv_json_number(json, "energy_of_all_pulses", cover->energy, "J");
    brv_json_close(json, '}');
}

static void digest_way(struct brv_json *json, const char *name, const struct brv_covered *covered)
{
    static const char *const share[BRV_N_HIT_SHARE] = {"missed", "hit_once", "hit_twice", "hit_3_or_more"};
    static const char *const level[BRV_N_DOSE_LEVEL] = {"dose_5_percent", "dose_50_percent", "dose_95_percent"};
    brv_json_open(json, name, '{');
    brv_json_number(json, "hits_mean", covered->mean, "1");
    for (size_t k = 0; k < BRV_N_HIT_SHARE; k++) brv_json_number(json, share[k], covered->share[k], "1");
    brv_json_number(json, "dose_mean", covered->dose, "1");
    brv_json_number(json, "dose_variation", covered->variation, "1");
    for (size_t k = 0; k < BRV_N_DOSE_LEVEL; k++) brv_json_number(json, level[k], covered->level[k], "1");
    brv_json_number(json, "dose_highest", covered->highest, "1");
    brv_json_close(json, '}');
}

static void digest_ways(struct brv_json *json, const struct brv_cover_answer *answer)
{
    static const char *const name[BRV_N_COVER_WAY] = {"one_pass", "all_passes", "same_places", "twice_the_rate"};
    enum brv_cover_way way[BRV_N_COVER_WAY];
    const size_t n = list_ways(way, ask_of(answer));
    brv_json_open(json, "covered", '{');
    for (size_t i = 0; i < n; i++) digest_way(json, name[way[i]], &answer->cover->way[way[i]]);
    brv_json_close(json, '}');
}

static void digest_heat(struct brv_json *json, const struct brv_cover_answer *answer)
{
    static const char *const name[N_HEAT_ROW] = {"highest_at_0.3_mm", "quarter_spot_deep_when_a_next_pulse_comes",
                                                 "quarter_spot_deep_when_the_next_row_comes"};
    brv_json_open(json, "heat_along_one_row", '[');
    for (size_t k = 0; k < answer->n_revisit; k++) {
        const struct brv_revisit *revisit = &answer->revisit[k];
        brv_json_open(json, NULL, '{');
        brv_json_number(json, "hits", (double)revisit->ask.hits, "1");
        brv_json_number(json, "rate", revisit->ask.rate, "1/s");
        brv_json_number(json, "next_row_after", revisit->ask.next, "s");
        brv_json_number(json, "quarter_of_the_spot", revisit->deep, "m");
        for (size_t site = 0; site < BRV_N_SITE; site++) {
            brv_json_open(json, brv_site_name[site], '{');
            for (size_t row = 0; row < N_HEAT_ROW; row++)
                brv_json_spread(json, name[row], heat_value(&revisit->site[site], row), 1.0, 0.0, "K",
                                "grains 0.316 and 3.16 times as dark");
            brv_json_close(json, '}');
        }
        brv_json_close(json, '}');
    }
    brv_json_close(json, ']');
}

void brv_cover_digest(FILE *to, const struct brv_cover_answer *answer)
{
    struct brv_json json = {.to = to};
    struct brv_notes notes;
    brv_cover_notes_make(&notes, answer);
    brv_json_open(&json, NULL, '{');
    brv_digest_program(&json, answer->request);
    digest_asked(&json, ask_of(answer));
    digest_hand(&json, answer->cover);
    digest_ways(&json, answer);
    digest_heat(&json, answer);
    brv_json_open(&json, "notes", '[');
    if (*answer->why) brv_json_text(&json, NULL, answer->why);
    for (size_t i = 0; i < notes.n; i++) brv_json_text(&json, NULL, notes.text[i]);
    brv_json_close(&json, ']');
    brv_digest_cautions(&json);
    brv_json_close(&json, '}');
}

/* ---- figures ---- */

/* "J/cm²", "cm²": the words of the summary in the letters a person would write. */
static void print_squares(char out[BRV_COVER_TEXT], const char *text)
{
    size_t n = 0;
    for (const char *from = text; *from && n + 3 < BRV_COVER_TEXT; from++) {
        if (from - text > 1 && *from == '2' && from[-1] == 'm' && from[-2] == 'c')
            n += (size_t)snprintf(out + n, BRV_COVER_TEXT - n, "²");
        else
            out[n++] = *from;
    }
    out[n] = '\0';
}

/* What the map shows of all that the table holds. */
static void write_map_words(char out[BRV_COVER_TEXT], const struct brv_cover *cover, const struct brv_scenario *ask)
{
    char passes[CELL_SIZE] = "one pass";
    if (ask->cover.passes > 1.0) snprintf(passes, sizeof passes, "%.0f passes", ask->cover.passes);
    if (cover->random)
        snprintf(out, BRV_COVER_TEXT, "this map: %s, spots at random, one drawing of many", passes);
    else if (ask->cover.passes > 1.0)
        snprintf(out, BRV_COVER_TEXT, "this map: %s anywhere, one drawing of many", passes);
    else
        snprintf(out, BRV_COVER_TEXT, "this map: one pass, a square from inside the area");
}

static double highest_of(const struct brv_cover_answer *answer)
{
    enum brv_cover_way way[BRV_N_COVER_WAY];
    double highest = 0.0;
    const size_t n = list_ways(way, ask_of(answer));
    for (size_t i = 0; i < n; i++) highest = fmax(highest, answer->cover->way[way[i]].highest);
    return highest;
}

/* For a script: 0 is read as none. */
static double none_if_endless(double highest)
{
    return isinf(highest) ? 0.0 : highest;
}

void brv_cover_figures(struct brv_figure figure[BRV_N_COVER_FIGURE], struct brv_cover_words *words,
                       const struct brv_cover_answer *answer)
{
    const struct brv_cover *cover = answer->cover;
    const struct brv_scenario *ask = ask_of(answer);
    const char *title = answer->request->title;
    const char *heading = *title ? title : words->asked, *below = *title ? words->asked : "";
    char asked[BRV_COVER_TEXT];
    print_squares(words->asked, brv_cover_asked(asked, answer));
    brv_figure_corner(words->corner, ask);
    /* gnuplot takes a number without a point for a whole one: hence %e */
    snprintf(words->number[0], BRV_COVER_TEXT, "%.9e %.9e %d %d %.9e", answer->patch->step * (double)answer->patch->n,
             answer->patch->step, cover->gaussian, cover->random,
             none_if_endless(cover->way[ask->cover.passes > 1.0 ? BRV_COVER_ALL : BRV_COVER_ONE].highest));
    write_map_words(words->word[0], cover, ask);
    snprintf(words->number[1], BRV_COVER_TEXT, "%.0f %d %d %.9e", ask->cover.passes, cover->gaussian, cover->random,
             none_if_endless(highest_of(answer)));
    figure[0] = (struct brv_figure){"dose", {words->number[0], heading, below, words->corner, words->word[0], NULL}};
    figure[1] = (struct brv_figure){"histogram", {words->number[1], heading, below, words->corner, NULL}};
}
