#include "command/command.h"

#include "command/frame.h"
#include "command/options.h"
#include "command/patience.h"
#include "report/complain.h"
#include "report/terminal.h"
#include "report/visits.h"
#include "scenario/document.h"
#include "scenario/keys.h"

static void write_text(FILE *to, const void *answer)
{
    brv_visits_text(to, answer);
}

static void write_csv(FILE *to, const void *answer)
{
    brv_visits_csv(to, answer);
}

static void write_json(FILE *to, const void *answer)
{
    brv_visits_json(to, answer);
}

/* How many and what returns are the user's to say: physics knows neither. */
static int needs_visits(const struct brv_request *request, const char *path)
{
    if (brv_key_given(&request->scenario.visits, BRV_SCOPE_VISITS, "count")) return BRV_EXIT_DONE;
    brv_complain(
        "%s:1:1: visits is missing: a section that holds count (1 to %d) and returns (0 %% to 100 %%, of the pigment "
        "that is missing, at the next visit); brevis proposes neither",
        brv_document_called(path), BRV_MOST_VISITS);
    return BRV_EXIT_REFUSED;
}

static int write_files(const struct brv_frame *frame, const struct brv_visits_answer *answer)
{
    int code = brv_frame_write(frame, "visits.csv", write_csv, answer);
    if (!code) code = brv_frame_write(frame, "summary.json", write_json, answer);
    return code ? code : brv_frame_write(frame, "summary.txt", write_text, answer);
}

static int write_all(struct brv_frame *frame, const struct brv_options *options, const struct brv_visits_answer *answer)
{
    char pictures[BRV_PICTURES_SIZE] = "";
    struct brv_visits_words words;
    const struct brv_figure figure = brv_visits_figure(&words, answer);
    int code = write_files(frame, answer);
    if (code) return code;
    brv_frame_draw(frame, &figure, 1, options, pictures);
    code = brv_frame_commit(frame);
    if (code || options->given & BRV_OPTION_QUIET) return code;
    brv_terminal_tell(write_text, answer);
    brv_frame_name_files(frame, pictures, "summary.txt, summary.json, visits.csv");
    return code;
}

static int answer(const struct brv_request *request, const struct brv_options *options)
{
    struct brv_frame frame;
    struct brv_visits visits;
    struct brv_error error = {.place = ""};
    struct brv_control control;
    int code = brv_frame_begin(&frame, "visits", options, options->word[0]);
    if (code) return code;
    brv_patience_begin(&control, options->threads, 0, "runs");
    const brv_status status = brv_visits_solve(&visits, &request->scenario, &control, &error);
    brv_patience_end();
    code = brv_frame_failed("visits", status, &error);
    if (!code) {
        const struct brv_visits_answer told = {request, &visits};
        code = write_all(&frame, options, &told);
        brv_visits_free(&visits);
    }
    brv_frame_abandon(&frame);
    return code;
}

int brv_command_visits(int argc, char *argv[])
{
    struct brv_options options;
    struct brv_request request;
    const int stop =
        brv_options_read(&options, argc, argv, BRV_STUDY_OPTIONS, 1, 1, "one scenario file, or - for standard input");
    if (stop >= 0) return stop;
    int code = brv_frame_request(&request, &options);
    if (!code) code = needs_visits(&request, options.word[0]);
    return code ? code : answer(&request, &options);
}
