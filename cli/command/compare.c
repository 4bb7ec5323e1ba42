#include "command/command.h"

#include "command/frame.h"
#include "command/options.h"
#include "command/patience.h"
#include "report/compare.h"
#include "report/complain.h"
#include "report/figure.h"
#include "report/terminal.h"
#include "scenario/choices.h"
#include "scenario/document.h"
#include "scenario/letters.h"
#include "study/compare.h"

#include <stdlib.h>
#include <string.h>

/* ---- what is compared ---- */

/* "hand_532nm" for scenarios/hand_532nm.yaml */
static void name_after_file(struct brv_choice *choice, const char *path)
{
    const char *slash = strrchr(path, '/');
    const char *name = slash ? slash + 1 : path;
    const char *dot = strrchr(name, '.');
    const int length = dot && dot > name ? (int)(dot - name) : (int)strlen(name);
    char whole[BRV_FRAME_PATH_SIZE], shown[BRV_FRAME_PATH_SIZE];
    if (strcmp(path, "-"))
        snprintf(whole, sizeof whole, "%.*s", length, name);
    else
        snprintf(whole, sizeof whole, "%s", brv_document_called(path));
    brv_letters_cut(choice->name, sizeof choice->name, brv_letters_shown(shown, sizeof shown, whole),
                    BRV_CHOICE_NAME_LETTERS);
}

/* The scenario and its choices; its text is kept. */
static int read_kept(struct brv_choices *choices, struct brv_origin *origin, const char *path,
                     const struct brv_options *options, struct brv_faults *faults)
{
    *choices = (struct brv_choices){.n = 0};
    const int code = brv_frame_load(origin, path, faults);
    return code ? code
                : brv_choices_parse(choices, brv_document_called(path), origin->text, origin->size, options->set,
                                    options->n_set, faults);
}

/* Of several files each stands for itself: the choices inside them are checked, not shown. */
static int read_file(struct brv_choice *choice, struct brv_origin *origin, const char *path,
                     const struct brv_options *options, struct brv_faults *faults)
{
    struct brv_choices inside;
    const int code = read_kept(&inside, origin, path, options, faults);
    if (inside.n > 1 && !(options->given & BRV_OPTION_QUIET))
        brv_complain("brevis compare: of several files each stands for itself; choices inside %s are left out", path);
    for (size_t i = 0; i < inside.n && !code; i++)
        if (!*inside.choice[i].changes) *choice = inside.choice[i];
    name_after_file(choice, path);
    snprintf(choice->changes, sizeof choice->changes, "%s", choice->request.title);
    brv_choices_free(&inside);
    return code;
}

static int read_files(struct brv_choices *choices, struct brv_origin origin[], const struct brv_options *options,
                      struct brv_faults *faults)
{
    int code = BRV_EXIT_DONE;
    *choices = (struct brv_choices){.apart = true, .choice = calloc((size_t)options->n_word, sizeof *choices->choice)};
    if (!choices->choice) return BRV_EXIT_MEMORY;
    for (int i = 0; i < options->n_word; i++) {
        const int one = read_file(&choices->choice[choices->n++], &origin[i], options->word[i], options, faults);
        if (!code) code = one;
    }
    return code;
}

/* A key that one of them reads is not told of. */
static void tell_unread(const struct brv_choices *choices, const struct brv_options *options)
{
    size_t reads = 0;
    while (reads + 1 < choices->n && choices->choice[reads].request.scenario.beam.method != BRV_METHOD_SAMPLED) reads++;
    brv_frame_tell_unread(&choices->choice[reads].request.scenario, options);
}

static int read_all(struct brv_choices *choices, struct brv_origin origin[], const struct brv_options *options)
{
    struct brv_faults faults = {.n = 0};
    int code = options->n_word > 1 ? read_files(choices, origin, options, &faults)
                                   : read_kept(choices, origin, options->word[0], options, &faults);
    if (!code && choices->n < 2) {
        brv_faults_add(
            &faults, options->word[0], 0, 0,
            "there is nothing to compare: name another scenario, or in a section `choices:` a choice that differs, "
            "such as {wider spot: {light.spot: 7 mm}}");
        code = BRV_EXIT_REFUSED;
    }
    brv_faults_print(&faults, stderr);
    brv_faults_free(&faults);
    for (size_t i = 0; i < choices->n && !code; i++) brv_frame_say_changes(&choices->choice[i].request, options);
    if (!code) tell_unread(choices, options);
    return code;
}

/* ---- the answer ---- */

static void write_text(FILE *to, const void *answer)
{
    brv_compared_text(to, answer);
}

static void write_csv(FILE *to, const void *answer)
{
    brv_compared_csv(to, answer);
}

static void write_json(FILE *to, const void *answer)
{
    brv_compared_json(to, answer);
}

struct page {
    const struct brv_report *report;
    const struct brv_compared *compared;
};

static void write_report(FILE *to, const void *what)
{
    const struct page *page = what;
    brv_report_compare(to, page->report, page->compared);
}

static int write_files(const struct brv_frame *frame, const struct brv_compared *compared)
{
    int code = brv_frame_write(frame, "compare.csv", write_csv, compared);
    if (!code) code = brv_frame_write(frame, "summary.json", write_json, compared);
    return code ? code : brv_frame_write(frame, "summary.txt", write_text, compared);
}

/* Each with a bar behind it; a name has none, but the name of a file may. */
static void list_names(char *out, size_t room, const struct brv_choices *choices)
{
    size_t used = 0;
    for (size_t i = 0; i < choices->n; i++) {
        const size_t start = used;
        used += (size_t)snprintf(out + used, room - used, "%s|", choices->choice[i].name);
        for (char *bar; (bar = strchr(out + start, '|')) && bar + 1 < out + used;) *bar = '/';
    }
}

static void draw(char pictures[BRV_PICTURES_SIZE], const struct brv_frame *frame, const struct brv_options *options,
                 const struct brv_compared *compared)
{
    char corner[BRV_FIGURE_TEXT], asked[BRV_ASKED_SIZE];
    char names[BRV_MOST_CHOICES * (BRV_CHOICE_NAME_SIZE + 1)] = "";
    const struct brv_request *first = &compared->choices->choice[0].request;
    brv_figure_corner(corner, &first->scenario);
    list_names(names, sizeof names, compared->choices);
    const struct brv_figure figure = {"compare",
                                      {*first->title ? first->title : "choices side by side",
                                       brv_compared_asked(asked, compared), corner, names, NULL}};
    brv_frame_draw(frame, &figure, 1, options, pictures);
}

static void say(const struct brv_frame *frame, const struct brv_options *options, const struct brv_compared *compared,
                const char *pictures)
{
    if (options->given & BRV_OPTION_JSON) {
        brv_compared_json(stdout, compared);
    } else if (!(options->given & BRV_OPTION_QUIET)) {
        brv_terminal_tell(write_text, compared);
        brv_frame_name_report(frame, pictures, "summary.txt, summary.json, compare.csv");
    }
}

static int write_all(struct brv_frame *frame, const struct brv_origin origin[], const struct brv_options *options,
                     const struct brv_compared *compared)
{
    struct brv_report report = brv_frame_report(frame, options);
    const struct page page = {&report, compared};
    report.origin = origin;
    report.n_origin = (size_t)options->n_word;
    char pictures[BRV_PICTURES_SIZE] = "";
    int code = write_files(frame, compared);
    if (code) return code;
    draw(pictures, frame, options, compared);
    code = brv_frame_write(frame, "report.html", write_report, &page); /* it holds the figure */
    if (!code) code = brv_frame_commit(frame);
    if (!code) say(frame, options, compared, pictures);
    return code;
}

static int solve(struct brv_comparison *comparison, const struct brv_choices *choices,
                 const struct brv_options *options)
{
    struct brv_error error = {.place = ""};
    struct brv_control control;
    struct brv_scenario *ask = calloc(choices->n, sizeof *ask);
    if (!ask) return brv_frame_failed("compare", BRV_MEMORY, &error);
    for (size_t i = 0; i < choices->n; i++) ask[i] = choices->choice[i].request.scenario;
    brv_patience_begin(&control, options->threads, 0, "runs");
    const brv_status status = brv_compare_solve(comparison, choices->n, ask, &control, &error);
    brv_patience_end();
    free(ask);
    return brv_frame_failed("compare", status, &error);
}

static int answer(const struct brv_choices *choices, const struct brv_origin origin[],
                  const struct brv_options *options)
{
    struct brv_frame frame;
    struct brv_comparison comparison;
    int code = brv_frame_begin(&frame, "compare", options, options->word[0]);
    if (code) return code;
    code = solve(&comparison, choices, options);
    if (!code) {
        const struct brv_compared compared = {choices, &comparison};
        code = write_all(&frame, origin, options, &compared);
        brv_comparison_free(&comparison);
    }
    brv_frame_abandon(&frame);
    return code;
}

int brv_command_compare(int argc, char *argv[])
{
    struct brv_options options;
    const int stop = brv_options_read(&options, argc, argv, BRV_COMPARE_OPTIONS, 1, BRV_MOST_CHOICES,
                                      "a scenario with choices, or several scenarios; - for standard input");
    if (stop >= 0) return stop;

    struct brv_choices choices = {.n = 0};
    struct brv_origin origin[BRV_MOST_CHOICES] = {{.path = NULL}};
    int code = read_all(&choices, origin, &options);
    if (!code) code = answer(&choices, origin, &options);
    brv_choices_free(&choices);
    for (int i = 0; i < options.n_word; i++) brv_frame_forget(&origin[i]);
    return code;
}
