#include "command/command.h"

#include "command/frame.h"
#include "command/options.h"
#include "command/patience.h"
#include "report/complain.h"
#include "report/figure.h"
#include "report/output.h"
#include "report/terminal.h"
#include "scenario/keys.h"
#include "scenario/quantity.h"
#include "scenario/unit.h"
#include "study/many.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define LEAST_ERROR 0.001
#define MOST_ERROR  0.5

/* ---- what is asked ---- */

/* A share such as "3 %" of an option that has one. */
static int read_error(struct brv_own_error *error, const char *option, const char *text, double otherwise)
{
    char why[BRV_QUANTITY_WHY_SIZE] = "";
    *error = (struct brv_own_error){otherwise, text != NULL};
    if (!text) return BRV_EXIT_DONE;
    if (brv_quantity_read(&error->share, text, BRV_SHARE, why) && error->share >= LEAST_ERROR &&
        error->share <= MOST_ERROR)
        return BRV_EXIT_DONE;
    char shown[BRV_SHOWN_SIZE];
    fprintf(stderr, "brevis output: --%s %s: %s%sallowed 0.1 %% to 50 %%\n", option, brv_fault_shown(shown, text), why,
            *why ? "; " : "");
    return BRV_EXIT_USAGE;
}

static int read_readings(struct brv_readings *readings, const char *path)
{
    struct brv_faults faults = {.n = 0};
    const int code = brv_readings_read(readings, path, &faults);
    brv_faults_print(&faults, stderr);
    brv_faults_free(&faults);
    return code;
}

/* The second word is the scenario; what commands share looks at the first. */
static int read_scenario(struct brv_request *request, const struct brv_options *options)
{
    struct brv_options second = *options;
    second.word++;
    second.n_word--;
    return brv_frame_request(request, &second);
}

/* ---- what the shift does ---- */

static bool is_fluence(double fluence)
{
    const struct brv_key *key = &brv_keys[brv_key_find(BRV_SCOPE_LIGHT, "fluence")];
    return fluence >= key->least && fluence <= key->most;
}

static void fill_shifts(struct brv_output_answer *answer)
{
    const struct brv_output *output = answer->output;
    const struct brv_beam *planned = &answer->request->scenario.beam;
    const double fluence[BRV_N_SHIFT] = {planned->fluence, output->fluence, output->low, output->high};
    for (size_t i = 0; i < BRV_N_SHIFT; i++) {
        struct brv_shifted *shift = &answer->shift[i];
        struct brv_beam beam = *planned;
        beam.spot = i == BRV_SHIFT_PLANNED ? planned->spot : brv_output_spot(output);
        shift->there = is_fluence(fluence[i]);
        shift->spot = beam.spot;
        shift->fluence = fluence[i];
        shift->energy = i == BRV_SHIFT_PLANNED ? planned->energy : fluence[i] * brv_beam_area(&beam);
    }
}

/* Where there is no such fluence, the scenario itself runs and nothing is read off it. */
static struct brv_scenario shifted(const struct brv_shifted *shift, const struct brv_scenario *ask)
{
    struct brv_scenario copy = *ask;
    if (!shift->there) return copy;
    copy.beam.spot = shift->spot;
    copy.beam.fluence = shift->fluence;
    copy.beam.energy = shift->energy;
    return copy;
}

struct runs {
    struct brv_scenario ask[BRV_N_SHIFT];
    struct brv_result result[BRV_N_SHIFT];
};

static brv_status run_shifts(struct brv_output_answer *answer, const struct brv_control *control,
                             struct brv_error *error)
{
    struct runs *runs = malloc(sizeof *runs);
    if (!runs) return brv_error_raise(error, BRV_MEMORY, "output");
    for (size_t i = 0; i < BRV_N_SHIFT; i++) runs->ask[i] = shifted(&answer->shift[i], &answer->request->scenario);
    const brv_status status = brv_many_solve(runs->result, BRV_N_SHIFT, runs->ask, BRV_WITH_SPREADS, control, error);
    if (!status) brv_notes_make(&answer->notes, &runs->result[BRV_SHIFT_MEASURED]);
    for (size_t i = 0; i < BRV_N_SHIFT && !status; i++) {
        struct brv_shifted *shift = &answer->shift[i];
        brv_headlines_read(&shift->headlines, &runs->result[i]);
        for (size_t site = 0; site < BRV_N_SITE; site++)
            shift->sign[site] = brv_sign_at(&shift->headlines.at[site][BRV_HEADLINE_THRESHOLD_SIGN], shift->fluence);
        brv_run_free(&runs->result[i]);
    }
    free(runs);
    return status;
}

/* ---- the answer ---- */

static void write_text(FILE *to, const void *answer)
{
    brv_output_text(to, answer);
}

static void write_csv(FILE *to, const void *answer)
{
    brv_output_csv(to, answer);
}

static void write_json(FILE *to, const void *answer)
{
    brv_output_json(to, answer);
}

static void draw(char pictures[BRV_PICTURES_SIZE], const struct brv_frame *frame, const struct brv_options *options,
                 const struct brv_output_answer *answer)
{
    char corner[BRV_FIGURE_TEXT], asked[BRV_FIGURE_TEXT], numbers[BRV_FIGURE_TEXT], words[BRV_FIGURE_TEXT];
    const struct brv_request *request = answer->request;
    brv_figure_corner(corner, &request->scenario);
    brv_figure_asked(asked, &request->scenario);
    brv_output_figure(numbers, words, answer);
    const char *heading = *request->title ? request->title : asked;
    const struct brv_figure figure = {"readings",
                                      {numbers, heading, *request->title ? asked : "", corner, words, NULL}};
    brv_frame_draw(frame, &figure, 1, options, pictures);
}

static int write_all(struct brv_frame *frame, const struct brv_options *options, const struct brv_output_answer *answer)
{
    char pictures[BRV_PICTURES_SIZE] = "";
    int code = brv_frame_write(frame, "readings.csv", write_csv, answer);
    if (!code) code = brv_frame_write(frame, "summary.json", write_json, answer);
    if (!code) code = brv_frame_write(frame, "summary.txt", write_text, answer);
    if (code) return code;
    draw(pictures, frame, options, answer);
    code = brv_frame_commit(frame);
    if (code) return code;
    if (options->given & BRV_OPTION_JSON) {
        brv_output_json(stdout, answer);
    } else if (!(options->given & BRV_OPTION_QUIET)) {
        brv_terminal_tell(write_text, answer);
        brv_frame_name_files(frame, pictures, "summary.txt, summary.json, readings.csv");
    }
    return BRV_EXIT_DONE;
}

/* Readings of another order of magnitude than any scenario may have. */
static int refuse_fluence(const struct brv_output *output, const char *path)
{
    const struct brv_key *key = &brv_keys[brv_key_find(BRV_SCOPE_LIGHT, "fluence")];
    const struct brv_unit *unit = brv_unit_find("J/cm2");
    char found[BRV_UNIT_VALUE_SIZE], least[BRV_UNIT_VALUE_SIZE], most[BRV_UNIT_VALUE_SIZE];
    brv_complain("%s: the mean fluence of these readings is %s, allowed %s to %s",
                 strcmp(path, "-") ? path : "standard input", brv_unit_value(found, output->fluence, unit),
                 brv_unit_value(least, key->least, unit), brv_unit_value(most, key->most, unit));
    return BRV_EXIT_REFUSED;
}

static int answer_readings(struct brv_output_answer *answer, const struct brv_options *options)
{
    struct brv_frame frame;
    struct brv_error error = {.place = ""};
    struct brv_control control;
    fill_shifts(answer);
    if (!answer->shift[BRV_SHIFT_MEASURED].there) return refuse_fluence(answer->output, options->word[0]);
    int code = brv_frame_begin(&frame, "output", options, options->word[1]);
    if (code) return code;
    brv_patience_begin(&control, options->threads, 0, "runs");
    const brv_status status = run_shifts(answer, &control, &error);
    brv_patience_end();
    code = brv_frame_failed("output", status, &error);
    if (!code) code = write_all(&frame, options, answer);
    brv_frame_abandon(&frame);
    return code;
}

static int answer(struct brv_output_answer *answer, struct brv_output *output, const struct brv_options *options)
{
    struct brv_error error = {.place = ""};
    const struct brv_readings *readings = answer->readings;
    int code =
        brv_frame_failed("output",
                         brv_output_read(output, readings->reading, readings->n, answer->request->scenario.beam.spot,
                                         answer->meter.share, answer->spot.share, &error),
                         &error);
    if (code) return code;
    code = answer_readings(answer, options);
    brv_output_free(output);
    return code;
}

int brv_command_output(int argc, char *argv[])
{
    struct brv_options options;
    const int stop = brv_options_read(&options, argc, argv, BRV_OUTPUT_OPTIONS, 2, 2,
                                      "readings.csv and then one scenario file; - for standard input, once");
    if (stop >= 0) return stop;
    if (!strcmp(options.word[0], "-") && !strcmp(options.word[1], "-")) {
        fputs("brevis output: standard input is there only once: name the readings or the scenario\n", stderr);
        return BRV_EXIT_USAGE;
    }

    struct brv_request request;
    struct brv_readings readings;
    struct brv_output output;
    struct brv_output_answer asked = {.request = &request, .readings = &readings, .output = &output};
    int code = read_error(&asked.meter, "meter-error", options.meter_error, BRV_OUTPUT_METER_ERROR);
    if (!code) code = read_error(&asked.spot, "spot-error", options.spot_error, BRV_OUTPUT_SPOT_ERROR);
    if (code) return code;
    code = read_readings(&readings, options.word[0]);
    const int second = read_scenario(&request, &options); /* the faults of both are told at once */
    if (!code) code = second;
    if (!code) code = answer(&asked, &output, &options);
    brv_readings_free(&readings);
    return code;
}
