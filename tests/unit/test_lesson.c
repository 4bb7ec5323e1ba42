/* Lessons as a table and as pages: every row is whole, a page keeps its contract, words follow numbers. */
#include "support/check.h"

#include "lesson/drawing.h"
#include "lesson/handout.h"
#include "lesson/lesson.h"
#include "lesson/phrase.h"
#include "scenario/choices.h"

#include <ctype.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

/* ---- the table ---- */

static size_t count(const char *const line[])
{
    size_t n = 0;
    while (line[n]) n++;
    return n;
}

static void every_lesson_is_whole(void **state)
{
    (void)state;
    assert_non_null(brv_lessons[0]);
    for (size_t i = 0; brv_lessons[i]; i++) {
        const struct brv_lesson *lesson = brv_lessons[i];
        for (const char *c = lesson->name; *c; c++) assert_true(islower((unsigned char)*c) || *c == '_');
        assert_ptr_equal(brv_lesson_called(lesson->name), lesson); /* no other one has this name */
        assert_true(strlen(lesson->name) <= 23);                   /* the column of the list */
        assert_true(strlen(lesson->question) <= 80);
        assert_int_equal(lesson->question[strlen(lesson->question) - 1], '?');
        assert_in_range(count(lesson->guess), 2, BRV_LESSON_LINES - 1);
        assert_in_range(count(lesson->ask), 3, BRV_LESSON_LINES - 1);
        assert_true(*lesson->group && *lesson->story && *lesson->left_out && *lesson->next && lesson->source);
        assert_true((lesson->teach != NULL) != (lesson->solve != NULL));
    }
    assert_null(brv_lesson_called("no_such_lesson"));
}

/* The list names a group once: its lessons stand together. */
static void lessons_of_a_group_stand_together(void **state)
{
    (void)state;
    for (size_t i = 0; brv_lessons[i]; i++)
        for (size_t k = i + 1; brv_lessons[k]; k++)
            if (!strcmp(brv_lessons[i]->group, brv_lessons[k]->group))
                assert_string_equal(brv_lessons[k - 1]->group, brv_lessons[k]->group);
}

static void every_scenario_is_sound(void **state)
{
    (void)state;
    char path[256];
    for (size_t i = 0; brv_lessons[i]; i++) {
        struct brv_choices choices = {.n = 0};
        struct brv_faults faults = {.n = 0};
        snprintf(path, sizeof path, "scenarios/%s", brv_lessons[i]->scenario);
        const int code = brv_choices_read(&choices, path, NULL, 0, &faults);
        brv_faults_print(&faults, stderr);
        brv_faults_free(&faults);
        assert_int_equal(code, 0);
        if (brv_lessons[i]->teach) assert_true(choices.n >= 2);
        brv_choices_free(&choices);
    }
}

/* ---- words ---- */

static void words_follow_numbers(void **state)
{
    (void)state;
    char text[BRV_NUMBER_SIZE];
    assert_string_equal(brv_phrase_order(0.94, 1.0, "less", "alike", "more"), "less");
    assert_string_equal(brv_phrase_order(0.96, 1.0, "less", "alike", "more"), "alike");
    assert_string_equal(brv_phrase_order(1.04, 1.0, "less", "alike", "more"), "alike");
    assert_string_equal(brv_phrase_order(1.06, 1.0, "less", "alike", "more"), "more");
    assert_string_equal(brv_phrase_order((double)NAN, 1.0, "less", "alike", "more"), "");
    assert_string_equal(brv_phrase_times(text, 5.0, 5.001), "the same");
    assert_string_equal(brv_phrase_times(text, 1.0, 3.0), "0.33 times");
    assert_string_equal(brv_phrase_times(text, 890.0, 100.0), "8.9 times");
    assert_string_equal(brv_phrase_times(text, 12345.0, 100.0), "123 times");
}

/* Low over low, high over high; the least and the most of the three, whichever they are. */
static void ratios_carry_their_spread(void **state)
{
    (void)state;
    char text[BRV_TERM_SIZE];
    const struct brv_spread one = {1.0, 0.5, 4.0}, big = {300.0, 75.0, 1000.0}, twice = {2.0, 1.0, 8.0},
                            little = {1e-4, 1e-5, 0.1};
    assert_string_equal(brv_phrase_ratio_of(text, &big, &one), "300 times (150 to 300)");
    assert_string_equal(brv_phrase_ratio_of(text, &one, &big), "0.0033 times (0.0033 to 0.0067)");
    assert_string_equal(brv_phrase_ratio_of(text, &twice, &one), "2 times");
    assert_string_equal(brv_phrase_ratio_of(text, &little, &one), "under 0.001 times (under 0.001 to 0.025)");
}

static void a_share_that_is_there_is_not_0(void **state)
{
    (void)state;
    char text[BRV_NUMBER_SIZE];
    assert_string_equal(brv_phrase_percent(text, 4.39e-5), "under 0.01 %");
    assert_string_equal(brv_phrase_percent(text, 1e-12), "0 %"); /* the digits of a sum */
    assert_string_equal(brv_phrase_percent(text, 0.1255), "12.6 %");
    assert_string_equal(brv_phrase_percent(text, 1.0), "100 %");
}

/* Low and high are told unless they read like the value. */
static void spreads_are_told(void **state)
{
    (void)state;
    char text[BRV_TERM_SIZE];
    assert_string_equal(brv_phrase_spread(text, &(struct brv_spread){351.2, 327.4, 377.0}, 1.0, -273.15, "C"),
                        "78.1 C (54.2 to 104)");
    assert_string_equal(brv_phrase_spread(text, &(struct brv_spread){2.0, 2.0, 2.0}, 1.0, 0.0, "K"), "2 K");
}

/* ---- pages ---- */

static void steps_are_counted(void **state)
{
    (void)state;
    struct brv_exercise *exercise = calloc(1, sizeof *exercise);
    brv_exercise_answer(exercise, "first");
    brv_exercise_step(exercise, "a");
    brv_exercise_step(exercise, "b %d", 7);
    assert_int_equal(exercise->answer.n, 3);
    assert_string_equal(exercise->answer.line[0].label, "ANSWER");
    assert_string_equal(exercise->answer.line[1].label, "1");
    assert_string_equal(exercise->answer.line[2].label, "2");
    assert_string_equal(exercise->answer.line[2].text, "b 7");
    free(exercise);
}

static const double two_x[2] = {1e-9, 1e-3}, two_y[2] = {3.0, 170.0}, gap[2] = {(double)NAN, 2.0};

static struct brv_drawing small_drawing(void)
{
    return (struct brv_drawing){
        .x = {.column = "time_s", .label = "time", .scale = 1.0, .log = true, .seconds = true},
        .y = {.column = "rise_K", .label = "rise, K", .scale = 1.0},
        .n_curve = 2,
        .curve = {{.name = "grain's", .n = 2, .x = two_x, .y = two_y}, {.name = "layer", .n = 2, .x = two_x, .y = gap}},
        .asked = "asked",
        .caption = "caption"};
}

static void a_guess_has_the_axes_of_the_answer_and_no_number(void **state)
{
    (void)state;
    struct brv_exercise *exercise = calloc(1, sizeof *exercise);
    const struct brv_drawing drawing = small_drawing();
    brv_drawing_add(exercise, &drawing);
    assert_int_equal(exercise->n_figure, 2);
    const struct brv_exercise_figure *guess = &exercise->figure[0], *answer = &exercise->figure[1];
    assert_int_equal(guess->side, BRV_WITH_QUESTION);
    assert_int_equal(answer->side, BRV_WITH_ANSWER);
    assert_string_equal(guess->csv, "curve,time_s,rise_K,rise_K_low,rise_K_high\r\n");
    assert_string_equal(answer->csv, "curve,time_s,rise_K,rise_K_low,rise_K_high\r\n1,1e-09,3,,\r\n1,0.001,170,,\r\n"
                                     "2,0.001,2,,\r\n"); /* what is no number is left out */
    assert_string_equal(guess->extra, answer->extra);
    assert_non_null(strstr(guess->extra, "'grain s'"));                           /* a quote would end the word */
    assert_non_null(strstr(guess->extra, "'0.000000000e+00' '2.000000000e+02'")); /* 170 with room above it */
    brv_exercise_free(exercise);
    brv_exercise_free(exercise);
    free(exercise);
}

static void a_page_has_room_for_so_many_figures(void **state)
{
    (void)state;
    struct brv_exercise *exercise = calloc(1, sizeof *exercise);
    FILE *to;
    for (size_t i = 0; i < BRV_EXERCISE_FIGURES; i++) {
        assert_non_null(brv_exercise_draw(exercise, "a", BRV_WITH_ANSWER, "", &to));
        brv_exercise_drawn(exercise, to);
        assert_false(exercise->full);
    }
    assert_null(brv_exercise_draw(exercise, "a", BRV_WITH_ANSWER, "", &to));
    assert_null(to);
    assert_true(exercise->full);
    brv_exercise_free(exercise);
    free(exercise);
}

static brv_status solve_never(struct brv_exercise *exercise, const struct brv_choices *choices,
                              const struct brv_control *control, struct brv_error *error)
{
    (void)choices, (void)control;
    const struct brv_drawing drawing = small_drawing();
    brv_exercise_answer(exercise, "never seen");
    brv_drawing_add(exercise, &drawing);
    return brv_error_raise(error, BRV_NUMERICS, "lesson");
}

static void a_failure_leaves_an_empty_page(void **state)
{
    (void)state;
    struct brv_exercise *exercise = calloc(1, sizeof *exercise);
    const struct brv_lesson lesson = {.name = "never", .solve = solve_never};
    struct brv_error error = {.place = ""};
    assert_int_equal(brv_lesson_make(exercise, &lesson, NULL, NULL, &error), BRV_NUMERICS);
    assert_string_equal(error.place, "lesson");
    assert_int_equal(exercise->n_figure, 0);
    assert_int_equal(exercise->answer.n, 0);
    free(exercise);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_lesson_is_whole),
        cmocka_unit_test(lessons_of_a_group_stand_together),
        cmocka_unit_test(every_scenario_is_sound),
        cmocka_unit_test(words_follow_numbers),
        cmocka_unit_test(ratios_carry_their_spread),
        cmocka_unit_test(a_share_that_is_there_is_not_0),
        cmocka_unit_test(spreads_are_told),
        cmocka_unit_test(steps_are_counted),
        cmocka_unit_test(a_guess_has_the_axes_of_the_answer_and_no_number),
        cmocka_unit_test(a_page_has_room_for_so_many_figures),
        cmocka_unit_test(a_failure_leaves_an_empty_page),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
