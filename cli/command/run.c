#include "command/command.h"

#include "command/frame.h"
#include "command/options.h"
#include "command/patience.h"
#include "report/complain.h"
#include "report/csv.h"
#include "report/digest.h"
#include "report/figure.h"
#include "report/report.h"
#include "report/summary.h"
#include "report/terminal.h"
#include "run/run.h"
#include "scenario/request.h"

#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>

enum { REASON_SIZE = 512 };

/* ---- results ---- */

struct answer {
    const struct brv_request *request;
    const struct brv_result *result;
    const struct brv_spots *spots; /* NULL: not asked for */
    const struct brv_report *report;
};

static void write_temperature(FILE *to, const void *what)
{
    const struct answer *answer = what;
    brv_csv_temperature(to, answer->result);
}

static void write_depth(FILE *to, const void *what)
{
    const struct answer *answer = what;
    brv_csv_depth(to, answer->result);
}

static void write_map(FILE *to, const void *what)
{
    const struct answer *answer = what;
    brv_csv_map(to, answer->result);
}

static void write_train(FILE *to, const void *what)
{
    const struct answer *answer = what;
    brv_csv_train(to, answer->result);
}

static void write_grain(FILE *to, const void *what)
{
    const struct answer *answer = what;
    brv_csv_grain(to, answer->result);
}

static void write_disrupted(FILE *to, const void *what)
{
    const struct answer *answer = what;
    brv_csv_disrupted(to, answer->result);
}

static void write_beside(FILE *to, const void *what)
{
    const struct answer *answer = what;
    brv_csv_beside(to, answer->result);
}

static void write_spots(FILE *to, const void *what)
{
    const struct answer *answer = what;
    brv_csv_spots(to, answer->spots);
}

static void write_document(FILE *to, const void *what)
{
    const struct answer *answer = what;
    brv_digest_write(to, answer->request, answer->result);
}

static void write_summary(FILE *to, const void *what)
{
    const struct answer *answer = what;
    brv_summary_write(to, answer->request, answer->result);
}

static void write_report(FILE *to, const void *what)
{
    const struct answer *answer = what;
    const struct brv_captioned of = {answer->request, answer->result, answer->spots};
    brv_report_run(to, answer->report, &of);
}

/* Is there anything for this file? */
static bool wanted(brv_frame_writer *write, const struct answer *answer)
{
    const struct brv_site *lesion = &answer->result->site[BRV_LESION];
    if (write == write_map) return lesion->light.n_map_depth > 0;
    if (write == write_train) return lesion->history.n_pulse > 1;
    if (write == write_beside) return lesion->history.field.n_depth > 0;
    return write != write_spots || answer->spots;
}

static int write_files(const struct brv_frame *frame, const struct answer *answer)
{
    static const struct brv_frame_file file[] = {{"temperature.csv", write_temperature},
                                                 {"depth.csv", write_depth},
                                                 {"map.csv", write_map},
                                                 {"train.csv", write_train},
                                                 {"grain.csv", write_grain},
                                                 {"disrupted.csv", write_disrupted},
                                                 {"beside.csv", write_beside},
                                                 {"spots.csv", write_spots},
                                                 {"summary.json", write_document},
                                                 {"summary.txt", write_summary}};
    int code = BRV_EXIT_DONE;
    for (size_t i = 0; i < sizeof file / sizeof *file && !code; i++)
        if (wanted(file[i].write, answer)) code = brv_frame_write(frame, file[i].name, file[i].write, answer);
    return code;
}

static void draw_figures(char pictures[BRV_PICTURES_SIZE], const struct brv_frame *frame, const struct answer *answer,
                         unsigned threads)
{
    char reason[REASON_SIZE] = "";
    struct brv_control control;
    brv_patience_begin(&control, threads, 0, "pictures");
    brv_figure_draw(frame->directory.part, answer->request, answer->result, threads, pictures, reason, sizeof reason);
    brv_patience_end();
    if (*reason) brv_complain("brevis run: figures are missing: %s", reason);
}

/* ---- the story ---- */

static int solve(struct brv_result *result, const struct brv_request *request, const struct brv_options *options)
{
    struct brv_error error = {.place = ""};
    struct brv_control control;
    brv_patience_begin(&control, options->threads, request->scenario.beam.method == BRV_METHOD_SAMPLED, "photons");
    const brv_status status = brv_run_solve(result, &request->scenario, &control, &error);
    brv_patience_end();
    return brv_frame_failed("run", status, &error);
}

/* Spots of other widths are drawn beside the answer for a spot; they are not worth failing for. */
static bool solve_spots(struct brv_spots *spots, const struct brv_request *request, const struct brv_options *options)
{
    struct brv_control control;
    if (options->given & BRV_OPTION_NO_FIGURES || request->scenario.beam.method == BRV_METHOD_LAYERED) return false;
    brv_patience_begin(&control, options->threads, 0, "spots");
    const brv_status status = brv_spots_solve(spots, &request->scenario, BRV_NEIGHBOUR, &control, NULL);
    brv_patience_end();
    return !status;
}

static bool stopped(const struct brv_result *result)
{
    return result->site[BRV_LESION].light.stopped || result->site[BRV_NEIGHBOUR].light.stopped;
}

static void say(const struct brv_frame *frame, const struct brv_options *options, const struct answer *answer,
                const char *pictures)
{
    if (options->given & BRV_OPTION_JSON) {
        brv_digest_write(stdout, answer->request, answer->result);
    } else if (!(options->given & BRV_OPTION_QUIET)) {
        brv_terminal_tell(write_summary, answer);
        brv_frame_name_report(frame, pictures, "summary.txt, summary.json, *.csv");
    }
}

static int write_all(struct brv_frame *frame, const struct brv_options *options, const struct answer *answer)
{
    char pictures[BRV_PICTURES_SIZE] = "";
    int code = write_files(frame, answer);
    if (code) return code;
    if (!(options->given & BRV_OPTION_NO_FIGURES)) draw_figures(pictures, frame, answer, options->threads);
    code = brv_frame_write(frame, "report.html", write_report, answer); /* it holds the figures */
    if (code) return code;

    const int moved = brv_frame_commit(frame);
    if (!moved) say(frame, options, answer, pictures);
    return moved;
}

static int answer_request(const struct brv_request *request, const struct brv_origin *origin,
                          const struct brv_options *options)
{
    struct brv_frame frame;
    struct brv_result *result = malloc(sizeof *result); /* it and the request would be much of a small stack */
    if (!result) return brv_frame_failed("run", BRV_MEMORY, NULL);
    int code = brv_frame_begin(&frame, "run", options, options->word[0]);
    if (!code) code = solve(result, request, options);
    if (code == BRV_EXIT_DONE) {
        struct brv_spots spots;
        const bool others = !stopped(result) && solve_spots(&spots, request, options);
        struct brv_report report = brv_frame_report(&frame, options);
        report.origin = origin;
        report.n_origin = 1;
        const struct answer answer = {request, result, others ? &spots : NULL, &report};
        code = write_all(&frame, options, &answer);
        if (code == BRV_EXIT_DONE && stopped(result)) code = BRV_EXIT_INTERRUPTED;
        brv_run_free(result);
    }
    brv_frame_abandon(&frame);
    free(result);
    return code;
}

int brv_command_run(int argc, char *argv[])
{
    struct brv_options options;
    const int stop =
        brv_options_read(&options, argc, argv, BRV_RUN_OPTIONS, 1, 1, "one scenario file, or - for standard input");
    if (stop >= 0) return stop;

    struct brv_origin origin;
    struct brv_request *request = malloc(sizeof *request);
    if (!request) return brv_frame_failed("run", BRV_MEMORY, NULL);
    int code = brv_frame_request_kept(request, &origin, &options);
    if (!code) code = answer_request(request, &origin, &options);
    brv_frame_forget(&origin);
    free(request);
    return code;
}
