#include "command/command.h"

#include "command/frame.h"
#include "command/options.h"
#include "report/complain.h"
#include "report/ladder.h"
#include "report/terminal.h"
#include "scenario/document.h"
#include "scenario/keys.h"

static void write_text(FILE *to, const void *answer)
{
    brv_card_text(to, answer);
}

static void write_page(FILE *to, const void *answer)
{
    brv_card_page(to, answer);
}

/* The steps are the user's: without them there is nothing to say. */
static int needs_steps(const struct brv_request *request, const char *path)
{
    if (brv_key_given(&request->scenario.ladder, BRV_SCOPE_LADDER, "first")) return BRV_EXIT_DONE;
    brv_complain(
        "%s:1:1: ladder is missing: a section that holds first (fluence), ratio (above 1) and count (2 to %d); "
        "brevis proposes no steps",
        brv_document_called(path), BRV_MOST_STEPS);
    return BRV_EXIT_REFUSED;
}

static int write_all(struct brv_frame *frame, const struct brv_options *options, const struct brv_card *card)
{
    int code = brv_frame_write(frame, BRV_DIRECTORY_CARD, write_page, card);
    if (!code) code = brv_frame_write(frame, "card.txt", write_text, card);
    if (!code) code = brv_frame_commit(frame);
    if (code || options->given & BRV_OPTION_QUIET) return code;
    brv_terminal_tell(write_text, card);
    brv_frame_name_files(frame, "", "card.html (to print, A4) card.txt");
    return code;
}

static int answer(const struct brv_request *request, const struct brv_options *options)
{
    struct brv_frame frame;
    struct brv_test_spots spots;
    struct brv_error error = {.place = ""};
    const struct brv_control control = {.threads = options->threads};
    int code = brv_frame_begin(&frame, "ladder", options, options->word[0]);
    if (code) return code;
    code = brv_frame_failed("ladder", brv_test_spots_solve(&spots, &request->scenario, &control, &error), &error);
    if (!code) {
        const struct brv_card card = {request, &spots, options->set, options->n_set};
        code = write_all(&frame, options, &card);
        brv_test_spots_free(&spots);
    }
    brv_frame_abandon(&frame);
    return code;
}

int brv_command_ladder(int argc, char *argv[])
{
    struct brv_options options;
    const int stop =
        brv_options_read(&options, argc, argv, BRV_LADDER_OPTIONS, 1, 1, "one scenario file, or - for standard input");
    if (stop >= 0) return stop;

    struct brv_request request;
    int code = brv_frame_request(&request, &options);
    if (!code) code = needs_steps(&request, options.word[0]);
    return code ? code : answer(&request, &options);
}
