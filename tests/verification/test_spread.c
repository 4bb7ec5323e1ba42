/* Quantiles and indices of whole scenarios that are drawn, and the slip table. */
#include "base/constants.h"
#include "study/slip.h"
#include "study/draw.h"
#include "study/spread.h"
#include "support/check.h"
#include "support/sample.h"
#include "support/table.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define DATA "tests/verification/data/"

static struct brv_spreading spreading, other;
static struct brv_inputs inputs;

static struct brv_scenario filled(void)
{
    struct brv_scenario ask = sample_scenario();
    brv_scenario_fill(&ask);
    return ask;
}

static const double *output_of(const struct brv_spreading *from, size_t site, enum brv_headline which)
{
    return from->output + (site * BRV_N_HEADLINE + which) * from->n_draw;
}

static void solve(struct brv_spreading *into, const struct brv_scenario *ask, size_t n_draw, unsigned threads)
{
    const struct brv_control control = {.threads = threads};
    assert_int_equal(brv_spread_solve(into, ask, &inputs, n_draw, &control, NULL), BRV_OK);
}

/* ---- points and quantiles ---- */

/* Means of even points over 256 draws, and products of any two, which are 1/2 and 0 where nothing hangs together. 0.02:
 * found within 0.01; 0.25: found within 0.2, and 0.75 where Sobol's columns past the 34th are taken.                 */
static void points_fill_the_cube(void **state)
{
    (void)state;
    enum { N = 256, INPUTS = 40 };
    static double u[N * INPUTS];
    double worst = 0.0;
    assert_int_equal(brv_spread_points(u, N, INPUTS, NULL), BRV_OK);
    for (size_t i = 0; i < 32; i++) check_close(u[i], 0.5, 0.0, 0.0); /* the first point is the middle */
    for (size_t i = 0; i < INPUTS; i++) {
        double mean = 0.0;
        for (size_t k = 0; k < N; k++) {
            assert_true(u[k * INPUTS + i] > 0.0 && u[k * INPUTS + i] < 1.0);
            mean += u[k * INPUTS + i] / N;
        }
        check_close(mean, 0.5, 0.0, 0.02);
        for (size_t j = 0; j < i; j++) {
            double both = 0.0;
            for (size_t k = 0; k < N; k++) both += 12.0 * (u[k * INPUTS + i] - 0.5) * (u[k * INPUTS + j] - 0.5) / N;
            worst = fmax(worst, fabs(both));
        }
    }
    print_message("strongest pair %.3f\n", worst);
    assert_true(worst < 0.25);
}

/* By hand: GSL places p at p (n - 1) between neighbours. */
static void quantiles_lie_between_neighbours(void **state)
{
    (void)state;
    double value[21], open[21], none[3] = {3.0, (double)NAN, 1.0};
    for (int k = 0; k < 21; k++) value[k] = open[k] = 20.0 - k;
    open[0] = open[1] = open[2] = (double)INFINITY; /* the three highest are none */
    open[20] = -(double)INFINITY;
    struct brv_quantiles found = brv_spread_quantiles(value, 21);
    check_close(found.p5, 1.0, 1e-15, 0.0);
    check_close(found.p50, 10.0, 1e-15, 0.0);
    check_close(found.p95, 19.0, 1e-15, 0.0);
    found = brv_spread_quantiles(open, 21);
    check_close(found.p5, 1.0, 1e-15, 0.0);
    check_close(found.p50, 10.0, 1e-15, 0.0);
    assert_true(isinf(found.p95) && found.p95 > 0.0);
    double three[] = {2.0, -(double)INFINITY, 5.0, 7.0};
    found = brv_spread_quantiles(three, 4);
    assert_true(isinf(found.p5) && found.p5 < 0.0);
    check_close(found.p50, 3.5, 1e-15, 0.0);
    found = brv_spread_quantiles(none, 3);
    assert_true(isnan(found.p5) && isnan(found.p50) && isnan(found.p95));
}

/* ---- a headline that is linear in its only input ---- */

static void only_fluence(const struct brv_scenario *ask, double low, double high)
{
    const struct brv_opened opened = {(size_t)brv_key_find(BRV_SCOPE_LIGHT, "fluence"), BRV_NEIGHBOUR, 0, low, high};
    brv_inputs_list(&inputs, ask, &opened, 1);
    inputs.n = 1;
}

/* Rise and fluence are in proportion: quantiles of one are those of the other, and of even draws those of the law,
 * 5 to 6.6 kJ/m2 with 6 in the middle. 1e-9: steps of the heat are chosen by the rise; 0.004 of the width: 64 points.   */
static void one_linear_input_hands_on_its_quantiles(void **state)
{
    (void)state;
    const struct brv_scenario ask = filled();
    only_fluence(&ask, 5e3, 6.6e3);
    solve(&spreading, &ask, 64, 2);
    for (size_t site = 0; site < BRV_N_SITE; site++) {
        const struct brv_spread_row *fluence = &spreading.row[site][BRV_HEADLINE_FLUENCE];
        const struct brv_spread_row *peak = &spreading.row[site][BRV_HEADLINE_GRAIN_PEAK];
        const double ratio = peak->asked / fluence->asked;
        check_close(fluence->asked, 6e3, 0.0, 0.0);
        check_close(peak->all.p5, ratio * fluence->all.p5, 1e-9, 0.0);
        check_close(peak->all.p50, ratio * fluence->all.p50, 1e-9, 0.0);
        check_close(peak->all.p95, ratio * fluence->all.p95, 1e-9, 0.0);
        check_close(peak->half.p95, ratio * fluence->half.p95, 1e-6, 1e-9);
        check_close(fluence->all.p5, 5.1e3, 0.0, 0.02 * 1.6e3);
        check_close(fluence->all.p50, 6e3, 0.0, 0.02 * 1.6e3);
        check_close(fluence->all.p95, 6.54e3, 0.0, 0.02 * 1.6e3);
        check_close(peak->first[0], 1.0, 1e-9, 0.0);
        check_close(peak->total[0], 1.0, 1e-9, 0.0);
        assert_int_equal(peak->scale, BRV_SCALE_PLAIN);
        assert_true(peak->q2 > 0.98); /* the law has a corner at the middle, which degree 3 rounds */
        assert_true(isnan(spreading.row[site][BRV_HEADLINE_THRESHOLD_GRAIN].q2)); /* does not vary with the fluence */
        assert_true(isnan(spreading.row[site][BRV_HEADLINE_DERMIS_PEAK].all.p50));
    }
    brv_spread_free(&spreading);
    brv_spread_free(&spreading);
    assert_null(spreading.u);
}

/* ---- against a plain loop, and the same for any count of threads ---- */

static void draws_are_plain_runs(void **state)
{
    (void)state;
    enum { N = 33 }; /* one more than a batch */
    const struct brv_scenario ask = filled();
    brv_inputs_list(&inputs, &ask, NULL, 0);
    solve(&spreading, &ask, N, 2);
    for (size_t k = 0; k < N; k += 8) {
        struct brv_scenario draw;
        static struct brv_result result;
        struct brv_headlines headlines;
        brv_draw_apply(&draw, &ask, &inputs, spreading.u + k * inputs.n);
        draw.watch.tan = 1.0;
        const double end = brv_pulse_window(&draw.pulse) + 10e-3;
        draw.watch.until = end;
        draw.surface.to = fmin(draw.surface.to, end);
        assert_int_equal(brv_run_solve(&result, &draw, NULL, NULL), BRV_OK);
        brv_headlines_read(&headlines, &result);
        for (size_t site = 0; site < BRV_N_SITE; site++) {
            assert_true(output_of(&spreading, site, BRV_HEADLINE_GRAIN_PEAK)[k] ==
                        headlines.at[site][BRV_HEADLINE_GRAIN_PEAK].value);
            assert_true(output_of(&spreading, site, BRV_HEADLINE_THRESHOLD_SIGN)[k] ==
                        headlines.at[site][BRV_HEADLINE_THRESHOLD_SIGN].value);
            assert_true(output_of(&spreading, site, BRV_HEADLINE_DAMAGE)[k] ==
                        headlines.at[site][BRV_HEADLINE_DAMAGE].value);
        }
        brv_run_free(&result);
    }
    double peak[N]; /* the quantiles are those of these numbers: 5 % lies at 1.6 of 0 to 32 */
    memcpy(peak, output_of(&spreading, BRV_LESION, BRV_HEADLINE_GRAIN_PEAK), sizeof peak);
    for (int i = 1; i < N; i++)
        for (int j = i; j > 0 && peak[j] < peak[j - 1]; j--) {
            const double swap = peak[j];
            peak[j] = peak[j - 1];
            peak[j - 1] = swap;
        }
    const struct brv_quantiles *found = &spreading.row[BRV_LESION][BRV_HEADLINE_GRAIN_PEAK].all;
    check_close(found->p5, 0.4 * peak[1] + 0.6 * peak[2], 1e-14, 0.0);
    check_close(found->p50, peak[16], 1e-14, 0.0);
    check_close(found->p95, 0.6 * peak[30] + 0.4 * peak[31], 1e-14, 0.0);
    brv_spread_free(&spreading);
}

static void threads_change_nothing(void **state)
{
    (void)state;
    enum { N = 10 };
    static const unsigned threads[] = {2, 8};
    const struct brv_scenario ask = filled();
    brv_inputs_list(&inputs, &ask, NULL, 0);
    solve(&spreading, &ask, N, 1);
    for (size_t i = 0; i < 2; i++) {
        solve(&other, &ask, N, threads[i]);
        const size_t n = (size_t)BRV_N_SITE * BRV_N_HEADLINE * N * sizeof(double);
        assert_memory_equal(other.output, spreading.output, n);
        assert_memory_equal(other.row, spreading.row, sizeof spreading.row);
        brv_spread_free(&other);
    }
    brv_spread_free(&spreading);
}

/* So little pigment that the column of a sign is there in some draws and not in others. */
static void a_sign_that_is_none_lies_above_all(void **state)
{
    (void)state;
    struct brv_scenario ask = sample_scenario();
    sample_set(&ask, BRV_SCOPE_LAYER, 0, "melanosomes", 0.0);
    sample_set(&ask, BRV_SCOPE_LAYER, 1, "melanosomes", 0.03); /* 0.3 um of pigment */
    brv_scenario_fill(&ask);
    const struct brv_opened opened = {(size_t)brv_key_find(BRV_SCOPE_LAYER, "melanosomes"), BRV_NEIGHBOUR, 1, 0.02,
                                      0.04};
    brv_inputs_list(&inputs, &ask, &opened, 1);
    inputs.n = 1;
    solve(&spreading, &ask, 64, 2);
    const struct brv_spread_row *row = &spreading.row[BRV_NEIGHBOUR][BRV_HEADLINE_THRESHOLD_SIGN];
    check_close(row->without, 0.5, 0.0, 0.03);
    assert_true(isinf(row->all.p95) && isfinite(row->all.p5));
    assert_int_equal(row->scale, BRV_SCALE_RANK);
    const struct brv_spread_row *ratio = &spreading.row[BRV_LESION][BRV_HEADLINE_RATIO];
    assert_true(isinf(ratio->all.p95) && ratio->all.p95 > 0.0 &&
                isfinite(ratio->all.p5)); /* the lesion has 2.5 times as much */
    brv_spread_free(&spreading);
}

/* A plate of 60 degC laid on after the pulse: what it does is done long after 10 ms, and the row must be that of the run. */
static void damage_that_goes_on_is_followed(void **state)
{
    (void)state;
    static struct brv_result result;
    struct brv_scenario ask = sample_scenario();
    struct brv_headlines headlines;
    ask.surface.outside = BRV_PLATE;
    ask.surface.outside_temperature = BRV_ZERO_C + 60.0;
    ask.surface.from = 1.0;
    ask.surface.to = 20.0;
    sample_give(&ask.surface, BRV_SCOPE_SURFACE, "outside");
    sample_give(&ask.surface, BRV_SCOPE_SURFACE, "outside_temperature");
    sample_give(&ask.surface, BRV_SCOPE_SURFACE, "from");
    sample_give(&ask.surface, BRV_SCOPE_SURFACE, "to");
    brv_scenario_fill(&ask);
    assert_int_equal(brv_scenario_check(&ask, NULL, 0), 0);
    brv_inputs_list(&inputs, &ask, NULL, 0);
    solve(&spreading, &ask, 8, 2);
    assert_int_equal(brv_run_solve(&result, &ask, NULL, NULL), BRV_OK);
    brv_headlines_read(&headlines, &result);
    for (size_t site = 0; site < BRV_N_SITE; site++) {
        const struct brv_spread_row *row = &spreading.row[site][BRV_HEADLINE_DAMAGE];
        assert_true(row->asked > 1.0); /* beyond the mark of a burn of the 2nd degree, 0 */
        check_close(row->asked, headlines.at[site][BRV_HEADLINE_DAMAGE].value, 1e-9, 0.0); /* the same run */
        assert_true(row->all.p5 > 1.0);
    }
    assert_true(isinf(spreading.after));
    brv_run_free(&result);
    brv_spread_free(&spreading);
}

/* ---- slips ---- */

static const char *kind_name(enum brv_slip_kind kind)
{
    static const char *const name[] = {"none", "tilt", "stand-off", "spot", "output", "both"};
    return name[kind];
}

/* Tilt is told in degrees, stand-off in mm, the others in percent. */
static double told_size(const struct brv_slip *slip)
{
    if (slip->kind == BRV_SLIP_TILT) return slip->size * 180.0 / BRV_PI;
    return slip->kind == BRV_SLIP_STAND_OFF ? 1e3 * slip->size : 100.0 * slip->size;
}

static size_t n_met;

/* Half a unit in the last place printed; 0.05 for the 6.0 % of 20 degrees, which leave the mirror out: 6.05 with it. */
static void check_slip(const struct table_row *row, void *context)
{
    (void)context;
    struct brv_scenario ask = filled();
    struct brv_slip slip[BRV_N_SLIP];
    ask.beam.spot = 1e-3 * table_number(row, "spot_mm");
    brv_slips_list(slip, &ask);
    for (size_t i = 0; i < BRV_N_SLIP; i++) {
        const bool same_spot =
            table_blank(row, "spot_size") || fabs(100.0 * slip[i].spot_size - table_number(row, "spot_size")) < 1e-9;
        if (strcmp(kind_name(slip[i].kind), table_text(row, "slip")) || !same_spot ||
            fabs(told_size(&slip[i]) - table_number(row, "size")) > 1e-9)
            continue;
        char what[120];
        snprintf(what, sizeof what, "slip: %s %s, local fluence [%%]", table_text(row, "slip"),
                 table_text(row, "size"));
        check_row(what, "error-budget (computed)", 100.0 * (slip[i].fluence - 1.0), table_number(row, "change_percent"),
                  table_rounding(row, "change_percent") + 0.02, "digits in print, and the mirror at 20 degrees");
        n_met++;
    }
}

static void slips_are_those_of_the_budget(void **state)
{
    (void)state;
    n_met = 0;
    assert_int_equal(table_each(DATA "error_budget.csv", check_slip, NULL), 12);
    assert_int_equal(n_met, 12);
}

/* 1.5e-4: four digits, from reflectances of four digits. */
static void check_tilt(const struct table_row *row, void *context)
{
    (void)context;
    const double angle = table_number(row, "tilt_deg") * BRV_PI / 180.0;
    check_close(brv_slip_tilt(angle, 1.0, 1.4), table_number(row, "entering_fluence_vs_normal"), 0.0, 1.5e-4);
}

static void tilt_is_that_of_the_table(void **state)
{
    (void)state;
    assert_int_equal(table_each(DATA "spatial_angle.csv", check_tilt, NULL), 10);
}

/* Rises go with the fluence in the same spot; in another spot the light goes with the spot too. */
static void slips_move_the_headlines(void **state)
{
    (void)state;
    const struct brv_scenario ask = filled();
    struct brv_slip slip[BRV_N_SLIP];
    assert_int_equal(brv_slips_solve(slip, &ask, NULL, NULL), BRV_OK);
    const double asked = slip[0].headlines.at[BRV_LESION][BRV_HEADLINE_GRAIN_PEAK].value;
    for (size_t i = 0; i < BRV_N_SLIP; i++) { /* the sample's beam is endless: light does not hang on the spot */
        const double peak = slip[i].headlines.at[BRV_LESION][BRV_HEADLINE_GRAIN_PEAK].value;
        check_close(peak, slip[i].fluence * asked, 1e-9, 0.0);
        const double share = slip[i].headlines.at[BRV_LESION][BRV_HEADLINE_SHARE].value;
        const double before = slip[0].headlines.at[BRV_LESION][BRV_HEADLINE_SHARE].value;
        assert_true((share - before) * (slip[i].fluence - 1.0) >= 0.0);
    }
    struct brv_scenario spot = ask;
    spot.beam.method = BRV_METHOD_SPOT;
    assert_int_equal(brv_slips_solve(slip, &spot, NULL, NULL), BRV_OK);
    const double wide = slip[0].headlines.at[BRV_LESION][BRV_HEADLINE_LIGHT_DEEP].value;
    const double narrow = slip[9].headlines.at[BRV_LESION][BRV_HEADLINE_LIGHT_DEEP].value; /* 10 % too small */
    assert_true(narrow > wide && narrow < 0.99 * slip[9].fluence * wide);
}

static void a_closed_cone_has_no_spot(void **state)
{
    (void)state;
    struct brv_scenario ask = filled();
    struct brv_slip slip[BRV_N_SLIP];
    ask.beam.spot = 1e-3; /* the cone of 100 mrad takes 1 mm in 10 mm */
    assert_int_equal(brv_slips_solve(slip, &ask, NULL, NULL), BRV_OK);
    assert_true(isnan(slip[5].fluence) && isnan(slip[5].headlines.at[0][BRV_HEADLINE_GRAIN_PEAK].value));
    assert_true(isfinite(slip[4].fluence));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(points_fill_the_cube),
        cmocka_unit_test(quantiles_lie_between_neighbours),
        cmocka_unit_test(one_linear_input_hands_on_its_quantiles),
        cmocka_unit_test(draws_are_plain_runs),
        cmocka_unit_test(threads_change_nothing),
        cmocka_unit_test(a_sign_that_is_none_lies_above_all),
        cmocka_unit_test(damage_that_goes_on_is_followed),
        cmocka_unit_test(slips_are_those_of_the_budget),
        cmocka_unit_test(tilt_is_that_of_the_table),
        cmocka_unit_test(slips_move_the_headlines),
        cmocka_unit_test(a_closed_cone_has_no_spot),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
