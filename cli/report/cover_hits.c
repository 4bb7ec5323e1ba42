#include "report/cover_hits.h"

#include <math.h>
#include <stdio.h>

#define FEW 3.0  /* passes from which on once and twice say little */
#define ALL 1e-9 /* of a sum of shares: rounding */

static size_t hits_of(const struct brv_tally *hits, size_t i)
{
    return (size_t)lround(hits->first + hits->step * (double)i);
}

double brv_hit_row_share(const struct brv_hit_row *row, const struct brv_covered *covered)
{
    double share = 0.0;
    for (size_t i = 0; i < covered->hits.n; i++) {
        const size_t k = hits_of(&covered->hits, i);
        if (k >= row->least && k <= row->most) share += covered->hits.share[i];
    }
    return share;
}

static double share_of(const struct brv_hit_row *row, const struct brv_cover *cover, const enum brv_cover_way way[],
                       size_t n_way)
{
    double sum = 0.0;
    for (size_t i = 0; i < n_way; i++) sum += brv_hit_row_share(row, &cover->way[way[i]]);
    return sum;
}

/* The least number of hits up to which a share `level` lies of what the columns hold together: halving. */
static size_t quantile(const struct brv_cover *cover, const enum brv_cover_way way[], size_t n_way, double level,
                       size_t most)
{
    size_t under = 0, over = most;
    while (over - under > 1) {
        const size_t middle = under + (over - under) / 2;
        const struct brv_hit_row up_to = {1, middle};
        *(share_of(&up_to, cover, way, n_way) < level ? &under : &over) = middle;
    }
    return over;
}

static size_t most_hits(const struct brv_cover *cover, const enum brv_cover_way way[], size_t n_way)
{
    size_t most = 1;
    for (size_t i = 0; i < n_way; i++) {
        const struct brv_tally *hits = &cover->way[way[i]].hits;
        const size_t last = hits->n ? hits_of(hits, hits->n - 1) : 0;
        most = last > most ? last : most;
    }
    return most;
}

size_t brv_hit_rows(struct brv_hit_row row[BRV_MOST_HIT_ROWS], const struct brv_cover *cover,
                    const enum brv_cover_way way[], size_t n_way, double passes)
{
    const struct brv_hit_row any = {1, SIZE_MAX};
    const size_t most = most_hits(cover, way, n_way);
    const double all = share_of(&any, cover, way, n_way) * (1.0 - ALL);
    size_t n = 0, from = 1;
    if (passes < FEW) {
        row[0] = (struct brv_hit_row){1, 1};
        row[1] = (struct brv_hit_row){2, 2};
        row[2] = (struct brv_hit_row){3, SIZE_MAX};
        return 3;
    }
    for (size_t i = 1; i < BRV_MOST_HIT_ROWS; i++) {
        const size_t to = quantile(cover, way, n_way, all * (double)i / BRV_MOST_HIT_ROWS, most);
        if (to < from) continue; /* the same number of hits holds two of the quarters */
        row[n++] = (struct brv_hit_row){from, to};
        from = to + 1;
    }
    if (from <= most || n == 0)
        row[n++] = (struct brv_hit_row){from, SIZE_MAX};
    else
        row[n - 1].most = SIZE_MAX;
    return n;
}

const char *brv_hit_row_name(char out[BRV_HIT_NAME_SIZE], const struct brv_hit_row *row)
{
    if (row->most == SIZE_MAX)
        snprintf(out, BRV_HIT_NAME_SIZE, "skin hit %zu times and more, %%", row->least);
    else if (row->most > row->least)
        snprintf(out, BRV_HIT_NAME_SIZE, "skin hit %zu to %zu times, %%", row->least, row->most);
    else if (row->most > 2)
        snprintf(out, BRV_HIT_NAME_SIZE, "skin hit %zu times, %%", row->least);
    else
        snprintf(out, BRV_HIT_NAME_SIZE, "skin hit %s, %%", row->most == 1 ? "once" : "twice");
    return out;
}
