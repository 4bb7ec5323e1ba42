/* The curves of a run as CSV (RFC 4180, a header line of names with units, full precision). */
#ifndef BRV_CLI_REPORT_CSV_H
#define BRV_CLI_REPORT_CSV_H

#include "run/run.h"
#include "run/spots.h"

#include <stdio.h>

/* time_s, then for lesion and neighbour: grain centre, mean, surface, its layer, every watched depth, in kelvin of
 * rise. Both sites share one list of times.                                                                      */
void brv_csv_temperature(FILE *to, const struct brv_result *result);

/* site, depth_m, fluence_ratio, absorbed_J_m3, peak_rise_K, fluence_error: a row per cell of the layered skin, at its
 * centre; fluence on the axis over the incident fluence, and its standard error (0 when nothing was sampled).    */
void brv_csv_depth(FILE *to, const struct brv_result *result);

/* site, radius_m, depth_m, fluence_ratio: fluence over incident axis fluence beside the axis; empty for an endless beam. */
void brv_csv_map(FILE *to, const struct brv_result *result);

/* spot_m, depth_m, same_fluence, same_energy: see run/spots.h. */
void brv_csv_spots(FILE *to, const struct brv_spots *spots);

/* "lesion", "neighbour" */
extern const char *const brv_site_name[BRV_N_SITE];

#endif
