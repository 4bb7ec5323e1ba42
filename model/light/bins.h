/* Which interval of an ascending row of faces a number falls into, in a few instructions without a branch to guess.
 * The leading bits of a positive double, exponent and the first of the mantissa, are a logarithmic scale: a table over
 * them, so fine that no place holds two faces, leaves one comparison. Faces closer than 1/256 of their value share a
 * place, and then a search of a few steps follows.                                                                 */
#ifndef BRV_LIGHT_BINS_H
#define BRV_LIGHT_BINS_H

#include "base/status.h"

#include <stddef.h>
#include <stdint.h>

enum { BRV_BINS_MOST = 65000 };

struct brv_bins {
    size_t n;        /* intervals; numbers at or beyond the last face get n                */
    double *face;    /* [n + 2] the first is 0, ascending, and INFINITY at the end         */
    uint16_t *start; /* [n_start] interval of the least number with these leading bits     */
    size_t n_start;
    uint64_t first; /* leading bits of start[0]                                           */
    int shift;      /* bits of a double that are not leading                              */
};

/* Copies face[n + 1]; with `squared`, their squares. BRV_MEMORY on failure, and then `bins` is empty. The caller has
 * checked n <= BRV_BINS_MOST and the faces.                                                                      */
brv_status brv_bins_build(struct brv_bins *bins, const double *face, size_t n, int squared,
                          struct brv_error *error) BRV_MUST_CHECK;

void brv_bins_free(struct brv_bins *bins);

/* The interval of a number >= 0 from its place on the scale; on a face the upper one. In the header because it is
 * called at every interaction.                                                                                    */
static inline size_t brv_bins_from(const struct brv_bins *bins, uint64_t place, double value)
{
    size_t i = bins->start[place];
    i += value >= bins->face[i + 1];
    while (__builtin_expect(value >= bins->face[i + 1], 0)) i++;
    return i;
}

/* Place of a number >= 0 on the scale, and its interval. */
uint64_t brv_bins_place(const struct brv_bins *bins, double value);
size_t brv_bins_find(const struct brv_bins *bins, double value);

#endif
