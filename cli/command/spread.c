/* `brevis spread`: how uncertain the answer is, and which input makes it so. */
#include "command/command.h"

#include "command/frame.h"
#include "command/options.h"
#include "command/patience.h"
#include "report/figure.h"
#include "report/spread.h"
#include "report/term.h"
#include "report/terminal.h"
#include "study/inputs.h"
#include "study/slip.h"
#include "study/spread.h"
#include "scenario/letters.h"

#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

/* ---- results ---- */

static void write_headlines(FILE *to, const void *what)
{
    brv_spread_csv_headlines(to, what);
}

static void write_inputs(FILE *to, const void *what)
{
    brv_spread_csv_inputs(to, what);
}

static void write_draws(FILE *to, const void *what)
{
    brv_spread_csv_draws(to, what);
}

static void write_slips(FILE *to, const void *what)
{
    brv_spread_csv_slips(to, what);
}

static void write_ranking(FILE *to, const void *what)
{
    brv_spread_csv_ranking(to, what);
}

static void write_document(FILE *to, const void *what)
{
    brv_spread_digest(to, what);
}

static void write_summary(FILE *to, const void *what)
{
    brv_spread_summary(to, what);
}

static int write_files(const struct brv_frame *frame, const struct brv_spread_answer *answer)
{
    static const struct brv_frame_file file[] = {{"spread.csv", write_headlines}, {"inputs.csv", write_inputs},
                                                 {"draws.csv", write_draws},      {"slips.csv", write_slips},
                                                 {"ranking.csv", write_ranking},  {"summary.json", write_document},
                                                 {"summary.txt", write_summary}};
    return brv_frame_write_files(frame, file, sizeof file / sizeof *file, answer);
}

/* Four panels: their headlines as ranking.csv has them, and beside each what the fit misses. */
static void draw(char pictures[BRV_PICTURES_SIZE], const struct brv_frame *frame,
                 const struct brv_spread_answer *answer, const struct brv_options *options)
{
    char corner[BRV_FIGURE_TEXT], asked[BRV_FIGURE_TEXT], heading[BRV_FIGURE_TEXT], names[BRV_FIGURE_TEXT] = "",
                                                                                    fits[BRV_FIGURE_TEXT] = "";
    size_t n = 0, m = 0;
    for (size_t k = 0; k < BRV_SPREAD_RANKED; k++) {
        const double q2 = answer->spreading->row[BRV_LESION][brv_spread_ranked[k]].q2;
        n += (size_t)snprintf(names + n, sizeof names - n, "'%s' ", brv_terms[brv_spread_ranked[k]].name);
        if (isnan(q2))
            m += (size_t)snprintf(fits + m, sizeof fits - m, "'nothing varies' ");
        else
            m += (size_t)snprintf(fits + m, sizeof fits - m, "'the fit misses %.0f %%%s' ", ceil(100.0 * (1.0 - q2)),
                                  q2 < BRV_SPREAD_ROUGH ? ": rough" : "");
    }
    brv_figure_corner(corner, &answer->request->scenario);
    brv_figure_asked(asked, &answer->request->scenario);
    brv_letters_cut(heading, sizeof heading, *answer->request->title ? answer->request->title : asked, SIZE_MAX);
    const struct brv_figure figure = {"spread", {heading, asked, corner, names, fits, NULL}};
    brv_frame_draw(frame, &figure, 1, options, pictures);
}

/* ---- the story ---- */

static int solve(struct brv_spreading *spreading, struct brv_slip slip[], const struct brv_request *request,
                 const struct brv_options *options)
{
    struct brv_error error = {.place = ""};
    struct brv_control control;
    struct brv_inputs inputs;
    brv_inputs_list(&inputs, &request->scenario, request->opened, request->n_opened);
    brv_patience_begin(&control, options->threads, 0, "draws");
    brv_status status = brv_spread_solve(spreading, &request->scenario, &inputs,
                                         options->draws ? options->draws : BRV_SPREAD_DRAWS, &control, &error);
    if (!status) status = brv_slips_solve(slip, &request->scenario, &control, &error);
    brv_patience_end();
    return brv_frame_failed("spread", status, &error);
}

static int write_all(struct brv_frame *frame, const struct brv_options *options, const struct brv_spread_answer *answer)
{
    char pictures[BRV_PICTURES_SIZE] = "";
    const int code = write_files(frame, answer);
    if (code) return code;
    draw(pictures, frame, answer, options);
    const int moved = brv_frame_commit(frame);
    if (moved || options->given & BRV_OPTION_QUIET) return moved;
    brv_terminal_tell(write_summary, answer);
    brv_frame_name_files(frame, pictures, "summary.txt, summary.json, *.csv");
    return moved;
}

static int answer_request(const struct brv_request *request, const struct brv_options *options)
{
    static struct brv_spreading spreading; /* of 300 kB */
    struct brv_slip slip[BRV_N_SLIP];
    struct brv_frame frame;
    int code = brv_frame_begin(&frame, "spread", options, options->word[0]);
    if (code) return code;
    code = solve(&spreading, slip, request, options);
    if (code == BRV_EXIT_DONE)
        code = write_all(&frame, options, &(struct brv_spread_answer){request, &spreading, slip});
    brv_spread_free(&spreading);
    brv_frame_abandon(&frame);
    return code;
}

/* The noise of a walk of photons would be taken for spread, and hundreds of walks take hours. */
static int refuse_walk(const char *scenario)
{
    fprintf(
        stderr,
        "%s: light.method = sampled: allowed for brevis spread are spot and layered, since the noise of a walk would "
        "be taken for spread; add --set light.method=spot\n",
        scenario);
    return BRV_EXIT_REFUSED;
}

int brv_command_spread(int argc, char *argv[])
{
    struct brv_options options;
    const int stop =
        brv_options_read(&options, argc, argv, BRV_SPREAD_OPTIONS, 1, 1, "one scenario file, or - for standard input");
    if (stop >= 0) return stop;

    struct brv_request request;
    const int code = brv_frame_request(&request, &options);
    if (code) return code;
    if (request.scenario.beam.method == BRV_METHOD_SAMPLED) return refuse_walk(options.word[0]);
    return answer_request(&request, &options);
}
