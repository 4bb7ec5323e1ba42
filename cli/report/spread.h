/* The answer of `brevis spread`: its files of numbers. CSV as in report/csv.h; SI; full precision. */
#ifndef BRV_CLI_REPORT_SPREAD_H
#define BRV_CLI_REPORT_SPREAD_H

#include "scenario/request.h"
#include "study/slip.h"
#include "study/spread.h"

#include <stdio.h>

struct brv_spread_answer {
    const struct brv_request *request;
    const struct brv_spreading *spreading;
    const struct brv_slip *slip; /* [BRV_N_SLIP] */
};

/* The headlines whose inputs are ranked: threshold of a sign, share disrupted and highest rise of a grain, all in the
 * lesion, and the threshold ratio.                                                                               */
enum { BRV_SPREAD_RANKED = 4, BRV_SPREAD_BARS = 8 };
extern const enum brv_headline brv_spread_ranked[BRV_SPREAD_RANKED];

/* The strongest inputs of one row by total index, the strongest first; inputs of equal strength in the order of the list.
 * Returns how many there are with any, at most `most`.                                                           */
size_t brv_spread_strongest(size_t input[], size_t most, const struct brv_spreading *spreading,
                            const struct brv_spread_row *row);

/* "energy 20 % too high", "tilted by 10 degrees". Returns `out`. */
enum { BRV_SLIP_NAME_SIZE = 64 };
const char *brv_slip_name(char out[BRV_SLIP_NAME_SIZE], const struct brv_slip *slip);

/* "plain", "logarithm", "rank": what the indices are of. */
const char *brv_spread_scale_name(int scale);

/* headline, unit, site, p5, p50, p95, asked, p5_half, p50_half, p95_half, without_value, indices_of, fit_q2: a row per
 * headline and site; shared ones once, `both`.                                                                   */
void brv_spread_csv_headlines(FILE *to, const struct brv_spread_answer *answer);

/* input, unit, low, value, high, drawn, source, seen, and for every ranked headline its first and total index. */
void brv_spread_csv_inputs(FILE *to, const struct brv_spread_answer *answer);

/* draw, u1 ... uN in the order of inputs.csv, then every headline of lesion and neighbour; empty or inf where there is
 * none.                                                                                                           */
void brv_spread_csv_draws(FILE *to, const struct brv_spread_answer *answer);

/* slip, fluence_ratio, spot_m, then for lesion and neighbour the headlines it moves. */
void brv_spread_csv_slips(FILE *to, const struct brv_spread_answer *answer);

/* headline, rank, input, first_order, total: the bars of the figure. */
void brv_spread_csv_ranking(FILE *to, const struct brv_spread_answer *answer);

/* summary.txt and the terminal: under 50 lines. */
void brv_spread_summary(FILE *to, const struct brv_spread_answer *answer);

/* summary.json */
void brv_spread_digest(FILE *to, const struct brv_spread_answer *answer);

#endif
