#include "report/figure.h"
#include "report/hash.h"
#include "report/note.h"
#include "report/number.h"
#include "report/page.h"
#include "report/report_part.h"
#include "report/setting.h"
#include "report/term.h"
#include "report/words.h"

#include <math.h>
#include <string.h>

enum { COLUMNS = 4, TEXT_SIZE = 600 };

/* ---- question ---- */

static void put_choices(FILE *to, const struct brv_compared *compared)
{
    fputs("<div class=\"box\"><table>\n<caption>The choices</caption>\n<thead><tr><th scope=\"col\">number, name</th>"
          "<th scope=\"col\">what differs</th><th scope=\"col\">scenario</th></tr></thead>\n<tbody>\n",
          to);
    for (size_t i = 0; i < compared->choices->n; i++) {
        const struct brv_choice *choice = &compared->choices->choice[i];
        char hash[BRV_HASH_SIZE], asked[BRV_COMPARED_SIZE];
        fprintf(to, "<tr><th scope=\"row\">%zu: <bdi>", i + 1);
        brv_page_put(to, choice->name);
        fputs("</bdi></th><td><bdi>", to);
        brv_page_put(to, *choice->changes || compared->choices->apart ? choice->changes : "the scenario itself");
        if (compared->choices->apart) { /* from files of their own */
            brv_compared_tell(asked, compared, i);
            fputs(*choice->changes ? ": " : "", to);
            brv_page_put(to, asked);
        }
        fprintf(to, "</bdi></td><td>%s</td></tr>\n", brv_hash_scenario(hash, &choice->request.scenario));
    }
    fputs("</tbody>\n</table></div>\n", to);
}

static void put_question(FILE *to, const struct brv_compared *compared)
{
    const struct brv_request *first = &compared->choices->choice[0].request;
    brv_page_section(to, "question", "The question and what was asked");
    brv_page_say(to,
                 "%zu choices side by side: what does each do in the lesion and in the skin around it, and which "
                 "differences are larger than what is not known?",
                 compared->choices->n);
    put_choices(to, compared);
    fputs("<h3>What choice 1 asks</h3>\n", to);
    brv_setting_put(to, first);
}

/* ---- what happens ---- */

static void add(char out[TEXT_SIZE], const char *what, const struct brv_headlines *headlines, size_t site,
                enum brv_headline which, const char *unit)
{
    char value[BRV_TERM_SIZE];
    brv_words_append(out, TEXT_SIZE, "%s %s%s", what, brv_term_spread(value, which, &headlines->at[site][which]), unit);
}

/* "; of choice 1 that is 0.42 times", or that the spread hides it. */
static void add_beside(char out[TEXT_SIZE], const struct brv_compared *compared, size_t choice, size_t site,
                       enum brv_headline which)
{
    const struct brv_comparison *comparison = compared->comparison;
    char times[BRV_NUMBER_SIZE];
    const size_t used = strlen(out);
    const double first = comparison->headline[0].at[site][which].value;
    const double own = comparison->headline[choice].at[site][which].value;
    if (choice == 0 || !(first > 0.0) || !isfinite(own) || brv_compared_other_layer(compared, choice, site)) return;
    if (!(fabs(own - first) > 1e-9 * first))
        snprintf(out + used, TEXT_SIZE - used, ", as in choice 1");
    else
        snprintf(out + used, TEXT_SIZE - used, ", %s times choice 1%s", brv_number_short(times, own / first),
                 comparison->beside[choice][site].within[which] ? " (~: less than the spread)" : "");
}

static void put_site(FILE *to, const struct brv_compared *compared, size_t choice, size_t site)
{
    const struct brv_headlines *headlines = &compared->comparison->headline[choice];
    const struct brv_effect *effect = &compared->comparison->result[choice].site[site].effect;
    char text[TEXT_SIZE] = "";
    add(text, site == BRV_LESION ? "Lesion: a grain rises by at most" : "Neighbour: a grain rises by at most",
        headlines, site, BRV_HEADLINE_GRAIN_PEAK, " K");
    add_beside(text, compared, choice, site, BRV_HEADLINE_GRAIN_PEAK);
    if (effect->hottest[BRV_PROBE_MEAN].value > effect->ceiling)
        strncat(text, " (energy over heat capacity, no temperature)", TEXT_SIZE - strlen(text) - 1);
    add(text, "; its layer by", headlines, site, BRV_HEADLINE_LAYER_PEAK, " K");
    add_beside(text, compared, choice, site, BRV_HEADLINE_LAYER_PEAK);
    add(text, "; grains disrupted:", headlines, site, BRV_HEADLINE_SHARE,
        isnan(headlines->at[site][BRV_HEADLINE_SHARE].value) ? "." : " %.");
    brv_page_element(to, "li", "", text);
}

static void put_story(FILE *to, const struct brv_compared *compared)
{
    brv_page_section(to, "happens", "What happens");
    brv_page_say(to, "On the axis of the beam. In brackets low and high. No choice is called better than another: "
                     "darkening afterwards and healing are not in the model.");
    for (size_t i = 0; i < compared->choices->n; i++) {
        char heading[BRV_CHOICE_NAME_SIZE + 32];
        snprintf(heading, sizeof heading, "Choice %zu: %s", i + 1, compared->choices->choice[i].name);
        brv_page_element(to, "h3", "dir=\"auto\"", heading);
        fputs("<ul>\n", to);
        for (size_t site = 0; site < BRV_N_SITE; site++) put_site(to, compared, i, site);
        fputs("</ul>\n", to);
    }
}

/* ---- the figure ---- */

static void tell(char out[BRV_CAPTION_SIZE], const struct brv_compared *compared)
{
    size_t used =
        (size_t)snprintf(out, BRV_CAPTION_SIZE, "Choice by choice, highest rise of a grain in lesion and neighbour:");
    for (size_t i = 0; i < compared->choices->n && used < BRV_CAPTION_SIZE; i++) {
        char value[BRV_N_SITE][BRV_TERM_SIZE];
        for (size_t site = 0; site < BRV_N_SITE; site++)
            brv_term_spread(value[site], BRV_HEADLINE_GRAIN_PEAK,
                            &compared->comparison->headline[i].at[site][BRV_HEADLINE_GRAIN_PEAK]);
        used += (size_t)snprintf(out + used, BRV_CAPTION_SIZE - used, "%s %zu: %s K and %s K", i ? ";" : "", i + 1,
                                 value[BRV_LESION], value[BRV_NEIGHBOUR]);
    }
    if (used < BRV_CAPTION_SIZE) snprintf(out + used, BRV_CAPTION_SIZE - used, ".");
}

static void put_curves(FILE *to, const struct brv_report *report, const struct brv_compared *compared)
{
    char alt[BRV_CAPTION_SIZE];
    brv_page_section(to, "curves", "The curves");
    if (!brv_page_has_figure(report->folder, "compare")) {
        brv_report_no_figures(to, report);
        return;
    }
    tell(alt, compared);
    brv_page_figure(
        to, report->folder, "compare", alt,
        "The choices side by side, each value with its low and high. Where ranges overlap, the spread hides the "
        "difference.");
}

/* ---- numbers ---- */

static void put_cell(FILE *to, const struct brv_comparison *comparison, size_t choice, size_t site,
                     enum brv_headline which)
{
    char value[BRV_TERM_SIZE], first[BRV_TERM_SIZE], marked[BRV_TERM_SIZE + 4];
    brv_term_spread(value, which, &comparison->headline[choice].at[site][which]);
    brv_term_spread(first, which, &comparison->headline[0].at[site][which]);
    const bool hidden = comparison->beside[choice][site].within[which] && strcmp(value, first) != 0;
    snprintf(marked, sizeof marked, "%s%s", hidden ? "~ " : "", value);
    brv_page_spread(to, "", marked);
}

static void put_equal(FILE *to, const struct brv_comparison *comparison, size_t site, bool deep, size_t from,
                      size_t end)
{
    char number[BRV_NUMBER_SIZE], text[BRV_NUMBER_SIZE + 4];
    fputs("<tr><th scope=\"row\">equal light, by fluence</th>", to);
    for (size_t i = from; i < end; i++) {
        const struct brv_beside_first *beside = &comparison->beside[i][site];
        snprintf(text, sizeof text, "× %s", brv_number_short(number, deep ? beside->equal_deep : beside->equal_grain));
        brv_page_spread(to, "", text);
    }
    fputs("</tr>\n", to);
}

static bool is_shown(const struct brv_comparison *comparison, enum brv_headline which)
{
    if (which == BRV_HEADLINE_THRESHOLD_SIGN || which == BRV_HEADLINE_THRESHOLD_GRAIN) return true;
    for (size_t i = 0; i < comparison->n; i++)
        for (size_t site = 0; site < BRV_N_SITE; site++)
            if (!isnan(comparison->headline[i].at[site][which].value)) return true;
    return false;
}

static void put_rows(FILE *to, const struct brv_comparison *comparison, size_t site, bool shared, size_t from,
                     size_t end)
{
    for (enum brv_headline which = 0; which < BRV_N_HEADLINE; which++) {
        if (brv_terms[which].shared != shared || !is_shown(comparison, which)) continue;
        fputs("<tr><th scope=\"row\">", to);
        brv_report_label(to, which);
        fputs("</th>", to);
        for (size_t i = from; i < end; i++) put_cell(to, comparison, i, site, which);
        fputs("</tr>\n", to);
        if (which == BRV_HEADLINE_LIGHT_GRAIN || which == BRV_HEADLINE_LIGHT_DEEP)
            put_equal(to, comparison, site, which == BRV_HEADLINE_LIGHT_DEEP, from, end);
    }
}

static void put_block(FILE *to, const struct brv_compared *compared, size_t from, size_t end)
{
    fputs("<div class=\"box\" tabindex=\"0\" role=\"group\" aria-label=\"Table of the "
          "choices\"><table>\n<thead><tr><th scope=\"col\">what</th>",
          to);
    for (size_t i = from; i < end; i++) {
        fprintf(to, "<th scope=\"col\">%zu: <bdi>", i + 1);
        brv_page_put(to, compared->choices->choice[i].name);
        fputs("</bdi></th>", to);
    }
    fputs("</tr></thead>\n<tbody>\n", to);
    put_rows(to, compared->comparison, BRV_LESION, true, from, end);
    for (size_t site = 0; site < BRV_N_SITE; site++) {
        fprintf(to, "<tr class=\"part\"><th scope=\"colgroup\" colspan=\"%zu\">%s</th></tr>\n", end - from + 1,
                site == BRV_LESION ? "lesion" : "neighbour");
        put_rows(to, compared->comparison, site, false, from, end);
    }
    fputs("</tbody>\n</table></div>\n", to);
}

static void put_numbers(FILE *to, const struct brv_compared *compared)
{
    const size_t n = compared->choices->n;
    bool shown[BRV_N_HEADLINE];
    brv_page_section(to, "numbers", "The numbers");
    brv_page_say(
        to, "Value, and below it low to high. ~ differs from choice 1 by less than the spread of either; for one "
            "and the same skin the order may hold all the same, because its pigment is then equally dark in both.");
    brv_page_say(to,
                 "Equal light: the fluence at which a choice has the light of choice 1 at that place, over the fluence "
                 "of choice 1. A ratio of light and no setting; what grains do depends on more.");
    for (size_t from = 0; from < n; from += COLUMNS)
        put_block(to, compared, from, from + COLUMNS < n ? from + COLUMNS : n);
    for (enum brv_headline i = 0; i < BRV_N_HEADLINE; i++) shown[i] = is_shown(compared->comparison, i);
    brv_report_words(to, shown);
}

/* ---- limits ---- */

static bool has_note(const struct brv_notes *notes, const char *text)
{
    for (size_t k = 0; k < notes->n; k++)
        if (!strcmp(notes->text[k], text)) return true;
    return false;
}

/* "1, 3: " for all choices that say the same, "all: ". */
static void put_whose(FILE *to, const struct brv_notes notes[], size_t n, const char *text)
{
    size_t count = 0;
    for (size_t i = 0; i < n; i++) count += has_note(&notes[i], text);
    if (count == n) {
        fputs("all: ", to);
        return;
    }
    bool any = false;
    for (size_t i = 0; i < n; i++) {
        if (!has_note(&notes[i], text)) continue;
        fprintf(to, "%s%zu", any ? ", " : "", i + 1);
        any = true;
    }
    fputs(": ", to);
}

static bool told_before(const struct brv_notes notes[], size_t choice, const char *text)
{
    for (size_t i = 0; i < choice; i++)
        if (has_note(&notes[i], text)) return true;
    return false;
}

/* Those about harm, or the others; each sentence once. */
static void put_notes(FILE *to, const struct brv_notes notes[], size_t n, bool grave)
{
    bool any = false;
    for (size_t i = 0; i < n; i++)
        for (size_t k = grave ? 0 : notes[i].n_grave; k < (grave ? notes[i].n_grave : notes[i].n); k++) {
            if (told_before(notes, i, notes[i].text[k])) continue;
            if (!any)
                fprintf(to, "<h3>%s</h3>\n<ul%s>\n", grave ? BRV_REPORT_HARM : BRV_REPORT_LIMITS,
                        grave ? " class=\"grave\"" : "");
            any = true;
            fputs("<li>", to);
            put_whose(to, notes, n, notes[i].text[k]);
            brv_page_put(to, notes[i].text[k]);
            fputs("</li>\n", to);
        }
    if (any) fputs("</ul>\n", to);
}

static void put_limits(FILE *to, const struct brv_compared *compared)
{
    const struct brv_comparison *comparison = compared->comparison;
    struct brv_notes notes[BRV_MOST_CHOICES];
    struct brv_cited cited = {.n = 0};
    brv_page_section(to, "limits", "What these runs cannot say");
    for (size_t i = 0; i < comparison->n; i++) {
        brv_notes_make(&notes[i], &comparison->result[i]);
        brv_cited_collect(&cited, &comparison->result[i]);
    }
    for (size_t site = 0; site < BRV_N_SITE; site++) {
        char text[BRV_COMPARED_SIZE];
        if (brv_compared_layers(text, compared, site)) brv_page_element(to, "p", "", text);
    }
    for (size_t i = 0; i < comparison->n; i++)
        if (brv_compared_twin(compared, i) < i)
            fprintf(
                to,
                "<p>%zu: all numbers are those of choice %zu to the last digit: what differs changes nothing.</p>\n",
                i + 1, brv_compared_twin(compared, i) + 1);
    put_notes(to, notes, comparison->n, true);
    put_notes(to, notes, comparison->n, false);
    brv_report_cautions(to);
    brv_report_sources(to, &cited);
}

void brv_report_compare(FILE *to, const struct brv_report *report, const struct brv_compared *compared)
{
    const struct brv_request *first = &compared->choices->choice[0].request;
    brv_report_head(to, report, first);
    put_question(to, compared);
    put_story(to, compared);
    put_curves(to, report, compared);
    put_numbers(to, compared);
    put_limits(to, compared);
    brv_report_scenario(to, report, first);
    brv_report_sheet(to, first, "asked by choice 1");
}
