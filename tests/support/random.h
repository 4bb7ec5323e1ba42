/* Random scenarios over everything the key table allows, and scenarios as the text of a file.
 * A scenario depends on the seed and its number alone, so that one can be repeated without the others. Numbers are
 * drawn with six digits: the text printed for a failure holds them exactly.                                      */
#ifndef BRV_TESTS_SUPPORT_RANDOM_H
#define BRV_TESTS_SUPPORT_RANDOM_H

#include "scenario/keys.h"

#include <gsl/gsl_rng.h>
#include <stdio.h>

/* BREVIS_SEED of the environment, or the fixed one. */
unsigned long random_seed(void);

/* The generator of one scenario; the caller frees it. */
gsl_rng *random_stream(unsigned long seed, size_t number);

double random_even(gsl_rng *random, double least, double most);
double random_decades(gsl_rng *random, double least, double most); /* even in the logarithm */

/* 1-6 layers; not yet filled. */
struct brv_scenario random_scenario(gsl_rng *random);

/* Pushes one to three given numbers out of their ranges, at random, or not a number. */
void random_spoil(gsl_rng *random, struct brv_scenario *ask);

/* What is given, as a scenario file. `units` 0: m, s, J, K; 1: um, ns, mJ, degC and other everyday units. */
void random_write(FILE *file, const struct brv_scenario *ask, int units);

#endif
