#include "command/command.h"

#include "command/frame.h"
#include "command/numbers.h"
#include "command/options.h"
#include "lesson/handout.h"
#include "lesson/lesson.h"
#include "lesson/numbers.h"
#include "report/complain.h"
#include "report/place.h"
#include "report/terminal.h"
#include "scenario/choices.h"
#include "scenario/fault.h"
#include "scenario/nearest.h"

#include <string.h>

/* ---- what is written ---- */

static void write_question_text(FILE *to, const void *answer)
{
    brv_handout_question_text(to, answer);
}

static void write_question_page(FILE *to, const void *answer)
{
    brv_handout_question_page(to, answer);
}

static void write_answer_text(FILE *to, const void *answer)
{
    brv_handout_answer_text(to, answer);
}

static void write_answer_page(FILE *to, const void *answer)
{
    brv_handout_answer_page(to, answer);
}

static void write_csv(FILE *to, const void *answer)
{
    const struct brv_exercise_figure *figure = answer;
    fwrite(figure->csv, 1, figure->size, to);
}

/* Figures of the question always, those of the answer only with it. */
static bool wanted(const struct brv_exercise_figure *figure, const struct brv_options *options)
{
    return figure->side == BRV_WITH_QUESTION || options->given & BRV_OPTION_ANSWERS;
}

static int draw(const struct brv_frame *frame, const struct brv_options *options, const struct brv_handout *handout,
                char pictures[BRV_PICTURES_SIZE])
{
    struct brv_figure figure[BRV_EXERCISE_FIGURES];
    char corner[BRV_FIGURE_TEXT], file[BRV_PLACE_SIZE];
    size_t n = 0;
    brv_figure_corner(corner, &handout->choices->choice[0].request.scenario);
    for (size_t i = 0; i < handout->exercise->n_figure; i++) {
        const struct brv_exercise_figure *one = &handout->exercise->figure[i];
        if (!wanted(one, options)) continue;
        snprintf(file, sizeof file, "%s.csv", one->name);
        const int code = brv_frame_write(frame, file, write_csv, one);
        if (code) return code;
        figure[n++] = (struct brv_figure){
            one->name, {handout->lesson->question, one->asked, corner, *one->extra ? one->extra : NULL, NULL}};
    }
    brv_frame_draw(frame, figure, n, options, pictures);
    return BRV_EXIT_DONE;
}

static int write_sheets(const struct brv_frame *frame, const struct brv_options *options,
                        const struct brv_handout *handout)
{
    static const struct brv_frame_file question[] = {{BRV_DIRECTORY_SHEET, write_question_page},
                                                     {"handout.txt", write_question_text}};
    static const struct brv_frame_file answer[] = {{"answers.html", write_answer_page},
                                                   {"answers.txt", write_answer_text}};
    const int code = brv_frame_write_files(frame, question, sizeof question / sizeof *question, handout);
    if (code || !(options->given & BRV_OPTION_ANSWERS)) return code;
    return brv_frame_write_files(frame, answer, sizeof answer / sizeof *answer, handout);
}

static void say(const struct brv_frame *frame, const struct brv_options *options, const struct brv_handout *handout,
                const char *pictures)
{
    const bool answers = (options->given & BRV_OPTION_ANSWERS) != 0;
    if (options->given & BRV_OPTION_QUIET) return;
    brv_terminal_tell(answers ? write_answer_text : write_question_text, handout);
    brv_frame_name_files(frame, pictures,
                         answers ? "answers.html, handout.html (to print, A4), answers.txt, handout.txt"
                                 : "handout.html (to print, A4), handout.txt");
}

static int write_all(struct brv_frame *frame, const struct brv_options *options, struct brv_handout *handout)
{
    char pictures[BRV_PICTURES_SIZE] = "";
    int code = draw(frame, options, handout, pictures);
    if (!(options->given & BRV_OPTION_NO_FIGURES)) handout->folder = frame->directory.part;
    if (!code) code = write_sheets(frame, options, handout);
    if (!code) code = brv_frame_commit(frame);
    if (!code) say(frame, options, handout, pictures);
    return code;
}

/* ---- the lesson ---- */

static int read_choices(struct brv_choices *choices, const struct brv_lesson *lesson)
{
    char name[BRV_PLACE_SIZE], path[BRV_PLACE_SIZE];
    struct brv_faults faults = {.n = 0};
    snprintf(name, sizeof name, "scenarios/%s", lesson->scenario);
    if (!brv_place_find(path, name)) {
        brv_complain("brevis lesson: the scenario of %s is not there; looked for last: %s", lesson->name, path);
        return BRV_EXIT_FILE;
    }
    const int code = brv_choices_read(choices, path, NULL, 0, &faults);
    brv_faults_print(&faults, stderr);
    brv_faults_free(&faults);
    return code;
}

static int answer(const struct brv_lesson *lesson, const struct brv_choices *choices, const struct brv_options *options)
{
    struct brv_frame frame;
    struct brv_exercise exercise;
    struct brv_error error = {.place = ""};
    const struct brv_control control = {.threads = options->threads};
    int code = brv_frame_begin(&frame, "lesson", options, lesson->name);
    if (code) return code;
    code = brv_frame_failed("lesson", brv_lesson_make(&exercise, lesson, choices, &control, &error), &error);
    if (!code) {
        struct brv_handout handout = {lesson, choices, &exercise, NULL};
        code = write_all(&frame, options, &handout);
        brv_exercise_free(&exercise);
    }
    brv_frame_abandon(&frame);
    return code;
}

static int unknown_lesson(const char *name)
{
    char shown[BRV_SHOWN_SIZE];
    struct brv_nearest nearest = {.word = name};
    if (!*name) {
        fputs("brevis lesson: no lesson has an empty name; `brevis lesson` lists them\n", stderr);
        return BRV_EXIT_USAGE;
    }
    for (size_t i = 0; brv_lessons[i]; i++) brv_nearest_offer(&nearest, brv_lessons[i]->name);
    brv_nearest_offer(&nearest, BRV_NUMBERS_NAME);
    fprintf(stderr, "brevis lesson: there is no lesson %s", brv_fault_shown(shown, name));
    if (nearest.best) fprintf(stderr, "; did you mean %s?", nearest.best);
    fputs(nearest.best ? "\n" : "; `brevis lesson` lists them\n", stderr);
    return BRV_EXIT_USAGE;
}

/* Other lessons have the numbers of their scenario. */
static int no_seed(const char *name)
{
    char shown[BRV_SHOWN_SIZE];
    fprintf(stderr, "brevis lesson: --seed belongs to lesson %s, not to %s\n", BRV_NUMBERS_NAME,
            brv_fault_shown(shown, name));
    return BRV_EXIT_USAGE;
}

/* The list of lessons takes no options. */
static int list_all(const struct brv_options *options)
{
    const char *option = brv_options_first(options->given);
    if (!option) {
        brv_handout_list(stdout);
        return BRV_EXIT_DONE;
    }
    const bool seed = !strcmp(option, "seed");
    fprintf(stderr, "brevis lesson: --%s goes with the name of a lesson%s; `brevis lesson` lists them\n", option,
            seed ? ", as in `brevis lesson " BRV_NUMBERS_NAME " --seed ...`" : "");
    return BRV_EXIT_USAGE;
}

int brv_command_lesson(int argc, char *argv[])
{
    struct brv_options options;
    const int stop =
        brv_options_read(&options, argc, argv, BRV_LESSON_OPTIONS, 0, 1, "the name of one lesson; none lists them");
    if (stop >= 0) return stop;
    if (options.n_word == 0) return list_all(&options);
    if (!strcmp(options.word[0], BRV_NUMBERS_NAME)) return brv_lesson_numbers(&options);
    if (options.given & BRV_OPTION_SEED) return no_seed(options.word[0]);
    const struct brv_lesson *lesson = brv_lesson_called(options.word[0]);
    if (!lesson) return unknown_lesson(options.word[0]);

    struct brv_choices choices = {.n = 0};
    int code = read_choices(&choices, lesson);
    if (!code) code = answer(lesson, &choices, &options);
    brv_choices_free(&choices);
    return code;
}
