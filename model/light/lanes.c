#include "light/lanes.h"

#include "base/bits.h"
#include "base/constants.h"
#include "base/random.h"

#include <assert.h>
#include <math.h>
#include <string.h>

static const double LEAST_ANISOTROPY = 1e-6;

/* A whole number below 2^52 as a double, by putting it into the mantissa of 2^52: no conversion instruction. */
BRV_INLINE double whole(uint64_t number)
{
    return brv_of_bits(number | UINT64_C(0x4330000000000000)) - 0x1p52;
}

BRV_INLINE double fraction(uint64_t word)
{
    return (whole(word) + 0.5) * 0x1p-32;
}

/* u = 2^e m with sqrt(1/2) <= m < sqrt(2); ln m = 2 artanh((m - 1) / (m + 1)) as its series. */
BRV_INLINE double minus_log(double u)
{
    const uint64_t root_half = UINT64_C(0x3fe6a09e667f3bcd), one = UINT64_C(0x3ff0000000000000);
    const uint64_t bits = brv_bits_of(u) + (one - root_half);
    const double exponent = whole(bits >> 52) - 1023.0;
    const double m = brv_of_bits((bits & UINT64_C(0x000fffffffffffff)) + root_half);
    const double f = (m - 1.0) / (m + 1.0), s = f * f;
    double sum = 1.0 / 19.0;
    sum = sum * s + 1.0 / 17.0;
    sum = sum * s + 1.0 / 15.0;
    sum = sum * s + 1.0 / 13.0;
    sum = sum * s + 1.0 / 11.0;
    sum = sum * s + 1.0 / 9.0;
    sum = sum * s + 1.0 / 7.0;
    sum = sum * s + 1.0 / 5.0;
    sum = sum * s + 1.0 / 3.0;
    return -(exponent * 0.69314718055994530942 + 2.0 * (f + f * (s * sum)));
}

/* The series of the sine; the first term left out is x^19 / 19!, 4e-14 at the ends. */
BRV_INLINE double sine(double h)
{
    const double x = BRV_PI * h, s = x * x;
    double sum = 1.0 / 355687428096000.0;
    sum = sum * s - 1.0 / 1307674368000.0;
    sum = sum * s + 1.0 / 6227020800.0;
    sum = sum * s - 1.0 / 39916800.0;
    sum = sum * s + 1.0 / 362880.0;
    sum = sum * s - 1.0 / 5040.0;
    sum = sum * s + 1.0 / 120.0;
    sum = sum * s - 1.0 / 6.0;
    return x + x * (s * sum);
}

/* A block of base/random.h for each lane, in 64-bit words of which the lower halves count: what rounds leave in the
 * upper halves is never looked at.                                                                                */
struct words {
    uint64_t a[BRV_LANES], b[BRV_LANES], c[BRV_LANES], d[BRV_LANES];
};

/* One round on any type that has the operators; `multiply` takes the lower halves. */
#define ROUND(multiply, number)                                                                                        \
    do {                                                                                                               \
        first = multiply(a, multiplier_0);                                                                             \
        second = multiply(c, multiplier_1);                                                                            \
        a = (second >> 32) ^ b ^ (key[0] + (uint32_t)(number)*BRV_RANDOM_MOVE_0);                                      \
        c = (first >> 32) ^ d ^ (key[1] + (uint32_t)(number)*BRV_RANDOM_MOVE_1);                                       \
        b = second;                                                                                                    \
        d = first;                                                                                                     \
    } while (0)

#define ROUNDS(multiply)                                                                                               \
    do {                                                                                                               \
        ROUND(multiply, 0);                                                                                            \
        ROUND(multiply, 1);                                                                                            \
        ROUND(multiply, 2);                                                                                            \
        ROUND(multiply, 3);                                                                                            \
        ROUND(multiply, 4);                                                                                            \
        ROUND(multiply, 5);                                                                                            \
        ROUND(multiply, 6);                                                                                            \
        ROUND(multiply, 7);                                                                                            \
        ROUND(multiply, 8);                                                                                            \
        ROUND(multiply, 9);                                                                                            \
    } while (0)

/* NOLINTBEGIN(bugprone-macro-parentheses): a type and an attribute cannot stand in parentheses */
/* The compiler does not find the machine's 32-by-32-bit product by itself, so it is named: `type` holds several. */
#define DRAW(name, attribute, type, multiply)                                                                          \
    attribute static inline void draw_##name(struct words *restrict words, const struct brv_lanes *lanes,              \
                                             const uint32_t key[2])                                                    \
    {                                                                                                                  \
        const type none = {0};                                                                                         \
        const type multiplier_0 = none + BRV_RANDOM_MULTIPLY_0, multiplier_1 = none + BRV_RANDOM_MULTIPLY_1;           \
        for (size_t i = 0; i < BRV_LANES; i += sizeof(type) / sizeof(uint64_t)) {                                      \
            type a, b, c, d = none, first, second;                                                                     \
            memcpy(&a, &lanes->photon[i], sizeof a);                                                                   \
            memcpy(&c, &lanes->step[i], sizeof c);                                                                     \
            b = a >> 32;                                                                                               \
            ROUNDS(multiply);                                                                                          \
            memcpy(&words->a[i], &a, sizeof a);                                                                        \
            memcpy(&words->b[i], &b, sizeof b);                                                                        \
            memcpy(&words->c[i], &c, sizeof c);                                                                        \
            memcpy(&words->d[i], &d, sizeof d);                                                                        \
        }                                                                                                              \
    }

/* NOLINTEND(bugprone-macro-parentheses) */

BRV_INLINE uint64_t low(uint64_t word)
{
    return word & UINT64_C(0xffffffff);
}

/* Place of a number on a scale. Comparisons by sign and mask, as above. */
BRV_INLINE uint64_t place_on(const struct brv_lane_scale *scale, double value)
{
    const uint64_t below = 0 - (brv_bits_of(value - scale->low) >> 63),
                   above = 0 - (brv_bits_of(scale->high - value) >> 63);
    const uint64_t inside = brv_bits_of(value) & ~below & ~above;
    const uint64_t taken = inside | (brv_bits_of(scale->low) & below) | (brv_bits_of(scale->high) & above);
    return (taken >> scale->shift) - scale->first;
}

BRV_INLINE void use_words(struct brv_lanes *restrict lanes, const struct words *restrict words)
{
    for (size_t i = 0; i < BRV_LANES; i++) {
        lanes->step[i] += 1;
        lanes->turn[i] = fraction(low(words->b[i]));
        lanes->azimuth[i] = fraction(low(words->c[i]));
        lanes->spare[i] = fraction(low(words->d[i]));
        lanes->optical[i] = minus_log(fraction(low(words->a[i])));
    }
}

/* Signs and masks stand in place of branches. */
BRV_INLINE void advance(struct brv_lanes *restrict lanes, const struct brv_lane_scales *restrict scales)
{
    for (size_t i = 0; i < BRV_LANES; i++) {
        const double way = lanes->optical[i] * lanes->free_path[i];
        const double z = lanes->z[i] + lanes->to_z[i] * way;
        const uint64_t out = (brv_bits_of(z - lanes->top[i]) | brv_bits_of(lanes->bottom[i] - z)) >> 63;
        const double kept_way = brv_of_bits(brv_bits_of(way) & (out - 1));
        const double loss = brv_of_bits(brv_bits_of(lanes->weight[i] * lanes->loss[i]) & (out - 1));
        const double new_x = lanes->x[i] + lanes->to_x[i] * kept_way, new_y = lanes->y[i] + lanes->to_y[i] * kept_way;
        const double new_z = lanes->z[i] + lanes->to_z[i] * kept_way, square = new_x * new_x + new_y * new_y;
        lanes->out[i] = out;
        lanes->x[i] = new_x;
        lanes->y[i] = new_y;
        lanes->z[i] = new_z;
        lanes->square[i] = square;
        lanes->depth_place[i] = place_on(&scales->depth, new_z);
        lanes->ring_place[i] = place_on(&scales->ring, square);
        lanes->scored[i] = lanes->weight[i] * lanes->free_path[i];
        lanes->absorbed[i] += loss;
        lanes->weight[i] -= loss;
    }
}

/* Two directions at right angles to the old one without a special case: the frame is that of the nearer pole. The
 * last line takes off what rounding adds to the length, to first order.                                          */
BRV_INLINE void turn_block(struct brv_lanes *restrict lanes)
{
    for (size_t i = 0; i < BRV_LANES; i++) {
        const double x = lanes->to_x[i], y = lanes->to_y[i], z = lanes->to_z[i];
        const double u = lanes->turn[i], reach = lanes->offset[i] + lanes->spread[i] * u, reach_2 = reach * reach;
        const double pole = copysign(1.0, z), one_more = pole + z;
        const double inverse = 1.0 / (reach_2 * one_more); /* one division for two: it costs as much as ten products */
        const double cosine = lanes->start[i] + lanes->slope[i] * u - lanes->bend[i] * (inverse * one_more);
        const double sideways = sqrt(fabs((1.0 - cosine) * (1.0 + cosine))); /* below 0 by rounding only */
        const double half = sine(lanes->azimuth[i] - 0.5), rest = sqrt(fabs((1.0 - half) * (1.0 + half)));
        const double first = sideways * (1.0 - 2.0 * half * half), second = sideways * (2.0 * half * rest);
        const double scale = -(inverse * reach_2), mixed = x * y * scale;
        const double new_x = cosine * x + first * (1.0 + pole * x * x * scale) + second * mixed;
        const double new_y = cosine * y + first * pole * mixed + second * (pole + y * y * scale);
        const double new_z = cosine * z - first * pole * x - second * y;
        const double unit = 1.5 - 0.5 * (new_x * new_x + new_y * new_y + new_z * new_z);
        lanes->to_x[i] = unit * new_x;
        lanes->to_y[i] = unit * new_y;
        lanes->to_z[i] = unit * new_z;
    }
}

/* NOLINTBEGIN(bugprone-macro-parentheses): an attribute cannot stand in parentheses */
#define VARIANT(name, attribute, type, multiply)                                                                       \
    DRAW(name, attribute, type, multiply)                                                                              \
    attribute static void go_##name(struct brv_lanes *block, size_t n, const struct brv_lane_scales *scales)           \
    {                                                                                                                  \
        struct words words;                                                                                            \
        for (size_t i = 0; i < n; i++) {                                                                               \
            draw_##name(&words, &block[i], scales->key);                                                               \
            use_words(&block[i], &words);                                                                              \
            advance(&block[i], scales);                                                                                \
        }                                                                                                              \
    }                                                                                                                  \
    attribute static void turn_##name(struct brv_lanes *block, size_t n)                                               \
    {                                                                                                                  \
        for (size_t i = 0; i < n; i++) turn_block(&block[i]);                                                          \
    }
/* NOLINTEND(bugprone-macro-parentheses) */

#if defined(__x86_64__) && defined(__GNUC__)
#include <immintrin.h>

typedef uint64_t two_words __attribute__((vector_size(16)));
typedef uint64_t four_words __attribute__((vector_size(32)));
typedef uint64_t eight_words __attribute__((vector_size(64)));

#define MULTIPLY_2(a, b) (two_words) _mm_mul_epu32((__m128i)(a), (__m128i)(b))
#define MULTIPLY_4(a, b) (four_words) _mm256_mul_epu32((__m256i)(a), (__m256i)(b))
#define MULTIPLY_8(a, b) (eight_words) _mm512_mul_epu32((__m512i)(a), (__m512i)(b))

VARIANT(plain, , two_words, MULTIPLY_2)
VARIANT(four, __attribute__((target("avx2"))), four_words, MULTIPLY_4)
#ifdef __clang__
#define EIGHT __attribute__((target("avx512f,avx512dq,avx512vl")))
#else
#define EIGHT __attribute__((target("avx512f,avx512dq,avx512vl,prefer-vector-width=512")))
#endif
VARIANT(eight, EIGHT, eight_words, MULTIPLY_8)

size_t brv_lanes_variants(void)
{
    __builtin_cpu_init();
    if (!__builtin_cpu_supports("avx2")) return 1;
    const int wide =
        __builtin_cpu_supports("avx512f") && __builtin_cpu_supports("avx512dq") && __builtin_cpu_supports("avx512vl");
    return wide ? 3 : 2;
}

struct brv_lanes_steps brv_lanes_variant(size_t variant)
{
    static const struct brv_lanes_steps steps[] = {
        {go_plain, turn_plain}, {go_four, turn_four}, {go_eight, turn_eight}};
    assert(variant < brv_lanes_variants());
    return steps[variant];
}
#else
typedef uint64_t one_word __attribute__((vector_size(8)));

#define MULTIPLY_1(a, b) (((a)&UINT64_C(0xffffffff)) * (b))

VARIANT(plain, , one_word, MULTIPLY_1)

size_t brv_lanes_variants(void)
{
    return 1;
}

struct brv_lanes_steps brv_lanes_variant(size_t variant)
{
    assert(variant == 0);
    (void)variant;
    return (struct brv_lanes_steps){go_plain, turn_plain};
}
#endif

void brv_lanes_anisotropy(struct brv_lane_medium *medium, double g)
{
    const double away = (1.0 - g) * (1.0 + g);
    const int even = g < LEAST_ANISOTROPY;
    medium->start = even ? -1.0 : (1.0 + g * g) / (2.0 * g);
    medium->slope = even ? 2.0 : 0.0;
    medium->bend = even ? 0.0 : away * away / (2.0 * g);
    medium->offset = even ? 1.0 : 1.0 - g;
    medium->spread = even ? 0.0 : 2.0 * g;
}

double brv_lanes_minus_log(double u)
{
    return minus_log(u);
}

double brv_lanes_sine(double h)
{
    return sine(h);
}
