/* The options of all commands: one table, from which they are read and their help is written. */
#ifndef BRV_CLI_COMMAND_OPTIONS_H
#define BRV_CLI_COMMAND_OPTIONS_H

#include <stddef.h>
#include <stdio.h>

enum brv_option {
    BRV_OPTION_OUT = 1 << 0,
    BRV_OPTION_FORCE = 1 << 1,
    BRV_OPTION_JSON = 1 << 2,
    BRV_OPTION_NO_FIGURES = 1 << 3,
    BRV_OPTION_THREADS = 1 << 4,
    BRV_OPTION_CSV = 1 << 5,
    BRV_OPTION_PAGE = 1 << 6,
    BRV_OPTION_SET = 1 << 7,
    BRV_OPTION_QUIET = 1 << 8,
    BRV_OPTION_HELP = 1 << 9, /* every command has it */
    BRV_OPTION_VARY = 1 << 10,
    BRV_OPTION_PART = 1 << 11,
    BRV_OPTION_JOIN = 1 << 12,
    BRV_OPTION_DRAWS = 1 << 13,
    BRV_OPTION_METER_ERROR = 1 << 14,
    BRV_OPTION_SPOT_ERROR = 1 << 15,
    BRV_OPTION_ANSWERS = 1 << 16,
    BRV_OPTION_SEED = 1 << 17,
    BRV_OPTION_SPECTRUM = 1 << 18,
    BRV_OPTION_SHELL = 1 << 19
};

enum { BRV_MOST_SETS = 64, BRV_MOST_VARIES = 2, BRV_OPTIONS_PATH = 4096 /* bytes of --out, with the zero behind it */ };

/* What each command takes. */
#define BRV_RUN_OPTIONS                                                                                                \
    (BRV_OPTION_OUT | BRV_OPTION_FORCE | BRV_OPTION_JSON | BRV_OPTION_NO_FIGURES | BRV_OPTION_THREADS |                \
     BRV_OPTION_SET | BRV_OPTION_QUIET)
#define BRV_CHECK_OPTIONS   (BRV_OPTION_SET | BRV_OPTION_QUIET)
#define BRV_EXPLAIN_OPTIONS BRV_OPTION_PAGE
#define BRV_TISSUE_OPTIONS  (BRV_OPTION_CSV | BRV_OPTION_SPECTRUM | BRV_OPTION_SET)
#define BRV_STUDY_OPTIONS                                                                                              \
    (BRV_OPTION_OUT | BRV_OPTION_FORCE | BRV_OPTION_NO_FIGURES | BRV_OPTION_THREADS | BRV_OPTION_SET | BRV_OPTION_QUIET)
#define BRV_COMPARE_OPTIONS  (BRV_STUDY_OPTIONS | BRV_OPTION_JSON)
#define BRV_LADDER_OPTIONS   (BRV_OPTION_OUT | BRV_OPTION_FORCE | BRV_OPTION_THREADS | BRV_OPTION_SET | BRV_OPTION_QUIET)
#define BRV_ROOM_OPTIONS     BRV_LADDER_OPTIONS
#define BRV_SWEEP_OPTIONS    (BRV_STUDY_OPTIONS | BRV_OPTION_VARY | BRV_OPTION_PART | BRV_OPTION_JOIN)
#define BRV_COVER_OPTIONS    (BRV_STUDY_OPTIONS | BRV_OPTION_JSON)
#define BRV_SPREAD_OPTIONS   (BRV_STUDY_OPTIONS | BRV_OPTION_DRAWS)
#define BRV_OUTPUT_OPTIONS   (BRV_STUDY_OPTIONS | BRV_OPTION_JSON | BRV_OPTION_METER_ERROR | BRV_OPTION_SPOT_ERROR)
#define BRV_REPORTED_OPTIONS (BRV_STUDY_OPTIONS | BRV_OPTION_JSON | BRV_OPTION_PAGE)
#define BRV_LESSON_OPTIONS                                                                                             \
    (BRV_OPTION_OUT | BRV_OPTION_FORCE | BRV_OPTION_NO_FIGURES | BRV_OPTION_THREADS | BRV_OPTION_ANSWERS |             \
     BRV_OPTION_SEED | BRV_OPTION_QUIET)
#define BRV_HELP_OPTIONS (BRV_OPTION_PAGE | BRV_OPTION_SHELL)

struct brv_options {
    const char *command;            /* who reads them */
    unsigned given;                 /* bits of enum brv_option */
    const char *out;                /* NULL: not given */
    const char *set[BRV_MOST_SETS]; /* [n_set] "PATH=VALUE" */
    size_t n_set;
    unsigned threads;                  /* 0: not given */
    const char *vary[BRV_MOST_VARIES]; /* [n_vary] "KEY=FROM..TO:N" */
    size_t n_vary;
    unsigned part, parts;                 /* of --part I/N; 0: not given */
    unsigned draws;                       /* 0: not given */
    unsigned seed;                        /* of --seed; see `given` */
    const char *meter_error, *spot_error; /* as written; NULL: not given */
    const char *shell;                    /* as written; NULL: not given */
    char **word;                          /* [n_word] what is not an option: scenarios, a key */
    int n_word;
};

/* Reads argv[1..] of a command that takes the options `allowed` and from `least` to `most` other words (`wanted` names
 * them in the message). -1: go on; otherwise the exit code: after --help, or after a fault said on stderr.        */
int brv_options_read(struct brv_options *options, int argc, char *argv[], unsigned allowed, int least, int most,
                     const char *wanted);

/* The name of the first option of the table among the bits `given`, to be named in a refusal; NULL: none is. */
const char *brv_options_first(unsigned given);

/* Writes the help lines of `allowed` to stdout. */
void brv_options_help(unsigned allowed);

/* A row of the table, for pages and completion; NULL behind the last one. */
struct brv_option_row {
    unsigned bit;
    const char *name, *value, *text; /* `value` NULL: takes none */
};
const struct brv_option_row *brv_options_row(size_t i);

enum { BRV_HELP_WIDTH = 80 }; /* of a terminal, at which help is broken */

/* Writes `text`, broken between words; the cursor stands at `indent`, where further lines begin too. */
void brv_options_wrap(FILE *to, const char *text, size_t indent);

#endif
