/* A few scenarios of `make stress`, with a seed of their own, and that it would be noticed: processes that die, hang or take
 * memory, answers that are wrong, texts that are read as something else.                                          */
#include "support/check.h"

#include "stress/hold.h"
#include "stress/pool.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { N_CASE = 4, CASE_SECONDS = 60, ROWS_ABOVE = 100 };

#define SHORT_SEED 7UL

/* Sanitizers map terabytes and run many times slower, and so does a program that counts its lines: then neither is bounded. */
#if defined(__SANITIZE_ADDRESS__) || defined(COUNTS_LINES)
#define SANITIZED 1
#elif defined(__has_feature)
#if __has_feature(address_sanitizer)
#define SANITIZED 1
#endif
#endif
#ifndef SANITIZED
#define SANITIZED 0
#endif

static struct stress_design design;

/* ---- the design ---- */

static void most_pairs_meet(void **state)
{
    (void)state;
    struct stress_drawn one;
    assert_true(design.n_row > ROWS_ABOVE && design.n_row < STRESS_MOST_ROWS);
    assert_true(5 * design.n_covered > 4 * design.n_pair); /* or the rules refuse what the ends are about */
    assert_int_equal(design.refusals.accepted, design.n_covered);
    for (size_t i = 0; i < design.n_row; i++)
        stress_draw(&one, &design, 0, i, NULL); /* aborts on one that is not sound */
}

static void most_draws_are_accepted(void **state)
{
    (void)state;
    struct stress_refusals refusals = {.n_rule = 0};
    struct stress_drawn one, again;
    for (size_t i = 0; i < 200; i++) stress_draw(&one, &design, SHORT_SEED, STRESS_WIDE + i, &refusals);
    assert_true(2 * refusals.accepted > refusals.drawn);
    assert_int_equal(refusals.accepted, 200);
    stress_draw(&again, &design, SHORT_SEED, STRESS_WIDE + 199, NULL);
    assert_memory_equal(&one.drawn.beam, &again.drawn.beam, sizeof one.drawn.beam);
    stress_draw(&again, &design, SHORT_SEED + 1, STRESS_WIDE + 199, NULL);
    assert_memory_not_equal(&one.drawn.beam, &again.drawn.beam, sizeof one.drawn.beam);
}

/* ---- processes that do not end well ---- */

enum { FINE, DIES, EXITS, HANGS, N_END };

static void end_badly(struct stress_finding *finding, size_t i, const void *context)
{
    (void)context;
    if (i == DIES) abort();
    if (i == EXITS) _Exit(3);
    for (volatile unsigned turn = 0; i == HANGS; turn++) {
    }
    finding->outcome = STRESS_ANSWERED;
}

static void what_dies_or_hangs_is_counted(void **state)
{
    (void)state;
    struct stress_pool pool;
    FILE *nowhere = fopen("/dev/null", "w");
    assert_true(stress_pool_build(&pool, N_END));
    stress_pool_run(&pool, end_badly, NULL, 1, 0, false);
    assert_int_equal(pool.finding[FINE].outcome, STRESS_ANSWERED);
    assert_int_equal(pool.finding[DIES].outcome, STRESS_LOST);
    assert_string_equal(pool.finding[EXITS].broken, "ended with 3");
    assert_non_null(strstr(pool.finding[HANGS].broken, "too long"));
    assert_int_equal(stress_table(nowhere, &pool, true), 3);
    fclose(nowhere);
    stress_pool_free(&pool);
}

enum { BUSY, SLOW, WRONG, PATIENT, N_SLOW };

/* The first is slow beside others only, the second always; the third is wrong in another way; the last may take longer,
 * but need not when alone.                                                                                         */
static void be_slow(struct stress_finding *finding, size_t i, const void *context)
{
    const bool alone = *(const bool *)context;
    finding->outcome = STRESS_ANSWERED;
    finding->seconds = !alone ? 11.0 : i == PATIENT ? 8.0 : 9.0 + 3.0 * (double)i;
    if (i == WRONG) stress_hold(finding, "budget of light", 2.0, 1.0);
    stress_hold(finding, STRESS_SLOW, finding->seconds, i == PATIENT ? 20.0 : STRESS_SECONDS);
}

static void what_is_slow_is_asked_alone(void **state)
{
    (void)state;
    struct stress_pool pool;
    bool alone = false;
    assert_true(stress_pool_build(&pool, N_SLOW));
    stress_pool_run(&pool, be_slow, &alone, CASE_SECONDS, 0, false);
    for (size_t i = 0; i < N_SLOW; i++)
        assert_int_equal(pool.finding[i].outcome, i == PATIENT ? STRESS_ANSWERED : STRESS_BROKEN);
    alone = true;
    stress_pool_again(&pool, be_slow, &alone, CASE_SECONDS, 0);
    assert_int_equal(pool.finding[BUSY].outcome, STRESS_ANSWERED);
    assert_int_equal(pool.finding[SLOW].outcome, STRESS_BROKEN);
    assert_true(pool.finding[SLOW].seconds < 11.5); /* the quicker of both */
    assert_string_equal(pool.finding[WRONG].broken, "budget of light");
    assert_true(pool.finding[PATIENT].seconds < 8.5);
    stress_pool_free(&pool);
}

static void take_memory(struct stress_finding *finding, size_t i, const void *context)
{
    (void)i;
    (void)context;
    void *much = malloc((size_t)300 << 20);
    finding->outcome = much ? STRESS_BROKEN : STRESS_ANSWERED;
    free(much);
}

static void memory_is_bounded(void **state)
{
    (void)state;
    struct stress_pool pool;
    if (SANITIZED) skip();
    assert_true(stress_pool_build(&pool, 1));
    stress_pool_run(&pool, take_memory, NULL, CASE_SECONDS, 200, false);
    assert_int_equal(pool.finding[0].outcome, STRESS_ANSWERED);
    stress_pool_run(&pool, take_memory, NULL, CASE_SECONDS, 0, false);
    assert_int_equal(pool.finding[0].outcome, STRESS_BROKEN);
    stress_pool_free(&pool);
}

/* ---- answers that are wrong ---- */

static struct stress_drawn simple(void)
{
    struct stress_drawn one;
    struct stress_design none = {.n_row = 1, .row = {{.n = 0}}};
    stress_draw(&one, &none, 0, 0, NULL); /* a row that gives nothing: all at defaults */
    stress_set(&one.drawn.beam, BRV_SCOPE_LIGHT, "method", BRV_METHOD_LAYERED);
    stress_set(&one.drawn.watch, BRV_SCOPE_WATCH, "until", 1e-3);
    assert_true(stress_sound(&one.ask, &one.drawn, NULL));
    return one;
}

static struct brv_site solved(const struct stress_drawn *one)
{
    struct brv_site site;
    assert_int_equal(brv_site_solve(&site, &one->ask, BRV_LESION, BRV_VALUES_ONLY, NULL, NULL), BRV_OK);
    return site;
}

static void answers(const struct stress_drawn *one, const struct brv_site *site, const char *broken)
{
    struct stress_finding finding = {.outcome = STRESS_ANSWERED};
    stress_answer(&finding, &one->ask, site);
    assert_string_equal(finding.broken, broken);
    assert_int_equal(finding.outcome, *broken ? STRESS_BROKEN : STRESS_ANSWERED);
    assert_true((finding.worst > 1.0) == (isfinite(finding.bound) && *broken != '\0'));
}

/* Puts a wrong number in, looks, and puts the right one back. */
static void spoilt(const struct stress_drawn *one, const struct brv_site *site, double *number, double wrong,
                   const char *broken)
{
    const double right = *number;
    *number = wrong;
    answers(one, site, broken);
    *number = right;
}

static void wrong_answers_are_seen(void **state)
{
    (void)state;
    const struct stress_drawn one = simple();
    struct brv_site site = solved(&one);
    struct brv_history *history = &site.history;
    double *rise = history->rise + BRV_PROBE_LAYER * history->n_time + 40;
    const double most = stress_warmest(history);
    answers(&one, &site, "");
    spoilt(&one, &site, rise, -2e-6 * most, "rise of a layer or depth");
    spoilt(&one, &site, rise, (double)NAN, "rise of a layer or depth");
    spoilt(&one, &site, history->rise + 40, -6e-3 * most, "rise of the grain");
    spoilt(&one, &site, history->pigment + 40, (double)INFINITY, "pigment's part of a rise");
    spoilt(&one, &site, &site.light.layered.transmitted, 2e-8, "budget of light");
    spoilt(&one, &site, &site.light.layered.reflected_diffuse, -1e-4, "share reflected");
    spoilt(&one, &site, &site.light.mean_fluence[1], -1e-9, "mean fluence not negative");
    spoilt(&one, &site, &site.audit.layers, -2e-10, "energy audit of the layers");
    spoilt(&one, &site, &site.audit.skin.absorbed, 0.999 * site.audit.skin.absorbed, "heat got all that light gave");
    spoilt(&one, &site, &site.effect.peak[2].high, (double)NAN, "finite: highest rise");
    spoilt(&one, &site, &site.effect.threshold_grain.value, -1.0, "a threshold is above 0");
    spoilt(&one, &site, &site.effect.threshold[0].low, 1e9, "darker grains need less");
    spoilt(&one, &site, &site.effect.crowd.curve[3].share.number, 1.1, "shares of grains are shares and grow");
    brv_site_free(&site);
}

static void linear(const struct stress_drawn *one, const struct brv_site *site, const char *broken)
{
    struct stress_finding finding = {.outcome = STRESS_ANSWERED};
    stress_linear(&finding, &one->ask, site);
    assert_string_equal(finding.broken, broken);
}

/* The curve of the run is moved: what is solved again no longer fits it. The first is too little for the second bound. */
static void what_is_not_linear_is_seen(void **state)
{
    (void)state;
    const struct stress_drawn one = simple();
    struct brv_site site = solved(&one);
    double *rise = site.history.rise + BRV_PROBE_LAYER * site.history.n_time + 40;
    linear(&one, &site, "");
    *rise += 4e-12 * stress_warmest(&site.history);
    linear(&one, &site, "twice the light, twice the heat");
    site.tissue.layer[0].absorption_pigment = 0.0;
    struct brv_tissue kept = site.tissue;
    brv_site_free(&site);
    site = solved(&one);
    site.tissue = kept;
    site.tissue.layer[0].absorption = 0.0; /* its heat is in no part and not in the run again */
    linear(&one, &site, "twice the light, twice the heat");
    brv_site_free(&site);
}

static void texts_are_compared(void **state)
{
    (void)state;
    struct stress_drawn one = simple();
    struct stress_finding finding = {.outcome = STRESS_ANSWERED};
    stress_reading(&finding, &one);
    assert_int_equal(finding.outcome, STRESS_ANSWERED);
    one.ask.beam.spot = nextafter(one.ask.beam.spot, 1.0);
    stress_reading(&finding, &one);
    assert_string_equal(finding.broken, "read: light.spot");
    finding = (struct stress_finding){.outcome = STRESS_ANSWERED};
    one = simple();
    one.drawn.beam.spot = 1.0;
    stress_reading(&finding, &one);
    assert_non_null(strstr(finding.broken, "light.spot"));
}

/* ---- a few of the many ---- */

static void examine(struct stress_finding *finding, size_t i, const void *context)
{
    const size_t *number = context;
    struct stress_drawn one;
    stress_draw(&one, &design, SHORT_SEED, number[i], NULL);
    stress_examine(finding, &one, &(struct stress_more){.threads = i % 4 == 0, .linear = i % 4 == 1});
}

static void a_few_hold(void **state)
{
    (void)state;
    struct stress_pool pool;
    assert_true(stress_pool_build(&pool, N_CASE));
    pool.at_once = 1; /* tests run two programs at a time already */
    stress_pool_number(&pool, &design);
    stress_pool_run(&pool, examine, pool.number, SANITIZED ? 30 * CASE_SECONDS : CASE_SECONDS, 0, false);
    const size_t bad = stress_table(stdout, &pool, false);
    if (!SANITIZED) assert_int_equal(bad, 0);
    for (size_t i = 0; SANITIZED && i < N_CASE; i++) assert_int_not_equal(pool.finding[i].outcome, STRESS_LOST);
    stress_pool_free(&pool);
}

static int make_design(void **state)
{
    (void)state;
    stress_design_make(&design);
    return 0;
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(most_pairs_meet),
                                       cmocka_unit_test(most_draws_are_accepted),
                                       cmocka_unit_test(what_dies_or_hangs_is_counted),
                                       cmocka_unit_test(what_is_slow_is_asked_alone),
                                       cmocka_unit_test(memory_is_bounded),
                                       cmocka_unit_test(wrong_answers_are_seen),
                                       cmocka_unit_test(what_is_not_linear_is_seen),
                                       cmocka_unit_test(texts_are_compared),
                                       cmocka_unit_test(a_few_hold)};
    return cmocka_run_group_tests(tests, make_design, NULL);
}
