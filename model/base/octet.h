/* Eight complex numbers side by side, and the work on chains of cells that every pole of a contour does alike, written
 * so that the compiler takes several at a time.
 *     solve:    (z capacity[i] + sink[i]) x[i] + link[i] (x[i] - x[i-1]) + link[i+1] (x[i] - x[i+1])
 *                   = heat[i] + inflow[i] / z,   x[-1] = x[n] = 0
 *     project:  sum of weight[k] x[k]
 *     turn:     e^(z t)
 *     add:      sum[k] += imaginary part of x[k] factor
 * As in base/ladder.h, capacities, sinks and links are gathered and never subtracted from each other: while z keeps
 * away from the negative real axis, small heat contents keep their digits however stiff the chain. The arithmetic is
 * + - x / on IEEE doubles, nothing contracted or reordered, so every variant gives the same bytes. The exponential
 * agrees with the library's within 1e-15 of its size for |Im z t| below 1, and within rounding of z t beyond.
 * Test: tests/unit/test_octet.c.                                                                               */
#ifndef BRV_BASE_OCTET_H
#define BRV_BASE_OCTET_H

#include <stddef.h>

enum { BRV_OCTET = 8 };

struct brv_octet {
    double re[BRV_OCTET], im[BRV_OCTET];
};

/* All borrowed; squares of z capacity + links must neither overflow nor vanish. */
struct brv_octet_chain {
    size_t n;
    const double *capacity, *sink; /* [n] */
    const double *link;            /* [n + 1] */
    const double *heat, *inflow;   /* [n] or NULL: none */
};

/* `solve` serves n_octet octets z, one after another in x[n_octet][n]; `pass` is [2 n] scratch. `turn`: real part of
 * z t at most 700; below -690 the result is as if at -690.                                                        */
struct brv_octet_steps {
    void (*solve)(struct brv_octet x[], struct brv_octet pass[], const struct brv_octet_chain *chain,
                  const struct brv_octet z[], size_t n_octet);
    void (*project)(struct brv_octet *sum, const struct brv_octet x[], const double weight[], size_t n);
    void (*turn)(struct brv_octet *result, const struct brv_octet *z, double time);
    void (*add)(double (*sum)[BRV_OCTET], const struct brv_octet x[], const struct brv_octet *factor, size_t n);
};

/* Variants for processors with wider registers; 0, the plain one, runs anywhere. The best one is the last. */
size_t brv_octet_variants(void);
struct brv_octet_steps brv_octet_variant(size_t variant);

#endif
