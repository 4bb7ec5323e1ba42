/* What commands share that answer a scenario with a directory of results: reading, opening, writing, what is said when
 * something fails. Every function that returns an exit code has said on stderr why it is not BRV_EXIT_DONE.          */
#ifndef BRV_CLI_COMMAND_FRAME_H
#define BRV_CLI_COMMAND_FRAME_H

#include "base/status.h"
#include "command/options.h"
#include "report/directory.h"
#include "report/gnuplot.h"
#include "report/report.h"
#include "scenario/request.h"

#include <stdio.h>

/* The one scenario that the options name, with what --set changes told in its title. */
int brv_frame_request(struct brv_request *request, const struct brv_options *options);

/* The same, and the text is kept for a report; `origin` is to be freed in every case. */
int brv_frame_request_kept(struct brv_request *request, struct brv_origin *origin, const struct brv_options *options);

/* The text of a scenario, once; standard input is there only once. */
int brv_frame_load(struct brv_origin *origin, const char *path, struct brv_faults *faults);
void brv_frame_forget(struct brv_origin *origin);

/* What a report needs beside its answer, but for the origins. */
struct brv_frame;
struct brv_report brv_frame_report(const struct brv_frame *frame, const struct brv_options *options);

/* Adds to the title what --set changes; brv_frame_request does it already. */
void brv_frame_say_changes(struct brv_request *request, const struct brv_options *options);

/* Says of every --set that nothing in this command reads, that it changes nothing; brv_frame_request does it already. */
void brv_frame_tell_unread(const struct brv_scenario *ask, const struct brv_options *options);

/* Results that are written aside until they are whole. */
enum { BRV_FRAME_PATH_SIZE = BRV_OPTIONS_PATH };
struct brv_frame {
    const char *command;
    struct brv_directory directory;
    char target[BRV_FRAME_PATH_SIZE];
};

/* Where the results go, without making anything: see brv_frame_begin. */
void brv_frame_target(char target[BRV_FRAME_PATH_SIZE], const char *command, const struct brv_options *options,
                      const char *scenario);

/* Makes the directory aside: --out, else out/NAME and the command after a dash for another command than run; NAME is that
 * of the scenario's file, stdin for standard input. Call before computing.                                           */
int brv_frame_begin(struct brv_frame *frame, const char *command, const struct brv_options *options,
                    const char *scenario);

/* Writes one file of it. */
typedef void brv_frame_writer(FILE *to, const void *answer);
int brv_frame_write(const struct brv_frame *frame, const char *name, brv_frame_writer *write, const void *answer);

/* Writes several, up to the first that fails. */
struct brv_frame_file {
    const char *name;
    brv_frame_writer *write;
};
int brv_frame_write_files(const struct brv_frame *frame, const struct brv_frame_file file[], size_t n,
                          const void *answer);

/* Draws the figures whose CSV is written, unless --no-figures; trouble is a warning. `pictures` names what was drawn. */
void brv_frame_draw(const struct brv_frame *frame, const struct brv_figure figure[], size_t n,
                    const struct brv_options *options, char pictures[BRV_PICTURES_SIZE]);

/* Moves it into place. */
int brv_frame_commit(struct brv_frame *frame);

/* Names the figures there on stdout, and in `text` the other files. */
void brv_frame_name_files(const struct brv_frame *frame, const char *pictures, const char *text);

/* The same of a directory with a report, which is named first. */
void brv_frame_name_report(const struct brv_frame *frame, const char *pictures, const char *text);

/* Removes what is still aside. */
void brv_frame_abandon(struct brv_frame *frame);

/* Says why solving failed; returns the exit code, BRV_EXIT_DONE for BRV_OK. */
int brv_frame_failed(const char *command, brv_status status, const struct brv_error *error);

#endif
