/* A program that is started without a shell and may take only so long. It reads nothing, what it writes is thrown away,
 * and the last line of what it complains of is kept. It leads a process group of its own, so that what it starts ends with
 * it. May be called from several threads at a time. Proof: tests/cli/gnuplot.sh.                                    */
#ifndef BRV_CLI_REPORT_CHILD_H
#define BRV_CLI_REPORT_CHILD_H

#include <stdatomic.h>
#include <stddef.h>

enum brv_child_end {
    BRV_CHILD_DONE,        /* exit code 0 */
    BRV_CHILD_FAILED,      /* another one, or ended by a signal */
    BRV_CHILD_MISSING,     /* there is no such program */
    BRV_CHILD_NOT_STARTED, /* it could not be started */
    BRV_CHILD_TOO_LONG,    /* it was ended after `limit` seconds */
    BRV_CHILD_CALLED_OFF   /* it was ended because `call_off` was set */
};

/* Runs argument[0], looked for in the folders of PATH that are named from / on, to its end. `said` then holds, fit for one line of a terminal, what it said last;
 * or why it was not started, or which signal ended it, where it said nothing.                                       */
enum brv_child_end brv_child_run(char *const argument[], char *const environment[], double limit,
                                 const atomic_bool *call_off, char *said, size_t room);

#endif
