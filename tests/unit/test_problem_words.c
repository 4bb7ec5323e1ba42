/* Words of the number problems that follow from numbers: ranges, what is turned round, what a course list has wrong. */
#include "lesson/problems.h"

#include "support/check.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static struct brv_problems *sheet(bool drawn, uint32_t seed)
{
    struct brv_problems *problems = malloc(sizeof *problems);
    assert_non_null(problems);
    assert_int_equal(brv_problems_solve(problems, drawn, seed, NULL), BRV_OK);
    return problems;
}

static const char *step_with(const struct brv_problems *problems, int no, const char *words)
{
    const struct brv_problem *problem = &problems->problem[no - 1];
    for (size_t i = 0; i < problem->n_step; i++)
        if (strstr(problem->step[i], words)) return problem->step[i];
    return NULL;
}

/* Hits of flat spots of width 1 on a grid of places, counted one by one: share of places with three and more. */
static double many_by_counting(double along, double pitch, double aside)
{
    enum { N = 400, ROWS = 3, SPOTS = 8 };
    size_t many = 0;
    for (size_t i = 0; i < N * N; i++) {
        const double x = ((double)(i % N) + 0.5) / N * along, y = ((double)(i / N) + 0.5) / N * pitch;
        int hits = 0;
        for (int row = -ROWS; row <= ROWS; row++)
            for (int spot = -SPOTS; spot <= SPOTS; spot++)
                hits += hypot(x - spot * along - fmod(row * aside, along), y - row * pitch) < 0.5;
        many += hits >= 3;
    }
    return (double)many / (N * N);
}

/* The same hand at twice the rate: rows may lie in any way, and the text tells the least and the most. A grid of 400 by
 * 400 places errs by about 1e-3 of the skin along the edges, less than the 0.2 % allowed.                            */
static void rows_may_lie_in_any_way(void **state)
{
    (void)state;
    struct brv_problems *problems = sheet(false, 0);
    const char *step = step_with(problems, 18, "three hits");
    double told[2];
    assert_non_null(step);
    assert_int_equal(sscanf(step, "%lf %% to %lf %%", &told[0], &told[1]), 2);
    check_close(told[0], 100.0 * many_by_counting(0.45, 0.45 * sqrt(3.0), 0.0), 0.0, 0.2);
    check_close(told[1], 100.0 * many_by_counting(0.45, 0.45 * sqrt(3.0), 0.225), 0.0, 0.2);
    free(problems);
}

/* Problem 12 calls a ratio below 1 by its name; 24 says which of two answers is the key; nothing is 'left' of nothing. */
static void words_follow_the_numbers(void **state)
{
    (void)state;
    size_t below = 0, nowhere = 0;
    for (uint32_t seed = 0; seed < 60; seed++) {
        struct brv_problems *problems = sheet(true, seed);
        const double ratio = problems->problem[11].key[1].value;
        const bool first = step_with(problems, 12, "whitens first") != NULL;
        const bool none = step_with(problems, 24, "there is no such distance") != NULL;
        assert_int_equal(first, ratio < 1.0 - 1e-6);
        assert_int_equal(step_with(problems, 12, "is left.") != NULL, ratio > 1.0 + 1e-6);
        assert_int_equal(none, problems->problem[23].n_key == 1);
        assert_non_null(step_with(problems, 24, "stricter"));
        assert_non_null(step_with(problems, 22, "stricter reading"));
        below += first;
        nowhere += none;
        free(problems);
    }
    assert_true(below > 3 && nowhere > 15); /* both are met with in 60 sheets */
}

/* The list's own answer stands beside the number that contradicts it, and on the printed sheet only. */
static void little_is_contradicted(void **state)
{
    (void)state;
    struct brv_problems *printed = sheet(false, 0), *drawn = sheet(true, 3);
    const struct brv_problem *problem = &printed->problem[26];
    assert_non_null(step_with(printed, 27, "little at 100 ms"));
    assert_null(step_with(drawn, 27, "little"));
    assert_true(problem->key[3].value > 0.46 && problem->key[3].value < 0.47);
    assert_true(problem->key[4].value > 0.43 && problem->key[4].value < 0.45);
    assert_non_null(step_with(printed, 27, "It adds up."));
    free(printed);
    free(drawn);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(rows_may_lie_in_any_way),
        cmocka_unit_test(words_follow_the_numbers),
        cmocka_unit_test(little_is_contradicted),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
