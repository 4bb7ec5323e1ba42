#include "command/frame.h"

#include "command/command.h"
#include "report/complain.h"
#include "report/words.h"
#include "scenario/document.h"
#include "scenario/keys.h"
#include "command/patience.h"
#include "report/terminal.h"
#include "scenario/letters.h"
#include "scenario/path.h"

#include <errno.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>

enum { REASON_SIZE = 512 };

/* ---- the scenario ---- */

/* A title that speaks of the file would be wrong after --set: what was changed is added to it, as far as it fits. */
void brv_frame_say_changes(struct brv_request *request, const struct brv_options *options)
{
    static const char more[] = ", ...";
    char *title = request->title;
    const size_t room = sizeof request->title - sizeof more;
    const char *before = " | changed: ";
    size_t used = strlen(title);
    for (size_t i = 0; i < options->n_set; i++) {
        if (!strncmp(options->set[i], "title=", 6)) continue;
        if (used + strlen(before) + strlen(options->set[i]) > room) {
            snprintf(title + used, sizeof request->title - used, "%s", more);
            return;
        }
        used += (size_t)snprintf(title + used, sizeof request->title - used, "%s%s", before, options->set[i]);
        before = ", ";
    }
}

/* Who reads a section that belongs to one command; NULL: it is for all. */
static const char *reader_of(const char *path)
{
    static const char *const own[][2] = {{"cover", "cover"},   {"room", "room"},       {"visits", "visits"},
                                         {"spread", "spread"}, {"choices", "compare"}, {"ladder", "ladder"}};
    const size_t length = strcspn(path, ".=");
    for (size_t i = 0; i < sizeof own / sizeof *own; i++)
        if (strlen(own[i][0]) == length && !strncmp(own[i][0], path, length)) return own[i][1];
    return NULL;
}

/* The first test spot says the fluence where nothing else does. */
static bool is_fluence(const char *path, const struct brv_scenario *ask)
{
    return !strncmp(path, "ladder", 6) && !brv_key_given(&ask->beam, BRV_SCOPE_LIGHT, "fluence") &&
           !brv_key_given(&ask->beam, BRV_SCOPE_LIGHT, "energy");
}

void brv_frame_tell_unread(const struct brv_scenario *ask, const struct brv_options *options)
{
    if (options->given & BRV_OPTION_QUIET) return;
    for (size_t i = 0; i < options->n_set; i++) {
        const char *path = options->set[i], *reader = reader_of(path);
        const int length = (int)strcspn(path, "=");
        if (reader && strcmp(reader, options->command) && !is_fluence(path, ask))
            brv_complain("brevis %s: --set %.*s changes nothing that is computed here; `brevis %s` reads it",
                         options->command, length, path, reader);
        else if (brv_path_is_of_walk(path) && ask->beam.method != BRV_METHOD_SAMPLED)
            brv_complain("brevis %s: --set %.*s changes nothing here; it is read with light.method: sampled only",
                         options->command, length, path);
    }
}

int brv_frame_request(struct brv_request *request, const struct brv_options *options)
{
    struct brv_faults faults = {.n = 0};
    const int code = brv_request_read(request, options->word[0], options->set, options->n_set, &faults);
    brv_faults_print(&faults, stderr);
    brv_faults_free(&faults);
    if (code == BRV_EXIT_DONE) {
        brv_frame_say_changes(request, options);
        brv_frame_tell_unread(&request->scenario, options);
    }
    return code;
}

/* ---- the text of it ---- */

int brv_frame_load(struct brv_origin *origin, const char *path, struct brv_faults *faults)
{
    *origin = (struct brv_origin){.path = path};
    return brv_document_load(&origin->text, &origin->size, path, faults);
}

void brv_frame_forget(struct brv_origin *origin)
{
    free(origin->text);
    *origin = (struct brv_origin){.path = origin->path};
}

int brv_frame_request_kept(struct brv_request *request, struct brv_origin *origin, const struct brv_options *options)
{
    struct brv_faults faults = {.n = 0};
    const char *path = options->word[0];
    int code = brv_frame_load(origin, path, &faults);
    if (!code)
        code = brv_request_parse(request, brv_document_called(path), origin->text, origin->size, options->set,
                                 options->n_set, &faults);
    brv_faults_print(&faults, stderr);
    brv_faults_free(&faults);
    if (!code) {
        brv_frame_say_changes(request, options);
        brv_frame_tell_unread(&request->scenario, options);
    }
    return code;
}

struct brv_report brv_frame_report(const struct brv_frame *frame, const struct brv_options *options)
{
    return (struct brv_report){.command = frame->command,
                               .n_set = options->n_set,
                               .set = options->set,
                               .folder = frame->directory.part,
                               .wanted_figures = !(options->given & BRV_OPTION_NO_FIGURES)};
}

/* ---- the directory ---- */

static void default_target(char target[BRV_FRAME_PATH_SIZE], const char *scenario, const char *command)
{
    const bool run = !strcmp(command, "run");
    const char *slash = strrchr(scenario, '/');
    const char *name = slash ? slash + 1 : scenario;
    const char *dot = strrchr(name, '.');
    const size_t length = dot && dot > name ? (size_t)(dot - name) : strlen(name);
    if (!strcmp(scenario, "-"))
        snprintf(target, BRV_FRAME_PATH_SIZE, "out/stdin%s%s", run ? "" : "-", run ? "" : command);
    else
        snprintf(target, BRV_FRAME_PATH_SIZE, "out/%.*s%s%s",
                 (int)(length < 200 ? length : brv_letters_bytes(name, 200)), name, run ? "" : "-", run ? "" : command);
}

void brv_frame_target(char target[BRV_FRAME_PATH_SIZE], const char *command, const struct brv_options *options,
                      const char *scenario)
{
    if (options->out)
        snprintf(target, BRV_FRAME_PATH_SIZE, "%s", options->out);
    else
        default_target(target, scenario, command);
    for (size_t n = strlen(target); n > 1 && target[n - 1] == '/'; n--) target[n - 1] = '\0';
}

int brv_frame_begin(struct brv_frame *frame, const char *command, const struct brv_options *options,
                    const char *scenario)
{
    char target[BRV_FRAME_PATH_SIZE], reason[REASON_SIZE] = "";
    *frame = (struct brv_frame){.command = command};
    brv_frame_target(target, command, options, scenario);
    if (!brv_directory_begin(&frame->directory, target, (options->given & BRV_OPTION_FORCE) != 0, reason,
                             sizeof reason)) {
        snprintf(frame->target, sizeof frame->target, "%s", frame->directory.target);
        return BRV_EXIT_DONE;
    }
    brv_complain("brevis %s: %s", command, reason);
    return BRV_EXIT_FILE;
}

int brv_frame_write(const struct brv_frame *frame, const char *name, brv_frame_writer *write, const void *answer)
{
    FILE *to = brv_directory_open(&frame->directory, name);
    if (to) write(to, answer);
    if (to && !brv_directory_close(to)) return BRV_EXIT_DONE;
    brv_complain("brevis %s: cannot write %s/%s: %s", frame->command, frame->directory.target, name, strerror(errno));
    return BRV_EXIT_FILE;
}

int brv_frame_write_files(const struct brv_frame *frame, const struct brv_frame_file file[], size_t n,
                          const void *answer)
{
    int code = BRV_EXIT_DONE;
    for (size_t i = 0; i < n && !code; i++) code = brv_frame_write(frame, file[i].name, file[i].write, answer);
    return code;
}

void brv_frame_draw(const struct brv_frame *frame, const struct brv_figure figure[], size_t n,
                    const struct brv_options *options, char pictures[BRV_PICTURES_SIZE])
{
    char reason[REASON_SIZE] = "";
    *pictures = '\0';
    if (options->given & BRV_OPTION_NO_FIGURES) return;
    struct brv_control control;
    brv_patience_begin(&control, options->threads, 0, "pictures");
    brv_gnuplot_draw(figure, n, frame->directory.part, options->threads, pictures, reason, sizeof reason);
    brv_patience_end();
    if (*reason) brv_complain("brevis %s: figures are missing: %s", frame->command, reason);
}

int brv_frame_commit(struct brv_frame *frame)
{
    char reason[REASON_SIZE] = "";
    if (!brv_directory_commit(&frame->directory, reason, sizeof reason)) return BRV_EXIT_DONE;
    brv_complain("brevis %s: %s", frame->command, reason);
    return BRV_EXIT_FILE;
}

struct names {
    const char *target, *pictures, *text;
};

static void write_names(FILE *to, const void *what)
{
    const struct names *names = what;
    if (*names->pictures)
        fprintf(to, "OPEN     %s: %s\n         also as .svg; %s\n", names->target, names->pictures, names->text);
    else
        fprintf(to, "FILES    %s: %s\n", names->target, names->text);
}

void brv_frame_name_files(const struct brv_frame *frame, const char *pictures, const char *text)
{
    char target[BRV_FRAME_PATH_SIZE];
    const struct names names = {brv_letters_shown(target, sizeof target, frame->target), pictures, text};
    brv_terminal_tell(write_names, &names);
}

/* Names between commas go on below where a line would be too long. */
static void write_list(FILE *to, size_t column, const char *names)
{
    for (const char *name = names; *name;) {
        const char *comma = strstr(name, ", ");
        const size_t length = comma ? (size_t)(comma - name) + 1 : strlen(name);
        if (column + 1 + length > BRV_WORDS_WIDTH && column > BRV_WORDS_INDENT) {
            fprintf(to, "\n%*s", BRV_WORDS_INDENT - 1, "");
            column = BRV_WORDS_INDENT - 1;
        }
        fprintf(to, " %.*s", (int)length, name);
        column += 1 + length;
        name += length + (comma ? 1 : 0);
    }
}

static void write_report_first(FILE *to, const void *what)
{
    const struct names *names = what;
    char list[BRV_PICTURES_SIZE + 160];
    snprintf(list, sizeof list, "report.html, %s%s%.100s", names->pictures, *names->pictures ? " (also as .svg), " : "",
             names->text);
    fprintf(to, "%-*s%s:", BRV_WORDS_INDENT, "OPEN", names->target);
    write_list(to, BRV_WORDS_INDENT + brv_letters_columns(names->target, strlen(names->target)) + 1, list);
    fputc('\n', to);
}

void brv_frame_name_report(const struct brv_frame *frame, const char *pictures, const char *text)
{
    char target[BRV_FRAME_PATH_SIZE];
    const struct names names = {brv_letters_shown(target, sizeof target, frame->target), pictures, text};
    brv_terminal_tell(write_report_first, &names);
}

void brv_frame_abandon(struct brv_frame *frame)
{
    brv_directory_abandon(&frame->directory);
}

/* ---- what went wrong ---- */

int brv_frame_failed(const char *command, brv_status status, const struct brv_error *error)
{
    if (!status) return BRV_EXIT_DONE;
    if (status == BRV_MEMORY) {
        fprintf(stderr, "brevis %s: out of memory\n", command);
        return BRV_EXIT_MEMORY;
    }
    fprintf(stderr, "brevis %s: %s %s: found %g, allowed %g; nothing was written\n", command, error->place,
            brv_status_text(status), error->found, error->most);
    return BRV_EXIT_NUMERICS;
}
