#include "lesson/handout.h"

#include "lesson/numbers.h"
#include "report/asked.h"
#include "report/caution.h"
#include "report/hash.h"
#include "report/page.h"
#include "report/number.h"
#include "report/words.h"

#include <string.h>

/* ---- lines of both sheets ---- */

static const struct brv_request *first_of(const struct brv_handout *handout)
{
    return &handout->choices->choice[0].request;
}

/* "532 nm, 7 ns, 4 mm spot, 0.6 J/cm2; 10 pulses ..." */
static void add_light(struct brv_sheet *lines, const struct brv_scenario *ask)
{
    char pulse[BRV_NUMBER_SIZE], spot[BRV_NUMBER_SIZE], fluence[BRV_NUMBER_SIZE], train[BRV_ASKED_SIZE];
    const bool repeated = *brv_asked_train(train, &ask->pulse) != '\0';
    brv_sheet_add(lines, "LIGHT", "%.4g nm, %s pulse, %s spot, %s%s%s", 1e9 * ask->beam.wavelength,
                  brv_number_unit(pulse, ask->pulse.width, BRV_TIME), brv_number_unit(spot, ask->beam.spot, BRV_LENGTH),
                  brv_number_unit(fluence, ask->beam.fluence, BRV_FLUENCE), repeated ? "; " : "", train);
}

/* What is set side by side. */
static void add_choices(struct brv_sheet *lines, const struct brv_choices *choices)
{
    char text[BRV_SHEET_LINE_SIZE];
    size_t used = 0;
    if (choices->n < 2) return;
    for (size_t i = 0; i < choices->n && used < sizeof text; i++)
        used += (size_t)snprintf(text + used, sizeof text - used, "%s%zu: %s", i ? "; " : "", i + 1,
                                 choices->choice[i].name);
    brv_sheet_add(lines, "BESIDE", "%s", text);
}

static void add_lines(struct brv_sheet *to, const struct brv_sheet *from)
{
    for (size_t i = 0; i < from->n; i++) brv_sheet_add(to, from->line[i].label, "%s", from->line[i].text);
}

static void add_given(struct brv_sheet *lines, const struct brv_handout *handout)
{
    brv_sheet_add(lines, "STORY", "%s", handout->lesson->story);
    add_light(lines, &first_of(handout)->scenario);
    add_choices(lines, handout->choices);
    add_lines(lines, &handout->exercise->question);
}

static void add_doing(struct brv_sheet *lines, const struct brv_handout *handout)
{
    const struct brv_lesson *lesson = handout->lesson;
    brv_sheet_add(
        lines, "DO",
        "Guess first. Then: brevis lesson %s --answers. The scenario is scenarios/%s: copy it, change it, and "
        "run it with brevis %s.",
        lesson->name, lesson->scenario,
        lesson->tool              ? lesson->tool
        : handout->choices->n > 1 ? "compare"
                                  : "run");
}

static void add_end(struct brv_sheet *lines)
{
    char cautions[BRV_CAUTION_SIZE];
    brv_sheet_add(lines, "CAUTION", "%s", brv_caution_text(cautions));
}

static void add_answer(struct brv_sheet *lines, const struct brv_handout *handout)
{
    const struct brv_lesson *lesson = handout->lesson;
    add_lines(lines, &handout->exercise->answer);
    brv_sheet_add(lines, "READING", "%s",
                  lesson->reading
                      ? lesson->reading
                      : "Brackets: low to high, mostly for grains 0.316 to 3.16 times as dark; a grain counts "
                        "as disrupted by the scenario's criterion; without vaporisation.");
    brv_sheet_add(lines, "LEFT OUT", "%s", lesson->left_out);
    if (*lesson->source) brv_sheet_add(lines, "SOURCES", "%s", lesson->source);
    brv_sheet_add(lines, "GO ON", "%s", lesson->next);
}

/* ---- for the terminal ---- */

static void text_head(FILE *to, const struct brv_handout *handout, const char *what)
{
    char hash[BRV_HASH_SIZE];
    fprintf(to, "brevis %s   %s   %s   [scenario %s]\n\n", BRV_VERSION, what, handout->lesson->name,
            brv_hash_scenario(hash, &first_of(handout)->scenario));
    brv_words_wrap(to, "QUESTION", handout->lesson->question);
}

static void text_lines(FILE *to, const char *label, const char *before, const char *const line[])
{
    char text[BRV_SHEET_LINE_SIZE];
    for (size_t i = 0; line[i]; i++) {
        snprintf(text, sizeof text, "%s%s", before, line[i]);
        brv_words_wrap(to, i ? "" : label, text);
    }
}

void brv_handout_question_text(FILE *to, const struct brv_handout *handout)
{
    struct brv_sheet lines = {.n = 0};
    text_head(to, handout, "LESSON");
    add_given(&lines, handout);
    brv_sheet_text(to, &lines);
    fputc('\n', to);
    text_lines(to, "GUESS", "[ ] ", handout->lesson->guess);
    brv_words_wrap(to, "", "because ____________________________________________________");
    text_lines(to, "ASK", "- ", handout->lesson->ask);
    fputc('\n', to);
    lines.n = 0;
    add_doing(&lines, handout);
    add_end(&lines);
    brv_sheet_text(to, &lines);
}

void brv_handout_answer_text(FILE *to, const struct brv_handout *handout)
{
    struct brv_sheet lines = {.n = 0};
    text_head(to, handout, "ANSWER");
    add_given(&lines, handout);
    brv_sheet_text(to, &lines);
    fputc('\n', to);
    lines.n = 0;
    add_answer(&lines, handout);
    add_end(&lines);
    brv_sheet_text(to, &lines);
}

void brv_handout_list(FILE *to)
{
    char cautions[BRV_CAUTION_SIZE];
    const char *group = "";
    fprintf(to, "brevis %s   LESSONS   brevis lesson NAME, and with --answers when you have guessed\n", BRV_VERSION);
    for (size_t i = 0; brv_lessons[i]; i++) {
        const struct brv_lesson *lesson = brv_lessons[i];
        if (strcmp(group, lesson->group)) fprintf(to, "\n%s\n", lesson->group);
        group = lesson->group;
        fprintf(to, "  %-23s %s\n", lesson->name, lesson->question);
    }
    fprintf(to, "\n%s\n  %-23s %s\n", BRV_NUMBERS_GROUP, BRV_NUMBERS_NAME, BRV_NUMBERS_QUESTION);
    fputc('\n', to);
    brv_words_wrap(to, "CAUTION", brv_caution_text(cautions));
}

/* ---- to print ---- */

static void put_head(FILE *to, const struct brv_handout *handout, const char *what)
{
    fprintf(to,
            "<!doctype html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n" BRV_PAGE_POLICY
            "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n<title>%s: ",
            what);
    brv_page_put(to, handout->lesson->name);
    fputs("</title>\n<style>\n"
          "@page { size: A4; margin: 12mm }\n"
          "body { font: 10pt/1.3 sans-serif; color: #000; background: #fff; max-width: 186mm; margin: 6mm auto; "
          "padding: 0 2mm }\n"
          "@media print { body { margin: 0 auto } }\n"
          "h1 { font-size: 15pt; line-height: 1.2; margin: 0 0 2mm } p { margin: 1mm 0; padding-left: 20mm; "
          "text-indent: -20mm }\n"
          "b { display: inline-block; min-width: 20mm; text-indent: 0 }\n"
          ".small { font-size: 8pt } .plain { padding-left: 0; text-indent: 0 }\n"
          ".box { display: inline-block; width: 3.2mm; height: 3.2mm; border: 1px solid #000; margin-right: 2mm; "
          "vertical-align: -0.4mm }\n"
          ".write { border-bottom: 1px solid #777; height: 7.5mm }\n"
          "figure { margin: 2mm 0 } figcaption { font-size: 8.5pt } img { width: 100%; max-height: 105mm; "
          "object-fit: contain; filter: grayscale(1) }\n"
          "</style>\n</head>\n<body>\n<h1>",
          to);
    brv_page_put(to, handout->lesson->question);
    fputs("</h1>\n", to);
}

static void put_foot(FILE *to, const struct brv_handout *handout, const char *what)
{
    char hash[BRV_HASH_SIZE];
    struct brv_sheet lines = {.n = 0};
    add_end(&lines);
    brv_sheet_page(to, &lines, " class=\"small\"");
    fprintf(to,
            "<p class=\"small plain\">brevis %s, lesson %s, %s; scenario %s. A teaching model.</p>\n</body>\n</html>\n",
            BRV_VERSION, handout->lesson->name, what, brv_hash_scenario(hash, &first_of(handout)->scenario));
}

static void put_figures(FILE *to, const struct brv_handout *handout, enum brv_exercise_side side)
{
    for (size_t i = 0; i < handout->exercise->n_figure && handout->folder; i++) {
        const struct brv_exercise_figure *figure = &handout->exercise->figure[i];
        if (figure->side != side) continue;
        fputs("<figure>", to);
        if (brv_page_image(to, handout->folder, figure->name, figure->caption))
            brv_sheet_put_in(to, "figcaption", figure->caption);
        fputs("</figure>\n", to);
    }
}

static void put_guesses(FILE *to, const struct brv_lesson *lesson)
{
    for (size_t i = 0; lesson->guess[i]; i++) {
        fprintf(to, "<p><b>%s</b><span class=\"box\"></span>", i ? "" : "GUESS");
        brv_page_put(to, lesson->guess[i]);
        fputs("</p>\n", to);
    }
    fputs("<p><b></b>because</p>\n<div class=\"write\"></div>\n", to);
}

static void put_questions(FILE *to, const struct brv_lesson *lesson)
{
    for (size_t i = 0; lesson->ask[i]; i++) {
        fprintf(to, "<p><b>%zu</b>", i + 1);
        brv_page_put(to, lesson->ask[i]);
        fputs("</p>\n<div class=\"write\"></div>\n", to);
    }
}

void brv_handout_question_page(FILE *to, const struct brv_handout *handout)
{
    struct brv_sheet lines = {.n = 0};
    put_head(to, handout, "Lesson");
    add_given(&lines, handout);
    brv_sheet_page(to, &lines, "");
    put_guesses(to, handout->lesson);
    put_figures(to, handout, BRV_WITH_QUESTION);
    put_questions(to, handout->lesson);
    lines.n = 0;
    add_doing(&lines, handout);
    brv_sheet_page(to, &lines, "");
    put_foot(to, handout, "hand-out");
}

void brv_handout_answer_page(FILE *to, const struct brv_handout *handout)
{
    struct brv_sheet lines = {.n = 0};
    put_head(to, handout, "Answer");
    add_given(&lines, handout);
    brv_sheet_page(to, &lines, " class=\"small\"");
    put_figures(to, handout, BRV_WITH_ANSWER);
    lines.n = 0;
    add_answer(&lines, handout);
    brv_sheet_page(to, &lines, "");
    put_foot(to, handout, "worked answer");
}
