/* `brevis sweep`: a curve or a map over one or two keys. Every point is a run of its own; finished points are kept on
 * disk, so that a run that was ended goes on, and several machines can share one sweep.                             */
#include "command/command.h"
#include "command/frame.h"
#include "command/options.h"
#include "command/patience.h"
#include "report/complain.h"
#include "report/hash.h"
#include "report/part.h"
#include "report/sweep.h"
#include "report/terminal.h"
#include "scenario/letters.h"
#include "scenario/points.h"
#include "study/many.h"

#include <math.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <unistd.h>

enum { FOLDER_SIZE = BRV_FRAME_PATH_SIZE + 8, MOST_AT_ONCE = 64 };

struct sweep {
    const struct brv_options *options;
    struct brv_points points;
    struct brv_headlines *rows; /* [points.n] owned */
    struct brv_part_head head;
    char scenario_hash[BRV_HASH_SIZE], sweep_hash[BRV_POINTS_HASH_SIZE];
    char folder[FOLDER_SIZE]; /* of the parts */
};

static bool quiet(const struct sweep *sweep)
{
    return (sweep->options->given & BRV_OPTION_QUIET) != 0;
}

static int refuse(const struct brv_faults *faults, int code)
{
    brv_faults_print(faults, stderr);
    return faults->out_of_memory ? BRV_EXIT_MEMORY : code;
}

static int out_of_memory(void)
{
    fputs("brevis sweep: out of memory\n", stderr);
    return BRV_EXIT_MEMORY;
}

/* ---- what is asked ---- */

static int read_points(struct sweep *sweep)
{
    const struct brv_options *options = sweep->options;
    struct brv_faults faults = {.n = 0};
    int code = brv_points_read(&sweep->points, options->word[0], options->set, options->n_set, options->vary,
                               options->n_vary, &faults);
    if (code) code = refuse(&faults, code);
    brv_faults_free(&faults);
    if (code) return code;
    brv_frame_say_changes(&sweep->points.base, options);
    brv_frame_tell_unread(&sweep->points.base.scenario, options);
    sweep->rows = calloc(sweep->points.n, sizeof *sweep->rows);
    return sweep->rows ? BRV_EXIT_DONE : out_of_memory();
}

static void name_parts(struct sweep *sweep)
{
    char target[BRV_FRAME_PATH_SIZE];
    const struct brv_options *options = sweep->options;
    brv_frame_target(target, "sweep", options, options->word[0]);
    snprintf(sweep->folder, sizeof sweep->folder, "%s.parts", target);
    sweep->head = (struct brv_part_head){
        .version = BRV_VERSION,
        .scenario = brv_hash_scenario(sweep->scenario_hash, &sweep->points.base.scenario),
        .sweep = brv_points_hash(sweep->sweep_hash, &sweep->points),
        .points = sweep->points.n,
        .part = options->part ? options->part : 1,
        .parts = options->parts ? options->parts : 1,
    };
}

/* ---- computing ---- */

/* So many that every thread has a run or two; walks of photons share their threads and come one by one. */
static size_t at_once(const struct sweep *sweep)
{
    const long online = sysconf(_SC_NPROCESSORS_ONLN);
    const size_t threads = sweep->options->threads ? sweep->options->threads : online > 0 ? (size_t)online : 1;
    if (sweep->points.base.scenario.beam.method == BRV_METHOD_SAMPLED) return 1;
    return threads > MOST_AT_ONCE ? MOST_AT_ONCE : threads;
}

static int solve_failed(const struct sweep *sweep, size_t point, brv_status status, const struct brv_error *error)
{
    char values[BRV_POINTS_TEXT_SIZE];
    if (status != BRV_MEMORY)
        brv_complain("brevis sweep: at %s (points before it are kept in %s)",
                     brv_points_text(values, &sweep->points, point), sweep->folder);
    return brv_frame_failed("sweep", status, error);
}

/* Solves the next n points of a part and reads off what is kept of them. A walk of photons that is asked to stop would
 * count less and the point would be another one, so the batch is always finished.                                  */
static int solve_batch(const struct sweep *sweep, const struct brv_part *part, size_t n, struct brv_scenario ask[],
                       struct brv_result result[], struct brv_headlines rows[])
{
    struct brv_error error = {.place = ""};
    const struct brv_control control = {.threads = sweep->options->threads};
    for (size_t i = 0; i < n; i++) {
        struct brv_request request;
        if (brv_points_request(&request, &sweep->points, brv_part_point(part, part->done + i))) return out_of_memory();
        ask[i] = request.scenario;
    }
    const brv_status status = brv_many_solve(result, n, ask, BRV_WITH_SPREADS, &control, &error);
    if (status) return solve_failed(sweep, brv_part_point(part, part->done + (size_t)error.index), status, &error);
    for (size_t i = 0; i < n; i++) {
        brv_headlines_read(&rows[i], &result[i]);
        brv_run_free(&result[i]);
    }
    return BRV_EXIT_DONE;
}

/* Batch by batch to the end of the part, or to where it is asked to stop. */
static int solve_batches(struct sweep *sweep, struct brv_part *part, const struct brv_control *control,
                         struct brv_scenario ask[], struct brv_result result[], struct brv_headlines rows[])
{
    const size_t most = at_once(sweep), before = part->done;
    int code = BRV_EXIT_DONE;
    while (!code && part->done < part->n && !*control->stop) {
        struct brv_faults faults = {.n = 0};
        const size_t left = part->n - part->done, n = left < most ? left : most, first = part->done;
        code = solve_batch(sweep, part, n, ask, result, rows);
        if (!code && brv_part_add(part, rows, n, &faults)) code = refuse(&faults, BRV_EXIT_FILE);
        brv_faults_free(&faults);
        for (size_t i = 0; i < n && !code; i++) sweep->rows[brv_part_point(part, first + i)] = rows[i];
        if (!code && control->progress)
            control->progress(control->context, part->done - before, part->n - before, (double)NAN);
    }
    return code;
}

static int solve_part(struct sweep *sweep, struct brv_part *part)
{
    const size_t n = at_once(sweep);
    struct brv_scenario *ask = malloc(n * sizeof *ask);
    struct brv_result *result = malloc(n * sizeof *result);
    struct brv_headlines *rows = malloc(n * sizeof *rows);
    struct brv_control control;
    int code = BRV_EXIT_MEMORY;
    if (ask && result && rows) {
        brv_patience_begin(&control, sweep->options->threads, 1, "runs");
        code = solve_batches(sweep, part, &control, ask, result, rows);
        const bool stopped = *control.stop && part->done < part->n;
        brv_patience_end();
        if (!code && stopped) {
            brv_complain("brevis sweep: stopped; %zu of %zu points are kept in %s, and the same command goes on",
                         part->done, part->n, part->path);
            code = BRV_EXIT_INTERRUPTED;
        }
    } else {
        out_of_memory();
    }
    free(ask);
    free(result);
    free(rows);
    return code;
}

/* Opens the part, with what is there already, and computes the rest. */
static int fill_part(struct sweep *sweep, struct brv_part *part)
{
    struct brv_faults faults = {.n = 0};
    const bool force = (sweep->options->given & BRV_OPTION_FORCE) != 0;
    int code = brv_part_open(part, sweep->folder, &sweep->head, force, sweep->rows, &faults);
    if (code) code = refuse(&faults, code);
    brv_faults_free(&faults);
    if (code) return code;
    if (part->done && !quiet(sweep))
        brv_complain("brevis sweep: %zu of %zu points were there already, in %s; going on", part->done, part->n,
                     part->path);
    return solve_part(sweep, part);
}

/* ---- results ---- */

static void write_csv(FILE *to, const void *what)
{
    brv_sweep_csv(to, what);
}

static void write_document(FILE *to, const void *what)
{
    brv_sweep_digest(to, what);
}

static void write_summary(FILE *to, const void *what)
{
    brv_sweep_summary(to, what);
}

static int write_all(struct brv_frame *frame, const struct sweep *sweep)
{
    const struct brv_sweep answer = {&sweep->points, sweep->rows};
    char pictures[BRV_PICTURES_SIZE] = "";
    struct brv_sweep_figure drawn = {.marks = ""};
    int code = brv_frame_write(frame, "sweep.csv", write_csv, &answer);
    if (!code) code = brv_frame_write(frame, "summary.json", write_document, &answer);
    if (!code) code = brv_frame_write(frame, "summary.txt", write_summary, &answer);
    if (code) return code;
    brv_sweep_draw(&drawn, &answer);
    brv_frame_draw(frame, &drawn.figure, 1, sweep->options, pictures);
    code = brv_frame_commit(frame);
    if (code || quiet(sweep)) return code;
    brv_terminal_tell(write_summary, &answer);
    brv_frame_name_files(frame, pictures, "summary.txt, summary.json, sweep.csv");
    return code;
}

/* ---- the three ways ---- */

static int run_part(struct sweep *sweep)
{
    struct brv_part part;
    int code = fill_part(sweep, &part);
    if (!code && !quiet(sweep)) {
        fputs("PART     ", stdout);
        brv_letters_tell(stdout, part.path);
        printf(": %zu of %zu points; --join puts all parts together\n", part.n, sweep->points.n);
    }
    brv_part_close(&part);
    return code;
}

static int run_all(struct sweep *sweep)
{
    struct brv_frame frame;
    struct brv_part part = {.path = NULL};
    int code = brv_frame_begin(&frame, "sweep", sweep->options, sweep->options->word[0]);
    if (code) return code;
    code = fill_part(sweep, &part);
    if (!code) code = write_all(&frame, sweep);
    if (!code) brv_part_remove(&part);
    brv_part_close(&part);
    brv_frame_abandon(&frame);
    return code;
}

static int join(struct sweep *sweep)
{
    struct brv_frame frame;
    struct brv_faults faults = {.n = 0};
    int code = brv_part_join(sweep->folder, &sweep->head, sweep->rows, &faults);
    if (code) code = refuse(&faults, code);
    brv_faults_free(&faults);
    if (!code) code = brv_frame_begin(&frame, "sweep", sweep->options, sweep->options->word[0]);
    if (code) return code;
    code = write_all(&frame, sweep);
    brv_frame_abandon(&frame);
    return code;
}

static int answer(struct sweep *sweep)
{
    int code = read_points(sweep);
    if (!code) {
        name_parts(sweep);
        code = sweep->options->given & BRV_OPTION_JOIN ? join(sweep)
               : sweep->options->part                  ? run_part(sweep)
                                                       : run_all(sweep);
    }
    free(sweep->rows);
    brv_points_free(&sweep->points);
    return code;
}

int brv_command_sweep(int argc, char *argv[])
{
    struct brv_options options;
    const int stop =
        brv_options_read(&options, argc, argv, BRV_SWEEP_OPTIONS, 1, 1, "one scenario file, or - for standard input");
    if (stop >= 0) return stop;
    const char *fault = !options.n_vary ? "missing: --vary KEY=FROM..TO:N, such as --vary light.spot=2mm..10mm:9"
                        : options.part && options.given & BRV_OPTION_JOIN ? "--part computes and --join puts together: "
                                                                            "one of them"
                                                                          : NULL;
    if (fault) {
        fprintf(stderr, "brevis sweep: %s\n", fault);
        return BRV_EXIT_USAGE;
    }
    struct sweep *sweep = calloc(1, sizeof *sweep);
    if (!sweep) return out_of_memory();
    sweep->options = &options;
    const int code = answer(sweep);
    free(sweep);
    return code;
}
