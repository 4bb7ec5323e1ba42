/* Random scenarios over everything the key table allows, and scenarios as the text of a file.
 * A scenario depends on the seed and its number alone, so that one can be repeated without the others. Numbers are
 * drawn with six digits: the text printed for a failure holds them exactly.                                      */
#ifndef BRV_TESTS_SUPPORT_RANDOM_H
#define BRV_TESTS_SUPPORT_RANDOM_H

#include "scenario/keys.h"

#include <gsl/gsl_rng.h>
#include <stdbool.h>
#include <stdio.h>

#define RANDOM_FIXED_SEED 20240607UL

/* BREVIS_SEED of the environment, or the fixed one. */
unsigned long random_seed(void);

/* The generator of one scenario; the caller frees it. */
gsl_rng *random_stream(unsigned long seed, size_t number);

double random_even(gsl_rng *random, double least, double most);
double random_decades(gsl_rng *random, double least, double most); /* even in the logarithm */

/* 1-6 layers; not yet filled. */
struct brv_scenario random_scenario(gsl_rng *random);

/* One scenario with what is needed to repeat it. */
struct random_case {
    unsigned long seed;
    size_t number;
    struct brv_scenario drawn; /* what is given */
    struct brv_scenario ask;   /* the same, filled */
};

/* Scenario `number` of random_seed(). Fails the test when the check refuses it. */
struct random_case random_case_draw(size_t number);

/* Fails the test unless `holds`, and prints seed, number and the scenario. `found` and `bound` are printed too. */
void random_case_hold(const struct random_case *one, bool holds, const char *what, double found, double bound);

/* Pushes one to three given numbers out of their ranges, at random, or not a number. */
void random_spoil(gsl_rng *random, struct brv_scenario *ask);

/* What is given, as a scenario file. `units` 0: m, s, J, K; 1: um, ns, mJ, degC and other everyday units. */
void random_write(FILE *file, const struct brv_scenario *ask, int units);

#endif
