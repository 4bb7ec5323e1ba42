/* What the model's check found, in words and with the place in the file. */
#ifndef BRV_CLI_SCENARIO_VERDICT_H
#define BRV_CLI_SCENARIO_VERDICT_H

#include "scenario/walk.h"

/* Checks the filled scenario of a walk and lists its faults. Left out is what follows from a fault that is listed
 * already: a key that could not be read is not missing too, and nothing is said of how layers fit together while
 * one of them is unread.                                                                                     */
void brv_verdict_list(const struct brv_walk *walk);

#endif
