/* The table of commands, and the one way out of the program. */
#include "command/command.h"
#include "command/options.h"
#include "scenario/nearest.h"

#include <gsl/gsl_errno.h>

#include <errno.h>
#include <stdbool.h>
#include <stdio.h>
#include <string.h>

#ifndef BRV_VERSION
#define BRV_VERSION "0.1.0"
#endif

static int command_help(int argc, char *argv[]);

const struct brv_command brv_commands[] = {
    {"run", "what happens in this skin under this pulse", "[OPTIONS] SCENARIO", BRV_RUN_OPTIONS, brv_command_run},
    {"check", "is this scenario sound", "[OPTIONS] SCENARIO...", BRV_CHECK_OPTIONS, brv_command_check},
    {"explain", "what may stand in a scenario: unit, range, default, source", "[OPTIONS] [SECTION or KEY, or terms]",
     BRV_EXPLAIN_OPTIONS, brv_command_explain},
    {"tissue", "the layers' optical and thermal numbers at this wavelength", "[OPTIONS] SCENARIO", BRV_TISSUE_OPTIONS,
     brv_command_tissue},
    {"compare", "several scenarios, or the choices inside one, side by side", "[OPTIONS] SCENARIO...",
     BRV_COMPARE_OPTIONS, brv_command_compare},
    {"ladder", "test spots: your own steps of fluence, and what each should show", "[OPTIONS] SCENARIO",
     BRV_LADDER_OPTIONS, brv_command_ladder},
    {"sweep", "a curve or a map over one or two keys", "--vary KEY=FROM..TO:N[:log] [OPTIONS] SCENARIO",
     BRV_SWEEP_OPTIONS, brv_command_sweep},
    {"window", "where pulse width and fluence disrupt pigment, in lesion and neighbour, and heat the layers",
     "[OPTIONS] SCENARIO", BRV_STUDY_OPTIONS, brv_command_window},
    {"spread", "how uncertain the answer is, and which input makes it so", "[OPTIONS] SCENARIO", BRV_SPREAD_OPTIONS,
     brv_command_spread},
    {"visits", "several visits with the same pulse: which pigment is left, and what the doses add up to",
     "[OPTIONS] SCENARIO", BRV_STUDY_OPTIONS, brv_command_visits},
    {"room", "exposure limits by edition, optical density and hazard distances for the people around",
     "[OPTIONS] SCENARIO", BRV_ROOM_OPTIONS, brv_command_room},
    {"cover", "how spots cover an area: skin missed and hit twice, dose, pulses, time, hand", "[OPTIONS] SCENARIO",
     BRV_COVER_OPTIONS, brv_command_cover},
    {"colour", "the measured colour that both skins would have, and what pigment a colour stands for",
     "[OPTIONS] SCENARIO", BRV_STUDY_OPTIONS, brv_command_colour},
    {"output", "readings of your own meter: the fluence they make, its interval, drift, and what the shift does",
     "[OPTIONS] READINGS.csv SCENARIO", BRV_OUTPUT_OPTIONS, brv_command_output},
    {"reported", "published ranges of spot and fluence beside the scenario's own: what was done elsewhere, not advice",
     "[OPTIONS] SCENARIO, or --page", BRV_REPORTED_OPTIONS, brv_command_reported},
    {"lesson", "a ready exercise: question, guess, hand-out to print, and the worked answer", "[OPTIONS] [NAME]",
     BRV_LESSON_OPTIONS, brv_command_lesson},
    {"help", "this list, or one command in full", "[COMMAND]", 0, command_help},
    {NULL, NULL, NULL, 0, NULL}};

static bool asks_for_help(const char *word)
{
    return !strcmp(word, "--help") || !strcmp(word, "-h");
}

static const struct brv_command *command_called(const char *name)
{
    for (const struct brv_command *command = brv_commands; command->name; command++)
        if (!strcmp(command->name, name)) return command;
    return NULL;
}

static void print_commands(FILE *to)
{
    fputs("brevis follows light and heat in skin under one short pulse: a model to learn from, not to treat by.\n\n"
          "  brevis COMMAND [OPTIONS] SCENARIO...\n\n",
          to);
    for (const struct brv_command *command = brv_commands; command->name; command++)
        fprintf(to, "  %-9s %s\n", command->name, command->answers);
    fputs("\nA scenario is a text file; `-` reads it from standard input. More: brevis help COMMAND\n", to);
}

static int unknown_command(const char *name)
{
    struct brv_nearest nearest = {.word = name};
    for (const struct brv_command *command = brv_commands; command->name; command++)
        brv_nearest_offer(&nearest, command->name);
    fprintf(stderr, "brevis: there is no command %s", name);
    if (nearest.best) fprintf(stderr, "; did you mean %s?", nearest.best);
    fputs(nearest.best ? "\n" : "; `brevis help` lists them\n", stderr);
    return BRV_EXIT_USAGE;
}

int brv_command_help(const char *name)
{
    const struct brv_command *command = command_called(name);
    if (!command) return unknown_command(name);
    printf("brevis %s %s\n\n  %s\n", command->name, command->usage, command->answers);
    if (command->run != command_help) {
        putchar('\n');
        brv_options_help(command->options);
    }
    return BRV_EXIT_DONE;
}

static int command_help(int argc, char *argv[])
{
    if (argc > 2) {
        fputs("brevis help: one command at a time\n", stderr);
        return BRV_EXIT_USAGE;
    }
    if (argc == 2 && !asks_for_help(argv[1])) return brv_command_help(argv[1]);
    print_commands(stdout);
    return BRV_EXIT_DONE;
}

static int run_command(int argc, char *argv[])
{
    if (argc < 2) { /* asked for nothing: shown how to ask */
        print_commands(stderr);
        return BRV_EXIT_USAGE;
    }
    if (asks_for_help(argv[1])) {
        print_commands(stdout);
        return BRV_EXIT_DONE;
    }
    if (!strcmp(argv[1], "--version")) {
        puts("brevis " BRV_VERSION);
        return BRV_EXIT_DONE;
    }
    const struct brv_command *command = command_called(argv[1]);
    return command ? command->run(argc - 1, argv + 1) : unknown_command(argv[1]);
}

/* A full disk shows only when the last bytes are written out. */
static int output_closed(int code)
{
    errno = 0;
    const int failed = ferror(stdout);
    if (!fclose(stdout) && !failed) return code;
    fprintf(stderr, "brevis: standard output cannot be written%s%s\n", errno ? ": " : "", errno ? strerror(errno) : "");
    return code == BRV_EXIT_DONE ? BRV_EXIT_FILE : code;
}

int main(int argc, char *argv[])
{
    gsl_set_error_handler_off(); /* GSL would abort; its statuses are looked at instead */
    return output_closed(run_command(argc, argv));
}
