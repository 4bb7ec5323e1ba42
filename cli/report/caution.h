/* The cautions that stand on every output. Sources: docs/cautions.md. */
#ifndef BRV_CLI_REPORT_CAUTION_H
#define BRV_CLI_REPORT_CAUTION_H

#include <stddef.h>

extern const char *const brv_cautions[]; /* one sentence or two each, under 100 characters a line */
extern const size_t brv_n_cautions;

#endif
