#include "report/outcome.h"

#include <stdio.h>

/* clang-format off */
const struct brv_outcome brv_outcomes[] = {
    {"Mottled loss of pigment", 14, 14, 0.0,   "6 to 50 visits, mean 22, low fluence",  "chan-2010",        "abstract", true},
    {"Mottled loss of pigment",  3, 22, 0.0,   "5 weekly, 3.0 to 3.8 J/cm2",            "wattanakrai-2010", "abstract", false},
    {"Mottled loss of pigment",  2, 40, 0.0,   "median 10 weekly, 1.2 to 2.0 J/cm2",    "low-fluence-2018", "abstract", false},
    {"Drop-like white spots",    3,  3, 0.0,   "frequent, low fluence",                 "wong-2015",        "abstract", true},
    {"Melasma back",            22, 22, 0.0,   "",                                      "wattanakrai-2010", "abstract", false},
    {"Melasma back",             0, 34, 0.588, "median 8, 2.5 J/cm2, after a year",     "multi-pass-2016",  "abstract", false},
};
/* clang-format on */

const size_t brv_n_outcomes = sizeof brv_outcomes / sizeof *brv_outcomes;

const char *brv_outcome_text(char out[BRV_OUTCOME_SIZE], const struct brv_outcome *outcome)
{
    char count[48];
    if (outcome->seen_in)
        snprintf(count, sizeof count, "%d of %d", outcome->seen_in, outcome->n);
    else
        snprintf(count, sizeof count, "%.3g %% of %d", 100.0 * outcome->share, outcome->n);
    snprintf(out, BRV_OUTCOME_SIZE, "%s%s%s%s (%s)", count, outcome->chosen ? ", reported for it" : "",
             *outcome->under ? ": " : "", outcome->under, outcome->source);
    return out;
}
