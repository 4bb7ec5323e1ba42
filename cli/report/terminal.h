/* Answers at a terminal: sentences as wide as it is, tables that would run over its edge folded, labels bold and what is
 * grave marked. Into pipes and files text goes as it is, BRV_WORDS_WIDTH wide, with nothing added.
 *   width   COLUMNS, else what the terminal says, 60 at least; sentences are BRV_WORDS_WIDTH wide at most
 *   marks   none where NO_COLOR holds anything, or TERM is missing or `dumb`; they add to what words say and replace none
 * Tests: tests/unit/test_terminal.c, tests/cli/terminal.sh.                                                         */
#ifndef BRV_CLI_REPORT_TERMINAL_H
#define BRV_CLI_REPORT_TERMINAL_H

#include <stdbool.h>
#include <stddef.h>
#include <stdio.h>

enum { BRV_TERMINAL_LEAST = 60, BRV_TERMINAL_MOST = 4096 };

/* Has `write` write its answer to standard output. */
void brv_terminal_tell(void (*write)(FILE *to, const void *answer), const void *answer);

/* The text, line by line, in at most `width` columns, BRV_TERMINAL_MOST at most. A row with a long name goes on below it, a
 * table with short names is parted between columns and goes on below itself, a sentence is broken between words. With
 * `marks` labels at the left margin are bold, CAUTION and HARM red as well, and so are words in capitals under NOTES, where
 * the house writes what is grave in capitals.                                                                       */
void brv_terminal_paint(FILE *to, const char *text, size_t width, bool marks);

#endif
