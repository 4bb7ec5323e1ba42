/* Eight complex numbers at once: against the library's complex arithmetic, and every variant against the plain one. */
#include "base/octet.h"
#include "support/check.h"

#include <complex.h>
#include <math.h>
#include <string.h>

enum { N = 37 };

struct chain {
    double capacity[N], sink[N], link[N + 1], heat[N], inflow[N];
};

static void lay(struct chain *chain, struct brv_octet *z)
{
    for (size_t i = 0; i < N; i++) {
        chain->capacity[i] = 1.3 + sin(2.385 * (double)i);
        chain->sink[i] = 0.1 + 0.09 * cos(0.7 * (double)i);
        chain->heat[i] = 0.7 + sin(1.1 * (double)i);
        chain->inflow[i] = 0.2 + 0.3 * cos(2.1 * (double)i);
    }
    for (size_t i = 0; i <= N; i++) chain->link[i] = 5.0 + 4.9 * cos(1.7 * (double)i);
    for (size_t l = 0; l < BRV_OCTET; l++) {
        z->re[l] = 1.0 - 0.7 * (double)l;
        z->im[l] = 0.4 + 0.9 * (double)l;
    }
}

static struct brv_octet_chain cells(const struct chain *chain)
{
    return (struct brv_octet_chain){N, chain->capacity, chain->sink, chain->link, chain->heat, chain->inflow};
}

/* What the equations leave over with the answer put in, as a share of their largest term. */
static double left_over(const struct chain *chain, double complex z, const double complex x[N], size_t i)
{
    const double complex before = i ? x[i - 1] : 0.0, after = i + 1 < N ? x[i + 1] : 0.0;
    const double complex own = (z * chain->capacity[i] + chain->sink[i]) * x[i];
    const double complex up = chain->link[i] * (x[i] - before), down = chain->link[i + 1] * (x[i] - after);
    return cabs(own + up + down - chain->heat[i] - chain->inflow[i] / z) / (cabs(own) + cabs(up) + cabs(down));
}

static void solves_the_chain(void **state)
{
    (void)state;
    struct chain chain;
    struct brv_octet z, x[N], pass[N];
    lay(&chain, &z);
    const struct brv_octet_chain ask = cells(&chain);
    brv_octet_variant(0).solve(x, pass, &ask, &z, 1);
    for (size_t l = 0; l < BRV_OCTET; l++) {
        double complex one[N];
        for (size_t i = 0; i < N; i++) one[i] = x[i].re[l] + I * x[i].im[l];
        for (size_t i = 0; i < N; i++)
            check_close(left_over(&chain, z.re[l] + I * z.im[l], one, i), 0.0, 0.0, 1e-14); /* rounding, some ten */
    }
}

/* Links a million million times the capacities: what went in is still what is held, z C x summed. */
static void stiff_chain_keeps_its_heat(void **state)
{
    (void)state;
    struct chain chain;
    struct brv_octet z, x[N], pass[N];
    lay(&chain, &z);
    for (size_t i = 0; i < N; i++) chain.sink[i] = chain.inflow[i] = 0.0;
    for (size_t i = 0; i <= N; i++) chain.link[i] = i % N ? 2.385e12 : 0.0;
    const struct brv_octet_chain ask = cells(&chain);
    brv_octet_variant(0).solve(x, pass, &ask, &z, 1);
    for (size_t l = 0; l < BRV_OCTET; l++) {
        double complex held = 0.0, heat = 0.0;
        for (size_t i = 0; i < N; i++) {
            held += (z.re[l] + I * z.im[l]) * chain.capacity[i] * (x[i].re[l] + I * x[i].im[l]);
            heat += chain.heat[i];
        }
        check_close(cabs(held - heat) / cabs(heat), 0.0, 0.0, 1e-13); /* one diagonal number would leave 1e-4 */
    }
}

/* Over what the poles of a contour ask: from growth to nothing, some hundred turns. */
static void turns_as_the_library_does(void **state)
{
    (void)state;
    struct brv_octet z, found;
    struct chain chain;
    lay(&chain, &z);
    for (double time = 1e-9; time < 200.0; time *= 1.07) {
        brv_octet_variant(0).turn(&found, &z, time);
        for (size_t l = 0; l < BRV_OCTET; l++) {
            const double re = z.re[l] * time, im = z.im[l] * time;
            if (re < -690.0 || re > 690.0) continue;
            /* 1e-15 of its size, tests above saw 4e-16; the angle itself is the same number on either side */
            check_close(found.re[l] / exp(re), cos(im), 0.0, 1e-15);
            check_close(found.im[l] / exp(re), sin(im), 0.0, 1e-15);
        }
    }
}

static void turns_die_out(void **state)
{
    (void)state;
    struct brv_octet z, found;
    for (size_t l = 0; l < BRV_OCTET; l++) {
        z.re[l] = -pow(10.0, 40.0 * (double)l);
        z.im[l] = -2.0 * z.re[l];
    }
    brv_octet_variant(0).turn(&found, &z, 1e3);
    for (size_t l = 0; l < BRV_OCTET; l++) {
        assert_true(fabs(found.re[l]) <= 3e-300 && fabs(found.im[l]) <= 3e-300);
        assert_true(isfinite(found.re[l]) && isfinite(found.im[l]));
    }
}

static void projects_and_adds(void **state)
{
    (void)state;
    struct chain chain;
    struct brv_octet z, x[N], pass[N], sum;
    double total[2][BRV_OCTET] = {{0.0}};
    lay(&chain, &z);
    const struct brv_octet_chain ask = cells(&chain);
    brv_octet_variant(0).solve(x, pass, &ask, &z, 1);
    brv_octet_variant(0).project(&sum, x, chain.capacity, N);
    brv_octet_variant(0).add(total, x, &z, 2);
    brv_octet_variant(0).add(total, x, &z, 2);
    for (size_t l = 0; l < BRV_OCTET; l++) {
        double complex expected = 0.0;
        for (size_t i = 0; i < N; i++) expected += chain.capacity[i] * (x[i].re[l] + I * x[i].im[l]);
        check_close(sum.re[l], creal(expected), 1e-13, 0.0);
        check_close(sum.im[l], cimag(expected), 1e-13, 0.0);
        const double complex second = (x[1].re[l] + I * x[1].im[l]) * (z.re[l] + I * z.im[l]);
        check_close(total[1][l], 2.0 * cimag(second), 1e-14, 1e-14 * cabs(second)); /* rounding */
    }
}

static void nothing_stays_nothing(void **state)
{
    (void)state;
    struct chain chain;
    struct brv_octet z, x[N], pass[N];
    lay(&chain, &z);
    struct brv_octet_chain ask = cells(&chain);
    ask.heat = ask.inflow = NULL;
    brv_octet_variant(0).solve(x, pass, &ask, &z, 1);
    for (size_t i = 0; i < N; i++)
        for (size_t l = 0; l < BRV_OCTET; l++) assert_true(x[i].re[l] == 0.0 && x[i].im[l] == 0.0);
}

static void same_bytes(size_t variant)
{
    struct chain chain;
    struct brv_octet z, x[2][N], pass[2][N], sum[2], turned[2];
    double total[2][N][BRV_OCTET] = {{{0.0}}};
    lay(&chain, &z);
    const struct brv_octet_chain ask = cells(&chain);
    for (size_t which = 0; which < 2; which++) {
        const struct brv_octet_steps steps = brv_octet_variant(which ? variant : 0);
        steps.solve(x[which], pass[which], &ask, &z, 1);
        steps.project(&sum[which], x[which], chain.capacity, N);
        steps.turn(&turned[which], &z, 3.1);
        steps.add(total[which], x[which], &turned[which], N);
    }
    assert_memory_equal(x[0], x[1], sizeof x[0]);
    assert_memory_equal(&sum[0], &sum[1], sizeof sum[0]);
    assert_memory_equal(&turned[0], &turned[1], sizeof turned[0]);
    assert_memory_equal(total[0], total[1], sizeof total[0]);
}

/* Three octets at once, two of which take turns, are each what it is alone. */
static void octets_do_not_mix(void **state)
{
    (void)state;
    enum { OCTETS = 3 };
    struct chain chain;
    struct brv_octet z[OCTETS], together[OCTETS][N], alone[N], pass[2 * N];
    for (size_t o = 0; o < OCTETS; o++) {
        lay(&chain, &z[o]);
        for (size_t l = 0; l < BRV_OCTET; l++) z[o].im[l] *= 1.0 + (double)o;
    }
    const struct brv_octet_chain ask = cells(&chain);
    for (size_t variant = 0; variant < brv_octet_variants(); variant++) {
        brv_octet_variant(variant).solve(together[0], pass, &ask, z, OCTETS);
        for (size_t o = 0; o < OCTETS; o++) {
            brv_octet_variant(variant).solve(alone, pass, &ask, &z[o], 1);
            assert_memory_equal(together[o], alone, sizeof alone);
        }
    }
}

static void every_variant_gives_the_same_bytes(void **state)
{
    (void)state;
    for (size_t variant = 0; variant < brv_octet_variants(); variant++) same_bytes(variant);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(solves_the_chain),          cmocka_unit_test(stiff_chain_keeps_its_heat),
        cmocka_unit_test(turns_as_the_library_does), cmocka_unit_test(turns_die_out),
        cmocka_unit_test(projects_and_adds),         cmocka_unit_test(nothing_stays_nothing),
        cmocka_unit_test(octets_do_not_mix),         cmocka_unit_test(every_variant_gives_the_same_bytes)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
