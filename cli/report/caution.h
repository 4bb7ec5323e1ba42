/* The cautions that stand on every output. Sources: docs/cautions.md. */
#ifndef BRV_CLI_REPORT_CAUTION_H
#define BRV_CLI_REPORT_CAUTION_H

#include <stddef.h>

extern const char *const brv_cautions[]; /* a sentence each */
extern const size_t brv_n_cautions;

/* All of them as one text. Returns `out`. */
enum { BRV_CAUTION_SIZE = 900 };
const char *brv_caution_text(char out[BRV_CAUTION_SIZE]);

#endif
