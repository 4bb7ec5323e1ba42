/* A sound scenario to start from in tests: 532 nm, 7 ns square, 4 mm, 0.6 J/cm2, ready light skin. */
#ifndef BRV_TESTS_SUPPORT_SAMPLE_H
#define BRV_TESTS_SUPPORT_SAMPLE_H

#include "light/layered.h"
#include "scenario/keys.h"

#include <stdbool.h>

/* Not yet filled: call brv_scenario_fill after changing it. */
struct brv_scenario sample_scenario(void);

/* Marks a key as given. */
void sample_give(void *scope_struct, enum brv_scope scope, const char *name);

/* Sets a number in both skins and marks it; scope is layer or grain. */
void sample_set(struct brv_scenario *ask, enum brv_scope scope, size_t layer, const char *name, double value);

/* Writes the media of one ready skin at one wavelength [m]; returns how many, at most BRV_MOST_LAYERS. */
size_t sample_media(struct brv_medium *media, double wavelength, enum brv_preset preset);

/* Is this fault of this key the only one of a scenario, which need not be filled? */
bool sample_is_only_fault(const struct brv_scenario *ask, brv_status status, enum brv_scope scope, const char *name);

#endif
