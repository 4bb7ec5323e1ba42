/* Small parts of the heat folder: grids, clock, history, cooling, readings. */
#include "heat/clock.h"
#include "heat/cooling.h"
#include "heat/grid.h"
#include "heat/heat.h"
#include "heat/heat_grain.h"
#include "heat/history.h"
#include "heat/slab.h"
#include "support/check.h"

#include <math.h>

static const struct brv_scaling as_it_is = {1.0, 1.0, NULL};

static void grid_meets_its_ends_and_sizes(void **state)
{
    (void)state;
    const struct brv_stretch stretch = {3.7, 0.01, 0.02, 0.07, 0.11};
    double face[400] = {1.0};
    const size_t n = brv_grid_lay(&stretch, face);
    assert_int_equal(n, brv_grid_count(&stretch));
    check_close(face[n], 4.7, 1e-15, 0.0);
    check_close(face[1] - face[0], 0.01, 0.06, 0.0); /* the first cell has grown by half a cell's growth */
    check_close(face[n] - face[n - 1], 0.02, 0.06, 0.0);
    for (size_t i = 1; i < n; i++) {
        const double here = face[i + 1] - face[i], before = face[i] - face[i - 1];
        assert_true(here > 0.0 && here < 0.1101);
        assert_true(here / before < 1.08 && before / here < 1.08); /* smooth: ratio e^0.07 at the most */
    }
}

static void grid_without_wishes_at_an_end(void **state)
{
    (void)state;
    double face[400] = {0.0};
    const struct brv_stretch outward = {1e4, 0.01, INFINITY, 0.1, INFINITY};
    const size_t n = brv_grid_lay(&outward, face);
    assert_true(n > 100 && n < 130); /* log1p(0.1 x 1e4 / 0.01) / 0.1 = 115 */
    check_close(face[n], 1e4, 1e-15, 0.0);
    const struct brv_stretch inward = {1.0, INFINITY, 0.01, 0.1, 0.04};
    const size_t m = brv_grid_lay(&inward, face);
    check_close(face[1] - face[0], 0.04, 0.05, 0.0);
    check_close(face[m] - face[m - 1], 0.01, 0.06, 0.0);
    const struct brv_stretch tiny = {1e-3, 0.01, 0.01, 0.1, INFINITY};
    assert_int_equal(brv_grid_lay(&tiny, face), 2); /* never fewer than two cells */
    check_close(face[1], 0.5e-3, 1e-9, 0.0);
}

/* A landmark between two times that it is one with each, but that are two: a pulse of 2.6 ms, 10 ns behind its end. */
static void clock_shows_no_time_twice(void **state)
{
    (void)state;
    for (double after = 0.2e-6; after < 3e-6; after += 0.05e-6) {
        const double landmark = 9.2e-3 * (1.0 + after);
        const struct brv_clock_ask ask = {
            .window = 9.2e-3, .end = 9.2e-3, .grain = 5e-7, .until = 1.0, .n_landmark = 1, .landmark = &landmark};
        double time[BRV_CLOCK_ROOM];
        const size_t n = brv_clock_times(time, &ask);
        for (size_t i = 1; i < n; i++)
            if (!(time[i] > time[i - 1])) fail_msg("%.17g stands twice, landmark at 1 + %g", time[i], after);
        assert_true(time[n - 1] == 1.0);
    }
}

/* The end of a long pulse stays among them to the last bit, however close the landmarks behind it: a grain loses its lead
 * in some 10 ns.                                                                                                   */
static void clock_keeps_the_end_of_a_pulse(void **state)
{
    (void)state;
    for (double end = 1e-3; end < 0.1; end *= 1.07) {
        const double landmark[] = {end, end + 1e-9, end + 1e-8, end + 1e-7, end + 1e-6};
        const struct brv_clock_ask ask = {
            .window = 1.4 * end, .end = end, .grain = 5e-8, .until = 1.0, .n_landmark = 5, .landmark = landmark};
        double time[BRV_CLOCK_ROOM];
        size_t found = 0;
        const size_t n = brv_clock_times(time, &ask);
        for (size_t i = 0; i < n; i++) found += !(time[i] < end) && !(time[i] > end);
        if (found != 1) fail_msg("the end of a pulse at %g s stands there %zu times", end, found);
    }
}

static void clock_has_its_landmarks(void **state)
{
    (void)state;
    const struct brv_clock_ask ask = {.window = 35e-9, .end = 24.5e-9, .grain = 2e-8, .until = 60.0};
    double time[BRV_CLOCK_ROOM];
    const size_t n = brv_clock_times(time, &ask);
    int window = 0, end = 0;
    assert_true(n > 200 && n < 400);
    check_close(time[0], 0.0, 0.0, 0.0);
    check_close(time[n - 1], 60.0, 0.0, 0.0);
    for (size_t i = 1; i < n; i++) {
        assert_true(time[i] > time[i - 1]);
        window += fabs(time[i] - 35e-9) < 1e-15;
        end += fabs(time[i] - 24.5e-9) < 1e-15;
    }
    assert_int_equal(window, 1);
    assert_int_equal(end, 1);
}

static void history_finds_summits_and_falls(void **state)
{
    (void)state;
    struct brv_history history;
    const struct brv_history_ask room = {.n_time = 41, .n_probe = 1, .n_cell = 3, .n_pulse = 1};
    assert_int_equal(brv_history_build(&history, &room, NULL), BRV_OK);
    for (size_t i = 0; i < 41; i++) {
        const double t = 0.1 * (double)i;
        history.time[i] = history.since[i] = t;
        history.pulse[i] = 1;
        history.rise[i] = 9.0 - (t - 1.234) * (t - 1.234);
        history.pigment[i] = 0.5 * history.rise[i];
    }
    const struct brv_summit top = brv_history_summit(&history, 0, as_it_is);
    check_close(top.value, 9.0, 1e-13, 0.0); /* a parabola through three of its points is exact */
    check_close(top.time, 1.234, 1e-12, 0.0);
    check_close(brv_history_summit(&history, 0, (struct brv_scaling){1.0, 3.0, NULL}).value, 18.0, 1e-13,
                0.0); /* rise + 2 x pigment */
    /* to 36 K from 0 K: twice the 18 K above, and the same parabola */
    check_close(brv_history_factor(&history, 0, (struct brv_scaling){1.0, 3.0, NULL}, 36.0), 2.0, 1e-12, 0.0);
    for (size_t i = 13; i < 41; i++) history.pulse[i] = 2; /* the highest row is the last before the next pulse */
    check_close(brv_history_summit(&history, 0, as_it_is).value, history.rise[12], 0.0, 0.0);
    check_close(brv_history_summit(&history, 0, as_it_is).time, history.time[12], 0.0, 0.0);
    for (size_t i = 13; i < 41; i++) history.pulse[i] = 1;
    double falling[41];
    for (size_t i = 0; i < 41; i++) falling[i] = pow(history.time[i] + 1e-9, -1.5);
    check_close(brv_history_fall(&history, falling, 0.0, 0.77), pow(0.77, -1.0 / 1.5), 1e-6, 0.0); /* a power law */
    assert_true(isnan(brv_history_fall(&history, falling, 0.0, 1e-3)));
    /* the same law from 0.5 s on, and the next pulse right after the row of 1.7 s that ends the fall: the rows of the
     * first pulse lie on both sides of it; rounding of a straight line in logarithms                               */
    for (size_t i = 0; i < 41; i++) falling[i] = i > 5 ? pow(history.time[i] - 0.5, -1.5) : 1e9;
    for (size_t i = 18; i < 41; i++) history.pulse[i] = 2;
    check_close(brv_history_fall(&history, falling, 0.5, 0.77), 0.5 + pow(0.77, -1.0 / 1.5), 1e-9, 0.0);
    brv_history_free(&history);
    brv_history_free(&history); /* twice is allowed */
}

/* Two bumps of 60 and 63 K while it cools by 30 K: warmest and nearest to a criterion in the first. */
static void what_cools_takes_turns_with_pulses(void **state)
{
    (void)state;
    struct brv_history history;
    const struct brv_history_ask room = {.n_time = 41, .n_probe = 1, .n_cell = 3, .n_pulse = 2, .cooled = true};
    assert_int_equal(brv_history_build(&history, &room, NULL), BRV_OK);
    history.start[0] = 300.0;
    for (size_t i = 0; i < 41; i++) {
        const double t = 0.1 * (double)i, away = i < 21 ? t - 1.0 : t - 3.0;
        history.time[i] = history.since[i] = t;
        history.pulse[i] = i < 21 ? 1 : 2;
        history.rise[i] = (i < 21 ? 60.0 : 63.0) - 40.0 * away * away;
        history.cooled[i] = -10.0 * t;
    }
    check_close(brv_history_summit(&history, 0, as_it_is).value, 63.0, 1e-13, 0.0);
    const struct brv_summit hottest = brv_history_hottest(&history, 0, as_it_is); /* of 60 - 40 (t - 1)^2 - 10 t */
    check_close(hottest.time, 0.875, 1e-12, 0.0);
    check_close(hottest.value, 360.0 - 40.0 * 0.125 * 0.125 - 8.75, 1e-13, 0.0);
    /* least of (100 + 10 t) / (60 - 40 (t - 1)^2): 1.82763 at t = 0.9316; 1e-4 for a parabola through tenths */
    check_close(brv_history_factor(&history, 0, as_it_is, 400.0), 1.82763, 1e-4, 0.0);
    check_close(brv_history_factor(&history, 0, as_it_is, 299.0), 0.0, 0.0,
                0.0);   /* it is warmer than that without pulses */
    history.from = 0.9; /* laid on there: no parabola across */
    history.to = 9.0;
    check_close(brv_history_hottest(&history, 0, as_it_is).time, 0.9, 1e-12, 0.0);
    brv_history_free(&history);
}

/* The relaxation of a sphere in like surroundings: kappa of trt_kappa_meaning, exact closed forms. */
static void grain_relaxes_as_the_closed_forms_say(void **state)
{
    (void)state;
    const struct brv_sphere_ask ask = {.radius = 0.5e-6,
                                       .cell_radius = INFINITY,
                                       .reach = 60e-6,
                                       .conductivity = 0.5,
                                       .host_conductivity = 0.5,
                                       .heat_capacity = 4e6,
                                       .host_heat_capacity = 4e6,
                                       .finest = 1e-9,
                                       .growth = 0.04,
                                       .most = 0.01e-6};
    struct brv_cooling cooling;
    assert_int_equal(brv_cooling_measure(&cooling, &ask, NULL), BRV_OK);
    const double unit = 1e-12 / 0.125e-6; /* d^2 / alpha */
    static const char *const reason = "0.3 %: linear reading between times 2 % apart, 50 cells per radius";
    check_row("kappa, centre to 1/2", "relaxation-kappa (exact)", unit / cooling.centre_half, 18.9278, 0.06, reason);
    check_row("kappa, centre to 1/e", "relaxation-kappa (exact)", unit / cooling.centre_efold, 13.7736, 0.04, reason);
    check_row("kappa, mean to 1/2", "relaxation-kappa (exact)", unit / cooling.mean_half, 39.9172, 0.12, reason);
    check_row("kappa, mean to 1/e", "relaxation-kappa (exact)", unit / cooling.mean_efold, 22.2289, 0.07, reason);
}

static void slab_reads_between_its_cells(void **state)
{
    (void)state;
    const struct brv_slab_layer layer[] = {{1.0, 2.0, 1.0, 0.0}, {1.0, 0.5, 1.0, 0.0}};
    const struct brv_slab_grid grid = {0.25, 1.0, 0.25, 0.0};
    struct brv_slab slab;
    assert_int_equal(brv_slab_build(&slab, layer, 2, &grid, 0.0, 0.0, NULL), BRV_OK);
    assert_int_equal(slab.chain.n, 8);
    /* a steady flux through both: gradients 1 and 4 */
    for (size_t i = 0; i < 8; i++) {
        const double z = 0.125 + 0.25 * (double)i;
        slab.chain.rise[i] = z < 1.0 ? 10.0 - z : 9.0 - 4.0 * (z - 1.0);
    }
    static const double depth[] = {0.4, 0.97, 1.0, 1.03, 1.6};
    for (size_t i = 0; i < 5; i++) {
        const struct brv_reading reading = brv_slab_reading(&slab, depth[i]);
        const double z = depth[i], line = z < 1.0 ? 10.0 - z : 9.0 - 4.0 * (z - 1.0);
        check_close(brv_chain_read(&slab.chain, &reading), line, 1e-13, 0.0); /* bends at the face, not between cells */
    }
    double deposit[8]; /* 0.03 K in the first cell, 0.24 K in the last */
    for (size_t i = 0; i < 8; i++) deposit[i] = 0.03 * (double)(i + 1) * slab.chain.capacity[i];
    check_close(brv_heat_adiabatic(&slab.chain, deposit), 0.24, 1e-15, 0.0);
    brv_slab_free(&slab);
    brv_slab_free(&slab);
}

/* Faces deeper than the light reaches take cells of a hundredth of the way from there, and so hardly more of them. */
static void faces_in_the_dark_cost_few_cells(void **state)
{
    (void)state;
    const struct brv_slab_layer whole[] = {{1.0, 1.0, 1.0, 0.0}, {999.0, 1.0, 1.0, 0.0}};
    const struct brv_slab_layer parted[] = {
        {1.0, 1.0, 1.0, 0.0}, {99.0, 1.0, 1.0, 0.0}, {300.0, 1.0, 1.0, 0.0}, {600.0, 1.0, 1.0, 0.0}};
    const struct brv_slab_grid fine = {0.01, 0.05, INFINITY, 0.0}, dark = {0.01, 0.05, INFINITY, 1.0};
    struct brv_slab one, all_fine, slab;
    assert_int_equal(brv_slab_build(&one, whole, 2, &fine, 0.0, 0.0, NULL), BRV_OK);
    assert_int_equal(brv_slab_build(&all_fine, parted, 4, &fine, 0.0, 0.0, NULL), BRV_OK);
    assert_int_equal(brv_slab_build(&slab, parted, 4, &dark, 0.0, 0.0, NULL), BRV_OK);
    assert_true(slab.chain.n - one.chain.n < (all_fine.chain.n - one.chain.n) / 3);
    for (size_t layer = 1; layer < 4; layer++) { /* 5 %: a layer's cells are a whole number, and widen by 0.05 */
        const double *face = slab.face + slab.first_cell[layer];
        check_close(face[1] - face[0], 0.01 + 0.01 * (face[0] - 1.0), 0.05, 0.0);
    }
    brv_slab_free(&one);
    brv_slab_free(&all_fine);
    brv_slab_free(&slab);
}

/* Where no light arrives a curve is rounding of either sign, and the parabola through its highest point may rise far above
 * that. The place is then as warm as it was before, and that is told: no missing number.                          */
static void a_place_in_the_dark_stays_as_it_was(void **state)
{
    (void)state;
    static const double rise[] = {0.0, -1e-146, 1e-157, -2e-146, 0.0};
    const struct brv_history_ask room = {.n_time = 5, .n_probe = 1, .n_cell = 1, .n_pulse = 1};
    struct brv_history history;
    assert_int_equal(brv_history_build(&history, &room, NULL), BRV_OK);
    history.start[0] = 306.15;
    for (size_t i = 0; i < 5; i++) {
        history.time[i] = history.since[i] = (double)i;
        history.pulse[i] = 1;
        history.rise[i] = rise[i];
    }
    assert_true(brv_history_summit(&history, 0, as_it_is).value > 1e8 * 1e-157);
    assert_true(brv_history_hottest(&history, 0, as_it_is).value == 306.15);
    brv_history_free(&history);
}

/* Pigment may be so rare that its cell is a million times as wide as the grain. It cools as alone then, to the 1e-3 of the
 * grids of a run, and its cells fit into memory: 2000 flat ones, and some hundred that lead up to them.           */
static void a_grain_in_a_huge_cell_is_alone(void **state)
{
    (void)state;
    static const double wide[] = {60.0, 1e4, 1e6, 1e12};
    struct brv_grain grain = {.radius = 0.15e-6,
                              .cell_radius = INFINITY,
                              .conductivity = 0.28,
                              .heat_capacity = 3.4e6,
                              .host_conductivity = 0.62,
                              .host_heat_capacity = 4.1e6};
    struct brv_cooling alone, cooling;
    const struct brv_sphere_ask free_cells = brv_grain_cells(&grain, 1e-9, 1e-5);
    assert_int_equal(brv_cooling_measure(&alone, &free_cells, NULL), BRV_OK);
    for (size_t i = 0; i < sizeof wide / sizeof *wide; i++) {
        struct brv_sphere sphere;
        grain.cell_radius = wide[i] * grain.radius;
        const struct brv_sphere_ask cells = brv_grain_cells(&grain, 1e-9, 1e-5);
        assert_int_equal(brv_sphere_build(&sphere, &cells, NULL), BRV_OK);
        assert_true(sphere.chain.n < 2700);
        brv_sphere_free(&sphere);
        assert_int_equal(brv_cooling_measure(&cooling, &cells, NULL), BRV_OK);
        check_close(cooling.mean_half, alone.mean_half, 1e-3, 0.0);
        check_close(cooling.centre_efold, alone.centre_efold, 1e-3, 0.0);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(grid_meets_its_ends_and_sizes),
                                       cmocka_unit_test(grid_without_wishes_at_an_end),
                                       cmocka_unit_test(clock_has_its_landmarks),
                                       cmocka_unit_test(clock_shows_no_time_twice),
                                       cmocka_unit_test(clock_keeps_the_end_of_a_pulse),
                                       cmocka_unit_test(history_finds_summits_and_falls),
                                       cmocka_unit_test(what_cools_takes_turns_with_pulses),
                                       cmocka_unit_test(grain_relaxes_as_the_closed_forms_say),
                                       cmocka_unit_test(slab_reads_between_its_cells),
                                       cmocka_unit_test(faces_in_the_dark_cost_few_cells),
                                       cmocka_unit_test(a_place_in_the_dark_stays_as_it_was),
                                       cmocka_unit_test(a_grain_in_a_huge_cell_is_alone)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
