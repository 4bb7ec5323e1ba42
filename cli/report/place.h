/* Where the files lie that come with the program: plots/ and scenarios/. Looked for in this order: the folder that the
 * environment variable BREVIS_DATA names, and then nowhere else; share/brevis beside the folder of the program, as
 * `make install` lays them out; the folder above the program's own, as in the build tree; where they were when it was built. */
#ifndef BRV_CLI_REPORT_PLACE_H
#define BRV_CLI_REPORT_PLACE_H

#include <stdbool.h>

enum { BRV_PLACE_SIZE = 4096 };

/* Full path of one of them, such as "plots/style.gp" or "scenarios/hand_532nm.yaml". False when no such file can be read;
 * `path` then says where it was looked for last.                                                                     */
bool brv_place_find(char path[BRV_PLACE_SIZE], const char *name);

#endif
