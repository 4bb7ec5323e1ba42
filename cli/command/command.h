/* The commands: one row and one file each. */
#ifndef BRV_CLI_COMMAND_COMMAND_H
#define BRV_CLI_COMMAND_COMMAND_H

/* Exit codes, the same for every command. */
enum brv_exit {
    BRV_EXIT_DONE = 0,
    BRV_EXIT_USAGE = 2,    /* the words on the command line are wrong */
    BRV_EXIT_REFUSED = 3,  /* the scenario has faults                 */
    BRV_EXIT_FILE = 4,     /* a file cannot be read or written        */
    BRV_EXIT_NUMERICS = 5, /* the arithmetic failed its own check     */
    BRV_EXIT_MEMORY = 6,
    BRV_EXIT_INTERRUPTED = 130
};

struct brv_command {
    const char *name;
    const char *answers;                /* the question it answers, one line */
    const char *usage;                  /* after `brevis NAME` */
    unsigned options;                   /* bits of enum brv_option */
    int (*run)(int argc, char *argv[]); /* argv[0] is the command's name; returns an exit code */
    const char *examples;               /* lines that work in the top folder, without `brevis`; a test runs each */
    void (*words)(void (*offer)(const char *word, void *to), void *to); /* what its words may be; NULL: files */
};

/* Ends with a row whose name is NULL; in main.c. Help, manual page and completion are written from it. */
extern const struct brv_command brv_commands[];

int brv_command_run(int argc, char *argv[]);
int brv_command_check(int argc, char *argv[]);
int brv_command_explain(int argc, char *argv[]);
int brv_command_tissue(int argc, char *argv[]);
int brv_command_compare(int argc, char *argv[]);
int brv_command_ladder(int argc, char *argv[]);
int brv_command_sweep(int argc, char *argv[]);
int brv_command_window(int argc, char *argv[]);
int brv_command_spread(int argc, char *argv[]);
int brv_command_visits(int argc, char *argv[]);
int brv_command_room(int argc, char *argv[]);
int brv_command_cover(int argc, char *argv[]);
int brv_command_colour(int argc, char *argv[]);
int brv_command_output(int argc, char *argv[]);
int brv_command_reported(int argc, char *argv[]);
int brv_command_lesson(int argc, char *argv[]);
int brv_command_help(int argc, char *argv[]);

#endif
