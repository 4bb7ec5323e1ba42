/* Long work at a terminal: how far it is and how long it will take, on stderr, or how long it has been at work where
 * nothing is counted; an interrupt asks it to finish early.                                                         */
#ifndef BRV_CLI_COMMAND_PATIENCE_H
#define BRV_CLI_COMMAND_PATIENCE_H

#include "base/control.h"

/* `what` is counted: "photons", "runs". Fills `control`, whose progress may be told by any thread, and, when
 * `interruptible`, takes SIGINT: the first one asks the work to stop, a second one ends the program as usual. Says nothing
 * unless stderr is a terminal, and nothing in the first second. To be ended before another begins.                  */
void brv_patience_begin(struct brv_control *control, unsigned threads, int interruptible, const char *what);

/* Gives SIGINT back and clears the line of progress. */
void brv_patience_end(void);

#endif
