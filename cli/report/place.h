/* Where the files lie that come with the program: plots/ and scenarios/. Looked for in this order: the folder that the
 * environment variable BREVIS_DATA names, and then nowhere else; share/brevis beside the folder of the program, as
 * `make install` lays them out; the folder above the program's own, as in the build tree; where they were when it was built. */
#ifndef BRV_CLI_REPORT_PLACE_H
#define BRV_CLI_REPORT_PLACE_H

#include <stdbool.h>
#include <stdio.h>

enum { BRV_PLACE_SIZE = 4096 };

/* Full path of one of them, such as "plots/style.gp" or "scenarios/hand_532nm.yaml". False when no such file can be read;
 * `path` then says where it was looked for last.                                                                     */
bool brv_place_find(char path[BRV_PLACE_SIZE], const char *name);

/* Opens the ready file that `path` means when nothing stands at `path` itself, and says on stderr in one line that it does:
 * paths that begin with scenarios/ and do not leave it, so that the commands of the pages work in any folder. NULL: none. */
FILE *brv_place_ready(const char *path);

#endif
