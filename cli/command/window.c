#include "command/command.h"

#include "command/frame.h"
#include "command/options.h"
#include "command/patience.h"
#include "report/terminal.h"
#include "report/window.h"
#include "study/window.h"

#include <stdio.h>

static void write_window(FILE *to, const void *answer)
{
    brv_window_csv(to, answer);
}

static void write_map(FILE *to, const void *answer)
{
    brv_window_map_csv(to, answer);
}

static void write_summary(FILE *to, const void *answer)
{
    brv_window_summary(to, answer);
}

static void write_digest(FILE *to, const void *answer)
{
    brv_window_digest(to, answer);
}

static int write_files(const struct brv_frame *frame, const struct brv_window_answer *answer)
{
    static const struct brv_frame_file file[] = {{"window.csv", write_window},
                                                 {"map.csv", write_map},
                                                 {"summary.json", write_digest},
                                                 {"summary.txt", write_summary}};
    return brv_frame_write_files(frame, file, sizeof file / sizeof *file, answer);
}

static int solve(struct brv_window *window, const struct brv_request *request, const struct brv_options *options)
{
    struct brv_error error = {.place = ""};
    struct brv_control control;
    double width[BRV_N_WINDOW_WIDTH];
    brv_window_widths(width, BRV_N_WINDOW_WIDTH);
    brv_patience_begin(&control, options->threads, 0,
                       request->scenario.beam.method == BRV_METHOD_SAMPLED ? "photons" : "runs");
    const brv_status status =
        brv_window_solve(window, &request->scenario, BRV_N_WINDOW_WIDTH, width, BRV_N_WINDOW_FLUENCE, &control, &error);
    brv_patience_end();
    return brv_frame_failed("window", status, &error);
}

static int write_all(struct brv_frame *frame, const struct brv_options *options, const struct brv_window_answer *answer)
{
    char pictures[BRV_PICTURES_SIZE] = "";
    struct brv_window_words words;
    const struct brv_figure figure = brv_window_figure(&words, answer);
    int code = write_files(frame, answer);
    if (code) return code;
    brv_frame_draw(frame, &figure, 1, options, pictures);
    code = brv_frame_commit(frame);
    if (code || options->given & BRV_OPTION_QUIET) return code;
    brv_terminal_tell(write_summary, answer);
    brv_frame_name_files(frame, pictures, "summary.txt, summary.json, window.csv, map.csv");
    return code;
}

int brv_command_window(int argc, char *argv[])
{
    struct brv_options options;
    struct brv_request request;
    struct brv_frame frame;
    struct brv_window window;
    const int stop =
        brv_options_read(&options, argc, argv, BRV_STUDY_OPTIONS, 1, 1, "one scenario file, or - for standard input");
    if (stop >= 0) return stop;
    int code = brv_frame_request(&request, &options);
    if (!code) code = brv_frame_begin(&frame, "window", &options, options.word[0]);
    if (code) return code;
    code = solve(&window, &request, &options);
    if (!code) {
        const struct brv_window_answer answer = {&request, &window};
        code = write_all(&frame, &options, &answer);
        brv_window_free(&window);
    }
    brv_frame_abandon(&frame);
    return code;
}
