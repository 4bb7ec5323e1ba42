/* Modes across a disc or a strip: orthonormal, closed ends that keep heat, rates and shapes of the exact ones. */
#include "base/constants.h"
#include "heat/radial.h"
#include "support/check.h"

#include <gsl/gsl_sf_bessel.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

enum { MOST = 400 };

/* Cells that widen outwards from `first` by the factor `ratio`. */
static void build(struct brv_radial *radial, size_t n, double first, double ratio, int power, double side)
{
    double face[MOST + 1] = {0.0}, size = first;
    for (size_t i = 0; i < n; i++, size *= ratio) face[i + 1] = face[i] + size;
    assert_int_equal(brv_radial_build(radial, n, face, power, side, NULL), BRV_OK);
}

static double product(const struct brv_radial *radial, size_t one, size_t other)
{
    double sum = 0.0;
    for (size_t i = 0; i < radial->n; i++)
        sum += radial->area[i] * radial->shape[one * radial->n + i] * radial->shape[other * radial->n + i];
    return sum;
}

/* ---- what holds to rounding ---- */

static const double sides[] = {0.0, 3e-3, 14.4, 4e3, INFINITY};

static void check_orthonormal(int power, double side)
{
    struct brv_radial radial;
    build(&radial, 120, 15e-6, 1.035, power, side); /* cells of 15 um to 0.9 mm, a reach of 26 mm */
    for (size_t one = 0; one < radial.n; one++) {
        /* 1e-12: 1e-14 is what rounding leaves of 120 cells whose areas differ by a factor of 1e5 */
        for (size_t other = 0; other <= one; other++)
            check_close(product(&radial, one, other), one == other ? 1.0 : 0.0, 0.0, 1e-12);
        assert_true(radial.axis[one] >= 0.0 && radial.rate[one] >= 0.0);
        if (one) assert_true(radial.rate[one] > radial.rate[one - 1]);
    }
    brv_radial_free(&radial);
    brv_radial_free(&radial); /* twice is allowed */
}

static void modes_are_orthonormal_and_ascend(void **state)
{
    (void)state;
    for (int power = 0; power < 2; power++)
        for (size_t i = 0; i < sizeof sides / sizeof *sides; i++) check_orthonormal(power, sides[i]);
}

static void a_closed_end_keeps_heat_exactly(void **state)
{
    (void)state;
    for (int power = 0; power < 2; power++) {
        struct brv_radial radial;
        build(&radial, 120, 15e-6, 1.035, power, 0.0);
        const double reach = radial.face[120], area = power ? 0.5 * reach * reach : reach;
        assert_true(radial.rate[0] == 0.0);
        check_close(radial.total[0], sqrt(area), 1e-13, 0.0);
        check_close(radial.axis[0], 1.0 / sqrt(area), 1e-13, 0.0);
        for (size_t mode = 1; mode < radial.n; mode++) assert_true(radial.total[mode] == 0.0);
        brv_radial_free(&radial);
    }
}

static void an_open_end_loses_in_every_mode(void **state)
{
    (void)state;
    struct brv_radial radial;
    build(&radial, 60, 1e-4, 1.05, 1, 3e-3);
    const double reach = radial.face[60];
    check_close(radial.rate[0], 2.0 * 3e-3 / reach, 1e-4, 0.0); /* a thin loss: side x circumference / area */
    for (size_t mode = 1; mode < radial.n; mode++) assert_true(radial.total[mode] != 0.0);
    brv_radial_free(&radial);
}

/* Into the modes and back; what is even across goes to mode 0 alone. */
static void there_and_back(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof sides / sizeof *sides; i++) {
        struct brv_radial radial;
        double density[2 * 80], amplitude[3 * 80];
        build(&radial, 80, 2e-5, 1.05, 1, sides[i]);
        for (size_t cell = 0; cell < 80; cell++) density[2 * cell] = exp(-0.01 * (double)(cell * cell)) + 0.37;
        for (size_t mode = 0; mode < 80; mode++) amplitude[3 * mode] = brv_radial_amplitude(&radial, mode, density, 2);
        for (size_t cell = 0; cell < 80; cell++) /* 1e-11: narrow cells divide by the root of a small area */
            check_close(brv_radial_density(&radial, amplitude, 3, cell), density[2 * cell], 1e-11, 0.0);

        for (size_t cell = 0; cell < 80; cell++) density[cell] = 4.1;
        for (size_t mode = 1; mode < 80 && sides[i] == 0.0; mode++)
            assert_true(brv_radial_amplitude(&radial, mode, density, 1) == 0.0);
        check_close(brv_radial_amplitude(&radial, 0, density, 1), 4.1 * radial.total[0], 1e-15, 0.0);
        brv_radial_free(&radial);
    }
}

/* ---- readings ---- */

static double read_cells(const double value[], const struct brv_reading *reading)
{
    return reading->weight[0] * value[reading->cell[0]] + reading->weight[1] * value[reading->cell[1]];
}

/* Means of a parabola about the axis give the parabola back, at the axis too. */
static void readings_meet_a_parabola(void **state)
{
    (void)state;
    for (int power = 0; power < 2; power++) {
        struct brv_radial radial;
        double mean[40];
        build(&radial, 40, 0.01, 1.06, power, 0.0);
        for (size_t i = 0; i < 40; i++) {
            const double a = radial.face[i], b = radial.face[i + 1];
            mean[i] = 3.0 - 0.4 * (power ? 0.5 * (a * a + b * b) : (a * a + a * b + b * b) / 3.0);
        }
        static const double place[] = {0.0, 0.003, 0.01, 0.0123, 0.1, 0.7};
        for (size_t i = 0; i < sizeof place / sizeof *place; i++) {
            const struct brv_reading reading = brv_radial_reading(&radial, place[i]);
            check_close(read_cells(mean, &reading), 3.0 - 0.4 * place[i] * place[i], 1e-13, 0.0);
        }
        brv_radial_free(&radial);
    }
}

/* At the outer end the reading follows the loss: -du/dr = side u. */
static void readings_end_as_the_end_demands(void **state)
{
    (void)state;
    static const double side = 14.4;
    struct brv_radial radial;
    build(&radial, 20, 0.03, 1.0, 0, side);
    const double end = 0.6, last = sqrt((0.57 * 0.57 + 0.57 * end + end * end) / 3.0); /* where a cell's mean is met */
    const double left = (1.0 / side) / (1.0 / side + 0.015);
    check_close(brv_radial_reading(&radial, end).weight[0], left, 1e-13, 0.0);
    check_close(brv_radial_reading(&radial, 0.5 * (last + end)).weight[0], 0.5 * (1.0 + left), 1e-13, 0.0);
    check_close(brv_radial_reading(&radial, last * (1.0 - 1e-15)).weight[1], 1.0, 1e-12, 0.0); /* nowhere a jump */
    brv_radial_free(&radial);

    build(&radial, 20, 0.03, 1.0, 0, 0.0);
    check_close(brv_radial_reading(&radial, end).weight[0], 1.0, 0.0, 0.0); /* closed: flat to the end */
    brv_radial_free(&radial);
    build(&radial, 20, 0.03, 1.0, 0, INFINITY);
    check_close(brv_radial_reading(&radial, end).weight[0], 0.0, 0.0, 1e-13); /* held at 0 */
    brv_radial_free(&radial);
}

/* ---- against the exact modes ---- */

/* Exact mu of a disc or strip of radius 1 with a closed end or one held at 0. */
static double exact_mu(int power, double side, unsigned mode)
{
    if (power == 0) return BRV_PI * (side > 0.0 ? mode + 0.5 : mode);
    return side > 0.0 ? gsl_sf_bessel_zero_J0(mode + 1) : gsl_sf_bessel_zero_J1(mode);
}

/* Exact value on the axis of the mode whose mean square over the area is 1. */
static double exact_axis(int power, double side, double mu)
{
    if (power == 0) return sqrt(2.0);
    return sqrt(2.0) / fabs(side > 0.0 ? gsl_sf_bessel_J1(mu) : gsl_sf_bessel_J0(mu));
}

struct miss {
    double rate, axis;
};

static struct miss worst_of_five(int power, double side, size_t n)
{
    struct miss worst = {0.0, 0.0};
    struct brv_radial radial;
    build(&radial, n, 1.0 / (double)n, 1.0, power, side);
    for (unsigned mode = 1; mode <= 5; mode++) {
        const double mu = exact_mu(power, side, mode);
        worst.rate = fmax(worst.rate, fabs(radial.rate[mode] / (mu * mu) - 1.0));
        worst.axis = fmax(worst.axis, fabs(radial.axis[mode] / exact_axis(power, side, mu) - 1.0));
    }
    brv_radial_free(&radial);
    return worst;
}

static void check_modes(int power, double side, const char *what)
{
    char text[120];
    struct miss miss[3];
    for (size_t i = 0; i < 3; i++) miss[i] = worst_of_five(power, side, (size_t)80 << i);
    for (size_t i = 0; i < 2; i++) {
        snprintf(text, sizeof text, "observed order, rates of %s, refinement %zu", what, i + 1);
        check_row(text, "carslaw-jaeger (exact)", log2(miss[i].rate / miss[i + 1].rate), 2.0, 0.1,
                  "the claim is second order");
        snprintf(text, sizeof text, "observed order, axis of %s, refinement %zu", what, i + 1);
        check_row(text, "carslaw-jaeger (exact)", log2(miss[i].axis / miss[i + 1].axis), 2.0, 0.1,
                  "the claim is second order");
    }
    snprintf(text, sizeof text, "rates of five modes, %s, 320 cells, relative", what);
    check_row(text, "carslaw-jaeger (exact)", miss[2].rate, 0.0, 3e-4, "(mu x cell)^2 / 12 for mu up to 18");
    snprintf(text, sizeof text, "axis of five modes, %s, 320 cells, relative", what);
    check_row(text, "carslaw-jaeger (exact)", miss[2].axis, 0.0, 3e-4, "the same size");
}

static void modes_are_the_exact_ones(void **state)
{
    (void)state;
    check_modes(1, 0.0, "a closed disc");
    check_modes(1, INFINITY, "a disc held cold");
    check_modes(0, 0.0, "a closed strip");
    check_modes(0, INFINITY, "a strip held cold");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(modes_are_orthonormal_and_ascend), cmocka_unit_test(a_closed_end_keeps_heat_exactly),
        cmocka_unit_test(an_open_end_loses_in_every_mode),  cmocka_unit_test(there_and_back),
        cmocka_unit_test(readings_meet_a_parabola),         cmocka_unit_test(readings_end_as_the_end_demands),
        cmocka_unit_test(modes_are_the_exact_ones)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
