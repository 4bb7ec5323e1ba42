/* Help from the tables of commands, options and keys: to the terminal, as manual pages, and as completion for shells.
 * Nothing of it is listed by hand, so a command or an option that is added is in all of them (tests/cli/manual.sh). */
#ifndef BRV_CLI_COMMAND_HELP_H
#define BRV_CLI_COMMAND_HELP_H

#include "command/command.h"

#include <stdbool.h>
#include <stdio.h>

/* The list of commands. It and the help of every command fit a screen of 24 lines of 80 columns. */
void brv_help_list(FILE *to);

/* One command in full, to stdout; returns BRV_EXIT_DONE, or BRV_EXIT_USAGE after saying that there is none. */
int brv_help_command(const char *name);

/* Is this word -h or --help? */
bool brv_help_asked(const char *word);

/* The command of this name, or NULL. */
const struct brv_command *brv_help_called(const char *name);

/* Says on stderr that there is no such command, and what may have been meant; returns BRV_EXIT_USAGE. */
int brv_help_unknown(const char *word);

/* Names of all commands: what the words of `brevis help` may be. */
void brv_help_words(void (*offer)(const char *word, void *to), void *to);

/* Manual pages in mdoc, to stdout: brevis(1), and brevis-scenario(5) of what may stand in a scenario. Dated with the
 * version, so that every build writes the same bytes.                                                              */
void brv_manual_program(void);
void brv_manual_scenario(void);

/* Completion, to stdout. */
void brv_shell_bash(void);
void brv_shell_zsh(void);

#endif
