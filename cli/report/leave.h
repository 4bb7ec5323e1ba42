/* What is undone when the program is told to go: Ctrl-C, the terminal closed, `kill`, a limit on its time. Programs that it started are ended
 * and the directory that is written aside is removed; then the signal does what it always does, so that a shell sees exit
 * code 130 for Ctrl-C. A signal that was ignored when the program began (nohup) stays ignored. `kill -9` undoes nothing:
 * what it leaves behind the next command into the same target clears away (report/directory.h).
 * Proof: tests/cli/gnuplot.sh.                                                                                      */
#ifndef BRV_CLI_REPORT_LEAVE_H
#define BRV_CLI_REPORT_LEAVE_H

#include <signal.h>
#include <stdbool.h>
#include <sys/types.h>

/* From now on `folder`, which holds files and no folders, is removed; NULL: it is kept. One at a time. Until then a reader of
 * stderr or stdout who has gone ends nothing (SIGPIPE).                                                              */
void brv_leave_remove(const char *folder);

/* Undoes it all: when the process ends otherwise than by a signal or by returning from main. */
void brv_leave_now(void);

/* Removes the files in a folder, and the folder when they were all that it held. Asks for no memory. */
void brv_leave_empty(const char *folder);

/* Around the start of a child, so that none is missed: hold, start, brv_leave_end. Holding blocks those signals in this
 * thread; `before` is what the child's mask is to be. False: the program is going, nothing is to be started and nothing
 * is held.                                                                                                         */
bool brv_leave_hold(sigset_t *before);

/* From now on the process group `child` is ended (0: none was started), and this thread's signals are as before. Returns a
 * place for brv_leave_ended, -1 for none.                                                                           */
int brv_leave_end(pid_t child, const sigset_t *before);

/* It has ended by itself. */
void brv_leave_ended(int place);

#endif
