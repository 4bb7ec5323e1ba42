#include "command/command.h"

#include "command/frame.h"
#include "command/options.h"
#include "report/figure.h"
#include "report/reported.h"
#include "report/terminal.h"

static void write_text(FILE *to, const void *answer)
{
    brv_reported_text(to, answer, true);
}

static void write_short(FILE *to, const void *answer)
{
    brv_reported_text(to, answer, false);
}

static void write_csv(FILE *to, const void *answer)
{
    brv_reported_csv(to, answer);
}

static void write_json(FILE *to, const void *answer)
{
    brv_reported_json(to, answer);
}

static void draw(char pictures[BRV_PICTURES_SIZE], const struct brv_frame *frame, const struct brv_options *options,
                 const struct brv_request *request)
{
    char corner[BRV_FIGURE_TEXT], asked[BRV_FIGURE_TEXT], numbers[BRV_FIGURE_TEXT];
    char unseen[BRV_REPORTED_UNSEEN_SIZE];
    brv_figure_corner(corner, &request->scenario);
    brv_figure_asked(asked, &request->scenario);
    brv_reported_figure(numbers, unseen, &request->scenario);
    const struct brv_figure figure = {
        "reported",
        {numbers, *request->title ? request->title : asked, *request->title ? asked : "", corner, unseen, NULL}};
    brv_frame_draw(frame, &figure, 1, options, pictures);
}

static int write_all(struct brv_frame *frame, const struct brv_options *options, const struct brv_request *request)
{
    char pictures[BRV_PICTURES_SIZE] = "";
    int code = brv_frame_write(frame, "reported.csv", write_csv, request);
    if (!code) code = brv_frame_write(frame, "summary.json", write_json, request);
    if (!code) code = brv_frame_write(frame, "summary.txt", write_text, request);
    if (code) return code;
    draw(pictures, frame, options, request);
    code = brv_frame_commit(frame);
    if (code) return code;
    if (options->given & BRV_OPTION_JSON) {
        brv_reported_json(stdout, request);
    } else if (!(options->given & BRV_OPTION_QUIET)) {
        brv_terminal_tell(write_short, request);
        brv_frame_name_files(frame, pictures, "summary.txt (all rows), summary.json, reported.csv");
    }
    return BRV_EXIT_DONE;
}

static int answer(const struct brv_options *options)
{
    struct brv_frame frame;
    struct brv_request request;
    int code = brv_frame_request(&request, options);
    if (!code) code = brv_frame_begin(&frame, "reported", options, options->word[0]);
    if (code) return code;
    code = write_all(&frame, options, &request);
    brv_frame_abandon(&frame);
    return code;
}

int brv_command_reported(int argc, char *argv[])
{
    struct brv_options options;
    const int stop = brv_options_read(&options, argc, argv, BRV_REPORTED_OPTIONS, 0, 1,
                                      "one scenario file, or - for standard input; or --page alone");
    if (stop >= 0) return stop;
    const int page = (options.given & BRV_OPTION_PAGE) != 0;
    if (page == options.n_word) {
        fprintf(stderr, "brevis reported: %s\n",
                page ? "--page takes no scenario" : "missing: one scenario file, or - for standard input; or --page");
        return BRV_EXIT_USAGE;
    }
    if (!page) return answer(&options);
    const char *other = brv_options_first(options.given & ~(unsigned)BRV_OPTION_PAGE);
    if (other) {
        fprintf(stderr, "brevis reported: --page takes no scenario and no other option, not --%s\n", other);
        return BRV_EXIT_USAGE;
    }
    brv_reported_page(stdout);
    return BRV_EXIT_DONE;
}
