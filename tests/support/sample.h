/* A sound scenario to start from in tests: 532 nm, 7 ns square, 4 mm, 0.6 J/cm2, ready light skin. */
#ifndef BRV_TESTS_SUPPORT_SAMPLE_H
#define BRV_TESTS_SUPPORT_SAMPLE_H

#include "scenario/keys.h"

/* Not yet filled: call brv_scenario_fill after changing it. */
struct brv_scenario sample_scenario(void);

/* Marks a key as given. */
void sample_give(void *scope_struct, enum brv_scope scope, const char *name);

/* Sets a number in both skins and marks it; scope is layer or grain. */
void sample_set(struct brv_scenario *ask, enum brv_scope scope, size_t layer, const char *name, double value);

#endif
