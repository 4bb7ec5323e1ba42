/* Which rows of hits a summary of `brevis cover` shows: skin that is hit once, twice, so many times. With one or two
 * passes these are once, twice, 3 times and more. With more passes that would read 0, 0, 100; then hits are cut into at
 * most four rows, where a quarter, a half and three quarters lie of what the columns hold together. The rows are each
 * hit of 1 and above, once: with what is missed they sum to the skin. Test: tests/cli/cover.sh.                     */
#ifndef BRV_CLI_REPORT_COVER_HITS_H
#define BRV_CLI_REPORT_COVER_HITS_H

#include "side/cover.h"

#include <stddef.h>
#include <stdint.h>

enum { BRV_MOST_HIT_ROWS = 4, BRV_HIT_NAME_SIZE = 80 };

struct brv_hit_row {
    size_t least, most; /* both belong to it; SIZE_MAX: and more */
};

/* `way` are the columns that are shown. Returns how many rows there are. */
size_t brv_hit_rows(struct brv_hit_row row[BRV_MOST_HIT_ROWS], const struct brv_cover *cover,
                    const enum brv_cover_way way[], size_t n_way, double passes);

/* Share of the skin that is hit so often [1]. */
double brv_hit_row_share(const struct brv_hit_row *row, const struct brv_covered *covered);

/* "skin hit twice, %", "skin hit 4 to 6 times, %". Returns `out`. */
const char *brv_hit_row_name(char out[BRV_HIT_NAME_SIZE], const struct brv_hit_row *row);

#endif
