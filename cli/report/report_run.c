#include "base/constants.h"
#include "report/figure.h"
#include "report/grain_layer.h"
#include "report/moment.h"
#include "report/note.h"
#include "report/number.h"
#include "report/page.h"
#include "report/report_part.h"
#include "report/setting.h"
#include "report/story.h"
#include "report/term.h"

#include <math.h>
#include <string.h>

/* ---- question, story, curves ---- */

static void put_question(FILE *to, const struct brv_request *request)
{
    char asked[BRV_FIGURE_TEXT];
    brv_page_section(to, "question", "The question and what was asked");
    brv_figure_asked(asked, &request->scenario);
    brv_page_say(to, "What do light and heat do in this skin, in a lesion and in the skin around it, under %s?", asked);
    brv_setting_put(to, request);
}

static void put_story(FILE *to, const struct brv_captioned *answer)
{
    struct brv_story story;
    brv_story_tell(&story, answer->request, answer->result);
    brv_page_section(to, "happens", "What happens");
    brv_page_say(
        to, "On the axis of the beam, from the run's own curves. In brackets the low and high for grains 0.316 and "
            "3.16 times as dark. A rise is above the start.");
    for (size_t i = 0; i < story.n; i++) {
        brv_page_element(to, "h3", "", story.step[i].when);
        brv_page_element(to, "p", "class=\"step\"", story.step[i].text);
    }
}

static void put_curves(FILE *to, const struct brv_report *report, const struct brv_captioned *answer)
{
    bool any = false;
    brv_page_section(to, "curves", "The curves");
    for (size_t i = 0; i < brv_n_captions; i++) {
        const struct brv_caption *caption = &brv_captions[i];
        char alt[BRV_CAPTION_SIZE] = "";
        if (!brv_page_has_figure(report->folder, caption->name)) continue;
        caption->tell(alt, answer);
        brv_page_figure(to, report->folder, caption->name, alt, caption->reading);
        any = true;
    }
    if (!any) brv_report_no_figures(to, report);
}

/* ---- numbers ---- */

/* The skin's surface, where it is watched. */
static bool surface_above(const struct brv_watch *watch, const struct brv_effect *effect)
{
    for (size_t i = 0; i < watch->n_depth; i++)
        if (!(watch->depth[i] > 0.0)) return effect->hottest[BRV_N_GRAIN_PROBE + i].value > effect->ceiling;
    return false;
}

/* Is a rise of this row energy over heat capacity only? */
static bool above(const struct brv_result *result, size_t site, enum brv_headline which)
{
    const struct brv_effect *effect = &result->site[site].effect;
    switch (which) {
    case BRV_HEADLINE_GRAIN_PEAK:
        return effect->hottest[BRV_PROBE_MEAN].value > effect->ceiling;
    case BRV_HEADLINE_LAYER_PEAK:
        return effect->hottest[BRV_PROBE_LAYER].value > effect->ceiling;
    case BRV_HEADLINE_SURFACE_PEAK:
        return surface_above(&result->ask.watch, effect);
    case BRV_HEADLINE_FILM_PEAK:
        return effect->film.above;
    default:
        return false;
    }
}

static bool is_shown(const struct brv_headlines *headlines, enum brv_headline which)
{
    const bool threshold = which == BRV_HEADLINE_THRESHOLD_SIGN || which == BRV_HEADLINE_THRESHOLD_GRAIN;
    return threshold || !isnan(headlines->at[BRV_LESION][which].value) ||
           !isnan(headlines->at[BRV_NEIGHBOUR][which].value);
}

static void put_term(FILE *to, const struct brv_result *result, const struct brv_headlines *headlines,
                     enum brv_headline which)
{
    char text[BRV_TERM_SIZE];
    bool over = false;
    for (size_t i = 0; i < BRV_N_SITE; i++) over |= above(result, i, which);
    fputs("<tr><th scope=\"row\">", to);
    brv_report_label(to, which);
    if (over) fputs(" <span class=\"aside\">energy over heat capacity, no temperature</span>", to);
    fputs("</th>", to);
    for (size_t i = 0; i < (brv_terms[which].shared ? 1 : BRV_N_SITE); i++)
        if (which == BRV_HEADLINE_SHARE && !(result->site[i].effect.crowd.column > 0.0))
            fputs("<td>no pigment</td>", to);
        else
            brv_page_spread(to, brv_terms[which].shared ? "colspan=\"2\"" : "",
                            brv_term_spread(text, which, &headlines->at[i][which]));
    fputs("</tr>\n", to);
}

static void put_temperature(FILE *to, const struct brv_result *result, size_t probe, const char *what)
{
    char text[BRV_MOMENT_SIZE + 8];
    fputs("<tr><th scope=\"row\">", to);
    brv_page_put(to, what);
    fputs("</th>", to);
    for (size_t i = 0; i < BRV_N_SITE; i++) {
        const struct brv_effect *effect = &result->site[i].effect;
        brv_moment_temperature(text, &effect->hottest[probe], effect->ceiling);
        const size_t length = strlen(text);
        if (effect->hottest_time[probe] > effect->sideways) snprintf(text + length, sizeof text - length, " ~");
        brv_page_spread(to, "", text);
    }
    fputs("</tr>\n", to);
}

static void put_temperatures(FILE *to, const struct brv_captioned *answer)
{
    const struct brv_watch *watch = &answer->result->ask.watch;
    char what[BRV_GRAIN_LAYER_SIZE], depth[BRV_NUMBER_SIZE];
    fputs("<tr class=\"part\"><th scope=\"colgroup\" colspan=\"3\">highest temperature</th></tr>\n", to);
    put_temperature(to, answer->result, BRV_PROBE_LAYER,
                    brv_grain_layer_read(what, answer->request, answer->result, sizeof what));
    for (size_t i = 0; i < watch->n_depth; i++) {
        brv_number_unit(depth, watch->depth[i], BRV_LENGTH);
        snprintf(what, sizeof what, "%s%s", watch->depth[i] > 0.0 ? "at " : "",
                 watch->depth[i] > 0.0 ? brv_number_print(depth) : "surface of the skin");
        put_temperature(to, answer->result, BRV_N_GRAIN_PROBE + i, what);
    }
}

static void put_numbers(FILE *to, const struct brv_captioned *answer)
{
    struct brv_headlines headlines;
    bool shown[BRV_N_HEADLINE];
    brv_headlines_read(&headlines, answer->result);
    brv_page_section(to, "numbers", "The numbers");
    fputs("<div class=\"box\"><table>\n<caption>Value, and below it low to high. Lesion and neighbour are two runs, "
          "each as "
          "wide as the beam. ~: reached after heat has begun to leave sideways, an upper bound.</caption>\n"
          "<thead><tr><th scope=\"col\">what</th><th scope=\"col\">lesion</th><th "
          "scope=\"col\">neighbour</th></tr></thead>\n"
          "<tbody>\n",
          to);
    for (size_t shared = 2; shared-- > 0;)
        for (enum brv_headline i = 0; i < BRV_N_HEADLINE; i++) {
            if (brv_terms[i].shared != (shared == 1)) continue;
            shown[i] = is_shown(&headlines, i);
            if (shown[i]) put_term(to, answer->result, &headlines, i);
        }
    put_temperatures(to, answer);
    fputs("</tbody>\n</table></div>\n", to);
    brv_report_words(to, shown);
}

/* ---- limits ---- */

static void put_some(FILE *to, const struct brv_notes *notes, size_t from, size_t end, const char *heading,
                     const char *list)
{
    if (from >= end) return;
    fprintf(to, "<h3>%s</h3>\n<ul%s>\n", heading, list);
    for (size_t i = from; i < end; i++) brv_page_element(to, "li", "", notes->text[i]);
    fputs("</ul>\n", to);
}

static void put_limits(FILE *to, const struct brv_captioned *answer)
{
    struct brv_notes notes;
    struct brv_cited cited = {.n = 0};
    brv_notes_make(&notes, answer->result);
    brv_cited_collect(&cited, answer->result);
    brv_page_section(to, "limits", "What this run cannot say");
    put_some(to, &notes, 0, notes.n_grave, BRV_REPORT_HARM, " class=\"grave\"");
    put_some(to, &notes, notes.n_grave, notes.n, BRV_REPORT_LIMITS, "");
    brv_report_cautions(to);
    brv_report_sources(to, &cited);
}

void brv_report_run(FILE *to, const struct brv_report *report, const struct brv_captioned *answer)
{
    brv_report_head(to, report, answer->request);
    put_question(to, answer->request);
    put_story(to, answer);
    put_curves(to, report, answer);
    put_numbers(to, answer);
    put_limits(to, answer);
    brv_report_scenario(to, report, answer->request);
    brv_report_sheet(to, answer->request, "asked here");
}
