/* The window of one pulse: against whole runs, its limits in width, a published ratio, and what must hold. */
#include "base/constants.h"
#include "effect/effect_crowd.h"
#include "effect/effect_warmth.h"
#include "run/run.h"
#include "study/window.h"
#include "support/check.h"
#include "support/sample.h"

#include <math.h>
#include <string.h>

#define MOST 8

static struct brv_scenario filled(struct brv_scenario ask)
{
    struct brv_error fault = {.place = ""};
    brv_scenario_fill(&ask);
    if (brv_scenario_check(&ask, &fault, 1)) fail_msg("%s", fault.place);
    return ask;
}

static void open_window(struct brv_window *window, struct brv_scenario ask, size_t n, const double width[],
                        unsigned threads)
{
    struct brv_error error = {.place = ""};
    const struct brv_control control = {.threads = threads};
    ask = filled(ask);
    const brv_status status = brv_window_solve(window, &ask, n, width, 60, &control, &error);
    if (status) fail_msg("%s: %s, found %g", error.place, brv_status_text(status), error.found);
}

static const struct brv_window_point *point_of(const struct brv_window *window, size_t i, size_t site)
{
    return &window->point[i * BRV_N_SITE + site];
}

static void run(struct brv_result *result, struct brv_scenario ask)
{
    struct brv_error error = {.place = ""};
    ask = filled(ask);
    if (brv_run_solve(result, &ask, NULL, &error)) fail_msg("%s", error.place);
}

static void solve_site(struct brv_site *site, const struct brv_scenario *ask, size_t which)
{
    struct brv_error error = {.place = ""};
    if (brv_site_solve(site, ask, which, BRV_VALUES_ONLY, NULL, &error)) fail_msg("%s", error.place);
}

static struct brv_scenario question(int method)
{
    struct brv_scenario ask = sample_scenario();
    ask.beam.method = method;
    sample_set(&ask, BRV_SCOPE_WATCH, 0, "tan", 1.0);
    return ask;
}

static void set_place(struct brv_scenario *ask, int place)
{
    ask->watch.place = place;
    sample_give(&ask->watch, BRV_SCOPE_WATCH, "place");
}

/* ---- against runs ---- */

static void same_spread(const struct brv_spread *found, const struct brv_spread *expected, double relative)
{
    check_close(found->value, expected->value, relative, 0.0);
    check_close(found->low, expected->low, relative, 0.0);
    check_close(found->high, expected->high, relative, 0.0);
}

/* A run's default curves end after 60 s, a window's mostly sooner: other cells below and other windows of the contour,
 * whose tolerance is of the largest rise. Whatever is computed otherwise is far more than 1e-4 off.                  */
static void thresholds_are_those_of_a_run(void **state)
{
    (void)state;
    static const double width[] = {2e-11, 7e-9, 3e-5, 1.5e-3, 2e-2};
    enum { N = sizeof width / sizeof *width };
    for (int method = BRV_METHOD_SPOT; method <= BRV_METHOD_LAYERED; method++) {
        struct brv_scenario ask = question(method);
        struct brv_window window;
        struct brv_result result;
        ask.pulse.shape = method == BRV_METHOD_SPOT ? BRV_SHAPE_GAUSSIAN : BRV_SHAPE_SQUARE;
        open_window(&window, ask, N, width, 2);
        assert_int_equal(window.n_left_out, 0);
        for (size_t i = 0; i < N; i++) {
            ask.pulse.width = width[i];
            run(&result, ask);
            for (size_t site = 0; site < BRV_N_SITE; site++) {
                const struct brv_effect *effect = &result.site[site].effect;
                const struct brv_window_point *point = point_of(&window, i, site);
                same_spread(&point->grain, &effect->threshold_grain, 1e-4);
                same_spread(&point->sign, &effect->crowd.threshold_sign, 1e-4);
                assert_int_equal(point->illustrative, width[i] < 1e-3);
                check_close(window.site[site].relaxation, effect->cooling.mean_efold, 1e-12, 0.0);
                check_close(window.site[site].stress, effect->stress_time, 1e-12, 0.0);
            }
            brv_run_free(&result);
        }
        brv_window_free(&window);
    }
}

static double share_of_run(struct brv_scenario ask, double fluence, size_t site)
{
    struct brv_site here;
    ask.beam.fluence = fluence;
    ask = filled(ask);
    solve_site(&here, &ask, site);
    const double share = here.effect.crowd.here.share.number;
    brv_site_free(&here);
    return share;
}

/* A run at the fluence of a contour disrupts that share, 2e-3 of all: straight lines over 6 % of the fluence. Dark
 * layers reach the criterion as wholes: there the share leaps, and is passed within a step of 1.5 %.                 */
static void contours_are_those_of_a_run(void **state)
{
    static const double wanted[BRV_N_WINDOW_SHARE] = {0.05, 0.50, 0.95};
    (void)state;
    static const double width[] = {1e-10, 5e-8, 1e-5};
    struct brv_scenario ask = question(BRV_METHOD_LAYERED);
    struct brv_window window;
    open_window(&window, ask, 3, width, 2);
    for (size_t i = 0; i < 3; i++)
        for (size_t site = 0; site < BRV_N_SITE; site++)
            for (size_t k = 0; k < BRV_N_WINDOW_SHARE; k++) {
                const double fluence = point_of(&window, i, site)->share[k], share = wanted[k];
                ask.pulse.width = width[i];
                assert_true(share_of_run(ask, fluence / 1.015, site) < share + 2e-3);
                assert_true(share_of_run(ask, fluence * 1.015, site) > share - 2e-3);
                if (i < 2 && k < 2) check_close(share_of_run(ask, fluence, site), share, 0.0, 2e-3);
            }
    brv_window_free(&window);
}

/* Grains that do not differ are disrupted all at once, at the threshold of the one grain: within a step of 1.5 %. */
static void a_leap_is_where_it_is(void **state)
{
    (void)state;
    static const double width[] = {1e-9, 1e-6, 1e-4};
    struct brv_scenario ask = question(BRV_METHOD_LAYERED);
    struct brv_window window;
    sample_set(&ask, BRV_SCOPE_GRAIN, 0, "diameter_spread", 0.0);
    sample_set(&ask, BRV_SCOPE_GRAIN, 0, "darkness_spread", 0.0);
    sample_set(&ask, BRV_SCOPE_LAYER, 0, "melanosomes", 0.0);
    open_window(&window, ask, 3, width, 2);
    for (size_t i = 0; i < 3; i++)
        for (size_t k = 0; k < BRV_N_WINDOW_SHARE; k++) {
            const struct brv_window_point *point = point_of(&window, i, BRV_LESION);
            check_close(point->share[k], point->grain.value, 0.015, 0.0);
        }
    brv_window_free(&window);
}

/* Of the lesion only the pigment is taken: it has no share of any grain. Without any the axis of the map reaches damage. */
static void without_pigment_there_is_no_share(void **state)
{
    (void)state;
    static const double width[] = {1e-8, 1e-6};
    struct brv_scenario ask = question(BRV_METHOD_LAYERED);
    struct brv_window window;
    for (size_t layer = 0; layer < ask.skin[BRV_LESION].n_layer; layer++) {
        ask.skin[BRV_LESION].layer[layer].melanosomes = 0.0;
        sample_give(&ask.skin[BRV_LESION].layer[layer], BRV_SCOPE_LAYER, "melanosomes");
    }
    ask.lesion_given = true;
    open_window(&window, ask, 2, width, 2);
    for (size_t i = 0; i < 2; i++) {
        const struct brv_window_point *lesion = point_of(&window, i, BRV_LESION);
        for (size_t k = 0; k < BRV_N_WINDOW_SHARE; k++) {
            assert_true(isnan(lesion->share[k]));
            assert_true(point_of(&window, i, BRV_NEIGHBOUR)->share[k] > 0.0);
        }
        for (size_t k = 0; k < window.n_fluence; k++)
            assert_true(isnan(window.share[(i * window.n_fluence + k) * BRV_N_SITE + BRV_LESION]));
    }
    assert_true(window.site[BRV_LESION].imagined && !window.site[BRV_NEIGHBOUR].imagined);
    brv_window_free(&window);

    ask.skin[BRV_NEIGHBOUR] = ask.skin[BRV_LESION];
    open_window(&window, ask, 1, width, 1);
    assert_true(point_of(&window, 0, BRV_LESION)->damage.value < window.fluence[window.n_fluence - 1]);
    brv_window_free(&window);
}

/* The map holds the curve of a run: at the ends of its axis, which are fluences of that list, to the last digit but two
 * (watch.until); between them by straight lines over 6 %, 5e-3 of all grains.                                        */
static void the_map_is_that_of_runs(void **state)
{
    (void)state;
    const double width = 7e-9;
    struct brv_scenario ask = question(BRV_METHOD_LAYERED);
    struct brv_window window;
    open_window(&window, ask, 1, &width, 2);
    assert_true(window.fluence[0] < point_of(&window, 0, BRV_NEIGHBOUR)->share[0]);
    assert_true(window.fluence[59] > point_of(&window, 0, BRV_LESION)->share[2]);
    for (size_t k = 0; k < 60; k += 13) {
        struct brv_result result;
        ask.beam.fluence = window.fluence[k];
        run(&result, ask);
        for (size_t site = 0; site < BRV_N_SITE; site++)
            check_close(window.share[k * BRV_N_SITE + site], result.site[site].effect.crowd.here.share.number, 0.0,
                        5e-3);
        brv_run_free(&result);
    }
    for (size_t k = 1; k < 60; k++) {
        check_close(window.fluence[k] / window.fluence[k - 1], window.fluence[1] / window.fluence[0], 1e-9, 0.0);
        assert_true(window.share[k * BRV_N_SITE] >= window.share[(k - 1) * BRV_N_SITE]);
    }
    brv_window_free(&window);
}

/* ---- damage ---- */

/* A run at the fluence found has ln Omega = 0 in its most damaged place. 1e-6: heat is linear to rounding times the
 * steepness of Omega; a leap between numbers of pieces is smaller.                                                  */
static void the_root_is_one(void **state)
{
    (void)state;
    static const double width[] = {7e-9, 1e-4, 3e-3, 5e-2};
    for (size_t i = 0; i < 4; i++)
        for (int damage = 0; damage < BRV_N_DAMAGE; damage++) {
            struct brv_scenario ask = question(BRV_METHOD_LAYERED);
            struct brv_warmth warmth;
            struct brv_site site;
            struct brv_error error;
            const size_t which = i % 2 ? BRV_LESION : BRV_NEIGHBOUR;
            ask.pulse.width = width[i];
            if (i > 1) /* pigment in a layer that is judged by the rates of dermis */
                for (size_t k = 0; k < BRV_N_SITE; k++) {
                    ask.skin[k].layer[1].kind = BRV_DERMIS;
                    ask.skin[k].layer[1].thickness = 10e-6;
                    sample_give(&ask.skin[k].layer[1], BRV_SCOPE_LAYER, "thickness");
                }
            ask.watch.damage = damage;
            sample_give(&ask.watch, BRV_SCOPE_WATCH, "damage");
            ask = filled(ask);
            solve_site(&site, &ask, which);
            assert_int_equal(
                brv_warmth_judge(&warmth, &site.tissue, &site.light, &site.history, &ask, ask.watch.until, &error),
                BRV_OK);
            assert_true(warmth.factor > 0.0 && fabs(warmth.factor - 1.0) > 1e-3);
            brv_site_free(&site);
            ask.beam.fluence *= warmth.factor;
            solve_site(&site, &ask, which);
            check_close(site.effect.log_damage[site.effect.most_damaged].value, 0.0, 0.0, 1e-6);
            assert_int_equal(site.effect.most_damaged, warmth.probe);
            brv_site_free(&site);
        }
}

/* The window's fluence, whatever curve it was found on, against a run to 60 s. 4e-3 of ln Omega: a thousandth of Omega
 * is let go, and of a curve that ends later other steps are taken; a kelvin is 0.8 of ln Omega.                      */
static void hold_damage(const struct brv_scenario *ask, size_t n, const double width[])
{
    struct brv_window window;
    open_window(&window, *ask, n, width, 2);
    for (size_t i = 0; i < n; i++)
        for (size_t which = 0; which < BRV_N_SITE; which++) {
            struct brv_scenario own = *ask;
            struct brv_site site;
            own.pulse.width = width[i];
            own.beam.fluence = point_of(&window, i, which)->damage.value;
            own = filled(own);
            solve_site(&site, &own, which);
            check_close(site.effect.log_damage[site.effect.most_damaged].value, 0.0, 0.0, 4e-3);
            brv_site_free(&site);
        }
    brv_window_free(&window);
}

static void damage_is_that_of_a_run(void **state)
{
    (void)state;
    static const double width[] = {1e-9, 2e-4, 8e-4, 4e-3, 3e-2};
    const struct brv_scenario ask = question(BRV_METHOD_SPOT);
    hold_damage(&ask, sizeof width / sizeof *width, width);
}

/* Without pigment the dermis is warmed deep down and stays warm for seconds: a tenth of a second of it says little. */
static void warmth_that_lasts_is_followed(void **state)
{
    (void)state;
    static const double width[] = {1e-6, 1e-3};
    struct brv_scenario ask = question(BRV_METHOD_SPOT);
    ask.beam.wavelength = 1064e-9;
    sample_set(&ask, BRV_SCOPE_LAYER, 0, "melanosomes", 0.0);
    sample_set(&ask, BRV_SCOPE_LAYER, 1, "melanosomes", 0.0);
    hold_damage(&ask, 2, width);
}

static void lay_plate(struct brv_scenario *ask, double celsius, double from, double to)
{
    ask->surface.outside = BRV_PLATE;
    sample_give(&ask->surface, BRV_SCOPE_SURFACE, "outside");
    sample_set(ask, BRV_SCOPE_SURFACE, 0, "outside_temperature", celsius + BRV_ZERO_C);
    sample_set(ask, BRV_SCOPE_SURFACE, 0, "from", from);
    if (to > 0.0) sample_set(ask, BRV_SCOPE_SURFACE, 0, "to", to);
}

/* A plate of 60 C does it alone; grains still need light. In skin that takes up nothing no light does it. */
static void damage_without_light_and_without_warmth(void **state)
{
    (void)state;
    const double width = 1e-6;
    struct brv_scenario ask = question(BRV_METHOD_LAYERED);
    struct brv_window window;
    lay_plate(&ask, 60.0, -5.0, 0.0);
    open_window(&window, ask, 1, &width, 2);
    for (size_t site = 0; site < BRV_N_SITE; site++) {
        assert_true(point_of(&window, 0, site)->damage.value == 0.0);
        assert_false(point_of(&window, 0, site)->illustrative); /* it is lasting warmth that does it */
        assert_true(point_of(&window, 0, site)->grain.value > 0.0);
    }
    brv_window_free(&window);
}

/* A hot plate for a moment burns the first place and not the deeper ones, and one is enough. */
static void damage_of_the_first_place_alone(void **state)
{
    (void)state;
    const double width = 1e-6;
    struct brv_scenario ask = question(BRV_METHOD_LAYERED);
    struct brv_window window;
    lay_plate(&ask, 60.0, -2.0, 1e-3);
    open_window(&window, ask, 1, &width, 2);
    for (size_t site = 0; site < BRV_N_SITE; site++) assert_true(point_of(&window, 0, site)->damage.value == 0.0);
    brv_window_free(&window);
}

/* ---- limits ---- */

/* Rise that a threshold asks for over that of a run with the scenario's fluence. */
static double by_rise(const struct brv_scenario *ask, double start, double rise)
{
    return ask->beam.fluence * (ask->watch.criterion - start) / rise;
}

/* A grain of 5 um relaxes in microseconds: at 10 and 100 ps it keeps all its heat, whatever the pulse looks like. 2e-3:
 * by the end of a square pulse of 100 ps 2/3 A/V sqrt(alpha t / pi) = 1.6e-3 of it has left.                        */
static void far_below_relaxation_width_and_shape_do_not_matter(void **state)
{
    (void)state;
    static const double width[] = {1e-11, 1e-10};
    struct brv_window square, gaussian;
    struct brv_result result;
    struct brv_scenario ask = question(BRV_METHOD_LAYERED);
    sample_set(&ask, BRV_SCOPE_GRAIN, 0, "diameter", 5e-6);
    sample_set(&ask, BRV_SCOPE_GRAIN, 0, "diameter_spread", 0.0);
    open_window(&square, ask, 2, width, 2);
    ask.pulse.width = width[0];
    run(&result, ask);
    ask.pulse.shape = BRV_SHAPE_GAUSSIAN;
    open_window(&gaussian, ask, 2, width, 2);
    for (size_t site = 0; site < BRV_N_SITE; site++) {
        const double adiabatic = by_rise(&result.ask, result.site[site].history.start[BRV_PROBE_MEAN],
                                         result.site[site].effect.adiabatic_rise);
        assert_true(square.site[site].relaxation > 1e-6);
        for (size_t i = 0; i < 2; i++) {
            check_close(point_of(&square, i, site)->grain.value, adiabatic, 2e-3, 0.0);
            check_close(point_of(&gaussian, i, site)->grain.value, point_of(&square, i, site)->grain.value, 2e-3, 0.0);
            check_close(point_of(&gaussian, i, site)->sign.value, point_of(&square, i, site)->sign.value, 2e-3, 0.0);
            check_close(point_of(&gaussian, i, site)->damage.value, point_of(&square, i, site)->damage.value, 1e-4,
                        0.0);
        }
    }
    brv_run_free(&result);
    brv_window_free(&square);
    brv_window_free(&gaussian);
}

/* 0.3 um in 100 ms: the grain is its layer, to what flows into its cell meanwhile, 1e-5. */
static void far_above_relaxation_the_grain_is_its_layer(void **state)
{
    (void)state;
    static const double width[] = {1e-2, 1e-1};
    struct brv_window window;
    struct brv_scenario ask = question(BRV_METHOD_LAYERED);
    open_window(&window, ask, 2, width, 2);
    for (size_t i = 0; i < 2; i++) {
        struct brv_result result;
        ask.pulse.width = width[i];
        run(&result, ask);
        for (size_t site = 0; site < BRV_N_SITE; site++)
            check_close(point_of(&window, i, site)->grain.value,
                        by_rise(&result.ask, result.site[site].history.start[BRV_PROBE_LAYER],
                                result.site[site].effect.peak[BRV_PROBE_LAYER].value),
                        1e-4, 0.0);
        brv_run_free(&result);
    }
    brv_window_free(&window);
}

/* ---- a published ratio ---- */

/* A grain of 1 um alone; set A of the pulse-width table has 2.69 for the same ratio in surroundings like the grain. */
static void longer_pulses_need_more_as_published(void **state)
{
    (void)state;
    static const double width[] = {3e-9, 1.7e-6};
    struct brv_scenario ask = question(BRV_METHOD_LAYERED);
    struct brv_window window;
    sample_set(&ask, BRV_SCOPE_GRAIN, 0, "diameter", 1e-6);
    sample_set(&ask, BRV_SCOPE_LAYER, 1, "melanosomes", 0.0);
    for (size_t site = 0; site < BRV_N_SITE; site++) {
        ask.skin[site].grain.layer = 1;
        sample_give(&ask.skin[site].grain, BRV_SCOPE_GRAIN, "layer");
    }
    set_place(&ask, BRV_PLACE_SURFACE);
    open_window(&window, ask, 2, width, 2);
    check_row("window: threshold at the surface of a 1-um grain in skin, 1.7 us over 3 ns", "explant-2009 (abstract)",
              point_of(&window, 1, BRV_NEIGHBOUR)->grain.value / point_of(&window, 0, BRV_NEIGHBOUR)->grain.value, 3.0,
              0.9, "30 %: grains there lie in clusters inside cells");
    brv_window_free(&window);
}

/* ---- what must hold ---- */

static void same_points(const struct brv_window *one, const struct brv_window *two, double relative)
{
    for (size_t i = 0; i < one->n_width; i++)
        for (size_t site = 0; site < BRV_N_SITE; site++) {
            const struct brv_window_point *a = point_of(one, i, site), *b = point_of(two, i, site);
            same_spread(&a->grain, &b->grain, relative);
            same_spread(&a->sign, &b->sign, relative);
            check_close(a->damage.value, b->damage.value, relative, 0.0);
            for (size_t k = 0; k < BRV_N_WINDOW_SHARE; k++) check_close(a->share[k], b->share[k], relative, 0.0);
        }
}

/* What is asked has a fluence; what is answered does not depend on it, nor on how many pulses there are. 2e-7: a sign
 * is halved to 1e-7 of its logarithm, the rest is rounding.                                                         */
static void own_fluence_and_train_do_not_matter(void **state)
{
    (void)state;
    static const double width[] = {1e-10, 2e-7, 1e-4};
    struct brv_scenario ask = question(BRV_METHOD_LAYERED);
    struct brv_window one, other, train;
    open_window(&one, ask, 3, width, 2);
    ask.beam.fluence *= 2.385;
    open_window(&other, ask, 3, width, 2);
    same_points(&other, &one, 2e-7);
    sample_set(&ask, BRV_SCOPE_PULSE, 0, "count", 5.0);
    sample_set(&ask, BRV_SCOPE_PULSE, 0, "rate", 3.0);
    sample_set(&ask, BRV_SCOPE_WATCH, 0, "until", 60.0);
    open_window(&train, ask, 3, width, 2);
    same_points(&train, &other, 1e-15);
    brv_window_free(&one);
    brv_window_free(&other);
    brv_window_free(&train);
}

static void threads_change_nothing(void **state)
{
    (void)state;
    static const double width[] = {1e-11, 3e-9, 1e-6, 5e-4, 2e-2};
    enum { N = sizeof width / sizeof *width };
    static const unsigned threads[] = {2, 8};
    const struct brv_scenario ask = question(BRV_METHOD_SPOT);
    struct brv_window one, other;
    open_window(&one, ask, N, width, 1);
    for (size_t t = 0; t < 2; t++) {
        open_window(&other, ask, N, width, threads[t]);
        same_points(&other, &one, 0.0);
        assert_memory_equal(other.share, one.share, N * 60 * BRV_N_SITE * sizeof *one.share);
        assert_memory_equal(other.fluence, one.fluence, 60 * sizeof *one.fluence);
        brv_window_free(&other);
    }
    brv_window_free(&one);
    brv_window_free(&one); /* twice is allowed */
}

/* A plate taken away after a millisecond: longer pulses would still last then. */
static void what_cannot_be_asked_is_left_out(void **state)
{
    (void)state;
    static const double width[] = {1e-9, 9e-4, 1.1e-3, 1e-1};
    struct brv_scenario ask = question(BRV_METHOD_LAYERED);
    struct brv_window window;
    lay_plate(&ask, 5.0, -1.0, 1e-3);
    open_window(&window, ask, 4, width, 2);
    assert_int_equal(window.n_left_out, 2);
    assert_string_equal(window.fault.place, "it would be taken away while a pulse lasts");
    for (size_t i = 0; i < 4; i++)
        for (size_t site = 0; site < BRV_N_SITE; site++) {
            const struct brv_window_point *point = point_of(&window, i, site);
            assert_int_equal(point->there, i < 2);
            assert_int_equal(isnan(point->grain.value) != 0, i >= 2);
            assert_int_equal(isnan(window.share[(i * 60 + 30) * BRV_N_SITE + site]) != 0, i >= 2);
        }
    assert_false(brv_window_at(&window, BRV_LESION, 1e-3).there);
    brv_window_free(&window);
}

/* Everything that is asked of the default list is sound for plain scenarios, to the shortest and the longest. */
static void default_widths_are_sound(void **state)
{
    (void)state;
    double width[BRV_N_WINDOW_WIDTH];
    brv_window_widths(width, BRV_N_WINDOW_WIDTH);
    assert_true(width[0] == 10e-12 && width[BRV_N_WINDOW_WIDTH - 1] == 100e-3);
    for (int shape = BRV_SHAPE_GAUSSIAN; shape <= BRV_SHAPE_SQUARE; shape++)
        for (size_t i = 0; i < BRV_N_WINDOW_WIDTH; i++) {
            struct brv_scenario ask = question(BRV_METHOD_LAYERED);
            struct brv_error fault = {.place = ""};
            ask.pulse.shape = shape;
            ask = filled(ask);
            const struct brv_scenario copy = brv_window_scenario(&ask, width[i], 1.0);
            if (brv_scenario_check(&copy, &fault, 1)) fail_msg("%g s: %s", width[i], fault.place);
            if (i > 1) check_close(width[i] / width[i - 1], width[1] / width[0], 1e-9, 0.0);
        }
}

/* Between two widths the logarithms lie on a straight line; at a width is what was computed. */
static void reading_between_widths(void **state)
{
    (void)state;
    static const double width[] = {1e-9, 4e-9, 1e-7};
    struct brv_window window;
    open_window(&window, question(BRV_METHOD_LAYERED), 3, width, 2);
    const double one = point_of(&window, 0, BRV_LESION)->grain.value;
    const double two = point_of(&window, 1, BRV_LESION)->grain.value;
    check_close(brv_window_at(&window, BRV_LESION, 2e-9).grain.value, sqrt(one * two), 1e-12, 0.0);
    check_close(brv_window_at(&window, BRV_LESION, 4e-9).grain.value, two, 0.0, 0.0);
    check_close(brv_window_at(&window, BRV_LESION, 1e-7).sign.low, point_of(&window, 2, BRV_LESION)->sign.low, 0.0,
                0.0);
    brv_window_free(&window);
}

/* Skin that a plate of 60 C has burnt before the pulse needs no light at any width, those between two widths included;
 * and where it does at one of them, the logarithm has no place for the 0 of the other: the 0 is told.              */
static void burnt_already_between_widths(void **state)
{
    (void)state;
    static const double width[] = {1e-9, 1e-7};
    struct brv_scenario ask = question(BRV_METHOD_LAYERED);
    struct brv_window window;
    lay_plate(&ask, 60.0, -5.0, 0.0);
    open_window(&window, ask, 2, width, 2);
    for (size_t site = 0; site < BRV_N_SITE; site++) {
        const struct brv_window_point point = brv_window_at(&window, site, 1e-8);
        assert_true(point.damage.value == 0.0 && point.damage.low == 0.0 && point.damage.high == 0.0);
        window.point[BRV_N_SITE + site].damage = (struct brv_spread){1e5, 1e4, (double)NAN};
        const struct brv_window_point half = brv_window_at(&window, site, 1e-8);
        assert_true(half.damage.value == 0.0 && half.damage.low == 0.0);
    }
    brv_window_free(&window);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(thresholds_are_those_of_a_run),
        cmocka_unit_test(contours_are_those_of_a_run),
        cmocka_unit_test(a_leap_is_where_it_is),
        cmocka_unit_test(without_pigment_there_is_no_share),
        cmocka_unit_test(the_map_is_that_of_runs),
        cmocka_unit_test(the_root_is_one),
        cmocka_unit_test(damage_is_that_of_a_run),
        cmocka_unit_test(warmth_that_lasts_is_followed),
        cmocka_unit_test(damage_without_light_and_without_warmth),
        cmocka_unit_test(damage_of_the_first_place_alone),
        cmocka_unit_test(far_below_relaxation_width_and_shape_do_not_matter),
        cmocka_unit_test(far_above_relaxation_the_grain_is_its_layer),
        cmocka_unit_test(longer_pulses_need_more_as_published),
        cmocka_unit_test(own_fluence_and_train_do_not_matter),
        cmocka_unit_test(threads_change_nothing),
        cmocka_unit_test(what_cannot_be_asked_is_left_out),
        cmocka_unit_test(default_widths_are_sound),
        cmocka_unit_test(reading_between_widths),
        cmocka_unit_test(burnt_already_between_widths),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
