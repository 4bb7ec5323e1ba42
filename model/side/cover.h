/* How the spots of a scenario cover an area of skin: hits, dose, pulses, time, hand.
 *     pulses = area x density x passes, rounded up;  time = pulses / rate;  hand = spacing along the row x rate
 *     fluence summed, on average = pulses on an area x energy
 * Dose is counted in what one pulse gives on its axis: a flat spot gives 1 everywhere, a gaussian one exp(-8 r^2/D^2),
 * D its 1/e2 diameter, without an end. A hit of a gaussian spot is within that diameter.
 * Passes are laid down without regard to each other: shares are the mean over all shifts and turns of one against
 * another. Places by chance: as many spots as the hexagonal rows of this overlap have, anywhere.
 * Numbers hold inside the area; at its rim places miss the spots whose centres would lie outside.
 * Parts: rows (one pass), tally (shares and their sums). Tests: tests/verification/test_cover.c.                     */
#ifndef BRV_SIDE_COVER_H
#define BRV_SIDE_COVER_H

#include "scenario/scenario.h"
#include "side/rows.h"

#include <stdbool.h>

enum brv_cover_way {
    BRV_COVER_ONE,    /* one pass */
    BRV_COVER_ALL,    /* all passes, none knowing of the others */
    BRV_COVER_SAME,   /* all passes on the same places */
    BRV_COVER_FASTER, /* all passes at twice the rate, the hand as before */
    BRV_N_COVER_WAY
};

enum { BRV_N_HIT_SHARE = 4, BRV_N_DOSE_LEVEL = 3 };

extern const double brv_dose_levels[BRV_N_DOSE_LEVEL]; /* 5, 50, 95 % */

struct brv_covered {
    double mean;                    /* hits [1] */
    double share[BRV_N_HIT_SHARE];  /* missed, hit once, twice, three times and more [1] */
    double dose;                    /* mean, in doses of one pulse on its axis [1] */
    double variation;               /* standard deviation of the dose over its mean [1] */
    double level[BRV_N_DOSE_LEVEL]; /* dose at or below which so much of the skin lies [1] */
    double highest;                 /* dose anywhere; INFINITY where chance knows no end [1] */
    struct brv_tally hits, doses;
};

struct brv_cover {
    bool random, gaussian;
    struct brv_rows rows;       /* of one pass; random: those that have as many spots */
    double density;             /* centres of one pass on an area [1/m2] */
    double pulses_pass, pulses; /* of one pass, of all; whole [1] */
    double pulses_rim;          /* more of them a pass takes for the same at the rim of a square, about [1] */
    double time;                /* [s] */
    double hand;                /* speed along a row; NAN when random [m/s] */
    double row, row_time;       /* length and time of one row of a square; NAN when random [m], [s] */
    double fluence;             /* summed over all passes, mean over the skin [J/m2] */
    double energy;              /* of all pulses [J] */
    double overlap_faster;      /* along the row at twice the rate [1] */
    size_t along, along_faster; /* most hits of one place along one row; 0 when random */
    struct brv_covered way[BRV_N_COVER_WAY];
};

/* Answers a checked scenario with a section cover. On failure `cover` comes back empty. */
brv_status brv_cover_solve(struct brv_cover *cover, const struct brv_scenario *ask,
                           struct brv_error *error) BRV_MUST_CHECK;

void brv_cover_free(struct brv_cover *cover);

#endif
