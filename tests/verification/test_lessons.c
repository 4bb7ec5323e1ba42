/* What lessons answer: their numbers are those of runs of the same file, their words hold, and the facts from outside that
 * they quote are the published ones.                                                                               */
#include "support/check.h"

#include "lesson/lesson.h"
#include "lesson/phrase.h"
#include "report/term.h"
#include "run/run.h"
#include "scenario/choices.h"
#include "study/headline.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* A lesson with its page, made as the command makes it. */
struct made {
    struct brv_choices choices;
    struct brv_exercise exercise;
};

static struct {
    const char *name;
    struct made *made;
} kept[32]; /* a lesson is made once for all tests */

static struct made *make_anew(const char *name)
{
    const struct brv_lesson *lesson = brv_lesson_called(name);
    struct made *made = calloc(1, sizeof *made);
    struct brv_faults faults = {.n = 0};
    struct brv_error error = {.place = ""};
    const struct brv_control control = {.threads = 2};
    char path[256];
    assert_non_null(lesson);
    assert_non_null(made);
    snprintf(path, sizeof path, "scenarios/%s", lesson->scenario);
    assert_int_equal(brv_choices_read(&made->choices, path, NULL, 0, &faults), 0);
    brv_faults_free(&faults);
    assert_int_equal(brv_lesson_make(&made->exercise, lesson, &made->choices, &control, &error), BRV_OK);
    return made;
}

static const struct made *make(const char *name)
{
    size_t i = 0;
    while (kept[i].name && strcmp(kept[i].name, name)) i++;
    assert_true(i < sizeof kept / sizeof *kept - 1);
    if (!kept[i].name) kept[i].made = make_anew(name);
    kept[i].name = name;
    return kept[i].made;
}

static int drop_all(void **state)
{
    (void)state;
    for (size_t i = 0; kept[i].name; i++) {
        brv_exercise_free(&kept[i].made->exercise);
        brv_choices_free(&kept[i].made->choices);
        free(kept[i].made);
    }
    return 0;
}

/* Where a text stands in the answer; fails the test when it does not. */
static const char *found(const struct made *made, const char *text)
{
    for (size_t i = 0; i < made->exercise.answer.n; i++) {
        const char *at = strstr(made->exercise.answer.line[i].text, text);
        if (at) return at + strlen(text);
    }
    print_error("not in the answer: %s\n", text);
    for (size_t i = 0; i < made->exercise.answer.n; i++) print_error("  %s\n", made->exercise.answer.line[i].text);
    fail();
    return NULL;
}

/* The number after a text of the answer, as printed. */
static double number_after(const struct made *made, const char *text)
{
    return strtod(found(made, text), NULL);
}

/* ---- the answers' numbers are those of runs ---- */

/* The first and the last choice of the lesson, run by itself: its headline stands in the answer. */
static void check_headlines(const struct made *made, size_t site, enum brv_headline which)
{
    for (size_t i = 0; i < made->choices.n; i += made->choices.n - 1) {
        const struct brv_scenario *ask = &made->choices.choice[i].request.scenario;
        struct brv_result result;
        struct brv_headlines headlines;
        struct brv_error error;
        char value[BRV_TERM_SIZE], text[4 * BRV_TERM_SIZE];
        assert_int_equal(brv_run_solve(&result, ask, NULL, &error), BRV_OK);
        brv_headlines_read(&headlines, &result);
        brv_term_value(value, which, headlines.at[site][which].value);
        snprintf(text, sizeof text, "%s: %s%s%s", made->choices.choice[i].name, value,
                 *brv_terms[which].unit ? " " : "", brv_terms[which].unit);
        found(made, text);
        brv_run_free(&result);
    }
}

static void numbers_are_those_of_runs(void **state)
{
    (void)state;
    static const struct {
        const char *name;
        size_t site;
        enum brv_headline which;
    } quoted[] = {{"why_nanoseconds", BRV_LESION, BRV_HEADLINE_GRAIN_PEAK},
                  {"why_nanoseconds", BRV_LESION, BRV_HEADLINE_LAYER_PEAK},
                  {"relaxation_time", BRV_LESION, BRV_HEADLINE_GRAIN_PEAK},
                  {"wider_spot", BRV_NEIGHBOUR, BRV_HEADLINE_LIGHT_DEEP},
                  {"wavelength_and_depth", BRV_NEIGHBOUR, BRV_HEADLINE_THRESHOLD_GRAIN},
                  {"air_gel_plate", BRV_LESION, BRV_HEADLINE_LIGHT_GRAIN},
                  {"warm_dermis", BRV_LESION, BRV_HEADLINE_DERMIS_PEAK},
                  {"tan", BRV_NEIGHBOUR, BRV_HEADLINE_RATIO},
                  {"how_low", BRV_LESION, BRV_HEADLINE_SHARE}};
    for (size_t i = 0; i < sizeof quoted / sizeof *quoted; i++) {
        const struct made *made = make(quoted[i].name);
        check_headlines(made, quoted[i].site, quoted[i].which);
    }
}

/* ---- words that would be false otherwise ---- */

static void first_sentences_hold(void **state)
{
    (void)state;
    static const char *const said[][2] = {{"why_nanoseconds", "Because the grain cools in nanoseconds"},
                                          {"how_short", "Not for heat"},
                                          {"how_short", "The layer does not care"},
                                          {"wider_spot", "has less light 1 mm deep at the same energy"},
                                          {"wider_spot", "and more at the same fluence"},
                                          {"wavelength_and_depth", "1064 nm goes deepest of the four"},
                                          {"air_gel_plate", "leaves less of it at the grain"},
                                          {"air_gel_plate", "the grain's rise not at all"},
                                          {"ten_a_second", "Not the grain: it has cooled long before the next pulse."},
                                          {"tan", "The model's ratio is smaller than people's"},
                                          {"how_low", "The heat is, the grains are fewer"},
                                          {"tilt_or_spot_error", "Of these the distance"},
                                          {"thin_neck", "Not by its thickness, as far as that was measured"},
                                          {"skin_type_or_colour", "L* changes most"},
                                          {"tan", "a tan lowers it, but at one end of its brackets"}};
    for (size_t i = 0; i < sizeof said / sizeof *said; i++) {
        const struct made *made = make(said[i][0]);
        found(made, said[i][1]);
    }
}

/* Words without a choice of their own, held against the numbers beside them. */
static void other_sentences_hold(void **state)
{
    (void)state;
    const struct made *made = make("warm_dermis");
    /* "hardly": far below what the layer gets; "cannot cool in between": nearly as many times as there are pulses */
    assert_true(number_after(made, "By one pulse hardly: ") < 0.1 * number_after(made, "the pigmented layer gets "));
    assert_true(number_after(made, "the dermis gets ") > 10.0);
    made = make("how_short");
    /* pressure does go on growing, even if both are off by their factor of 3 */
    assert_true(number_after(made, "that at 7 ns (") > 1.0);
    made = make("relaxation_time");
    check_close(number_after(made, "four times the width, "), 16.0, 0.02, 0.0); /* two digits printed */
    made = make("wider_spot");
    /* "counts more the deeper one looks" */
    assert_true(number_after(made, "the light at the grain and ") > number_after(made, "the wider spot has 1"));
    made = make("tan");
    /* "surely the heat": more at every end of its brackets */
    assert_true(strtod(strchr(found(made, "the layer of the skin around gets "), '(') + 1, NULL) > 1.0);
    made = make("film_on_skin");
    /* "the rest is lost": more than light loses on its way in, at every end */
    const char *times = found(made, "takes its share too: ");
    assert_true(1.0 - strtod(strstr(times, " to ") + 4, NULL) > 0.01 * number_after(made, "5 um) = "));
    made = make("passes_by_chance");
    found(made, "under 0.01 % missed"); /* 4.4e-5, and not none */
}

/* ---- numbers of a run that stand in no table of it ---- */

static void run_choice(struct brv_result *result, const struct made *made, size_t choice)
{
    struct brv_error error;
    assert_int_equal(brv_run_solve(result, &made->choices.choice[choice].request.scenario, NULL, &error), BRV_OK);
}

/* The grain's own mean [K] at a time after the pulse, on straight lines between rows. */
static double mean_after(const struct brv_result *result, double time)
{
    const struct brv_history *history = &result->site[BRV_LESION].history;
    const double *mean = brv_history_rise(history, BRV_PROBE_MEAN), at = brv_pulse_end(&result->ask.pulse) + time;
    size_t i = 1;
    while (i + 1 < history->n_time && history->time[i] < at) i++;
    const double share = (at - history->time[i - 1]) / (history->time[i] - history->time[i - 1]);
    return mean[i - 1] + share * (mean[i] - mean[i - 1]);
}

/* A grain falls to its layer and not to nothing: its mean is at 1/e of its heat's worth later than its lead is. */
static void a_lead_is_gone_before_the_heat(void **state)
{
    (void)state;
    static const struct {
        const char *name, *lead, *own;
    } told[] = {{"why_nanoseconds", "its lead over its layer down to 1/e after ", "has 1/e of its heat's worth "},
                {"relaxation_time", "over the layer is down to 1/e after ", "has 1/e of its heat's worth "}};
    for (size_t i = 0; i < sizeof told / sizeof *told; i++) {
        const struct made *made = make(told[i].name);
        struct brv_result result;
        const double own = 1e-9 * number_after(made, told[i].own), lead = 1e-9 * number_after(made, told[i].lead);
        run_choice(&result, made, 0);
        const struct brv_effect *effect = &result.site[BRV_LESION].effect;
        check_close(lead, effect->cooling.mean_efold, 0.005, 0.0); /* three digits printed */
        assert_true(own > 1.5 * lead);
        /* three digits printed, and straight lines between rows a tenth of a decade apart */
        check_close(mean_after(&result, own), effect->adiabatic_rise * exp(-1.0), 0.02, 0.0);
        brv_run_free(&result);
    }
}

/* Times above 45 C: the middle is the model's own, to the digits printed; ends lie on both sides of it. */
static void times_of_warmth_are_the_models(void **state)
{
    (void)state;
    enum { ONE, SLOW, FAST };
    const struct made *made = make("ten_a_second");
    struct brv_result result;
    run_choice(&result, made, FAST);
    const struct brv_effect *effect = &result.site[BRV_LESION].effect;
    const char *hot = found(made, "hottest of its layer: "); /* above the ceiling no temperature is told */
    assert_true(effect->hottest[BRV_PROBE_LAYER].high > effect->ceiling);
    assert_non_null(strstr(hot, " to >112); longest time"));
    const char *time = found(made, "longest time above 45 C: ");
    check_close(strtod(time, NULL), effect->warm, 0.005, 0.0);
    assert_true(strtod(strchr(time, '(') + 1, NULL) < effect->warm);
    assert_true(strtod(strstr(time, " to ") + 4, NULL) > effect->warm);
    /* one decimal printed */
    check_close(number_after(made, "log10 Omega, "), effect->log_damage[effect->most_damaged].value / log(10.0), 0.0,
                0.05);
    brv_run_free(&result);
    made = make("warm_dermis");
    run_choice(&result, made, 1);
    check_close(number_after(made, "0 s after one pulse, "), result.site[BRV_LESION].effect.dermis[0].warm, 0.005, 0.0);
    const struct brv_tissue *tissue = &result.site[BRV_LESION].tissue;
    const struct brv_layer *dermis = &tissue->layer[tissue->n_layer - 1];
    check_close(number_after(made, "takes up itself: "), 100.0 * dermis->absorption_water / dermis->absorption, 0.0,
                0.5);
    check_close(number_after(made, "% of it in water, "), 100.0 * dermis->absorption_blood / dermis->absorption, 0.0,
                0.5);
    assert_true(dermis->absorption_baseline > dermis->absorption_water); /* "knows least": most of it */
    brv_run_free(&result);
}

static double light_of(const struct made *made, size_t choice, double depth)
{
    struct brv_result result;
    run_choice(&result, made, choice);
    const double light = result.ask.beam.fluence * brv_light_fluence(&result.site[BRV_NEIGHBOUR].light, depth);
    brv_run_free(&result);
    return light;
}

/* 755 nm has more light just above the depth from which 1064 nm is said to lead, and less just below; and at 3 mm. */
static void the_deepest_leads_from_where_it_is_said(void **state)
{
    (void)state;
    enum { GREEN, RED, FAR, NEAR_INFRARED };
    const struct made *made = make("wavelength_and_depth");
    const double from = 1e-3 * number_after(made, "leading from ");
    assert_true(light_of(made, FAR, from - 20e-6) > light_of(made, NEAR_INFRARED, from - 20e-6));
    assert_true(light_of(made, FAR, from + 10e-6) < light_of(made, NEAR_INFRARED, from + 10e-6));
    check_close(strtod(strstr(found(made, "Light at 3 mm: "), "1064 nm: ") + 9, NULL),
                1e-4 * light_of(made, NEAR_INFRARED, 3e-3), 0.002, 0.0); /* three digits printed */
    check_close(number_after(made, "1064 nm has "), light_of(made, NEAR_INFRARED, 3e-3) / light_of(made, GREEN, 3e-3),
                0.05, 0.0); /* two digits printed */
}

/* Share of the skin under three spots and more, by counting on a grid: spots `along` apart in rows `pitch` apart. */
static double counted(double spot, double along, double pitch, double aside)
{
    enum { N = 300, REACH = 12 };
    size_t most = 0;
    for (size_t i = 0; i < N * N; i++) {
        const double x = along * ((double)(i % N) + 0.5) / N, y = pitch * ((double)(i / N) + 0.5) / N;
        size_t hits = 0;
        for (int row = -REACH; row <= REACH; row++)
            for (int k = -REACH; k <= REACH; k++)
                hits += hypot(x - along * k - aside * row, y - pitch * row) < 0.5 * spot;
        most += hits >= 3;
    }
    return (double)most / (N * N);
}

/* 10 % overlap in hexagonal rows, then twice the rate: spots half as far apart, rows as they were. */
static void shifted_rows_are_counted(void **state)
{
    (void)state;
    static const double shift[3] = {0.0, 0.25, 0.5};
    const struct made *made = make("twice_the_rate");
    const char *at = found(made, "from spot to spot, ");
    for (size_t i = 0; i < 3; i++) {
        char *end, what[64];
        const double told = strtod(at, &end), along = 0.45;
        snprintf(what, sizeof what, "lesson: three hits and more, rows shifted by %g", shift[i]);
        /* on the rim of a spot a grid of 300 is wrong by about its step times the rims' length: 0.1 % of the skin */
        check_row(what, "counted on a grid (computed)", told,
                  100.0 * counted(1.0, along, 0.9 * sqrt(0.75), shift[i] * along), 0.15, "grid and digits");
        at = end + strcspn(end, "0123456789");
    }
}

/* Skin around that is like the lesion has its sign at the same fluence: a ratio of 1, without spread. */
static void a_tan_as_dark_as_the_lesion_leaves_no_margin(void **state)
{
    (void)state;
    const struct made *made = make("tan");
    assert_int_equal(*found(made, "as dark as the lesion: 1"), '.');
}

/* ---- facts from outside ---- */

static void course_problems_come_out(void **state)
{
    (void)state;
    const char *digits = "digits printed";
    const struct made *made = make("relaxation_time");
    check_row("lesson: relaxation of 1 um, d2/27k, ns", "course-problems (computed)",
              strtod(strstr(found(made, "d2/27k: "), "and ") + 4, NULL), 285.0, 0.5, digits);
    check_row("lesson: relaxation of 0.5 um, d2/27k, ns", "course-problems (computed)", number_after(made, "d2/27k: "),
              71.0, 0.5, digits);
    check_row("lesson: relaxation of 1 um, d2/16k, ns", "course-problems (computed)",
              number_after(made, "for 0.5 um, "), 481.0, 0.5, digits);
    check_row("lesson: relaxation of 0.5 um, d2/16k, ns", "course-problems (computed)", number_after(made, "d2/16k: "),
              120.0, 0.5, digits);
    made = make("why_nanoseconds");
    check_row("lesson: how far heat goes in 1 ms, um", "course-problems (computed)", number_after(made, "in 300 ns, "),
              22.8, 0.05, digits);
    check_row("lesson: vessel of 100 um, d2/16k, ms", "course-problem-vessel (seen)",
              number_after(made, "needs d2/16k, "), 4.81, 0.005, digits);
    made = make("how_short");
    check_row("lesson: sound across 1 um, ps", "course-problems (computed)", number_after(made, "in d/c = "), 670.0,
              5.0, digits);
    made = make("ten_a_second");
    check_row("lesson: a layer of 100 um, d2/4k, ms", "course-problems (computed)", number_after(made, "about d2/4k, "),
              19.0, 0.5, digits);
    check_row("lesson: a spot of 6 mm, d2/16k, s", "course-problems (computed)", number_after(made, "6 mm d2/16k, "),
              17.0, 0.5, digits);
    made = make("tan");
    check_row("lesson: threshold ratio in people, 694 nm", "hruza-1991 (abstract)", number_after(made, "a ratio of "),
              2.21, 0.005, digits);
    check_row("lesson: that ratio after a tan that halves it", "course-problems (computed)",
              number_after(made, "would leave "), 1.11, 0.005, digits);
    made = make("film_on_skin");
    check_row("lesson: taken by a film of 5 um, 100 /cm, %", "closed form", number_after(made, "5 um) = "),
              100.0 * (1.0 - exp(-0.05)), 0.05, digits);
    made = make("skin_type_or_colour");
    check_row("lesson: ITA of L* 67, b* 15, degrees", "closed form", number_after(made, "b* 15 it is "),
              45.0 * atan(17.0 / 15.0) / atan(1.0), 0.05, digits);
    made = make("wavelength_and_depth");
    check_row("lesson: whitening of guinea pigs, 1064 over 532 nm", "anderson-1989 (abstract)",
              number_after(made, "a ratio of "), 5.0, 0.05, digits);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(numbers_are_those_of_runs),
        cmocka_unit_test(first_sentences_hold),
        cmocka_unit_test(other_sentences_hold),
        cmocka_unit_test(a_tan_as_dark_as_the_lesion_leaves_no_margin),
        cmocka_unit_test(a_lead_is_gone_before_the_heat),
        cmocka_unit_test(times_of_warmth_are_the_models),
        cmocka_unit_test(the_deepest_leads_from_where_it_is_said),
        cmocka_unit_test(shifted_rows_are_counted),
        cmocka_unit_test(course_problems_come_out),
    };
    return cmocka_run_group_tests(tests, NULL, drop_all);
}
