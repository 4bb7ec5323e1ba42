/* The file in which a sweep keeps its finished points, so that a killed one goes on and several machines share one.
 * Part I of N holds points I - 1, I - 1 + N, ... in this order, as text:
 *     brevis part 1, program 0.1.0, scenario HASH, sweep HASH, points 27, part 2 of 3; SUM
 *     1,NUMBERS,SUM
 * The numbers of a point are value, low and high of every headline in the order of enum brv_headline, lesion then
 * neighbour, each the shortest decimal that reads back as the same double; empty: there is none. SUM is the FNV-1a, 64
 * bit, of the line before it, so that a line that was cut off by a crash or a full disk is known and dropped. Lines are
 * appended and synced batch by batch. Two machines with one version of the program write the same bytes.         */
#ifndef BRV_CLI_REPORT_PART_H
#define BRV_CLI_REPORT_PART_H

#include "scenario/fault.h"
#include "study/headline.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdio.h>

struct brv_part_head {
    const char *version, *scenario, *sweep; /* the program's, and two hashes */
    size_t points;                          /* of the sweep */
    unsigned part, parts;                   /* from 1 */
};

struct brv_part {
    struct brv_part_head head;
    char *path;      /* owned */
    int file;        /* descriptor, locked as long as it is open; 0: none */
    size_t n, done;  /* points of this part, and how many of them are on disk */
    long long whole; /* bytes that are good */
};

/* Opens or begins FOLDER/I_of_N and reads the points that are there into rows[points]. A torn last line is dropped.
 * What belongs to another scenario, other values or another version of the program, what is damaged further up, and what
 * another run is writing is refused, with file and line; `force` begins anew instead, but never beside another run.
 * Returns 0 or exit code 4.                                                                                       */
int brv_part_open(struct brv_part *part, const char *folder, const struct brv_part_head *head, bool force,
                  struct brv_headlines rows[], struct brv_faults *faults);

/* The point of the sweep that is the k-th of this part. */
size_t brv_part_point(const struct brv_part *part, size_t k);

/* Appends the next n points, rows[0 .. n - 1], and waits until they are on disk. 0, or exit code 4 with a fault; the file
 * then ends where it did.                                                                                         */
int brv_part_add(struct brv_part *part, const struct brv_headlines rows[], size_t n, struct brv_faults *faults);

/* Removes the file, and its folder when nothing else stands there. */
void brv_part_remove(struct brv_part *part);

void brv_part_close(struct brv_part *part);

/* Reads the parts in `folder` into rows[points]: those of one number of parts, all of them there and whole. `head` says
 * what is wanted, but for part and parts. Every fault is listed. Returns 0 or exit code 4.                         */
int brv_part_join(const char *folder, const struct brv_part_head *head, struct brv_headlines rows[],
                  struct brv_faults *faults);

#endif
