/* The known word that a mistyped one was probably meant to be. */
#ifndef BRV_CLI_SCENARIO_NEAREST_H
#define BRV_CLI_SCENARIO_NEAREST_H

#include <stddef.h>

/* Letters to insert, delete, change, or swap with their neighbour to turn one word into the other; case is free.
 * Words of more than 40 bytes are as far apart as their length.                                                */
size_t brv_nearest_distance(const char *one, const char *other);

/* Collects candidates one by one; `best` is the nearest so far, NULL when none is near enough to be meant. */
struct brv_nearest {
    const char *word;
    const char *best;
    size_t distance;
};

void brv_nearest_offer(struct brv_nearest *nearest, const char *candidate);

#endif
