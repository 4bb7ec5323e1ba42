#include "base/random.h"

struct brv_random brv_random_draw(const uint32_t key[2], const uint32_t counter[4])
{
    uint32_t a = counter[0], b = counter[1], c = counter[2], d = counter[3];
    uint32_t key_0 = key[0], key_1 = key[1];
    for (int round = 0; round < BRV_RANDOM_ROUNDS; round++) {
        const uint64_t first = (uint64_t)a * BRV_RANDOM_MULTIPLY_0;
        const uint64_t second = (uint64_t)c * BRV_RANDOM_MULTIPLY_1;
        a = (uint32_t)(second >> 32) ^ b ^ key_0;
        b = (uint32_t)second;
        c = (uint32_t)(first >> 32) ^ d ^ key_1;
        d = (uint32_t)first;
        key_0 += BRV_RANDOM_MOVE_0;
        key_1 += BRV_RANDOM_MOVE_1;
    }
    return (struct brv_random){{a, b, c, d}};
}

double brv_random_short(uint32_t word)
{
    return ((double)word + 0.5) * 0x1p-32;
}

double brv_random_long(uint32_t high, uint32_t low)
{
    /* 52 bits, not 53: the half added to 53 bits would round the last middle up to 1. */
    const uint64_t bits = (((uint64_t)high << 32) | low) >> 12;
    return ((double)bits + 0.5) * 0x1p-52;
}
