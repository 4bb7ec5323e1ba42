#include "command/command.h"

#include "command/options.h"
#include "command/patience.h"
#include "report/csv.h"
#include "report/directory.h"
#include "report/digest.h"
#include "report/figure.h"
#include "report/summary.h"
#include "run/run.h"
#include "scenario/request.h"

#include <errno.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { REASON_SIZE = 512, PATH_SIZE = 4096 };

/* out/NAME for NAME.yaml, out/stdin for standard input. */
static void default_target(char target[PATH_SIZE], const char *scenario)
{
    const char *slash = strrchr(scenario, '/');
    const char *name = slash ? slash + 1 : scenario;
    const char *dot = strrchr(name, '.');
    const size_t length = dot && dot > name ? (size_t)(dot - name) : strlen(name);
    if (!strcmp(scenario, "-"))
        snprintf(target, PATH_SIZE, "out/stdin");
    else
        snprintf(target, PATH_SIZE, "out/%.*s", (int)(length < 200 ? length : 200), name);
}

/* ---- results ---- */

struct answer {
    const struct brv_request *request;
    const struct brv_result *result;
    const struct brv_spots *spots; /* NULL: not asked for */
};

static void write_temperature(FILE *to, const struct answer *answer)
{
    brv_csv_temperature(to, answer->result);
}

static void write_depth(FILE *to, const struct answer *answer)
{
    brv_csv_depth(to, answer->result);
}

static void write_map(FILE *to, const struct answer *answer)
{
    brv_csv_map(to, answer->result);
}

static void write_train(FILE *to, const struct answer *answer)
{
    brv_csv_train(to, answer->result);
}

static void write_grain(FILE *to, const struct answer *answer)
{
    brv_csv_grain(to, answer->result);
}

static void write_disrupted(FILE *to, const struct answer *answer)
{
    brv_csv_disrupted(to, answer->result);
}

static void write_beside(FILE *to, const struct answer *answer)
{
    brv_csv_beside(to, answer->result);
}

static void write_spots(FILE *to, const struct answer *answer)
{
    brv_csv_spots(to, answer->spots);
}

static void write_document(FILE *to, const struct answer *answer)
{
    brv_digest_write(to, answer->request, answer->result);
}

static void write_summary(FILE *to, const struct answer *answer)
{
    brv_summary_write(to, answer->request, answer->result);
}

/* Is there anything for this file? */
static bool wanted(void (*write)(FILE *to, const struct answer *answer), const struct answer *answer)
{
    const struct brv_site *lesion = &answer->result->site[BRV_LESION];
    if (write == write_map) return lesion->light.n_map_depth > 0;
    if (write == write_train) return lesion->history.n_pulse > 1;
    if (write == write_beside) return lesion->history.field.n_depth > 0;
    return write != write_spots || answer->spots;
}

static int write_files(const struct brv_directory *directory, const struct answer *answer)
{
    static const struct {
        const char *name;
        void (*write)(FILE *to, const struct answer *answer);
    } file[] = {{"temperature.csv", write_temperature},
                {"depth.csv", write_depth},
                {"map.csv", write_map},
                {"train.csv", write_train},
                {"grain.csv", write_grain},
                {"disrupted.csv", write_disrupted},
                {"beside.csv", write_beside},
                {"spots.csv", write_spots},
                {"summary.json", write_document},
                {"summary.txt", write_summary}};
    for (size_t i = 0; i < sizeof file / sizeof *file; i++) {
        if (!wanted(file[i].write, answer)) continue;
        FILE *to = brv_directory_open(directory, file[i].name);
        if (to) file[i].write(to, answer);
        if (to && !brv_directory_close(to)) continue;
        fprintf(stderr, "brevis run: cannot write %s/%s: %s\n", directory->target, file[i].name, strerror(errno));
        return BRV_EXIT_FILE;
    }
    return BRV_EXIT_DONE;
}

static void draw_figures(char pictures[BRV_PICTURES_SIZE], const struct brv_directory *directory,
                         const struct answer *answer, unsigned threads)
{
    char reason[REASON_SIZE] = "";
    brv_figure_draw(directory->part, answer->request, answer->result, threads, pictures, reason, sizeof reason);
    if (*reason) fprintf(stderr, "brevis run: not every figure was drawn: %s\n", reason);
}

static void say(const struct brv_options *options, const struct answer *answer, const char *target,
                const char *pictures)
{
    if (options->given & BRV_OPTION_JSON) {
        brv_digest_write(stdout, answer->request, answer->result);
        return;
    }
    if (options->given & BRV_OPTION_QUIET) return;
    brv_summary_write(stdout, answer->request, answer->result);
    if (*pictures)
        printf("OPEN     %s: %s\n         also as .svg; summary.txt, summary.json, *.csv\n", target, pictures);
    else
        printf("FILES    %s: summary.txt summary.json *.csv\n", target);
}

/* ---- the story ---- */

static int solve(struct brv_result *result, const struct brv_request *request, const struct brv_options *options)
{
    struct brv_error error = {.place = ""};
    struct brv_control control;
    brv_patience_begin(&control, options->threads, request->scenario.beam.method == BRV_METHOD_SAMPLED);
    const brv_status status = brv_run_solve(result, &request->scenario, &control, &error);
    brv_patience_end();
    if (!status) return BRV_EXIT_DONE;
    if (status == BRV_MEMORY) {
        fprintf(stderr, "brevis run: out of memory\n");
        return BRV_EXIT_MEMORY;
    }
    fprintf(stderr, "brevis run: %s %s: found %g, allowed %g; nothing was written\n", error.place,
            brv_status_text(status), error.found, error.most);
    return BRV_EXIT_NUMERICS;
}

/* Spots of other widths are drawn beside the answer for a spot; they are not worth failing for. */
static bool solve_spots(struct brv_spots *spots, const struct brv_request *request, const struct brv_options *options)
{
    const struct brv_control control = {.threads = options->threads};
    if (options->given & BRV_OPTION_NO_FIGURES || request->scenario.beam.method == BRV_METHOD_LAYERED) return false;
    return !brv_spots_solve(spots, &request->scenario, BRV_NEIGHBOUR, &control, NULL);
}

static bool stopped(const struct brv_result *result)
{
    return result->site[BRV_LESION].light.stopped || result->site[BRV_NEIGHBOUR].light.stopped;
}

static int write_all(struct brv_directory *directory, const struct brv_options *options, const struct answer *answer)
{
    char reason[REASON_SIZE] = "", target[PATH_SIZE], pictures[BRV_PICTURES_SIZE] = "";
    const int code = write_files(directory, answer);
    if (code) return code;
    if (!(options->given & BRV_OPTION_NO_FIGURES)) draw_figures(pictures, directory, answer, options->threads);

    snprintf(target, sizeof target, "%s", directory->target);
    if (brv_directory_commit(directory, reason, sizeof reason)) {
        fprintf(stderr, "brevis run: %s\n", reason);
        return BRV_EXIT_FILE;
    }
    say(options, answer, target, pictures);
    return BRV_EXIT_DONE;
}

static int answer_request(const struct brv_request *request, const struct brv_options *options)
{
    struct brv_directory directory = {.target = NULL};
    struct brv_result result;
    char target[PATH_SIZE], reason[REASON_SIZE] = "";
    default_target(target, options->word[0]);
    if (brv_directory_begin(&directory, options->out ? options->out : target, (options->given & BRV_OPTION_FORCE) != 0,
                            reason, sizeof reason)) {
        fprintf(stderr, "brevis run: %s\n", reason);
        return BRV_EXIT_FILE;
    }
    int code = solve(&result, request, options);
    if (code == BRV_EXIT_DONE) {
        struct brv_spots spots;
        const bool others = !stopped(&result) && solve_spots(&spots, request, options);
        const struct answer answer = {request, &result, others ? &spots : NULL};
        code = write_all(&directory, options, &answer);
        if (code == BRV_EXIT_DONE && stopped(&result)) code = BRV_EXIT_INTERRUPTED;
        brv_run_free(&result);
    }
    brv_directory_abandon(&directory);
    return code;
}

/* A title that speaks of the file would be wrong after --set: what was changed is added to it, as far as it fits. */
static void say_changes(struct brv_request *request, const struct brv_options *options)
{
    static const char more[] = ", ...";
    char *title = request->title;
    const size_t room = sizeof request->title - sizeof more;
    size_t used = strlen(title);
    for (size_t i = 0; i < options->n_set; i++) {
        const char *before = i ? ", " : " | changed: ";
        if (!strncmp(options->set[i], "title=", 6)) continue;
        if (used + strlen(before) + strlen(options->set[i]) > room) {
            snprintf(title + used, sizeof request->title - used, "%s", more);
            return;
        }
        used += (size_t)snprintf(title + used, sizeof request->title - used, "%s%s", before, options->set[i]);
    }
}

int brv_command_run(int argc, char *argv[])
{
    struct brv_options options;
    const int stop =
        brv_options_read(&options, argc, argv, BRV_RUN_OPTIONS, 1, 1, "one scenario file, or - for standard input");
    if (stop >= 0) return stop;

    struct brv_request request;
    struct brv_faults faults = {.n = 0};
    int code = brv_request_read(&request, options.word[0], options.set, options.n_set, &faults);
    brv_faults_print(&faults, stderr);
    brv_faults_free(&faults);
    if (code == BRV_EXIT_DONE) {
        say_changes(&request, &options);
        code = answer_request(&request, &options);
    }
    return code;
}
