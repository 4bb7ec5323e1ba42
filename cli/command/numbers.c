#include "command/numbers.h"

#include "command/command.h"
#include "command/frame.h"
#include "lesson/numbers.h"

#include <stdio.h>

enum { NAME_SIZE = 32 };

static void write_question_text(FILE *to, const void *answer)
{
    brv_numbers_question_text(to, answer);
}

static void write_question_page(FILE *to, const void *answer)
{
    brv_numbers_question_page(to, answer);
}

static void write_answer_text(FILE *to, const void *answer)
{
    brv_numbers_answer_text(to, answer);
}

static void write_answer_page(FILE *to, const void *answer)
{
    brv_numbers_answer_page(to, answer);
}

static void write_csv(FILE *to, const void *answer)
{
    brv_numbers_csv(to, answer);
}

/* The key stands in no file of a sheet without answers, so that its folder can be handed out whole. */
static int write_all(struct brv_frame *frame, const struct brv_options *options, const struct brv_problems *problems)
{
    static const struct brv_frame_file question[] = {{BRV_DIRECTORY_SHEET, write_question_page},
                                                     {"handout.txt", write_question_text}};
    static const struct brv_frame_file answer[] = {
        {"answers.html", write_answer_page}, {"answers.txt", write_answer_text}, {"numbers.csv", write_csv}};
    const bool answers = (options->given & BRV_OPTION_ANSWERS) != 0;
    int code = brv_frame_write_files(frame, question, sizeof question / sizeof *question, problems);
    if (!code && answers) code = brv_frame_write_files(frame, answer, sizeof answer / sizeof *answer, problems);
    if (!code) code = brv_frame_commit(frame);
    if (code || options->given & BRV_OPTION_QUIET) return code;
    (answers ? brv_numbers_answer_summary : brv_numbers_question_summary)(stdout, problems);
    brv_frame_name_files(frame, "",
                         answers ? "answers.html, handout.html (to print, A4), answers.txt, handout.txt, numbers.csv"
                                 : "handout.html (to print, A4), handout.txt");
    return code;
}

int brv_lesson_numbers(const struct brv_options *options)
{
    const bool drawn = (options->given & BRV_OPTION_SEED) != 0;
    struct brv_problems problems;
    struct brv_frame frame;
    struct brv_error error = {.place = ""};
    char name[NAME_SIZE] = BRV_NUMBERS_NAME;
    if (drawn) snprintf(name, sizeof name, "%s_%u", BRV_NUMBERS_NAME, options->seed);
    int code = brv_frame_begin(&frame, "lesson", options, name);
    if (code) return code;
    code = brv_frame_failed("lesson", brv_problems_solve(&problems, drawn, options->seed, &error), &error);
    if (!code) code = write_all(&frame, options, &problems);
    brv_frame_abandon(&frame);
    return code;
}
