#include "command/command.h"

#include "command/frame.h"
#include "command/options.h"
#include "command/patience.h"
#include "report/complain.h"
#include "report/cover.h"
#include "report/number.h"
#include "report/terminal.h"
#include "scenario/document.h"
#include "scenario/keys.h"

#include <math.h>
#include <stdio.h>

#define MINUTE 60.0 /* the next row later than this: heat is not followed so long [s] */

enum { N_PLACE = 108, N_SPOT = 3, SEED = 1 /* of the drawing: so many places, spots along its side */ };

static void write_dose(FILE *to, const void *answer)
{
    brv_cover_dose_csv(to, answer);
}

static void write_histogram(FILE *to, const void *answer)
{
    brv_cover_histogram_csv(to, answer);
}

static void write_summary(FILE *to, const void *answer)
{
    brv_cover_summary(to, answer);
}

static void write_digest(FILE *to, const void *answer)
{
    brv_cover_digest(to, answer);
}

/* How spots lie is the user's: without it there is nothing to say. */
static int needs_cover(const struct brv_request *request, const char *path)
{
    if (brv_key_given(&request->scenario.cover, BRV_SCOPE_COVER, "overlap")) return BRV_EXIT_DONE;
    brv_complain("%s:1:1: cover is missing: a section that holds overlap (of the diameter), area and rate; lattice and "
                 "passes may stand there too; brevis proposes none of them",
                 brv_document_called(path));
    return BRV_EXIT_REFUSED;
}

/* ---- heat ---- */

/* The first thing that keeps so many pulses from being run; "" when nothing does. */
static void say_fault(char why[BRV_COVER_WHY], const struct brv_scenario *made, double rate)
{
    struct brv_error fault = {.place = ""};
    char text[BRV_NUMBER_SIZE], most[BRV_NUMBER_SIZE];
    *why = '\0';
    if (brv_scenario_check(made, &fault, 1) == 0) return;
    const struct brv_key *key = &brv_keys[fault.key < 0 ? 0 : fault.key];
    brv_number_short(text, rate);
    if (fault.status == BRV_RANGE && fault.found > key->most)
        snprintf(why, BRV_COVER_WHY, "not computed at %.12s pulses a second: beyond the %.20s that %s.%s may have",
                 text, brv_number_unit(most, key->most, key->dimension), brv_scope_name(key->scope), key->name);
    else
        snprintf(why, BRV_COVER_WHY, "not computed at %.12s pulses a second: such a train would have %s.%s %s%s%.150s",
                 text, brv_scope_name(key->scope), key->name, fault.status == BRV_RANGE ? "outside its range" : "amiss",
                 *fault.place ? ": " : "", fault.place);
}

/* One pulse, a row, a row at twice the rate: those that can be run, in one go. */
static brv_status solve_heat(struct brv_cover_answer *answer, const struct brv_control *control,
                             struct brv_error *error)
{
    const struct brv_cover *cover = answer->cover;
    const struct brv_scenario *ask = &answer->request->scenario;
    const double rate = ask->cover.rate, next = cover->row_time < MINUTE ? cover->row_time : (double)NAN;
    const struct brv_revisit_ask all[BRV_N_HEAT] = {
        {1, rate, next}, {cover->along, rate, next}, {cover->along_faster, 2.0 * rate, next}};
    struct brv_revisit_ask how[BRV_N_HEAT];
    if (cover->random) {
        snprintf(answer->why, BRV_COVER_WHY,
                 "not computed: at random it is not known in which order neighbouring spots follow each other.");
        return BRV_OK;
    }
    for (size_t k = 0; k < BRV_N_HEAT && !*answer->why; k++) {
        const struct brv_scenario made = brv_revisit_scenario(ask, &all[k]);
        if (k == BRV_HEAT_ROW && cover->along == 1) continue; /* spots of a row do not overlap */
        say_fault(answer->why, &made, all[k].rate);
        if (!*answer->why) how[answer->n_revisit++] = all[k];
    }
    return answer->n_revisit ? brv_revisit_solve(answer->revisit, answer->n_revisit, ask, how, control, error) : BRV_OK;
}

/* ---- the answer ---- */

static int write_files(const struct brv_frame *frame, const struct brv_cover_answer *answer)
{
    static const struct brv_frame_file file[] = {{"dose.csv", write_dose},
                                                 {"histogram.csv", write_histogram},
                                                 {"summary.json", write_digest},
                                                 {"summary.txt", write_summary}};
    return brv_frame_write_files(frame, file, sizeof file / sizeof *file, answer);
}

static int write_all(struct brv_frame *frame, const struct brv_options *options, const struct brv_cover_answer *answer)
{
    char pictures[BRV_PICTURES_SIZE] = "";
    struct brv_cover_words words;
    struct brv_figure figure[BRV_N_COVER_FIGURE];
    brv_cover_figures(figure, &words, answer);
    int code = write_files(frame, answer);
    if (code) return code;
    brv_frame_draw(frame, figure, BRV_N_COVER_FIGURE, options, pictures);
    code = brv_frame_commit(frame);
    if (!code && options->given & BRV_OPTION_JSON) brv_cover_digest(stdout, answer);
    if (code || options->given & (BRV_OPTION_QUIET | BRV_OPTION_JSON)) return code;
    brv_terminal_tell(write_summary, answer);
    brv_frame_name_files(frame, pictures, "summary.txt, summary.json, dose.csv, histogram.csv");
    return code;
}

static brv_status solve(struct brv_cover *cover, struct brv_patch *patch, struct brv_cover_answer *answer,
                        const struct brv_options *options, struct brv_error *error)
{
    const struct brv_scenario *ask = &answer->request->scenario;
    struct brv_control control;
    brv_status status = brv_cover_solve(cover, ask, error);
    if (!status) status = brv_patch_solve(patch, cover, ask, N_PLACE, N_SPOT * ask->beam.spot, SEED, error);
    if (status) return status;
    brv_patience_begin(&control, options->threads, 0, "photons");
    status = solve_heat(answer, &control, error);
    brv_patience_end();
    return status;
}

static int answer_request(const struct brv_request *request, const struct brv_options *options)
{
    struct brv_frame frame;
    struct brv_cover cover = {.density = 0.0};
    struct brv_patch patch = {.n = 0};
    struct brv_cover_answer answer = {.request = request, .cover = &cover, .patch = &patch};
    struct brv_error error = {.place = ""};
    int code = brv_frame_begin(&frame, "cover", options, options->word[0]);
    if (code) return code;
    code = brv_frame_failed("cover", solve(&cover, &patch, &answer, options, &error), &error);
    if (!code) code = write_all(&frame, options, &answer);
    brv_patch_free(&patch);
    brv_cover_free(&cover);
    brv_frame_abandon(&frame);
    return code;
}

int brv_command_cover(int argc, char *argv[])
{
    struct brv_options options;
    const int stop =
        brv_options_read(&options, argc, argv, BRV_COVER_OPTIONS, 1, 1, "one scenario file, or - for standard input");
    if (stop >= 0) return stop;

    struct brv_request request;
    int code = brv_frame_request(&request, &options);
    if (!code) code = needs_cover(&request, options.word[0]);
    return code ? code : answer_request(&request, &options);
}
