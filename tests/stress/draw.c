#include "stress/draw.h"

#include "support/random.h"
#include "support/sample.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { MOST_AGAIN = 400, NUMBER_SIZE = 40 };

/* ---- keys ---- */

/* As many digits as random_write gives it. */
static double printable(double value, enum brv_dimension dimension)
{
    char text[NUMBER_SIZE];
    if (isinf(value)) return value;
    snprintf(text, sizeof text, dimension == BRV_TEMPERATURE ? "%.2f" : "%.5e", value);
    return strtod(text, NULL);
}

void stress_set_key(void *scope_struct, size_t key, double value)
{
    const struct brv_key *row = &brv_keys[key];
    char *field = (char *)scope_struct + row->offset;
    if (row->kind == BRV_WORD || row->kind == BRV_LAYER_REF) {
        const int word = (int)value;
        memcpy(field, &word, sizeof word);
    } else {
        const double number = printable(value, row->dimension);
        memcpy(field, &number, sizeof number);
    }
    sample_give(scope_struct, row->scope, row->name);
}

void stress_set(void *scope_struct, enum brv_scope scope, const char *name, double value)
{
    stress_set_key(scope_struct, (size_t)brv_key_find(scope, name), value);
}

void stress_take_back(void *scope_struct, enum brv_scope scope, const char *name)
{
    unsigned given;
    memcpy(&given, scope_struct, sizeof given);
    given &= ~brv_key_bit((size_t)brv_key_find(scope, name));
    memcpy(scope_struct, &given, sizeof given);
}

/* ---- the check ---- */

static void name_rule(char text[], size_t size, const struct brv_error *fault)
{
    const char *scope = brv_scope_name((enum brv_scope)fault->scope);
    if (fault->key < 0)
        snprintf(text, size, "%s: %s", scope, fault->place);
    else
        snprintf(text, size, "%s.%s %s", scope, brv_keys[fault->key].name,
                 *fault->place ? fault->place : brv_status_text(fault->status));
}

static void count_rule(struct stress_refusals *refusals, const struct brv_error *fault)
{
    char text[sizeof refusals->rule->text];
    size_t i = 0;
    name_rule(text, sizeof text, fault);
    while (i < refusals->n_rule && strcmp(refusals->rule[i].text, text)) i++;
    if (i == STRESS_MOST_RULES) return;
    if (i == refusals->n_rule) memcpy(refusals->rule[refusals->n_rule++].text, text, sizeof text);
    refusals->rule[i].n++;
}

bool stress_sound(struct brv_scenario *filled, const struct brv_scenario *drawn, struct stress_refusals *refusals)
{
    struct brv_error fault = {.place = ""};
    *filled = *drawn;
    brv_scenario_fill(filled);
    const size_t n = brv_scenario_check(filled, &fault, 1);
    if (!refusals) return n == 0;
    refusals->drawn++;
    refusals->accepted += n == 0;
    if (n > 0) count_rule(refusals, &fault);
    return n == 0;
}

static int more_often(const void *a, const void *b)
{
    const struct stress_rule *x = a, *y = b;
    return x->n == y->n ? strcmp(x->text, y->text) : (x->n < y->n) - (x->n > y->n);
}

void stress_refusals_print(FILE *file, const struct stress_refusals *refusals)
{
    struct stress_refusals sorted = *refusals;
    qsort(sorted.rule, sorted.n_rule, sizeof *sorted.rule, more_often);
    fprintf(file, "  %zu of %zu accepted\n", sorted.accepted, sorted.drawn);
    for (size_t i = 0; i < sorted.n_rule; i++) fprintf(file, "  %6zu  %s\n", sorted.rule[i].n, sorted.rule[i].text);
}

/* ---- a scenario by its number ---- */

struct brv_scenario stress_row_scenario(const struct stress_row *row); /* pairs.c */

void stress_draw(struct stress_drawn *one, const struct stress_design *design, unsigned long seed, size_t number,
                 struct stress_refusals *refusals)
{
    *one = (struct stress_drawn){.number = number};
    if (number < STRESS_WIDE) {
        one->drawn = stress_row_scenario(&design->row[number % design->n_row]);
        if (!stress_sound(&one->ask, &one->drawn, NULL)) abort(); /* rows were checked as they were made */
        return;
    }
    for (; one->redrawn < MOST_AGAIN; one->redrawn++) {
        one->drawn = stress_wide(seed, number, one->redrawn);
        if (stress_sound(&one->ask, &one->drawn, refusals)) return;
    }
    abort(); /* a draw that is never sound would test nothing */
}

void stress_write(FILE *file, const struct brv_scenario *drawn)
{
    random_write(file, drawn, 0);
}
