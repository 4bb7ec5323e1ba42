/* Keys that say the same thing in two ways, so that only one of them can be given. */
#ifndef BRV_CLI_SCENARIO_RIVAL_H
#define BRV_CLI_SCENARIO_RIVAL_H

#include <stdbool.h>

/* `section` as brv_scope_name gives it: "light", "skin", ... */
bool brv_rival(const char *section, const char *key, const char *other);

/* Does another key mean nothing once this one has this value? No rate of one pulse, no end of still air. */
bool brv_moot(const char *section, const char *key, const char *value, const char *other);

#endif
