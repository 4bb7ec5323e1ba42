/* Bytes that claim to be a text: files of scenarios and readings, arguments. Test: tests/unit/test_document.c. */
#ifndef BRV_CLI_SCENARIO_BYTES_H
#define BRV_CLI_SCENARIO_BYTES_H

#include "scenario/fault.h"

#include <stdbool.h>
#include <stddef.h>

/* Are they UTF-8 without control characters? A fault names the place of the first that are not, within `name`. */
bool brv_bytes_are_text(const char *name, const char *text, size_t size, struct brv_faults *faults);

#endif
