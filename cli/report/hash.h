/* The scenario's hash: of the filled scenario in SI, so that other units give the same one. Titles and names of
 * layers do not enter; test spots, film, cover, room and visits do where they stand.
 * FNV-1a, 64 bit, over every key's value at twelve digits.                                                      */
#ifndef BRV_CLI_REPORT_HASH_H
#define BRV_CLI_REPORT_HASH_H

#include "scenario/scenario.h"

enum { BRV_HASH_SIZE = 17 };

/* Sixteen hexadecimal digits. Returns `out`. */
const char *brv_hash_scenario(char out[BRV_HASH_SIZE], const struct brv_scenario *ask);

#endif
