#include "light/bins.h"

#include "base/array.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { MANTISSA = 52, FEWEST = 2, MOST = 8 }; /* bits of a double; of them, leading ones in the table */

static uint64_t leading(double value, int shift)
{
    uint64_t bits;
    memcpy(&bits, &value, sizeof bits);
    return bits >> shift;
}

static double least_with(uint64_t leading_bits, int shift)
{
    const uint64_t bits = leading_bits << shift;
    double value;
    memcpy(&value, &bits, sizeof value);
    return value;
}

/* The coarsest scale on which the faces are apart: a small table stays close to the processor. */
static int choose_shift(const struct brv_bins *bins)
{
    int shift = MANTISSA - FEWEST;
    for (size_t i = 1; i < bins->n; i++)
        while (shift > MANTISSA - MOST && leading(bins->face[i], shift) == leading(bins->face[i + 1], shift)) shift--;
    return shift;
}

/* Place 0 also serves all smaller numbers, so it starts at the bottom. */
static void fill_starts(struct brv_bins *bins)
{
    size_t i = 0;
    for (size_t place = 1; place < bins->n_start; place++) {
        while (bins->face[i + 1] <= least_with(bins->first + place, bins->shift)) i++;
        bins->start[place] = (uint16_t)i;
    }
}

brv_status brv_bins_build(struct brv_bins *bins, const double *face, size_t n, int squared, struct brv_error *error)
{
    *bins = (struct brv_bins){.n = n};
    bins->face = brv_array_new(n + 2);
    if (!bins->face) return brv_error_raise(error, BRV_MEMORY, "brv_bins_build");
    for (size_t i = 0; i <= n; i++) bins->face[i] = squared ? face[i] * face[i] : face[i];
    bins->face[n + 1] = INFINITY;

    bins->shift = choose_shift(bins);
    bins->first = leading(bins->face[1], bins->shift);
    bins->n_start = (size_t)(leading(bins->face[n], bins->shift) - bins->first) + 1;
    bins->start = calloc(bins->n_start, sizeof *bins->start);
    if (!bins->start) {
        brv_bins_free(bins);
        return brv_error_raise(error, BRV_MEMORY, "brv_bins_build");
    }
    fill_starts(bins);
    return BRV_OK;
}

uint64_t brv_bins_place(const struct brv_bins *bins, double value)
{
    const uint64_t bits = leading(value, bins->shift);
    const uint64_t place = bits > bins->first ? bits - bins->first : 0;
    return place < bins->n_start ? place : bins->n_start - 1;
}

size_t brv_bins_find(const struct brv_bins *bins, double value)
{
    return brv_bins_from(bins, brv_bins_place(bins, value), value);
}

void brv_bins_free(struct brv_bins *bins)
{
    free(bins->face);
    free(bins->start);
    *bins = (struct brv_bins){.n = 0};
}
