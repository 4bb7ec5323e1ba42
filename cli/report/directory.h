/* A result directory that is whole or not there: written aside as `.NAME.part-PID` in the same parent, synced, and
 * moved into place at once. See docs/reference/results.md.
 *   - a new target: renamed into place;
 *   - a target that exists and may be replaced: exchanged in one step (renameat2 RENAME_EXCHANGE), the old one then
 *     removed; where the file system refuses that: old to `.NAME.old`, new in, old removed;
 *   - a leftover `.NAME.old` without its target is put back by the next command that touches the target; leftovers
 *     `.NAME.part-*` whose process is gone are removed by it;
 *   - a second run into the same target is refused while the first one is at work;
 *   - only a result is ever replaced: a directory that is empty, or that holds one of the marks as this program writes it and
 *     nothing but files of the kinds that it writes. No link is followed but in the folders above the target.     */
#ifndef BRV_CLI_REPORT_DIRECTORY_H
#define BRV_CLI_REPORT_DIRECTORY_H

#include <stddef.h>
#include <stdio.h>

#define BRV_DIRECTORY_MARK  "summary.json" /* a result has it, and hardly any other directory, */
#define BRV_DIRECTORY_CARD  "card.html"    /* or, where no file may be read by a machine, this, */
#define BRV_DIRECTORY_SHEET "handout.html" /* or, of a lesson, this */

struct brv_directory {
    char *target; /* owned; where it will stand */
    char *part;   /* owned; where it is written */
    int force;
    int lock; /* descriptor of `part`, locked as long as it is written; 0: none */
};

/* Makes the parents and the directory aside. An existing target without `force`, or anything that cannot be made, is
 * said in `reason` and returns exit code 4, and nothing is left behind. Call before computing.                    */
int brv_directory_begin(struct brv_directory *directory, const char *target, int force, char *reason, size_t room);

/* Opens NAME in the directory aside for writing; NULL on failure (errno says why). */
FILE *brv_directory_open(const struct brv_directory *directory, const char *name);

/* Closes a file opened above: flushed, synced, errors checked. 0, or -1 (errno says why; a full disk shows here). */
int brv_directory_close(FILE *file);

/* Moves it into place. 0, or exit code 4 with `reason`; the old result is then still whole. Empties `directory`. */
int brv_directory_commit(struct brv_directory *directory, char *reason, size_t room);

/* Removes what was written aside; may be called on a zeroed struct and after commit. */
void brv_directory_abandon(struct brv_directory *directory);

#endif
