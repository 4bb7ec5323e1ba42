/* The curves of a run as CSV (RFC 4180, a header line of names with units, full precision). */
#ifndef BRV_CLI_REPORT_CSV_H
#define BRV_CLI_REPORT_CSV_H

#include "run/run.h"
#include "run/spots.h"

#include <stdio.h>

/* A cell of text, in quotes. One that a spreadsheet would take for a formula, since = + - or @ comes first in it (blanks
 * before it do not help, and the wide forms of East Asia count too), has an apostrophe in front: "'-5 %".            */
void brv_csv_text(FILE *to, const char *text);

/* time_s, pulse (how many have begun), since_s (the last began), then for lesion and neighbour: grain centre, mean,
 * surface, its layer, every watched depth, in kelvin of departure from the start; where something cools the skin also
 * the layer and the depths without pulses. Both sites share one list of times.                                      */
void brv_csv_temperature(FILE *to, const struct brv_result *result);

/* site, depth_m, fluence_ratio, absorbed_J_m3, peak_rise_K, fluence_error: a row per cell of the layered skin, at its
 * centre; fluence on the axis over the incident fluence, and its standard error (0 when nothing was sampled).    */
void brv_csv_depth(FILE *to, const struct brv_result *result);

/* pulse, start_s and for both sites what is left of the pulses before, just before this one, on three scales: the
 * grain's mean over its layer, the layer, a quarter of the spot deep.                                                */
void brv_csv_train(FILE *to, const struct brv_result *result);

/* site, radius_m, then the rise of the grain and its cell at the end of the first pulse and later. */
void brv_csv_grain(FILE *to, const struct brv_result *result);

/* fluence_J_m2 and for both sites the shares of grains disrupted, by number and by volume, and their column: grains that
 * differ, in all layers with pigment. Only the fluences that part some grains from others.                          */
void brv_csv_disrupted(FILE *to, const struct brv_result *result);

/* site, radius_m, depth_m, rise after the last pulse and later, beside the axis; empty where heat was not followed there. */
void brv_csv_beside(FILE *to, const struct brv_result *result);

/* site, radius_m, depth_m, fluence_ratio: fluence over incident axis fluence beside the axis; empty for an endless beam. */
void brv_csv_map(FILE *to, const struct brv_result *result);

/* spot_m, depth_m, same_fluence, same_energy: see run/spots.h. */
void brv_csv_spots(FILE *to, const struct brv_spots *spots);

/* "lesion", "neighbour" */
extern const char *const brv_site_name[BRV_N_SITE];

#endif
