#include "report/report_part.h"

#include "report/asked.h"
#include "report/caution.h"
#include "report/hash.h"
#include "report/number.h"
#include "report/page.h"
#include "report/term.h"
#include "report/words.h"
#include "scenario/keys.h"

#include <string.h>

/* ---- head ---- */

static void put_ways(FILE *to)
{
    static const char *const part[][2] = {
        {"question", "Question"}, {"happens", "What happens"}, {"curves", "Curves"}, {"numbers", "Numbers"},
        {"limits", "Limits"},     {"scenario", "Scenario"},    {"sheet", "Sheet"}};
    fputs("<nav aria-label=\"Sections\"><ul>\n", to);
    for (size_t i = 0; i < sizeof part / sizeof *part; i++)
        fprintf(to, "<li><a href=\"#%s\">%s</a></li>\n", part[i][0], part[i][1]);
    fputs("</ul></nav>\n", to);
}

void brv_report_head(FILE *to, const struct brv_report *report, const struct brv_request *request)
{
    char hash[BRV_HASH_SIZE], line[BRV_HASH_SIZE + 80];
    const char *title = *request->title ? request->title : "Light and heat in skin under a pulse";
    brv_page_begin(to, title);
    brv_page_element(to, "h1", "dir=\"auto\"", title);
    snprintf(line, sizeof line, "brevis %s, %s, scenario %s", BRV_VERSION, report->command,
             brv_hash_scenario(hash, &request->scenario));
    brv_page_element(to, "p", "class=\"meta\"", line);
    fputs("<p class=\"caution\"><strong>Caution.</strong> ", to);
    for (size_t i = 0; i < 2; i++) {
        brv_page_put(to, brv_cautions[i]);
        fputc(' ', to);
    }
    fputs("All of the cautions stand under <a href=\"#cautions\">Cautions</a>.</p>\n", to);
    put_ways(to);
}

void brv_report_no_figures(FILE *to, const struct brv_report *report)
{
    if (!report->wanted_figures)
        brv_page_say(to, "No figure was drawn: the run was told --no-figures. Without that word, and with gnuplot "
                         "installed, the curves stand here. Their numbers are in the CSV files beside this page.");
    else
        brv_page_say(to,
                     "No figure was drawn: gnuplot was not found, or it failed. Where gnuplot is installed (in "
                     "Debian the package gnuplot-nox), the same command with --force draws the curves. Their numbers "
                     "are in the CSV files beside this page.");
}

/* ---- limits ---- */

void brv_report_cautions(FILE *to)
{
    fputs("<h3 id=\"cautions\">Cautions</h3>\n<ul class=\"caution\">\n", to);
    for (size_t i = 0; i < brv_n_cautions; i++) brv_page_element(to, "li", "", brv_cautions[i]);
    fputs("</ul>\n", to);
}

static bool came_before(const struct brv_cited *cited, size_t i)
{
    for (size_t k = 0; k < i; k++)
        if (!strcmp(cited->used[k].key, cited->used[i].key)) return true;
    return false;
}

/* What a source is used for, or how it was seen: each once. */
static void put_all(FILE *to, const struct brv_cited *cited, size_t first, bool seen)
{
    bool any = false;
    fputs("<td>", to);
    for (size_t i = first; i < cited->n; i++) {
        bool told = strcmp(cited->used[i].key, cited->used[first].key) != 0;
        const char *text = seen ? cited->used[i].seen : cited->used[i].what;
        for (size_t k = first; k < i && !told; k++)
            told = !strcmp(cited->used[k].key, cited->used[first].key) &&
                   !strcmp(seen ? cited->used[k].seen : cited->used[k].what, text);
        if (told) continue;
        if (any) fputs("; ", to);
        brv_page_put(to, text);
        any = true;
    }
    fputs("</td>", to);
}

void brv_report_sources(FILE *to, const struct brv_cited *cited)
{
    fputs(
        "<h3>Sources</h3>\n<p class=\"small\">What the numbers of this page rest on, and how each source was seen for "
        "this project: seen, abstract only, second-hand, from memory, computed, or a choice. More in docs/sources.md."
        "</p>\n<div class=\"box\"><table>\n<thead><tr><th scope=\"col\">source</th><th scope=\"col\">used for</th>"
        "<th scope=\"col\">how seen</th></tr></thead>\n<tbody>\n",
        to);
    for (size_t i = 0; i < cited->n; i++) {
        const char *text = brv_citation_text(cited->used[i].key);
        if (came_before(cited, i)) continue;
        fputs("<tr><th scope=\"row\">", to);
        brv_page_put(to, text ? text : "see docs/sources.md");
        fputs(" <span class=\"aside\">", to);
        brv_page_put(to, cited->used[i].key);
        fputs("</span></th>", to);
        put_all(to, cited, i, false);
        put_all(to, cited, i, true);
        fputs("</tr>\n", to);
    }
    fputs("</tbody>\n</table></div>\n", to);
}

/* ---- the scenario ---- */

static const char *name_of(const char *path)
{
    const char *slash = strrchr(path, '/');
    return !strcmp(path, "-") ? "standard input" : slash ? slash + 1 : path;
}

/* As a shell wants it: within single quotes, one in the text outside of them. */
static void put_quoted(FILE *to, const char *text)
{
    const bool plain =
        *text && !text[strspn(text, "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789._=/+-")];
    if (plain) {
        brv_page_put(to, text);
        return;
    }
    brv_page_put(to, "'");
    for (const char *part = text; *part;) {
        const size_t length = strcspn(part, "'");
        brv_page_put_bytes(to, part, length);
        if (part[length]) brv_page_put(to, "'\\''");
        part += length + (part[length] != '\0');
    }
    brv_page_put(to, "'");
}

static void put_command(FILE *to, const struct brv_report *report)
{
    fputs("<pre dir=\"auto\">brevis ", to);
    brv_page_put(to, report->command);
    for (size_t i = 0; i < report->n_origin; i++) {
        const bool stream = !strcmp(report->origin[i].path, "-");
        fputc(' ', to);
        put_quoted(to, stream ? "scenario.yaml" : name_of(report->origin[i].path));
    }
    for (size_t i = 0; i < report->n_set; i++) {
        fputs(" --set ", to);
        put_quoted(to, report->set[i]);
    }
    fputs("</pre>\n", to);
}

static void put_text(FILE *to, const struct brv_origin *origin)
{
    const bool marked = origin->size >= 3 && !memcmp(origin->text, "\xEF\xBB\xBF", 3);
    brv_page_element(to, "h3", "dir=\"auto\"", name_of(origin->path));
    fputs("<pre dir=\"auto\">\n", to); /* the line end after a <pre> is no part of it */
    brv_page_put_bytes(to, origin->text + (marked ? 3 : 0), origin->size - (marked ? 3 : 0));
    fputs("</pre>\n", to);
}

void brv_report_scenario(FILE *to, const struct brv_report *report, const struct brv_request *request)
{
    char hash[BRV_HASH_SIZE];
    brv_page_section(to, "scenario", "The scenario, and how to repeat it");
    brv_page_say(to,
                 "Scenario %s, of all that it asks in SI units: other units or other words give the same. brevis %s "
                 "gives the same bytes again for the same scenario, on any number of threads.",
                 brv_hash_scenario(hash, &request->scenario), BRV_VERSION);
    if (report->n_set) {
        fputs("<p>Changed on the command line, after the text below was read:</p>\n<ul>\n", to);
        for (size_t i = 0; i < report->n_set; i++) {
            fputs("<li><code dir=\"auto\">", to);
            brv_page_put(to, report->set[i]);
            fputs("</code></li>\n", to);
        }
        fputs("</ul>\n", to);
    }
    fputs("<p>To repeat it, save the text and run this, or the same with build/brevis where it is not installed:</p>\n",
          to);
    put_command(to, report);
    for (size_t i = 0; i < report->n_origin; i++) put_text(to, &report->origin[i]);
}

/* ---- the sheet ---- */

static void put_row(FILE *to, const char *what, const char *here)
{
    fputs("<tr><th scope=\"row\">", to);
    brv_page_put(to, what);
    fputs("</th><td>", to);
    brv_page_put(to, here);
    fputs("</td><td></td><td></td></tr>\n", to);
}

/* "plate; plate on the skin from -2 s ..., film 2 um, 2000 /cm": all that the light meets first. */
static void put_outside(FILE *to, const struct brv_scenario *ask)
{
    char text[3 * BRV_ASKED_SIZE], outside[BRV_ASKED_SIZE], one[BRV_NUMBER_SIZE], two[BRV_NUMBER_SIZE];
    text[0] = '\0';
    if (*brv_asked_cover(outside, ask))
        brv_words_append(text, sizeof text, "%s", outside);
    else
        brv_words_append(text, sizeof text, "%s", brv_asked_meets(outside, ask));
    if (ask->film.given)
        brv_words_append(text, sizeof text, "; a film of %s, %s",
                         brv_number_printed(one, ask->film.thickness, BRV_LENGTH),
                         brv_number_printed(two, ask->film.absorption, BRV_PER_LENGTH));
    put_row(to, "On the skin", text);
}

static void put_rows(FILE *to, const struct brv_scenario *ask)
{
    char text[BRV_NUMBER_SIZE], spot[BRV_NUMBER_SIZE + 16], train[BRV_ASKED_SIZE];
    snprintf(text, sizeof text, "%.4g nm", 1e9 * ask->beam.wavelength);
    put_row(to, "Wavelength", text);
    put_row(to, "Pulse", brv_number_printed(text, ask->pulse.width, BRV_TIME));
    snprintf(spot, sizeof spot, "%s, %s", brv_number_printed(text, ask->beam.spot, BRV_LENGTH),
             brv_key_word(BRV_SCOPE_LIGHT, "profile", ask->beam.profile));
    put_row(to, "Spot", spot);
    put_row(to, "Fluence", brv_number_printed(text, ask->beam.fluence, BRV_FLUENCE));
    put_row(to, "Energy of a pulse", brv_number_printed(text, ask->beam.energy, BRV_ENERGY));
    put_row(to, "Pulses on one place", *brv_asked_train(train, &ask->pulse) ? train : "1");
    put_outside(to, ask);
    put_row(to, "Pulses in all", "");
}

void brv_report_sheet(FILE *to, const struct brv_request *request, const char *asked)
{
    static const char *const seen[] = {"Seen at once", "Seen after some minutes", "Seen later"};
    char hash[BRV_HASH_SIZE];
    fputs("\n<section class=\"sheet\">", to);
    brv_page_section(to, "sheet", "Sheet to fill in by hand");
    fputs(
        "<p><strong>No names and no personal data belong on this sheet.</strong> Not of a patient, not of anyone who "
        "works here.</p>\n<p>What the scenario asked is a what-if, not a plan: planned and set are for the person who "
        "is qualified to choose them, by the equipment's own instructions.</p>\n"
        "<table>\n<thead><tr><th scope=\"col\">what</th><th scope=\"col\">",
        to);
    brv_page_put(to, asked);
    fputs("</th><th scope=\"col\">planned</th><th scope=\"col\">set</th></tr></thead>\n<tbody>\n", to);
    put_rows(to, &request->scenario);
    for (size_t i = 0; i < sizeof seen / sizeof *seen; i++)
        fprintf(to, "<tr><th scope=\"row\">%s</th><td colspan=\"3\"></td></tr>\n", seen[i]);
    fputs("</tbody>\n</table>\n<div class=\"lines line\">Date and time</div>\n<div class=\"lines\">Notes</div>\n", to);
    fprintf(to, "<p class=\"small\">brevis %s, scenario %s. ", BRV_VERSION,
            brv_hash_scenario(hash, &request->scenario));
    brv_page_put(to, brv_cautions[1]);
    fputs("</p>\n</section>\n", to);
    brv_page_end(to);
}

/* ---- words ---- */

void brv_report_label(FILE *to, enum brv_headline which)
{
    char unit[BRV_NUMBER_SIZE];
    brv_page_put(to, brv_terms[which].name);
    if (!*brv_terms[which].unit) return;
    snprintf(unit, sizeof unit, " %s", brv_terms[which].unit); /* units begin after a blank */
    fputc(',', to);
    brv_page_put(to, brv_number_print(unit));
}

void brv_report_words(FILE *to, const bool shown[BRV_N_HEADLINE])
{
    fputs("<h3>What these are</h3>\n<dl class=\"small\">\n", to);
    for (size_t i = 0; i < BRV_N_HEADLINE; i++)
        if (shown[i]) brv_page_entry(to, brv_terms[i].name, brv_terms[i].meaning);
    fputs("</dl>\n", to);
}
