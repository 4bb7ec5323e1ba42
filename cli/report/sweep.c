#include "report/sweep.h"

#include "base/constants.h"
#include "report/asked.h"
#include "report/body.h"
#include "report/caution.h"
#include "report/digest.h"
#include "report/csv.h"
#include "report/figure.h"
#include "report/hash.h"
#include "report/json.h"
#include "report/number.h"
#include "report/sweep_notes.h"
#include "report/term.h"
#include "report/words.h"
#include "scenario/unit.h"
#include "scenario/letters.h"

#include <math.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stdint.h>
#include <string.h>

#define MOST_ROWS 12 /* points that a table shows */

enum { NAME_SIZE = BRV_VARY_PATH_SIZE + 16 };

/* ---- names ---- */

/* "1/m" for the table's "/m"; "1" for plain numbers. */
static const char *si_unit(char out[NAME_SIZE], enum brv_dimension dimension)
{
    const struct brv_unit *unit = brv_unit_si(dimension);
    snprintf(out, NAME_SIZE, "%s%s", unit && *unit->name != '/' ? "" : "1", unit ? unit->name : "");
    return out;
}

/* "light.spot_m", "light.fluence_J_m2", "skin.basal.absorption_per_m", "skin.basal.melanosomes" */
static const char *key_column(char out[NAME_SIZE], const struct brv_vary *vary)
{
    const struct brv_unit *unit = brv_unit_si(vary->key->dimension);
    const char *name = unit ? unit->name : "";
    const bool per = *name == '/';
    const size_t length = strlen(vary->path);
    snprintf(out, NAME_SIZE, "%s%s%s", vary->path, per ? "_per_" : unit ? "_" : "", per ? name + 1 : name);
    for (char *c = out + length; *c; c++)
        if (*c == '/') *c = '_';
    return out;
}

static const struct brv_spread *at(const struct brv_sweep *sweep, size_t point, size_t site, size_t which)
{
    return &sweep->rows[point].at[site][which];
}

static double key_value(const struct brv_sweep *sweep, size_t point, size_t key)
{
    return brv_vary_value(&sweep->points->vary[key], brv_points_at(sweep->points, point, key));
}

/* ---- CSV ---- */

static void csv_header(FILE *to, const struct brv_sweep *sweep)
{
    char name[NAME_SIZE];
    for (size_t i = 0; i < sweep->points->n_vary; i++)
        fprintf(to, "%s%s", i ? "," : "", key_column(name, &sweep->points->vary[i]));
    for (size_t which = 0; which < BRV_N_HEADLINE; which++) {
        const struct brv_term *term = &brv_terms[which];
        for (size_t site = 0; site < (term->shared ? 1 : BRV_N_SITE); site++) {
            const char *of = term->shared ? "" : brv_site_name[site], *join = term->shared ? "" : "_";
            fprintf(to, ",%s%s%s,%s%s%s_low,%s%s%s_high", of, join, term->column, of, join, term->column, of, join,
                    term->column);
        }
    }
    fputs("\r\n", to);
}

static void csv_spread(FILE *to, const struct brv_spread *spread)
{
    char value[BRV_NUMBER_SIZE], low[BRV_NUMBER_SIZE], high[BRV_NUMBER_SIZE];
    fprintf(to, ",%s,%s,%s", brv_number_exact(value, spread->value), brv_number_exact(low, spread->low),
            brv_number_exact(high, spread->high));
}

void brv_sweep_csv(FILE *to, const struct brv_sweep *sweep)
{
    char text[BRV_NUMBER_SIZE];
    csv_header(to, sweep);
    for (size_t point = 0; point < sweep->points->n; point++) {
        for (size_t i = 0; i < sweep->points->n_vary; i++)
            fprintf(to, "%s%s", i ? "," : "", brv_number_exact(text, key_value(sweep, point, i)));
        for (size_t which = 0; which < BRV_N_HEADLINE; which++)
            for (size_t site = 0; site < (brv_terms[which].shared ? 1 : BRV_N_SITE); site++)
                csv_spread(to, at(sweep, point, site, which));
        fputs("\r\n", to);
    }
}

/* ---- ends of the ranges ---- */

struct ends {
    size_t least, most, none; /* points, the first of equals; how many have no such value */
    bool there;
};

/* By more than rounding: what does not depend on a key keeps the first of its values. */
static bool above(double one, double other)
{
    return one > other && !(fabs(one - other) <= 1e-9 * fabs(other));
}

static struct ends find_ends(const struct brv_sweep *sweep, size_t site, size_t which)
{
    struct ends ends = {.there = false};
    for (size_t i = 0; i < sweep->points->n; i++) {
        const double value = at(sweep, i, site, which)->value;
        if (isnan(value)) {
            ends.none++;
            continue;
        }
        if (!ends.there || above(at(sweep, ends.least, site, which)->value, value)) ends.least = i;
        if (!ends.there || above(value, at(sweep, ends.most, site, which)->value)) ends.most = i;
        ends.there = true;
    }
    return ends;
}

/* ---- JSON ---- */

static void json_varied(struct brv_json *json, const struct brv_sweep *sweep)
{
    char unit[NAME_SIZE], column[NAME_SIZE];
    brv_json_open(json, "varied", '[');
    for (size_t i = 0; i < sweep->points->n_vary; i++) {
        const struct brv_vary *vary = &sweep->points->vary[i];
        si_unit(unit, vary->key->dimension);
        brv_json_open(json, NULL, '{');
        brv_json_text(json, "key", vary->path);
        brv_json_text(json, "column", key_column(column, vary));
        brv_json_number(json, "from", vary->from, unit);
        brv_json_number(json, "to", vary->to, unit);
        brv_json_number(json, "values", (double)vary->n, "1");
        brv_json_text(json, "steps", vary->log ? "even in the logarithm" : "even");
        if (sweep->points->own)
            brv_json_number(json, "scenario", brv_vary_own(vary, &sweep->points->base.scenario), unit);
        brv_json_close(json, '}');
    }
    brv_json_close(json, ']');
    brv_json_number(json, "points", (double)sweep->points->n, "1");
}

static void json_end(struct brv_json *json, const char *name, const struct brv_sweep *sweep, size_t point, size_t site,
                     size_t which)
{
    char unit[NAME_SIZE];
    brv_json_open(json, name, '{');
    brv_json_spread(json, "number", at(sweep, point, site, which), 1.0, 0.0, brv_terms[which].si, NULL);
    for (size_t i = 0; i < sweep->points->n_vary; i++)
        brv_json_number(json, sweep->points->vary[i].path, key_value(sweep, point, i),
                        si_unit(unit, sweep->points->vary[i].key->dimension));
    brv_json_close(json, '}');
}

static void json_range(struct brv_json *json, const struct brv_sweep *sweep, size_t site, size_t which)
{
    const struct ends ends = find_ends(sweep, site, which);
    brv_json_open(json, brv_terms[which].column, '{');
    if (ends.there) {
        json_end(json, "least", sweep, ends.least, site, which);
        json_end(json, "most", sweep, ends.most, site, which);
    }
    brv_json_number(json, "points_without", (double)ends.none, "1");
    brv_json_close(json, '}');
}

static void json_ranges(struct brv_json *json, const struct brv_sweep *sweep)
{
    brv_json_open(json, "ranges", '{');
    for (size_t site = 0; site < BRV_N_SITE; site++) {
        brv_json_open(json, brv_site_name[site], '{');
        for (size_t which = 0; which < BRV_N_HEADLINE; which++)
            if (!brv_terms[which].shared) json_range(json, sweep, site, which);
        brv_json_close(json, '}');
    }
    brv_json_open(json, "both", '{');
    for (size_t which = 0; which < BRV_N_HEADLINE; which++)
        if (brv_terms[which].shared) json_range(json, sweep, BRV_LESION, which);
    brv_json_close(json, '}');
    brv_json_close(json, '}');
}

void brv_sweep_digest(FILE *to, const struct brv_sweep *sweep)
{
    static const char *const method[] = {"spot", "layered", "sampled"};
    struct brv_json json = {.to = to};
    struct brv_notes notes;
    char own[BRV_POINTS_HASH_SIZE];
    brv_sweep_notes_make(&notes, sweep);
    brv_json_open(&json, NULL, '{');
    brv_digest_program(&json, &sweep->points->base);
    brv_json_text(&json, "sweep_hash", brv_points_hash(own, sweep->points));
    brv_json_text(&json, "light_method", method[sweep->points->base.scenario.beam.method]);
    json_varied(&json, sweep);
    json_ranges(&json, sweep);
    brv_json_open(&json, "notes", '[');
    for (size_t i = 0; i < notes.n; i++) brv_json_text(&json, NULL, notes.text[i]);
    brv_json_close(&json, ']');
    brv_digest_cautions(&json);
    brv_json_close(&json, '}');
}

/* ---- text ---- */

static void say_asked(FILE *to, const struct brv_sweep *sweep)
{
    const struct brv_scenario *ask = &sweep->points->base.scenario;
    char pulse[BRV_NUMBER_SIZE], spot[BRV_NUMBER_SIZE], fluence[BRV_NUMBER_SIZE], energy[BRV_NUMBER_SIZE],
        meets[BRV_ASKED_SIZE], more[BRV_ASKED_SIZE], hash[BRV_HASH_SIZE], own[BRV_POINTS_HASH_SIZE];
    fprintf(to, "brevis %s   %s   [scenario %s, sweep %s]\n\n", BRV_VERSION,
            *sweep->points->base.title ? sweep->points->base.title : "(no title)", brv_hash_scenario(hash, ask),
            brv_points_hash(own, sweep->points));
    fprintf(
        to, "%-9s%.4g nm, %s %s pulse, %s %s spot, %s = %s, %s outside, skin at %.1f C\n",
        sweep->points->own ? "SCENARIO" : "FIRST", 1e9 * ask->beam.wavelength,
        brv_number_unit(pulse, ask->pulse.width, BRV_TIME),
        ask->pulse.shape == BRV_SHAPE_SQUARE ? "square" : "gaussian", brv_number_unit(spot, ask->beam.spot, BRV_LENGTH),
        ask->beam.profile == BRV_PROFILE_GAUSSIAN ? "gaussian" : "flat",
        brv_number_unit(fluence, ask->beam.fluence, BRV_FLUENCE), brv_number_unit(energy, ask->beam.energy, BRV_ENERGY),
        brv_asked_meets(meets, ask), ask->surface.temperature - BRV_ZERO_C);
    if (*brv_asked_train(more, &ask->pulse)) fprintf(to, "%-9s%s\n", "", more);
    if (*brv_asked_cover(more, ask)) fprintf(to, "%-9s%s\n", "", more);
    brv_body_lines(to, ask);
}

static void say_varied(FILE *to, const struct brv_sweep *sweep)
{
    for (size_t i = 0; i < sweep->points->n_vary; i++) {
        const struct brv_vary *vary = &sweep->points->vary[i];
        fprintf(to, "%-9s%s: %zu values from %s to %s, in even steps%s\n", i ? "" : "VARIED", vary->path, vary->n,
                vary->from_text, vary->to_text, vary->log ? " of the logarithm" : "");
    }
    fprintf(to, "%-9s%zu, each a run of its own; all numbers with their spreads stand in sweep.csv\n\n", "POINTS",
            sweep->points->n);
}

/* A line of a table, written when it is whole so that no blanks stand at its end. */
struct line {
    char text[256];
    size_t n;
};

__attribute__((format(printf, 2, 3))) static void put(struct line *line, const char *format, ...)
{
    va_list list;
    va_start(list, format);
    line->n += (size_t)vsnprintf(line->text + line->n, sizeof line->text - line->n, format, list);
    va_end(list);
}

static void end_line(FILE *to, struct line *line)
{
    while (line->n > 0 && line->text[line->n - 1] == ' ') line->n--;
    fprintf(to, "%.*s\n", (int)line->n, line->text);
    line->n = 0;
}

/* One term of a row, for both sites where they differ. */
static void put_cells(struct line *line, const struct brv_sweep *sweep, size_t point, enum brv_headline which)
{
    char lesion[BRV_TERM_SIZE], neighbour[BRV_TERM_SIZE];
    brv_term_spread(lesion, which, at(sweep, point, BRV_LESION, which));
    brv_term_spread(neighbour, which, at(sweep, point, BRV_NEIGHBOUR, which));
    put(line, " %-23s %-23s", lesion, brv_terms[which].shared ? "" : neighbour);
}

static void say_head(FILE *to, const struct brv_sweep *sweep, const enum brv_headline pair[2])
{
    char label[BRV_TERM_SIZE];
    struct line line = {.n = 0};
    put(&line, "%-12s", "");
    for (size_t k = 0; k < 2; k++) put(&line, " %-47s", brv_term_label(label, pair[k]));
    end_line(to, &line);
    put(&line, "%-12.12s", strrchr(sweep->points->vary[0].path, '.') + 1);
    for (size_t k = 0; k < 2; k++)
        put(&line, " %-23s %-23s", brv_terms[pair[k]].shared ? "both" : "lesion",
            brv_terms[pair[k]].shared ? "" : "neighbour");
    end_line(to, &line);
}

/* Points that a table shows: all, or the first, the last and some evenly between them. */
static size_t shown(const struct brv_sweep *sweep, size_t row, size_t n_row)
{
    return n_row == sweep->points->n ? row : (row * (sweep->points->n - 1) + (n_row - 1) / 2) / (n_row - 1);
}

static void say_tables(FILE *to, const struct brv_sweep *sweep)
{
    static const enum brv_headline pair[][2] = {{BRV_HEADLINE_LIGHT_GRAIN, BRV_HEADLINE_LIGHT_DEEP},
                                                {BRV_HEADLINE_GRAIN_PEAK, BRV_HEADLINE_LAYER_PEAK},
                                                {BRV_HEADLINE_THRESHOLD_GRAIN, BRV_HEADLINE_THRESHOLD_SIGN},
                                                {BRV_HEADLINE_SHARE, BRV_HEADLINE_RATIO}};
    const size_t n_row = sweep->points->n < MOST_ROWS ? sweep->points->n : MOST_ROWS;
    char value[BRV_NUMBER_SIZE];
    struct line line = {.n = 0};
    for (size_t k = 0; k < sizeof pair / sizeof *pair; k++) {
        say_head(to, sweep, pair[k]);
        for (size_t row = 0; row < n_row; row++) {
            const size_t point = shown(sweep, row, n_row);
            brv_number_unit(value, key_value(sweep, point, 0), sweep->points->vary[0].key->dimension);
            put(&line, "%-12s", value);
            for (size_t i = 0; i < 2; i++) put_cells(&line, sweep, point, pair[k][i]);
            end_line(to, &line);
        }
        fputc('\n', to);
    }
    if (n_row < sweep->points->n) fprintf(to, "%-9sonly %zu of %zu points are shown\n", "", n_row, sweep->points->n);
}

static void say_end(FILE *to, const char *word, const struct brv_sweep *sweep, size_t point, size_t site,
                    enum brv_headline which)
{
    char spread[BRV_TERM_SIZE], values[BRV_POINTS_TEXT_SIZE], value[BRV_NUMBER_SIZE];
    size_t n = 0;
    for (size_t i = 0; i < sweep->points->n_vary; i++)
        n +=
            (size_t)snprintf(values + n, sizeof values - n, "%s%s %s", i ? ", " : "", sweep->points->vary[i].path,
                             brv_number_unit(value, key_value(sweep, point, i), sweep->points->vary[i].key->dimension));
    fprintf(to, "  %-11s%-6s%-25s at %s\n", brv_terms[which].shared ? "" : brv_site_name[site], word,
            brv_term_spread(spread, which, at(sweep, point, site, which)), values);
}

static void say_ends(FILE *to, const struct brv_sweep *sweep)
{
    static const enum brv_headline term[] = {
        BRV_HEADLINE_LIGHT_GRAIN,     BRV_HEADLINE_LIGHT_DEEP,     BRV_HEADLINE_GRAIN_PEAK, BRV_HEADLINE_LAYER_PEAK,
        BRV_HEADLINE_THRESHOLD_GRAIN, BRV_HEADLINE_THRESHOLD_SIGN, BRV_HEADLINE_SHARE,      BRV_HEADLINE_RATIO};
    char label[BRV_TERM_SIZE];
    for (size_t k = 0; k < sizeof term / sizeof *term; k++) {
        fprintf(to, "%s\n", brv_term_label(label, term[k]));
        for (size_t site = 0; site < (brv_terms[term[k]].shared ? 1 : BRV_N_SITE); site++) {
            const struct ends ends = find_ends(sweep, site, term[k]);
            if (ends.there) say_end(to, "least", sweep, ends.least, site, term[k]);
            if (ends.there) say_end(to, "most", sweep, ends.most, site, term[k]);
            if (ends.none)
                fprintf(to, "  %-11snone at %zu of %zu points\n", brv_terms[term[k]].shared ? "" : brv_site_name[site],
                        ends.none, sweep->points->n);
        }
    }
    fputc('\n', to);
}

void brv_sweep_summary(FILE *to, const struct brv_sweep *sweep)
{
    char cautions[BRV_CAUTION_SIZE];
    struct brv_notes notes;
    say_asked(to, sweep);
    say_varied(to, sweep);
    if (sweep->points->n_vary == 1)
        say_tables(to, sweep);
    else
        say_ends(to, sweep);
    brv_sweep_notes_make(&notes, sweep);
    for (size_t i = 0; i < notes.n; i++) brv_words_wrap(to, i ? "" : "NOTES", notes.text[i]);
    brv_words_wrap(to, "CAUTION", brv_caution_text(cautions));
}

/* ---- figure ---- */

/* Over several decades an axis is written with the prefixes of SI: 1 ns, 1 µs, 1 ms. */
static bool by_prefix(const struct brv_vary *vary)
{
    const enum brv_dimension dimension = vary->key->dimension;
    return vary->log && (dimension == BRV_TIME || dimension == BRV_LENGTH || dimension == BRV_ENERGY);
}

static size_t mark_key(char *out, size_t room, const struct brv_vary *vary, double own)
{
    const struct brv_unit *unit = by_prefix(vary) ? NULL : brv_vary_unit(vary);
    const bool inside = own >= vary->from && own <= vary->to;
    return (size_t)snprintf(out, room, "%zu %.17e %.17e %d %d %.17e %.9e %.9e %d ", vary->n, vary->from, vary->to,
                            vary->log, inside, inside ? own : 0.0,
                            unit ? 1.0 / (unit->times * pow(10.0, unit->power)) : 1.0, unit ? unit->offset : 0.0,
                            by_prefix(vary));
}

/* The unit as a person writes it: the tables' J/cm2 and um. */
static void print_unit(char *out, size_t room, const char *unit)
{
    size_t n = 0;
    out[0] = '\0';
    for (; *unit && n + 4 < room; unit++) {
        const char before = n ? unit[-1] : ' ';
        const char *letter = *unit == 'u' && !n              ? "µ"
                             : *unit == '2' && before == 'm' ? "²"
                             : *unit == '3' && before == 'm' ? "³"
                                                             : NULL;
        n += (size_t)(letter ? snprintf(out + n, room - n, "%s", letter) : snprintf(out + n, room - n, "%c", *unit));
    }
    if (!strcmp(out, "degC")) snprintf(out, room, "°C");
}

void brv_sweep_draw(struct brv_sweep_figure *out, const struct brv_sweep *sweep)
{
    const struct brv_points *points = sweep->points;
    char asked[BRV_FIGURE_TEXT], corner[BRV_FIGURE_TEXT], column[NAME_SIZE], unit[NAME_SIZE];
    size_t mark = 0, name = 0, words = 0;
    mark += (size_t)snprintf(out->marks, sizeof out->marks, "%zu ", points->n_vary);
    for (size_t i = 0; i < points->n_vary; i++) {
        const struct brv_vary *vary = &points->vary[i];
        const struct brv_unit *written = by_prefix(vary) ? brv_unit_si(vary->key->dimension) : brv_vary_unit(vary);
        mark += mark_key(out->marks + mark, sizeof out->marks - mark, vary,
                         points->own ? brv_vary_own(vary, &points->base.scenario) : (double)NAN);
        print_unit(unit, sizeof unit, written ? written->name : "");
        name += (size_t)snprintf(out->names + name, sizeof out->names - name, "%s|%s|%s|", key_column(column, vary),
                                 vary->path, unit);
        words += (size_t)snprintf(out->asked + words, sizeof out->asked - words, "%s%s from %s to %s", i ? ", " : "",
                                  vary->path, vary->from_text, vary->to_text);
    }
    brv_figure_asked(asked, &points->base.scenario);
    brv_figure_corner(corner, &points->base.scenario);
    snprintf(out->asked + words, sizeof out->asked - words, "; scenario: %s", asked);
    brv_letters_cut(out->heading, sizeof out->heading, *points->base.title ? points->base.title : "Sweep", SIZE_MAX);
    snprintf(out->corner, sizeof out->corner, "%s", corner);
    out->figure = (struct brv_figure){"sweep", {out->marks, out->names, out->heading, out->asked, out->corner, NULL}};
}
