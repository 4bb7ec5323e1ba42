#include "lesson/problem.h"

#include "base/random.h"

#include <assert.h>
#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const struct brv_problem_unit units[] = {
    {"", "1", 1.0},
    {"%", "1", 0.01},
    {"J", "J", 1.0},
    {"mJ", "J", 1e-3},
    {"J/cm2", "J/m2", 1e4},
    {"/cm2", "/m2", 1e4},
    {"nm", "m", 1e-9},
    {"um", "m", 1e-6},
    {"mm", "m", 1e-3},
    {"m", "m", 1.0},
    {"cm2", "m2", 1e-4},
    {"ns", "s", 1e-9},
    {"us", "s", 1e-6},
    {"ms", "s", 1e-3},
    {"s", "s", 1.0},
    {"W", "W", 1.0},
    {"MW", "W", 1e6},
    {"W/cm2", "W/m2", 1e4},
    {"W/m2", "W/m2", 1.0},
    {"J/m2", "J/m2", 1.0},
    {"mm/s", "m/s", 1e-3},
    {"/s", "/s", 1.0},
    {"mrad", "rad", 1e-3},
    {"m2/s", "m2/s", 1.0},
    {"deg", "rad", 0.017453292519943295},
    {"pulses", "1", 1.0},
    {"m/s", "m/s", 1.0},
};

const struct brv_problem_unit *brv_problem_unit_called(const char *name)
{
    for (size_t i = 0; i < sizeof units / sizeof *units; i++)
        if (!strcmp(units[i].name, name)) return &units[i];
    assert(0 && "a unit of the table");
    return &units[0];
}

double brv_problem_given(struct brv_problem_maker *maker, double printed, const double choice[], size_t n)
{
    struct brv_problem *problem = maker->problem;
    const uint32_t key[2] = {maker->seed, 0};
    const uint32_t counter[4] = {(uint32_t)problem->no, (uint32_t)problem->n_given, 0, 0};
    const double place = brv_random_short(brv_random_draw(key, counter).word[0]); /* inside (0, 1) */
    const double value = maker->drawn ? choice[(size_t)(place * (double)n)] : printed;
    assert(problem->n_given < BRV_PROBLEM_GIVENS);
    problem->given[problem->n_given++] = value;
    return value;
}

/* 2e+08 and 1.3e-07 as people write them: 2e8, 1.3e-7. */
static void tidy_exponent(char *number)
{
    char *from = strchr(number, 'e');
    if (!from) return;
    char *to = ++from;
    if (*from == '-') to++;
    from++; /* the sign is always there */
    while (*from == '0' && from[1]) from++;
    memmove(to, from, strlen(from) + 1);
}

const char *brv_problem_number(char out[BRV_PROBLEM_SAID], double number, const char *unit)
{
    const bool tight = !strcmp(unit, "") || !strcmp(unit, "/cm2") || !strcmp(unit, "/s");
    const bool plain = fabs(number) >= 9999.5 && fabs(number) < 1e6; /* four digits of it would have an exponent */
    snprintf(out, BRV_PROBLEM_SAID, plain ? "%.0f" : "%.4g", number);
    tidy_exponent(out);
    const size_t n = strlen(out);
    snprintf(out + n, BRV_PROBLEM_SAID - n, "%s%s", tight ? "" : " ", unit);
    return out;
}

const char *brv_problem_say(struct brv_problem_maker *maker, double value, const char *unit)
{
    const struct brv_problem_unit *in = brv_problem_unit_called(unit);
    char *out = maker->said[maker->n_said++ % BRV_PROBLEM_SAIDS];
    return brv_problem_number(out, value / in->scale, unit);
}

const char *brv_problem_about(struct brv_problem_maker *maker, double value, const char *unit)
{
    char two[BRV_PROBLEM_SAID];
    const double scale = brv_problem_unit_called(unit)->scale;
    snprintf(two, sizeof two, "%.1e", value / scale);
    return brv_problem_say(maker, scale * strtod(two, NULL), unit);
}

void brv_problem_ask(struct brv_problem_maker *maker, const char *format, ...)
{
    va_list list;
    va_start(list, format);
    vsnprintf(maker->problem->question, BRV_PROBLEM_QUESTION, format, list);
    va_end(list);
}

void brv_problem_step(struct brv_problem_maker *maker, const char *format, ...)
{
    struct brv_problem *problem = maker->problem;
    va_list list;
    assert(problem->n_step < BRV_PROBLEM_STEPS);
    va_start(list, format);
    vsnprintf(problem->step[problem->n_step++], BRV_PROBLEM_STEP, format, list);
    va_end(list);
}

struct brv_problem_key *brv_problem_answer(struct brv_problem_maker *maker, double value, const char *unit,
                                           const char *quantity)
{
    struct brv_problem *problem = maker->problem;
    assert(problem->n_key < BRV_PROBLEM_KEYS);
    struct brv_problem_key *key = &problem->key[problem->n_key++];
    *key = (struct brv_problem_key){
        .unit = brv_problem_unit_called(unit), .value = value, .printed = (double)NAN, .digit = (double)NAN};
    snprintf(key->quantity, sizeof key->quantity, "%s", quantity);
    return key;
}

void brv_problem_printed(const struct brv_problem_maker *maker, struct brv_problem_key *key, double printed,
                         double digit, const char *source, const char *seen)
{
    if (maker->drawn) return;
    key->printed = printed;
    key->digit = digit;
    key->source = source;
    key->seen = seen;
}
