/* report.html of `run` and `compare`: one page to read, to hand on and to print, with everything inside it. In this order:
 * the question and the setting, what happens, the curves, the numbers with low and high, the limits with cautions and
 * sources, the scenario as it was read, and a sheet to fill in by hand.
 * Same bytes for the same scenario, whatever the number of threads; nothing of the machine or the moment stands in it.
 * Tests: tests/cli/report.sh, tests/browser/report.sh.                                                             */
#ifndef BRV_CLI_REPORT_REPORT_H
#define BRV_CLI_REPORT_REPORT_H

#include "report/caption.h"
#include "report/compare.h"

#include <stddef.h>
#include <stdio.h>

/* A scenario as it was read. */
struct brv_origin {
    const char *path; /* as on the command line, `-` for standard input */
    char *text;       /* [size] owned by who read it */
    size_t size;
};

/* What a page needs beside the answer. */
struct brv_report {
    const char *command; /* "run" */
    size_t n_origin;
    const struct brv_origin *origin; /* [n_origin] */
    size_t n_set;
    const char *const *set; /* [n_set] what --set changed, "PATH=VALUE" */
    const char *folder;     /* where the figures are, if there are any */
    bool wanted_figures;    /* false: --no-figures */
};

void brv_report_run(FILE *to, const struct brv_report *report, const struct brv_captioned *answer);
void brv_report_compare(FILE *to, const struct brv_report *report, const struct brv_compared *compared);

#endif
