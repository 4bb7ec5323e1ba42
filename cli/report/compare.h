/* What `brevis compare` says: choices side by side. */
#ifndef BRV_CLI_REPORT_COMPARE_H
#define BRV_CLI_REPORT_COMPARE_H

#include "report/asked.h"
#include "scenario/choices.h"
#include "study/compare.h"

#include <stdio.h>

/* The choices and what they came to; choice i of both is the same. */
struct brv_compared {
    const struct brv_choices *choices;
    const struct brv_comparison *comparison;
};

/* "1064 nm, 7 ns, 3 mm spot, 2.83 J/cm2; pigment of basal 13.7 %, ...": what the first choice asks. Returns `out`. */
const char *brv_compared_asked(char out[BRV_ASKED_SIZE], const struct brv_compared *compared);

enum { BRV_COMPARED_SIZE = 640 };

/* What one of them asks: the same, with its train, what lies on the skin, and a film. */
void brv_compared_tell(char out[BRV_COMPARED_SIZE], const struct brv_compared *compared, size_t choice);

/* Is this choice about the grain of another layer than the first? By name: a film moves a layer's number. */
bool brv_compared_other_layer(const struct brv_compared *compared, size_t choice, size_t site);

/* "neighbour: not the same layer in all choices, ...: 1 basal 2 epidermis"; false: it is the same in all. */
bool brv_compared_layers(char out[BRV_COMPARED_SIZE], const struct brv_compared *compared, size_t site);

/* The first choice before this one whose numbers are all the same to the last digit, or the choice itself. */
size_t brv_compared_twin(const struct brv_compared *compared, size_t choice);

/* The table for people, in blocks of four choices. */
void brv_compared_text(FILE *to, const struct brv_compared *compared);

/* One row for each choice: its number and name, then for every headline value, low and high, by site where they differ, and
 * whether the difference from the first is hidden by the spread.                                                    */
void brv_compared_csv(FILE *to, const struct brv_compared *compared);

/* The same as summary.json. */
void brv_compared_json(FILE *to, const struct brv_compared *compared);

#endif
