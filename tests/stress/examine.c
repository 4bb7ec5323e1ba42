#include "stress/hold.h"

#include <math.h>
#include <stdio.h>
#include <string.h>
#include <sys/resource.h>
#include <time.h>

/* ---- bounds ---- */

static void keep_words(char to[STRESS_WORDS], const char *words)
{
    snprintf(to, STRESS_WORDS, "%s", words);
}

void stress_hold(struct stress_finding *finding, const char *what, double found, double bound)
{
    const double share = isfinite(found) ? fabs(found) / bound : (double)INFINITY;
    if (share > finding->worst || !*finding->worst_of) {
        finding->worst = share;
        keep_words(finding->worst_of, what);
    }
    if (share <= 1.0 || finding->outcome == STRESS_BROKEN) return;
    finding->outcome = STRESS_BROKEN;
    finding->found = found;
    finding->bound = bound;
    keep_words(finding->broken, what);
}

void stress_hold_true(struct stress_finding *finding, const char *what, bool holds)
{
    if (holds || finding->outcome == STRESS_BROKEN) return;
    finding->outcome = STRESS_BROKEN;
    finding->found = finding->bound = (double)NAN;
    keep_words(finding->broken, what);
}

/* ---- time and memory ---- */

/* Of the processor, so that a busy machine makes nobody slow. */
static double seconds(void)
{
    struct timespec now;
    clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &now);
    return (double)now.tv_sec + 1e-9 * (double)now.tv_nsec;
}

static double megabytes(void)
{
    struct rusage used;
    getrusage(RUSAGE_SELF, &used);
    return (double)used.ru_maxrss / 1024.0;
}

/* ---- more than one thread ---- */

static bool same_numbers(const double *a, const double *b, size_t n)
{
    return (!a && !b) || (a && b && !memcmp(a, b, n * sizeof *a));
}

static bool same_bytes(const struct brv_site *a, const struct brv_site *b)
{
    const struct brv_history *x = &a->history, *y = &b->history;
    const size_t n = x->n_probe * x->n_time;
    return x->n_probe == y->n_probe && x->n_time == y->n_time && x->n_cell == y->n_cell &&
           same_numbers(x->rise, y->rise, n) && same_numbers(x->pigment, y->pigment, n) &&
           same_numbers(x->cooled, y->cooled, n) && same_numbers(x->peak, y->peak, x->n_cell) &&
           same_numbers(a->light.map, b->light.map, a->light.n_map_depth * a->light.n_map_radius) &&
           same_numbers(a->light.mean_fluence, b->light.mean_fluence, a->light.n_layer) &&
           same_numbers(&a->effect.threshold_grain.value, &b->effect.threshold_grain.value, 3);
}

static void check_threads(struct stress_finding *finding, const struct brv_scenario *ask,
                          const struct brv_result *result)
{
    struct brv_result again;
    struct brv_error error = {.place = ""};
    const brv_status status = brv_run_solve(&again, ask, &(struct brv_control){.threads = 2}, &error);
    stress_hold_true(finding, "two threads come to an end", !status);
    if (status) return;
    for (size_t site = 0; site < BRV_N_SITE; site++)
        stress_hold_true(finding, "same bytes with two threads", same_bytes(&result->site[site], &again.site[site]));
    brv_run_free(&again);
    finding->threads = true;
}

/* ---- the story ---- */

/* A run may say that it did not reach a tolerance, but then it says which, and by how much. */
static void keep_refusal(struct stress_finding *finding, brv_status status, const struct brv_error *error)
{
    finding->outcome = STRESS_NO_NUMBERS;
    keep_words(finding->broken, error->place);
    finding->found = error->found;
    finding->bound = error->most;
    if (status == BRV_NUMERICS && *error->place) return;
    finding->outcome = STRESS_BROKEN;
    if (status != BRV_NUMERICS) keep_words(finding->broken, brv_status_text(status));
}

static double seconds_allowed(const struct brv_scenario *ask)
{
    const double pulses = ask->pulse.count * ask->pulse.passes;
    return STRESS_SECONDS + STRESS_PULSE * (pulses - 1.0) +
           (ask->beam.method == BRV_METHOD_SAMPLED ? STRESS_WALK : 0.0);
}

void stress_examine(struct stress_finding *finding, const struct stress_drawn *one, const struct stress_more *more)
{
    struct brv_result result;
    struct brv_error error = {.place = ""};
    const double start = seconds();
    finding->outcome = STRESS_ANSWERED;
    stress_reading(finding, one);
    const brv_status status = brv_run_solve(&result, &one->ask, &(struct brv_control){.threads = 1}, &error);
    finding->seconds = seconds() - start;
    finding->megabytes = megabytes();
    finding->ran = true;
    if (status)
        keep_refusal(finding, status, &error);
    else {
        for (size_t site = 0; site < BRV_N_SITE; site++) stress_answer(finding, &result.ask, &result.site[site]);
        if (more->linear) stress_linear(finding, &result.ask, &result.site[one->number % BRV_N_SITE]);
        finding->linear = more->linear;
        stress_telling(finding, one, &result);
        if (more->threads) check_threads(finding, &one->ask, &result);
        brv_run_free(&result);
    }
    if (more->program) stress_program(finding, one, more->program, status);
    if (finding->outcome == STRESS_BROKEN) return;
    stress_hold(finding, STRESS_SLOW, finding->seconds, seconds_allowed(&one->ask));
    if (finding->megabytes > STRESS_MEGABYTES) stress_hold(finding, "megabytes", finding->megabytes, STRESS_MEGABYTES);
}
