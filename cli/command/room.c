#include "command/command.h"

#include "command/frame.h"
#include "command/options.h"
#include "report/room.h"
#include "report/terminal.h"

static void write_text(FILE *to, const void *answer)
{
    brv_room_text(to, answer, 1);
}

static void write_short(FILE *to, const void *answer)
{
    brv_room_text(to, answer, 0);
}

static void write_page(FILE *to, const void *answer)
{
    brv_room_page(to, answer);
}

static int write_all(struct brv_frame *frame, const struct brv_options *options, const struct brv_room_card *card)
{
    int code = brv_frame_write(frame, BRV_DIRECTORY_CARD, write_page, card);
    if (!code) code = brv_frame_write(frame, "card.txt", write_text, card);
    if (!code) code = brv_frame_commit(frame);
    if (code || options->given & BRV_OPTION_QUIET) return code;
    brv_terminal_tell(write_short, card);
    brv_frame_name_files(frame, "", "card.html (to print, A4, with what stands behind the numbers) card.txt");
    return code;
}

static int answer(const struct brv_request *request, const struct brv_options *options)
{
    struct brv_frame frame;
    struct brv_hazard hazard;
    struct brv_error error = {.place = ""};
    int code = brv_frame_begin(&frame, "room", options, options->word[0]);
    if (code) return code;
    code = brv_frame_failed("room", brv_hazard_solve(&hazard, &request->scenario, &error), &error);
    if (!code) {
        const struct brv_room_card card = {request, &hazard, options->set, options->n_set};
        code = write_all(&frame, options, &card);
    }
    brv_frame_abandon(&frame);
    return code;
}

int brv_command_room(int argc, char *argv[])
{
    struct brv_options options;
    const int stop =
        brv_options_read(&options, argc, argv, BRV_ROOM_OPTIONS, 1, 1, "one scenario file, or - for standard input");
    if (stop >= 0) return stop;

    struct brv_request request;
    const int code = brv_frame_request(&request, &options);
    return code ? code : answer(&request, &options);
}
