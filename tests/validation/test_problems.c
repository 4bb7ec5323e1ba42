/* The number problems of a course against the answers that others printed, and against those worked out by hand for this
 * project before the program could. Every printed number has the tolerance of its digits.                           */
#include "lesson/numbers.h"

#include "support/check.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { ROW_SIZE = 160, SOURCE_SIZE = 64 };

/* Digits are cut or rounded at half of the last one; problems 1 and 23 have a reason of their own. */
static const char *reason_of(const struct brv_problem *problem, const struct brv_problem_key *key)
{
    if (problem->no == 1) return "digits printed; the book multiplies by a rounded number";
    if (problem->no == 23) return "the limit behind it is rounded or not told";
    return key->digit < 1e-5 * key->printed ? "rounding" : "digits printed";
}

static void check_key(const struct brv_problem *problem, const struct brv_problem_key *key)
{
    char what[ROW_SIZE], source[SOURCE_SIZE];
    const char *unit = key->unit->name;
    snprintf(what, sizeof what, "problem %d, %s%s%s", problem->no, key->quantity, *unit ? ", " : "", unit);
    snprintf(source, sizeof source, "%s (%s)", key->source, key->seen);
    check_row(what, source, key->value / key->unit->scale, key->printed, key->digit, reason_of(problem, key));
}

static void printed_answers(void **state)
{
    (void)state;
    struct brv_problems *problems = malloc(sizeof *problems);
    size_t published = 0, by_hand = 0;
    assert_non_null(problems);
    assert_int_equal(brv_problems_solve(problems, false, 0, NULL), BRV_OK);
    for (size_t i = 0; i < BRV_N_PROBLEM; i++)
        for (size_t k = 0; k < problems->problem[i].n_key; k++) {
            const struct brv_problem_key *key = &problems->problem[i].key[k];
            if (isnan(key->printed) || key->slip) continue;
            check_key(&problems->problem[i], key);
            published += brv_problem_published(key);
            by_hand += !brv_problem_published(key);
        }
    assert_int_equal(published, 23); /* none is lost unseen */
    assert_int_equal(by_hand, 36);
    free(problems);
}

/* A slip is one: what is printed lies beyond the half of its last digit, while the table of the same book lies within. */
static void the_slip_is_one(void **state)
{
    (void)state;
    struct brv_problems *problems = malloc(sizeof *problems);
    assert_non_null(problems);
    assert_int_equal(brv_problems_solve(problems, false, 0, NULL), BRV_OK);
    const struct brv_problem *table = &problems->problem[2];
    const struct brv_problem_key *slip = &table->key[table->n_key - 1];
    assert_true(slip->slip);
    assert_true(fabs(slip->value / slip->unit->scale - slip->printed) > slip->digit);
    for (size_t i = 0; i < BRV_N_PROBLEM; i++)
        for (size_t k = 0; k < problems->problem[i].n_key; k++)
            assert_true(!problems->problem[i].key[k].slip || &problems->problem[i].key[k] == slip);
    free(problems);
}

/* docs/sources.md has an entry for every source of a printed answer. */
static void sources_have_entries(void **state)
{
    (void)state;
    struct brv_problems *problems = malloc(sizeof *problems);
    char *text = calloc(1, 1 << 18), head[80];
    FILE *file = fopen("docs/sources.md", "r");
    assert_non_null(problems);
    assert_int_equal(brv_problems_solve(problems, false, 0, NULL), BRV_OK);
    assert_non_null(file);
    assert_non_null(text);
    assert_true(fread(text, 1, (1 << 18) - 1, file) > 1000);
    fclose(file);
    for (size_t i = 0; i < BRV_N_PROBLEM; i++)
        for (size_t k = 0; k < problems->problem[i].n_key; k++) {
            const struct brv_problem_key *key = &problems->problem[i].key[k];
            if (!key->source) continue;
            snprintf(head, sizeof head, "\n### %s\n", key->source);
            if (!strstr(text, head)) fail_msg("docs/sources.md has no entry %s", key->source);
        }
    free(text);
    free(problems);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(printed_answers),
        cmocka_unit_test(the_slip_is_one),
        cmocka_unit_test(sources_have_entries),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
