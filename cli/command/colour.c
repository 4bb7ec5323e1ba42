#include "command/command.h"

#include "command/frame.h"
#include "command/options.h"
#include "command/patience.h"
#include "report/colour.h"
#include "report/terminal.h"

#include <math.h>
#include <stdio.h>

static void write_reflectance(FILE *to, const void *answer)
{
    brv_reflectance_csv(to, answer);
}

static void write_visibility(FILE *to, const void *answer)
{
    brv_visibility_csv(to, answer);
}

static void write_summary(FILE *to, const void *answer)
{
    brv_colour_summary(to, answer);
}

static void write_digest(FILE *to, const void *answer)
{
    brv_colour_digest(to, answer);
}

/* ---- solving ---- */

static brv_status solve_sites(struct brv_colour_answer *answer, unsigned threads, struct brv_error *error)
{
    const struct brv_scenario *ask = &answer->request->scenario;
    double mirror[BRV_N_SPECTRUM];
    brv_status status = BRV_OK;
    for (size_t i = 0; i < BRV_N_SPECTRUM; i++) answer->wavelength[i] = (400.0 + 5.0 * (double)i) / 1e9;
    for (size_t site = 0; site < BRV_N_SITE && !status; site++) {
        status = brv_colour_spectrum(answer->diffuse[site], mirror, ask, site, BRV_N_SPECTRUM, answer->wavelength,
                                     threads, error);
        answer->mirror[site] = status ? (double)NAN : mirror[0];
        if (!status) status = brv_colour_spread(&answer->colour[site], ask, site, threads, error);
    }
    return status;
}

/* Skins whose pigment is laid as in the ready ones keep their layers; for others a ready one with their grains stands. */
static void standard_skin(struct brv_scenario *skin, const struct brv_colour_answer *answer)
{
    *skin = answer->request->scenario;
    if (answer->own_layers) return;
    const struct brv_grain_ask grain = skin->skin[BRV_NEIGHBOUR].grain;
    skin->skin[BRV_NEIGHBOUR] = (struct brv_skin){.n_layer = 0};
    brv_skin_preset(&skin->skin[BRV_NEIGHBOUR], BRV_LIGHT_SKIN);
    skin->skin[BRV_NEIGHBOUR].grain = grain;
    brv_scenario_fill(skin);
}

/* The neighbour's own angle, the limits of the classes, and the middles of those that have two. */
static brv_status solve_pigment(struct brv_colour_answer *answer, unsigned threads, struct brv_error *error)
{
    enum { N_LIMIT = BRV_N_ITA_CLASS - 1, N_ANGLE = 1 + N_LIMIT + BRV_N_ITA_CLASS };
    const struct brv_skin *neighbour = &answer->request->scenario.skin[BRV_NEIGHBOUR];
    double ita[N_ANGLE];
    struct brv_colour_pigment found[N_ANGLE];
    struct brv_scenario skin;
    answer->own_layers = neighbour->ready || neighbour->colour.given;
    standard_skin(&skin, answer);
    ita[0] = answer->colour[BRV_NEIGHBOUR].value.ita;
    for (size_t i = 0; i < N_LIMIT; i++) ita[1 + i] = brv_ita_classes[i].above;
    for (size_t i = 0; i < BRV_N_ITA_CLASS; i++)
        ita[1 + N_LIMIT + i] =
            i == 0 || i == N_LIMIT ? (double)NAN : 0.5 * (brv_ita_classes[i - 1].above + brv_ita_classes[i].above);
    const brv_status status = brv_colour_invert(found, &answer->bounds, &skin, N_ANGLE, ita, threads, error);
    answer->pigment = found[0];
    for (size_t i = 0; i < N_LIMIT; i++) answer->limit[i] = found[1 + i];
    for (size_t i = 0; i < BRV_N_ITA_CLASS; i++) answer->within[i] = found[1 + N_LIMIT + i];
    return status;
}

static int solve(struct brv_colour_answer *answer, const struct brv_request *request, const struct brv_options *options)
{
    struct brv_error error = {.place = ""};
    *answer = (struct brv_colour_answer){.request = request};
    const struct brv_seen_layer layer = brv_visibility_layer(&request->scenario);
    struct brv_control control; /* colours are not counted */
    brv_patience_begin(&control, options->threads, 0, "colours");
    brv_status status = solve_sites(answer, options->threads, &error);
    if (!status) status = solve_pigment(answer, options->threads, &error);
    if (!status) status = brv_visibility_solve(&answer->seen, &request->scenario, &layer, options->threads, &error);
    brv_patience_end();
    return brv_frame_failed("colour", status, &error);
}

/* ---- writing ---- */

static int write_files(const struct brv_frame *frame, const struct brv_colour_answer *answer)
{
    static const struct brv_frame_file file[] = {{"reflectance.csv", write_reflectance},
                                                 {"visibility.csv", write_visibility},
                                                 {"summary.json", write_digest},
                                                 {"summary.txt", write_summary}};
    return brv_frame_write_files(frame, file, sizeof file / sizeof *file, answer);
}

static int write_all(struct brv_frame *frame, const struct brv_options *options, const struct brv_colour_answer *answer)
{
    char pictures[BRV_PICTURES_SIZE] = "";
    struct brv_colour_words words = {.marks = ""};
    struct brv_figure figure[2];
    const size_t n = brv_colour_figures(figure, &words, answer);
    int code = write_files(frame, answer);
    if (code) return code;
    brv_frame_draw(frame, figure, n, options, pictures);
    code = brv_frame_commit(frame);
    if (code || options->given & BRV_OPTION_QUIET) return code;
    brv_terminal_tell(write_summary, answer);
    brv_frame_name_files(frame, pictures, "summary.txt, summary.json, reflectance.csv, visibility.csv");
    return code;
}

int brv_command_colour(int argc, char *argv[])
{
    struct brv_options options;
    struct brv_request request;
    struct brv_frame frame;
    struct brv_colour_answer answer;
    const int stop =
        brv_options_read(&options, argc, argv, BRV_STUDY_OPTIONS, 1, 1, "one scenario file, or - for standard input");
    if (stop >= 0) return stop;
    int code = brv_frame_request(&request, &options);
    if (!code) code = brv_frame_begin(&frame, "colour", &options, options.word[0]);
    if (code) return code;
    code = solve(&answer, &request, &options);
    if (!code) code = write_all(&frame, &options, &answer);
    brv_frame_abandon(&frame);
    return code;
}
