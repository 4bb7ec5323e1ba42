/* Skin at rest between surface and core: closed forms, the balance of heat, and the slab's own steady state. */
#include "base/array.h"
#include "base/constants.h"
#include "base/ladder.h"
#include "heat/slab.h"
#include "heat/start.h"
#include "support/check.h"

#include <math.h>
#include <stdlib.h>

#define BLOOD   (BRV_BLOOD_DENSITY * BRV_BLOOD_HEAT_CAPACITY)
#define SURFACE 306.15
#define CORE    310.15

/* Skin as it is: no blood in the upper layers, little in fat. */
static const double thickness[] = {15e-6, 60e-6, 1.6e-3, INFINITY};
static const double conductivity[] = {0.20, 0.23, 0.37, 0.20};
static const double sink[] = {0.0, 0.0, 1e-3 * BLOOD, 1e-4 * BLOOD};
enum { N_LAYER = 4 };

static struct brv_start skin(double surface, double core)
{
    struct brv_start start;
    brv_start_build(&start, N_LAYER, thickness, conductivity, sink, INFINITY, surface, core);
    return start;
}

/* Row `Pennes steady half-space` of the heat benchmarks: exp(-x / L), L = 9.547 mm. */
static void perfused_half_space(void **state)
{
    (void)state;
    const double d = INFINITY, k = 0.45, w = 0.0013 * BLOOD, length = sqrt(k / w);
    struct brv_start start;
    brv_start_build(&start, 1, &d, &k, &w, INFINITY, SURFACE, CORE);
    check_close(length, 9.547e-3, 0.0, 5e-7);  /* digits of the table */
    for (double x = 0.0; x < 0.2; x += 1.7e-3) /* a few roundings of 310 K */
        check_close(brv_start_temperature(&start, x), CORE + (SURFACE - CORE) * exp(-x / length), 0.0, 2e-13);
    check_close(start.flux, k * (CORE - SURFACE) / length, 1e-14, 0.0);
    check_close(brv_start_layer_mean(&start, 0), SURFACE, 0.0, 0.0);
}

/* An unperfused layer on a perfused half-space: two resistances in series, d / k and L / k. */
static void resistances_in_series(void **state)
{
    (void)state;
    const double d[] = {75e-6, INFINITY}, k[] = {0.23, 0.37}, w[] = {0.0, 1e-3 * BLOOD};
    struct brv_start start;
    brv_start_build(&start, 2, d, k, w, INFINITY, SURFACE, CORE);
    const double flux = (CORE - SURFACE) / (d[0] / k[0] + 1.0 / sqrt(k[1] * w[1]));
    check_close(start.flux, flux, 1e-14, 0.0);
    for (double x = 0.0; x <= 1.0; x += 0.1) /* a straight line down to the face; roundings of 310 K */
        check_close(brv_start_temperature(&start, x * d[0]), SURFACE + flux * x * d[0] / k[0], 0.0, 2e-13);
    check_close(brv_start_layer_mean(&start, 0), SURFACE + 0.5 * flux * d[0] / k[0], 0.0, 2e-13);
}

/* Without blood the core under a finite stack is all there is: straight lines, d / k in series. */
static void straight_lines_without_blood(void **state)
{
    (void)state;
    const double d[] = {15e-6, 80e-6, 2e-3}, k[] = {0.20, 0.23, 0.37}, w[] = {0.0, 0.0, 0.0};
    struct brv_start start;
    brv_start_build(&start, 3, d, k, w, INFINITY, SURFACE, CORE);
    const double flux = (CORE - SURFACE) / (d[0] / k[0] + d[1] / k[1] + d[2] / k[2]);
    double face = SURFACE, top = 0.0;
    check_close(start.flux, flux, 1e-14, 0.0);
    for (size_t i = 0; i < 3; i++) { /* roundings of 310 K */
        check_close(brv_start_temperature(&start, top + 0.3 * d[i]), face + 0.3 * flux * d[i] / k[i], 0.0, 2e-13);
        check_close(brv_start_layer_mean(&start, i), face + 0.5 * flux * d[i] / k[i], 0.0, 2e-13);
        face += flux * d[i] / k[i];
        top += d[i];
    }
    check_close(brv_start_temperature(&start, top), CORE, 0.0, 2e-13);
    check_close(brv_start_temperature(&start, 2.0 * top), CORE, 0.0, 0.0);
}

/* An endless layer without blood brings nothing up, so what lies above it warms the surface alone, or nothing does. */
static void nothing_comes_up_without_blood(void **state)
{
    (void)state;
    const double d[] = {1e-3, INFINITY}, k[] = {0.23, 0.37}, none[] = {0.0, 0.0}, upper[] = {2e-3 * BLOOD, 0.0};
    struct brv_start start;
    brv_start_build(&start, 2, d, k, none, INFINITY, SURFACE, CORE);
    check_close(start.flux, 0.0, 0.0, 0.0);
    check_close(brv_start_temperature(&start, 3e-3), SURFACE, 0.0, 0.0);

    brv_start_build(&start, 2, d, k, upper, INFINITY, SURFACE, CORE);
    const double m = sqrt(upper[0] / k[0]);
    check_close(start.flux, k[0] * m * tanh(m * d[0]) * (CORE - SURFACE), 1e-14, 0.0);
    check_close(brv_start_temperature(&start, 0.1), brv_start_temperature(&start, d[0]), 0.0, 0.0);
    check_close(brv_start_temperature(&start, d[0]), CORE - (CORE - SURFACE) / cosh(m * d[0]), 0.0, 2e-13);
}

/* What leaves through the surface is what the blood brings to all layers, and what comes up from below them. */
static void heat_is_in_balance(void **state)
{
    (void)state;
    const struct brv_start start = skin(SURFACE, CORE);
    double brought = 0.0;
    for (size_t i = 0; i + 1 < N_LAYER; i++)
        brought += sink[i] * thickness[i] * (CORE - brv_start_layer_mean(&start, i));
    brought += sqrt(conductivity[3] * sink[3]) * (CORE - brv_start_layer_mean(&start, 3));
    check_close(brought, start.flux, 1e-13 * CORE / (CORE - SURFACE), 0.0); /* means are differences of some 300 K */
    check_close((brv_start_temperature(&start, 1e-6) - SURFACE) * conductivity[0] / 1e-6, start.flux, 1e-6, 0.0);
}

/* Means against Simpson's rule on 2000 pieces, whose error is below rounding here. */
static void means_are_means(void **state)
{
    (void)state;
    const double d[] = {15e-6, 4e-3, 30e-3}, k[] = {0.20, 0.37, 0.45}, w[] = {0.0, 2e-3 * BLOOD, 5e-3 * BLOOD};
    struct brv_start start;
    brv_start_build(&start, 3, d, k, w, INFINITY, SURFACE, CORE);
    for (size_t i = 0; i < 3; i++) {
        double sum = 0.0;
        for (int j = 0; j <= 2000; j++) {
            const double weight = j == 0 || j == 2000 ? 1.0 : j % 2 ? 4.0 : 2.0;
            sum += weight / 6000.0 * (brv_start_temperature(&start, start.top[i] + d[i] * j / 2000.0) - SURFACE);
        }
        check_close(brv_start_layer_mean(&start, i) - SURFACE, sum, 0.0, 1e-11);
    }
}

static void equal_ends_leave_it_uniform(void **state)
{
    (void)state;
    const struct brv_start start = skin(CORE, CORE);
    check_close(start.flux, 0.0, 0.0, 0.0);
    for (double x = 0.0; x < 0.1; x += 1.3e-5) assert_true(brv_start_temperature(&start, x) == CORE);
    for (size_t i = 0; i < N_LAYER; i++) assert_true(brv_start_layer_mean(&start, i) == CORE);
}

/* Each layer cut in two at three places. 1e-13 of the difference between the ends, read as a share. */
static void split_layer_changes_nothing(void **state)
{
    (void)state;
    const struct brv_start whole = skin(0.0, 1.0);
    const double cut[] = {1e-4, 0.3, 0.9};
    for (size_t split = 0; split < N_LAYER; split++)
        for (size_t place = 0; place < 3; place++) {
            double d[N_LAYER + 1], k[N_LAYER + 1], w[N_LAYER + 1];
            for (size_t i = 0; i <= N_LAYER; i++) {
                d[i] = thickness[i > split ? i - 1 : i];
                k[i] = conductivity[i > split ? i - 1 : i];
                w[i] = sink[i > split ? i - 1 : i];
            }
            d[split] = cut[place] * fmin(thickness[split], 0.02);
            d[split + 1] = thickness[split] - d[split];
            struct brv_start start;
            brv_start_build(&start, N_LAYER + 1, d, k, w, INFINITY, 0.0, 1.0);
            check_close(start.flux, whole.flux, 1e-13, 0.0);
            for (double x = 1e-7; x < 0.1; x *= 1.3)
                check_close(brv_start_temperature(&start, x), brv_start_temperature(&whole, x), 0.0, 1e-13);
        }
}

/* A metre of tissue under the strongest perfusion, 1400 of its own lengths: cosh would overflow at 710. */
static void thick_layers_do_not_overflow(void **state)
{
    (void)state;
    const double d[] = {1.0, 1.0}, k[] = {0.2, 0.2}, w[] = {0.1 * BLOOD, 0.1 * BLOOD}, m = sqrt(w[0] / k[0]);
    struct brv_start start;
    brv_start_build(&start, 2, d, k, w, INFINITY, 0.0, 1.0);
    check_close(start.flux, sqrt(k[0] * w[0]), 1e-14, 0.0);
    for (double x = 1e-7; x < 2.5; x *= 1.5)
        check_close(brv_start_temperature(&start, x), -expm1(-m * x), 0.0, 1e-13); /* m x has rounding of its own */
    check_close(brv_start_layer_mean(&start, 0), 1.0 - 1.0 / m, 1e-14, 0.0);
    check_close(brv_start_layer_mean(&start, 1), 1.0, 0.0, 0.0);
}

/* As thin as layers may be, and hardly perfused: 1e-4 of the difference over a micrometre keeps its digits. */
static void thin_layers_keep_their_digits(void **state)
{
    (void)state;
    const double d[] = {1e-6, INFINITY}, k[] = {0.2, 0.4}, w[] = {1e-9 * BLOOD, 1e-3 * BLOOD};
    struct brv_start start;
    brv_start_build(&start, 2, d, k, w, INFINITY, 0.0, 1.0);
    const double flux = 1.0 / (d[0] / k[0] + 1.0 / sqrt(k[1] * w[1])); /* the blood of the first micrometre: 2e-11 */
    check_close(start.flux, flux, 1e-10, 0.0);
    check_close(start.deficit[1], 1.0 - flux * d[0] / k[0], 1e-12, 0.0);
    check_close(1.0 - start.deficit[0], 0.0, 0.0, 0.0);
}

/* ---- against the slab ---- */

/* The slab's steady state above the surface's temperature, solved at once; the core comes in as a source. Largest
 * departure from the closed form at the centres of cells, over core - surface.                                   */
static double departure_of_the_slab(double cell)
{
    const struct brv_slab_layer layer[] = {
        {0.4e-3, 0.20, 3e6, 0.0}, {1.6e-3, 0.37, 3e6, 5e-3 * BLOOD}, {4e-3, 0.45, 3e6, 1e-3 * BLOOD}};
    const struct brv_slab_grid grid = {cell, 1.0, cell, 0.0};
    double d[3], k[3], w[3], most = 0.0;
    struct brv_start start;
    struct brv_slab slab;
    for (size_t i = 0; i < 3; i++) {
        d[i] = layer[i].thickness;
        k[i] = layer[i].conductivity;
        w[i] = layer[i].perfusion;
    }
    brv_start_build(&start, 3, d, k, w, INFINITY, 0.0, 1.0);
    assert_int_equal(brv_slab_build(&slab, layer, 3, &grid, INFINITY, INFINITY, NULL), BRV_OK);

    const size_t n = slab.chain.n;
    double *own = brv_array_new(4 * n), *pivot = own + n, *pass = pivot + n, *rise = pass + n;
    for (size_t i = 0; i < n; i++) own[i] = rise[i] = slab.chain.sink[i]; /* sink x (core - surface) = sink */
    own[0] += slab.chain.link[0];
    own[n - 1] += slab.chain.link[n];
    rise[n - 1] += slab.chain.link[n];
    brv_ladder_factor(n, own, slab.chain.link, pivot, pass);
    brv_ladder_solve(n, pivot, pass, rise);
    for (size_t i = 0; i < n; i++) {
        const double centre = 0.5 * (slab.face[i] + slab.face[i + 1]);
        most = fmax(most, fabs(rise[i] - brv_start_temperature(&start, centre)));
    }
    free(own);
    brv_slab_free(&slab);
    return most;
}

/* Second order, and 1e-6 on the finest: the cell over the reach of 4.4 mm, squared. */
static void the_slab_comes_to_rest_there(void **state)
{
    (void)state;
    const double coarse = departure_of_the_slab(40e-6), middle = departure_of_the_slab(20e-6),
                 fine = departure_of_the_slab(10e-6);
    check_close(log2(coarse / middle), 2.0, 0.0, 0.1);
    check_close(log2(middle / fine), 2.0, 0.0, 0.1);
    assert_true(fine < 1e-6);
}

/* Nothing below a finite stack: without blood it is as warm as its surface to the bit; one perfused layer goes like
 * cosh. Half a transfer below: in series with the layers.                                                          */
static void what_lies_below_a_finite_stack(void **state)
{
    (void)state;
    static const double d[] = {0.3e-3, 2.385e-3}, k[] = {0.23, 0.37}, none[] = {0.0, 0.0}, w = 3.8e3;
    struct brv_start start;
    brv_start_build(&start, 2, d, k, none, 0.0, SURFACE, CORE);
    check_close(start.flux, 0.0, 0.0, 0.0);
    check_close(brv_start_temperature(&start, 1e-3), SURFACE, 0.0, 0.0);
    check_close(brv_start_layer_mean(&start, 1), SURFACE, 0.0, 0.0);
    brv_start_build(&start, 1, &d[1], &k[1], &w, 0.0, SURFACE, CORE);
    const double m = sqrt(w / k[1]);
    check_close(start.flux, k[1] * m * tanh(m * d[1]) * (CORE - SURFACE), 1e-14, 0.0);
    for (double x = 0.0; x <= d[1]; x += 0.1e-3) /* roundings of 310 K */
        check_close(brv_start_temperature(&start, x), CORE - (CORE - SURFACE) * cosh(m * (d[1] - x)) / cosh(m * d[1]),
                    1e-15, 0.0);
    brv_start_build(&start, 2, d, k, none, 77.0, SURFACE, CORE);
    check_close(start.flux, (CORE - SURFACE) / (d[0] / k[0] + d[1] / k[1] + 1.0 / 77.0), 1e-14, 0.0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(perfused_half_space),
        cmocka_unit_test(resistances_in_series),
        cmocka_unit_test(what_lies_below_a_finite_stack),
        cmocka_unit_test(straight_lines_without_blood),
        cmocka_unit_test(nothing_comes_up_without_blood),
        cmocka_unit_test(heat_is_in_balance),
        cmocka_unit_test(means_are_means),
        cmocka_unit_test(equal_ends_leave_it_uniform),
        cmocka_unit_test(split_layer_changes_nothing),
        cmocka_unit_test(thick_layers_do_not_overflow),
        cmocka_unit_test(thin_layers_keep_their_digits),
        cmocka_unit_test(the_slab_comes_to_rest_there),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
