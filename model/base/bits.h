/* The bits of a double, and the double of bits: for work that goes several numbers at a time without a branch. */
#ifndef BRV_BASE_BITS_H
#define BRV_BASE_BITS_H

#include <stdint.h>
#include <string.h>

#define BRV_INLINE static inline __attribute__((always_inline))

BRV_INLINE uint64_t brv_bits_of(double x)
{
    uint64_t bits;
    memcpy(&bits, &x, sizeof bits);
    return bits;
}

BRV_INLINE double brv_of_bits(uint64_t bits)
{
    double x;
    memcpy(&x, &bits, sizeof x);
    return x;
}

#endif
