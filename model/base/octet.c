#include "base/octet.h"

#include "base/bits.h"

#include <assert.h>
#include <stdint.h>
#include <string.h>

BRV_INLINE double one_or_other(uint64_t mask, double one, double other)
{
    return brv_of_bits((brv_bits_of(one) & mask) | (brv_bits_of(other) & ~mask));
}

/* ---- the chain ---- */

/* One cell: its numbers, and where its part of the answer goes. */
struct cell {
    double capacity, drain, heat, inflow, onward;
    struct brv_octet *forced, *pass;
};

/* What a cell receives from those before it: conductance to ground, heat. */
struct front {
    struct brv_octet held, right;
};

/* One cell eliminated: x = forced + pass * (x of the next), and the front moves on. What it hands over,
 *     held onward / (held + onward) = held onward conj(held + onward) / |held + onward|^2,
 * is formed the second way, so that products and division need not wait for each other: the wait is most of a solve. */
BRV_INLINE void eliminate(const struct cell *cell, struct front *restrict front, const struct brv_octet *restrict z,
                          const struct brv_octet *restrict inverse_z)
{
    struct brv_octet *restrict forced = cell->forced, *restrict pass = cell->pass;
    const double onward = cell->onward, capacity = cell->capacity, drain = cell->drain;
    const double heat = cell->heat, inflow = cell->inflow;
    for (size_t l = 0; l < BRV_OCTET; l++) {
        const double re = front->held.re[l] + (z->re[l] * capacity + drain), all = re + onward;
        const double im = front->held.im[l] + z->im[l] * capacity;
        const double right_re = front->right.re[l] + (heat + inflow * inverse_z->re[l]);
        const double right_im = front->right.im[l] + inflow * inverse_z->im[l];
        const double inverse = 1.0 / (all * all + im * im);
        const double pivot_re = all * inverse, pivot_im = -(im * inverse);
        const double x_re = right_re * pivot_re - right_im * pivot_im;
        const double x_im = right_re * pivot_im + right_im * pivot_re;
        front->held.re[l] = onward * (re * all + im * im) * inverse;
        front->held.im[l] = onward * (onward * im) * inverse;
        front->right.re[l] = onward * x_re;
        front->right.im[l] = onward * x_im;
        pass->re[l] = onward * pivot_re;
        pass->im[l] = onward * pivot_im;
        forced->re[l] = x_re;
        forced->im[l] = x_im;
    }
}

/* x[i] = forced[i] + pass[i] x[i + 1]. */
BRV_INLINE void substitute(struct brv_octet *restrict x, const struct brv_octet *restrict pass,
                           const struct brv_octet *restrict next)
{
    for (size_t l = 0; l < BRV_OCTET; l++) {
        const double re = next->re[l], im = next->im[l];
        x->re[l] += pass->re[l] * re - pass->im[l] * im;
        x->im[l] += pass->re[l] * im + pass->im[l] * re;
    }
}

BRV_INLINE void invert(struct brv_octet *restrict inverse, const struct brv_octet *restrict z)
{
    for (size_t l = 0; l < BRV_OCTET; l++) {
        const double square = 1.0 / (z->re[l] * z->re[l] + z->im[l] * z->im[l]);
        inverse->re[l] = z->re[l] * square;
        inverse->im[l] = -(z->im[l] * square);
    }
}

BRV_INLINE struct cell cell_of(const struct brv_octet_chain *chain, size_t i)
{
    return (struct cell){.capacity = chain->capacity[i],
                         .drain = chain->sink[i] + (i ? 0.0 : chain->link[0]),
                         .heat = chain->heat ? chain->heat[i] : 0.0,
                         .inflow = chain->inflow ? chain->inflow[i] : 0.0,
                         .onward = chain->link[i + 1]};
}

/* The last link leads to a rise of 0, and so does the first, which is why it counts as a drain. Two octets take turns
 * at every cell, because neither then waits for its own division.                                                    */
BRV_INLINE void solve_some(struct brv_octet *restrict x, struct brv_octet *restrict pass,
                           const struct brv_octet_chain *chain, const struct brv_octet *restrict z, size_t n_octet)
{
    const size_t n = chain->n;
    struct front front[2] = {{{{0.0}, {0.0}}, {{0.0}, {0.0}}}, {{{0.0}, {0.0}}, {{0.0}, {0.0}}}};
    struct brv_octet inverse[2];
    for (size_t o = 0; o < n_octet; o++) invert(&inverse[o], &z[o]);
    for (size_t i = 0; i < n; i++) {
        struct cell cell = cell_of(chain, i);
        for (size_t o = 0; o < n_octet; o++) {
            cell.forced = &x[o * n + i];
            cell.pass = &pass[o * n + i];
            eliminate(&cell, &front[o], &z[o], &inverse[o]);
        }
    }
    for (size_t i = n - 1; i-- > 0;)
        for (size_t o = 0; o < n_octet; o++) substitute(&x[o * n + i], &pass[o * n + i], &x[o * n + i + 1]);
}

BRV_INLINE void solve(struct brv_octet *restrict x, struct brv_octet *restrict pass,
                      const struct brv_octet_chain *chain, const struct brv_octet *restrict z, size_t n_octet)
{
    size_t o = 0;
    for (; o + 2 <= n_octet; o += 2) solve_some(x + o * chain->n, pass, chain, z + o, 2);
    if (o < n_octet) solve_some(x + o * chain->n, pass, chain, z + o, 1);
}

BRV_INLINE void project(struct brv_octet *restrict sum, const struct brv_octet *restrict x,
                        const double *restrict weight, size_t n)
{
    struct brv_octet total = {{0.0}, {0.0}};
    for (size_t i = 0; i < n; i++)
        for (size_t l = 0; l < BRV_OCTET; l++) {
            total.re[l] += weight[i] * x[i].re[l];
            total.im[l] += weight[i] * x[i].im[l];
        }
    *sum = total;
}

BRV_INLINE void add(double (*restrict sum)[BRV_OCTET], const struct brv_octet *restrict x,
                    const struct brv_octet *restrict factor, size_t n)
{
    for (size_t i = 0; i < n; i++)
        for (size_t l = 0; l < BRV_OCTET; l++) sum[i][l] += x[i].re[l] * factor->im[l] + x[i].im[l] * factor->re[l];
}

/* ---- the exponential ---- */

#define MAGIC   0x1.8p52 /* added to a number, it leaves the nearest whole one in the last bits */
#define LOWEST  (-690.0) /* e^-690 is 1e-300: nothing, and not yet denormal */
#define LOG2_E  1.4426950408889634074
#define LN2_TOP 0x1.62e42fefap-1 /* ends in zeros, so that whole multiples are exact */
#define LN2_END 0x1.cf79abc9e3b3ap-40
#define QUARTER 0.63661977236758134308     /* 2 / pi */
#define PI2_TOP 1.57079632673412561417e+00 /* pi/2 in three parts, the first two of 33 bits */
#define PI2_MID 6.07710050630396597660e-11
#define PI2_END 2.02226624879595063154e-21

/* Taylor's series to x^13; the first term left out is 4e-18 for |x| below ln 2 / 2. */
BRV_INLINE double exp_near_0(double x)
{
    double sum = 1.0 / 6227020800.0;
    sum = sum * x + 1.0 / 479001600.0;
    sum = sum * x + 1.0 / 39916800.0;
    sum = sum * x + 1.0 / 3628800.0;
    sum = sum * x + 1.0 / 362880.0;
    sum = sum * x + 1.0 / 40320.0;
    sum = sum * x + 1.0 / 5040.0;
    sum = sum * x + 1.0 / 720.0;
    sum = sum * x + 1.0 / 120.0;
    sum = sum * x + 1.0 / 24.0;
    sum = sum * x + 1.0 / 6.0;
    sum = sum * x + 0.5;
    return 1.0 + (x + x * x * sum);
}

/* Series of sine and cosine for |x| below pi/4; the first terms left out are 5e-17 and 3e-18. */
BRV_INLINE double sine_near_0(double x)
{
    const double s = x * x;
    double sum = -1.0 / 1307674368000.0;
    sum = sum * s + 1.0 / 6227020800.0;
    sum = sum * s - 1.0 / 39916800.0;
    sum = sum * s + 1.0 / 362880.0;
    sum = sum * s - 1.0 / 5040.0;
    sum = sum * s + 1.0 / 120.0;
    sum = sum * s - 1.0 / 6.0;
    return x + x * (s * sum);
}

BRV_INLINE double cosine_near_0(double x)
{
    const double s = x * x;
    double sum = 1.0 / 20922789888000.0;
    sum = sum * s - 1.0 / 87178291200.0;
    sum = sum * s + 1.0 / 479001600.0;
    sum = sum * s - 1.0 / 3628800.0;
    sum = sum * s + 1.0 / 40320.0;
    sum = sum * s - 1.0 / 720.0;
    sum = sum * s + 1.0 / 24.0;
    return 1.0 - (0.5 * s - s * s * sum);
}

/* Signs and masks stand in place of branches. */
BRV_INLINE void turn(struct brv_octet *restrict result, const struct brv_octet *restrict z, double time)
{
    for (size_t l = 0; l < BRV_OCTET; l++) {
        const double fall = z->re[l] * time;
        const uint64_t gone = 0 - (brv_bits_of(fall - LOWEST) >> 63);
        const double x = one_or_other(gone, LOWEST, fall), y = one_or_other(gone, 0.0, z->im[l] * time);

        const double doubled = x * LOG2_E + MAGIC, doublings = doubled - MAGIC;
        const double rest = (x - doublings * LN2_TOP) - doublings * LN2_END;
        const double size = brv_of_bits(brv_bits_of(exp_near_0(rest)) + (brv_bits_of(doubled) << 52));

        const double quartered = y * QUARTER + MAGIC, quarters = quartered - MAGIC;
        const double angle = ((y - quarters * PI2_TOP) - quarters * PI2_MID) - quarters * PI2_END;
        const double sine = sine_near_0(angle), cosine = cosine_near_0(angle);
        const uint64_t count = brv_bits_of(quartered), odd = 0 - (count & 1);
        const double re = size * one_or_other(odd, sine, cosine), im = size * one_or_other(odd, cosine, sine);
        result->re[l] = brv_of_bits(brv_bits_of(re) ^ (((count + 1) & 2) << 62));
        result->im[l] = brv_of_bits(brv_bits_of(im) ^ ((count & 2) << 62));
    }
}

/* ---- variants ---- */

/* NOLINTBEGIN(bugprone-macro-parentheses): an attribute cannot stand in parentheses */
#define VARIANT(name, attribute)                                                                                       \
    attribute static void solve_##name(struct brv_octet x[], struct brv_octet pass[],                                  \
                                       const struct brv_octet_chain *chain, const struct brv_octet z[],                \
                                       size_t n_octet)                                                                 \
    {                                                                                                                  \
        solve(x, pass, chain, z, n_octet);                                                                             \
    }                                                                                                                  \
    attribute static void project_##name(struct brv_octet *sum, const struct brv_octet x[], const double weight[],     \
                                         size_t n)                                                                     \
    {                                                                                                                  \
        project(sum, x, weight, n);                                                                                    \
    }                                                                                                                  \
    attribute static void turn_##name(struct brv_octet *result, const struct brv_octet *z, double time)                \
    {                                                                                                                  \
        turn(result, z, time);                                                                                         \
    }                                                                                                                  \
    attribute static void add_##name(double(*sum)[BRV_OCTET], const struct brv_octet x[],                              \
                                     const struct brv_octet *factor, size_t n)                                         \
    {                                                                                                                  \
        add(sum, x, factor, n);                                                                                        \
    }
/* NOLINTEND(bugprone-macro-parentheses) */

VARIANT(plain, )

#if defined(__x86_64__) && defined(__GNUC__)
VARIANT(four, __attribute__((target("avx2"))))

size_t brv_octet_variants(void)
{
    __builtin_cpu_init();
    return __builtin_cpu_supports("avx2") ? 2 : 1;
}

struct brv_octet_steps brv_octet_variant(size_t variant)
{
    static const struct brv_octet_steps steps[] = {{solve_plain, project_plain, turn_plain, add_plain},
                                                   {solve_four, project_four, turn_four, add_four}};
    assert(variant < brv_octet_variants());
    return steps[variant];
}
#else
size_t brv_octet_variants(void)
{
    return 1;
}

struct brv_octet_steps brv_octet_variant(size_t variant)
{
    assert(variant == 0);
    (void)variant;
    return (struct brv_octet_steps){solve_plain, project_plain, turn_plain, add_plain};
}
#endif
