/* The curves of a run as CSV (RFC 4180, a header line of names with units, full precision). */
#ifndef BRV_CLI_REPORT_CSV_H
#define BRV_CLI_REPORT_CSV_H

#include "run/run.h"

#include <stdio.h>

/* time_s, then for lesion and neighbour: grain centre, mean, surface, its layer, every watched depth, in kelvin of
 * rise. Both sites share one list of times.                                                                      */
void brv_csv_temperature(FILE *to, const struct brv_result *result);

/* site, depth_m, fluence_ratio, absorbed_J_m3, peak_rise_K: a row per cell of the layered skin, at its centre. */
void brv_csv_depth(FILE *to, const struct brv_result *result);

/* "lesion", "neighbour" */
extern const char *const brv_site_name[BRV_N_SITE];

#endif
