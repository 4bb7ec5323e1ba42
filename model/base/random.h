/* Random numbers without a state: a block of four words is a fixed function of a key and a counter. Whoever numbers
 * the drawings can take them in any order and on any thread and always gets the same.
 *     word = ten rounds of (a, b, c, d) -> (hi(c M1) ^ b ^ k0, lo(c M1), hi(a M0) ^ d ^ k1, lo(a M0))
 * with the key moving on between rounds: Philox 4x32-10. Known answers: tests/unit/test_random.c.
 * Source: [salmon-2011]                                                                                         */
#ifndef BRV_BASE_RANDOM_H
#define BRV_BASE_RANDOM_H

#include <stdint.h>

/* Multipliers of a round and what is added to the key after it. */
#define BRV_RANDOM_MULTIPLY_0 UINT32_C(0xD2511F53)
#define BRV_RANDOM_MULTIPLY_1 UINT32_C(0xCD9E8D57)
#define BRV_RANDOM_MOVE_0     UINT32_C(0x9E3779B9)
#define BRV_RANDOM_MOVE_1     UINT32_C(0xBB67AE85)

enum { BRV_RANDOM_ROUNDS = 10 };

struct brv_random { /* 128 random bits */
    uint32_t word[4];
};

struct brv_random brv_random_draw(const uint32_t key[2], const uint32_t counter[4]);

/* Evenly spread in (0, 1), neither end reached: the middles of 2^32 or of 2^52 equal intervals. */
double brv_random_short(uint32_t word);
double brv_random_long(uint32_t high, uint32_t low);

#endif
