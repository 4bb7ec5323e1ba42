/* What is undone when the program is told to go: Ctrl-C, the terminal closed, `kill`. Programs that it started are ended
 * and the directory that is written aside is removed; then the signal does what it always does, so that a shell sees exit
 * code 130 for Ctrl-C. A signal that was ignored when the program began (nohup) stays ignored. `kill -9` undoes nothing:
 * what it leaves behind the next command into the same target clears away (report/directory.h).
 * Proof: tests/cli/gnuplot.sh.                                                                                      */
#ifndef BRV_CLI_REPORT_LEAVE_H
#define BRV_CLI_REPORT_LEAVE_H

#include <sys/types.h>

/* From now on `folder`, which holds files and no folders, is removed; NULL: it is kept. One at a time. */
void brv_leave_remove(const char *folder);

/* From now on the process group `child` is ended. Returns a place for brv_leave_ended, -1 when there is none left. */
int brv_leave_end(pid_t child);

/* It has ended by itself. */
void brv_leave_ended(int place);

#endif
